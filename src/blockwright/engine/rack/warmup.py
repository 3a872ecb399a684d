"""The warm-up ladder: a few rising loads below the working one, with few plate changes.

Common practice without source in its shares; repetitions near the handbook's test warm-up. Every
number is policy (`warmup.*`)."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift, effective_load_kg, written_load_kg
from .loads import Rack
from .makers import Setting
from .masses import SAME_LOAD_KG
from .plates import moves_between

_RUNGS = (1, 2, 3)
_MOST_CANDIDATES = 12


@dataclass(frozen=True, slots=True)
class WarmupSet:
    """One warm-up set: kg as written on the sheet, repetitions, and how it is set."""

    load_kg: float
    reps: int
    setting: Setting

    @property
    def plates_per_side(self) -> Mapping[str, int] | None:
        return self.setting.plates_per_side


@dataclass(frozen=True, slots=True)
class _Rung:
    share: float
    reps: int


def warmup_ladder(
    rack: Rack,
    work_load_kg: float,
    lift: Lift | None,
    policy: Policy,
    *,
    warm: bool = False,
    bodyweight_kg: float | None = None,
) -> tuple[WarmupSet, ...]:
    """Warm-up sets before `work_load_kg` (as written), the easiest first; may be empty.

    Each is a load `rack` makes, harder than the one before and easier than the working load.
    `warm`: the session has already worked the same muscles: the easy rungs are left out, and a
    small lift has none; a small lift of cold muscles has one. A light load, and one near the least
    of dumbbells or a stack, has fewer rungs. A small load on a cold body follows the body alone.
    `lift` None stands for a lift over several joints on a bar. `bodyweight_kg` lets the shares of
    bodyweight and assisted lifts be taken of what is really moved; without it they get one easier
    setting only."""
    if warm and lift is not None and not lift.compound:
        return ()
    small = lift is not None and not lift.compound
    start = policy.number("warmup.single_joint_from") if small else 0.0
    start = policy.number("warmup.warm_from") if warm else start
    rungs = [
        _Rung(share, policy.whole(f"warmup.reps.{rung}"))
        for rung in _RUNGS
        if (share := policy.number(f"warmup.share.{rung}")) >= start
    ]
    if bodyweight_kg is None and lift is not None and lift.moves_body:
        return _one_easier(rack, work_load_kg, policy)
    climb = _Climb(rack, lift, bodyweight_kg, work_load_kg, policy)
    if climb.work <= 0:
        return ()
    ladder = climb.rising(rungs[:1] if small else rungs)
    ladder = climb.from_empty(ladder) if start == 0 else ladder
    if not ladder and not warm:
        return climb.body_alone(work_load_kg)
    return tuple(ladder[max(len(ladder) - climb.most_rungs(len(ladder)), 0) :])


def _one_easier(rack: Rack, work_load_kg: float, policy: Policy) -> tuple[WarmupSet, ...]:
    """Without a bodyweight: bodyweight alone, or one step more of assistance."""
    easier = rack.next_easier(work_load_kg)
    if easier is None:
        return ()
    setting = easier if rack.more_is_easier else rack.least
    return (WarmupSet(setting.load_kg, policy.whole("warmup.reps.3"), setting),)


class _Climb:
    """One ladder in the making: shares are taken of the effective load, plates counted."""

    def __init__(
        self,
        rack: Rack,
        lift: Lift | None,
        bodyweight_kg: float | None,
        work_load_kg: float,
        policy: Policy,
    ) -> None:
        self.rack = rack
        self.lift = lift
        self.bodyweight_kg = bodyweight_kg
        self.work = self.effective(work_load_kg)
        self.work_setting = rack.exactly(work_load_kg)
        self.least_gap = policy.number("warmup.least_gap") * self.work
        self.band = policy.number("warmup.band") * self.work
        self.move_worth = policy.number("warmup.plate_move_worth") * self.work
        self.policy = policy
        self.empty = self._empty()

    def effective(self, written_kg: float) -> float:
        """What the shares are taken of; the written load where bodyweight is unknown."""
        if self.lift is None:
            return written_kg
        found = effective_load_kg(self.lift, written_kg, self.bodyweight_kg)
        return written_kg if found is None else found

    def written(self, effective_kg: float) -> float:
        if self.lift is None:
            return effective_kg
        found = written_load_kg(self.lift, effective_kg, self.bodyweight_kg)
        return effective_kg if found is None else found

    def rising(self, rungs: Sequence[_Rung]) -> list[WarmupSet]:
        """The cheapest rising ladder: cost is the distance below each share plus plate changes."""
        paths: list[tuple[float, list[WarmupSet]]] = [(0.0, [])]
        for rung in rungs:
            target = rung.share * self.work
            longer = []
            for candidate in self._near(target, rung.reps):
                strain = target - self.effective(candidate.load_kg)
                ways = [
                    (cost + strain + self._moves_cost(path, candidate.setting), [*path, candidate])
                    for cost, path in paths
                    if self._far_enough(path, candidate)
                ]
                if ways:
                    longer.append(min(ways, key=lambda way: way[0]))
            paths = longer or paths
        ends = [(cost + self._moves_cost(path, self.work_setting), path) for cost, path in paths]
        return min(ends, key=lambda way: way[0])[1]

    def from_empty(self, ladder: list[WarmupSet]) -> list[WarmupSet]:
        """The bar alone, or bodyweight alone, first, in place of a first rung close to it; none
        before as many rungs as a ladder has."""
        empty = self.empty
        if empty is None or not 0 < self.effective(empty.load_kg) <= self.work - self.least_gap:
            return ladder
        start = WarmupSet(empty.load_kg, self._reps_empty(empty), empty)
        clear = self.effective(empty.load_kg) + self.least_gap - SAME_LOAD_KG
        near = bool(ladder) and self.effective(ladder[0].load_kg) < clear
        if near:
            return [start, *ladder[1:]]
        return ladder if len(ladder) == len(_RUNGS) else [start, *ladder]

    def most_rungs(self, count: int) -> int:
        """How many of `count` rungs are worth doing: each stands for `warmup.kg_a_rung` of the
        work, on dumbbells and stacks also for `warmup.settings_a_rung` loads below it."""
        work, each = self.work_setting, self.policy.whole("warmup.settings_a_rung")
        beside = self.lift is not None and self.lift.moves_body
        if beside:
            return count
        count = min(count, int(self.work / self.policy.number("warmup.kg_a_rung")))
        if work is None or work.plates_per_side is not None:
            return count
        below = sum(1 for _ in islice(self.rack.easier_than(work.load_kg), count * each))
        return below // each

    def body_alone(self, work_load_kg: float) -> tuple[WarmupSet, ...]:
        """Bodyweight alone before a load on it that is too small for a rung; else nothing."""
        empty, lift = self.empty, self.lift
        if empty is None or lift is None or work_load_kg <= 0:
            return ()
        if lift.load_kind != "bodyweight_plus" or not lift.compound:
            return ()
        return (WarmupSet(empty.load_kg, self.policy.whole("warmup.reps.2"), empty),)

    def _empty(self) -> Setting | None:
        """The bar alone or bodyweight alone; None for dumbbells and stacks."""
        bar = self.rack.bar_of(self.work_setting) if self.work_setting else None
        return self.rack.exactly(bar.empty_kg if bar else 0.0)

    def _reps_empty(self, empty: Setting) -> int:
        """Repetitions with the least load: fewer where it is already a good share of the work."""
        share = self.effective(empty.load_kg) / self.work
        passed = [n for n in _RUNGS if self.policy.number(f"warmup.share.{n}") <= share]
        return self.policy.whole(f"warmup.reps.{passed[-1]}" if passed else "warmup.reps.empty")

    def _near(self, target: float, reps: int) -> list[WarmupSet]:
        """Loads at the target or up to the band below it, and clear of the working load."""
        near: list[WarmupSet] = []
        found = self.rack.not_harder_than(max(self.written(target), 0.0))
        while found is not None and len(near) < _MOST_CANDIDATES:
            below = target - self.effective(found.load_kg)
            if below < -SAME_LOAD_KG or (near and below > self.band):
                break
            clear = self.work - self.effective(found.load_kg) >= max(
                self.least_gap / 2, 2 * SAME_LOAD_KG
            )
            if clear and self._on_the_same_bar(found):
                empty = found == self.empty
                near.append(
                    WarmupSet(found.load_kg, self._reps_empty(found) if empty else reps, found)
                )
            found = self.rack.next_easier(found.load_kg)
        return near

    def _on_the_same_bar(self, setting: Setting) -> bool:
        return self.work_setting is None or setting.bar == self.work_setting.bar

    def _far_enough(self, path: list[WarmupSet], candidate: WarmupSet) -> bool:
        if not path:
            return True
        step = self.effective(candidate.load_kg) - self.effective(path[-1].load_kg)
        return step >= self.least_gap - SAME_LOAD_KG and step > SAME_LOAD_KG

    def _moves_cost(self, path: list[WarmupSet], after: Setting | None) -> float:
        before = path[-1].plates_per_side if path else {}
        if after is None or after.plates_per_side is None or before is None:
            return 0.0
        return self.move_worth * moves_between(before, after.plates_per_side)
