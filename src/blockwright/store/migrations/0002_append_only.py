"""The database itself refuses to change or delete what happened. Deleting is let through only
for a lifter that is being erased (a row of `store_erasure` stands for them)."""

from typing import Any, ClassVar

from django.db import migrations

TABLES = {
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


def add_triggers(apps: Any, schema_editor: Any) -> None:
    make = _sqlite if schema_editor.connection.vendor == "sqlite" else _postgres
    for table, lifter in TABLES.items():
        for statement in make(table, lifter):
            schema_editor.execute(statement)


def drop_triggers(apps: Any, schema_editor: Any) -> None:
    for table in TABLES:
        if schema_editor.connection.vendor == "sqlite":
            schema_editor.execute(f"DROP TRIGGER {table}_no_update")
            schema_editor.execute(f"DROP TRIGGER {table}_no_delete")
        else:
            schema_editor.execute(f"DROP TRIGGER {table}_append_only ON {table}")
            schema_editor.execute(f"DROP FUNCTION {table}_append_only()")


class Migration(migrations.Migration):
    dependencies: ClassVar = [("store", "0001_initial")]
    operations: ClassVar = [migrations.RunPython(add_triggers, drop_triggers)]
