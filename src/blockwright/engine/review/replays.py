"""Strength before and after the week, from one replay of everybody's sets where many are reviewed.

A replay costs a step for each set of the longest series, however many lifters run beside it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.policy import Policy
from blockwright.engine.review.exposures import Window, window_of
from blockwright.engine.signs import Warning
from blockwright.engine.strength import Beliefs, Bodyweights, replay
from blockwright.engine.training import Block, Catalogue, CheckIn, Moment, SetDone


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekQuestion:
    """A lifter's block and facts, and the day up to which they are looked at."""

    block: Block
    sets: Sequence[SetDone]
    checkins: Sequence[CheckIn]
    catalogue: Catalogue
    policy: Policy
    through: date
    signs: tuple[Warning, ...] = ()
    """Warning signs told besides the notes of sets: a session that was stopped for one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Replays:
    """What is believed of strength before the week and now; of several lifters, perhaps."""

    before: Beliefs
    now: Beliefs
    who: str | None
    """The lifter's name in the replay."""
    weights: Bodyweights


def bodyweights_of(block: Block, checkins: Sequence[CheckIn]) -> Bodyweights:
    """The block's bodyweight and the lifter's weigh-ins."""
    return Bodyweights(
        usual_kg=block.lifter.bodyweight_kg,
        weigh_ins=tuple(c for c in checkins if c.measure == "bodyweight"),
    )


def own_replays(question: WeekQuestion, window: Window) -> Replays:
    """The replays of one lifter's own facts."""
    names = {done.lifter for done in question.sets}
    weights = bodyweights_of(question.block, question.checkins)
    return _replays(question, question.sets, weights, window, next(iter(names), None))


def shared_replays(
    questions: Sequence[WeekQuestion],
) -> Mapping[int, Replays]:
    """By place in `questions`: replays shared by those that look at the same week under the same
    catalogue and policy. Facts must be the lifters' own (`case.own_facts`)."""
    groups: dict[tuple[int, int, date, date], list[int]] = {}
    for index, question in enumerate(questions):
        window = window_of(question.block, question.sets, question.through)
        if window is not None:
            key = (id(question.catalogue), id(question.policy), question.through, window.start)
            groups.setdefault(key, []).append(index)
    found: dict[int, Replays] = {}
    for members in groups.values():
        if len(members) > 1:
            found |= _shared([(index, questions[index]) for index in members])
    return found


def _shared(members: Sequence[tuple[int, WeekQuestion]]) -> dict[int, Replays]:
    _, first = members[0]
    window = window_of(first.block, first.sets, first.through)
    if window is None:
        return {}
    names = _labels(members)
    sets: list[SetDone] = []
    weigh_ins: list[CheckIn] = []
    for index, question in members:
        sets += _named(question.sets, names[index])
        weigh_ins += _weigh_ins(question, names[index])
    weights = Bodyweights(weigh_ins=tuple(weigh_ins))
    shared = _replays(first, sets, weights, window, None)
    return {index: replace(shared, who=names[index]) for index, _ in members}


def _labels(members: Sequence[tuple[int, WeekQuestion]]) -> dict[int, str]:
    """A name for each that nobody else in the group has: their sets' own where that will do."""
    own = {index: question.sets[0].lifter if question.sets else None for index, question in members}
    taken = list(own.values())
    return {
        index: name
        if (name := own[index]) is not None and taken.count(name) == 1
        else f"{index} {question.block.lifter.name}"
        for index, question in members
    }


def _named(sets: Sequence[SetDone], name: str) -> list[SetDone]:
    return [done if done.lifter == name else replace(done, lifter=name) for done in sets]


def _weigh_ins(question: WeekQuestion, name: str) -> list[CheckIn]:
    """The weigh-ins under the lifter's name, the block's bodyweight before all of them."""
    found = [replace(c, lifter=name) for c in question.checkins if c.measure == "bodyweight"]
    usual = question.block.lifter.bodyweight_kg
    if usual is not None:
        moment = Moment(day=date.min)
        found.append(
            CheckIn(moment=moment, measure="bodyweight", about=None, value=usual, lifter=name)
        )
    return found


def _replays(
    question: WeekQuestion,
    sets: Sequence[SetDone],
    weights: Bodyweights,
    window: Window,
    who: str | None,
) -> Replays:
    def until(day: date) -> Beliefs:
        return replay(sets, question.catalogue, question.policy, bodyweights=weights, through=day)

    return Replays(
        before=until(window.start - timedelta(days=1)),
        now=until(question.through),
        who=who,
        weights=weights,
    )
