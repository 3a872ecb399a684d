"""What a change breaks, and whether a coach may insist.

    refused   cannot stand: a session's minutes and sets, kit and what is avoided, a gentle first
              week, a held muscle, a lift that hurts, a pin
    pin       stands only as a pin (hard days too close: the coach's word makes one)
    insist    a rule of the house; stands when the coach says so

A change is judged by what it newly breaks or makes worse: what was broken before, by a pin or in an
older block, is not held against it. Of a week the sessions' own rules come first, then pins, then
the composer's (`review.week_constraints`); of one cell its reserve, load and range."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

from blockwright.engine.planning.block import may_fail
from blockwright.engine.planning.candidates import rules_against
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.week_constraints import TINY, session_limits, week_broken, week_sets
from blockwright.engine.screening import least_rir
from blockwright.engine.strength import most_effective
from blockwright.engine.training import (
    DAY_NAMES,
    DAYS,
    MUSCLES,
    Block,
    Entry,
    RepRange,
    Session,
    Week,
    effective_load_kg,
)
from blockwright.engine.units import load_text, number_text, spoken
from blockwright.engine.volume import planned_week
from .edited_weeks import pins_by_lift
from .edits import EditContext

Force = Literal["refused", "pin", "insist"]
Key = tuple[str | int, ...]
Where = dict[str, FactValue]


@dataclass(frozen=True, slots=True)
class Broken:
    """A rule that is broken, in what words, and whether one may insist."""

    week: int
    reason: Reason
    force: Force
    size: float = 0.0  # How badly: larger is worse


_FORCES: dict[str, Force] = {
    "spacing": "pin", "lifts": "refused", "gentle_muscle": "refused", "gentle_lift": "refused",
}  # fmt: skip
"""Rules a coach may not simply insist on, by the composer's code."""


def week_findings(block: Block, week: Week, context: EditContext) -> Iterator[tuple[Key, Broken]]:
    known = (context.catalogue, context.policy)
    for session in week.sessions:
        for where, much, why in session_limits(session, *known):
            yield where, Broken(week.week, why, "refused", much)
        yield from _allowed(block, week, session, context)
    yield from _pins(block, week, context)
    gentle = week.week == 1 and any(reason.code.startswith("gentle_") for reason in block.reasons)
    for where, broken in week_broken(week, block.lifter, *known, gentle=gentle).items():
        force = _FORCES.get(broken.code, "insist")
        yield where, Broken(week.week, broken.reason, force, broken.much)


def _allowed(
    block: Block, week: Week, session: Session, context: EditContext
) -> Iterator[tuple[Key, Broken]]:
    for entry in session.entries:
        lift = context.catalogue.lifts[entry.lift]
        against = rules_against(lift, block.lifter, context.catalogue)
        if against:
            why: dict[str, FactValue] = {"lift": lift.name, "why": _why_not(against)}
            reason = Reason(code="rule_not_allowed", facts=why)
            yield ("allowed", lift.name), Broken(week.week, reason, "refused")


def _why_not(against: tuple[str, ...]) -> str:
    words = []
    for rule in against:
        kind, _, name = rule.partition(":")
        words.append(
            {
                "kit": "the gym lacks what it needs",
                "avoid lift": "the lifter avoids it",
                "avoid pattern": f"the lifter avoids every {name}",
                "skip": f"{spoken(name)} gets no direct sets",
                "bodyweight": "it needs the lifter's bodyweight",
            }[kind]
        )
    return ", ".join(words)


def _pins(block: Block, week: Week, context: EditContext) -> Iterator[tuple[Key, Broken]]:
    for name, pin in pins_by_lift(block.lifter, context.catalogue).items():
        if pin.reps is not None:
            yield from _pinned_range(week, name, pin.reps)
        days = {
            DAYS[s.day.weekday()]
            for s in week.sessions
            if s.missed or any(entry.lift == name for entry in s.entries)
        }
        if days and all(day in days for day in pin.days):
            continue
        said = " and ".join(DAY_NAMES[day] for day in pin.days) or "this week"
        facts: dict[str, FactValue] = {"lift": name, "days": said}
        reason = Reason(code="rule_pinned", facts=facts)
        yield ("pin", name), Broken(week.week, reason, "refused")


def _pinned_range(week: Week, name: str, pinned: str | RepRange) -> Iterator[tuple[Key, Broken]]:
    for session in week.sessions:
        for entry in session.entries:
            rows = {row.reps for row in entry.sets}
            if entry.lift == name and pinned != entry.zone and rows != {pinned}:
                facts: dict[str, FactValue] = {"lift": name, "range": str(pinned)}
                reason = Reason(code="rule_pinned_range", facts=facts)
                yield ("pinned range", name, session.session), Broken(week.week, reason, "refused")


