"""Twelve invented weeks of one invented lifter, as letters are read: each a composed block played
by the demo's bodies (other laws than the engine's), the letters accepted on the way."""

import json
import math
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field, replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import numpy as np

from blockwright.demo.body import Body, BodySpec
from blockwright.demo.cast import Person
from blockwright.demo.training import Asked, DayLog, Trainee, do_session, first_guess, numbered
from blockwright.engine.review import Review, review, revised
from blockwright.engine.training import (
    Block,
    CheckIn,
    Entry,
    Measure,
    Moment,
    Session,
    SetDone,
    effective_load_kg,
)
from blockwright.engine.volume import done_sets
from blockwright.files.block_json import block_from_json
from blockwright.files.case_files import read_log
from blockwright.files.catalogue import catalogue_for
from blockwright.files.policy_files import default_policy
from blockwright.files.proposals_json import proposals_from_json, proposals_to_json
from blockwright.verbs.revise_block import CoachAnswer, letter_document, verdicts_for
from studies.cases import case_of

ROOT = Path(__file__).parent
POLICY = default_policy()
USUAL: Mapping[Measure, float] = {"sleep": 2.0, "fatigue": 3.0, "stress": 3.0, "soreness": 3.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """What happens, by week of the block (1 the first) and session (1 the first)."""

    weeks: int
    """How many are played; the letter is written after the last."""
    block: str = "fixed/block.json"
    history: bool = True
    falls: Mapping[tuple[int, int], float] = field(default_factory=dict)
    """Share of strength missing in a session."""
    tired: Mapping[tuple[int, int], int] = field(default_factory=dict)
    """Points worse than usual in all four items."""
    missed: Sequence[tuple[int, int]] = ()
    pain: Mapping[tuple[int, str], int] = field(default_factory=dict)
    """By week and lift."""
    notes: Mapping[tuple[int, int], str] = field(default_factory=dict)
    stronger: float = 1.0
    """Times the strength for which the block's first loads are right."""
    gain: float = 0.6


STORIES: Mapping[str, Story] = {
    "good week": Story(weeks=2),
    "bad night": Story(
        weeks=3, falls={(3, 2): 0.07}, tired={(3, 2): 4}, notes={(3, 2): "slept three hours"}
    ),
    "bad week": Story(
        weeks=3, falls={(3, n): 0.09 for n in range(1, 5)}, tired={(3, n): 2 for n in range(1, 5)}
    ),
    "two bad weeks": Story(
        weeks=4,
        falls={(w, n): 0.08 for w in (3, 4) for n in range(1, 5)},
        tired={(w, n): 2 for w in (3, 4) for n in range(1, 5)},
    ),
    "shoulder pain": Story(
        weeks=3, pain={(3, "dumbbell bench press"): 4, (3, "dumbbell shoulder press"): 5}
    ),
    "two regions": Story(
        weeks=3,
        pain={
            (3, "dumbbell bench press"): 4,
            (3, "dumbbell shoulder press"): 5,
            (3, "barbell back squat"): 4,
            (3, "leg press"): 4,
            (3, "barbell row"): 5,
        },
    ),
    "a week after pain": Story(
        weeks=4, pain={(3, "dumbbell bench press"): 4, (3, "dumbbell shoulder press"): 5}
    ),
    "back from a cold": Story(
        weeks=4,
        missed=[(3, n) for n in range(1, 5)],
        falls={(4, n): 0.04 for n in range(1, 5)},
        notes={(4, 1): "first day after the cold"},
    ),
    "too easy": Story(weeks=2, stronger=1.22),
    "a sign": Story(weeks=3, notes={(3, 2): "went dizzy and saw stars after the last set"}),
    "a lift's own sign": Story(weeks=3, notes={(3, 1): "two fingers went numb in the last set"}),
    "half done": Story(weeks=3, missed=[(3, 3), (3, 4)]),
    "no log": Story(weeks=1, history=False),
    "many lifts": Story(weeks=3, block="goldens/block.json", gain=1.0),
    "last build week": Story(weeks=6),
    "after the deload": Story(weeks=7),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Played:
    """Where a story is after its last week, the review of that week not yet accepted."""

    block: Block
    who: Trainee
    typed: DayLog
    found: Review | None = None


def told(name: str) -> Review:
    """The review at the end of a story's last week."""
    found = _played(STORIES[name]).found
    assert found is not None
    return found


def letter_of_story(name: str) -> dict[str, Any]:
    """Its `blockwright/proposals/1` document."""
    return letter_document(told(name))


_KEPT: dict[str, _Played] = {}


def _played(story: Story) -> _Played:
    """A story's weeks; those that begin as another story's do are played once for both."""
    key = repr(story)
    if key not in _KEPT:
        _KEPT[key] = _next_week(story) if story.weeks else _begun(story)
    return _KEPT[key]


def _before(story: Story) -> Story:
    """The same without its last week, and without what happens in it."""
    early = range(1, story.weeks)
    return replace(
        story,
        weeks=story.weeks - 1,
        falls={at: share for at, share in story.falls.items() if at[0] in early},
        tired={at: points for at, points in story.tired.items() if at[0] in early},
        missed=[at for at in story.missed if at[0] in early],
        pain={at: pain for at, pain in story.pain.items() if at[0] in early},
        notes={at: note for at, note in story.notes.items() if at[0] in early},
    )


def _begun(story: Story) -> _Played:
    path = ROOT / story.block
    block = block_from_json(json.loads(path.read_text(encoding="utf-8")), path.name)
    if not story.history:
        block = _without_loads(block)
    typed = _history(block) if story.history else DayLog()
    return _Played(block=block, who=_trainee(block, story), typed=typed)


def _next_week(story: Story) -> _Played:
    last = _played(_before(story))
    body, catalogue = last.who.body, last.who.catalogue
    who = replace(last.who, body=deepcopy(body, {id(catalogue): catalogue}))
    typed = DayLog(sets=list(last.typed.sets), checkins=list(last.typed.checkins))
    block = last.block if last.found is None else _accepted(last.block, last.found, who)
    number, before = story.weeks, len(typed.sets)
    for session in block.weeks[number - 1].sessions:
        if (number, session.session) not in story.missed:
            _session(who, story, number, session, typed)
    counts = done_sets(typed.sets[before:], who.catalogue, POLICY)
    who.body.end_week({m: count.fractional for m, count in counts.items()})
    through = block.start + timedelta(days=7 * number - 1)
    sets = numbered(typed.sets)
    found = review(case_of(block, sets, typed.checkins, who.catalogue, POLICY), through)
    return _Played(block=block, who=who, typed=typed, found=found)


def _accepted(block: Block, found: Review, who: Trainee) -> Block:
    said = [CoachAnswer(proposal=p.id, verdict="accepted") for p in found.proposals
            if p.kind != "extend_block"]  # fmt: skip
    if not said:
        return block
    file = proposals_from_json(proposals_to_json(found), "here")
    return revised(block, verdicts_for(said, file), file.cautions, who.catalogue, POLICY)


def _without_loads(block: Block) -> Block:
    def bare(entry: Entry) -> Entry:
        return replace(entry, sets=tuple(replace(s, load_kg=None) for s in entry.sets))

    return replace(
        block,
        weeks=tuple(
            replace(week, sessions=tuple(
                replace(s, entries=tuple(bare(e) for e in s.entries)) for s in week.sessions))
            for week in block.weeks
        ),
    )  # fmt: skip


def _history(block: Block) -> DayLog:
    examples = ROOT.parent / "examples"
    log = read_log(examples / "log.csv", examples / "lifter.toml", None, examples / "checkins.csv")
    (case,) = log.cases
    return DayLog(sets=list(case.sets), checkins=list(case.checkins))


def _trainee(block: Block, story: Story) -> Trainee:
    catalogue = catalogue_for(block.lifter)
    spec = BodySpec(bodyweight_kg=block.lifter.bodyweight_kg or 70.0, strength=0.75,
                    gain_pct_per_week=story.gain, ceiling_sets=22.0, phi=0.17)  # fmt: skip
    person = Person(key="mara", seed=1, about="", body=spec, routine=())
    body = Body(spec, catalogue, np.random.default_rng(20270104))
    who = Trainee(person=person, lifter=block.lifter, catalogue=catalogue, policy=POLICY, body=body)
    for session in block.weeks[0].sessions:
        for entry in session.entries:
            planned, lift = entry.sets[0], catalogue.lifts[entry.lift]
            if planned.load_kg is None or entry.lift in body.lifts:
                continue
            load = effective_load_kg(lift, planned.load_kg, body.bodyweight_kg)
            assert load is not None
            believed = body.load_for(lift, planned.reps_low + 1.5, planned.rir, 0.0)
            body.lifts[entry.lift].ln_one_rm += math.log(load / believed * story.stronger)
    return who


def _session(who: Trainee, story: Story, week: int, session: Session, typed: DayLog) -> None:
    at = (week, session.session)
    tired = story.tired.get(at, 0)
    rng = np.random.default_rng((week, session.session))
    for measure, middle in USUAL.items():
        value = float(min(max(middle + tired + round(rng.normal(0, 0.5)), 1), 7))
        moment = Moment(day=session.day)
        typed.checkins.append(CheckIn(moment=moment, measure=measure, about=None, value=value))
    asked = [_asked(who, entry) for entry in session.entries if entry.sets]
    before = len(typed.sets)
    who.body.trouble = story.falls.get(at, 0.0)
    do_session(who, session.day, session.start_time, asked, typed, week)
    note = story.notes.get(at, "")
    low = {one.lift.name: one.reps[0] for one in asked}
    for index, done in enumerate(typed.sets[before:], start=before):
        pain = story.pain.get((week, done.lift))
        typed.sets[index] = replace(
            _grinds_on(done, low[done.lift]), pain=done.pain if pain is None else float(pain),
            note=note if index == before else done.note,
        )  # fmt: skip


def _grinds_on(done: SetDone, low: int) -> SetDone:
    """Nobody stops short of the range with repetitions left."""
    left = int(done.rir_low or 0)
    more = min(max(low - done.reps[0], 0), left)
    if done.method != "straight" or not more:
        return done
    return replace(done, reps=(done.reps[0] + more,), rir_low=left - more, rir_high=left - more)


def _asked(who: Trainee, entry: Entry) -> Asked:
    lift, planned = who.catalogue.lifts[entry.lift], entry.sets
    loads = [s.load_kg for s in planned]
    if loads[0] is None:
        known = first_guess(who, lift, planned[0].reps_low + 1.5, planned[0].rir)
        loads = [known] * len(planned)
    return Asked(
        lift=lift,
        loads_kg=loads,
        reps=(planned[0].reps_low, planned[0].reps_high),
        rir=[s.rir for s in planned],
        rest_s=entry.rest_s,
        method=entry.method,
    )
