"""Pain by design.md 6, asked of many made-up reports: what hurts, for how long, and what waits."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random

import pytest
from small_block import checkin

from blockwright.engine.pain import JOINT_MUSCLES, PLACES, grade_in, joints_loaded
from blockwright.engine.review.safety import (
    PainState,
    letter_day,
    pain_by_lift,
    pain_elsewhere,
    pain_reports,
    unplaced,
)
from blockwright.engine.training import Lift
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy

CATALOGUE, POLICY = builtin_catalogue(), default_policy()
UNTIL = date(2027, 2, 14)
CARRY_ON, STOP_ABOVE, REFER_AFTER, MEMORY_DAYS = (
    POLICY.number(f"safety.{key}")
    for key in ("pain_carry_on", "pain_stop_above", "refer_after_reports", "pain_memory_days")
)
PAINS = (0, 1, CARRY_ON, CARRY_ON + 0.5, 4, STOP_ABOVE, STOP_ABOVE + 0.5, 9)
SAID = {"left knee": "knee", "Rotator cuff": "shoulder", "lumbar": "lower back", "spine": "back",
        "quads": "quads", "under the ribs": "under the ribs",
        " Somewhere ": "somewhere"}  # fmt: skip
"""What somebody writes, and what it is about."""
Told = Mapping[str, Mapping[date, float]]
"""By what it is about: the worst of each day."""


@dataclass(frozen=True)
class Hurt:
    days: frozenset[date]
    stops: bool
    latest: date
    own: bool = True


@dataclass(frozen=True)
class Case:
    of_lifts: Sequence[tuple[str, date, float]]
    said: Sequence[tuple[str, date, float]]
    in_use: Sequence[Lift]
    cleared: Mapping[str, date]

    def told(self) -> Told:
        found: dict[str, dict[date, float]] = {}
        meant = dict(SAID)
        if any(SAID.get(about) == "lower back" for about, day, _ in self.said if day <= UNTIL):
            meant["spine"] = "lower back"
        named = [(meant.get(about, about), day, pain) for about, day, pain in self.said]
        for about, day, pain in (*self.of_lifts, *named):
            if day <= UNTIL:
                found.setdefault(about, {}).setdefault(day, pain)
                found[about][day] = max(found[about][day], pain)
        return found


def made_up(seed: int) -> Case:
    chance = Random(seed)
    lifts = chance.sample(sorted(CATALOGUE.lifts.values(), key=lambda one: one.name), 8)
    hurt = [one.name for one in lifts[2:5]]

    def reports(about: Sequence[str], count: int) -> list[tuple[str, date, float]]:
        return [
            (chance.choice(about), UNTIL - timedelta(chance.randint(-1, 16)), chance.choice(PAINS))
            for _ in range(count)
        ]

    some = [*hurt, chance.choice(list(JOINT_MUSCLES))]
    return Case(
        of_lifts=reports(hurt, chance.randint(0, 7)),
        said=reports([*hurt, *SAID], chance.randint(0, 6)),
        in_use=lifts[:4],
        cleared={name: UNTIL - timedelta(chance.randint(0, 14)) for name in chance.sample(some, 1)},
    )


def much(lift: Lift) -> set[str]:
    return {place for place in PLACES if grade_in(lift, place) >= 2}


def joints(lift: Lift) -> set[str]:
    """Those it loads much; of the back the part, where it is known."""
    found = much(lift) & JOINT_MUSCLES.keys()
    return found - {"back"} if "lower back" in found else found


def in_one(case: Case, place: str, hurt: Hurt) -> str | None:
    """The lift that alone hurt as much as a place on the last day."""
    told = case.told()
    alike = [about for about, said in told.items() if CATALOGUE.find(about) is not None
             and said.get(hurt.latest) == told[place][hurt.latest]]  # fmt: skip
    return alike[0] if len(alike) == 1 else None


def live(case: Case) -> dict[str, Hurt]:
    """What is not over: by a report at or below the line, a clearance, or a fortnight."""
    found = {}
    for about, said in case.told().items():
        lift = CATALOGUE.find(about)
        names = {about} if lift is None else {about, *much(lift)}
        over = max((case.cleared[n] for n in names if n in case.cleared), default=date.min)
        fine = [day for day, pain in said.items() if pain <= CARRY_ON]
        days = frozenset(day for day in said if day > max([over, *fine]))
        if days and (len(days) >= REFER_AFTER or (UNTIL - max(days)).days <= MEMORY_DAYS):
            found[about] = Hurt(days, said[max(days)] > STOP_ABOVE, max(days))
    return found


def both(parts: Sequence[Hurt]) -> Hurt:
    worst = max(parts, key=lambda one: (one.stops, one.latest))
    days = frozenset().union(*(one.days for one in parts))
    return Hurt(days, worst.stops, worst.latest, own=parts[0].own)


def expected(case: Case) -> dict[str, Hurt]:
    states = live(case)
    own = {name: hurt for name, hurt in states.items() if CATALOGUE.find(name) is not None}
    places = {place: hurt for place, hurt in states.items() if place in PLACES}
    of = {x.name: {p for p, hurt in places.items() if p in much(x) or
                   (x.name in own and grade_in(x, p) and in_one(case, p, hurt) == x.name)}
          for x in CATALOGUE.lifts.values()}  # fmt: skip
    named = set(places)
    unsaid = [x for x in map(CATALOGUE.lifts.__getitem__, own) if not of[x.name]]
    for joint in JOINT_MUSCLES:
        sore = [x.name for x in unsaid if joint in joints(x) or joints_loaded(x) == {joint}]
        if len(sore) > 1 and not (joint == "back" and "lower back" in named):
            together = both([own[name] for name in sore])
            places[joint] = Hurt(together.days, False, together.latest)
    found = {name: hurt for name, hurt in states.items() if name not in places}
    for lift in (*case.in_use, *(CATALOGUE.lifts[name] for name in own)):
        of_places = [places[p] for p in places if p in much(lift) | of[lift.name]]
        if lift.name in own:
            found[lift.name] = both([own[lift.name], *of_places])
        elif of_places:
            hurt = both(of_places)
            found[lift.name] = Hurt(hurt.days, hurt.stops, hurt.latest, own=False)
    stopped = {
        CATALOGUE.lifts[name].pattern: hurt
        for name, hurt in found.items()
        if hurt.stops and hurt.own and CATALOGUE.find(name) is not None
    }
    waits = {x.name: stopped[x.pattern] for x in case.in_use if x.pattern in stopped}
    return {n: Hurt(h.days, False, h.latest, own=False) for n, h in waits.items()} | found


def as_hurt(state: PainState) -> Hurt:
    assert state.in_a_row == len(state.days)
    assert state.band in ("watchful", "stop")
    return Hurt(frozenset(state.days), state.band == "stop", state.latest.day, state.own)


@pytest.mark.parametrize("seeds", [range(100), range(100, 200)], ids=["one", "two"])
def test_any_reports_hold_what_hurts_as_long_as_it_hurts(seeds: range) -> None:
    counted = {"own": 0, "by a place": 0, "stopped": 0, "referred": 0, "elsewhere": 0}
    for seed in seeds:
        case = made_up(seed)
        checkins = [checkin(day, "pain", pain, about) for about, day, pain in case.said]
        reports = pain_reports(case.of_lifts, checkins, CATALOGUE, UNTIL)
        told = {about: {one.day: one.pain for one in series} for about, series in reports.items()}
        assert told == case.told(), seed
        found = pain_by_lift(reports, case.in_use, CATALOGUE, POLICY, UNTIL, case.cleared)
        hurts = expected(case)
        assert {name: as_hurt(state) for name, state in found.items()} == hurts, seed
        for name, state in found.items():
            waits = not state.own and name not in live(case) and not state.refer
            assert state.refer == (len(state.days) >= REFER_AFTER) or waits, (seed, name)
        others = pain_elsewhere(reports, CATALOGUE, POLICY, UNTIL, case.cleared)
        known = {name: hurt for name, hurt in live(case).items() if not CATALOGUE.find(name)}
        assert {name: as_hurt(state) for name, state in others.items()} == known, seed
        unknown = {name for name, hurt in known.items() if hurt.stops and name not in PLACES}
        assert {one.about for one in unplaced(others.values(), ())} == unknown, seed
        assert unplaced(others.values(), unknown) == (), "somebody trains by these words"
        counted["own"] += sum(hurt.own for hurt in hurts.values())
        counted["by a place"] += sum(not hurt.own for hurt in hurts.values())
        counted["stopped"] += sum(hurt.stops for hurt in hurts.values())
        counted["referred"] += sum(state.refer for state in found.values())
        counted["elsewhere"] += len(others)
    assert min(counted.values()) > 10, counted


def test_all_week_a_report_is_as_old_as_the_weeks_letter_has_it() -> None:
    sunday = UNTIL
    assert {letter_day(sunday + timedelta(n)) for n in range(1, 8)} == {sunday}
