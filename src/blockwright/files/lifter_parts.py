"""The smaller tables of a lifter file: screening, allow, likes, limits, pins;
what the lifter does now, and how the block is wanted."""

from collections.abc import Sequence
from dataclasses import fields, replace
from datetime import date
from typing import Any

from blockwright.engine.pain import PLACES
from blockwright.engine.policy import Policy
from blockwright.engine.screening import CAUSES, When, causes_of
from blockwright.engine.signs import SIGNS
from blockwright.engine.training import (
    MUSCLES,
    Allow,
    Catalogue,
    DeloadStyle,
    Habits,
    Known,
    Lifter,
    Limits,
    Pin,
    RepRange,
    Screening,
    Slot,
    Zone,
)
from .lift_table import read_range
from .lifter_fields import ask, ask_all
from .near import did_you_mean, listed
from .toml_checks import Table
from .vocabulary import vocabulary

ADULT_AGE = 18
_ZONES: tuple[Zone, ...] = ("low", "mid", "high")


def read_screening(file: Table, born: int | None, start: date | None) -> Screening:
    """The answers given; `under_18` also follows from the year of birth and the start."""
    table = file.table("screening")
    names = [item.name for item in fields(Screening) if item.name != "cleared_for"]
    said = ask_all(table, names)
    systolic, diastolic = said["systolic"], said["diastolic"]
    if systolic is not None and diastolic is not None and diastolic >= systolic:
        says = f"{diastolic} is not below the systolic {systolic}"
        table.error("diastolic", says, "write the higher number as systolic")
    if born is not None and start is not None:
        said["under_18"] = _is_under_18(table, said["under_18"], born, start)
    cleared_for = _read_cleared_for(table, said["cleared_on"])
    mend = "write the day on which a professional cleared the lifter, or a later start"
    _not_after(table, "cleared_on", said["cleared_on"], start, mend)
    table.close()
    return Screening(**said, cleared_for=cleared_for)


def _not_after(table: Table, name: str, day: date | None, start: date | None, mend: str) -> None:
    """Warns of a day after the block has begun: nobody reading the file knows another today."""
    if day is not None and start is not None and day > start:
        table.warning(name, f"{day} comes after the block's start on {start}", mend)


def read_signs_cleared(file: Table, catalogue: Catalogue) -> dict[str, date]:
    """By sign, or joint, muscle or lift that hurt: the last day written for it."""
    table, found = file.table("signs"), dict[str, date]()
    for place, typed in enumerate(ask(table, "cleared") or (), 1):
        sign, _, day = typed.strip().rpartition(" ")
        sign = sign.strip(" :,").lower()
        if (lift := catalogue.find(sign)) is not None:
            sign = lift.name
        if lift is None and sign not in SIGNS and sign not in PLACES:
            says = f'"{typed}" names no warning sign, joint, muscle or lift'
            table.error(f"cleared.{place}", says, did_you_mean(sign, SIGNS, listed(sorted(SIGNS))))
        elif (on := iso_day(day)) is None:
            table.error(f"cleared.{place}", f'"{typed}" ends in no day', f"write {sign} 2027-01-12")
        else:
            found[sign] = max(on, found.get(sign, on))
    table.close()
    return found


def iso_day(typed: str) -> date | None:
    try:
        return date.fromisoformat(typed)
    except ValueError:
        return None


def with_causes(lifter: Lifter, policy: Policy) -> Lifter:
    """What a clearance without a word on it is for, said once and for all: everything that asks
    for one now. An answer given later is not among it."""
    said = lifter.screening
    if said.cleared_on is None or said.cleared_for is not None:
        return lifter
    start = lifter.start or said.cleared_on
    asked = causes_of(lifter, When(start, start), policy)
    causes = tuple(c for c in CAUSES if getattr(said, c) or c in asked)
    return replace(lifter, screening=replace(said, cleared_for=causes))


def _read_cleared_for(table: Table, cleared_on: date | None) -> tuple[str, ...] | None:
    if not table.has("cleared_for"):
        return None
    found: tuple[str, ...] = ask(table, "cleared_for")
    if cleared_on is None:
        says = "says what a clearance is for, but not when it was given"
        table.warning("cleared_for", says, "add cleared_on = 2026-12-01")
        return None
    return found


def _is_under_18(table: Table, said: bool | None, born: int, start: date) -> bool | None:
    """True when certain from the year; a doubt is left to the answer, and said."""
    turning = start.year - born
    if turning < 0:
        table.findings.error("born", f"{born} is after the start in {start.year}", "check both")
    if turning < ADULT_AGE:
        if said is False:
            says = f"says no, but someone born in {born} is under 18 at the start"
            table.warning("under_18", says, "counted as under 18; check born and start")
        return True
    if turning == ADULT_AGE and said is None:
        says = f"someone born in {born} may still be 17 at the start"
        table.warning("under_18", says, "answer under_18 = true or false")
    return said


def read_allow(file: Table) -> Allow:
    table = file.table("allow")
    said = ask_all(table, [item.name for item in fields(Allow)])
    table.close()
    return Allow(**{name: answer for name, answer in said.items() if answer is not None})


