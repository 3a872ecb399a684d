"""Replans one session of a block: short of time, missed, a lift that is not there, soreness."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from blockwright.engine.day_sheet import session_on
from blockwright.engine.errors import BadInput
from blockwright.engine.planning.replan import replan
from blockwright.engine.planning.trouble import Trouble
from blockwright.engine.policy import Policy
from blockwright.engine.review.swaps import alternatives_for_pain, sparing_region
from blockwright.engine.training import MUSCLES, REGIONS, Block, Catalogue, Lifter
from blockwright.files.block_json import read_block, unknown_lifts
from blockwright.files.catalogue import catalogue_for
from blockwright.files.near import did_you_mean
from blockwright.files.policy_files import block_policy, under_coach


def replan_block(
    file: Path,
    day: date,
    session: int | None = None,
    *,
    minutes: int | None = None,
    missed: bool = False,
    without: Sequence[str] = (),
    sore: Sequence[str] = (),
    hurts: Sequence[str] = (),
    region: str = "",
    coach: Path | None = None,
) -> Block:
    """The next revision of the block; `region` is where it hurts, "" when nobody said. Raises
    BadInput naming the option and the mend."""

    _check_one(minutes, missed, without, sore, hurts)
    if region and not hurts:
        mend = "name what hurts with --hurts"
        raise BadInput.of("no lift is said to hurt", mend, column="--region")
    block = under_coach(read_block(file), coach)
    unknown = unknown_lifts(block, file.name)
    if unknown:
        raise BadInput(unknown)
    catalogue = catalogue_for(block.lifter)
    found = session_on(block, day, session)
    trouble = Trouble(
        week=found.week.week,
        session=found.session.session,
        minutes=minutes,
        missed=missed,
        without=tuple(_lift(name, catalogue, "--without") for name in without),
        sore=tuple(_known(name, MUSCLES, "--sore", "muscle") for name in sore),
        hurts=tuple(_lift(name, catalogue, "--hurts") for name in hurts),
        region=_known(region, REGIONS, "--region", "place") if region else "",
    )
    policy = block_policy(block)
    trouble = with_stand_ins(trouble, block.lifter, catalogue, policy)
    return replan(block, trouble, catalogue, policy)


def _check_one(minutes: int | None, *others: object) -> None:
    """Exactly one kind of trouble, and minutes that are some."""
    if sum([minutes is not None, *map(bool, others)]) != 1:
        raise BadInput.of(
            "one of --minutes, --missed, --without, --sore and --hurts is needed, and only one",
            "run it once for each",
        )
    if minutes is not None and minutes < 1:
        raise BadInput.of(
            f"{minutes} minutes is no time",
            "use --missed when there is no session at all",
            column="--minutes",
        )


def _lift(name: str, catalogue: Catalogue, column: str) -> str:
    lift = catalogue.find(name)
    if lift is None:
        raise BadInput.of(
            f'there is no lift called "{name}"',
            did_you_mean(name, catalogue.lifts, "see `blockwright lifts`"),
            column=column,
        )
    return lift.name


def _known(name: str, words: Sequence[str], column: str, what: str) -> str:
    """The one of `words` that is meant."""
    word = name.strip().lower().replace(" ", "_").replace("-", "_")
    if word not in words:
        mend = did_you_mean(word, words, "use one of: " + ", ".join(words))
        raise BadInput.of(f'there is no {what} called "{name}"', mend, column=column)
    return word


def with_stand_ins(
    trouble: Trouble, lifter: Lifter, catalogue: Catalogue, policy: Policy
) -> Trouble:
    """The trouble with the lifts that spare what hurts, as far as the catalogue knows; few where
    nobody said which place does, often none."""
    found: list[str] = []
    for name in trouble.hurts:
        lift = catalogue.find(name)
        if lift is None:
            continue
        if trouble.region:
            fit = sparing_region(lift, trouble.region, catalogue, lifter)
        else:
            fit = alternatives_for_pain(lift, catalogue, lifter, policy, avoid=trouble.hurts).lifts
        found += [other.name for other in fit]
    return replace(trouble, stand_ins=tuple(dict.fromkeys(found)))
