"""What the phone proposes after a try is what the engine does, whose rule the paper prints."""

import json
from dataclasses import replace
from itertools import product
from typing import Any

import pytest
from run_node import HERE, node

from blockwright.engine.day_sheet import PlannedSession, day_sheet
from blockwright.engine.rack import FindingWay, rack_for
from blockwright.verbs.phone_lifts import advice_inputs, advice_policy
from sheet_people import MONDAY, block, catalogue, entry, lifter, policy, session, sets

LIFTS = ("bench press", "dumbbell shoulder press", "leg extension", "pull-up", "assisted pull-up")


def test_the_phone_proposes_the_next_try_of_the_engine() -> None:
    entries = [entry(n, name, sets(3, None, 8, 12, 3.0), 120) for n, name in enumerate(LIFTS, 1)]
    day = session(1, MONDAY, entries)
    made = block(lifter())
    made = replace(made, weeks=(replace(made.weeks[0], sessions=(day,)),))
    sheet = day_sheet(made, PlannedSession(made.weeks[0], day), catalogue(), policy())
    lifts: dict[str, Any] = {}
    questions: list[dict[str, Any]] = []
    wanted: list[list[Any]] = []
    for one in sheet.entries:
        assert one.finding is not None
        lift, asked = one.lift, one.entry.sets[0]
        lifts[lift.name] = advice_inputs(one, day, made, catalogue(), policy(), None)
        rack = rack_for(lift, made.lifter.gym, policy())
        loads = [rung.load_kg for rung in one.finding.tries[:3]] + [rack.easiest.load_kg + 7.3]
        told = product(
            loads, (0, 2, 3.5, 5, 8, 10), (8, 5), (1, 4), (made.lifter.bodyweight_kg, None)
        )
        for load_kg, rir, reps, tries, bodyweight_kg in told:
            way = FindingWay(rack, lift, asked, policy(), bodyweight_kg)
            setting, goes_on = way.after(load_kg, rir + min(reps - 8, 0), tries)
            wanted.append([pytest.approx(setting.load_kg), goes_on])
            before = {"loadKg": load_kg, "reps": 8, "rir": 10}
            last = {"loadKg": load_kg, "reps": reps, "rir": rir}
            planned = {"reps_low": 8, "reps_high": 12, "rir": 3}
            questions.append(
                {
                    "lift": lift.name,
                    "tries": [before] * (tries - 1) + [last],
                    "planned": planned,
                    "bodyweightKg": bodyweight_kg,
                }
            )
    message = {"policy": advice_policy(policy()), "lifts": lifts, "questions": questions}
    ran = node(str(HERE / "answer_tries.mjs"), said=json.dumps(message))
    assert ran.returncode == 0, ran.stderr
    assert json.loads(ran.stdout) == wanted