def read_likes(file: Table, catalogue: Catalogue) -> tuple[str, ...]:
    """Liked lifts; one we do not know is kept out with a warning, since it only means less."""
    table = file.table("likes")
    liked: list[str] = []
    for place, name in enumerate(ask(table, "lifts"), 1):
        lift = catalogue.find(name)
        if lift is not None:
            liked.append(lift.name)
            continue
        says = f'no lift is called "{name}", so this wish is not used'
        table.warning(f"lifts.{place}", says, _lift_mend(name, catalogue))
    table.close()
    return tuple(dict.fromkeys(liked))


def read_limits(file: Table, catalogue: Catalogue) -> Limits:
    """What to keep out. An unknown name is an error: it would silently not be kept out."""
    table = file.table("limits")
    avoided = [
        known_lift(table, f"avoid_lifts.{place}", name, catalogue)
        for place, name in enumerate(ask(table, "avoid_lifts"), 1)
    ]
    limits = Limits(
        avoid_lifts=tuple(dict.fromkeys(filter(None, avoided))),
        avoid_patterns=ask(table, "avoid_patterns"),
        max_lifts_per_session=ask(table, "max_lifts_per_session"),
    )
    table.close()
    return limits


def read_pins(file: Table, catalogue: Catalogue, slots: Sequence[Slot]) -> tuple[Pin, ...]:
    pins: list[Pin] = []
    trained = {slot.day for slot in slots}
    for table in file.tables("pin"):
        typed: str | None = ask(table, "lift")
        lift = None if typed is None else known_lift(table, "lift", typed, catalogue)
        days: tuple[str, ...] = ask(table, "days")
        reps = _read_pin_reps(table)
        table.close()
        for day in days:
            if slots and day not in trained:
                # A warning here: what clashes with what is the planner's answer to give.
                mend = f"add a [[slot]] on {day}, or name one of: {', '.join(sorted(trained))}"
                table.warning("days", f"there is no slot on {day}", mend)
        if lift is not None:
            pins.append(Pin(lift=lift, days=days, reps=reps))
    return tuple(pins)


def _read_pin_reps(table: Table) -> Zone | RepRange | None:
    """A zone word or a range such as "5-10"."""
    typed: str | None = ask(table, "reps")
    if typed is None:
        return None
    for zone in _ZONES:
        if typed.lower() == zone:
            return zone
    return read_range(table, "reps", typed, 'low, mid, high or "5-10"')


def known_lift(table: Table, name: str, typed: str, catalogue: Catalogue) -> str | None:
    """The canonical name of a lift, or None, which is then an error of `name`."""
    lift = catalogue.find(typed)
    if lift is not None:
        return lift.name
    table.error(name, f'no lift is called "{typed}"', _lift_mend(typed, catalogue))
    return None


def _lift_mend(typed: str, catalogue: Catalogue) -> str:
    return did_you_mean(
        typed, catalogue.by_alias, "see `blockwright lifts`, or describe it in a [[lift]]", 3
    )


def read_visits(file: Table, slots: Sequence[Slot]) -> int | None:
    """How many of the slots to use; more than there are is an error."""
    visits: int | None = ask(file, "visits")
    if visits is not None and slots and visits > len(slots):
        says = f"asks for {visits} visits, and there are {len(slots)} slots"
        file.error("visits", says, f"write {len(slots)} or less, or add a [[slot]]")
    return visits


def read_known(file: Table, catalogue: Catalogue, start: date | None) -> tuple[Known, ...]:
    found = []
    for table in file.tables("known"):
        said = ask_all(table, ("lift", "load", "reps", "rir", "on"))
        typed = said.pop("lift")
        lift = None if typed is None else known_lift(table, "lift", typed, catalogue)
        mend = "write the day on which the lifter did it, or a later start"
        _not_after(table, "on", said["on"], start, mend)
        table.close()
        if lift is not None and said["load"] is not None and said["reps"] is not None:
            found.append(Known(lift=lift, **said))
    return tuple(found)


def read_habits(file: Table, catalogue: Catalogue) -> Habits:
    """Weekly sets by muscle, and ranges liked by lift or pattern."""
    table = file.table("habits")
    weekly = read_by_muscle(table, "weekly_sets")
    liked = table.table("reps")
    ranges: dict[str, RepRange] = {}
    for typed in liked.values:
        text = liked.text(typed)
        name = _lift_or_pattern(liked, typed, catalogue)
        reps = None if text is None else read_range(liked, typed, text, '"12-20"')
        if name is not None and reps is not None:
            ranges[name] = reps
    table.close()
    return Habits(weekly_sets=weekly, reps=ranges)


def read_by_muscle(table: Table, name: str) -> dict[str, Any]:
    """Muscle to what is said of it, in the order of the file."""
    inner = table.table(name).by_word(MUSCLES, "a muscle")
    said = ask_all(inner, list(inner.values))
    return {muscle: value for muscle, value in said.items() if value is not None}


def _lift_or_pattern(table: Table, typed: str, catalogue: Catalogue) -> str | None:
    pattern = " ".join(typed.lower().split())
    if pattern in vocabulary().patterns:
        return pattern
    return known_lift(table, typed, typed, catalogue)


def read_deload(file: Table) -> DeloadStyle:
    table = file.table("deload")
    style: DeloadStyle = ask(table, "style")
    table.close()
    return style
