"""Is the review as sure as it should be? Blocks played week by week on simulated lifters.

Plan, a week of sets under a hidden truth, review, accept, next week. Each proposal's claim is
then looked up in the truth, and claims are counted by how sure the review said it was.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np

from blockwright.engine.planning import QUICK, compose
from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.review import (
    Offered,
    Proposal,
    Review,
    Verdict,
    WeekQuestion,
    review_roster,
    revised,
)
from blockwright.engine.strength.law import lift_prior
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    CheckIn,
    Entry,
    Gym,
    Lift,
    Lifter,
    Moment,
    SetDone,
    SetPlan,
    Slot,
    Week,
    effective_load_kg,
    written_load_kg,
)
from blockwright.engine.volume import planned_sets
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.trial.worlds import WORLDS, World

START = date(2027, 1, 4)
BODYWEIGHT_KG = 78.0
PRESS_ENDURANCE, PRESS_PHI = -0.1, 0.265
"""The worlds are those of a press; other lifts differ from it as the engine's priors say."""
KIT = frozenset({
    "bar", "squat rack", "bench", "incline bench", "cable", "dumbbells", "leg press",
    "leg curl", "leg extension",
})  # fmt: skip

WORLD_NAMES = ("own law", "restless strength", "foreign in everything")

NOT_RECOVERED = 0.02
"""ln capacity: a muscle that carries more than this into the next week has not recovered."""
KEPT_FROM_WEEK = 0.45
"""Share of what a muscle carries that is still there a week later."""
BINS = (0.0, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0)
LOADS = ("raise_load", "repeat_load", "lower_load")
SETS = ("add_set", "hold_sets", "trim_sets")
GROUPS: Mapping[str, tuple[str, ...]] = {
    "a raised load fits": ("raise_load",),
    "a repeated or lowered load fits": ("repeat_load", "lower_load"),
    "the muscle recovers from one set more": ("add_set",),
    "the muscle recovers from the same sets or fewer": ("hold_sets", "trim_sets"),
    "deload now: performance really is down": ("deload_now",),
    "one more week: all lead and normal muscles recover": ("extend_block",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class HardLife:
    """What the review's own law knows nothing of: how sets beyond a ceiling are carried over,
    and weeks in which life gets in the way. Inventions made to stress it (judgement)."""

    ceiling_sets: float = 16.0
    ceiling_ln_sd: float = 0.35
    cost_of_overshoot: float = 0.12
    """ln capacity for a week twice the ceiling, less for less."""
    bad_week_share: float = 0.06
    bad_week_cost: float = 0.05
    sore_answered: float = 0.6
    """How often the question about soreness is answered."""


@dataclass(slots=True)
class Person:
    """One simulated lifter, in motion."""

    name: str
    block: Block
    world: World
    life: HardLife
    rng: np.random.Generator
    ceilings: Mapping[str, float]
    carried: dict[str, float]
    """ln capacity each muscle carries as fatigue."""
    strength: dict[str, float] = field(default_factory=dict)
    """ln 1RM (effective kg) by lift."""
    steepness: dict[str, float] = field(default_factory=dict)
    bias: float = 0.0
    phi: float = 0.2
    sets: list[SetDone] = field(default_factory=list)
    checkins: list[CheckIn] = field(default_factory=list)
    bad_week: float = 0.0
    found: dict[tuple[int, str], float] = field(default_factory=dict)
    """Loads found by the lifter where the block had none, by session and lift."""
    levels: list[float] = field(default_factory=list)
    """True mean ln capacity over the lifts, week by week."""
    over: bool = False

    def weighed_down(self, muscle: str) -> bool:
        """Whether a muscle has not recovered, by its own sets or by a bad week."""
        return self.carried[muscle] + self.bad_week >= NOT_RECOVERED


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """A proposal's claim and whether it came true."""

    kind: str
    confidence: float
    true: bool


# ------------------------------------------------------------------------------------- playing


def played(world: World, life: HardLife, *, lifters: int, weeks: int, seed: int) -> Iterator[Claim]:
    """The claims of `lifters` people over `weeks` build weeks; every proposal is accepted."""
    policy, catalogue = default_policy(), builtin_catalogue()
    plan = compose(trial_lifter(weeks), catalogue, policy, budget=QUICK)
    people = [
        _person(number, plan, world, life, np.random.default_rng([seed, number]))
        for number in range(lifters)
    ]
    open_claims: list[tuple[Person, Proposal]] = []
    for number in range(1, weeks + 1):
        training = [person for person in people if not person.over]
        for person in training:
            _live(person, number, catalogue, policy)
        yield from _settled(open_claims, number, catalogue)
        through = START + timedelta(days=7 * number - 1)
        reviews = review_roster(
            [
                WeekQuestion(
                    block=person.block,
                    sets=person.sets,
                    checkins=person.checkins,
                    catalogue=catalogue,
                    policy=policy,
                    through=through,
                )
                for person in training
            ]
        )
        open_claims = []
        for person, review in zip(training, reviews, strict=True):
            yield from _settled_at_once(person, review)
            open_claims += [(person, proposal) for proposal in review.proposals]
            _accept(person, review, catalogue, policy)
    for person in people:
        if not person.over:
            _live(person, weeks + 1, catalogue, policy)
    yield from _settled(open_claims, weeks + 1, catalogue)


def trial_lifter(weeks: int) -> Lifter:
    """Four evenings a week and a plain gym."""
    return Lifter(
        name="Trial",
        bodyweight=BODYWEIGHT_KG,
        bodyweight_kg=BODYWEIGHT_KG,
        start=START,
        weeks=weeks,
        slots=tuple(
            Slot(day=day, start_minute=18 * 60, minutes=75) for day in ("mon", "tue", "thu", "fri")
        ),
        emphasis={"chest": "lead", "quads": "lead"},
        gym=Gym(kit=KIT, unit="kg"),
    )


def _person(
    number: int, plan: Block, world: World, life: HardLife, rng: np.random.Generator
) -> Person:
    name = f"Trial {number:03d}"
    middle = math.log(life.ceiling_sets)
    return Person(
        name=name,
        block=replace(plan, lifter=replace(plan.lifter, name=name)),
        world=world,
        life=life,
        rng=rng,
        ceilings={m: math.exp(rng.normal(middle, life.ceiling_ln_sd)) for m in MUSCLES},
        carried=dict.fromkeys(MUSCLES, 0.0),
        bias=float(max(rng.normal(world.rir_bias_mean, world.rir_bias_sd), -0.4)),
        phi=world.phi * math.exp(rng.normal(0.0, world.phi_ln_sd)),
    )


def _live(person: Person, number: int, catalogue: Catalogue, policy: Policy) -> None:
    """One week: train as planned, then carry over what was too much."""
    week = next((w for w in person.block.weeks if w.week == number), None)
    if week is None:
        person.over = True
        return
    bad = person.rng.random() < person.life.bad_week_share
    person.bad_week = person.life.bad_week_cost if bad else 0.5 * person.bad_week
    for session in week.sessions:
        day_effect = float(person.rng.normal(0.0, person.world.day_sd))
        _answer_soreness(person, session.day, session.entries, catalogue)
        for entry in session.entries:
            lift = catalogue.lifts[entry.lift]
            person.sets += _exercise(
                person, lift, entry, session.session, session.day, day_effect, policy
            )
    _recover(person, week, catalogue)
    lifts = {e.lift for s in week.sessions for e in s.entries}
    known = [_capacity(person, catalogue.lifts[lift]) for lift in sorted(lifts)]
    person.levels.append(float(np.mean(known)))
    person.over = week.kind == "deload"


def _recover(person: Person, week: Week, catalogue: Catalogue) -> None:
    counts = planned_sets((e for s in week.sessions for e in s.entries), catalogue)
    for muscle in MUSCLES:
        beyond = max(counts[muscle].fractional / person.ceilings[muscle] - 1.0, 0.0)
        carried = KEPT_FROM_WEEK * person.carried[muscle]
        person.carried[muscle] = carried + person.life.cost_of_overshoot * beyond
    for lift in person.strength:
        gain = 7 * float(person.rng.normal(person.world.drift_mean, person.world.drift_sd))
        wander = person.world.process_sd * math.sqrt(7)
        person.strength[lift] += gain + float(person.rng.normal(0.0, wander))


def _answer_soreness(
    person: Person, day: date, entries: Sequence[Entry], catalogue: Catalogue
) -> None:
    """An answer for the session's muscles: a weak sign of what is carried."""
    muscles = {m for entry in entries for m in catalogue.lifts[entry.lift].direct}
    for muscle in sorted(muscles):
        if person.rng.random() < person.life.sore_answered:
            feeling = 1.2 + 50 * person.carried[muscle] + person.rng.normal(0.0, 1.2)
            person.checkins.append(
                CheckIn(
                    moment=Moment(day=day),
                    measure="sore",
                    about=muscle,
                    value=float(min(max(round(feeling), 0), 10)),
                )
            )


def _capacity(person: Person, lift: Lift) -> float:
    """ln 1RM on the day, before the day's own effect: what the muscles carry is off."""
    carried = max((person.carried[m] for m in lift.direct), default=0.0)
    return _strength(person, lift) - carried - person.bad_week


def _strength(person: Person, lift: Lift) -> float:
    """The lifter's ln 1RM on a lift, drawn on first use."""
    if lift.name not in person.strength:
        middle = 70.0 if lift.compound else 25.0
        middle += lift.bodyweight_share * BODYWEIGHT_KG
        person.strength[lift.name] = float(person.rng.normal(math.log(middle), 0.25))
        world = person.world
        own = lift_prior(lift, default_policy()).endurance_mean - PRESS_ENDURANCE
        person.steepness[lift.name] = float(
            person.rng.normal(world.steepness_mean + own, world.steepness_sd)
        )
    return person.strength[lift.name]


def _exercise(
    person: Person,
    lift: Lift,
    entry: Entry,
    session: int,
    day: date,
    day_effect: float,
    policy: Policy,
) -> list[SetDone]:
    """The sets of one entry as the lifter does and logs them."""
    today = _capacity(person, lift) + day_effect + float(person.rng.normal(0.0, 0.008))
    share_of_press = lift_prior(lift, policy).phi / PRESS_PHI
    tired = person.world.fatigue(person.phi * share_of_press)
    done = []
    for number, planned in enumerate(entry.sets, start=1):
        load = planned.load_kg
        if load is None:
            load = _found_load(person, lift, planned, session, today, policy)
        if number > 1:
            tired.rest(float(entry.rest_s))
        effective = effective_load_kg(lift, load, BODYWEIGHT_KG) or 1.0
        share = effective / (math.exp(today) * tired.share_left())
        to_failure = person.world.curve(min(max(share, 0.05), 1.3), person.steepness[lift.name])
        to_failure *= tired.reps_share_left()
        wanted = to_failure - (1.0 + person.bias) * planned.rir
        reps = max(round(wanted + _noise(person, to_failure, planned.rir)), 0)
        tired.set_done(float(reps), max(to_failure, 0.0))
        done.append(_logged(person, lift, day, number, load, reps, planned.rir, entry.rest_s))
    return done


def _noise(person: Person, to_failure: float, rir: float) -> float:
    """Counting and judging noise in repetitions (SDs as in `strength.noise`)."""
    sd = math.hypot(0.55 + 0.022 * max(to_failure, 0.0), 0.35 + 0.30 * rir)
    if person.world.tail_freedom is None:
        return float(person.rng.normal(0.0, sd))
    return float(sd * person.rng.standard_t(person.world.tail_freedom))


def _found_load(
    person: Person, lift: Lift, planned: SetPlan, session: int, today: float, policy: Policy
) -> float:
    """A load that should allow the middle of the range, as a person finds it: off by 5 %."""
    key = (session, lift.name)
    if key not in person.found:
        shares = np.linspace(0.3, 1.0, 141)
        wanted = (planned.reps_low + planned.reps_high) / 2 + (1 + person.bias) * planned.rir
        reps = [person.world.curve(float(s), person.steepness[lift.name]) for s in shares]
        share = float(shares[int(np.argmin(np.abs(np.array(reps) - wanted)))])
        guess = math.exp(today + float(person.rng.normal(0.0, 0.05))) * share
        rack = rack_for(lift, person.block.lifter.gym, policy)
        written = written_load_kg(lift, guess, BODYWEIGHT_KG) or 0.0
        setting = rack.not_harder_than(max(written, 0.0)) or rack.easiest
        person.found[key] = setting.load_kg
    return person.found[key]


def _logged(
    person: Person,
    lift: Lift,
    day: date,
    number: int,
    load: float,
    reps: int,
    rir: float,
    rest_s: float,
) -> SetDone:
    missing = person.rng.random() < person.world.rir_missing_share
    return SetDone(
        moment=Moment(day=day),
        lift=lift.name,
        set_number=number,
        loads_kg=(load,),
        entered_load=f"{load:g}",
        entered_unit="kg",
        reps=(reps,),
        rir_low=None if missing else rir,
        rir_high=None if missing else rir,
        rest_s=float(rest_s) if number > 1 else None,
        row=len(person.sets) + number + 1,
    )


def _accept(person: Person, review: Review, catalogue: Catalogue, policy: Policy) -> None:
    verdicts = [
        Verdict(offered=_offered(p), verdict="accepted", to=p.after) for p in review.proposals
    ]
    person.block = revised(person.block, verdicts, review.cautions, catalogue, policy)


def _offered(proposal: Proposal) -> Offered:
    return Offered(
        id=proposal.id,
        kind=proposal.kind,
        week=proposal.week,
        session=proposal.session,
        lift=proposal.lift,
        muscle=proposal.muscle,
        before=proposal.before,
        after=proposal.after,
    )


# ---------------------------------------------------------------------------- claims and truth


def _settled_at_once(person: Person, review: Review) -> Iterator[Claim]:
    """The claim about what is already so: performance as a whole is lower than it was."""
    for proposal in review.proposals:
        if proposal.kind == "deload_now" and len(person.levels) > 1:
            before = float(np.mean(person.levels[:-1]))
            down = person.levels[-1] < before
            yield Claim(kind="deload_now", confidence=proposal.confidence, true=down)


def _settled(
    claims: Sequence[tuple[Person, Proposal]], week: int, catalogue: Catalogue
) -> Iterator[Claim]:
    """Claims about the week that has now been lived."""
    for person, proposal in claims:
        true = _came_true(person, proposal, week, catalogue)
        if true is not None:
            yield Claim(kind=proposal.kind, confidence=proposal.confidence, true=true)


def _came_true(person: Person, proposal: Proposal, week: int, catalogue: Catalogue) -> bool | None:
    if proposal.kind in LOADS:
        return _fitted(person, proposal, week)
    if proposal.kind in SETS and proposal.muscle is not None:
        return not person.weighed_down(proposal.muscle)
    if proposal.kind == "extend_block":
        planned = {m for s in person.block.weeks[-2].sessions for e in s.entries
                   for m in catalogue.lifts[e.lift].direct}  # fmt: skip
        return not any(person.weighed_down(m) for m in planned)
    return None


def _fitted(person: Person, proposal: Proposal, week: int) -> bool | None:
    """Whether the first set of the entry reached the bottom of its range."""
    found = next((w for w in person.block.weeks if w.week == week), None)
    if found is None or found.kind != "build":
        return None
    for session in found.sessions:
        for entry in session.entries:
            if session.session == proposal.session and entry.lift == proposal.lift:
                for done in person.sets:
                    same = done.moment.day == session.day and done.lift == entry.lift
                    if same and done.set_number == 1:
                        return done.first_reps >= entry.sets[0].reps_low
    return None


# --------------------------------------------------------------------------------- the section


def review_study() -> str:
    """The calibration table, as markdown."""
    return calibration_page(lifters=32, weeks=6, seed=20270104)


def calibration_page(*, lifters: int, weeks: int, seed: int) -> str:
    """How sure, how true, by kind of claim, under laws near the engine's and far from them."""
    worlds = [world for world in WORLDS if world.name in WORLD_NAMES]
    parts = [
        f"{lifters} simulated lifters play a block of {weeks} build weeks, four sessions a week, "
        "every proposal accepted. Sets beyond a hidden ceiling are carried into the next week by "
        "a law the review does not know; some weeks are bad for other reasons; soreness is "
        "answered six times in ten. Intervals are 95 % (Wilson); claims of one lifter are not "
        "independent, so the true ones are wider."
    ]
    for world in worlds:
        claims = list(played(world, HardLife(), lifters=lifters, weeks=weeks, seed=seed))
        parts += [f"### {world.name}", calibration_table(claims)]
    return "\n\n".join(parts)


def calibration_table(claims: Sequence[Claim]) -> str:
    """A markdown table: claims by kind and by how sure the review was."""
    rows = ["| claim | said | n | came true | 95 % |", "|---|---|---|---|---|"]
    for group, kinds in GROUPS.items():
        mine = [claim for claim in claims if claim.kind in kinds]
        for low, high in pairwise(BINS):
            here = [c for c in mine if low <= c.confidence < high or c.confidence == high == 1.0]
            if here:
                rows.append(_row(f"{group}, {low:.1f} to {high:.1f}", here))
        if mine:
            rows.append(_row(f"**{group}, all**", mine))
    return "\n".join(rows)


def _row(name: str, claims: Sequence[Claim]) -> str:
    count, true = len(claims), sum(claim.true for claim in claims)
    said = sum(claim.confidence for claim in claims) / count
    low, high = wilson(true, count)
    return f"| {name} | {said:.2f} | {count} | {true / count:.2f} | {low:.2f} to {high:.2f} |"


def wilson(true: int, count: int, z: float = 1.96) -> tuple[float, float]:
    """Wilson's interval of a share. Wilson 1927, J Am Stat Assoc 22:209."""
    share = true / count
    middle = (share + z * z / (2 * count)) / (1 + z * z / count)
    half = (
        z
        / (1 + z * z / count)
        * math.sqrt(share * (1 - share) / count + z * z / (4 * count * count))
    )
    return max(middle - half, 0.0), min(middle + half, 1.0)
