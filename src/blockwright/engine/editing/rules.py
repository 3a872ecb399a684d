"""What a change breaks, and whether a coach may insist.

    refused   cannot stand: a session's minutes and sets, kit and what is avoided, a gentle first
              week, a held muscle, a lift that hurts, a pin
    pin       stands only as a pin (hard days too close: the coach's word makes one)
    insist    a rule of the house; stands when the coach says so

A change is judged by what it newly breaks or makes worse: what was broken before, by a pin or in
an older block, is not held against it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from blockwright.engine.editing.edits import Setting
from blockwright.engine.editing.week_rules import CellRules, Force, week_findings
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.week_constraints import TINY, week_sets
from blockwright.engine.training import MUSCLES, Block, Week
from blockwright.engine.volume import planned_week


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    week: int
    reason: Reason
    force: Force


def broken_rules(before: Block, after: Block, setting: Setting) -> tuple[Broken, ...]:
    """Every rule `after` breaks that `before` keeps, or breaks worse, in the order of weeks."""
    found: list[Broken] = []
    old_weeks = {week.week: week for week in before.weeks}
    changed = [w for w in after.weeks if w.kind == "build" and old_weeks.get(w.week) != w]
    cells = CellRules(before, after, setting)
    for week in changed:
        old = old_weeks.get(week.week)
        known = {} if old is None else dict(week_findings(before, old, setting))
        for key, finding in week_findings(after, week, setting):
            if key not in known or finding.size > known[key].size + TINY:
                found.append(Broken(week=week.week, reason=finding.reason, force=finding.force))
        for finding in cells.findings(week):
            found.append(Broken(week=week.week, reason=finding.reason, force=finding.force))
    found += _over_the_weeks(before, after, setting)
    found += _hurting(before, after, setting)
    return tuple(sorted(_once(found), key=lambda one: one.week))


def _once(found: list[Broken]) -> list[Broken]:
    """Each rule said once, for the first week that breaks it."""
    seen: dict[tuple[str, str], Broken] = {}
    for one in sorted(found, key=lambda each: each.week):
        subject = {k: v for k, v in one.reason.facts.items() if k in ("lift", "muscle", "session")}
        seen.setdefault((one.reason.code, repr(subject)), one)
    return list(seen.values())


def _over_the_weeks(before: Block, after: Block, setting: Setting) -> Iterator[Broken]:
    most = setting.policy.number("ramp.sets_per_week")
    drift = setting.policy.whole("ramp.hold_drift")
    old_steps, steps = _steps(before, setting), _steps(after, setting)
    for (week, muscle), step in steps.items():
        if step > max(most, old_steps.get((week, muscle), 0.0)) + TINY:
            facts: dict[str, FactValue] = {
                "muscle": muscle.replace("_", " "),
                "sets": round(step, 2),
                "most": most,
            }
            reason = Reason(code="rule_ramp", facts=facts, policy=("ramp.sets_per_week",))
            yield Broken(week=week, reason=reason, force="insist")
    for muscle in MUSCLES:
        if after.lifter.emphasis_of(muscle) == "hold":
            was, (week, now) = _drift(before, muscle, setting)[1], _drift(after, muscle, setting)
            if now > max(drift, was):
                held: dict[str, FactValue] = {"muscle": muscle.replace("_", " "), "most": drift}
                reason = Reason(code="rule_hold", facts=held, policy=("ramp.hold_drift",))
                yield Broken(week=week, reason=reason, force="refused")


def _builds(block: Block) -> list[Week]:
    return [week for week in block.weeks if week.kind == "build"]


def _steps(block: Block, setting: Setting) -> Mapping[tuple[int, str], float]:
    """By week and muscle: sets more than the week before."""
    sums = [(week.week, week_sets(week, setting.catalogue)) for week in _builds(block)]
    return {
        (number, muscle): now.get(muscle, 0.0) - was.get(muscle, 0.0)
        for (_, was), (number, now) in pairwise(sums)
        for muscle in MUSCLES
    }


def _drift(block: Block, muscle: str, setting: Setting) -> tuple[int, float]:
    """The week with the most direct sets of a muscle, and how many more than the least has.
    Weeks with a missed session say nothing."""
    sums = [
        (float(planned_week(w, setting.catalogue)[muscle].direct), w)
        for w in _builds(block)
        if not any(session.missed for session in w.sessions)
    ]
    if not sums:
        return 0, 0.0
    most, week = max(sums, key=lambda pair: (pair[0], -pair[1].week))
    return week.week, most - min(sets for sets, _ in sums)


def _hurting(before: Block, after: Block, setting: Setting) -> Iterator[Broken]:
    old_weeks = {week.week: week for week in before.weeks}
    for week in _builds(after):
        old = old_weeks.get(week.week)
        for lift in sorted(setting.painful):
            if _sets_of(week, lift) > (0 if old is None else _sets_of(old, lift)):
                reason = Reason(code="rule_pain", facts={"lift": lift})
                yield Broken(week=week.week, reason=reason, force="refused")


def _sets_of(week: Week, lift: str) -> int:
    return sum(len(e.sets) for s in week.sessions for e in s.entries if e.lift == lift)
