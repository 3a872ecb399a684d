"""A block as text a coach can read in a terminal."""

from collections.abc import Sequence
from datetime import date

from blockwright.engine.training import Block, Entry, Session, Week
from blockwright.engine.units import Unit, load_text, number_text
from blockwright.files.words import caution_says, reason_says

_THREE_LINES = ("block_days", "block_leads", "block_note")


def block_text(block: Block) -> str:
    """Cautions, the first and the last build week, the deload, weekly sets, reasons."""
    builds = [week for week in block.weeks if week.kind == "build"]
    lines = [
        f"{block.lifter.name}: {len(builds)} build weeks and a deload from {block.start}"
        f" (revision {block.revision}, {_status(block)})",
        *(reason_says(reason) for reason in block.reasons if reason.code in _THREE_LINES),
        "",
    ]
    lines += [f"! {caution_says(caution)}" for caution in block.cautions]
    shown = [builds[0], builds[-1]] if len(builds) > 1 else builds[:1]
    shown += [week for week in block.weeks if week.kind == "deload"]
    for week in shown:
        lines += ["", *_week(week, block.lifter.units)]
    lines += ["", *_muscles(builds, block.weeks[-1]), "", "Why:"]
    lines += [
        f"- {reason_says(reason)}" for reason in block.reasons if reason.code not in _THREE_LINES
    ]
    return "\n".join(lines)


def _status(block: Block) -> str:
    return "ready" if block.status == "ready" else "not before a professional has cleared it"


def solver_text(block: Block) -> str:
    """How good the search is proven to be; for whoever asks, not for a coach."""
    if block.solver.status == "optimal":
        return "Solver: no week does better in the last tier, with the tiers above it as they are."
    return f"Solver: no week loses {100 * block.solver.gap:.1f} % fewer points in the last tier."


def _week(week: Week, unit: Unit) -> list[str]:
    rir = f"{number_text(week.rir)} in reserve"
    lines = [f"Week {week.week}, {'build' if week.kind == 'build' else 'deload'}, {rir}"]
    for session in week.sessions:
        lines += _session(session, unit)
    return lines


def _session(session: Session, unit: Unit) -> list[str]:
    head = (
        f"  {session.day:%a} {session.day.day} {session.day:%b} {session.start_time}, "
        f"{number_text(session.minutes_planned, 0)} of {session.minutes_available} min"
    )
    if session.missed:
        return [f"{head}: missed"]
    return [head, *(f"    {_entry(entry, unit)}" for entry in session.entries)]


def _entry(entry: Entry, unit: Unit) -> str:
    first = entry.sets[0]
    load = "" if first.load_kg is None else f" at {load_text(first.load_kg, unit)}"
    method = {"rest-pause": ", last set rest-pause", "drop": ", last set a drop set"}
    pair = f" [{entry.pair}]" if entry.pair else ""
    last = entry.sets[-1].rir
    end = f", last set {number_text(last)} in reserve" if last != first.rir else ""
    return (
        f"{entry.order}. {entry.lift}: {len(entry.sets)} x {first.reps_low}-{first.reps_high}"
        f"{load}{end}{method.get(entry.method, '')}, rest {entry.rest_s} s{pair}"
    )


def _muscles(builds: Sequence[Week], deload: Week) -> list[str]:
    first, last = builds[0].muscle_sets, builds[-1].muscle_sets
    lines = [
        "Weekly sets (direct in brackets)   first      last    deload   floor  ceiling",
    ]
    for muscle, end in last.items():
        start, easy = first[muscle], deload.muscle_sets[muscle]
        lines.append(
            f"  {muscle.replace('_', ' '):<28} {_count(start.fractional, start.direct)}"
            f" {_count(end.fractional, end.direct)} {_count(easy.fractional, easy.direct)}"
            f" {number_text(end.floor):>6} {end.ceiling:>8.1f}"
        )
    return lines


def _count(fractional: float, direct: float) -> str:
    return f"{f'{number_text(fractional)} ({number_text(direct)})':>10}"


def replan_text(block: Block, day: date) -> str:
    """What a replan changed, and the rest of its week."""
    week = next(w for w in block.weeks if any(s.day == day for s in w.sessions))
    changes = [r for r in block.reasons if r.code.startswith("replan_")]
    # the newest replan stands first; an older one begins with its own trouble
    older = [i for i, r in enumerate(changes) if i and _opens(r.code)]
    newest = changes[: older[0]] if older else changes
    lines = [f"{block.lifter.name}, revision {block.revision}"]
    lines += [f"- {reason_says(reason)}" for reason in newest]
    pain = [caution for caution in block.cautions if caution.code == "left_for_pain"]
    lines += [f"! {caution_says(caution)}" for caution in pain]
    lines += ["", f"Week {week.week}, from {day}"]
    for session in week.sessions:
        if session.day >= day:
            lines += _session(session, block.lifter.units)
    return "\n".join(lines)


_TROUBLES = ("replan_minutes", "replan_missed", "replan_without", "replan_sore", "replan_hurts")


def _opens(code: str) -> bool:
    return code in _TROUBLES
