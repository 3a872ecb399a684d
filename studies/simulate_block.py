"""Simulated lifters who train a block week by week under a hidden truth the review cannot see.

The harness of the studies of the review: a person, a week of sets as logged, what is carried
over into the next week, and a coach who accepts proposals.
"""

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date, timedelta
from types import MappingProxyType
from typing import Protocol

import numpy as np

from blockwright.demo.laws import Today, counting_noise
from blockwright.engine.case import CoachCase, together
from blockwright.engine.gym import Gym
from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.review import Offered, Proposal, Review, Verdict, review, revised
from blockwright.engine.review.exposures import window_of
from blockwright.engine.review.proposals import Change
from blockwright.engine.strength.law import lift_prior
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    CheckIn,
    Entry,
    Lift,
    Lifter,
    Moment,
    Session,
    SetDone,
    SetPlan,
    Slot,
    Week,
    effective_load_kg,
    written_load_kg,
)
from blockwright.engine.volume import planned_sets
from blockwright.files.policy_files import default_policy
from studies.worlds import World

START = date(2027, 1, 4)
BODYWEIGHT_KG = 78.0
PRESS_ENDURANCE, PRESS_PHI = -0.1, 0.265
"""The worlds are those of a press; other lifts differ from it as the engine's priors say."""
KIT = frozenset({
    "bar", "squat rack", "bench", "incline bench", "cable", "dumbbells", "leg press",
    "leg curl", "leg extension",
})  # fmt: skip

NOT_RECOVERED = 0.02
"""ln capacity: a muscle that carries more than this into the next week has not recovered."""
KEPT_FROM_WEEK = 0.45
"""Share of what a muscle carries that is still there a week later."""


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


def person_of(
    number: int, plan: Block, world: World, life: HardLife, rng: np.random.Generator
) -> Person:
    """A person about to begin `plan`; ceilings and habits are drawn from `rng`."""
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


class Followed(Protocol):
    """A lift of a sheet: its sets as printed, and the load it advises after some of them."""

    @property
    def sets(self) -> Sequence[SetPlan]: ...

    def load_after(self, done: Sequence[SetDone]) -> float | None: ...


Recovery = Callable[[Person, Week, Catalogue], None]
"""Called when a week has been trained: changes what the person carries and how strong they are."""


def live(
    person: Person,
    number: int,
    catalogue: Catalogue,
    policy: Policy,
    recovery: Recovery | None = None,
) -> None:
    """One week: train as planned, then carry over what was too much, by `recover` unless told
    otherwise. A week the block does not have ends the person's block."""
    week = next((w for w in person.block.weeks if w.week == number), None)
    if week is None:
        person.over = True
        return
    begin_week(person)
    for session in week.sessions:
        train(person, session, catalogue, policy)
    end_week(person, week, catalogue, recovery)


def begin_week(person: Person) -> None:
    """Life may get in the way of it."""
    bad = person.rng.random() < person.life.bad_week_share
    person.bad_week = person.life.bad_week_cost if bad else 0.5 * person.bad_week


def train(
    person: Person,
    session: Session,
    catalogue: Catalogue,
    policy: Policy,
    follow: Mapping[str, "Followed"] = MappingProxyType({}),
) -> None:
    """One session: by the block's loads, of a lift in `follow` by a sheet and its advice."""
    day_effect = float(person.rng.normal(0.0, person.world.day_sd))
    _answer_soreness(person, session.day, session.entries, catalogue)
    for entry in session.entries:
        lift = catalogue.lifts[entry.lift]
        sheet = follow.get(entry.lift)
        person.sets += _exercise(
            person, lift, entry, session.session, session.day, day_effect, policy, sheet
        )


def end_week(
    person: Person, week: Week, catalogue: Catalogue, recovery: Recovery | None = None
) -> None:
    """What the week leaves behind."""
    (recovery or recover)(person, week, catalogue)
    lifts = {e.lift for s in week.sessions for e in s.entries}
    known = [capacity(person, catalogue.lifts[lift]) for lift in sorted(lifts)]
    person.levels.append(float(np.mean(known)))
    person.over = week.kind == "deload"


