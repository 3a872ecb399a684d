"""The tables; and the database itself refuses to change or delete what happened. Deleting is let
through only for a lifter that is being erased (a row of `store_erasure` stands for them)."""

import uuid
from typing import Any

from django.conf import settings
from django.db import migrations, models

from . import BEFORE

PERSON, LIFTER, BLOCK = settings.AUTH_USER_MODEL, "store.lifter", "store.blockrevision"
ID = models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")
MADE = models.DateTimeField(auto_now_add=True)
CASCADE = models.CASCADE


def _of(to: str, name: str) -> Any:
    """What goes with the row it is of."""
    return models.ForeignKey(to, on_delete=CASCADE, related_name=name)


def _by(on_delete: Any = models.PROTECT) -> Any:
    return models.ForeignKey(PERSON, on_delete=on_delete, null=True, related_name="+")


def _word(*known: str, most: int = 8, **more: str) -> Any:
    """One of some words; `more` are those that say something else to a person."""
    choices = [*((word, word) for word in known), *more.items()]
    return models.CharField(max_length=most, choices=choices)


def _usual(field: Any, word: str) -> Any:
    field.default = word
    return field


def _one(*fields: str, name: str, **more: Any) -> dict[str, Any]:
    return {"constraints": [models.UniqueConstraint(fields=fields, name=name, **more)]}


TABLES: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "Erasure": (
        {"lifter_key": models.UUIDField(primary_key=True, serialize=False), "at": MADE},
        {},
    ),
    "Lifter": (
        {
            "key": models.UUIDField(default=uuid.uuid4, primary_key=True, serialize=False),
            "name": models.CharField(max_length=200),
            "document": models.JSONField(),
            "version": models.PositiveIntegerField(default=1),
            "made_at": MADE,
        },
        {},
    ),
    "BlockRevision": (
        {
            "id": ID,
            "start": models.DateField(),
            "revision": models.PositiveIntegerField(),
            "ends": models.DateField(),
            "status": models.CharField(max_length=8),
            "document": models.JSONField(),
            "made_at": MADE,
            "made_by": _by(),
            "lifter": _of(LIFTER, "revisions"),
        },
        {"ordering": ["start", "revision"]}
        | _one("lifter", "start", "revision", name="store_one_revision"),
    ),
    "RosterLook": (
        {
            "lifter": models.OneToOneField(
                LIFTER, CASCADE, primary_key=True, related_name="roster_look", serialize=False
            ),
            "key": models.CharField(max_length=120),
            "seen": models.JSONField(),
            "watch_key": models.CharField(blank=True, default="", max_length=120),
            "watch": models.JSONField(null=True),
        },
        {},
    ),
    "Batch": (
        {
            "key": models.UUIDField(default=uuid.uuid4, primary_key=True, serialize=False),
            "files": models.JSONField(default=list),
            "answers": models.JSONField(default=dict),
            "state": _usual(_word("waiting", "stored", back="taken back"), "waiting"),
            "facts": models.PositiveIntegerField(default=0),
            "made_at": MADE,
            "stored_at": models.DateTimeField(null=True),
            "by": _by(models.SET_NULL),
            "lifter": _of(LIFTER, "batches"),
        },
        {"ordering": ["-made_at"]},
    ),
    "LiftName": (
        {
            "id": ID,
            "typed": models.CharField(max_length=200),
            "lift": models.CharField(max_length=200),
            "by": _of(PERSON, "lift_names"),
        },
        {"ordering": ["typed"]} | _one("by", "typed", name="store_one_meaning_of_a_name"),
    ),
    "Proposals": (
        {
            "id": ID,
            "through": models.DateField(),
            "document": models.JSONField(),
            "made_at": MADE,
            "block": _of(BLOCK, "proposals"),
            "lifter": _of(LIFTER, "proposals"),
        },
        {"ordering": ["made_at", "pk"]},
    ),
    "Decision": (
        {
            "id": ID,
            "proposal": models.CharField(max_length=300),
            "verdict": _word("accepted", "changed", "declined"),
            "words": models.TextField(blank=True, default=""),
            "change": models.JSONField(default=dict),
            "at": MADE,
            "by": _by(),
            "led_to": models.ForeignKey(BLOCK, CASCADE, null=True, related_name="decisions"),
            "proposals": _of("store.proposals", "decisions"),
        },
        {"ordering": ["at", "pk"]},
    ),
    "Share": (
        {
            "id": ID,
            "kind": _word("coach", self="the lifter", partner="training partner"),
            "sees": _usual(_word("sheets", history="sheets and history"), "sheets"),
            "made_at": MADE,
            "lifter": _of(LIFTER, "shares"),
            "person": _of(PERSON, "shares"),
        },
        _one("lifter", "person", name="store_one_share"),
    ),
    "Fact": (
        {
            "seq": models.BigAutoField(primary_key=True, serialize=False),
            "id": models.UUIDField(unique=True),
            "kind": _word("set", checkin="check-in", session="session"),
            "amends": models.UUIDField(null=True),
            "withdrawn": models.BooleanField(default=False),
            "day": models.DateField(),
            "at": models.DateTimeField(null=True),
            "zone": models.CharField(blank=True, default="", max_length=64),
            "device": models.UUIDField(null=True),
            "n": models.BigIntegerField(default=0),
            "body": models.JSONField(),
            "event": models.JSONField(null=True),
            "digest": models.CharField(max_length=64),
            "clock_ahead_s": models.FloatField(default=0.0),
            "received_at": models.DateTimeField(),
            "by": _by(),
            "lifter": _of(LIFTER, "facts"),
        },
        {
            "ordering": ["seq"],
            "indexes": [
                models.Index(fields=["lifter", "seq"], name="store_fact_by_lifter"),
                models.Index(fields=["lifter", "day"], name="store_fact_by_day"),
            ],
        },
    ),
    "Composing": (
        {
            "id": ID,
            "kind": _word(block="a block", rest="the rest of a block"),
            "start": models.DateField(),
            "asked": models.JSONField(default=dict),
            "state": _usual(
                _word("waiting", "searching", "made", "clash", "failed", most=9), "waiting"
            ),
            "step": models.CharField(blank=True, default="", max_length=200),
            "says": models.JSONField(default=dict),
            "document": models.JSONField(null=True),
            "asked_at": MADE,
            "beat_at": models.DateTimeField(),
            "by": _by(models.SET_NULL),
            "lifter": _of(LIFTER, "composings"),
        },
        {"ordering": ["pk"]}
        | _one(
            "lifter",
            name="store_one_search",
            condition=models.Q(("state__in", ("waiting", "searching"))),
        ),
    ),
}

