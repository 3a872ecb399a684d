"""Rest-pause and drop sets where the coach allows them: late in the block, on lifts that may be
taken to failure alone, the last of a lift's sets."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from blockwright.engine.policy import Policy
from blockwright.engine.screening import keeps_from_failure
from blockwright.engine.training import Catalogue, Entry, Lift, Lifter, Method, Session
from blockwright.engine.volume import set_credit
from .week_figures import session_minutes


@dataclass(frozen=True, slots=True)
class SpecialSets:
    """Puts the allowed methods in."""

    lifter: Lifter
    catalogue: Catalogue
    policy: Policy
    on_hold: Callable[[Entry], bool]

    def put_in(self, weeks: Sequence[tuple[Session, ...]]) -> list[tuple[Session, ...]]:
        """The sessions of all build weeks with the allowed methods put in: a few small, steady
        lifts, lead muscles' first, in the last third of the block; one that has begun keeps it.

        A lift's last two sets become one that counts as both, or as the policy's credit when that
        is less, so no rule about counted sets can break. Direct sets are also counted plainly, one
        by one: what is on hold (its sets may hardly move, or it loads what hurts) is left alone,
        and lead muscles keep half their sets direct."""
        begun = max(1, int(self.policy.number("method.from_share") * len(weeks) + 1e-9))
        allow, late = self.lifter.allow, weeks[begun:]
        # both methods end near failure, again and again
        gentle = keeps_from_failure(self.lifter, self.policy)
        if not (allow.rest_pause or allow.drop_sets) or not late or gentle:
            return list(weeks)
        chosen = self._chosen(late)
        put_in = [tuple(self._session(one, chosen) for one in week) for week in late]
        return [*weeks[:begun], *put_in]

    def _chosen(self, weeks: Sequence[Sequence[Session]]) -> frozenset[tuple[int, str]]:
        """(session, lift) of what ends in a special set in these weeks: few lifts, one a session.
        Sets never fall: a lift that has enough of them keeps its special set to the last week."""
        spares = [self._spare_direct(week) for week in weeks]
        spare = {muscle: min(one[muscle] for one in spares) for muscle in spares[0]}
        ranked = sorted(
            (spare.keys().isdisjoint(self._lift(entry).direct), -at, session.session, entry.lift)
            for session in weeks[-1]
            for at, entry in enumerate(session.entries)
            if self._method(entry) is not None and not self.on_hold(entry)
        )
        chosen: dict[int, str] = {}
        for _, _, session, lift in ranked:
            guarded = [m for m in self.catalogue.lifts[lift].direct if m in spare]
            if (
                len(chosen) < self.policy.whole("compose.special_most")
                and session not in chosen
                and lift not in chosen.values()
                and all(spare[muscle] >= 1 for muscle in guarded)
            ):
                chosen[session] = lift
                for muscle in guarded:
                    spare[muscle] -= 1
        return frozenset(chosen.items())

    def _spare_direct(self, sessions: Sequence[Session]) -> dict[str, float]:
        """By lead muscle: direct sets that may be done as part of another."""
        spare: dict[str, float] = {}
        done = [(len(e.sets), self._lift(e).muscles) for s in sessions for e in s.entries]
        for muscle in self.lifter.leads:
            direct = sum(sets for sets, muscles in done if muscles.get(muscle, 0.0) >= 1.0)
            counted = sum(sets * muscles.get(muscle, 0.0) for sets, muscles in done)
            spare[muscle] = direct - self.policy.number("planning.lead_direct_share") * counted
        return spare

    def _session(self, session: Session, chosen: frozenset[tuple[int, str]]) -> Session:
        entries = []
        for entry in session.entries:
            method = self._method(entry)
            if method is not None and (session.session, entry.lift) in chosen:
                credit = set_credit(method, self.policy.whole("method.parts"), self.policy)
                last = replace(entry.sets[-1], counts_as=min(credit, 2.0))
                entry = replace(entry, method=method, sets=(*entry.sets[:-2], last))
            entries.append(entry)
        made = replace(session, entries=tuple(entries))
        minutes = session_minutes(made, self.catalogue, self.policy)
        return replace(made, minutes_planned=minutes)

    def _method(self, entry: Entry) -> Method | None:
        """The method an entry's last set may be done by, or None."""
        lift, allow = self._lift(entry), self.lifter.allow
        if entry.pair is not None or len(entry.sets) < 3 or not lift.safe_to_fail:
            return None
        if lift.rir_least or lift.axial or lift.compound or lift.stability == "free":
            return None
        if allow.drop_sets and _drops_quickly(lift):
            return "drop"
        return "rest-pause" if allow.rest_pause else None

    def _lift(self, entry: Entry) -> Lift:
        return self.catalogue.lifts[entry.lift]


def _drops_quickly(lift: Lift) -> bool:
    """Whether the load can be lowered in a second: a pin or the next dumbbell."""
    return "dumbbells" in lift.kit or "cable" in lift.kit or lift.stability == "machine"
