"""What was lifted, beside a proposal: "12 at 80 with 2 left", the reason a coach would give.

Also the printed climb: how many loads and sets go up next week without anybody's proposal."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from blockwright.engine.rack import SAME_LOAD_KG
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.training import DAYS, Entry, Lift, Lifter, effective_load_kg
from blockwright.engine.units import Unit, in_unit, number_text
from .case import WeekCase
from .exposures import Exposure, planned_entries
from .loads import LONG_AGO
from .proposals import Proposal, from_to, load_said
from .week_state import below_usual

_MOST_SHOWN = 3
_APART = 2
"""Repetitions between sets of one load from which the first does not speak for all (judgement)."""
_NO_SLIP = 0.5
"""A first set heavier than the others by more than this share was mistyped (judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Climb:
    """What next week's print asks beyond this week's, proposals apart."""

    loads: int  # Entries whose first load is harder
    sets: int  # Sets more, over all entries
    into: Literal["build", "full", "deload"] = "build"
    """`full`: back to a whole week after an easier one, which is no climb."""
    days: tuple[str, ...] = ()
    """What goes up, a line a day: "Mon: squat 100 → 102.5 kg, row 3 → 4 sets"."""


def with_training_facts(case: WeekCase, proposals: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """The proposals, those about a logged lift with what was lifted last as their last reason."""
    return tuple(
        proposal
        if (fact := _lifted_last(case, proposal)) is None
        else replace(proposal, reasons=(*proposal.reasons, fact))
        for proposal in proposals
    )


def _lifted_last(case: WeekCase, proposal: Proposal) -> Reason | None:
    if proposal.lift is None or proposal.kind in ("refer", "stop_lift", "swap_lift"):
        return None
    mine = [e for e in case.evidence.exposures if e.lift == proposal.lift and e.sound]
    same = [e for e in mine if e.session == proposal.session] or mine
    if not same:
        return None
    if not case.window.holds(same[-1].day):  # missed: what its other day of that zone showed
        zone = same[-1].planned and same[-1].planned.zone
        same = [e for e in mine if (e.planned and e.planned.zone) == zone]
    last = same[-1]
    unit = case.lifter.units
    given = done_text(last, unit) + (", two weeks running" if _repeated(same, unit) else "")
    facts: dict[str, FactValue] = {
        "lift": proposal.lift,
        "date": last.day.isoformat(),
        "load_kg": round(last.work_load_kg, 4),
        "most_kg": round(max(done.load_kg for done in last.sound), 4),
        "sets": len(last.sound),
        "reps": last.first.first_reps,
        "rir": last.first.rir,
        "given": given,
        "done": given + _asked(proposal),
    }
    return Reason(code="lifted_last", facts=facts)


def _asked(proposal: Proposal) -> str:
    """What a load that comes down is asked for: "; 12–15 asked"."""
    if proposal.kind != "lower_load":
        return ""
    low, high = (proposal.says.facts[key] for key in ("reps_low", "reps_high"))
    return f"; {low}–{high} asked" if low != high else f"; {low} asked"


def done_text(exposure: Exposure, unit: Unit) -> str:
    """ "3 x 8 at 80 with 2 left" where all sets agree, "14, 11, 8 at 80" where they differ much,
    else of the first: "12 at 80 with 2 left"; "5 at 90, then 9 at 80" after another load. Where
    no set fell short but the first left less than asked, what it left is what matters."""
    load = number_text(in_unit(exposure.work_load_kg, unit))
    first, opened = exposure.first, exposure.sets[0]
    alike = {(done.load_kg, done.first_reps) for done in exposure.sound}
    reps = str(first.first_reps)
    mine = [done for done in exposure.sound if done.load_kg == first.load_kg]
    given = [done.first_reps for done in mine] or [first.first_reps]
    asked = exposure.target
    spent = asked is not None and min(given) >= asked.reps_low and (first.rir or 0) < asked.rir
    apart = max(given) - min(given) >= _APART and not (spent and first.rir is not None)
    if len(alike) == 1 and len(exposure.sound) > 1:
        reps = f"{len(exposure.sound)} × {reps}"
    elif apart:
        reps = ", ".join(map(str, given))
    at = f" at {load}" if first.load_kg > 0 else ""
    told = first.rir is not None and not (apart and any(s.rir != first.rir for s in mine))
    left = f" with {number_text(first.rir)} left" if first.rir is not None and told else ""
    before = ""
    if SAME_LOAD_KG < abs(opened.load_kg - first.load_kg) < _NO_SLIP * first.load_kg:
        other = number_text(in_unit(opened.load_kg, unit))
        before = f"{opened.first_reps} at {other}, then "
    return f"{before}{reps}{at}{left}"


def each_set(exposure: Exposure, unit: Unit) -> str:
    """ "5, 4, 4, 3 at 90": every set, of a lift whose later ones matter."""
    given = ", ".join(str(done.first_reps) for done in exposure.sound)
    load = number_text(in_unit(exposure.work_load_kg, unit))
    return f"{given} at {load}" if exposure.work_load_kg > 0 else given


def _repeated(exposures: Sequence[Exposure], unit: Unit) -> bool:
    """Whether the last two are told in the same words, what was left apart."""
    told = [done_text(one, unit).partition(" with ")[0] for one in exposures[-2:]]
    return len(told) == 2 and told[0] == told[1]


def shortfalls(
    case: WeekCase, muscle: str | None = None, *, least: float = 0.0, main: bool = False
) -> str:
    """The lifts that fell furthest short of the last time at the same load, by more than `least`
    repetitions, of a muscle the worst one (a `main` one), as a coach shows them: ": bench press 5
    at 90 (8 before), row 9 at 70 (11 before)"; where only the last week that was not weak shows a
    fall, from that one. "" where none can be shown."""
    before: dict[tuple[str, float], list[Exposure]] = {}
    found: list[tuple[float, str]] = []
    since = _weak_since(case)
    for now in case.evidence.exposures:
        lift = case.catalogue.find(now.lift)
        if not now.sound or (muscle and (lift is None or muscle not in lift.direct)):
            continue
        if main and not (lift and lift.compound):
            continue
        key = (now.lift, round(now.work_load_kg, 2))
        if now.day < case.window.start:
            before.setdefault(key, []).append(now)
        elif not case.window.holds(now.day) or now.day in case.bad_days:
            continue
        elif mine := before.pop(key, None):
            near = [one for one in mine if (now.day - one.day).days <= LONG_AGO]
            usual = [one for one in near if one.day < since]
            for then in (*near[-1:], *usual[-1:]):
                if (short := short_of(now, then)) > least:
                    found.append((short, _beside(now, then, case.lifter.units)))
                    break
    worst = sorted(found, key=lambda one: -one[0])[: 1 if muscle else _MOST_SHOWN]
    return f": {', '.join(said for _, said in worst)}" if worst else ""


def _weak_since(case: WeekCase) -> date:
    """The Monday from which the weeks have lain below the usual level."""
    since = case.window.start
    for state in reversed(case.states[:-1]):
        if not below_usual(state, case.policy):
            break
        since = state.start
    return since


def _beside(now: Exposure, then: Exposure, unit: Unit) -> str:
    """ "row 9 with 3 left at 70 (11 with 1 left before)"; of a week ago and more, how long ago."""
    load, weeks = number_text(in_unit(now.work_load_kg, unit)), round((now.day - then.day).days / 7)
    ago = f"{weeks} weeks before" if weeks > 1 else "before"
    return f"{now.lift} {_reps_left(now, then)} at {load} ({_reps_left(then, now)} {ago})"


def short_of(now: Exposure, then: Exposure) -> float:
    """Repetitions by which a first set fell short of an earlier one, what was left counted in: of
    the earlier one nothing where that was not said, of this one as much as then."""
    left, was = now.first.rir, then.first.rir
    reserve = 0.0 if left is None else (was or 0.0) - left
    return then.first.first_reps - now.first.first_reps + reserve


def _reps_left(one: Exposure, other: Exposure) -> str:
    """ "8", or "8 with 4 left" where the other had not as many left."""
    if one.first.rir is None or one.first.rir == other.first.rir:
        return str(one.first.first_reps)
    return f"{one.first.first_reps} with {number_text(one.first.rir)} left"


def printed_climb(case: WeekCase, proposals: Sequence[Proposal]) -> Climb:
    """What goes up as printed where no proposal says otherwise and nothing hurts; nothing where a
    proposal answers for the whole week, and nothing into or out of an easier one."""
    this, following = case.window.week, case.window.next_week
    weekly = any(p.kind in ("light_week", "deload_now") for p in proposals)
    if case.awaits_clearance is not None or following is None or weekly:
        return Climb(loads=0, sets=0)
    if following.kind != "build":
        return Climb(loads=0, sets=0, into="deload")
    if this.kind != "build" or this.ease == "light":
        return Climb(loads=0, sets=0, into="full")
    now = planned_entries(this, case.catalogue)
    moved = {(p.lift, p.session, p.after.key) for p in proposals if p.after is not None}
    out = {*case.pain, *(p.lift for p in proposals if p.kind in ("stop_lift", "swap_lift"))}
    cut = {p.muscle for p in proposals if p.kind == "trim_sets" and p.lift is None}
    loads = sets = 0
    days: dict[date, list[str]] = {}
    for name, entries in planned_entries(following, case.catalogue).items():
        before = {session.session: entry for session, entry in now.get(name, [])}
        lift = case.catalogue.find(name)
        for session, entry in entries:
            old = before.get(session.session)
            if old is None or lift is None or name in out:
                continue
            at, whole = (name, session.session), cut.isdisjoint(lift.direct)
            up = [] if (*at, "load_kg") in moved else load_up(case.lifter, lift, old, entry)
            more = len(entry.sets) - len(old.sets) if whole and (*at, "sets") not in moved else 0
            loads, sets = loads + len(up), sets + max(0, more)
            up += [f"{len(old.sets)} → {len(entry.sets)} sets"] if more > 0 else []
            if up:
                days.setdefault(session.day, []).append(f"{name} {' and '.join(up)}")
    lines = (f"{DAYS[day.weekday()].capitalize()}: {', '.join(days[day])}" for day in sorted(days))
    return Climb(loads=loads, sets=sets, days=tuple(lines))


def load_up(lifter: Lifter, lift: Lift, old: Entry, new: Entry) -> list[str]:
    """ "100 → 102.5 kg", "help 25 → 20 kg" where the first load is harder; else nothing."""
    was, to = old.sets[0].load_kg, new.sets[0].load_kg
    if was is None or to is None:
        return []
    before, after = (effective_load_kg(lift, kg, lifter.bodyweight_kg) for kg in (was, to))
    if before is None or after is None or after <= before + SAME_LOAD_KG:
        return []
    before_said, after_said = (load_said(kg, lift, lifter.units) for kg in (was, to))
    return [" → ".join(from_to(before_said, after_said, lifter.units))]
