"""People, and the links that let them in."""

from typing import Any

from django.conf import settings
from django.db import migrations, models
from django.db.models.functions import Lower

from . import BEFORE

ID = models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")
ROLES = [
    ("owner", "owner"), ("coach", "coach"), ("partner", "training partner"), ("lifter", "lifter"),
]  # fmt: skip


def _person() -> Any:
    return models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, null=True, related_name="+"
    )


class Migration(migrations.Migration):
    initial = True
    replaces = [("accounts", name) for name in BEFORE]
    operations = [
        migrations.CreateModel(
            name="User",
            fields=[
                ("id", ID),
                ("password", models.CharField(max_length=128, verbose_name="password")),
                ("last_login", models.DateTimeField("last login", blank=True, null=True)),
                ("sign_in_name", models.CharField(max_length=80, unique=True)),
                ("name", models.CharField(max_length=120)),
                ("role", models.CharField(choices=ROLES, max_length=8)),
                (
                    "units",
                    models.CharField(
                        choices=[("kg", "kg"), ("lb", "lb")], default="kg", max_length=2
                    ),
                ),
                ("zone", models.CharField(blank=True, default="", max_length=64)),
                ("is_active", models.BooleanField(default=True)),
                ("made_at", models.DateTimeField(auto_now_add=True)),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        Lower("sign_in_name"), name="accounts_one_name_any_case"
                    )
                ]
            },
        ),
        migrations.CreateModel(
            name="Invitation",
            fields=[
                ("id", ID),
                ("token_hash", models.CharField(max_length=64, unique=True)),
                ("role", models.CharField(choices=ROLES, max_length=8)),
                ("lifter_key", models.UUIDField(null=True)),
                ("sees", models.CharField(default="sheets", max_length=8)),
                ("made_at", models.DateTimeField()),
                ("used_at", models.DateTimeField(null=True)),
                ("made_by", _person()),
                ("person", _person()),
            ],
        ),
    ]