def recover(person: Person, week: Week, catalogue: Catalogue) -> None:
    """Sets beyond a ceiling are carried in proportion; strength drifts whatever was done."""
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


def capacity(person: Person, lift: Lift) -> float:
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
    sheet: "Followed | None",
) -> list[SetDone]:
    """The sets of one entry as the lifter does and logs them."""
    today = _today(
        person, lift, capacity(person, lift) + day_effect + float(person.rng.normal(0.0, 0.008))
    )
    done: list[SetDone] = []
    for number, planned in enumerate(entry.sets if sheet is None else sheet.sets, start=1):
        load = planned.load_kg if sheet is None or not done else sheet.load_after(done)
        if load is None:
            load = _found_load(person, lift, planned, session, today, policy)
        if number > 1:
            today.tired.rest(float(entry.rest_s))
        to_failure = today.reps_to_failure(effective_load_kg(lift, load, BODYWEIGHT_KG) or 1.0)
        wanted = today.reps_wanted(to_failure, planned.rir)
        reps = max(round(wanted + _noise(person, to_failure, planned.rir)), 0)
        today.tired.set_done(float(reps), max(to_failure, 0.0))
        done.append(_logged(person, lift, day, number, load, reps, planned.rir, entry.rest_s))
    return done


def _today(person: Person, lift: Lift, ln_one_rm: float) -> Today:
    """The lift as `capacity` has drawn it; the policy's fatigue of it beside a press's."""
    share_of_press = lift_prior(lift, default_policy()).phi / PRESS_PHI
    tired = person.world.fatigue(person.phi * share_of_press)
    steepness = person.steepness[lift.name]
    return Today(person.world.curve, steepness, ln_one_rm, person.bias, tired)


def _noise(person: Person, to_failure: float, rir: float) -> float:
    """Counting and judging noise in repetitions (SDs as in `strength.noise`)."""
    sd = person.world.noise * math.hypot(0.55 + 0.022 * max(to_failure, 0.0), 0.35 + 0.30 * rir)
    return counting_noise(person.rng, sd, person.world.tail_freedom)


def _found_load(
    person: Person, lift: Lift, planned: SetPlan, session: int, today: Today, policy: Policy
) -> float:
    """A load that should allow the middle of the range, as a person finds it: off by 5 %."""
    key = (session, lift.name)
    if key not in person.found:
        middle = (planned.reps_low + planned.reps_high) / 2
        guess = math.exp(float(person.rng.normal(0.0, 0.05)))
        guess *= today.load_for(middle, planned.rir, 0.3)
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


def review_roster(cases: Sequence[CoachCase], through: date) -> tuple[Review, ...]:
    """Every case's review, as `review` gives it, in much less time than one by one."""
    known = [case.until(through) for case in cases]
    together(known, through)
    weeks: dict[date, list[CoachCase]] = {}
    for case in known:
        window = None if case.block is None else window_of(case.block, case.sets, through)
        if window is not None:
            weeks.setdefault(window.start - timedelta(days=1), []).append(case)
    for eve, members in weeks.items():
        together(members, eve)
    return tuple(review(case, through) for case in known)


def accept(
    person: Person,
    found: Review,
    catalogue: Catalogue,
    policy: Policy,
    kinds: Collection[str] | None = None,
) -> None:
    """Every proposal of `kinds` (of any kind without it) is accepted; the others are left open."""
    verdicts = [
        Verdict(offered=_offered(p), verdict="accepted", to=p.after)
        for p in found.proposals
        if kinds is None or p.kind in kinds
    ]
    person.block = revised(person.block, verdicts, found.cautions, catalogue, policy)


def _offered(proposal: Proposal) -> Offered:
    return Offered(**{each.name: getattr(proposal, each.name) for each in fields(Change)})
