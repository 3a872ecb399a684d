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
from itertools import combinations, pairwise
from typing import Literal

from blockwright.engine.editing.edits import Setting
from blockwright.engine.planning.make_request import rules_against
from blockwright.engine.planning.numbers import numbers_of
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.crowding import crowding, direct, fractional, hours_apart
from blockwright.engine.review.derived import most_lifts, session_minutes
from blockwright.engine.training import DAY_NAMES, DAYS, MUSCLES, Block, Session, Week

Force = Literal["refused", "pin", "insist"]
Key = tuple[str | int, ...]
_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """A rule that a change breaks: in which week, how badly, and whether one may insist."""

    week: int
    reason: Reason
    force: Force


@dataclass(frozen=True, slots=True)
class _Finding:
    size: float
    """How badly: larger is worse."""
    reason: Reason
    force: Force


def broken_rules(before: Block, after: Block, setting: Setting) -> tuple[Broken, ...]:
    """Every rule `after` breaks that `before` keeps, or breaks worse, in the order of weeks."""
    found: list[Broken] = []
    old_weeks = {week.week: week for week in before.weeks}
    for week in after.weeks:
        if week.kind != "build" or old_weeks.get(week.week) == week:
            continue
        old = old_weeks.get(week.week)
        known = {} if old is None else dict(_week_findings(before, old, setting))
        for key, finding in _week_findings(after, week, setting):
            if key not in known or finding.size > known[key].size + _TINY:
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


def _week_findings(block: Block, week: Week, setting: Setting) -> Iterator[tuple[Key, _Finding]]:
    for session in week.sessions:
        yield from _minutes(session, setting)
        yield from _session_sets(session, setting)
        yield from _lifts(block, session, setting)
    yield from _pins(block, week)
    if week.week == 1 and any(reason.code.startswith("gentle_") for reason in block.reasons):
        yield from _gentle(week, setting)
    yield from _repeats(week, setting)
    for where, reason in crowding(week, setting.catalogue, setting.policy).items():
        force: Force = "pin" if reason.code == "too_close" else "insist"
        size = reason.facts.get("sets")
        yield where, _Finding(size if isinstance(size, float | int) else 0.0, reason, force)
    yield from _ceilings(week, setting)


# ------------------------------------------------------------------------------- one session


def _minutes(session: Session, setting: Setting) -> Iterator[tuple[Key, _Finding]]:
    minutes = session_minutes(session, setting.catalogue, setting.policy)
    if minutes > session.minutes_available:
        facts: dict[str, FactValue] = {
            "session": session.session,
            "day": f"{session.day:%A}",
            "minutes": minutes,
            "minutes_available": session.minutes_available,
        }
        reason = Reason(code="rule_minutes", facts=facts)
        yield ("minutes", session.session), _Finding(minutes, reason, "refused")


def _session_sets(session: Session, setting: Setting) -> Iterator[tuple[Key, _Finding]]:
    limit = setting.policy.number("review.sets.session_limit")
    for muscle, sets in fractional(session.entries, setting.catalogue).items():
        if sets > limit + _TINY:
            facts: dict[str, FactValue] = {
                "session": session.session,
                "day": f"{session.day:%A}",
                "muscle": muscle.replace("_", " "),
                "sets": round(sets, 2),
                "limit": limit,
            }
            reason = Reason(
                code="rule_session_sets", facts=facts, policy=("review.sets.session_limit",)
            )
            yield ("sets", session.session, muscle), _Finding(sets, reason, "refused")


def _lifts(block: Block, session: Session, setting: Setting) -> Iterator[tuple[Key, _Finding]]:
    most = most_lifts(block.lifter, setting.policy)
    count = len(session.entries)
    if count > most:
        facts: dict[str, FactValue] = {
            "session": session.session,
            "day": f"{session.day:%A}",
            "lifts": count,
            "most": most,
        }
        reason = Reason(code="rule_lifts", facts=facts)
        yield ("lifts", session.session), _Finding(count, reason, "refused")
    families: dict[str, list[str]] = {}
    for entry in session.entries:
        lift = setting.catalogue.lifts[entry.lift]
        families.setdefault(lift.family, []).append(lift.name)
        against = rules_against(lift, block.lifter, setting.catalogue)
        if against:
            why = {"lift": lift.name, "why": _why_not(against)}
            reason = Reason(code="rule_not_allowed", facts=why)
            yield ("allowed", lift.name), _Finding(0.0, reason, "refused")
    for names in families.values():
        if len(names) > 1:
            twins = {"day": f"{session.day:%A}", "lifts": " and ".join(sorted(names))}
            reason = Reason(code="rule_twins", facts=twins)
            yield ("twins", session.session, *sorted(names)), _Finding(0.0, reason, "insist")


def _why_not(against: tuple[str, ...]) -> str:
    words = []
    for rule in against:
        kind, _, name = rule.partition(":")
        words.append(
            {
                "kit": "the gym lacks what it needs",
                "avoid lift": "the lifter avoids it",
                "avoid pattern": f"the lifter avoids every {name}",
                "skip": f"{name.replace('_', ' ')} gets no direct sets",
                "bodyweight": "it needs the lifter's bodyweight",
            }[kind]
        )
    return ", ".join(words)


