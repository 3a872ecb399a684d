"""A coach's case from facts as they come, for studies and tests."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from blockwright.engine.case import CoachCase
from blockwright.engine.policy import Policy
from blockwright.engine.signs import Warning
from blockwright.engine.training import Block, Catalogue, CheckIn, SetDone
from blockwright.files.signs.grammar import signs_found


def case_of(
    block: Block,
    sets: Iterable[SetDone],
    checkins: Iterable[CheckIn],
    catalogue: Catalogue,
    policy: Policy,
    through: date | None = None,
    *,
    signs: Sequence[Warning] = (),
) -> CoachCase:
    """The case of a block's lifter: their own facts up to `through`, rows under their name and
    rows without one."""
    name = block.lifter.name.strip().casefold()

    def mine(fact: SetDone | CheckIn) -> bool:
        in_time = through is None or fact.moment.day <= through
        return in_time and (fact.lifter is None or fact.lifter.strip().casefold() == name)

    own = [done for done in sets if mine(done)]
    if len({done.lifter for done in own}) > 1:  # taking the name off years of sets takes time
        own = [replace(done, lifter=None) for done in own]
    return CoachCase(
        lifter=block.lifter,
        block=block,
        catalogue=catalogue,
        policy=policy,
        read_note=signs_found,
        sets=tuple(own),
        checkins=tuple(replace(said, lifter=None) for said in checkins if mine(said)),
        signs=tuple(sign for sign in signs if through is None or sign.day <= through),
        through=through,
    )
