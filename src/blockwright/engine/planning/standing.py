"""What a block says of its days and leads, made from its weeks as they stand."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import chain, combinations

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.training import DAYS, MUSCLES, Block, Catalogue, Lifter, Session, Week
from blockwright.engine.units import number_text, spoken
from .problem import round_the_week
from .week_figures import slot_of

_HELD = ("hold_muscle", "hold_muscle_low")
_LED = ("lead_muscle", "lead_muscle_once")


def told_anew(block: Block, catalogue: Catalogue, policy: Policy) -> Block:
    """The block with its lines of days and leads, each reason with a muscle's sets, and what has no
    load yet, as its weeks now are."""
    builds = block.builds
    if not builds:
        return block
    texts: dict[str, dict[str, FactValue]] = {
        "block_days": {"days": days_text(builds[-1].sessions, catalogue)},
        "block_leads": {"leads": leads_text(block.lifter, builds)},
    }
    left = _left_for_pain(block)

    def anew(reason: Reason) -> Reason:
        if reason.code == "block_note":
            told = str(reason.facts["note"]).split("; ")
            note = "; ".join([*left, *(part for part in told if _FROM_WEEK not in part)])
            return replace(reason, facts={"note": note})
        muscle = str(reason.facts.get("muscle")).replace(" ", "_")
        if reason.code not in (*_HELD, *_LED, "skip_muscle") or muscle not in MUSCLES:
            return replace(reason, facts=texts.get(reason.code, reason.facts))
        code = hold_code(muscle, builds[-1]) if reason.code in _HELD else reason.code
        code = lead_code(muscle, builds[-1], catalogue, policy) if code in _LED else code
        return replace(reason, code=code, facts=muscle_facts(muscle, builds, catalogue))

    loads = without_load(builds[-1])
    told = ([anew(one)] if one.code not in _NO_LOADS else loads for one in block.reasons)
    return replace(block, reasons=tuple(chain.from_iterable(told)))


_NO_LOADS = _NONE, _SOME = ("loads_none", "loads_some")


def without_load(week: Week) -> list[Reason]:
    """The reason that names the lifts of a week without a load, where there are any."""
    lifts = {entry.lift for entry in week.entries}
    without = sorted({entry.lift for entry in week.entries if entry.sets[0].load_kg is None})
    facts: dict[str, FactValue] = {
        "count": len(without), "total": len(lifts), "lifts": and_listed(without)
    }  # fmt: skip
    code = _NONE if len(without) == len(lifts) else _SOME
    return [Reason(code=code, facts=facts)] if without else []


_FROM_WEEK = " out for pain from week "


def _left_for_pain(block: Block) -> list[str]:
    """Lifts that a letter took out for pain, where they have not come back."""
    there = {entry.lift for entry in block.weeks[-1].entries}
    out = {}
    for one in block.decisions:
        lift = str(one.change.get("lift_was", one.change.get("lift")))
        hurt = one.kind == "stop_lift" or "about" in one.change
        if one.kind in ("swap_lift", "stop_lift") and hurt and one.verdict != "declined":
            out[lift] = f"{lift}{_FROM_WEEK}{float(one.change['week']):.0f}"
    return [said for lift, said in out.items() if lift not in there]


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
        f"{spoken(m)} {number_text(first[m].fractional)} to {number_text(last[m].fractional)}"
        for m in MUSCLES
        if lifter.emphasis_of(m) == "lead"
    ]
    held = [spoken(m) for m in MUSCLES if lifter.emphasis_of(m) == "hold"]
    text = and_listed(parts) or "no lead: every muscle climbs alike"
    return f"{text}; held: {and_listed(held)}" if held else text


def muscle_facts(muscle: str, builds: Sequence[Week], catalogue: Catalogue) -> dict[str, FactValue]:
    """A muscle's sets in the first and the last build week, and the days that train it directly."""
    first, last = builds[0].muscle_sets[muscle], builds[-1].muscle_sets[muscle]
    days = [
        _day(session)
        for session in builds[-1].sessions
        for entry in session.entries
        if entry.sets and (lift := catalogue.find(entry.lift)) and muscle in lift.direct
    ]
    return {
        "muscle": spoken(muscle),
        "first_week_sets": first.fractional,
        "last_week_sets": last.fractional,
        "ceiling_sets": last.ceiling,
        "days": and_listed(list(dict.fromkeys(days))) or "no day",
    }


def lead_code(muscle: str, last: Week, catalogue: Catalogue, policy: Policy) -> str:
    """Whether the last build week trains a lead twice, far enough apart."""
    lifts = ((s, catalogue.find(e.lift)) for s in last.sessions for e in s.entries if e.sets)
    starts = {slot_of(s).start_hour_of_week for s, lift in lifts if lift and muscle in lift.direct}
    hours = policy.number("planning.hours_between")
    far = any(round_the_week(one, other) >= hours for one, other in combinations(starts, 2))
    return "lead_muscle" if far else "lead_muscle_once"


def hold_code(muscle: str, last: Week) -> str:
    """Whether the last build week keeps a muscle that is held."""
    sets = last.muscle_sets[muscle]
    return "hold_muscle_low" if sets.fractional < sets.floor else "hold_muscle"


def _day(session: Session) -> str:
    return DAYS[session.day.weekday()]
