"""The constants of the strength model, read once from the policy, and a lift's own priors."""

from collections.abc import Callable
from dataclasses import dataclass, fields
from math import log
from typing import Any

from blockwright.engine.fatigue import FatigueLaw, fatigue_law
from blockwright.engine.policy import Policy
from blockwright.engine.training import Experience, Lift


@dataclass(frozen=True, slots=True, kw_only=True)
class NoiseLaw:
    """Noise of a counted set, in repetitions; see `curve.count_variance`."""

    reps: float
    reps_slope: float
    rir: float
    rir_slope: float
    rir_long_slope: float
    rir_unknown_sd: float  # Added when nothing was said about RIR


@dataclass(frozen=True, slots=True, kw_only=True)
class RobustLaw:
    """How a surprising set is taken. `on` False: plain Kalman updates, nothing flagged."""

    on: bool
    tail_freedom: float
    """Degrees of freedom of the Student tail: noise is divided by (n + 1) / (n + z^2)."""
    flag_z: float
    soft_z: float
    ask_least: float  # A surprising set off by less (ln) is a good or bad one, not asked about
    agree_ln: float  # Two flagged sets within this many ln units of each other agree
    jump_share: float
    """Share of sets before which the level has moved by more than strength wanders."""
    jump_sd: float  # By how much, ln
    jump_least: float  # A session off by less is a good or bad day
    scale_gain: float
    scale_low: float
    scale_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OffsetLaw:
    """How far a lifter's endurance may lie from the shipped curves; see `endurance`."""

    grid: tuple[float, ...]  # Offsets of ln(kappa)
    sd: float  # Of the prior over them; 0: no offset is learnt
    none_share: float  # Prior share of people without an offset
    score_floor: float  # No set's log score counts for less
    roster_share: float  # Weight of other lifters' sets in a shared file, beside the lifter's own

    @property
    def on(self) -> bool:
        return self.sd > 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthLaw:
    """Everything the filter needs to know that is not the lifter's log."""

    nodes: int
    node_span_sd: float
    curve_power: float
    kappa: float
    endurance_sd: float
    offset: OffsetLaw
    fatigue_sd: float
    bias_mean: float
    bias_sd: float
    day_sd: float
    wander_power: float  # Strength wanders, drifts and has its days by (kappa / the law's)^this
    drift_per_day: float
    drift_sd: float  # How far a lifter's own drift may lie from it
    trend_sd_pct_per_week: float  # How far a lifter's trend may lie from the drift
    drift_days: float
    detraining_per_day: float
    detraining_cap: float
    long_gap_days: float
    long_gap_sd: float
    return_sd: float  # How far what a long break cost the person may lie from that
    learning_exposures: int
    """So many first exposures are learning: the level may jump after each, and is no trend."""
    learning_sd: float  # Extra SD of ln(1RM) after each of them
    noise: NoiseLaw
    robust: RobustLaw
    fatigue: FatigueLaw


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftPrior:
    """What is assumed of a lift before its first set."""

    endurance_mean: float  # Mean of a = ln(kappa / the law's kappa)
    endurance_sd: float
    phi: float  # Share of ln(load) lost for a fatigue of one
    process_sd_per_sqrt_day: float
    noise_scale: float  # Times the variance of a counted set, to start from


def strength_law(policy: Policy, experience: Experience = "intermediate") -> StrengthLaw:
    """The law under this policy; experience sets the gain expected before the log shows it."""
    other = {
        "fatigue_sd": "fatigue.phi_ln_sd",
        "bias_mean": "strength.rir_bias_mean",
        "bias_sd": "strength.rir_bias_sd",
        "drift_per_day": f"strength.drift_per_day.{experience}",
        "trend_sd_pct_per_week": f"strength.trend.prior_sd.{experience}",
        "learning_sd": f"strength.learning.sd.{experience}",
    }

    def under(table: str) -> Callable[[str], float]:
        return lambda name: policy.number(f"{table}.{name}")

    return StrengthLaw(
        nodes=policy.whole("strength.nodes"),
        learning_exposures=policy.whole("strength.learning.exposures"),
        offset=_offset(policy),
        noise=NoiseLaw(**_numbers(NoiseLaw, under("strength.noise"))),
        robust=RobustLaw(on=True, **_numbers(RobustLaw, under("strength.robust"))),
        fatigue=fatigue_law(policy),
        **_numbers(StrengthLaw, lambda name: policy.number(other.get(name, f"strength.{name}"))),
    )


def _offset(policy: Policy) -> OffsetLaw:
    own = _numbers(OffsetLaw, lambda name: policy.number(f"strength.offset.{name}"))
    low, high, step = (policy.number(f"strength.offset.{end}") for end in ("low", "high", "step"))
    places = range(round((high - low) / step) + 1)
    return OffsetLaw(grid=tuple(low + step * place for place in places), **own)


def _numbers(law: type[Any], number: Callable[[str], float]) -> dict[str, float]:
    """The numbers of a law: the policy has them under its fields' names."""
    return {each.name: number(each.name) for each in fields(law) if each.type is float}


def endurance_group(lift: Lift) -> str:
    """The group whose mean endurance a lift takes (Hoeger 1990: leg curl is not leg extension)."""
    if lift.fatigue_group != "single_joint":
        return lift.fatigue_group
    if "hamstrings" in lift.direct:
        return "leg_curl"
    return "leg_extension" if "quads" in lift.direct else "single_joint"


def lift_prior(lift: Lift | None, policy: Policy) -> LiftPrior:
    """The prior of a lift; an unknown one (None) gets the middle of all with wider spread."""
    n = policy.number
    tires = "unknown" if lift is None else lift.fatigue_group
    endures = "unknown" if lift is None else endurance_group(lift)
    spread = "strength.endurance_sd_unknown" if lift is None else "strength.endurance_sd"
    return LiftPrior(
        endurance_mean=n(f"strength.endurance.{endures}"),
        endurance_sd=n(spread),
        phi=n(f"fatigue.phi.{tires}"),
        process_sd_per_sqrt_day=n(f"strength.process_sd_per_sqrt_day.{tires}"),
        noise_scale=n(f"strength.noise_scale.{tires}"),
    )


LB_PER_KG_LN = log(2.20462262)
"""The jump in ln(load) when a log changes from kilograms to pounds without saying so."""
