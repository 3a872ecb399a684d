"""The rules of one cell: what its reserve, its load and its range may be."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from blockwright.engine.editing.edits import Setting
from blockwright.engine.editing.findings import Finding
from blockwright.engine.planning.block import may_fail
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.loads import most_effective
from blockwright.engine.screening import least_rir
from blockwright.engine.training import Block, Entry, Session, Week, effective_load_kg
from blockwright.engine.units import load_text, number_text

Written = tuple[int, int, str, tuple[int, int], float, float | None]
"""Week, session, lift, range, least reserve and load of a cell."""


@dataclass(frozen=True)
class CellRules:
    """Judges the cells of `after` that `before` does not have; a range or a load the block has
    already for the lift is held against nobody."""

    before: Block
    after: Block
    setting: Setting

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

    def findings(self, week: Week) -> Iterator[Finding]:
        for session in week.sessions:
            for entry in session.entries:
                if _written(week, session, entry) not in self._there:
                    yield from self._cell(week, session, entry)

    def _cell(self, week: Week, session: Session, entry: Entry) -> Iterator[Finding]:
        where: dict[str, FactValue] = {
            "lift": entry.lift,
            "session": session.session,
            "day": f"{session.day:%A}",
        }
        block, setting, first = self.after, self.setting, entry.sets[0]
        yield from _reserve(block, week, entry, where, setting)
        if (entry.lift, first.reps_low, first.reps_high) not in self._ranges:
            yield from _range(entry, where, setting)
        if first.load_kg is None:
            return
        if (entry.lift, first.load_kg) not in self._loads:
            yield from _kit(block, entry, first.load_kg, where, setting)
        yield from _step(block, week, session, entry, where, setting)


def _written(week: Week, session: Session, entry: Entry) -> Written:
    first, least = entry.sets[0], min(row.rir for row in entry.sets)
    reps = (first.reps_low, first.reps_high)
    return week.week, session.session, entry.lift, reps, least, first.load_kg


def _reserve(
    block: Block, week: Week, entry: Entry, where: dict[str, FactValue], setting: Setting
) -> Iterator[Finding]:
    policy, lift = setting.policy, setting.catalogue.lifts[entry.lift]
    planned = min(row.rir for row in entry.sets)
    least = max(float(lift.rir_least), least_rir(block.lifter, week.week, policy))
    if week.week == 1 and any(reason.code.startswith("gentle_") for reason in block.reasons):
        least = max(least, policy.number("first_week.rir"))
    if planned < least:
        facts = {**where, "least": number_text(least)}
        reason = Reason(code="rule_reserve", facts=facts)
        yield Finding(least - planned, reason, "refused")
    elif planned < 1 and not may_fail(block.lifter, lift, policy):
        yield Finding(1 - planned, Reason(code="rule_failure", facts=where), "refused")


def _range(entry: Entry, where: dict[str, FactValue], setting: Setting) -> Iterator[Finding]:
    usable = setting.catalogue.lifts[entry.lift].reps.values()
    low, high = min(r.low for r in usable), max(r.high for r in usable)
    first = entry.sets[0]
    outside = max(low - first.reps_low, first.reps_high - high)
    if outside > 0:
        facts: dict[str, FactValue] = {**where, "low": low, "high": high}
        yield Finding(outside, Reason(code="rule_range", facts=facts), "insist")


def _kit(
    block: Block, entry: Entry, load_kg: float, where: dict[str, FactValue], setting: Setting
) -> Iterator[Finding]:
    lifter = block.lifter
    rack = rack_for(setting.catalogue.lifts[entry.lift], lifter.gym, setting.policy)
    if rack.exactly(load_kg) is None:
        near = [s for s in (rack.at_most(load_kg), rack.at_least(load_kg)) if s is not None]
        facts: dict[str, FactValue] = {
            **where,
            "load": load_text(load_kg, lifter.units),
            "near": " or ".join(load_text(one.load_kg, lifter.units) for one in near),
        }
        yield Finding(0.0, Reason(code="rule_kit_load", facts=facts), "insist")


def _step(
    block: Block,
    week: Week,
    session: Session,
    entry: Entry,
    where: dict[str, FactValue],
    setting: Setting,
) -> Iterator[Finding]:
    """More than one change may be, and more than the kit's smallest step, in one week."""
    before = _week_before(block, week, session, entry)
    load, lift, lifter = entry.sets[0].load_kg, setting.catalogue.lifts[entry.lift], block.lifter
    if before is None or load is None:
        return
    harder = rack_for(lift, lifter.gym, setting.policy).next_harder(before)
    was, now, step = (
        None if kg is None else effective_load_kg(lift, kg, lifter.bodyweight_kg)
        for kg in (before, load, None if harder is None else harder.load_kg)
    )
    if was is None or now is None or was <= 0:
        return
    most = max(most_effective(was, setting.policy), step or 0.0)
    if now > most:
        facts = {**where, "before": load_text(before, lifter.units)}
        facts["after"] = load_text(load, lifter.units)
        reason = Reason(code="rule_load_step", facts=facts, policy=("load.most_up",))
        yield Finding(now / was, reason, "insist")


def _week_before(block: Block, week: Week, session: Session, entry: Entry) -> float | None:
    """The load of the same lift, session and range in the build week before."""
    first = entry.sets[0]
    for other in block.weeks:
        if other.week == week.week - 1 and other.kind == "build":
            for planned in other.sessions:
                for found in planned.entries if planned.session == session.session else ():
                    row = found.sets[0]
                    if found.lift == entry.lift and row.reps_low == first.reps_low:
                        return row.load_kg
    return None