Written = tuple[int, int, str, tuple[int, int], float, float | None]
"""Week, session, lift, range, least reserve and load of a cell."""


@dataclass(frozen=True)
class CellRules:
    """Judges the cells of `after` that `before` does not have; a range or a load the block has
    already for the lift is held against nobody."""

    before: Block
    after: Block
    context: EditContext

    @cached_property
    def _there(self) -> frozenset[Written]:
        return frozenset(
            _written(week, session, entry)
            for week in self.before.weeks
            for session in week.sessions
            for entry in session.entries
        )

    @cached_property
    def _ranges(self) -> frozenset[tuple[str, int, int]]:
        return frozenset((lift, low, high) for _, _, lift, (low, high), _, _ in self._there)

    @cached_property
    def _loads(self) -> frozenset[tuple[str, float | None]]:
        return frozenset((lift, load) for _, _, lift, _, _, load in self._there)

    def findings(self, week: Week) -> Iterator[Broken]:
        for session in week.sessions:
            for entry in session.entries:
                if _written(week, session, entry) not in self._there:
                    yield from self._cell(week, session, entry)

    def _cell(self, week: Week, session: Session, entry: Entry) -> Iterator[Broken]:
        where: Where = {
            "lift": entry.lift,
            "session": session.session,
            "day": f"{session.day:%A}",
        }
        first = entry.sets[0]
        yield from self._reserve(week, entry, where)
        if (entry.lift, first.reps_low, first.reps_high) not in self._ranges:
            yield from self._range(week, entry, where)
        if first.load_kg is None:
            return
        if (entry.lift, first.load_kg) not in self._loads:
            yield from self._kit(week, entry.lift, first.load_kg, where)
        yield from self._step(week, session, entry, first.load_kg, where)

    def _reserve(self, week: Week, entry: Entry, where: Where) -> Iterator[Broken]:
        block, policy = self.after, self.context.policy
        lift = self.context.catalogue.lifts[entry.lift]
        planned = min(row.rir for row in entry.sets)
        least = max(float(lift.rir_least), least_rir(block.lifter, week.week, policy))
        if week.week == 1 and any(reason.code.startswith("gentle_") for reason in block.reasons):
            least = max(least, policy.number("first_week.rir"))
        if planned < least:
            facts = {**where, "least": number_text(least)}
            reason = Reason(code="rule_reserve", facts=facts)
            yield Broken(week.week, reason, "refused")
        elif planned < 1 and not may_fail(block.lifter, lift, policy):
            yield Broken(week.week, Reason(code="rule_failure", facts=where), "refused")

    def _range(self, week: Week, entry: Entry, where: Where) -> Iterator[Broken]:
        usable = self.context.catalogue.lifts[entry.lift].reps.values()
        low, high = min(r.low for r in usable), max(r.high for r in usable)
        first = entry.sets[0]
        if first.reps_low < low or first.reps_high > high:
            reason = Reason(code="rule_range", facts={**where, "low": low, "high": high})
            yield Broken(week.week, reason, "insist")

    def _kit(self, week: Week, lift: str, load_kg: float, where: Where) -> Iterator[Broken]:
        lifter = self.after.lifter
        rack = rack_for(self.context.catalogue.lifts[lift], lifter.gym, self.context.policy)
        if rack.exactly(load_kg) is None:
            near = [s for s in (rack.at_most(load_kg), rack.at_least(load_kg)) if s is not None]
            facts: dict[str, FactValue] = {
                **where,
                "load": load_text(load_kg, lifter.units),
                "near": " or ".join(load_text(one.load_kg, lifter.units) for one in near),
            }
            yield Broken(week.week, Reason(code="rule_kit_load", facts=facts), "insist")

    def _step(
        self, week: Week, session: Session, entry: Entry, load: float, where: Where
    ) -> Iterator[Broken]:
        """More than one change may be, and more than the kit's smallest step, in one week."""
        lift, lifter = self.context.catalogue.lifts[entry.lift], self.after.lifter
        before = self._week_before(week, session, entry)
        if before is None:
            return
        harder = rack_for(lift, lifter.gym, self.context.policy).next_harder(before)
        was, now, step = (
            None if kg is None else effective_load_kg(lift, kg, lifter.bodyweight_kg)
            for kg in (before, load, None if harder is None else harder.load_kg)
        )
        if was is None or now is None or was <= 0:
            return
        if now > max(most_effective(was, self.context.policy), step or 0.0):
            facts = {**where, "before": load_text(before, lifter.units)}
            facts["after"] = load_text(load, lifter.units)
            reason = Reason(code="rule_load_step", facts=facts, policy=("load.most_up",))
            yield Broken(week.week, reason, "insist")

    def _week_before(self, week: Week, session: Session, entry: Entry) -> float | None:
        """The load of the same lift, session and range in the build week before."""
        return next(
            (
                found.sets[0].load_kg
                for other in self.after.weeks
                if other.week == week.week - 1 and other.kind == "build"
                for planned in other.sessions
                if planned.session == session.session
                for found in planned.entries
                if found.lift == entry.lift and found.sets[0].reps_low == entry.sets[0].reps_low
            ),
            None,
        )


