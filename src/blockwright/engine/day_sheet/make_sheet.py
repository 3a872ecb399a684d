"""From a block and one of its sessions to the sheet: loads, warm-ups, advice, cautions."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from types import MappingProxyType

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.loads import LoadPaths, kept_load_kg, paths_for, start_from_kin
from blockwright.engine.planning.replan_week import pinned_on
from blockwright.engine.policy import Policy
from blockwright.engine.rack import (
    FindingLadder,
    FindingWay,
    Rack,
    Setting,
    WarmupSet,
    partner_moves,
    rack_for,
    warmup_ladder,
)
from blockwright.engine.reasons import Caution, FactValue, Reason
from blockwright.engine.screening import as_on
from blockwright.engine.signs import Warning
from blockwright.engine.strength import Beliefs, Landing, LiftBelief, moved, unlogged
from blockwright.engine.strength.landing import POLICY as LANDING_POLICY
from blockwright.engine.tolerated_load import NOTHING, ToleratedLoad, tolerated_load
from blockwright.engine.training import (
    Block,
    Catalogue,
    Entry,
    Lift,
    Session,
    SetDone,
    effective_load_kg,
)
from blockwright.engine.units import load_text
from .cautions import finding_cautions, hurt_cautions, lift_cautions, quiet_cue, sheet_cautions
from .find_session import PlannedSession
from .next_set import NextSet, rest_between_sets_s
from .notes import sheet_notes
from .open_loads import OpenLoads, no_harder
from .sheet import AdviceRow, DaySheet, SharedBar, SheetEntry, SheetSet


@dataclass(frozen=True, slots=True)
class Partner:
    """Who shares the bar, and what they do in the same session."""

    name: str
    session: Session


def day_sheet(
    block: Block,
    chosen: PlannedSession,
    catalogue: Catalogue,
    policy: Policy,
    beliefs: Beliefs | None = None,
    *,
    partner: Partner | None = None,
    with_advice: bool = True,
    signs: Sequence[Warning] = (),
    most: Mapping[str, ToleratedLoad] = MappingProxyType({}),
    cleared: Mapping[str, date] = NOTHING,
    steady: Collection[str] = (),
) -> DaySheet:
    """The sheet of one session.

    The block's loads stand as the coach accepted them. `beliefs` (facts up to the session) fill
    loads the block leaves open and speak in the advice; without them the advice goes by the planned
    load and the usual curve. `signs` are warning signs that nobody has cleared, `most` what safety
    lets be lifted at most, by lift; `cleared` says when a lift or place was. `steady` lifts keep
    their load, as the letter says. `catalogue` holds the lifter's own lifts too. Raises BadInput
    when the block names a lift that nobody knows."""
    block = as_on(block, chosen.session.day, policy)
    maker = _Maker(block, chosen, catalogue, policy, beliefs, partner, with_advice, most, cleared,
                   steady)  # fmt: skip
    entries = tuple(maker.entries())
    return DaySheet(
        block=block,
        week=chosen.week,
        session=chosen.session,
        entries=entries,
        cautions=sheet_cautions(block, policy, signs),
        notes=(
            *maker.said,
            *sheet_notes(block, chosen, entries, maker.logged, maker.held, policy),
        ),
    )


@dataclass(frozen=True)
class _Maker:
    block: Block
    chosen: PlannedSession
    catalogue: Catalogue
    policy: Policy
    beliefs: Beliefs | None
    partner: Partner | None
    with_advice: bool
    most: Mapping[str, ToleratedLoad]
    cleared: Mapping[str, date]
    steady: Collection[str]
    said: list[Reason] = field(default_factory=list)

    def entries(self) -> Iterator[SheetEntry]:
        worked: dict[str, float] = {}
        for entry in sorted(self.chosen.session.entries, key=lambda entry: entry.order):
            lift = self._lift(entry)
            yield self._entry(entry, lift, worked)
            for muscle, part in lift.muscles.items():
                worked[muscle] = max(part, worked.get(muscle, 0.0))

    def _lift(self, entry: Entry) -> Lift:
        lift = self.catalogue.find(entry.lift)
        if lift is None:
            raise BadInput(
                Problem(
                    key=f"weeks.{self.chosen.week.week}.sessions.{self.chosen.session.session}",
                    says=f'the block names a lift nobody knows: "{entry.lift}"',
                    mend="add it to the lifter file as [[lift]] and plan again",
                )
            )
        return lift

    def _entry(self, entry: Entry, lift: Lift, worked: Mapping[str, float]) -> SheetEntry:
        rack = rack_for(lift, self.block.lifter.gym, self.policy)
        belief = self._belief(lift)
        filled = self._open.filled(entry, lift, steady=lift.name in self.steady)
        hurt = self._hurt(lift)
        if hurt is not None:
            filled = no_harder(filled, lift, kept_load_kg(rack, hurt))
        again, on = None, self.chosen.session.day
        if belief is not None and filled.sets and filled.sets[0].load_kg is not None:
            landing = self._paths.landing(lift, rack, belief, filled.sets[0], on)
            known_kg = filled.sets[0].load_kg
            eased = None if hurt is not None else self._eased(lift, landing, known_kg)
            by_hand = self._is_by_hand(entry)
            if eased is not None and by_hand:
                self.said.append(self._says_by_hand(lift, known_kg, eased.load_kg))
            elif eased is not None:
                filled = no_harder(filled, lift, eased.load_kg)
                known_kg = eased.load_kg
            may_find = self._is_build and hurt is None and not by_hand
            if may_find and landing.is_lost(self.logged, known_kg):
                start = rack.not_harder_than(known_kg)
                again = self._way(rack, lift, filled).ladder(start, most_kg=0.0)
                filled = no_harder(filled, lift, None)
            else:
                filled = self._aimed(filled, landing, may_move=hurt is None)
        loads = [planned.load_kg for planned in filled.sets if planned.load_kg is not None]
        steady = hurt is None and loads and lift.name in self.steady
        finding: FindingLadder | None = None
        near_pain: tuple[Caution, ...] = ()
        warmup: tuple[WarmupSet, ...] = ()
        if loads:
            warmup = warmup_ladder(
                rack,
                loads[0],
                lift,
                self.policy,
                warm=self._is_warm(lift, worked),
                bodyweight_kg=self.bodyweight_kg,
            )
        elif filled.sets and (hurt is None or not hurt.about):
            way = self._way(rack, lift, filled)
            finding, near_pain = (again, ()) if again else self._ladder(way)
        return SheetEntry(
            entry=filled,
            lift=lift if hurt is None else replace(lift, standard=quiet_cue(lift)),
            sets=tuple(
                SheetSet(
                    planned=planned,
                    setting=None
                    if planned.load_kg is None
                    else rack.not_harder_than(planned.load_kg),
                )
                for planned in filled.sets
            ),
            warmup=warmup,
            finding=finding,
            cautions=(
                *hurt_cautions(
                    lift, hurt, filled, self.block.lifter.units, pinned=lift.name in self._pinned
                ),
                *near_pain,
                *lift_cautions(filled, lift, self.policy),
                *([Caution(code="sheet_load_held")] if steady else ()),
            ),
            advice=self._advice(filled, lift, rack, belief),
            shared_bar=self._shared_bar(filled, rack),
        )

    def _hurt(self, lift: Lift) -> ToleratedLoad | None:
        held = self.most.get(lift.name)
        own = tolerated_load(lift, self.logged, self.policy, self.cleared)
        return held if own is None else own.and_also(held, lift)

    def _is_warm(self, lift: Lift, worked: Mapping[str, float]) -> bool:
        """Whether the session has worked the lift's muscles: for a small lift at all, for another
        by the policy's share."""
        share = self.policy.number("sheet.warm_share") if lift.compound else 0.0
        return all(muscle in worked and worked[muscle] >= share for muscle in lift.direct)

    # -------------------------------------------------------------------------------- loads

    @property
    def _is_build(self) -> bool:
        return self.chosen.week.kind == "build"

    @property
    def _is_easy(self) -> bool:
        """A deload of half the sets; one in two parts halves repetitions or loads by itself."""
        return not self._is_build and self.block.lifter.deload_style == "half"

    @property
    def logged(self) -> Sequence[SetDone]:
        return () if self.beliefs is None else self.beliefs.sets

    @property
    def held(self) -> frozenset[str]:
        """Today's lifts that hurt."""
        lifts = map(self._lift, self.chosen.session.entries)
        return frozenset(lift.name for lift in lifts if self._hurt(lift) is not None)

    def _belief(self, lift: Lift) -> LiftBelief | None:
        """From sets of the lift itself; a guess from its relatives moves no load."""
        if self.beliefs is None:
            return None
        return self.beliefs.own(lift.name, self.block.lifter.name)

    def _ladder(self, way: FindingWay) -> tuple[FindingLadder, tuple[Caution, ...]]:
        """From what kin make likely; where one of them hurts in small steps, so that the load that
        hurt is not jumped to, and with that said beside it."""
        start, kin, share, most_kg = start_from_kin(self.beliefs, way, self.chosen.session.day)
        hurt = [held for lift in self.catalogue.known(kin) if (held := self._hurt(lift))]
        way = replace(way, gently=bool(hurt))
        return way.ladder(start, kin, share, most_kg), finding_cautions(hurt)

    def _way(self, rack: Rack, lift: Lift, entry: Entry) -> FindingWay:
        return FindingWay(rack, lift, entry.sets[0], self.policy, self.bodyweight_kg)

    @cached_property
    def _paths(self) -> LoadPaths:
        lifter = self.block.lifter
        return paths_for(lifter, self.policy, self.catalogue, self.beliefs, self.logged)

    def _eased(self, lift: Lift, landing: Landing, load_kg: float) -> Setting | None:
        """The load instead of one that this week's sets, newer than it, show far too heavy."""
        week, day = self.chosen.week, self.chosen.session.day
        monday = min(session.day for session in week.sessions)
        fresh = any(
            one.lift == lift.name and monday <= one.moment.day < day and one.method != "warmup"
            for one in self.logged
        )
        return landing.eased(load_kg) if self._is_build and fresh else None

    def _is_by_hand(self, entry: Entry) -> bool:
        """Whether the coach set this load for this session at the desk: that stands."""
        here = self.chosen.week.week, self.chosen.session.session, entry.lift
        own = [
            one.change["load_kg"]
            for one in self.block.decisions
            if one.kind == "coach_load"
            and tuple(one.change.get(key) for key in ("week", "session", "lift")) == here
        ]
        return own[-1:] == [entry.sets[0].load_kg]

    def _says_by_hand(self, lift: Lift, load_kg: float, other_kg: float) -> Reason:
        unit = self.block.lifter.units
        told: dict[str, FactValue] = {"lift": lift.name, "load": load_text(load_kg, unit)}
        told |= {"other": load_text(other_kg, unit), "other_kg": other_kg}
        return Reason(code="sheet_load_by_hand", facts=told, policy=LANDING_POLICY)

    def _aimed(self, entry: Entry, landing: Landing, *, may_move: bool) -> Entry:
        """The entry by what is known today. In a build week, where the kit's step is wider than
        the range, with the range that will occur; with the first set's own aim, where fatigue
        will spread the sets. In a deload with what leaves its reserve."""
        aim = None
        load_kg = entry.sets[0].load_kg
        if load_kg is not None and may_move and self._is_easy:
            if not self._is_by_hand(entry):
                load_kg = self._open.below_lifted(landing.lift, load_kg, entry.sets[0].reps_low)
            easy = landing.leaving(load_kg)
            return replace(entry, sets=(easy,) * len(entry.sets))
        if self._is_build and load_kg is not None:
            rest_s = rest_between_sets_s(entry, self.chosen.session, self.catalogue)
            by = landing.occurring(load_kg, len(entry.sets), rest_s) if may_move else None
            if by is not None:
                entry = replace(entry, sets=tuple(moved(one, by) for one in entry.sets))
                landing = replace(landing, asked=entry.sets[0])
            if may_move:
                later = landing.later_low(load_kg, len(entry.sets), rest_s)
                first, *rest = entry.sets
                sets = (first, *(replace(one, reps_low=min(one.reps_low, later)) for one in rest))
                entry = replace(entry, sets=sets)
            even = entry.sets[0].aim_low is not None
            aim = landing.aim(load_kg, len(entry.sets), rest_s, even=even)
        low, high = aim or (None, None)
        first = replace(entry.sets[0], aim_low=low, aim_high=high)
        return replace(entry, sets=(first, *entry.sets[1:]))

    @cached_property
    def _pinned(self) -> frozenset[str]:
        return pinned_on(self.block.lifter, self.chosen.session, self.catalogue)

    @cached_property
    def _open(self) -> OpenLoads:
        return OpenLoads(self.chosen, self.block.lifter, self.policy, self.beliefs)

    @cached_property
    def bodyweight_kg(self) -> float | None:
        return self.block.lifter.bodyweight_kg

    # ------------------------------------------------------------------------------- advice

    def _advice(
        self, entry: Entry, lift: Lift, rack: Rack, belief: LiftBelief | None
    ) -> tuple[AdviceRow, ...]:
        """Of the second set, after the first; none in a deload, where nothing is chased."""
        if not self.with_advice or self.chosen.week.kind == "deload" or len(entry.sets) < 2:
            return ()
        first, second = entry.sets[:2]
        if first.load_kg is None or second.load_kg is None:
            return ()
        for load_kg in (first.load_kg, second.load_kg):
            effective = effective_load_kg(lift, load_kg, self.bodyweight_kg)
            if effective is None or effective <= 0:
                return ()
        day = self.chosen.session.day
        return NextSet(
            belief=belief or unlogged(lift, day, self.policy),
            lift=lift,
            rack=rack,
            done=first,
            planned=second,
            rest_s=rest_between_sets_s(entry, self.chosen.session, self.catalogue),
            on=day,
            bodyweight_kg=self.bodyweight_kg,
            policy=self.policy,
            unit=self.block.lifter.units,
            may_raise=lift.name not in self.steady and self._hurt(lift) is None,
        ).table()

    # ------------------------------------------------------------------------------ partner

    def _shared_bar(self, entry: Entry, rack: Rack) -> SharedBar | None:
        if self.partner is None or not entry.sets or entry.sets[0].load_kg is None:
            return None
        for other in self.partner.session.entries:
            if other.lift != entry.lift or not other.sets or other.sets[0].load_kg is None:
                continue
            made = rack.not_harder_than(entry.sets[0].load_kg)
            theirs = rack.not_harder_than(other.sets[0].load_kg)
            if made is None or theirs is None:
                return None
            moves = partner_moves(rack, made.load_kg, theirs.load_kg)
            return None if moves is None else SharedBar(partner=self.partner.name, moves=moves)
        return None
