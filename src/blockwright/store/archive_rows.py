"""Rows as plain tables and back, whole: every column but secrets and caches, numbers and times
included, so that addresses, order and who did what when are the same on another site."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.core.management.color import no_style
from django.db import connection, models

from blockwright.accounts.models import User
from .models import (
    Batch,
    BlockRevision,
    Composing,
    Decision,
    Erasure,
    Fact,
    HouseFrame,
    Lifter,
    LiftName,
    Proposals,
    Share,
)

Table = list[dict[str, Any]]

SITE: dict[str, type[models.Model]] = {
    "people": User, "lift_names": LiftName, "templates": HouseFrame, "erasures": Erasure,
}  # fmt: skip
"""What belongs to no lifter, in the order of writing."""
OF_LIFTER: dict[str, type[models.Model]] = {
    "shares": Share, "blocks": BlockRevision, "facts": Fact, "letters": Proposals,
    "decisions": Decision, "searches": Composing, "imports": Batch,
}  # fmt: skip
"""What belongs to one, in the order of writing. A roster look is a cache, an invitation a secret:
neither is here."""
_SECRET = {"password", "last_login"}
_AT_ONCE = 500


class NotARowError(ValueError):
    """A table holds what no row can; the message names it."""


def site_tables() -> dict[str, Table]:
    return {
        name: list(map(_row, model._base_manager.order_by("pk"))) for name, model in SITE.items()
    }


def lifter_tables(row: Lifter) -> dict[str, Any]:
    """Everything of a lifter. A search that is still on its way stays behind."""
    found: dict[str, Any] = {"lifter": _row(row)}
    for name, model in OF_LIFTER.items():
        owner = "proposals__lifter" if model is Decision else "lifter"
        rows = model._base_manager.filter(**{owner: row.key}).order_by("pk")
        if model is Composing:
            rows = rows.exclude(state__in=Composing.OPEN)
        found[name] = list(map(_row, rows))
    return found


def site_rows(tables: Mapping[str, Any]) -> list[models.Model]:
    """The unsaved rows of `site_tables`. Nobody has a password yet. NotARowError."""
    rows = [row for name, model in SITE.items() for row in _rows(model, tables.get(name, []), name)]
    for row in rows:
        if isinstance(row, User):
            row.set_unusable_password()
    return rows


def lifter_rows(tables: Mapping[str, Any]) -> list[models.Model]:
    """The unsaved rows of `lifter_tables`. NotARowError where one is no row or another's."""
    lifter = _rows(Lifter, [tables.get("lifter")], "lifter")[0]
    mine = {"lifter_id": lifter.pk}
    rows = {
        name: _rows(model, tables.get(name, []), name, {} if model is Decision else mine)
        for name, model in OF_LIFTER.items()
    }
    own = {name: {row.pk for row in found} | {None} for name, found in rows.items()}
    for letter in rows["letters"]:
        _require_own(letter, "block_id", own["blocks"])
    for decision in rows["decisions"]:
        _require_own(decision, "proposals_id", own["letters"])
        _require_own(decision, "led_to_id", own["blocks"])
    return [lifter, *(row for found in rows.values() for row in found)]


def store_rows(rows: Sequence[models.Model]) -> None:
    """Writes new rows as they are, numbers and times too. Needs a transaction."""
    for model in dict.fromkeys(type(row) for row in rows):
        mine = [row for row in rows if type(row) is model]
        fields = model._meta.concrete_fields
        for first in range(0, len(mine), _AT_ONCE):
            # `bulk_create` would write the time of now over when a row was made.
            manager: Any = model._base_manager
            manager._insert(
                mine[first : first + _AT_ONCE], fields=fields, raw=True, using="default"
            )


def set_counters() -> None:
    """Lets the next rows have numbers of their own (PostgreSQL counts beside the table)."""
    counted = [*SITE.values(), *OF_LIFTER.values()]
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), counted):
            cursor.execute(statement)


def is_fresh() -> bool:
    """Whether the site knows nobody yet."""
    return not User.objects.exists() and not Lifter.objects.exists()


def _columns(model: type[models.Model], known: Iterable[str] = ()) -> list[Any]:
    left = {*_SECRET, *known}
    return [field for field in model._meta.concrete_fields if field.attname not in left]


def _row(row: models.Model) -> dict[str, Any]:
    left = () if isinstance(row, Decision) else ("lifter_id",)
    return {
        field.attname: _plain(getattr(row, field.attname), field)
        for field in _columns(type(row), left)
    }


def _plain(value: Any, field: Any) -> Any:
    if isinstance(field, models.JSONField):
        return value
    if isinstance(value, datetime | date):
        return value.isoformat()
    return str(value) if isinstance(value, UUID) else value


def _rows(
    model: type[models.Model], table: Any, name: str, known: Mapping[str, Any] | None = None
) -> list[models.Model]:
    if not isinstance(table, list):
        raise NotARowError(f"{name} is not a list")
    known = known or {}
    fields = {field.attname: field for field in _columns(model, known)}
    found = []
    for number, said in enumerate(table, 1):
        place = f"{name} {number}"
        if not isinstance(said, Mapping) or set(said) != set(fields):
            raise NotARowError(f"{place} has other columns than it should")
        values = {key: _value(fields[key], raw, f"{place}, {key}") for key, raw in said.items()}
        found.append(model(**known, **values))
    return found


def _value(field: Any, raw: Any, place: str) -> Any:
    if raw is None and field.null:
        return None
    try:
        value = field.to_python(raw)
        field.run_validators(value)
        sound = value is not None and (not field.choices or value in dict(field.flatchoices))
        sound = sound and (field.default not in (dict, list) or isinstance(value, field.default))
    except (ValidationError, TypeError, ValueError, OverflowError) as error:
        raise NotARowError(f"{place} is nothing a row can hold") from error
    if not sound:
        raise NotARowError(f"{place} is nothing a row can hold")
    return value


def _require_own(row: models.Model, key: str, own: set[Any]) -> None:
    if getattr(row, key) not in own:
        raise NotARowError(f"{row._meta.verbose_name} {row.pk} hangs on something of another")
