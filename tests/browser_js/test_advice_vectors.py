"""The phone's advice is the engine's: the same questions, put to both."""

import json
from dataclasses import dataclass, replace
from datetime import timedelta
from random import Random
from typing import Any

import pytest
from run_node import HERE, node

from blockwright.engine.day_sheet import DaySheet, NextSet, PlannedSession, day_sheet
from blockwright.engine.day_sheet.next_set import believing_the_day
from blockwright.engine.rack import rack_for
from blockwright.engine.strength import Beliefs, Bodyweights, LiftBelief, replay, unlogged
from blockwright.engine.training import Block, Moment, SetPlan, effective_load_kg
from blockwright.files.codec import document
from blockwright.verbs.phone_lifts import advice_inputs, advice_law, advice_policy
from sheet_people import (
    MONDAY,
    block,
    catalogue,
    entry,
    lifter,
    logged,
    on_two_machines,
    policy,
    session,
    sets,
)

CASES = (
    ("bench press", 82.5, 8, 12, 2.0, 135),
    ("barbell back squat", 102.5, 5, 8, 3.0, 180),
    ("dumbbell shoulder press", 20.0, 8, 12, 2.0, 120),
    ("leg extension", 45.0, 12, 15, 1.0, 90),
    ("seated leg curl", 40.0, 15, 20, 0.0, 75),
    ("pull-up", 5.0, 6, 10, 2.0, 150),
    ("assisted pull-up", 25.0, 8, 12, 2.0, 120),
    ("press-up", 0.0, 10, 20, 2.0, 90),
    ("romanian deadlift", 80.0, 8, 12, 2.5, 150),
    ("chest press", 56.0, 8, 12, 2.0, 120),
    ("dumbbell lateral raise", 8.0, 10, 15, 3.0, 60),
)
UNLOGGED = {"romanian deadlift"}
OTHER_KG = {"chest press": 75.0}
"""On another machine, every second week."""


@dataclass(frozen=True)
class Told:
    """One session's sheet and beliefs, as engine values and as the phone gets them."""

    block: Block
    sheet: DaySheet
    beliefs: Beliefs
    lifts: dict[str, Any]

    def belief(self, name: str) -> LiftBelief:
        found = self.beliefs.own(name)
        if found is None:
            lift = catalogue().find(name)
            assert lift is not None
            return unlogged(lift, MONDAY, policy())
        return found


