"""The rules of one week of a block, by where they are broken and how badly.

The sessions' own first (minutes, sets, lifts that may not be), then pins, then the composer's
rules for a week (`review.week_constraints`).
"""

from collections.abc import Iterator

from blockwright.engine.editing.edits import Setting
from blockwright.engine.editing.findings import Finding, Force, Key
from blockwright.engine.editing.places import pins_by_lift
from blockwright.engine.planning.candidates import rules_against
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.week_constraints import session_limits, week_broken
from blockwright.engine.training import DAY_NAMES, DAYS, Block, RepRange, Session, Week

_FORCES: dict[str, Force] = {
    "spacing": "pin", "lifts": "refused", "gentle_muscle": "refused", "gentle_lift": "refused",
}  # fmt: skip
"""Rules a coach may not simply insist on, by the composer's code."""


def week_findings(block: Block, week: Week, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    known = (setting.catalogue, setting.policy)
    for session in week.sessions:
        for where, much, why in session_limits(session, *known):
            yield where, Finding(much, why, "refused")
        yield from _allowed(block, session, setting)
    yield from _pins(block, week, setting)
    gentle = week.week == 1 and any(reason.code.startswith("gentle_") for reason in block.reasons)
    for where, broken in week_broken(week, block.lifter, *known, gentle=gentle).items():
        yield where, Finding(broken.much, broken.reason, _FORCES.get(broken.code, "insist"))


def _allowed(block: Block, session: Session, setting: Setting) -> Iterator[tuple[Key, Finding]]:
    for entry in session.entries:
        lift = setting.catalogue.lifts[entry.lift]
        against = rules_against(lift, block.lifter, setting.catalogue)
        if against:
            why: dict[str, FactValue] = {"lift": lift.name, "why": _why_not(against)}
            reason = Reason(code="rule_not_allowed", facts=why)
            yield ("allowed", lift.name), Finding(0.0, reason, "refused")


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
