"""Lifts a coach may mean by part of a name: the next three, ranked, and what each costs."""

from dataclasses import dataclass, replace

from blockwright.engine.editing import (
    AddLift,
    Edit,
    Place,
    SwapLift,
    broken_rules,
    edited,
    session_at,
    swap_candidates,
)
from blockwright.engine.errors import BadInput
from blockwright.engine.planning.candidates import usable_lifts
from blockwright.engine.training import Block, Lift, Session, Week
from blockwright.engine.units import load_text, number_text
from blockwright.files.words import reason_says
from blockwright.verbs.block_setting import StoredBlock

MOST = 3
_FELT = 0.25
"""Sets of a muscle in the week from which on a difference is said."""
_NAMED = 3
"""Muscles named of a choice, those that change most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftChoice:
    """A lift, and what taking it changes in its week."""

    lift: str
    costs: str
    """ "4 minutes longer; quads +2 sets; 60 kg"."""
    clashes: tuple[str, ...]


def lift_choices(stored: StoredBlock, place: Place, typed: str) -> tuple[LiftChoice, ...]:
    """The three likeliest of the lifts whose names hold what was typed. `place.lift` is the lift
    to stand in for, or "" for one more in the session. BadInput where the place is not there."""
    setting = stored.setting(with_loads=True)
    choices = []
    for lift in _named(_candidates(stored, place), typed):
        edit: Edit = (
            SwapLift(place=place, other=lift.name)
            if place.lift
            else AddLift(place=replace(place, lift=lift.name))
        )
        try:
            after = edited(stored.block, edit, setting)
        except BadInput:
            continue
        broken = broken_rules(stored.block, after, setting)
        choices.append(
            LiftChoice(
                lift=lift.name,
                costs=_costs(stored.block, after, place, lift),
                clashes=tuple(dict.fromkeys(reason_says(one.reason) for one in broken)),
            )
        )
        if len(choices) == MOST:
            break
    return tuple(choices)


def _candidates(stored: StoredBlock, place: Place) -> tuple[Lift, ...]:
    """Every lift the kit allows that is not there yet; likest first where one is replaced."""
    block, catalogue = stored.block, stored.catalogue
    likest: tuple[Lift, ...] = ()
    if place.lift:
        same, others = swap_candidates(block, place, catalogue, stored.policy)
        likest = (*same, *others)
    _, session = session_at(block, place.week, place.session)
    taken = {entry.lift for entry in session.entries} | {lift.name for lift in likest}
    rest = (one for one in usable_lifts(block.lifter, catalogue) if one.name not in taken)
    return (*likest, *rest)


def _named(lifts: tuple[Lift, ...], typed: str) -> list[Lift]:
    """Lifts with every word typed in a name of theirs: whole names first, then where words begin
    so. The order given decides among equals."""
    words = typed.lower().split()
    ranked = []
    for lift in lifts:
        ranks = [_rank(name.lower(), words) for name in (lift.name, *lift.aliases)]
        best = min((rank for rank in ranks if rank is not None), default=None)
        if best is not None:
            ranked.append((best, lift))
    return [lift for _, lift in sorted(ranked, key=lambda pair: pair[0])]


def _rank(name: str, words: list[str]) -> int | None:
    if not all(word in name for word in words):
        return None
    if name == " ".join(words):
        return 0
    parts = name.replace("-", " ").split()
    return 1 if all(any(part.startswith(word) for part in parts) for word in words) else 2


def _costs(before: Block, after: Block, place: Place, lift: Lift) -> str:
    old, was = session_at(before, place.week, place.session)
    new, now = session_at(after, place.week, place.session)
    said = [_minutes(was, now), *_muscles(old, new)]
    entry = next(e for e in now.entries if e.lift == lift.name)
    load = entry.sets[0].load_kg
    said.append("load to be found" if load is None else load_text(load, after.lifter.units))
    return "; ".join(part for part in said if part)


def _minutes(was: Session, now: Session) -> str:
    change = round(now.minutes_planned) - round(was.minutes_planned)
    if not change:
        return "as long"
    unit = "minute" if abs(change) == 1 else "minutes"
    return f"{abs(change)} {unit} {'longer' if change > 0 else 'shorter'}"


def _muscles(old: Week, new: Week) -> list[str]:
    changes = {
        muscle: sets.fractional - old.muscle_sets[muscle].fractional
        for muscle, sets in new.muscle_sets.items()
    }
    felt = sorted(
        (muscle for muscle, change in changes.items() if abs(change) >= _FELT),
        key=lambda muscle: -abs(changes[muscle]),
    )
    return [
        f"{muscle.replace('_', ' ')} {'+' if changes[muscle] > 0 else '−'}"
        f"{number_text(abs(changes[muscle]))}"
        for muscle in felt[:_NAMED]
    ]
