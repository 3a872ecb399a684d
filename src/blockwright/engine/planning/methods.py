"""Rest-pause and drop sets where the coach allows them: late in the block, on lifts that may be
taken to failure alone, the last of a lift's sets."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from blockwright.engine.planning.draft import DraftEntry, DraftSession, lead_names, session_seconds
from blockwright.engine.planning.problem import Option
from blockwright.engine.policy import Policy
from blockwright.engine.screening import keeps_from_failure
from blockwright.engine.training import Allow, Lift, Lifter, Method
from blockwright.engine.volume import set_credit


def with_methods(
    weeks: Sequence[tuple[DraftSession, ...]],
    lifter: Lifter,
    policy: Policy,
    on_hold: Callable[[Option], bool],
) -> list[tuple[DraftSession, ...]]:
    """The sessions of all build weeks with the allowed methods put in: a few small, steady lifts,
    lead muscles' first, in the last third of the block; one that has begun keeps it.

    A lift's last two sets become one that counts as both, or as the policy's credit when that
    is less, so no rule about counted sets can break. Direct sets are also counted plainly, one by
    one: what is on hold (its sets may hardly move, or it loads what hurts) is left alone, and lead
    muscles keep half their sets direct.
    """
    allow = lifter.allow
    begun = max(1, int(policy.number("method.from_share") * len(weeks) + 1e-9))
    late = weeks[begun:]
    # both methods end near failure, again and again
    if not (allow.rest_pause or allow.drop_sets) or not late or keeps_from_failure(lifter, policy):
        return list(weeks)
    chosen = _chosen(late, lifter, policy, on_hold)
    put_in = [tuple(_session(one, chosen, allow, policy) for one in week) for week in late]
    return [*weeks[:begun], *put_in]


def _chosen(
    weeks: Sequence[Sequence[DraftSession]],
    lifter: Lifter,
    policy: Policy,
    on_hold: Callable[[Option], bool],
) -> frozenset[tuple[int, str]]:
    """(slot, lift) of what ends in a special set in these weeks: few lifts, one a session. Sets
    never fall: a lift that has enough of them keeps its special set to the last week."""
    spares = [_spare_direct(week, lifter, policy) for week in weeks]
    spare = {muscle: min(one[muscle] for one in spares) for muscle in spares[0]}
    ranked = sorted(
        (
            (not any(lifter.emphasis_of(m) == "lead" for m in entry.option.direct), -at, entry)
            for session in weeks[-1]
            for at, entry in enumerate(session.entries)
            if method_for(entry, lifter.allow) is not None and not on_hold(entry.option)
        ),
        key=lambda found: (found[0], found[1], found[2].slot),
    )
    chosen: dict[int, str] = {}
    for _, _, entry in ranked:
        guarded = [muscle for muscle in entry.option.direct if muscle in spare]
        if (
            len(chosen) < policy.whole("compose.special_most")
            and entry.slot not in chosen
            and entry.option.lift.name not in chosen.values()
            and all(spare[muscle] >= 1 for muscle in guarded)
        ):
            chosen[entry.slot] = entry.option.lift.name
            for muscle in guarded:
                spare[muscle] -= 1
    return frozenset(chosen.items())


def _spare_direct(
    sessions: Sequence[DraftSession], lifter: Lifter, policy: Policy
) -> dict[str, float]:
    """By lead muscle: direct sets that may be done as part of another."""
    spare: dict[str, float] = {}
    entries = [entry for session in sessions for entry in session.entries]
    for muscle in lead_names(lifter):
        direct = sum(e.sets for e in entries if muscle in e.option.lift.direct)
        counted = sum(e.sets * e.option.lift.muscles.get(muscle, 0.0) for e in entries)
        spare[muscle] = direct - policy.number("planning.lead_direct_share") * counted
    return spare


def _session(
    session: DraftSession, chosen: frozenset[tuple[int, str]], allow: Allow, policy: Policy
) -> DraftSession:
    entries = []
    for entry in session.entries:
        method = method_for(entry, allow)
        if method is not None and (entry.slot, entry.option.lift.name) in chosen:
            credit = min(set_credit(method, policy.whole("method.parts"), policy), 2.0)
            entry = replace(entry, method=method, sets=entry.sets - 1, last_counts_as=credit)
        entries.append(entry)
    return replace(session, entries=tuple(entries), seconds=session_seconds(entries, policy))


def method_for(entry: DraftEntry, allow: Allow) -> Method | None:
    """The method an entry's last set may be done by, or None."""
    lift = entry.option.lift
    if entry.pair is not None or entry.sets < 3 or not lift.safe_to_fail or lift.rir_least:
        return None
    if lift.axial or lift.compound or lift.stability == "free":
        return None
    if allow.drop_sets and _drops_quickly(lift):
        return "drop"
    return "rest-pause" if allow.rest_pause else None


def _drops_quickly(lift: Lift) -> bool:
    """Whether the load can be lowered in a second: a pin or the next dumbbell."""
    return "dumbbells" in lift.kit or "cable" in lift.kit or lift.stability == "machine"
