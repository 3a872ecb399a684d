"""The weeks of a lifter as `week_state` reads them, made from what was logged and answered."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.policy import Policy
from blockwright.engine.training import HOOPER_ITEMS, Block, Catalogue, CheckIn
from .exposures import Exposure, Window
from .recovery import History, monday_of
from .week_state import Seen, WeekFacts
from .wellness import hooper_totals, usual_of

INDIRECT_SHARE = 0.4
"""How much of a muscle's overreach a lift shows that trains it indirectly (judgement)."""
NEW_AFTER = timedelta(days=28)
"""A range that a lift was not done in for so long is new to it (judgement)."""
_BAD_DAY = re.compile(
    r"\b(tired|exhausted|knackered|slept (?:badly|little|poorly|(?:only )?[1-5] ?h\w*)|"
    r"bad sleep|no sleep|poor sleep|exams?|"
    r"(?:bad|short|rough) night|hung ?over|stress(?:ed|ful)?|ill|sick|(?:a|had a|have a) cold|flu|"
    r"fever|jet ?lag|long day|no food|skipped (?:lunch|breakfast)|night shift|off day)\b",
    re.IGNORECASE,
)
"""What a note says of a bad day (judgement); signs of illness that refer are read elsewhere."""


def says_bad_day(note: str) -> bool:
    return _BAD_DAY.search(note) is not None


def weeks_of(
    case: CoachCase,
    block: Block,
    window: Window,
    exposures: Sequence[Exposure],
    history: History,
) -> tuple[WeekFacts, ...]:
    """Every week up to the window's, in order of time; those with nothing logged are left out."""
    policy, checkins = case.policy, case.checkins
    sore_from, totals = policy.number("review.sore.not_from"), hooper_totals(checkins)
    noted = _noted(checkins, exposures, policy)
    found = []
    for start, seen in sorted(_seen(case, block, window, exposures).items()):
        end = min(start + timedelta(days=6), window.end)
        here = history.get(start, {})
        found.append(
            WeekFacts(
                start=start,
                seen=tuple(seen),
                sets={muscle: week.sets for muscle, week in here.items()},
                noted={day: bad for day, bad in noted.items() if start <= day <= end},
                worse=_worse(checkins, totals, start, end, policy),
                sore={
                    m: week.sore >= sore_from for m, week in here.items() if week.sore is not None
                },
                eased=_eased_before(block, start),
            )
        )
    return tuple(found)


def _seen(
    case: CoachCase, block: Block, window: Window, exposures: Sequence[Exposure]
) -> dict[date, list[Seen]]:
    """By week: each lift on each day on which it was trained; what was said on the first day is no
    level to have fallen from."""
    zones = _new_zones(exposures)
    trained = {exposure.day for exposure in exposures}
    gave = {(e.lift, e.day) for e in exposures if e.target is not None and e.short <= 0}
    found: dict[date, list[Seen]] = {}
    for name, series in sorted(case.capacities.items()):
        shares = shares_of(name, case.catalogue)
        for one in series:
            if one.day in trained and one.day <= window.end:
                found.setdefault(monday_of(one.day, block.start), []).append(
                    Seen(
                        lift=name,
                        day=one.day,
                        ln_capacity=one.ln_capacity,
                        variance=one.variance,
                        shares=shares,
                        new_zone=(name, one.day) in zones,
                        gave=(name, one.day) in gave,
                    )
                )
    return found


def shares_of(name: str, catalogue: Catalogue) -> Mapping[str, float]:
    """How much of each muscle's overreach a lift shows."""
    lift = catalogue.find(name)
    if lift is None:
        return {}
    return {m: 1.0 if share >= 1 else INDIRECT_SHARE for m, share in lift.muscles.items() if share}


def _eased_before(block: Block, start: date) -> str | None:
    """What the week before `start` was, where it was made easier: it let muscles recover; of the
    block's first week, that it is the first."""
    if start == block.start:
        return "first"
    for week in block.weeks:
        if block.start + timedelta(days=7 * week.week) == start:
            return "deload" if week.kind == "deload" else week.ease
    return None


def _noted(
    checkins: Iterable[CheckIn], exposures: Iterable[Exposure], policy: Policy
) -> Mapping[date, bool]:
    """By day with an answer (7 is worst) or a note: whether it speaks of a bad day."""
    line = policy.number("review.read.very_poor")
    found: dict[date, bool] = {}
    for said in checkins:
        day = said.moment.day
        if said.measure in ("sleep", "stress", "fatigue"):
            found[day] = found.get(day, False) or said.value >= line
    for exposure in exposures:
        if any(done.note and says_bad_day(done.note) for done in exposure.sets):
            found[exposure.day] = True
    return found


def _worse(
    checkins: Sequence[CheckIn],
    totals: Mapping[date, float],
    start: date,
    end: date,
    policy: Policy,
) -> bool | None:
    """Whether the week's wellness lies above the lifter's own usual by the policy's SDs; on the
    worst of its items where not all four are answered."""
    needed = policy.whole("review.wellness.usual_from")
    before = [total for day, total in totals.items() if day < start]
    here = [total for day, total in totals.items() if start <= day <= end]
    if here and len(before) >= needed:
        usual, spread = usual_of(before, policy)
        return sum(here) / len(here) > usual + spread
    answers = [
        said.value
        for said in checkins
        if said.measure in HOOPER_ITEMS and start <= said.moment.day <= end
    ]
    if len(answers) < 3:
        return None
    return sum(answers) / len(answers) >= policy.number("review.read.very_poor") - 1


def _new_zones(exposures: Sequence[Exposure]) -> frozenset[tuple[str, date]]:
    """Exposures in a range of repetitions that the lift was not done in lately."""
    found = set()
    last: dict[tuple[str, int], date] = {}
    known: set[str] = set()
    for exposure in sorted(exposures, key=lambda one: one.day):
        zone = _zone_of(exposure.first.first_reps)
        before = last.get((exposure.lift, zone))
        if exposure.lift in known and (before is None or exposure.day - before > NEW_AFTER):
            found.add((exposure.lift, exposure.day))
        known.add(exposure.lift)
        last[exposure.lift, zone] = exposure.day
    return frozenset(found)


def _zone_of(reps: int) -> int:
    return 0 if reps <= 6 else 1 if reps <= 14 else 2
