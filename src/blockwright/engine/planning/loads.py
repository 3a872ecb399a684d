"""Loads along the block: from the strength belief, in small steps, as the kit makes them.

Only what the lifter has logged is a basis; without it a load stays None and the sheet shows how to
find one. Week one is for the lifter; later weeks are forecasts and carry a range."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from math import inf
from statistics import fmean
from typing import Literal

from blockwright.engine.gym import Gym
from blockwright.engine.policy import Policy
from blockwright.engine.rack import (
    FindingWay,
    Rack,
    Setting,
    finding_s,
    hardest_moving,
    rack_for,
)
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.screening import fewest_reps
from blockwright.engine.strength import Beliefs, Landing, LiftBelief, most_effective, moved
from blockwright.engine.strength.pooling import near_twin
from blockwright.engine.tolerated_load import ToleratedLoad, easier, tolerated_load
from blockwright.engine.training import (
    Catalogue,
    Entry,
    Lift,
    Lifter,
    RepRange,
    SetDone,
    SetPlan,
    effective_load_kg,
)
from blockwright.engine.units import Unit, load_text
from .log_facts import MOST_MAIN_REPS
from .problem import Option


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The load of one entry in one week."""

    load_kg: float | None
    rir: float  # In reserve: the week's own, and of what hurts no fewer than in week one
    forecast_kg: tuple[float, float] | None = None
    aim: tuple[int, int] | None = None  # The first set's own aim inside the range
    moved: int = 0
    """By how many repetitions the range lies off the one composed: what the load gives."""
    printed: SetPlan | None = None  # With the range as it is printed; None: the one composed


_PLAIN_LOWS = (8, 10, 12, 15)  # Where a small lift's printed range may begin

Fit = Literal["unknown", "heavy", "fits", "end", "light"]
"""How the kit serves a range: `heavy` where even its easiest load is too heavy, `end` where
one step harder is left at most, `light` where the hardest is too light already."""


