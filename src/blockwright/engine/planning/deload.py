"""The deload week from the last build week, by arithmetic, in one of two styles.

`half`: the usual days, sets halved and rounded up, loads a little lower, repetitions down to what
leaves the reserve; then small lifts dropped from the end until the week has clearly fewer sets than
week one, whose loads it may well pass (small lifts left with one set go first, main lifts last).
`two-part` merges sessions and is told in its own file."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from blockwright.engine.gym import Gym
from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.sources import COMMON_PRACTICE
from blockwright.engine.strength import Landing, unlogged
from blockwright.engine.training import (
    Catalogue,
    DeloadStyle,
    Entry,
    Lift,
    Lifter,
    Session,
    SetPlan,
    Week,
    Zone,
    effective_load_kg,
)
from .deload_rules import DeloadRules, session_of, straight
from .deload_two_part import two_part_sessions
from .problem import Option
from .week_figures import counted, option_of


def deload_after(
    first: Week,
    last: Week,
    lifter: Lifter,
    catalogue: Catalogue,
    policy: Policy,
    options: Mapping[tuple[str, Zone], Option] | None = None,
) -> tuple[Week, tuple[str, ...]]:
    """The deload after the first and the last build week, and the lifts left out; `options` are the
    composer's own by lift and zone."""
    entries = [e for e in last.entries if e.sets]
    options = options or {(e.lift, e.zone): option_of(e, catalogue, policy) for e in entries}
    rules = DeloadRules(
        lifter=lifter, policy=policy, options=options, first=first.sessions, last=last.sessions
    )
    made = (two_part_sessions if lifter.deload_style == "two-part" else _half)(last.sessions, rules)
    rir, sessions = policy.number("deload.rir"), tuple(made)
    week = replace(last, week=last.week + 1, kind="deload", rir=rir, sessions=sessions, ease=None)
    left_out = {e.lift for e in entries} - {e.lift for s in made for e in s.entries}
    return counted(week, catalogue), tuple(sorted(left_out))


def deload_reason(
    last: Sequence[Session], deload: Sequence[Session], style: DeloadStyle, policy: Policy
) -> Reason:
    """What kind of deload it is; one in two parts says when it holds less than it should."""
    before, sets = (sum(len(e.sets) for s in week for e in s.entries) for week in (last, deload))
    facts: dict[str, FactValue] = {
        "sessions_before": len(last), "sessions": len(deload), "sets_before": before, "sets": sets,
    }  # fmt: skip
    code, keys = "deload_merged", ["deload.share"]
    if style == "half":
        code, keys = "deload_half", ["deload.share_first", "deload.share_last"]
    elif sets < policy.number("deload.share_last_least") * before:
        code, keys = "deload_merged_few", ["deload.share", "deload.share_last_least"]
    return Reason(code=code, facts=facts, policy=tuple(keys), source=COMMON_PRACTICE)


def eased_load_kg(lift: Lift, load_kg: float, gym: Gym, policy: Policy) -> float:
    """One step of the kit below `load_kg`, or the policy's share, whichever is nearer."""
    rack = rack_for(lift, gym, policy)
    step = rack.next_easier(load_kg)
    if step is None:
        return load_kg
    if rack.more_is_easier:
        return step.load_kg
    share = rack.not_harder_than(load_kg * (1 - policy.number("compose.load_down")))
    return max(step.load_kg, share.load_kg if share is not None else 0.0)


def eased_set(
    lift: Lift, last: SetPlan, gym: Gym, bodyweight_kg: float | None, policy: Policy
) -> SetPlan:
    """The deload's set after `last`, the last build week's: a little lighter, with as many of its
    repetitions as leave the reserve to somebody who just does what `last` asks."""
    low, high = last.reps_low, last.reps_high
    rir = policy.number("deload.rir")
    easy = SetPlan(load_kg=last.load_kg, reps_low=low, reps_high=high, rir=rir)
    done_kg = effective_load_kg(lift, last.load_kg or 0.0, bodyweight_kg) or 0.0
    if last.load_kg is None or done_kg <= 0:
        return easy
    landing = Landing(
        belief=unlogged(lift, date.min, policy).after(done_kg, (low + high) / 2, last.rir),
        lift=lift,
        rack=rack_for(lift, gym, policy),
        bodyweight_kg=bodyweight_kg,
        policy=policy,
        asked=easy,
    )
    return landing.leaving(eased_load_kg(lift, last.load_kg, gym, policy))


def half_sets(entry: Entry, rules: DeloadRules) -> Entry:
    """Half the sets, rounded up, each an easy one."""
    lift, count = rules.option_of(entry).lift, entry.counted
    lifter = rules.lifter
    easy = eased_set(lift, entry.sets[0], lifter.gym, lifter.bodyweight_kg, rules.policy)
    return straight(replace(entry, sets=(easy,) * math.ceil(count / 2)), rules)


def _half(last: Sequence[Session], rules: DeloadRules) -> list[Session]:
    usual = [session for session in last if session.entries]
    kept: list[list[Entry]] = []
    spare: list[tuple[int, Entry]] = []
    for at, session in enumerate(usual):
        chosen: list[Entry] = []
        for entry in sorted(session.entries, key=rules.order):
            half = half_sets(entry, rules)
            lonely = len(half.sets) < 2 and not rules.option_of(entry).is_main
            if not lonely and rules.fits([*chosen, half], session):
                chosen.append(half)
            elif lonely:
                spare.append((at, half))
        kept.append(chosen)
    _trim(kept, rules)
    for at, entry in spare:
        total = sum(len(e.sets) for entries in kept for e in entries)
        if (total < rules.least_sets or not kept[at]) and rules.fits([*kept[at], entry], usual[at]):
            kept[at].append(entry)
    sessions = [(home, entries) for home, entries in zip(usual, kept, strict=True) if entries]
    return [
        session_of(home, entries, number, rules)
        for number, (home, entries) in enumerate(sessions, start=1)
    ]


def _trim(kept: list[list[Entry]], rules: DeloadRules) -> None:
    """Small lifts out from the end of the fullest sessions, then main lifts, until the week has
    no more sets than it may; each session keeps a lift."""
    while sum(len(e.sets) for entries in kept for e in entries) > rules.most_sets:
        most = max(kept, key=lambda entries: (_droppable(entries, rules), _sets(entries)))
        if not _droppable(most, rules):
            return
        most.pop()


def _droppable(entries: Sequence[Entry], rules: DeloadRules) -> int:
    """2 where the last entry is a small lift, 1 where a main lift that is not alone, else 0."""
    if len(entries) < 2:
        return 0
    return 1 if rules.option_of(entries[-1]).is_main else 2


def _sets(entries: Sequence[Entry]) -> int:
    return sum(len(e.sets) for e in entries)
