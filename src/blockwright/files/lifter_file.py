"""The lifter file: TOML (or the same table in a block's JSON) to a checked `Lifter`, and
back, whole and normalised, as a block's JSON carries it, or as TOML text."""

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy, PolicyScalar
from blockwright.engine.training import Habits, Lift, Lifter, Pin, RepRange, Slot
from blockwright.engine.units import Unit, in_unit, kg_from, number_text, plain_number
from . import lifter_parts as parts
from .catalogue import catalogue_with, lift_from_table
from .codec import to_json
from .gym_tables import gym_to_table, read_gym
from .lift_table import lift_to_table
from .lifter_fields import ask
from .limits import require_storable
from .policy_files import default_policy, flattened
from .reading import Reading
from .toml_checks import Findings, Table, load_toml

LONGEST_NAME = 200
LIGHTEST_KG = 25.0
HEAVIEST_KG = 400.0
"""A plausible adult or teenager's bodyweight; outside, it is a typing error (judgement)."""

_MINUTES_IN_WEEK = 7 * 24 * 60


def read_lifter(path: Path, policy: Policy | None = None) -> Reading[Lifter]:
    """Reads a lifter file; its `[policy]` is checked against `policy` (the shipped one if None).

    Raises BadInput with every problem at once, each with its dotted key and a mend."""
    return lifter_from_table(load_toml(path), path.name, policy)


def lifter_from_table(
    table: Mapping[str, Any], file: str | None, policy: Policy | None = None
) -> Reading[Lifter]:
    """The lifter of a TOML table or of the "lifter" object of a block.

    The inverse of `lifter_to_table`. Raises BadInput like `read_lifter`."""
    require_storable(table, file)
    findings = Findings(file)
    if isinstance(born := table.get("born"), date):
        # A coach types the whole date; the year is kept.
        table = {**table, "born": born.year}
    lifter = _read(Table(table, "", findings), policy or default_policy())
    BadInput.raise_any(findings.errors)
    return Reading(lifter, tuple(findings.warnings))


def require_for_plan(lifter: Lifter) -> None:
    """Raises BadInput when the file lacks what a plan needs: bodyweight, start, one slot."""
    findings = Findings(None)
    if lifter.bodyweight is None:
        findings.error("bodyweight", "a plan needs it", "write it: bodyweight = 81.0")
    if lifter.start is None:
        findings.error("start", "a plan needs it", "write it: start = 2027-01-04")
    if not lifter.slots:
        findings.error("slot", "a plan needs one", "add a [[slot]] with day, start and minutes")
    BadInput.raise_any(findings.errors)


def _read(file: Table, policy: Policy) -> Lifter:
    # Errors leave a gap in the values below; the errors then keep the lifter from anyone.
    units: Unit = ask(file, "units")
    bodyweight = _read_bodyweight(file, units)
    start = _read_start(file)
    born: int | None = ask(file, "born")
    own_lifts = _read_own_lifts(file)
    catalogue = catalogue_with(own_lifts)
    slots = _read_slots(file)
    lifter = Lifter(
        name=_read_name(file),
        units=units,
        bodyweight=bodyweight,
        bodyweight_kg=None if bodyweight is None else kg_from(bodyweight, units),
        born=born,
        sex=ask(file, "sex"),
        experience=ask(file, "experience"),
        energy=ask(file, "energy"),
        weeks=ask(file, "weeks"),
        visits=parts.read_visits(file, slots),
        start=start,
        screening=parts.read_screening(file, born, start),
        signs_cleared=parts.read_signs_cleared(file, catalogue),
        slots=slots,
        emphasis=parts.read_by_muscle(file, "emphasis"),
        allow=parts.read_allow(file),
        likes=parts.read_likes(file, catalogue),
        policy=_read_policy(file, policy),
        limits=parts.read_limits(file, catalogue),
        gym=read_gym(file, units, catalogue),
        pins=parts.read_pins(file, catalogue, slots),
        known=parts.read_known(file, catalogue, start),
        habits=parts.read_habits(file, catalogue),
        deload_style=parts.read_deload(file),
        lifts=own_lifts,
    )
    file.close()
    return parts.with_causes(lifter, policy)


