"""Is the review as sure as it should be? Blocks played week by week on simulated lifters.

Plan, a week of sets under a hidden truth, review, accept, next week. Each proposal's claim is
then looked up in the truth, and claims are counted by how sure the review said it was.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

import numpy as np

from blockwright.engine.planning import QUICK, compose
from blockwright.engine.review import Proposal, Review
from blockwright.engine.training import Catalogue
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from studies.cases import case_of
from studies.simulate_block import (
    START,
    HardLife,
    Person,
    accept,
    live,
    person_of,
    review_roster,
    trial_lifter,
)
from studies.worlds import WORLDS, World

WORLD_NAMES = ("own law", "restless strength", "foreign in everything")

BINS = tuple(tenth / 10 for tenth in range(11))
ENOUGH, NEAR = 100, 0.03
"""A tenth with so many claims is asked to come true within so much of what was said."""
FAR = "raise_far"
"""A raise by a step of the kit that is longer than the longest usual one."""
LOADS = ("raise_load", "lower_load")
SETS = ("add_set", "trim_sets")
WEEKS = ("light_week", "deload_now")
GROUPS: Mapping[str, tuple[str, ...]] = {
    "a raised load fits": ("raise_load", FAR),
    "of these, steps of the kit over 10 %": (FAR,),
    "a lowered load fits": ("lower_load",),
    "the muscle recovers from one set more": ("add_set",),
    "the muscle recovers from fewer sets": ("trim_sets",),
    "a weak week: performance really is down": ("light_week",),
    "deload now: performance really is down": ("deload_now",),
    "one more week: all lead and normal muscles recover": ("extend_block",),
}


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
        person_of(number, plan, world, life, np.random.default_rng([seed, number]))
        for number in range(lifters)
    ]
    open_claims: list[tuple[Person, Proposal]] = []
    for number in range(1, weeks + 1):
        training = [person for person in people if not person.over]
        for person in training:
            live(person, number, catalogue, policy)
        yield from _settled(open_claims, number, catalogue)
        through = START + timedelta(days=7 * number - 1)
        reviews = review_roster(
            [
                case_of(person.block, person.sets, person.checkins, catalogue, policy)
                for person in training
            ],
            through,
        )
        open_claims = []
        for person, review in zip(training, reviews, strict=True):
            yield from _settled_at_once(person, review)
            open_claims += [(person, proposal) for proposal in review.proposals]
            accept(person, review, catalogue, policy)
    for person in people:
        if not person.over:
            live(person, weeks + 1, catalogue, policy)
    yield from _settled(open_claims, weeks + 1, catalogue)


# ---------------------------------------------------------------------------- claims and truth


def _settled_at_once(person: Person, review: Review) -> Iterator[Claim]:
    """The claim about what is already so: performance as a whole is lower than it was."""
    for proposal in review.proposals:
        if proposal.kind in WEEKS and len(person.levels) > 1:
            down = person.levels[-1] < float(np.mean(person.levels[:-1]))
            yield Claim(kind=proposal.kind, confidence=proposal.confidence, true=down)


def _settled(
    claims: Sequence[tuple[Person, Proposal]], week: int, catalogue: Catalogue
) -> Iterator[Claim]:
    """Claims about the week that has now been lived."""
    for person, proposal in claims:
        true = _came_true(person, proposal, week, catalogue)
        if true is not None:
            far = any(reason.code == "smallest_step" for reason in proposal.reasons)
            kind = FAR if far else proposal.kind
            yield Claim(kind=kind, confidence=proposal.confidence, true=true)


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
        "independent, so the true ones are wider. Target: every tenth with "
        f"{ENOUGH} or more comes true within {NEAR} of what was said."
    ]
    for world in worlds:
        claims = list(played(world, HardLife(), lifters=lifters, weeks=weeks, seed=seed))
        said = f"Missed under {world.name}: {missed_tenths(claims)}."
        parts += [f"### {world.name}", calibration_table(claims), said]
    return "\n\n".join(parts)


def calibration_table(claims: Sequence[Claim]) -> str:
    """A markdown table: claims by kind and by how sure the review was."""
    rows = ["| claim | said | n | came true | 95 % |", "|---|---|---|---|---|"]
    for group, kinds in GROUPS.items():
        mine = [claim for claim in claims if claim.kind in kinds]
        rows += [_row(f"{group}, {low:.1f} to {high:.1f}", here)
                 for (low, high), here in _tenths(mine)]  # fmt: skip
        if mine:
            rows.append(_row(f"**{group}, all**", mine))
    return "\n".join(rows)


def missed_tenths(claims: Sequence[Claim]) -> str:
    """The tenths with enough claims that came true further from what was said than asked."""
    found = []
    for group, kinds in GROUPS.items():
        for (low, high), here in _tenths([claim for claim in claims if claim.kind in kinds]):
            said = sum(claim.confidence for claim in here) / len(here)
            true = sum(claim.true for claim in here) / len(here)
            if len(here) >= ENOUGH and round(abs(said - true), 2) > NEAR:
                found.append(
                    f"{group}, {low:.1f} to {high:.1f}, {true:.2f} of {len(here)} (said {said:.2f})"
                )
    return "; ".join(found) or "nothing"


def _tenths(claims: Sequence[Claim]) -> Iterator[tuple[tuple[float, float], Sequence[Claim]]]:
    """The claims of every tenth that has some."""
    for low, high in pairwise(BINS):
        here = [c for c in claims if low <= c.confidence < high or c.confidence == high == 1.0]
        if here:
            yield (low, high), here


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
