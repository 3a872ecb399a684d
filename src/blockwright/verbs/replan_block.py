"""Replans one session of a block: short of time, missed, a lift that is not there, soreness."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from blockwright.engine.case import CoachCase
from blockwright.engine.day_sheet import session_on
from blockwright.engine.errors import BadInput
from blockwright.engine.pain import place_in
from blockwright.engine.planning.disruption import Disruption
from blockwright.engine.planning.replan import replan
from blockwright.engine.review.holds import held_lifts
from blockwright.engine.review.swaps import alternatives_for_pain, sparing_joint, trains_alike
from blockwright.engine.training import MUSCLES, REGIONS, Block, Lift
from blockwright.files.block_json import read_block, unknown_lifts
from blockwright.files.case_files import case_of_block, with_facts
from blockwright.files.catalogue import lift_called
from blockwright.files.near import did_you_mean
from blockwright.files.policy_files import under_coach
from blockwright.files.reading import Reading


def replan_block(
    file: Path,
    day: date,
    session: int | None = None,
    *,
    facts: Path | None = None,
    checkins: Path | None = None,
    minutes: int | None = None,
    missed: bool = False,
    without: Sequence[str] = (),
    sore: Sequence[str] = (),
    hurts: Sequence[str] = (),
    region: str = "",
    coach: Path | None = None,
) -> Reading[Block]:
    """The next revision of the block; `region` is where it hurts, "" when nobody said. Raises
    BadInput naming the option and the mend."""

    _check_one(minutes, missed, without, sore, hurts)
    if region and not hurts:
        raise BadInput.of("no lift is said to hurt", "name what hurts", column="region")
    block = under_coach(read_block(file), coach)
    BadInput.raise_any(unknown_lifts(block, file.name))
    read = with_facts(case_of_block(block), facts, checkins)
    case, catalogue = read.value, read.value.catalogue
    found = session_on(block, day, session)
    trouble = Disruption(
        week=found.week.week,
        session=found.session.session,
        minutes=minutes,
        missed=missed,
        without=tuple(lift_called(name, catalogue, "without").name for name in without),
        sore=tuple(_known(name, MUSCLES, "sore", "muscle") for name in sore),
        hurts=tuple(lift_called(name, catalogue, "hurts").name for name in hurts),
        region=_known(region, REGIONS, "region", "place") if region else "",
    )
    _require_shorter(minutes, found.session.minutes_available)
    trouble = with_log(trouble, case.until(day), day)
    return Reading(replan(block, trouble, catalogue, case.policy), read.warnings)


def _check_one(minutes: int | None, *others: object) -> None:
    """Exactly one kind of trouble, and minutes that are some."""
    if sum([minutes is not None, *map(bool, others)]) != 1:
        says = "one of --minutes, --missed, --without, --sore and --hurts is needed, and only one"
        raise BadInput.of(says, "run it once for each")
    if minutes is not None and minutes < 1:
        mend = "use --missed when there is no session at all"
        raise BadInput.of(f"{minutes} minutes is no time", mend, column="minutes")


def _require_shorter(minutes: int | None, available: int) -> None:
    if minutes is not None and minutes >= available:
        mend = f"say less than {available}; more minutes need a new slot in the lifter file"
        raise BadInput.of(f"the session has {available} minutes as it is", mend, column="minutes")


def _known(name: str, words: Sequence[str], column: str, what: str) -> str:
    """The one of `words` that is meant."""
    word = name.strip().lower().replace(" ", "_").replace("-", "_")
    if word not in words:
        mend = did_you_mean(word, words, "use one of: " + ", ".join(words))
        raise BadInput.of(f'there is no {what} called "{name}"', mend, column=column)
    return word


def with_log(trouble: Disruption, case: CoachCase, day: date) -> Disruption:
    """The trouble of a session on `day` with what the log holds back, and the lifts that spare what
    hurts, as far as the catalogue knows; few where nobody said which place does, often none."""
    assert case.lifter is not None
    who, place = (case.catalogue, case.lifter), place_in(trouble.region or "")
    found: list[Lift] = []
    for lift in case.catalogue.known(trouble.hurts):
        if place is not None:
            spare = sparing_joint(lift, place, *who, case.policy)
            found += [other for other in spare if other.name not in trouble.hurts]
        else:
            alike = trains_alike(lift, *who)
            found += alternatives_for_pain(lift, alike, case.policy, avoid=trouble.hurts)
    held, stopped = held_lifts(case, day)
    stand_ins = tuple(dict.fromkeys(lift.name for lift in found))
    logged = bool(case.sets or case.checkins)
    return replace(trouble, stand_ins=stand_ins, held=held, stopped=stopped, logged=logged)
