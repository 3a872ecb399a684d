"""Four ways of running the same blocks, on the same lifters under a law none of them knows.

The review with every proposal accepted, the block as composed, one set more a week for every
muscle, and the two-for-two rule for loads. What came of it is counted in `policy_scores`.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta

import numpy as np

from blockwright.engine.planning import QUICK, compose
from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    Lifter,
    Slot,
    Week,
)
from blockwright.engine.volume import ceiling_prior, planned_sets
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from studies.cases import case_of
from studies.policy_scores import (
    ANSWER_WEEKS,
    FALL,
    STEADY,
    LivedWeek,
    Played,
    difference_table,
    score_table,
)
from studies.policy_ways import WAYS, Way, loads_written
from studies.simulate_block import (
    KEPT_FROM_WEEK,
    NOT_RECOVERED,
    START,
    HardLife,
    Person,
    accept,
    capacity,
    live,
    person_of,
    review_roster,
    trial_lifter,
)
from studies.worlds import WORLDS, World

WEEKS, LIFTERS = 6, 48
MOST_WEEKS = 12
"""No block is played for longer, whatever is proposed."""


# ------------------------------------------------------------------------------ the hidden truth


@dataclass(frozen=True, slots=True, kw_only=True)
class Truth:
    """How lifters really recover and grow. Inventions, unlike the engine's law on purpose."""

    name: str
    middle: float = 1.0
    """The middle of the true ceilings, as a share of the middle the engine expects."""
    own_ln_sd: float = 0.34
    common_ln_sd: float = 0.29
    """Spread of ln C by muscle, and common to a lifter's muscles: 0.45 together, as the engine
    believes, though it takes muscles one by one."""
    blur_sets: float = 1.5
    """P(not recovered) = 1 / (1 + exp((C - s) / blur)): logistic in sets."""
    least_cost: float = 0.025
    """ln capacity that a week not recovered from leaves behind, at least."""
    half_gain_sets: float = 8.0
    """A recovered week gains 2 s / (s + half) of the world's drift; another gains nothing."""

    def carried_over(self, sets: float, ceiling: float, chance: float, life: HardLife) -> float:
        """ln capacity that a week of `sets` leaves behind; `chance` is uniform in 0 to 1."""
        away = min(max((ceiling - sets) / self.blur_sets, -50.0), 50.0)
        if chance >= 1.0 / (1.0 + math.exp(away)):
            return 0.0
        return self.least_cost + life.cost_of_overshoot * max(sets / ceiling - 1.0, 0.0)


TRUTHS = (
    Truth(name="True ceilings spread about where the engine expects them"),
    Truth(name="True ceilings a third lower than the engine expects", middle=0.67),
)


@dataclass(slots=True)
class HiddenLife:
    """One lifter's truth from week to week, and the record of it.

    The chance of a week is drawn from the lifter's number and the week's alone, so that ways of
    running the block are compared on the same luck.
    """

    truth: Truth
    seed: int
    number: int
    weeks: list[LivedWeek] = field(default_factory=list)

    def __call__(self, person: Person, week: Week, catalogue: Catalogue) -> None:
        """Records what the week really was, then changes what is carried and how strong one is."""
        rng = np.random.default_rng([self.seed, self.number, week.week, 1])
        counts = planned_sets((e for s in week.sessions for e in s.entries), catalogue)
        sets = {muscle: counts[muscle].fractional for muscle in MUSCLES}
        before = {lift: capacity(person, catalogue.lifts[lift]) for lift in sorted(person.strength)}
        for muscle, chance in zip(MUSCLES, rng.random(len(MUSCLES)).tolist(), strict=True):
            over = self.truth.carried_over(
                sets[muscle], person.ceilings[muscle], chance, person.life
            )
            person.carried[muscle] = KEPT_FROM_WEEK * person.carried[muscle] + over
        self._grow(person, sets, catalogue, rng)
        self.weeks.append(
            LivedWeek(
                number=week.week,
                kind=week.kind,
                sets=sets,
                capacity=before,
                weighed_down=frozenset(m for m in MUSCLES if person.weighed_down(m)),
                strength=dict(person.strength),
            )
        )

    def _grow(
        self,
        person: Person,
        sets: Mapping[str, float],
        catalogue: Catalogue,
        rng: np.random.Generator,
    ) -> None:
        world = person.world
        for lift in sorted(person.strength):
            usual = 7 * float(rng.normal(world.drift_mean, world.drift_sd))
            wander = float(rng.normal(0.0, world.process_sd * math.sqrt(7)))
            shares = [
                0.0
                if person.carried[muscle] >= NOT_RECOVERED
                else 2.0 * sets[muscle] / (sets[muscle] + self.truth.half_gain_sets)
                for muscle in catalogue.lifts[lift].direct
            ]
            person.strength[lift] += usual * float(np.mean(shares or [1.0])) + wander


