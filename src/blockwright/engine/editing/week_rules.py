"""The rules of one week of a block, by where they are broken and how badly.

The sessions' own first (minutes, sets, lifts), then the week's: pins, a gentle first week, what
comes again too soon, what lead muscles are owed, and the composer's limits (`review.crowding`).
"""

from collections.abc import Iterator
from itertools import combinations

from blockwright.engine.editing.edits import Setting
from blockwright.engine.editing.findings import Finding, Force, Key
from blockwright.engine.editing.places import pins_by_lift
from blockwright.engine.planning.candidates import rules_against
from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.derived import most_lifts
from blockwright.engine.review.week_constraints import (
    TINY,
    above_ceiling,
    crowding,
    direct,
    fractional,
    hours_apart,
    session_limits,
)
from blockwright.engine.training import DAY_NAMES, DAYS, MUSCLES, Block, RepRange, Session, Week


def week_findings(block: Block, week: Week, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    for session in week.sessions:
        for where, much, why in session_limits(session, setting.catalogue, setting.policy):
            yield where, Finding(much, why, "refused")
        yield from _lifts(block, session, setting)
    yield from _pins(block, week, setting)
    if week.week == 1 and any(reason.code.startswith("gentle_") for reason in block.reasons):
        yield from _gentle(week, setting)
    yield from _repeats(week, setting)
    yield from _exposures(block, week, setting)
    yield from _leads(block, week, setting)
    for where, reason in crowding(week, setting.catalogue, setting.policy).items():
        force: Force = "pin" if reason.code == "too_close" else "insist"
        size = reason.facts.get("sets")
        yield where, Finding(size if isinstance(size, float | int) else 0.0, reason, force)
    for muscle, sets, why in above_ceiling(week, setting.catalogue):
        yield ("ceiling", muscle), Finding(sets, why, "insist")


# ------------------------------------------------------------------------------- one session


def _lifts(block: Block, session: Session, setting: Setting) -> Iterator[tuple[Key, Finding]]:
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
        yield ("lifts", session.session), Finding(count, reason, "refused")
    families: dict[str, list[str]] = {}
    for entry in session.entries:
        lift = setting.catalogue.lifts[entry.lift]
        families.setdefault(lift.family, []).append(lift.name)
        against = rules_against(lift, block.lifter, setting.catalogue)
        if against:
            why = {"lift": lift.name, "why": _why_not(against)}
            reason = Reason(code="rule_not_allowed", facts=why)
            yield ("allowed", lift.name), Finding(0.0, reason, "refused")
    for names in families.values():
        if len(names) > 1:
            twins = {"day": f"{session.day:%A}", "lifts": " and ".join(sorted(names))}
            reason = Reason(code="rule_twins", facts=twins)
            yield ("twins", session.session, *sorted(names)), Finding(0.0, reason, "insist")


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


def _pins(block: Block, week: Week, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    for name, pin in pins_by_lift(block.lifter, setting.catalogue).items():
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
        yield ("pin", name), Finding(0.0, reason, "refused")


def _pinned_range(week: Week, name: str, pinned: str | RepRange) -> Iterator[tuple[Key, Finding]]:
    for session in week.sessions:
        for entry in session.entries:
            rows = {RepRange(low=row.reps_low, high=row.reps_high) for row in entry.sets}
            if entry.lift == name and pinned != entry.zone and rows != {pinned}:
                facts: dict[str, FactValue] = {"lift": name, "range": str(pinned)}
                reason = Reason(code="rule_pinned_range", facts=facts)
                yield ("pinned range", name, session.session), Finding(0.0, reason, "refused")


def _gentle(week: Week, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    most_sets = setting.policy.whole("first_week.sets_per_lift")
    most_muscle = setting.policy.number("first_week.sets_per_muscle")
    for session in week.sessions:
        for entry in session.entries:
            if len(entry.sets) > most_sets:
                facts: dict[str, FactValue] = {"lift": entry.lift, "most": most_sets}
                reason = Reason(code="rule_gentle_lift", facts=facts)
                key = ("gentle", session.session, entry.lift)
                yield key, Finding(len(entry.sets), reason, "refused")
        for muscle, sets in fractional(session.entries, setting.catalogue).items():
            if sets > most_muscle + TINY:
                facts = {
                    "muscle": muscle.replace("_", " "),
                    "day": f"{session.day:%A}",
                    "most": most_muscle,
                }
                reason = Reason(code="rule_gentle_muscle", facts=facts)
                yield ("gentle", session.session, muscle), Finding(sets, reason, "refused")


def _repeats(week: Week, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    """A lift again before it has had its hours."""
    limits = PlanningLimits(setting.policy)
    for one, other in combinations(week.sessions, 2):
        gap = hours_apart(one, other)
        both = {e.lift for e in one.entries} & {e.lift for e in other.entries}
        for name in sorted(both):
            lift = setting.catalogue.lifts[name]
            least = limits.recovery_h(lift)
            if gap < least:
                facts: dict[str, FactValue] = {"lift": name, "hours": round(gap), "least": least}
                reason = Reason(code="rule_repeat", facts=facts)
                yield ("repeat", name, one.session, other.session), Finding(0, reason, "insist")


def _exposures(block: Block, week: Week, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    """A compound at most once heavy and once lighter a week, a family so often; pins aside."""
    pinned = pins_by_lift(block.lifter, setting.catalogue)
    most = PlanningLimits(setting.policy).family_week
    zones: dict[str, list[bool]] = {}
    families: dict[str, int] = {}
    for entry in (entry for session in week.sessions for entry in session.entries):
        lift = setting.catalogue.lifts[entry.lift]
        families[lift.family] = families.get(lift.family, 0) + 1
        if lift.compound and lift.name not in pinned:
            zones.setdefault(lift.name, []).append(entry.zone == "low")
    for name, heavy in zones.items():
        if heavy.count(True) > 1 or heavy.count(False) > 1:
            reason = Reason(code="rule_exposures", facts={"lift": name})
            yield ("exposures", name), Finding(len(heavy), reason, "insist")
    pinned_families = {
        known.family for name in pinned if (known := setting.catalogue.find(name)) is not None
    }
    for family, count in families.items():
        if count > most and family not in pinned_families:
            facts: dict[str, FactValue] = {"family": family, "times": count, "most": most}
            reason = Reason(code="rule_family", facts=facts, policy=("planning.family_week",))
            yield ("family", family), Finding(count, reason, "insist")


def _leads(block: Block, week: Week, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    """A lead muscle is owed two days far enough apart, and half its sets direct."""
    limits = PlanningLimits(setting.policy)
    sums = {s.session: direct(s.entries, setting.catalogue) for s in week.sessions}
    entries = [entry for session in week.sessions for entry in session.entries]
    all_direct, all_sets = (count(entries, setting.catalogue) for count in (direct, fractional))
    for muscle in (m for m in MUSCLES if block.lifter.emphasis_of(m) == "lead"):
        told: dict[str, FactValue] = {"muscle": muscle.replace("_", " ")}
        days = [s for s in week.sessions if sums[s.session].get(muscle, 0.0) >= limits.sets_least]
        apart = any(
            hours_apart(one, other) >= limits.hours_between for one, other in combinations(days, 2)
        )
        if not apart:
            reason = Reason(code="rule_lead_days", facts=told)
            yield ("lead days", muscle), Finding(0.0, reason, "insist")
        share = limits.lead_direct_share
        if all_direct.get(muscle, 0.0) < share * all_sets.get(muscle, 0.0) - TINY:
            reason = Reason(code="rule_lead_direct", facts=told)
            yield ("lead direct", muscle), Finding(0.0, reason, "insist")