APPEND_ONLY = {
    "store_fact": "OLD.lifter_id",
    "store_blockrevision": "OLD.lifter_id",
    "store_proposals": "OLD.lifter_id",
    "store_decision": (
        "(SELECT lifter_id FROM store_proposals WHERE store_proposals.id = OLD.proposals_id)"
    ),
}
SAYS = "these rows are append-only"


def _sqlite(table: str, lifter: str) -> list[str]:
    return [
        f"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} "
        f"BEGIN SELECT RAISE(ABORT, '{SAYS}'); END",
        f"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} "
        f"WHEN NOT EXISTS (SELECT 1 FROM store_erasure WHERE lifter_key = {lifter}) "
        f"BEGIN SELECT RAISE(ABORT, '{SAYS}'); END",
    ]


def _postgres(table: str, lifter: str) -> list[str]:
    return [
        f"CREATE FUNCTION {table}_append_only() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF TG_OP = 'DELETE' AND EXISTS "
        f"(SELECT 1 FROM store_erasure WHERE lifter_key = {lifter}) THEN RETURN OLD; END IF; "
        f"RAISE EXCEPTION '{SAYS}'; END $$",
        f"CREATE TRIGGER {table}_append_only BEFORE UPDATE OR DELETE ON {table} "
        f"FOR EACH ROW EXECUTE FUNCTION {table}_append_only()",
    ]


def add_triggers(_apps: Any, schema_editor: Any) -> None:
    make = _sqlite if schema_editor.connection.vendor == "sqlite" else _postgres
    for table, lifter in APPEND_ONLY.items():
        for statement in make(table, lifter):
            schema_editor.execute(statement)


class Migration(migrations.Migration):
    initial = True
    replaces = [("store", name) for name in BEFORE]
    dependencies = [migrations.swappable_dependency(PERSON)]
    operations = [
        *(
            migrations.CreateModel(name=name, fields=list(fields.items()), options=options)
            for name, (fields, options) in TABLES.items()
        ),
        migrations.RunPython(add_triggers),
    ]
