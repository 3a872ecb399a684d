"""How well the ceiling belief learns, on simulated lifters whose true ceiling is known."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.volume import CeilingBelief, ceiling_prior
from blockwright.files.policy_files import default_policy

WEEKS = (4, 8, 12, 24)
TARGET_RMSE = {4: 0.32, 8: 0.27, 12: 0.25}
TARGET_COVERAGE = (0.72, 0.86)

Dosing = Callable[[CeilingBelief, int, Policy], float]
"""Belief before the week, week from 0, policy: fractional sets of that week."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecoveryWorld:
    """The law the simulated lifters live under; the engine knows none of it."""

    name: str
    ln_sd: float = 0.45
    """Spread of true ln ceilings about ln 16."""
    sigma: float = 0.30
    lapse: float = 0.03
    clearness: float = math.inf
    """How far apart, in SDs, the evidence of a recovered and a not recovered week stands;
    infinite: the observer knows which it was."""


WORLDS = (
    RecoveryWorld(name="the engine's own law, recovery known"),
    RecoveryWorld(name="the same, recovery only guessed (clear to 2 SD)", clearness=2.0),
    RecoveryWorld(name="the same, guessed badly (1 SD)", clearness=1.0),
    RecoveryWorld(name="sharper line (sigma 0.15)", sigma=0.15),
    RecoveryWorld(name="more blurred line (sigma 0.45)", sigma=0.45),
    RecoveryWorld(name="people differ more (SD of ln C 0.60)", ln_sd=0.60),
    RecoveryWorld(name="bad weeks for other reasons (lapse 0.10)", lapse=0.10),
)


@dataclass(slots=True)
class CeilingScore:
    """Sums over lifters, by week."""

    squared: dict[int, list[float]] = field(default_factory=dict)
    covered: dict[int, list[bool]] = field(default_factory=dict)
    excess: list[float] = field(default_factory=list)
    """ln of the week's sets over the true ceiling."""

    def rmse(self, week: int) -> float:
        return math.sqrt(float(np.mean(self.squared[week])))

    def coverage(self, week: int) -> float:
        """Share of 80 % intervals that hold the true ceiling."""
        return float(np.mean(self.covered[week]))

    def overshoot(self, times: float) -> float:
        """Share of weeks that asked for more than `times` the true ceiling."""
        return float(np.mean(np.array(self.excess) > math.log(times)))


def ramp(_belief: CeilingBelief, week: int, _policy: Policy) -> float:
    """Six weeks from 8 sets up by 2 a week, then a light seventh; again and again."""
    return 4.0 if week % 7 == 6 else 8.0 + 2.0 * (week % 7)


def prescribed(belief: CeilingBelief, _week: int, policy: Policy) -> float:
    """Always near exp(mean - 0.25 SD)."""
    return belief.prescribed_sets(policy)


def middle(belief: CeilingBelief, _week: int, _policy: Policy) -> float:
    """Always the belief's median."""
    return belief.median


def ceiling_score(
    world: RecoveryWorld, dosing: Dosing, *, lifters: int, rng: np.random.Generator, policy: Policy
) -> CeilingScore:
    """`lifters` drawn from `world`, each trained for the longest of `WEEKS` under `dosing`."""
    score = CeilingScore()
    prior = ceiling_prior("quads", "intermediate", "maintenance", policy)
    for _ in range(lifters):
        ln_ceiling = float(
            np.clip(rng.normal(math.log(16), world.ln_sd), math.log(3), math.log(60))
        )
        belief = prior
        for week in range(max(WEEKS)):
            sets = dosing(belief, week, policy)
            score.excess.append(math.log(sets) - ln_ceiling)
            belief = belief.updated(sets, _seen(world, sets, ln_ceiling, rng), policy)
            if week + 1 in WEEKS:
                _note(score, week + 1, belief, ln_ceiling)
    return score


def ceiling_study() -> str:
    """Markdown: error and coverage by week, world and way of dosing. About a minute."""
    policy = default_policy()
    lines = [
        "1,000 lifters a row, seed 7; true ceilings spread about 16 weekly sets. RMSE is of ln C;"
        " the 80 % interval should hold the truth in 0.72 to 0.86 of lifters. Targets on the ramp:"
        " RMSE at most 0.32 / 0.27 / 0.25 after 4 / 8 / 12 weeks. *Over* is the share of weeks"
        " that asked for more than the true ceiling, and for more than a quarter above it.",
        "",
        "| law the lifters live under | dosing | RMSE 4/8/12/24 weeks | coverage | over |",
        "|---|---|---|---|---|",
    ]
    ways: Sequence[tuple[str, Dosing]] = (
        ("ramp", ramp),
        ("exp(mean - 0.25 SD)", prescribed),
        ("median", middle),
    )
    for world in WORLDS:
        for name, dosing in ways if world in WORLDS[:2] else ways[:1]:
            rng = np.random.default_rng(7)
            score = ceiling_score(world, dosing, lifters=1000, rng=rng, policy=policy)
            lines.append(
                f"| {world.name} | {name} | {_joined(map(score.rmse, WEEKS))} | "
                f"{_joined(map(score.coverage, WEEKS))} | "
                f"{score.overshoot(1.0):.2f} / {score.overshoot(1.25):.2f} |"
            )
    return "\n".join(lines) + "\n"


def _joined(values: Iterable[float]) -> str:
    return " / ".join(f"{value:.2f}" for value in values)


def _seen(world: RecoveryWorld, sets: float, ln_ceiling: float, rng: np.random.Generator) -> float:
    """What an observer says of the week: a probability, right or wrong but calibrated."""
    below = 0.5 * (1 + math.erf((math.log(sets) - ln_ceiling) / (world.sigma * math.sqrt(2))))
    failed = rng.random() < world.lapse + (1 - 2 * world.lapse) * below
    if math.isinf(world.clearness):
        return 0.0 if failed else 1.0
    half = world.clearness / 2
    evidence = rng.normal(-half if failed else half, 1.0)
    return 1 / (1 + math.exp(-2 * half * evidence))


def _note(score: CeilingScore, week: int, belief: CeilingBelief, ln_ceiling: float) -> None:
    score.squared.setdefault(week, []).append((belief.ln_mean - ln_ceiling) ** 2)
    low, high = math.log(belief.quantile(0.1)), math.log(belief.quantile(0.9))
    score.covered.setdefault(week, []).append(low <= ln_ceiling <= high)