def _read_name(file: Table) -> str:
    name: str = ask(file, "name") or ""
    if len(name) <= LONGEST_NAME and len(name.splitlines()) <= 1:
        return name
    file.error("name", f"is no name of one line and {LONGEST_NAME} letters", "shorten it")
    return ""


def _read_bodyweight(file: Table, units: Unit) -> float | None:
    """Bodyweight in the file's unit, plausible in that unit."""
    typed = file.number("bodyweight", 0, 10_000, units)
    wrong = "" if typed is None else wrong_bodyweight(typed, units, plain_number(typed))
    if not wrong:
        return typed
    mend = f'check the number, and that the file is in {units} (units = "{units}")'
    file.error("bodyweight", wrong, mend)
    return None


def wrong_bodyweight(number: float, unit: Unit, typed: str) -> str:
    """What is wrong with it; "" of one that a grown person or a teenager can have."""
    if LIGHTEST_KG <= kg_from(number, unit) <= HEAVIEST_KG:
        return ""
    low, high = (number_text(in_unit(kg, unit), 0) for kg in (LIGHTEST_KG, HEAVIEST_KG))
    return f"{typed} {unit} is not a bodyweight ({low} to {high} {unit})"


def _read_start(file: Table) -> date | None:
    start: date | None = ask(file, "start")
    if start is None or start.weekday() == 0:
        return start
    before = start - timedelta(days=start.weekday())
    says = f"{start} is a {start:%A}; a block starts on a Monday"
    file.error("start", says, f"write {before} or {before + timedelta(days=7)}")
    return None


def _read_slots(file: Table) -> tuple[Slot, ...]:
    """The slots in the order of the week; two that overlap are an error."""
    read: list[Slot] = []
    for table in file.tables("slot"):
        day, start_minute, minutes = (ask(table, name) for name in ("day", "start", "minutes"))
        table.close()
        if day is None or start_minute is None or minutes is None:
            continue
        slot = Slot(day=day, start_minute=start_minute, minutes=minutes)
        for other in read:
            if _overlap(slot, other):
                over = f"{other.day} at {other.start_time} ({other.minutes} minutes)"
                says = f"{slot.day} {slot.start_time} overlaps the slot on {over}"
                table.error("start", says, "move one of them or make it shorter")
        read.append(slot)
    return tuple(sorted(read, key=lambda slot: slot.start_hour_of_week))


def _overlap(one: Slot, other: Slot) -> bool:
    """Whether two weekly slots overlap; Sunday night runs into Monday morning."""
    starts = [slot.day_index * 1440 + slot.start_minute for slot in (one, other)]
    one_to_other = (starts[1] - starts[0]) % _MINUTES_IN_WEEK
    other_to_one = (starts[0] - starts[1]) % _MINUTES_IN_WEEK
    return one_to_other < one.minutes or other_to_one < other.minutes


def _read_policy(file: Table, policy: Policy) -> dict[str, PolicyScalar]:
    """Overrides of policy keys, written "ramp.x" = 1 or as [policy.ramp] x = 1."""
    table = file.table("policy")
    changes: dict[str, PolicyScalar] = {}
    for key, value in flattened(table.values):
        if isinstance(value, bool | int | float | str):
            changes[key] = value
        else:
            table.error(key, "takes a number, a word, true or false", f'write "{key}" = 1')
    try:
        policy.overridden(changes, "lifter")
    except BadInput as error:
        for problem in error.problems:
            table.error(problem.key or "", problem.says, problem.mend)
        return {}
    return changes


def _read_own_lifts(file: Table) -> tuple[Lift, ...]:
    lifts: list[Lift] = []
    for table in file.tables("lift"):
        try:
            lift = lift_from_table(table.values, table.place)
        except BadInput as error:
            file.findings.errors += [_placed(problem, table) for problem in error.problems]
            continue
        if any(lift.name.lower() == other.name.lower() for other in lifts):
            table.error("name", f'"{lift.name}" stands twice', "keep one [[lift]] of that name")
        lifts.append(lift)
    return tuple(lifts)


