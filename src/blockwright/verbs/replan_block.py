"""Replans one session of a block: short of time, missed, a lift that is not there, soreness."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from blockwright.engine.day_sheet import session_on
from blockwright.engine.errors import BadInput
from blockwright.engine.training import MUSCLES, REGIONS, Block, Catalogue
from blockwright.files.block_json import read_block, unknown_lifts
from blockwright.files.catalogue import catalogue_for
from blockwright.files.near import did_you_mean
from blockwright.files.policy_files import block_policy, under_coach


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplanQuestion:
    """What happened, as asked on the command line."""

    block: Path
    day: date
    session: int | None = None
    minutes: int | None = None
    missed: bool = False
    without: Sequence[str] = ()
    sore: Sequence[str] = ()
    hurts: Sequence[str] = ()
    region: str = ""
    """Where it hurts; "" when nobody said."""
    coach: Path | None = None


def replan_block(question: ReplanQuestion) -> Block:
    """The next revision of the block. Raises BadInput naming the option and the mend."""
    from blockwright.engine.planning.replan import replan
    from blockwright.engine.planning.trouble import Trouble
    from blockwright.verbs.pain_substitutes import with_stand_ins

    _check_one(question)
    block = under_coach(read_block(question.block), question.coach)
    unknown = unknown_lifts(block, question.block.name)
    if unknown:
        raise BadInput(unknown)
    catalogue = catalogue_for(block.lifter)
    found = session_on(block, question.day, question.session)
    trouble = Trouble(
        week=found.week.week,
        session=found.session.session,
        minutes=question.minutes,
        missed=question.missed,
        without=tuple(_lift(name, catalogue, "--without") for name in question.without),
        sore=tuple(_known(name, MUSCLES, "--sore", "muscle") for name in question.sore),
        hurts=tuple(_lift(name, catalogue, "--hurts") for name in question.hurts),
        region=_known(question.region, REGIONS, "--region", "place") if question.region else "",
    )
    policy = block_policy(block)
    trouble = with_stand_ins(trouble, block.lifter, catalogue, policy)
    return replan(block, trouble, catalogue, policy)


def _check_one(question: ReplanQuestion) -> None:
    """Exactly one kind of trouble, and minutes that are some."""
    given = [
        question.minutes is not None,
        question.missed,
        bool(question.without),
        bool(question.sore),
        bool(question.hurts),
    ]
    if sum(given) != 1:
        raise BadInput.of(
            "one of --minutes, --missed, --without, --sore and --hurts is needed, and only one",
            "run it once for each",
        )
    if question.region and not question.hurts:
        mend = "name what hurts with --hurts"
        raise BadInput.of("no lift is said to hurt", mend, column="--region")
    if question.minutes is not None and question.minutes < 1:
        raise BadInput.of(
            f"{question.minutes} minutes is no time",
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