# --------------------------------------------------------------------------------------- playing


def setups(weeks: int) -> tuple[Lifter, ...]:
    """Three lifters' weeks: four evenings, three evenings while eating too little, five short
    ones."""
    usual = trial_lifter(weeks)
    return (
        usual,
        replace(
            usual,
            slots=_slots(("mon", "wed", "fri"), 70),
            emphasis={"lats": "lead", "glutes": "lead"},
            energy="deficit",
        ),
        replace(
            usual,
            slots=_slots(("mon", "tue", "wed", "fri", "sat"), 60),
            emphasis={"upper_back": "lead", "side_delts": "lead", "hamstrings": "lead"},
        ),
    )


def _slots(days: Sequence[str], minutes: int) -> tuple[Slot, ...]:
    return tuple(Slot(day=day, start_minute=18 * 60, minutes=minutes) for day in days)


def composed(lifters: Sequence[Lifter]) -> tuple[Block, ...]:
    """The blocks, each composed once and shared by every way."""
    return tuple(
        compose(lifter, builtin_catalogue(), default_policy(), budget=QUICK) for lifter in lifters
    )


def trained(
    way: Way, blocks: Sequence[Block], truth: Truth, world: World, *, lifters: int, seed: int
) -> tuple[Played, ...]:
    """What `way` did to `lifters` people, who take the blocks in turn."""
    catalogue, policy = builtin_catalogue(), default_policy()
    if way.rule is not None:
        policy = policy.overridden({"review.load.rule": way.rule}, "coach")
    people = [
        _person(number, blocks[number % len(blocks)], truth, world, policy, seed)
        for number in range(lifters)
    ]
    lives = [HiddenLife(truth, seed, number) for number in range(lifters)]
    proposed: list[list[tuple[int, str, str | None]]] = [[] for _ in people]
    for person in people:
        if way.changes is not None:
            person.block = way.changes(person.block, catalogue)
    for week in range(1, MOST_WEEKS + 1):
        for number, person in enumerate(people):
            if not person.over:
                person.rng = np.random.default_rng([seed, number, week, 2])
                live(person, week, catalogue, policy, lives[number])
                if week == 1 and not way.reviews:
                    person.block = loads_written(person, catalogue, policy)
        if way.reviews:
            _review(way, people, proposed, week, catalogue, policy)
    return tuple(
        Played(person=person, weeks=tuple(life.weeks), proposed=tuple(offers))
        for person, life, offers in zip(people, lives, proposed, strict=True)
    )


def _person(
    number: int, block: Block, truth: Truth, world: World, policy: Policy, seed: int
) -> Person:
    rng = np.random.default_rng([seed, number])
    person = person_of(number, block, world, HardLife(), rng)
    common = float(rng.normal(0.0, truth.common_ln_sd))
    lifter = block.lifter
    person.ceilings = {
        muscle: truth.middle
        * math.exp(
            ceiling_prior(muscle, lifter.experience, lifter.energy, policy).prior_ln_mean
            + common
            + float(rng.normal(0.0, truth.own_ln_sd))
        )
        for muscle in MUSCLES
    }
    return person


def _review(
    way: Way,
    people: Sequence[Person],
    proposed: Sequence[list[tuple[int, str, str | None]]],
    week: int,
    catalogue: Catalogue,
    policy: Policy,
) -> None:
    """The week's reviews; what the way accepts is carried out and noted."""
    training = [(n, person) for n, person in enumerate(people) if not person.over]
    through = START + timedelta(days=7 * week - 1)
    reviews = review_roster(
        [
            case_of(person.block, person.sets, person.checkins, catalogue, policy)
            for _, person in training
        ],
        through,
    )
    for (number, person), review in zip(training, reviews, strict=True):
        proposed[number] += [
            (week, p.kind, p.muscle)
            for p in review.proposals
            if way.accepts is None or p.kind in way.accepts
        ]
        accept(person, review, catalogue, policy, way.accepts)


