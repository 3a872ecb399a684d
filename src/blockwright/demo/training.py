"""How a person does what a sheet says, and how they type it into the log."""

import itertools
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from typing import Any

from blockwright.engine.policy import Policy
from blockwright.engine.rack import MOST_SAID, FindingWay, Rack, hardest_moving, rack_for
from blockwright.engine.training import (
    Catalogue,
    CheckIn,
    Lift,
    Lifter,
    Measure,
    Method,
    Moment,
    SetDone,
    SetPlan,
)
from blockwright.engine.units import in_unit, kg_from, number_text
from .body import Body
from .cast import Pain, Person

OVER_THE_TOP = 2  # Repetitions beyond the range after which a person stops, whatever is left
SET_S, MINI_PAUSE_S = 40, 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Trainee:
    """A person with everything that does not change from session to session."""

    person: Person
    lifter: Lifter
    catalogue: Catalogue
    policy: Policy
    body: Body

    def rack(self, lift: Lift) -> Rack:
        return rack_for(lift, self.lifter.gym, self.policy)


@dataclass(slots=True)
class DayLog:
    sets: list[SetDone] = field(default_factory=list)
    checkins: list[CheckIn] = field(default_factory=list)


@dataclass(slots=True)
class _Clock:
    at: datetime

    def after(self, seconds: float) -> datetime:
        self.at += timedelta(seconds=seconds)
        return self.at.replace(second=0, microsecond=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a sheet (or an old routine) asks of one lift."""

    lift: Lift
    loads_kg: Sequence[float | None]
    reps: tuple[int, int]
    rir: Sequence[float]
    rest_s: float
    method: Method = "straight"  # Of the last set; every set of a superset
    advice: Sequence[Mapping[str, Any]] = ()
    tries: Sequence[Mapping[str, Any]] = ()


def asked_by(entry: Mapping[str, Any], catalogue: Catalogue) -> Asked:
    """An entry of a `blockwright/sheet/1` document."""
    sets = entry["sets"]
    return Asked(
        lift=catalogue.lifts[entry["lift"]],
        loads_kg=[planned["load_kg"] for planned in sets],
        reps=(sets[0]["reps_low"], sets[0]["reps_high"]),
        rir=[planned["rir"] for planned in sets],
        rest_s=entry["rest_s"],
        method=entry["method"],
        advice=entry["next_set_advice"],
        tries=entry["find_load"],
    )


def do_session(
    who: Trainee, day: date, start: str, asked: Sequence[Asked], typed: DayLog, week: int | None
) -> float:
    """Does a session and types it; its minutes. `week` of the block, None before it."""
    body, rng = who.body, who.body.rng
    body.begin_session(day)
    clock = _Clock(datetime.combine(day, time.fromisoformat(start)))
    began = clock.at
    for number, one in enumerate(asked):
        clock.after(float(rng.integers(60, 150)))
        _do_lift(who, one, day, clock, typed, week, warm=number == 0)
    return (clock.at - began).total_seconds() / 60.0


def _do_lift(
    who: Trainee, asked: Asked, day: date, clock: _Clock, typed: DayLog, week: int | None,
    *, warm: bool,
) -> None:  # fmt: skip
    body, rng, lift = who.body, who.body.rng, asked.lift
    rack = who.rack(lift)
    load = asked.loads_kg[0]
    if load is None:
        if not asked.tries:
            return  # no load is looked for where it hurts: the sheet leaves the lift out
        load = _found_load(who, asked, day, clock, typed)
    if warm and who.person.typing.warmups and load > 30 and not rack.more_is_easier:
        half = rack.not_harder_than(load / 2)
        if half is not None:
            _type(who, typed, day, clock.after(60), lift, (half.load_kg,), (6,), None, None,
                  "warmup", None, 0)  # fmt: skip
    first_load, count = load, len(asked.rir)
    for index, rir in enumerate(asked.rir):
        rest = float(round(asked.rest_s * float(rng.uniform(0.85, 1.35)) / 5) * 5)
        low, high = asked.reps
        done = body.do_set(lift, load, rir, high + OVER_THE_TOP, rest if index else 1e6)
        special = asked.method in ("rest-pause", "drop") and index == count - 1
        loads, reps = [load], [done.reps]
        if special and done.reps:
            loads += _mini_loads(rack, load, asked.method)
            reps += body.mini_sets(lift, loads[1:], MINI_PAUSE_S)
        method: Method = asked.method if special or asked.method == "superset" else "straight"
        _type(who, typed, day, clock.after(rest + SET_S), lift, tuple(loads), tuple(reps),
              done.said_rir, rest if index else None, method, pain_of(who.person.pain, lift, week),
              index + 1)  # fmt: skip
        load = _next_load(rack, asked, load, first_load, done.reps, low, index)


def _found_load(who: Trainee, asked: Asked, day: date, clock: _Clock, typed: DayLog) -> float:
    """By the sheet's tries, from half of what the person would guess or from the first printed,
    each tapped as one."""
    lift, (low, high) = asked.lift, asked.reps
    plan = SetPlan(load_kg=None, reps_low=low, reps_high=high, rir=asked.rir[0])
    way = FindingWay(who.rack(lift), lift, plan, who.policy, who.body.bodyweight_kg)
    first = way.rack.not_harder_than(asked.tries[0]["load_kg"]) or way.rack.easiest
    half = way.rack.not_harder_than(first_guess(who, lift, high, asked.rir[0]) / 2)
    found, goes_on, tries = way.rack.harder_of(half, first), True, 0
    while goes_on:
        load, tries = found.load_kg, tries + 1
        left = who.body.do_set(lift, load, 0, 60, 1e6).reps - low
        is_far = left >= who.policy.number("finding.far_rir")
        said = MOST_SAID if is_far else min(left, who.policy.whole("finding.more_rir"))
        _type(who, typed, day, clock.after(60), lift, (load,), (low + min(left, 0),),
              float(max(said, 0)), None, "try", None, 0)  # fmt: skip
        found, goes_on = way.after(load, said, tries)
    return found.load_kg


def _next_load(
    rack: Rack, asked: Asked, load: float, first_load: float, reps: int, low: int, index: int
) -> float:
    """The sheet's advice after the first set; a step down when a set falls well short."""
    advice = asked.advice if index == 0 and load == first_load else ()
    if (advised := advised_load_kg(advice, reps)) is not None:
        return advised
    easier = rack.next_easier(load) if reps < low - 2 else None
    return load if easier is None else easier.load_kg


def advised_load_kg(advice: Sequence[Mapping[str, Any]], reps: int) -> float | None:
    """What the sheet's rows say after a first set of `reps`; None where no row says a load."""
    for row in advice:
        if row["reps_from"] <= reps and (row["reps_to"] is None or reps <= row["reps_to"]):
            return row["load_kg"]  # type: ignore[no-any-return]
    return None


def _mini_loads(rack: Rack, load: float, method: str) -> list[float]:
    if method == "rest-pause":
        return [load, load]
    shares = (0.8, 0.8 * 0.8)
    return [(rack.not_harder_than(load * share) or rack.easiest).load_kg for share in shares]


def pain_of(pain: Pain | None, lift: Lift, week: int | None) -> int | None:
    """What hurts on this lift in this week; None where nothing is worth a number."""
    if pain is None or week is None or lift.pattern not in pain.patterns:
        return None
    return pain.levels[week - 1] if week <= len(pain.levels) else 0


def pain_check_in(pain: Pain | None, day: date, week: int) -> list[CheckIn]:
    """The week's answer about what hurts; none before the block or without anything."""
    if pain is None:
        return []
    level = pain.levels[week - 1] if week <= len(pain.levels) else 0
    return [said(day, "pain", level, pain.about)]


def said(day: date, measure: Measure, value: float, about: str | None = None) -> CheckIn:
    return CheckIn(moment=Moment(day=day), measure=measure, about=about, value=float(value))


def _type(
    who: Trainee,
    typed: DayLog,
    day: date,
    at: datetime,
    lift: Lift,
    loads: tuple[float, ...],
    reps: tuple[int, ...],
    rir: float | None,
    rest_s: float | None,
    method: Method,
    pain: int | None,
    number: int,
) -> None:
    rng, typing = who.body.rng, who.person.typing
    low = high = rir
    if rir is not None and rir > 0:
        if rng.random() < typing.no_rir:
            low = high = None
        elif rng.random() < typing.rir_ranges:
            low, high = max(rir - 1.0, 0.0), rir
    entered = tuple(number_text(in_unit(load, who.lifter.units)) for load in loads)
    if len(loads) == 1 and method != "warmup" and rng.random() < typing.slips:
        entered = (_slip(entered[0], float(rng.random())),)
    note = who.person.pain.note if pain is not None and who.person.pain and pain > 2 else ""
    typed.sets.append(
        SetDone(
            moment=Moment(day=day, at=at),
            lift=lift.name,
            set_number=number,
            loads_kg=tuple(kg_from(float(text), who.lifter.units) for text in entered),
            entered_load="+".join(entered) if len(set(entered)) > 1 else entered[0],
            entered_unit=who.lifter.units,
            reps=reps,
            rir_low=low,
            rir_high=high,
            rest_s=rest_s,
            method=method,
            pain=None if pain is None else float(pain),
            note=note,
        )
    )


def _slip(text: str, chance: float) -> str:
    """A load typed ten times too high, or without its point."""
    return text.replace(".", "") if "." in text and chance < 0.5 else f"{text}0"


def numbered(sets: Sequence[SetDone]) -> list[SetDone]:
    """The sets as they stand in a file: numbered within lift and day, warm-ups included."""
    count: defaultdict[tuple[date, str], Iterator[int]] = defaultdict(lambda: itertools.count(1))
    return [
        replace(done, set_number=next(count[done.moment.day, done.lift]), row=row)
        for row, done in enumerate(sets, start=2)
    ]


def wellness(who: Trainee, day: date, tired: int) -> list[CheckIn]:
    """The four items of the morning, 1-7, around the person's usual."""
    usual: dict[Measure, float] = {"sleep": 3.0, "fatigue": 2.8, "stress": 2.6, "soreness": 2.8}
    spread = who.body.rng
    return [
        said(day, measure, min(max(round(middle + tired + spread.normal(0, 0.6)), 1), 7))
        for measure, middle in usual.items()
    ]


def session_answers(
    who: Trainee, day: date, start: str, minutes: float, rir: float
) -> list[CheckIn]:
    """Effort of the whole session that began at `start`, and its minutes."""
    rpe = min(max(round(8.5 - 0.8 * rir + float(who.body.rng.normal(0, 0.5))), 2), 10)
    both = said(day, "session_rpe", rpe), said(day, "session_minutes", max(round(minutes), 1))
    moment = Moment(day=day, at=datetime.combine(day, time.fromisoformat(start)))
    return [replace(one, moment=moment) for one in both]


def weigh_in(who: Trainee, day: date) -> CheckIn:
    """Bodyweight in the lifter's unit, to half a unit."""
    kg = who.body.bodyweight_kg * (1 + float(who.body.rng.normal(0, 0.004)))
    typed = round(2 * in_unit(kg, who.lifter.units)) / 2
    value = kg_from(typed, who.lifter.units)
    return replace(said(day, "bodyweight", value), entered_unit=who.lifter.units)


def first_guess(who: Trainee, lift: Lift, reps: float, rir: float) -> float:
    """A load the kit makes, as a person guesses it: off by about 6 %."""
    effective = who.body.load_for(lift, reps, rir, 0.06)
    rack = who.rack(lift)
    made = hardest_moving(rack, lift, effective, who.body.bodyweight_kg)
    return (made or rack.easiest).load_kg
