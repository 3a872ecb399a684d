"""A decision may take back the one before it."""

from typing import ClassVar

from django.db import migrations, models

WORDS = ("accepted", "changed", "declined", "undone")


class Migration(migrations.Migration):
    dependencies: ClassVar = [("store", "0001_tables")]

    operations: ClassVar = [
        migrations.AlterField(
            model_name="decision",
            name="verdict",
            field=models.CharField(max_length=8, choices=[(word, word) for word in WORDS]),
        )
    ]