def _placed(problem: Problem, table: Table) -> Problem:
    """A lift's problem with this file's name and a key that starts at the lift's place."""
    key = problem.key or table.place
    if not key.startswith(table.place):
        key = table.key(key)
    return replace(problem, file=table.findings.file, key=key)


_PLAIN_KEYS = (
    "name", "units", "bodyweight", "born", "sex", "experience", "energy", "weeks", "visits",
    "start",
)  # fmt: skip
"""Keys of the file that are fields of the lifter as they stand."""


def lifter_to_table(lifter: Lifter) -> dict[str, Any]:
    """The table that `lifter_from_table` reads back into an equal lifter.

    The keys of the lifter file; dates as ISO text; what nobody answered is left out."""
    return _without_none(
        {
            **{name: to_json(getattr(lifter, name)) for name in _PLAIN_KEYS},
            "screening": _said(lifter.screening),
            "signs": _signs(lifter),
            "slot": [
                {"day": slot.day, "start": slot.start_time, "minutes": slot.minutes}
                for slot in lifter.slots
            ],
            "emphasis": dict(lifter.emphasis),
            "allow": to_json(lifter.allow),
            "likes": {"lifts": list(lifter.likes)},
            "policy": dict(lifter.policy),
            "limits": _said(lifter.limits),
            "gym": gym_to_table(lifter.gym),
            "pin": [_pin(pin) for pin in lifter.pins],
            "known": [_said(known) for known in lifter.known] or None,
            "habits": _habits(lifter.habits),
            "deload": {"style": lifter.deload_style},
            "lift": [lift_to_table(lift) for lift in lifter.lifts],
        }
    )


def _said(part: object) -> dict[str, Any]:
    """A part of the lifter under the names of its fields, what was not said left out."""
    return _without_none(to_json(part))


def _signs(lifter: Lifter) -> dict[str, Any] | None:
    found = [f"{sign} {day}" for sign, day in lifter.signs_cleared.items()]
    return {"cleared": found} if found else None


def _pin(pin: Pin) -> dict[str, Any]:
    reps = str(pin.reps) if isinstance(pin.reps, RepRange) else pin.reps
    return _without_none({"lift": pin.lift, "days": list(pin.days) or None, "reps": reps})


def _habits(habits: Habits) -> dict[str, Any] | None:
    table = {
        "weekly_sets": dict(habits.weekly_sets) or None,
        "reps": {name: str(reps) for name, reps in habits.reps.items()} or None,
    }
    return _without_none(table) or None


def _without_none(table: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in table.items() if value is not None}


_BARE = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-")
_DATES = ("start", "cleared_on")
"""Keys whose text is a date; `slot.start` is a time of day and has no three parts."""


def toml_text(table: Mapping[str, Any]) -> str:
    """The table as TOML that reads back equal: plain keys first, then `[table]`, `[[table]]`."""
    return "\n".join(_lines(table, "")).strip("\n") + "\n"


def _lines(table: Mapping[str, Any], place: str) -> list[str]:
    lines: list[str] = []
    for key, value in table.items():
        if not isinstance(value, Mapping) and not _is_tables(value):
            lines.append(f"{_key(key)} = {_value(key, value)}")
    for key, value in table.items():
        name = f"{place}{_key(key)}"
        if isinstance(value, Mapping) and value:
            lines += ["", f"[{name}]", *_lines(value, f"{name}.")]
        elif _is_tables(value):
            for item in value:
                lines += ["", f"[[{name}]]", *_lines(item, f"{name}.")]
    return lines


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(i, Mapping) for i in value)


def _key(key: str) -> str:
    return key if key and set(key) <= _BARE else _string(key)


def _value(key: str, value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        is_date = key in _DATES and len(value) == 10 and parts.iso_day(value) is not None
        return value if is_date else _string(value)
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value("", item) for item in value) + "]"
    raise TypeError(f"{key}: {type(value).__name__} has no TOML form")


def _string(text: str) -> str:
    """A basic string; JSON's escapes are TOML's, but for the delete character."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