@dataclass(slots=True)
class LoadPaths:
    """Makes load paths for one lifter; collects the reasons it met on the way."""

    beliefs: Beliefs | None
    gym: Gym
    bodyweight_kg: float | None
    policy: Policy
    heaviest_kg: Mapping[str, float]  # Heaviest effective load the lifter has logged, by lift
    hurt: frozenset[str] = frozenset()
    """Lifts that hurt, are borne or load what hurts: the load they tolerated, or less, and nothing
    added, as their sheets have it."""
    pinned: frozenset[str] = frozenset()  # Lifts whose range the coach set: it does not move
    cleared: Mapping[str, date] = field(default_factory=dict)
    fewest_reps: int = 0
    reasons: list[Reason] = field(default_factory=list)

    def path(
        self, lift: Lift, reps: RepRange, rest_s: int, weeks: list[tuple[date, float, int]]
    ) -> list[Step]:
        """Loads for one lift in one slot; `weeks` holds (day, RIR, sets) of each build week."""
        belief = self._belief(lift)
        rack = rack_for(lift, self.gym, self.policy)
        held = lift.name in self.hurt
        rirs = [max(rir, weeks[0][1]) if held else rir for _, rir, _ in weeks]
        if belief is None:
            return [Step(load_kg=self._tolerated(lift, rack), rir=rir) for rir in rirs]
        landed: list[tuple[Landing, float]] = []
        for number, (_, rir, _) in enumerate(weeks):
            asked = SetPlan.of(reps, rir)
            landing = self.landing(lift, rack, belief, asked, weeks[0][0], number)
            load = self._next(landing, landed[-1][1] if landed else None, number)
            if load is None:
                heavy = Reason(code="load_too_heavy_for_kit", facts={"lift": lift.name})
                self.reasons.append(heavy)
                return [Step(load_kg=None, rir=each) for each in rirs]
            if held:
                borne = self._tolerated(lift, rack)
                load = load if borne is None else easier(lift, (load, borne))
                return [Step(load_kg=load, rir=each) for each in rirs]
            landed.append((landing, load))
        waits = len(weeks) > 1 and landed[0][1] == landed[-1][1]
        if waits and landed[-1][1]:
            self._says_still(*landed[-1])
        steps: list[Step] = []
        for (_, rir, sets), (landing, load) in zip(weeks, landed, strict=True):
            by = self._moved(landing, load, sets, rest_s, steps[-1] if steps else None)
            landing = replace(landing, asked=self._printed(landing, load, by))
            spread = self._range(landing, load) if steps else None
            aim = landing.aim(load, sets, rest_s, even=waits)
            steps.append(Step(load_kg=load, rir=rir, forecast_kg=spread, aim=aim, moved=by,
                              printed=landing.asked))  # fmt: skip
        return steps

    def _printed(self, landing: Landing, load_kg: float, by: int) -> SetPlan:
        """A set with its range moved; a small lift's is one that coaches write, the nearest that
        holds what occurs, where one does."""
        asked, lift, occurs = moved(landing.asked, by), landing.lift, landing.median_reps(load_kg)
        if not by or lift.compound:
            return asked
        usable = [n for reps in lift.reps.values() for n in (reps.low, reps.high)]
        own = asked.reps_low, asked.reps_high
        plain = [(low, self.policy.whole(f"planning.plain_range.{low}")) for low in _PLAIN_LOWS]
        fit = [r for r in plain if min(usable) <= r[0] <= round(occurs) <= r[1] <= max(usable)]
        low, high = min(fit, key=lambda r: abs(sum(r) - sum(own)), default=own)
        return replace(asked, reps_low=low, reps_high=high)

    def _moved(
        self, landing: Landing, load_kg: float, sets: int, rest_s: int, before: Step | None
    ) -> int:
        """By how many repetitions a week's range lies off the one composed: what its load gives,
        after week one within the lift's usable ones. While a load waits repetitions climb, a main
        lift's that began with those that suit one no further."""
        if landing.lift.name in self.pinned:
            return 0
        occurs = landing.occurring(load_kg, sets, rest_s) or 0
        if before is None:
            return occurs
        low, high = landing.asked.reps_low, landing.asked.reps_high
        down = min(reps.low for reps in landing.lift.reps.values()) - low
        usable = max(reps.high for reps in landing.lift.reps.values()) - high
        suits = MOST_MAIN_REPS - high
        if landing.lift.compound and before.moved <= suits:
            usable = min(usable, suits)
        if before.load_kg != load_kg or landing.effective(load_kg) <= 0:
            return max(occurs, min(down, 0))
        reached = round(landing.median_reps(load_kg)) - high
        return max(before.moved, min(down, 0), min(max(occurs, reached), usable))

    def _start(self, landing: Landing) -> float | None:
        """The block's first load: the one that lands best, and no easier than what lately gave the
        range with its reserve, or a step of the kit less than what gave it with less in reserve,
        where that is likely to do so still."""
        found, low = self._first(landing, or_lighter=True), landing.asked.reps_low
        rack = landing.rack
        days, on = self.policy.whole("load.shown_days"), landing.on or date.min
        least = self.policy.number("load.shown_probability")
        for done in self.beliefs.sets if self.beliefs and found is not None else ():
            is_late = (on - done.moment.day).days > days or done.lift != landing.lift.name
            if is_late or not done.is_work or done.pain or done.first_reps < low:
                continue
            kept = done.rir is not None and done.rir >= landing.asked.rir
            shown = (rack.not_harder_than if kept else rack.next_easier)(done.load_kg)
            if shown and _harder(rack, shown.load_kg, found or 0.0):
                found = shown.load_kg if landing.p_reaches(shown.load_kg) >= least else found
        return found

    def _says_still(self, landing: Landing, load_kg: float) -> None:
        """Why a load does not move in the whole block, where the kit is the reason."""
        harder = landing.rack.next_harder(load_kg)
        if harder is None or self._is_far(landing, load_kg, harder):
            load = load_text(load_kg, self.gym.unit)
            facts: dict[str, FactValue] = {"lift": landing.lift.name, "load": load}
            facts["next"] = load_text(harder.load_kg, self.gym.unit) if harder else ""
            code = "load_step_waits" if harder else "load_kit_ends"
            most = max(reps.high for reps in landing.lift.reps.values())
            if round(landing.median_reps(load_kg)) > most:
                code, facts["reps"] = "load_gives_more", most
            self.reasons.append(Reason(code=code, facts=facts, policy=("load.most_up",)))

    def _is_far(self, landing: Landing, load_kg: float, harder: Setting) -> bool:
        """Whether one step of the kit is more than one change may be."""
        most = most_effective(landing.effective(load_kg), self.policy)
        return landing.effective(harder.load_kg) > most

    def _tolerated(self, lift: Lift, rack: Rack) -> float | None:
        """Of a lift whose every set hurt nothing is known but what it tolerated: that load, without
        a climb."""
        if self.beliefs is None:
            return None
        hurt = tolerated_load(lift, self.beliefs.sets, self.policy, self.cleared)
        return None if hurt is None else kept_load_kg(rack, hurt)

    def fit(self, option: Option, rir: float, on: date) -> Fit:
        """How the kit serves a range at its first load, as far as the log tells."""
        lift, belief = option.lift, self._belief(option.lift)
        rack = rack_for(lift, self.gym, self.policy)
        if belief is None:
            return "end" if self._ends_soon(option, rack, rir, on) else "unknown"
        landing = self.landing(lift, rack, belief, SetPlan.of(option.reps, rir), on)
        load = self._first(landing)
        if load is None:
            return "heavy"
        harder = rack.next_harder(load)
        if landing.effective(load) <= 0 or (harder and rack.next_harder(harder.load_kg)):
            return "fits"
        too_light = harder is None and landing.median_reps(load) > option.reps.high + 1
        return "light" if too_light else "end"

    def _ends_soon(self, option: Option, rack: Rack, rir: float, on: date) -> bool:
        """Whether its near kin that the lifter does say that the kit has a step left at most."""
        lift, asked = option.lift, SetPlan.of(option.reps, rir)
        likely = [] if self.beliefs is None else self.beliefs.likely_kg(lift, asked, on)
        if not likely:
            return False
        made = hardest_moving(rack, lift, fmean(kg for _, kg in likely), self.bodyweight_kg)
        harder = made and rack.next_harder(made.load_kg)
        return made is not None and not (harder and rack.next_harder(harder.load_kg))

    def find_s(self, option: Option, rir: float) -> int:
        """Seconds that finding a load of the option takes at most."""
        asked, rack = SetPlan.of(option.reps, rir), rack_for(option.lift, self.gym, self.policy)
        way = FindingWay(rack, option.lift, asked, self.policy, self.bodyweight_kg)
        return round(finding_s(option.lift, way.ladder().tries, self.policy))

    def _belief(self, lift: Lift) -> LiftBelief | None:
        """What the lifter's own sets of the lift say; a guess from other lifts is no basis."""
        return None if self.beliefs is None else self.beliefs.own(lift.name)

    def landing(
        self,
        lift: Lift,
        rack: Rack,
        belief: LiftBelief,
        asked: SetPlan,
        on: date,
        weeks_on: int = 0,
    ) -> Landing:
        """The question where the first set lands, `weeks_on` weeks after `on`."""
        return Landing(
            belief=belief,
            lift=lift,
            rack=rack,
            bodyweight_kg=self.bodyweight_kg,
            policy=self.policy,
            asked=asked,
            on=on,
            growth=(1 + self.policy.number("load.growth_per_week")) ** weeks_on,
            fewest_reps=self.fewest_reps,
        )

    def _first(self, landing: Landing, *, or_lighter: bool = False) -> float | None:
        """The load that lands best, unless even that is probably too heavy; then, if asked, the
        kit's next easier: both miss the range, and what is known to be light needs no tries."""
        heaviest = self.heaviest_kg.get(landing.lift.name)
        limit = None if heaviest is None else most_effective(heaviest, self.policy)
        found = [] if (best := landing.best(limit)) is None else [best.load_kg]
        if best is not None and or_lighter and (made := landing.rack.next_easier(best.load_kg)):
            found += [made.load_kg] if landing.effective(made.load_kg) > 0 else []
        return next((kg for kg in found if self._within_reach(landing, kg)), None)

    def _within_reach(self, landing: Landing, load_kg: float) -> bool:
        return landing.p_reaches(load_kg) >= self.policy.number("load.reach_probability")

    def _next(self, landing: Landing, before: float | None, number: int) -> float | None:
        """A later week's load: never below the week before, a tenth above it at most."""
        if before is None:
            return self._start(landing)
        rack = landing.rack
        effective = landing.effective(before)
        harder = rack.next_harder(before)
        if effective <= 0 or harder is None:
            return before
        if self._is_far(landing, before, harder):
            return self._big_step(landing, before, harder.load_kg, number)
        setting = landing.best(most_effective(effective, self.policy))
        if setting is None or not _harder(rack, setting.load_kg, before):
            return before
        return setting.load_kg

    def _big_step(self, landing: Landing, before: float, harder_kg: float, number: int) -> float:
        """Where one step of the kit is more than the limit: only from the top of the range, and
        only where it lands better; a small lift's much larger one never, repetitions climb."""
        most = landing.effective(before) * (1 + self.policy.number("load.small_step"))
        climbs = landing.lift.compound or landing.effective(harder_kg) <= most * (1 + 1e-9)
        climbs = climbs and landing.median_reps(before) >= landing.asked.reps_high
        climbs = climbs and landing.cost(harder_kg) < landing.cost(before)
        if not (climbs and self._within_reach(landing, harder_kg)):
            return before
        kg, unit = (before, harder_kg), self.gym.unit
        self.reasons.append(smallest_step(landing.lift, unit, number + 1, kg, landing.asked))
        return harder_kg

    def _range(self, landing: Landing, load_kg: float) -> tuple[float, float] | None:
        """Between which loads the week will probably fall: the belief's own spread."""
        lift, rack, now = landing.lift, landing.rack, landing.belief.one_rm_kg
        effective = effective_load_kg(lift, load_kg, self.bodyweight_kg)
        if effective is None:
            return None
        wanted = (effective * side / now.median for side in (now.low80, now.high80))
        made = (hardest_moving(rack, lift, kg, self.bodyweight_kg) for kg in wanted)
        ends = [(setting or rack.easiest).load_kg for setting in made]
        return min(*ends, load_kg), max(*ends, load_kg)


