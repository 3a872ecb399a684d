"""The planning numbers of one policy, read once: whole quarter sets, seconds and points.

Contributions to muscles are counted in quarter sets, so that shares of 1, 0.5 and 0.25 stay
whole numbers and every solver sees the same problem.
"""

from dataclasses import dataclass

from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Emphasis, RepRange, Zone

QUARTERS = 4
"""Quarter sets in a set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """Points of the objective. Sets of a muscle are priced by the quarter set."""

    floor: float
    """Missing to the floor."""
    excess: float
    """Above the target."""
    excess_hold: float
    """The same for a held muscle."""
    start: float
    """By which the smallest week passes the start."""
    entry: float
    lift: int
    set: float
    """A set, times the sum of the lift's shares."""
    unfamiliar: float
    unlogged: float
    unloadable: float
    axial: float
    minute: float
    session: int
    like: int
    kept: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """What the composer needs of the policy. Sets of a muscle are in quarter sets (`_q`)."""

    weight: dict[Emphasis, float]
    muscle_weight: dict[str, float]
    price: Prices
    sessions_wanted: int
    floor_q: int
    knee_q: int
    session_q: int
    two_day_q: int
    hard_direct: int
    hours_between: float
    lifts_least: int
    lifts_most: int
    lifts_per_muscle: int
    sets_least: int
    sets_most: int
    sets_most_lead: int
    lead_exposures: int
    lead_direct_share: float
    low_share: tuple[float, float]
    low_share_lifts: int
    high_share_most: float
    novice_low: bool
    axial_session: int
    axial_two_days: int
    axial_week: int
    recovery_h: tuple[float, float, float]
    """Axial, compound, single-joint."""
    family_week: int
    ramp_q: int
    start_q: dict[Emphasis, int]
    normal_share: float
    hold_drift: int
    first_week_sets: int
    first_week_q: int
    first_week_rir: float
    reps: dict[Zone, RepRange]


def prices_of(policy: Policy) -> Prices:
    """The prices under `policy`; raises BadPolicy when a key is missing."""
    return Prices(
        floor=policy.number("planning.price.floor") / QUARTERS,
        excess=policy.number("planning.price.excess") / QUARTERS,
        excess_hold=policy.number("planning.price.excess_hold") / QUARTERS,
        start=policy.number("planning.price.start") / QUARTERS,
        entry=policy.number("planning.price.entry"),
        lift=policy.whole("planning.price.lift"),
        set=policy.number("planning.price.set"),
        unfamiliar=policy.number("planning.price.unfamiliar"),
        unlogged=policy.number("planning.price.unlogged"),
        unloadable=policy.number("planning.price.unloadable"),
        axial=policy.number("planning.price.axial"),
        minute=policy.number("planning.price.minute"),
        session=policy.whole("planning.price.session"),
        like=policy.whole("planning.price.like"),
        kept=policy.whole("planning.price.kept"),
    )


def numbers_of(policy: Policy) -> Numbers:
    """The numbers under `policy`; raises BadPolicy when a key is missing."""

    def sets_q(key: str) -> int:
        return int(policy.number(key) * QUARTERS + 1e-9)

    return Numbers(
        weight={
            "lead": policy.number("planning.weight.lead"),
            "normal": 1.0,
            "hold": policy.number("planning.weight.hold"),
            "skip": 0.0,
        },
        price=prices_of(policy),
        muscle_weight={m: policy.number(f"planning.muscle_weight.{m}") for m in MUSCLES},
        sessions_wanted=policy.whole("planning.sessions_wanted"),
        floor_q=sets_q("volume.floor_sets"),
        knee_q=sets_q("planning.knee_sets"),
        session_q=sets_q("planning.session_sets"),
        two_day_q=sets_q("planning.two_day_sets"),
        hard_direct=policy.whole("planning.hard_direct_sets"),
        hours_between=policy.number("planning.hours_between"),
        lifts_least=policy.whole("planning.lifts_least"),
        lifts_most=policy.whole("planning.lifts_most"),
        lifts_per_muscle=policy.whole("planning.lifts_per_muscle"),
        sets_least=policy.whole("planning.sets_least"),
        sets_most=policy.whole("planning.sets_most"),
        sets_most_lead=policy.whole("planning.sets_most_lead"),
        lead_exposures=policy.whole("planning.lead_exposures"),
        lead_direct_share=policy.number("planning.lead_direct_share"),
        low_share=(
            policy.number("planning.low_share_least"),
            policy.number("planning.low_share_most"),
        ),
        low_share_lifts=policy.whole("planning.low_share_lifts"),
        high_share_most=policy.number("planning.high_share_most"),
        novice_low=policy.switch("planning.novice_low"),
        axial_session=policy.whole("planning.axial_session"),
        axial_two_days=policy.whole("planning.axial_two_days"),
        axial_week=policy.whole("planning.axial_week"),
        recovery_h=(
            policy.number("planning.recovery_axial_h"),
            policy.number("planning.recovery_compound_h"),
            policy.number("planning.recovery_single_h"),
        ),
        family_week=policy.whole("planning.family_week"),
        ramp_q=sets_q("ramp.sets_per_week"),
        start_q={
            "lead": sets_q("ramp.start.lead"),
            "normal": sets_q("ramp.start.normal"),
            "hold": sets_q("ramp.start.hold"),
            "skip": 0,
        },
        normal_share=policy.number("ramp.normal_share"),
        hold_drift=policy.whole("ramp.hold_drift"),
        first_week_sets=policy.whole("first_week.sets_per_lift"),
        first_week_q=sets_q("first_week.sets_per_muscle"),
        first_week_rir=policy.number("first_week.rir"),
        reps={
            zone: RepRange(
                low=policy.whole(f"planning.reps.{zone}_from"),
                high=policy.whole(f"planning.reps.{zone}_to"),
            )
            for zone in ("low", "mid", "high")
        },
    )
