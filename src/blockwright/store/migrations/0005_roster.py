"""The roster's cache, and room for a long lift's name in the id of a decided proposal.

SQLite makes a table anew to widen a column and forgets its triggers: they are put back."""

from importlib import import_module
from typing import Any

import django.db.models.deletion
from django.db import migrations, models

append_only: Any = import_module("blockwright.store.migrations.0002_append_only")
TABLE = "store_decision"


def put_triggers_back(_apps: Any, schema_editor: Any) -> None:
    if schema_editor.connection.vendor != "sqlite":
        return
    for name in ("no_update", "no_delete"):
        schema_editor.execute(f"DROP TRIGGER IF EXISTS {TABLE}_{name}")
    for statement in append_only._sqlite(TABLE, append_only.TABLES[TABLE]):
        schema_editor.execute(statement)


class Migration(migrations.Migration):
    dependencies = [("store", "0004_composing")]

    operations = [
        migrations.CreateModel(
            name="RosterLook",
            fields=[
                (
                    "lifter",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="roster_look",
                        serialize=False,
                        to="store.lifter",
                    ),
                ),
                ("key", models.CharField(max_length=120)),
                ("seen", models.JSONField()),
                ("watch_key", models.CharField(blank=True, default="", max_length=120)),
                ("watch", models.JSONField(null=True)),
            ],
        ),
        migrations.AlterField(
            model_name="decision",
            name="proposal",
            field=models.CharField(max_length=300),
        ),
        migrations.RunPython(put_triggers_back, migrations.RunPython.noop, elidable=False),
    ]