# ---------------------------------------------------------------------------------- one week


def _pins(block: Block, week: Week) -> Iterator[tuple[Key, _Finding]]:
    for pin in block.lifter.pins:
        days = {
            DAYS[s.day.weekday()]
            for s in week.sessions
            if s.missed or any(entry.lift == pin.lift for entry in s.entries)
        }
        if days and all(day in days for day in pin.days):
            continue
        said = " and ".join(DAY_NAMES[day] for day in pin.days) or "this week"
        facts: dict[str, FactValue] = {"lift": pin.lift, "days": said}
        reason = Reason(code="rule_pinned", facts=facts)
        yield ("pin", pin.lift), _Finding(0.0, reason, "refused")


def _gentle(week: Week, setting: Setting) -> Iterator[tuple[Key, _Finding]]:
    most_sets = setting.policy.whole("first_week.sets_per_lift")
    most_muscle = setting.policy.number("first_week.sets_per_muscle")
    for session in week.sessions:
        for entry in session.entries:
            if len(entry.sets) > most_sets:
                facts: dict[str, FactValue] = {"lift": entry.lift, "most": most_sets}
                reason = Reason(code="rule_gentle_lift", facts=facts)
                key = ("gentle", session.session, entry.lift)
                yield key, _Finding(len(entry.sets), reason, "refused")
        for muscle, sets in fractional(session.entries, setting.catalogue).items():
            if sets > most_muscle + _TINY:
                facts = {
                    "muscle": muscle.replace("_", " "),
                    "day": f"{session.day:%A}",
                    "most": most_muscle,
                }
                reason = Reason(code="rule_gentle_muscle", facts=facts)
                yield ("gentle", session.session, muscle), _Finding(sets, reason, "refused")


def _repeats(week: Week, setting: Setting) -> Iterator[tuple[Key, _Finding]]:
    """A lift again before it has had its hours."""
    axial_h, compound_h, single_h = numbers_of(setting.policy).recovery_h
    for one, other in combinations(week.sessions, 2):
        gap = hours_apart(one, other)
        both = {e.lift for e in one.entries} & {e.lift for e in other.entries}
        for name in sorted(both):
            lift = setting.catalogue.lifts[name]
            least = axial_h if lift.axial >= 2 else compound_h if lift.compound else single_h
            if gap < least:
                facts: dict[str, FactValue] = {"lift": name, "hours": round(gap), "least": least}
                reason = Reason(code="rule_repeat", facts=facts)
                yield ("repeat", name, one.session, other.session), _Finding(0, reason, "insist")


def _ceilings(week: Week, setting: Setting) -> Iterator[tuple[Key, _Finding]]:
    sums = fractional((e for s in week.sessions for e in s.entries), setting.catalogue)
    for muscle, sets in sums.items():
        planned = week.muscle_sets.get(muscle)
        if planned is not None and sets > planned.ceiling + _TINY:
            facts: dict[str, FactValue] = {
                "muscle": muscle.replace("_", " "),
                "sets": round(sets, 2),
                "ceiling": round(planned.ceiling, 1),
            }
            reason = Reason(code="rule_ceiling", facts=facts)
            yield ("ceiling", muscle), _Finding(sets, reason, "insist")


# ---------------------------------------------------------------------------- over the weeks


def _over_the_weeks(before: Block, after: Block, setting: Setting) -> Iterator[Broken]:
    most = setting.policy.number("ramp.sets_per_week")
    drift = setting.policy.whole("ramp.hold_drift")
    old_steps, steps = _steps(before, setting), _steps(after, setting)
    for (week, muscle), step in steps.items():
        if step > max(most, old_steps.get((week, muscle), 0.0)) + _TINY:
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
    sums = [
        (week.week, fractional((e for s in week.sessions for e in s.entries), setting.catalogue))
        for week in _builds(block)
    ]
    return {
        (number, muscle): now.get(muscle, 0.0) - was.get(muscle, 0.0)
        for (_, was), (number, now) in pairwise(sums)
        for muscle in MUSCLES
    }


def _drift(block: Block, muscle: str, setting: Setting) -> tuple[int, float]:
    """The week with the most direct sets of a muscle, and how many more than the least has.
    Weeks with a missed session say nothing."""
    sums = [
        (direct((e for s in w.sessions for e in s.entries), setting.catalogue).get(muscle, 0.0), w)
        for w in _builds(block)
        if not any(session.missed for session in w.sessions)
    ]
    if not sums:
        return 0, 0.0
    most, week = max(sums, key=lambda pair: (pair[0], -pair[1].week))
    return week.week, most - min(sets for sets, _ in sums)


def _hurting(before: Block, after: Block, setting: Setting) -> Iterator[Broken]:
    """Lifts that hurt and would gain sets."""
    old_weeks = {week.week: week for week in before.weeks}
    for week in _builds(after):
        old = old_weeks.get(week.week)
        for lift in sorted(setting.painful):
            if _sets_of(week, lift) > (0 if old is None else _sets_of(old, lift)):
                reason = Reason(code="rule_pain", facts={"lift": lift})
                yield Broken(week=week.week, reason=reason, force="refused")


def _sets_of(week: Week, lift: str) -> int:
    return sum(len(e.sets) for s in week.sessions for e in s.entries if e.lift == lift)
