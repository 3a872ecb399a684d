"""The planning numbers of one policy, read once: whole quarter sets and seconds.

Contributions to muscles are counted in quarter sets, so that shares of 1, 0.5 and 0.25 stay whole
numbers and every solver sees the same problem."""

from dataclasses import dataclass
from functools import cached_property

from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Emphasis, Lift, Lifter, RepRange, Zone

QUARTERS = 4  # Quarter sets in a set
_MOST_COUNTED_VISITS = 5
_MUCH_AXIAL = 2


def _whole(key: str) -> "cached_property[int]":
    return cached_property(lambda limits: limits.policy.whole(key))


def _number(key: str) -> "cached_property[float]":
    return cached_property(lambda limits: limits.policy.number(key))


def _quarters(key: str) -> "cached_property[int]":
    return cached_property(lambda limits: int(limits.policy.number(key) * QUARTERS + 1e-9))


@dataclass(frozen=True)
class PlanningLimits:
    """What the composer needs of the policy. Sets of a muscle are in quarter sets (`_q`)."""

    policy: Policy

    def share(self, key: str) -> float:
        """A number under `compose.`."""
        return self.policy.number(f"compose.{key}")

    def count(self, key: str) -> int:
        """A whole number under `compose.`."""
        return self.policy.whole(f"compose.{key}")

    def price(self, key: str) -> int:
        """Points under `compose.price.`."""
        return self.policy.whole(f"compose.price.{key}")

    floor_q = _quarters("volume.floor_sets")
    log_growth_q = _quarters("compose.log_growth")
    """Quarter sets by which a muscle that does not lead passes its log."""
    session_q = _quarters("planning.session_sets")
    two_day_q = _quarters("planning.two_day_sets")
    hard_direct = _whole("planning.hard_direct_sets")
    """Direct sets from which a session is hard for a muscle."""
    hours_between = _number("planning.hours_between")
    lifts_least = _whole("planning.lifts_least")
    lifts_most = _whole("planning.lifts_most")
    lifts_per_muscle = _whole("planning.lifts_per_muscle")

    def lifts_session(self, lifter: Lifter) -> int:
        """Lifts a session of the lifter may have."""
        own = lifter.limits.max_lifts_per_session
        return self.lifts_most if own is None else own

    def lifts_week(self, visits: int) -> int:
        """Different lifts a week of so many slots may have."""
        return self.count(f"lifts_week.{min(max(visits, 1), _MOST_COUNTED_VISITS)}")

    sets_least = _whole("planning.sets_least")
    sets_most = _whole("planning.sets_most")
    sets_most_lead = _whole("planning.sets_most_lead")
    lead_direct_share = _number("planning.lead_direct_share")

    @cached_property
    def heavy_share(self) -> tuple[float, float]:
        """Bounds of the heavy share of the main lifts' sets."""
        low, high = "planning.low_share_least", "planning.low_share_most"
        return self.policy.number(low), self.policy.number(high)

    long_share_most = _number("planning.high_share_most")

    @cached_property
    def novice_low(self) -> bool:
        return self.policy.switch("planning.novice_low")

    @cached_property
    def axial(self) -> tuple[int, int, int]:
        """Set levels in a session, over two days in a row, in the week."""
        session, two, week = (
            self.policy.whole(f"planning.axial_{span}") for span in ("session", "two_days", "week")
        )
        return session, two, week

    def recovery_h(self, lift: Lift) -> float:
        """Hours before the lift stands again."""
        if lift.axial >= _MUCH_AXIAL:
            return self.policy.number("planning.recovery_axial_h")
        if lift.compound:
            return self.policy.number("planning.recovery_compound_h")
        return self.policy.number("planning.recovery_single_h")

    family_week = _whole("planning.family_week")
    ramp_q = _quarters("ramp.sets_per_week")  # Quarter sets by which a muscle's week may grow

    @cached_property
    def start_q(self) -> dict[Emphasis, int]:
        """Where week one starts without a log."""
        trained: tuple[Emphasis, ...] = ("lead", "normal", "hold")
        sets = {e: self.policy.number(f"ramp.start.{e}") for e in trained}
        return {"skip": 0, **{e: int(n * QUARTERS + 1e-9) for e, n in sets.items()}}

    normal_share = _number("ramp.normal_share")
    first_week_sets = _whole("first_week.sets_per_lift")
    first_week_q = _quarters("first_week.sets_per_muscle")

    @cached_property
    def weight(self) -> dict[Emphasis, float]:
        """What growth counts by emphasis, when a week has to be cut."""
        return {
            "lead": self.policy.number("planning.weight.lead"),
            "normal": 1.0,
            "hold": self.policy.number("planning.weight.hold"),
            "skip": 0.0,
        }

    @cached_property
    def muscle_weight(self) -> dict[str, float]:
        return {m: self.policy.number(f"planning.muscle_weight.{m}") for m in MUSCLES}

    def range_of(self, zone: Zone) -> RepRange:
        """The policy's working range of a zone."""
        return RepRange(
            low=self.policy.whole(f"planning.reps.{zone}_from"),
            high=self.policy.whole(f"planning.reps.{zone}_to"),
        )

    def zone_of(self, reps: RepRange) -> Zone:
        """The zone of a range, by its middle."""
        middle = (reps.low + reps.high) / 2
        if middle <= (self.range_of("low").high + self.range_of("mid").low) / 2:
            return "low"
        if middle <= (self.range_of("mid").high + self.range_of("high").low) / 2:
            return "mid"
        return "high"

    def working_range(self, lift: Lift, zone: Zone) -> RepRange | None:
        """What a set of `lift` in `zone` is written as: the policy's range inside the lift's."""
        usable = lift.reps.get(zone)
        if usable is None:
            return None
        wanted = self.range_of(zone)
        low, high = max(usable.low, wanted.low), min(usable.high, wanted.high)
        if high - low >= 2:
            return RepRange(low=low, high=high)
        # the lift is at home elsewhere in the zone: keep the width, move the range
        width = min(wanted.high - wanted.low, usable.high - usable.low)
        start = usable.low if usable.low > wanted.low else usable.high - width
        return RepRange(low=start, high=start + width)
