"""Rest-pause and drop sets where the coach allows them: late in the block, on lifts that may be
taken to failure alone, the last of a lift's sets."""

import math
from collections.abc import Sequence
from dataclasses import replace

from blockwright.engine.planning.draft import DraftEntry, DraftSession, session_seconds
from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Allow, Lift, Lifter, Method
from blockwright.engine.volume import set_credit


def with_methods(
    sessions: Sequence[DraftSession], lifter: Lifter, policy: Policy, *, week: int, weeks: int
) -> tuple[DraftSession, ...]:
    """The sessions of build week `week` of `weeks` with the allowed methods put in.

    A lift's last two sets become one that counts as both, or as the policy's credit when that
    is less, so no rule about sets can break. Held muscles are left alone: their direct sets, one
    by one, may hardly move in a block.
    """
    allow = lifter.allow
    if not (allow.rest_pause or allow.drop_sets) or week == 1:
        return tuple(sessions)
    if week < math.ceil(policy.number("method.from_share") * weeks):
        return tuple(sessions)
    held = frozenset(muscle for muscle in MUSCLES if lifter.emphasis_of(muscle) == "hold")
    return tuple(_session(session, allow, held, policy) for session in sessions)


def _session(
    session: DraftSession, allow: Allow, held: frozenset[str], policy: Policy
) -> DraftSession:
    left = policy.whole("method.per_session")
    entries: list[DraftEntry] = []
    # from the end: what comes last in a session is what can be emptied
    for entry in reversed(session.entries):
        method = method_for(entry, allow)
        if left and method is not None and held.isdisjoint(entry.option.lift.direct):
            credit = min(set_credit(method, policy.whole("method.parts"), policy), 2.0)
            entry = replace(entry, method=method, sets=entry.sets - 1, last_counts_as=credit)
            left -= 1
        entries.append(entry)
    done = tuple(reversed(entries))
    return replace(session, entries=done, seconds=session_seconds(done, policy))


def method_for(entry: DraftEntry, allow: Allow) -> Method | None:
    """The method an entry's last set may be done by, or None."""
    lift = entry.option.lift
    if entry.pair is not None or entry.sets < 3 or not lift.safe_to_fail or lift.axial:
        return None
    if lift.compound and lift.stability != "machine":
        return None
    if allow.drop_sets and _drops_quickly(lift):
        return "drop"
    return "rest-pause" if allow.rest_pause else None


def _drops_quickly(lift: Lift) -> bool:
    """Whether the load can be lowered in a second: a pin or the next dumbbell."""
    return "dumbbells" in lift.kit or "cable" in lift.kit or lift.stability == "machine"