@pytest.fixture(scope="module")
def told() -> Told:
    entries = [
        entry(order, name, sets(3, load, low, high, rir), rest)
        for order, (name, load, low, high, rir, rest) in enumerate(CASES, 1)
    ]
    made = block(lifter())
    day = session(1, MONDAY, entries)
    week = replace(made.weeks[0], sessions=(day,))
    log = [
        done
        for name, load, low, high, _, _ in CASES
        if name not in UNLOGGED | OTHER_KG.keys()
        for done in logged(name, load, reps=(low + high) // 2)
    ]
    log += [done for name, kg in OTHER_KG.items() for done in on_two_machines(name, 56.0, kg)]
    beliefs = replay(log, catalogue(), policy(), bodyweights=Bodyweights(usual_kg=78.0))
    sheet = day_sheet(made, PlannedSession(week, day), catalogue(), policy(), beliefs)
    lifts = {
        one.lift.name: advice_inputs(one, day, made, catalogue(), policy(), beliefs)
        for one in sheet.entries
    }
    return Told(block=made, sheet=sheet, beliefs=beliefs, lifts=lifts)


def ask_phone(told: Told, questions: list[dict[str, Any]]) -> list[dict[str, Any]]:
    message = {
        "law": advice_law(policy()),
        "policy": advice_policy(policy()),
        "bodyweight_kg": 78.0,
        "lifts": told.lifts,
        "questions": questions,
    }
    ran = node(str(HERE / "answer_questions.mjs"), said=json.dumps(message))
    assert ran.returncode == 0, ran.stderr
    return list(json.loads(ran.stdout))


def test_a_first_set_to_plan_gets_the_sheets_own_table(told: Told) -> None:
    questions, wanted = [], []
    for made in sheet_entries(told):
        for row in made["next_set_advice"]:
            last = 40 if row["reps_to"] is None else row["reps_to"]
            for reps in range(row["reps_from"], last + 1):
                first, second = made["sets"][:2]
                questions.append(question(made["lift"], [], first, second, reps, 0))
                wanted.append((row["load_kg"], row["setting"], row["move"]))
    answers = ask_phone(told, questions)
    assert len(questions) > 250
    assert "wait" in {move for _, _, move in wanted}
    assert [(one["load_kg"], one["says"], one["move"]) for one in answers] == wanted


def sheet_entries(told: Told) -> list[dict[str, Any]]:
    return list(document("sheet", told.sheet)["entries"])


def question(
    name: str,
    before: list[dict[str, Any]],
    done: dict[str, Any],
    planned: dict[str, Any],
    reps: int,
    rest_before_s: float,
    later_reps: tuple[int, ...] = (),
) -> dict[str, Any]:
    keys = ("load_kg", "reps_low", "reps_high", "rir")
    return {
        "lift": name,
        "before": before,
        "done": {key: done[key] for key in keys},
        "planned": {key: planned[key] for key in keys},
        "reps": reps,
        "later_reps": later_reps,
        "rest_before_s": rest_before_s,
    }


def parts(chance: Random) -> tuple[int, ...]:
    """Repetitions after the first part: of one set in three, which is a rest-pause or drop set."""
    if chance.random() > 1 / 3:
        return ()
    return tuple(chance.randint(1, 8) for _ in range(chance.randint(1, 4)))


def test_any_set_of_the_session_gets_the_engines_answer(told: Told) -> None:
    """Loads off the plan, RIR off the target, sets before it, real rests, sets in parts."""
    chance = Random(20270104)
    questions, asked = [], []
    for _ in range(150):
        name, load, low, high, rir, _rest = chance.choice(CASES)
        rack = told.lifts[name]["rack"]
        before = [
            {
                "load_kg": chance.choice(rack)["load_kg"] if chance.random() < 0.3 else load,
                "reps": chance.randint(0, high + 6),
                "rir": chance.choice([0.0, 1.0, 2.0, 3.5, None]),
                "rest_s": chance.randint(20, 400),
                "later_reps": parts(chance),
            }
            for _ in range(chance.randint(0, 3))
        ]
        done = {
            "load_kg": chance.choice(rack)["load_kg"] if chance.random() < 0.5 else load,
            "reps_low": low,
            "reps_high": high,
            "rir": chance.choice([0.0, 1.0, rir, 4.0]),
        }
        planned = done | {"load_kg": load, "rir": rir}
        reps, rest = chance.randint(0, high + 15), chance.randint(20, 400)
        asks = question(name, before, done, planned, reps, rest, parts(chance))
        questions.append(asks | {"printed_rir": chance.choice([rir, None])})
        asked.append(engine_answer(told, questions[-1]))
    answers = ask_phone(told, questions)
    for one, phone, (load_kg, likely) in zip(questions, answers, asked, strict=True):
        assert phone["chance"] == pytest.approx(likely, abs=2e-6), one
        assert phone["load_kg"] == pytest.approx(load_kg, abs=1e-6), one
    assert len({phone["move"] for phone in answers}) == 4


def engine_answer(told: Told, asked: dict[str, Any]) -> tuple[float, float]:
    """The load, and the chance of the planned set before `done` was folded in."""
    name = asked["lift"]
    made = next(one for one in told.sheet.entries if one.lift.name == name)
    belief = believing_the_day(told.belief(name), policy())
    for set_before in asked["before"]:
        effective = effective_load_kg(made.lift, set_before["load_kg"], 78.0)
        assert effective is not None
        belief = belief.after(
            effective,
            set_before["reps"],
            set_before["rir"],
            on=MONDAY,
            rest_s=set_before["rest_s"],
            later_reps=set_before["later_reps"],
            part_rest_s=policy().number("fatigue.part_rest_s"),
        )
    follows = bool(asked["before"])
    next_set = NextSet(
        belief=belief,
        lift=made.lift,
        rack=rack_for(made.lift, told.block.lifter.gym, policy()),
        done=SetPlan(**asked["done"]),
        planned=SetPlan(**asked["planned"]),
        rest_s=told.lifts[name]["rest_s"],
        on=MONDAY,
        bodyweight_kg=78.0,
        policy=policy(),
        unit="kg",
        rest_before_s=asked["rest_before_s"] if follows else None,
        printed_rir=asked["printed_rir"],
        later_reps=asked["later_reps"],
    )
    effective = effective_load_kg(made.lift, asked["planned"]["load_kg"], 78.0)
    assert effective is not None
    chance = belief.forecast(
        effective,
        asked["planned"]["rir"],
        on=MONDAY,
        fatigue=_left(belief, asked["rest_before_s"]) if follows else 0.0,
    ).p_at_least(asked["planned"]["reps_low"])
    return next_set.load_after(asked["reps"]).load_kg, chance


def _left(belief: LiftBelief, rest_s: float) -> float:
    from blockwright.engine.fatigue import FatigueState

    state = FatigueState(float(belief.state.fast[0]), float(belief.state.slow[0]))
    return state.rested(rest_s, policy()).total


def test_after_a_set_in_parts_less_is_left(told: Told) -> None:
    """By replaying the same log the engine has the same fatigue as by one set more."""
    belief = told.belief("leg extension")
    pause = policy().number("fatigue.part_rest_s")
    straight = belief.after(45.0, 14, 1.0, on=MONDAY)
    parted = belief.after(45.0, 14, 1.0, on=MONDAY, later_reps=(5, 4, 3), part_rest_s=pause)
    done = replace(
        logged("leg extension", 45.0, reps=14)[0],
        moment=Moment(day=MONDAY), reps=(14, 5, 4, 3), loads_kg=(45.0,) * 4, rir_low=1.0,
        rir_high=1.0, method="rest-pause", rest_s=None,
    )  # fmt: skip
    replayed = replay(
        [*told.beliefs.sets, done], catalogue(), policy(), bodyweights=Bodyweights(usual_kg=78.0)
    ).own("leg extension")
    assert replayed is not None
    assert parted.fatigue == pytest.approx(replayed.fatigue, rel=1e-3)
    assert parted.fatigue > straight.fatigue


def test_the_day_before_is_not_the_day(told: Told) -> None:
    """The beliefs that phones get have slept until the session: a log that ends long before it
    must not leave yesterday's tiredness in them."""
    assert max(done.moment.day for done in told.beliefs.sets) < MONDAY - timedelta(days=1)
    assert {lift["belief"]["fast"] for lift in told.lifts.values()} == {0.0}
