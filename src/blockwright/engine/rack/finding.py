"""How to find a load when there is nothing to go by: what to set after a try, and when to stop.

No load is ever derived from sex, age or bodyweight: the lifter begins at half of their own guess or
at what nearly everybody lifts with ease, and what each try leaves in reserve says where to go. One
rule for paper, page and phone (`web/static/blockwright/finding.js` is its copy)."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.sources import COMMON_PRACTICE, JUDGEMENT
from blockwright.engine.training import Lift, SetPlan, effective_load_kg
from .loads import Rack, hardest_moving
from .makers import Setting
from .warmup import WarmupSet

_NEAR = "load.most_up"
_FAR = "finding.far_step"
MOST_SAID = 10  # No log holds more in reserve: of a try it stands for `finding.far_rir` or more


def jump_kg(lift: Lift, policy: Policy) -> float:
    """Where the try after a far lighter one goes at least: of a main lift with weights two
    kilograms that nobody feels say nothing of ten."""
    if not lift.compound or lift.moves_body:
        return 0.0
    return policy.number(f"finding.jump_{lift.area}")


def finding_s(lift: Lift, tries: Sequence[WarmupSet], policy: Policy) -> float:
    """Seconds that the tries of a lift take beyond its warm-up, which they are."""
    each_s = tries[0].reps * lift.seconds_per_rep + policy.whole("finding.rest_s") if tries else 0.0
    kind = "compound" if lift.compound else "single"
    return max(len(tries) * each_s - policy.whole(f"time.warmup.{kind}"), 0.0)


@dataclass(frozen=True, slots=True)
class FindingLadder:
    """Tries as they follow while each is far too light, and the rules that say when it is not."""

    tries: tuple[WarmupSet, ...]
    rules: tuple[Reason, ...]
    """How to climb, then each stop rule; words are made from the codes at the edge."""
    gently: bool = False


@dataclass(frozen=True, slots=True)
class FindingWay:
    """The way to the load of one lift's planned set: tries at the bottom of its range."""

    rack: Rack
    lift: Lift
    asked: SetPlan
    policy: Policy
    bodyweight_kg: float | None
    gently: bool = False  # Something like it hurts: each try is one change above the last at most

    def ladder(
        self,
        start: Setting | None = None,
        kin: Sequence[str] = (),
        share: str = "",
        most_kg: float = inf,
    ) -> FindingLadder:
        """From the easiest, or from `start`: the policy's `share` of what the lifts `kin` make
        likely; none after the first above `most_kg` (effective)."""
        tries: list[WarmupSet] = []
        found, goes_on = start or self._light or self._easiest, True
        while goes_on:
            tries.append(WarmupSet(found.load_kg, self.asked.reps_low, found))
            found, goes_on = self.after(found.load_kg, MOST_SAID, len(tries))
            moved = effective_load_kg(self.lift, found.load_kg, self.bodyweight_kg)
            goes_on = goes_on and (moved is None or moved <= most_kg)
        return FindingLadder(tuple(tries), tuple(self._rules(kin, share)), self.gently)

    @property
    def _light(self) -> Setting | None:
        """What nearly everybody lifts with ease on cables and machines; None where tries begin as
        easy as the kit goes, as with an empty bar."""
        lift, part = self.lift, self.lift.fatigue_group
        if lift.load_kind != "external" or self.rack.has_bar:
            return None
        part = "leg_press" if "leg press" in lift.kit else part
        key = f"finding.least_{f'{part}_{lift.area}' if part == 'single_joint' else part}"
        return self.rack.at_most(self.policy.number(key))

    @property
    def _easiest(self) -> Setting:
        """Of assistance what leaves the policy's share of the body to lift, where its weight is
        known: a stack may help with more than the body weighs."""
        if self.lift.load_kind != "assisted":
            return self.rack.easiest
        share = self.policy.number("finding.least_moved")
        return self._no_harder(0.0, share) or self.rack.easiest

    def after(self, load_kg: float, left: float, tries: int) -> tuple[Setting, bool]:
        """What to set after a number of `tries`, the last of them at `load_kg` with `left` more in
        reserve (below 0: repetitions it was short), and whether that is one more try; else it is
        the load to work with. After the last try allowed the first work set takes what would have
        come next, and a work set that leaves as much goes on so."""
        here = self.rack.not_harder_than(load_kg) or self.rack.easiest
        harder = self.rack.next_harder(load_kg)
        number, near = self.policy.number, self.policy.number(_NEAR)
        if left < self.asked.rir:
            easier = self.rack.next_easier(load_kg)
            return self._no_harder(load_kg, 1 - near) or easier or here, False
        if harder is None or left <= max(number("finding.stop_rir"), self.asked.rir):
            return here, False
        is_more = left >= number("finding.more_rir")
        # Half of what the body weighs is much to hang on it, and at first so is a fifth.
        hangs = self.lift.load_kind == "bodyweight_plus"
        is_far = left >= MOST_SAID and not hangs and not self.gently
        is_near = not is_more or (hangs and not load_kg) or self.gently
        step = near if is_near else number(_FAR if is_far else "finding.step")
        further = self._no_harder(load_kg, 1 + step)
        if further and hangs and load_kg:
            further = self.rack.at_most(min(further.load_kg, load_kg * (1 + number(_FAR))))
        if is_far and load_kg < (jump := jump_kg(self.lift, self.policy)):
            further = self.rack.harder_of(self.rack.at_most(jump), further or here)
        found = self.rack.harder_of(further, harder if is_more else here)
        return found, is_more and tries < self.policy.whole("finding.most_tries")

    def _no_harder(self, load_kg: float, share: float) -> Setting | None:
        moved = effective_load_kg(self.lift, load_kg, self.bodyweight_kg) or 0.0
        return hardest_moving(self.rack, self.lift, share * moved, self.bodyweight_kg)

    def _rules(self, kin: Sequence[str], share: str) -> Iterator[Reason]:
        number, whole, rir = self.policy.number, self.policy.whole, self.asked.rir
        far, more, stop = (whole(f"finding.{key}_rir") for key in ("far", "more", "stop"))
        fits = f"{rir:g} to {stop}" if rir < stop else f"{rir:g}"
        steps = {"far_pct": _FAR, "step_pct": "finding.step", "near_pct": _NEAR}
        said: dict[str, FactValue] = {key: round(100 * number(of)) for key, of in steps.items()}
        said |= {"far_rir": far, "below_far": far - 1, "more_rir": more, "below_more": more - 1}
        said |= {"fits_rir": fits, "light_rir": f"{max(rir, stop) + 1:g}"}
        said["tries"] = whole("finding.most_tries")
        yield Reason(code="find_load_climb", source=COMMON_PRACTICE)
        policy: tuple[str, ...] = (
            "finding.far_rir",
            "finding.far_step",
            "finding.more_rir",
            "finding.step",
        )
        yield Reason(code="find_load_step", facts=said, policy=policy, source=JUDGEMENT)
        policy = ("finding.stop_rir", _NEAR, "finding.most_tries")
        yield Reason(code="find_load_stop_effort", facts=said, policy=policy, source=JUDGEMENT)
        yield Reason(code="find_load_stop_form", source=COMMON_PRACTICE)
        yield Reason(code="find_load_stop_pain", source=COMMON_PRACTICE)
        if kin:
            of = round(100 * number(share))
            facts: dict[str, FactValue] = {"kin_pct": of, "lifts": and_listed(kin)}
            yield Reason(code="find_load_kin", facts=facts, policy=(share,))
