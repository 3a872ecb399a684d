"""The log at the desk: days of sets and check-ins, each to correct or to take back; and
sets that the estimate set aside as far from everything known, asked about until somebody says that
they are true, or corrects them."""

from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby
from typing import Any
from uuid import UUID

from blockwright.accounts.models import User
from blockwright.engine.case import CoachCase
from blockwright.engine.reasons import Reason
from blockwright.engine.review.exposures import is_doubted
from blockwright.files.checkins_file import scale_text
from blockwright.files.csv_text import one_row
from blockwright.files.sets_file import COLUMNS, sets_of_table
from blockwright.files.words import reason_says
from blockwright.store.convert import set_body
from blockwright.store.facts import facts_of, facts_on, families, family_of, locked
from blockwright.store.models import Fact, Lifter
from blockwright.store.standing import in_done_order, standing, verdicts
from .amend_fact import amend, gone
from .stored_case import stored_case
from .stored_values import load_lifter
from .take_log import sent_json

LINES_A_PAGE = 120
FIELDS = ("lift", "load", "unit", "reps", "rir")


@dataclass(frozen=True, slots=True)
class LogLine:
    id: UUID
    kind: str
    said: Mapping[str, Any]

    @property
    def checkin(self) -> str:
        """ "sore, front delts: 2 of 10": a check-in in a line."""
        measure, about = self.said["measure"], self.said["about"]
        named = {"session_rpe": "effort of the session"}.get(measure, measure)
        value = str(self.said["value"]).removesuffix(".0")
        line = f"{named}{', ' if about else ''}{about or ''}: {value} "
        return (line + (self.said.get("unit") or scale_text(measure))).replace("_", " ").rstrip()


@dataclass(frozen=True, slots=True)
class LogDay:
    day: date
    lines: tuple[LogLine, ...]


def log_days(row: Lifter, page: int) -> tuple[tuple[LogDay, ...], bool]:
    """A page of the log, from 1 on, the latest day first, and whether more follows it."""
    end, amended = page * LINES_A_PAGE, families(row)
    told = Fact.objects.filter(lifter=row, amends=None).exclude(kind=Fact.SESSION)
    days = told.order_by("-day").values_list("day", flat=True)[: end + 1 + len(amended)]
    first = min(days, default=date.max)
    found = [one for one in _standing([*facts_of(row, first=first), *amended]) if one.day >= first]
    facts = sorted(found, key=lambda fact: fact.day, reverse=True)
    by_day = groupby(facts[end - LINES_A_PAGE : end], lambda fact: fact.day)
    shown = tuple(
        LogDay(day, tuple(LogLine(one.id, one.kind, sent_json(one)[one.kind]) for one in lines))
        for day, lines in by_day
    )
    return shown, len(facts) > end


def withdraw(person: User, row: Lifter, key: UUID, now: datetime) -> str:
    """Stores that a fact did not happen; says so. BadInput where it stands no more."""
    with locked(row.key):
        about = next((one for one in verdicts(family_of(row, key)) if one.last.id == key), None)
        fact = _fact(row, key)
        # Taking back a correction alone would bring back what it corrected.
        first = about.first.id if about else fact.id
        amend(person, row, fact, now, amends=first, withdrawn=True)
    return "Taken back. It counts for nothing any more."


def correct(person: User, row: Lifter, key: UUID, typed: Mapping[str, str], now: datetime) -> str:
    """Stores what a set really was, read by the rules of a sets file; says so. BadInput names the
    field that cannot be read."""
    with locked(row.key):
        fact = _fact(row, key)
        said = sent_json(fact)[Fact.SET]
        cells = {name: said[name] for name in COLUMNS if name in said}
        named = {name: typed.get(name, str(said[name])) for name in FIELDS}
        day = fact.day.isoformat()
        table = one_row({**cells, **named, "when": day, "confirmed": False})
        known = load_lifter(row)
        body = set_body(sets_of_table(table, known.catalogue, known.value).value[0])
        changed = named | {"lift": body["lift"]}
        amend(person, row, fact, now, said=changed, body=body)
    return "Corrected."


def _standing(facts: Iterable[Fact], *kinds: str) -> list[Fact]:
    """Of those kinds (sets and check-ins where none is named), in the order in which `sets_done`
    numbers them."""
    wanted = kinds or (Fact.SET, Fact.CHECKIN)
    return in_done_order([fact for fact in standing(facts) if fact.kind in wanted])


def _fact(row: Lifter, key: UUID, *kinds: str) -> Fact:
    told = _standing(family_of(row, key), *kinds)
    found = next((fact for fact in told if fact.id == key), None)
    if found is None:
        raise gone("this was corrected or taken back meanwhile")
    return found


@dataclass(frozen=True, slots=True)
class AskedSet:
    """One set that is asked about, as it stands in the log: the estimate set it aside until it is
    confirmed, or a letter doubts it."""

    id: UUID
    day: date
    says: str
    load: str
    unit: str
    reps: str
    meant: str
    """The load, in `unit`, that a slip of the pen was probably meant to be; "" where none is."""
    answer: str = ""  # What was said of it meanwhile; "" where nothing was


def asked_set(fact: Fact, says: str, meant: object = "", answer: str = "") -> AskedSet:
    said = sent_json(fact)["set"]
    load, unit, reps = (str(said[name]) for name in ("load", "unit", "reps"))
    return AskedSet(fact.id, fact.day, says, load, unit, reps, str(meant), answer)


def aside_sets(row: Lifter) -> tuple[AskedSet, ...]:
    """What was set aside and nobody confirmed, the latest first."""
    case = stored_case(row)
    beliefs = case.beliefs()
    found = [
        (flag.day, lift, flag)
        for whose, lift in beliefs.series
        for flag in beliefs.flags(lift, whose)
        if is_doubted(flag, case.policy)
    ]
    facts = _by_number(row, case, {flag.row for _, _, flag in found})
    found = [one for one in found if not sent_json(facts[one[2].row])["set"]["confirmed"]]
    return tuple(
        asked_set(
            facts[flag.row],
            f"{lift}, set {sent_json(facts[flag.row])['set']['set']}: "
            f"{reason_says(Reason(code=flag.code, facts=flag.facts))}",
            flag.facts.get("meant", ""),
        )
        for _, lift, flag in sorted(found, key=lambda one: (one[0], one[2].row), reverse=True)
    )


def _by_number(row: Lifter, case: CoachCase, numbers: Set[int]) -> dict[int, Fact]:
    """Facts by the number that the case's sets have, read for their days alone."""
    days = {done.moment.day for done in case.sets if done.row in numbers}
    sets = [fact for fact in _standing(facts_on(row, days), Fact.SET) if fact.day in days]
    return dict(zip((d.row for d in case.sets if d.moment.day in days), sets, strict=False))


def confirm_set(person: User, row: Lifter, word: UUID, now: datetime) -> str:
    """Stores that a set is true, as an amendment; says it in words. BadInput where it does not
    stand any more."""
    with locked(row.key):
        fact = _fact(row, word, Fact.SET)
        amend(person, row, fact, now, said={"confirmed": True}, body={"confirmed": True})
    said = sent_json(fact)["set"]
    return f"{said['lift']}, {said['load']} {said['unit']} × {said['reps']}: written down as true"
