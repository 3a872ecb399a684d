"""Blocks as text, a line for each lift of a day: for goldens that a coach can read, and whose
differences say what moved. Plans of invented people; and of the one fixed block, which no change of
the composer touches, what comes up on a day and what a coach edits. `make goldens` writes them."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from typing import Any

from blockwright.engine.editing import (
    AddLift,
    Closed,
    Edit,
    EditContext,
    MoveLift,
    OrderLift,
    PinLift,
    Place,
    RemoveLift,
    SetCount,
    SetLoad,
    SetRange,
    SetReserve,
    SwapLift,
    UnpinLift,
    broken_rules,
    differences,
    edited,
    gone_back,
    rest_solved,
    swap_candidates,
)
from blockwright.engine.editing.rest import edited_places
from blockwright.engine.errors import BadInput
from blockwright.engine.planning import QUICK
from blockwright.engine.planning.deload import deload_after, deload_reason
from blockwright.engine.training import DAYS, Block, Entry, Week
from blockwright.files.catalogue import catalogue_for
from blockwright.files.policy_files import block_policy
from blockwright.files.words import caution_says, reason_says
from blockwright.verbs.block_words import block_text
from blockwright.verbs.replan_block import replan_block
from planned_people import FIXED, fixed_block, planned

PEOPLE = (
    "powerlifter", "nine_slots", "sore_shoulder", "likes_and_skips", "two_hotel_mornings",
    "special_sets",
)  # fmt: skip


def plans() -> str:
    return "\n\n\n".join(plan_lines(planned(name)) for name in PEOPLE) + "\n"


def plan_lines(block: Block) -> str:
    """The block's own text, its weeks side by side."""
    told = [part for part in block_text(block).split("\n\n") if not part.startswith("Week ")]
    return "\n\n".join([*told, *_sessions(block)])


def _sessions(block: Block) -> Iterator[str]:
    for number in sorted({s.session for week in block.weeks for s in week.sessions}):
        days = [s for week in block.weeks for s in week.sessions if s.session == number]
        minutes = " ".join(f"{s.minutes_planned:g}" for s in days)
        lines = [f"{DAYS[days[0].day.weekday()]} {days[0].start_time}: {minutes} min"]
        for lift in dict.fromkeys(e.lift for s in days for e in s.entries):
            weeks = [next((e for e in s.entries if e.lift == lift), None) for s in days]
            lines.append(f"{lift}: " + " | ".join("-" if e is None else _entry(e) for e in weeks))
        yield "\n".join(lines)


def _entry(entry: Entry) -> str:
    first, last = entry.sets[0], entry.sets[-1]
    load = "?" if first.load_kg is None else f"{first.load_kg:g}"
    more = "" if last.load_kg == first.load_kg else f"-{last.load_kg:g}"
    how = "" if entry.method == "straight" else f" {entry.method} {entry.pair or ''}".rstrip()
    return (
        f"{entry.order}. {len(entry.sets)}x{first.reps_low}-{first.reps_high}@{last.rir:g}"
        f" {load}{more} {entry.rest_s}{how}"
    )


# --------------------------------------------------------------------- what comes up on a day

TROUBLES: tuple[dict[str, Any], ...] = (
    {"session": 1, "minutes": 40}, {"session": 2, "minutes": 25}, {"session": 3, "minutes": 15},
    {"session": 1, "missed": True}, {"session": 3, "missed": True}, {"session": 4, "missed": True},
    {"session": 1, "sore": ["quads"]}, {"session": 2, "sore": ["chest", "triceps"]},
    {"session": 1, "without": 0}, {"session": 2, "without": 1}, {"session": 4, "without": 2},
    {"session": 1, "hurts": 0, "region": "knee"}, {"session": 3, "hurts": 1},
)  # fmt: skip
"""Of week 3; of a lift that cannot be done, which of the session's."""


def replans() -> str:
    """The fixed block after each: the weeks that changed, and what is said of it."""
    return "\n\n\n".join("\n".join(_replanned(**one)) for one in TROUBLES) + "\n"


def _replanned(session: int, **what: Any) -> Iterator[str]:
    today = fixed_block().weeks[2].sessions[session - 1]
    for key in {"without", "hurts"} & set(what):
        what[key] = [today.entries[what[key]].lift]
    yield f"== {today.day}: {what}"
    yield from _changed(fixed_block(), replan_block(FIXED, today.day, **what).value)


def deloads() -> str:
    """The fixed block's deload in both styles."""
    return "\n".join(line for style in ("half", "two-part") for line in _deload(style)) + "\n"


def _deload(style: str) -> Iterator[str]:
    block = fixed_block()
    block = replace(block, lifter=replace(block.lifter, deload_style=style))  # type: ignore[arg-type]
    known, policy = catalogue_for(block.lifter), block_policy(block)
    week = deload_after(block.weeks[0], block.weeks[-2], block.lifter, known, policy)[0]
    yield f"== {style}"
    yield from _week(week)
    yield reason_says(deload_reason(block.weeks[-2].sessions, week.sessions, style, policy))  # type: ignore[arg-type]


# ------------------------------------------------------------------------------ what a coach edits


def edits() -> str:
    """The fixed block after each edit of a coach, alone and from its week on: what is told of it,
    the rules it breaks, the weeks that changed."""
    told = [*map(_edited, _edits()), _solved_around(), _gone_back()]
    return "\n\n\n".join("\n".join(lines) for lines in told) + "\n"