def smallest_step(
    lift: Lift, unit: Unit, week: int | None, kg: tuple[float, float], asked: SetPlan
) -> Reason:
    """That the kit has no step between two loads further apart than one change may be."""
    before_kg, after_kg = kg
    facts: dict[str, FactValue] = {
        "lift": lift.name,
        "week": week,
        "before_kg": before_kg,
        "after_kg": after_kg,
        "before": load_text(before_kg, unit),
        "after": load_text(after_kg, unit),
        "reps_high": asked.reps_high,
    }
    return Reason(code="smallest_step", facts=facts, policy=("load.most_up",))


def _harder(rack: Rack, load_kg: float, than_kg: float) -> bool:
    return load_kg < than_kg if rack.more_is_easier else load_kg > than_kg


def kept_load_kg(rack: Rack, hurt: ToleratedLoad) -> float | None:
    """What the kit makes of it: no more than was tolerated, and the next easier where nothing was;
    None where the lift is left out, or nothing worth doing is as light: no load is looked for."""
    made = None if hurt.load_kg is None else rack.not_harder_than(hurt.load_kg)
    if made is not None and not hurt.tolerated:
        made = rack.next_easier(made.load_kg) or made
    return None if made is None or made.load_kg < hurt.least_kg else made.load_kg


def heaviest_kg(
    facts: Sequence[SetDone], catalogue: Catalogue, bodyweight_kg: float | None
) -> dict[str, float]:
    """Heaviest effective load done, by lift; warm-ups, sets without repetitions and tries that
    ended in failure left out."""
    found: dict[str, float] = {}
    for done in facts:
        lift = catalogue.find(done.lift)
        failed = done.first_reps < 1 or (done.method == "try" and done.rir == 0)
        if lift is None or done.method == "warmup" or failed:
            continue
        effective = effective_load_kg(lift, done.load_kg, bodyweight_kg)
        if effective is not None:
            found[lift.name] = max(found.get(lift.name, 0.0), effective)
    return found


