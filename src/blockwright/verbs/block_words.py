"""A block in words: short lines for the cells of the block page's grid, and a text a coach can read
in a terminal."""

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from blockwright.engine.editing import differences
from blockwright.engine.training import (
    DAY_NAMES,
    Block,
    Catalogue,
    Entry,
    Lift,
    Pin,
    Session,
    SetDone,
    Week,
)
from blockwright.engine.units import Unit, in_unit, load_text, number_text
from blockwright.files.catalogue import catalogue_for
from blockwright.files.words import caution_says, reason_says
from blockwright.sheets.sheet_words import aim_text, load_as, load_beside, range_text


def planned_lines(entry: Entry, week: Week, lift: Lift | None, unit: Unit) -> list[str]:
    """ "3 × 8–12", "60 kg", and what is out of the ordinary."""
    first, last = entry.sets[0], entry.sets[-1]
    lines = [
        f"{len(entry.sets)} × {range_text(first.reps_low, first.reps_high)}"
        f"{aim_text(first.aim_low, first.aim_high)}",
        "load to be found" if first.load_kg is None else load_words(lift, first.load_kg, unit),
    ]
    if first.rir != week.rir:
        lines.append(f"{number_text(first.rir)} in reserve")
    if last.rir != first.rir:
        end = "to failure" if last.rir == 0 else f"{number_text(last.rir)} in reserve"
        lines.append(f"last set {end}")
    if entry.in_parts:
        lines.append(f"last set {'a drop set' if entry.method == 'drop' else 'rest-pause'}")
    if entry.pair is not None:
        lines.append(f"in turn, {entry.pair}")
    if entry.waits:
        lines.append(_WAITS)
    return lines


def forecast_text(entry: Entry, unit: Unit) -> str:
    """ "57.5–62.5 kg": between which loads a later week will probably fall; "" for none."""
    forecast = entry.sets[0].forecast_kg
    if forecast is None:
        return ""
    low, high = (number_text(in_unit(kg, unit)) for kg in forecast)
    return f"{range_text(low, high)} {unit}"


def load_words(lift: Lift | None, load_kg: float, unit: Unit) -> str:
    """A load for a narrow column, without its plates; what is added to the body as "+10 kg"."""
    return _narrow(lift, load_text(load_kg, unit), zero=load_kg == 0)


def _narrow(lift: Lift | None, said: str, *, zero: bool) -> str:
    kind = "external" if lift is None else lift.load_kind
    return load_beside(kind, said, zero=zero)


def done_lines(sets: Sequence[SetDone], lift: Lift | None) -> list[str]:
    """ "60 kg × 10, 9, 9" for sets of one load as typed, and "RIR 2, 1, 1"."""
    lines = []
    for typed, group in groupby(sets, lambda done: (done.entered_load, done.entered_unit)):
        these = list(group)
        said = f"{typed[0]} {typed[1]}"
        load = _narrow(lift, said, zero=these[0].load_kg == 0)
        lines.append(f"{load} × {', '.join('+'.join(map(str, done.reps)) for done in these)}")
    if any(done.rir is not None for done in sets):
        lines.append(f"RIR {', '.join(map(_rir, sets))}")
    worst = max((done.pain for done in sets if done.pain), default=None)
    if worst is not None:
        lines.append(f"pain {number_text(worst)}")
    return lines


def _rir(done: SetDone) -> str:
    if done.rir_low is None or done.rir_high is None:
        return "–"
    return range_text(number_text(done.rir_low), number_text(done.rir_high))


def pin_text(pin: Pin) -> str:
    """ "Monday and Thursday", "a day of the week"."""
    return " and ".join(DAY_NAMES[day] for day in pin.days) or "a day of the week"


def quality_text(block: Block) -> str:
    """How good the composed week is proven to be."""
    if block.solver.status == "optimal":
        return "The last build week is the best there is for these rules, as composed."
    percent = 100 * block.solver.gap
    return f"As composed, no week could be more than {percent:.1f} % better for these rules."


_WAITS = "if the letter then allows"
FACE = ("block_days", "block_leads", "block_note", "frame_lost")
"""Reasons that say what the block is, read before its weeks."""