def _edits() -> Iterator[Edit]:
    block = fixed_block()
    known, policy = catalogue_for(block.lifter), block_policy(block)
    for week, session, order in ((1, 1, 1), (3, 2, 2), (6, 4, 3)):
        entry = block.weeks[week - 1].sessions[session - 1].entries[order - 1]
        place = Place(week=week, session=session, lift=entry.lift)
        like, others = swap_candidates(block, place, known, policy)
        added = replace(place, lift=others[order].name)
        load = (entry.sets[0].load_kg or 20.0) + 5.0
        for only in (False, True) if week == 3 else (False,):
            yield SetCount(place=place, sets=len(entry.sets) + 1, only_this_week=only)
            yield SetCount(place=place, sets=1, only_this_week=only)
            yield MoveLift(place=place, to_session=session % 4 + 1, only_this_week=only)
            yield SwapLift(place=place, other=like[0].name, only_this_week=only)
            yield AddLift(place=added, only_this_week=only)
            yield RemoveLift(place=place, only_this_week=only)
            yield SetRange(place=place, low=5, high=9, only_this_week=only)
            yield SetReserve(place=place, rir=0.0, only_this_week=only)
            yield SetLoad(place=place, load_kg=load, only_this_week=only)
            yield OrderLift(place=place, earlier=order > 1, only_this_week=only)
            yield OrderLift(place=place, earlier=order == 1, only_this_week=only)
        yield PinLift(place=place)
        yield UnpinLift(place=place)


def _setting(weeks_in: int = 0) -> EditContext:
    block = fixed_block()
    return EditContext(
        catalogue=catalogue_for(block.lifter),
        policy=block_policy(block),
        closed=Closed(today=block.start + timedelta(weeks=weeks_in)),
    )


def _edited(edit: Edit) -> Iterator[str]:
    block, setting = fixed_block(), _setting()
    yield f"== {edit}"
    try:
        new = edited(block, edit, setting)
    except BadInput as refused:
        yield from (f"refused: {one.says}; {one.mend}" for one in refused.problems)
        return
    for broken in broken_rules(block, new, setting):
        yield f"{broken.force}: {reason_says(broken.reason)}"
    yield from _told(block, new)
    yield from _changed(block, new, most=2)


def _several(setting: EditContext) -> Block:
    """A coach's hand in the block: from the third week on and in single weeks."""
    block = fixed_block()

    def at(week: int, session: int, order: int) -> Place:
        lift = block.weeks[week - 1].sessions[session - 1].entries[order - 1].lift
        return Place(week=week, session=session, lift=lift)

    for edit in (
        SetCount(place=at(3, 1, 2), sets=2), SetLoad(place=at(4, 2, 1), load_kg=90.0),
        SetRange(place=at(5, 3, 1), low=6, high=10, only_this_week=True),
        RemoveLift(place=at(3, 4, 5)), OrderLift(place=at(3, 2, 2), earlier=True),
        MoveLift(place=at(4, 3, 5), to_session=1, only_this_week=True),
        PinLift(place=at(3, 3, 1)),
    ):  # fmt: skip
        block = edited(block, edit, setting)
    return block


def _solved_around() -> Iterator[str]:
    setting = _setting(2)
    block = _several(setting)
    yield "== the rest solved around several edits, from the third week on"
    yield f"kept: {edited_places(block, 3)}"
    solved = rest_solved(block, setting, budget=QUICK)
    yield from _told(block, solved)
    yield from _changed(block, solved, most=2)


def _gone_back() -> Iterator[str]:
    setting = _setting(2)
    block = _several(setting)
    yield "== back to the first revision, from the third week on"
    yield from _changed(block, gone_back(block, fixed_block(), setting), most=2)


# --------------------------------------------------------------------------------- in few lines


def _told(block: Block, new: Block) -> Iterator[str]:
    for one in differences(block, new, catalogue_for(block.lifter)):
        yield f"* {reason_says(one)}"


def _changed(before: Block, after: Block, *, most: int = 9) -> Iterator[str]:
    """The sessions that changed, in the first and last week alone where more than `most` did; and
    what the block says now and did not before."""
    moved = [pair for pair in zip(before.weeks, after.weeks, strict=True) if pair[0] != pair[1]]
    for was, now in moved if len(moved) <= most else (moved[0], moved[-1]):
        yield from _week(now, was)
    yield from (f"- {reason_says(one)}" for one in after.reasons if one not in before.reasons)
    yield from (f"! {caution_says(one)}" for one in after.cautions if one not in before.cautions)
    if before.lifter.pins != after.lifter.pins:
        yield f"pins: {after.lifter.pins}"


def _week(week: Week, was: Week | None = None) -> Iterator[str]:
    known = {} if was is None else {s.session: s for s in was.sessions}
    sets = {m: f"{sums.direct:g}/{sums.fractional:g}" for m, sums in week.muscle_sets.items()}
    before = {} if was is None else was.muscle_sets
    moved = [f"{m} {said}" for m, said in sets.items() if before.get(m) != week.muscle_sets[m]]
    yield f"week {week.week}: {', '.join(moved)}"
    for session in week.sessions:
        old = known.get(session.session)
        if session == old:
            continue
        missed = " missed" * session.missed
        yield f"  {session.day} {session.minutes_planned:g} min, {len(session.entries)}{missed}"
        yield from (
            f"    {e.lift}: {_entry(e)}" for e in session.entries if not old or e not in old.entries
        )
