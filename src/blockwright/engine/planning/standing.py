"""What a block says of its days and leads, made from its weeks as they stand."""

from collections.abc import Sequence
from dataclasses import replace

from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.training import DAYS, MUSCLES, Block, Catalogue, Lifter, Session, Week
from blockwright.engine.units import number_text

_OF_A_MUSCLE = ("lead_muscle", "lead_muscle_once", "hold_muscle", "hold_muscle_low", "skip_muscle")


def told_anew(block: Block, catalogue: Catalogue) -> Block:
    """The block with its lines of days and leads, and each reason with a muscle's sets, as its
    weeks now are."""
    builds = [week for week in block.weeks if week.kind == "build"]
    if not builds:
        return block
    texts: dict[str, dict[str, FactValue]] = {
        "block_days": {"days": days_text(builds[-1].sessions, catalogue)},
        "block_leads": {"leads": leads_text(block.lifter, builds)},
    }

    def anew(reason: Reason) -> Reason:
        muscle = str(reason.facts.get("muscle")).replace(" ", "_")
        if reason.code in _OF_A_MUSCLE and muscle in builds[-1].muscle_sets:
            first, last = builds[0].muscle_sets[muscle], builds[-1].muscle_sets[muscle]
            facts: dict[str, FactValue] = {
                "first_week_sets": first.fractional,
                "last_week_sets": last.fractional,
                "days": _days_of(muscle, builds[-1], catalogue),
            }
            code = reason.code
            if code.startswith("hold_muscle"):
                code = "hold_muscle_low" if last.fractional < last.floor else "hold_muscle"
            return replace(reason, code=code, facts={**reason.facts, **facts})
        return replace(reason, facts=texts.get(reason.code, reason.facts))

    return replace(block, reasons=tuple(anew(reason) for reason in block.reasons))


def days_text(sessions: Sequence[Session], catalogue: Catalogue) -> str:
    """The main lifts by day."""
    parts = []
    for session in sessions:
        placed = [(e, catalogue.find(e.lift)) for e in session.entries if e.sets]
        mains = [(e, lift) for e, lift in placed if lift is not None and lift.compound]
        names = [f"{x.name}{' heavy' if e.zone == 'low' else ''}" for e, x in mains]
        parts.append(f"{_day(session)} {', '.join(names) or 'small lifts only'}")
    return "; ".join(parts)


def leads_text(lifter: Lifter, builds: Sequence[Week]) -> str:
    """Leads and where they go, and what is held."""
    first, last = builds[0].muscle_sets, builds[-1].muscle_sets
    parts = [
        f"{m.replace('_', ' ')} {number_text(first[m].fractional)} to"
        f" {number_text(last[m].fractional)}"
        for m in MUSCLES
        if lifter.emphasis_of(m) == "lead"
    ]
    held = [m.replace("_", " ") for m in MUSCLES if lifter.emphasis_of(m) == "hold"]
    text = and_listed(parts) or "no lead: every muscle climbs alike"
    return f"{text}; held: {and_listed(held)}" if held else text


def _days_of(muscle: str, week: Week, catalogue: Catalogue) -> str:
    """The days on which a lift trains the muscle directly."""
    days = [
        _day(session)
        for session in week.sessions
        for entry in session.entries
        if entry.sets and (lift := catalogue.find(entry.lift)) and muscle in lift.direct
    ]
    return and_listed(list(dict.fromkeys(days))) or "no day"


def _day(session: Session) -> str:
    return DAYS[session.day.weekday()]