# ------------------------------------------------------------------------------------ the section


def policy_study() -> str:
    """The tables, as markdown. About two minutes."""
    world = next(world for world in WORLDS if world.name == "foreign in everything")
    return policy_page(composed(setups(WEEKS)), TRUTHS, world, lifters=LIFTERS, seed=20270104)


def policy_page(
    blocks: Sequence[Block], truths: Sequence[Truth], world: World, *, lifters: int, seed: int
) -> str:
    """Each truth's table of scores and of differences from our review."""
    parts = [_what_was_done(lifters, len(blocks))]
    for truth in truths:
        played = {
            way.name: trained(way, blocks, truth, world, lifters=lifters, seed=seed) for way in WAYS
        }
        parts += [f"### {truth.name}", score_table(played), difference_table(played)]
    return "\n\n".join([*parts, CANNOT_SAY])


def _what_was_done(lifters: int, blocks: int) -> str:
    usual = Truth(name="")
    life = HardLife()
    return (
        f"{lifters} simulated lifters, each running one block four ways: {blocks} blocks of "
        f"{WEEKS} build weeks and a deload (three, four and five sessions a week), each composed "
        "once and shared. *Our review*: every proposal accepted, early deloads and extra weeks "
        "too. *Fixed plan*: the block as composed, its sets climbing as planned, loads found in "
        "week one and carried on by the planner's own forecast. *Plus one set a week*: as the "
        "fixed plan, but from week two each muscle gains a direct set a week, session limits or "
        "not, and the deload stays at the end. *Two-for-two*: sets as planned, loads by "
        "`review.load.rule = two_for_two`, nothing else accepted; its sets are the fixed plan's, "
        "so rows that follow from sets are equal.\n\n"
        "The law, which no way knows: strength by the world *foreign in everything* (another "
        "curve, another fatigue law, heavy tails, typing errors and light days left out); true "
        f"ceilings are drawn about the middle named, ln SD {usual.own_ln_sd} by muscle and "
        f"{usual.common_ln_sd} common to a lifter's muscles; a week of s sets is not recovered "
        f"from with probability 1 / (1 + exp((C - s) / {usual.blur_sets})) and then leaves "
        f"{usual.least_cost} of ln capacity behind and {life.cost_of_overshoot} more for each "
        f"ceiling's worth of excess, {KEPT_FROM_WEEK} of it still there a week later; a "
        f"recovered week gains as 2 s / (s + {usual.half_gain_sets:g}) of the world's drift, one "
        f"not recovered from gains nothing; {life.bad_week_share:.0%} of weeks are bad for no "
        f"reason of training ({life.bad_week_cost} of ln capacity); soreness is answered "
        f"{life.sore_answered:.0%} of the time. Effort follows the plan's RIR, misjudged as people "
        "misjudge it. All of these figures are inventions (judgement).\n\n"
        f"A *decline* begins when the true level (mean over lifts) lies {FALL:.0%} or more under "
        "its best earlier build week; it is *missed* when neither a deload nor, for a muscle, "
        f"fewer sets follow within {ANSWER_WEEKS} weeks (six to ten sessions); the "
        "scheduled deload counts as an answer for every way. *Nothing fell*: less than "
        f"{STEADY:.0%} under the best, and nothing carried. The band lies between the floor and "
        "the true ceiling; all sixteen muscles count. Intervals are 95 %, lifters resampled; the "
        "second table pairs lifters on the same luck. 0 (0 to 0) says that nothing was seen, not "
        "that it cannot happen."
    )


CANNOT_SAY = (
    "What cannot be concluded. These lifters are ours, and the law, though not the engine's, was "
    "written by the same hands: a table like this shows how ways of deciding behave when something "
    "of this kind is true, not what they do to people. Gain does not depend on the load in this "
    "law (effort does), so load on the bar says how a way moves loads, not what it is worth; and a "
    "way that raises loads as the block asks for less in reserve, or from the middle of a range "
    "to its bottom, is given credit for that too. Gain from more sets is built in with one "
    "flattening curve, when the literature does not agree on any; a steeper one would favour the "
    "ways that add most. The fixed plan is our own composer's, already held under the ceilings it "
    "expects, which is a better plan than many; the ramp is cruder than a coach would run it. A "
    "decline that a bad week brings counts like one that training brings, though fewer sets would "
    "not have prevented it. Accepting every proposal is no coach either. One block says nothing of "
    "years."
)