def _written(week: Week, session: Session, entry: Entry) -> Written:
    first, least = entry.sets[0], min(row.rir for row in entry.sets)
    reps = (first.reps_low, first.reps_high)
    return week.week, session.session, entry.lift, reps, least, first.load_kg


def broken_rules(before: Block, after: Block, context: EditContext) -> tuple[Broken, ...]:
    """Every rule `after` breaks that `before` keeps, or breaks worse, in the order of weeks."""
    found: list[Broken] = []
    old_weeks = {week.week: week for week in before.weeks}
    changed = [w for w in after.builds if old_weeks.get(w.week) != w]
    cells = CellRules(before, after, context)
    for week in changed:
        old = old_weeks.get(week.week)
        known = {} if old is None else dict(week_findings(before, old, context))
        for key, broken in week_findings(after, week, context):
            if key not in known or broken.size > known[key].size + TINY:
                found.append(broken)
        found += cells.findings(week)
    found += _over_the_weeks(before, after, context)
    found += _hurting(before, after, context)
    return tuple(sorted(_once(found), key=lambda one: one.week))


def _once(found: list[Broken]) -> list[Broken]:
    """Each rule said once, for the first week that breaks it."""
    seen: dict[tuple[str, str], Broken] = {}
    for one in sorted(found, key=lambda each: each.week):
        subject = {k: v for k, v in one.reason.facts.items() if k in ("lift", "muscle", "session")}
        seen.setdefault((one.reason.code, repr(subject)), one)
    return list(seen.values())


def _over_the_weeks(before: Block, after: Block, context: EditContext) -> Iterator[Broken]:
    most = context.policy.number("ramp.sets_per_week")
    drift = context.policy.whole("ramp.hold_drift")
    old_steps, steps = _steps(before, context), _steps(after, context)
    for (week, muscle), step in steps.items():
        if step > max(most, old_steps.get((week, muscle), 0.0)) + TINY:
            facts: dict[str, FactValue] = {
                "muscle": spoken(muscle),
                "sets": round(step, 2),
                "most": most,
            }
            reason = Reason(code="rule_ramp", facts=facts, policy=("ramp.sets_per_week",))
            yield Broken(week, reason, "insist")
    for muscle in MUSCLES:
        if after.lifter.emphasis_of(muscle) == "hold":
            was, (week, now) = _drift(before, muscle, context)[1], _drift(after, muscle, context)
            if now > max(drift, was):
                held: dict[str, FactValue] = {"muscle": spoken(muscle), "most": drift}
                reason = Reason(code="rule_hold", facts=held, policy=("ramp.hold_drift",))
                yield Broken(week, reason, "refused")


def _steps(block: Block, context: EditContext) -> Mapping[tuple[int, str], float]:
    """By week and muscle: sets more than the week before."""
    sums = [(week.week, week_sets(week, context.catalogue)) for week in block.builds]
    return {
        (number, muscle): now.get(muscle, 0.0) - was.get(muscle, 0.0)
        for (_, was), (number, now) in pairwise(sums)
        for muscle in MUSCLES
    }


def _drift(block: Block, muscle: str, context: EditContext) -> tuple[int, float]:
    """The week with the most direct sets of a muscle, and how many more than the least has.
    Weeks with a missed session say nothing."""
    sums = [
        (float(planned_week(w, context.catalogue)[muscle].direct), w)
        for w in block.builds
        if not any(session.missed for session in w.sessions)
    ]
    if not sums:
        return 0, 0.0
    most, week = max(sums, key=lambda pair: (pair[0], -pair[1].week))
    return week.week, most - min(sets for sets, _ in sums)


def _hurting(before: Block, after: Block, context: EditContext) -> Iterator[Broken]:
    old_weeks = {week.week: week for week in before.weeks}
    for week in after.builds:
        old = old_weeks.get(week.week)
        for lift in sorted(context.painful):
            if _sets_of(week, lift) > (0 if old is None else _sets_of(old, lift)):
                reason = Reason(code="rule_pain", facts={"lift": lift})
                yield Broken(week.week, reason, "refused")


def _sets_of(week: Week, lift: str) -> int:
    return sum(len(e.sets) for e in week.entries if e.lift == lift)