def block_text(block: Block, before: Block | None = None) -> str:
    """Cautions, the first and the last build week, the deload, weekly sets, reasons; of a revision
    what changed since `before`, and the weeks in which it did."""
    builds = block.builds
    signed = any(caution.code == "sheet_sign" for caution in block.cautions)
    stands = "not before a professional has cleared it"
    stands = stands if signed or block.status == "refer" else "ready"
    lines = [
        f"{block.lifter.name}: {len(builds)} build weeks and a deload from {block.start}"
        f" (revision {block.revision}, {stands})",
        *(reason_says(reason) for reason in block.reasons if reason.code in FACE),
        "",
    ]
    lines += [f"! {caution_says(caution)}" for caution in block.cautions]
    shown = [w for w in block.weeks if w.kind == "deload" or w in (builds[0], builds[-1])]
    if before is not None:
        shown = [week for week in block.weeks if week not in before.weeks]
        found = differences(before, block, catalogue_for(block.lifter))
        lines += ["", "Changed:", *(f"- {reason_says(one)}" for one in found)]
    for week in shown:
        lines += ["", *_week(week, catalogue_for(block.lifter), block.lifter.units)]
    lines += ["", *_muscles(builds, block.weeks[-1]), "", "Why:"]
    why = (reason_says(one) for one in block.reasons if one.code not in FACE)
    lines += [f"- {says}" for says in dict.fromkeys(why)]
    return "\n".join(lines)


def _week(week: Week, catalogue: Catalogue, unit: Unit) -> list[str]:
    rir = f"{number_text(week.rir)} in reserve"
    lines = [f"Week {week.week}, {'build' if week.kind == 'build' else 'deload'}, {rir}"]
    for session in week.sessions:
        lines += _session(session, catalogue, unit)
    return lines


def _session(session: Session, catalogue: Catalogue, unit: Unit) -> list[str]:
    head = (
        f"  {session.day:%a} {session.day.day} {session.day:%b} {session.start_time}, "
        f"{number_text(session.minutes_planned, 0)} of {session.minutes_available} min"
    )
    if session.missed:
        return [f"{head}: missed"]
    lines = (_entry(entry, catalogue.find(entry.lift), unit) for entry in session.entries)
    return [head, *(f"    {line}" for line in lines)]


def _entry(entry: Entry, lift: Lift | None, unit: Unit) -> str:
    first = entry.sets[0]
    kind, kg = "external" if lift is None else lift.load_kind, first.load_kg
    load = "" if kg is None else f" at {load_as(kind, load_text(kg, unit), zero=kg == 0)}"
    method = {"rest-pause": ", last set rest-pause", "drop": ", last set a drop set"}
    pair = f" [{entry.pair}]" if entry.pair else ""
    last = entry.sets[-1].rir
    end = f", last set {number_text(last)} in reserve" if last != first.rir else ""
    reps = range_text(first.reps_low, first.reps_high)
    aim = aim_text(first.aim_low, first.aim_high)
    waits = f", {_WAITS}" if entry.waits else ""
    return (
        f"{entry.order}. {entry.lift}: {len(entry.sets)} × {reps}"
        f"{load}{aim}{end}{method.get(entry.method, '')}{waits}, rest {entry.rest_s} s{pair}"
    )


def _muscles(builds: Sequence[Week], deload: Week) -> list[str]:
    first, last = builds[0].muscle_sets, builds[-1].muscle_sets
    lines = ["Weekly sets (direct in brackets)   first      last    deload   floor  ceiling"]
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
    older = [i for i, r in enumerate(changes) if i and r.code in _TROUBLES]
    newest = changes[: older[0]] if older else changes
    lines = [f"{block.lifter.name}, revision {block.revision}"]
    lines += [f"- {reason_says(reason)}" for reason in newest]
    pain = [caution for caution in block.cautions if caution.code == "left_for_pain"]
    lines += [f"! {caution_says(caution)}" for caution in pain]
    lines += ["", f"Week {week.week}, from {day}"]
    for session in week.sessions:
        if session.day >= day:
            lines += _session(session, catalogue_for(block.lifter), block.lifter.units)
    return "\n".join(lines)


_TROUBLES = ("replan_minutes", "replan_missed", "replan_without", "replan_sore", "replan_hurts")