def paths_for(
    lifter: Lifter,
    policy: Policy,
    catalogue: Catalogue,
    beliefs: Beliefs | None,
    facts: Sequence[SetDone],
) -> LoadPaths:
    """The load paths of a lifter whose log has these facts."""
    return LoadPaths(
        beliefs=beliefs,
        gym=lifter.gym,
        bodyweight_kg=lifter.bodyweight_kg,
        policy=policy,
        heaviest_kg=heaviest_kg(facts, catalogue, lifter.bodyweight_kg),
        pinned=frozenset(pin.lift for pin in lifter.pins),
        fewest_reps=fewest_reps(lifter, policy),
    )


def open_load_kg(
    beliefs: Beliefs, lifter: Lifter, lift: Lift, entry: Entry, day: date, policy: Policy
) -> float | None:
    """What a load that was left open comes to from the log of the lift itself; None without one."""
    if beliefs.own(lift.name) is None:
        return None  # as the path would find, after reading the whole log
    first = entry.sets[0]
    paths = paths_for(lifter, policy, beliefs.catalogue, beliefs, beliefs.sets)
    asked = [(day, first.rir, len(entry.sets))]
    return paths.path(lift, first.reps, entry.rest_s, asked)[0].load_kg


def start_from_kin(
    beliefs: Beliefs | None, way: FindingWay, day: date
) -> tuple[Setting | None, tuple[str, ...], str, float]:
    """Where a load is looked for first, by which kin and by what share of theirs: well below what
    the lifter's near kin of the lift make likely, where any was logged or is known and the kit
    makes as much, nearer where a twin was; and how far tries go at most (effective kg)."""
    likely = [] if beliefs is None else beliefs.likely_kg(way.lift, way.asked, day)
    twins = [(kin, kg) for kin, kg in likely if near_twin(way.lift, kin)]
    likely, share = twins or likely, f"finding.{'twin' if twins else 'kin'}_share"
    loads = [kg for _, kg in likely]
    wanted = min(loads, default=0.0) * way.policy.number(share)
    start = hardest_moving(way.rack, way.lift, wanted, way.bodyweight_kg)
    told = () if start in (None, way.rack.easiest) else tuple(kin.name for kin, _ in likely)
    return start, told, share, max(loads, default=inf)
