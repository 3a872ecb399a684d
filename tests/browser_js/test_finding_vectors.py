"""What the phone proposes after a try is what the engine does, whose rule the paper prints."""

import json
from dataclasses import replace
from itertools import product
from typing import Any

import pytest
from run_node import HERE, node

from blockwright.engine.day_sheet import PlannedSession, day_sheet
from blockwright.engine.rack import FindingWay, rack_for
from blockwright.verbs.phone_lifts import advice_inputs, advice_law, advice_policy
from sheet_people import MONDAY, block, catalogue, entry, lifter, policy, session, sets

LIFTS = (
    "bench press", "dumbbell shoulder press", "dumbbell romanian deadlift", "leg extension",
    "pull-up", "assisted pull-up",
)  # fmt: skip


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
        inputs = advice_inputs(one, day, made, catalogue(), policy(), None)
        lifts |= {lift.name: inputs, f"{lift.name} gently": inputs | {"gently": True}}
        rack = rack_for(lift, made.lifter.gym, policy())
        loads = [rung.load_kg for rung in one.finding.tries[:3]] + [rack.easiest.load_kg + 7.3]
        told = product(
            loads, (0, 2, 3.5, 5, 8, 10), (8, 5), (1, 4), (made.lifter.bodyweight_kg, None),
            (False, True),
        )  # fmt: skip
        for load_kg, rir, reps, tries, bodyweight_kg, gently in told:
            way = FindingWay(rack, lift, asked, policy(), bodyweight_kg, gently=gently)
            setting, goes_on = way.after(load_kg, rir + min(reps - 8, 0), tries)
            wanted.append([pytest.approx(setting.load_kg), goes_on])
            before = {"loadKg": load_kg, "reps": 8, "rir": 10}
            last = {"loadKg": load_kg, "reps": reps, "rir": rir}
            planned = {"reps_low": 8, "reps_high": 12, "rir": 3}
            questions.append(
                {
                    "lift": f"{lift.name} gently" if gently else lift.name,
                    "tries": [before] * (tries - 1) + [last],
                    "planned": planned,
                    "bodyweightKg": bodyweight_kg,
                }
            )
    assert _answers(lifts, questions=questions) == wanted


def test_a_work_set_as_light_as_a_try_is_followed_by_what_the_next_try_would_be() -> None:
    """Not by one change's limit of a tenth; one that fits is left to the usual advice."""
    tries = [[kg, 8, 10, "try"] for kg in (20, 30, 45, 67.5)]
    planned = {"load_kg": None, "reps_low": 8, "reps_high": 12, "rir": 3}
    day = session(1, MONDAY, [entry(1, "bench press", sets(3, None, 8, 12, 3.0), 120)])
    made = block(lifter())
    made = replace(made, weeks=(replace(made.weeks[0], sessions=(day,)),))
    sheet = day_sheet(made, PlannedSession(made.weeks[0], day), catalogue(), policy())
    inputs = advice_inputs(sheet.entries[0], day, made, catalogue(), policy(), None)
    climbs = [
        {"lift": "bench press", "planned": planned, "done": [*tries, *work]}
        for work in (
            [],
            [[100, 12, 10, "straight"]],
            [[100, 12, 8, "straight"]],
            [[100, 10, 3, "straight"]],
            [[70, 12, 10, "straight"], [105, 12, 10, "straight"]],
        )
    ]
    first, far, more, fits, twice = _answers({"bench press": inputs}, climbs=climbs)
    assert first == [100, None, 0]
    assert far == [150, 150, 0]
    assert more == [120, 120, 0]
    assert fits[0] <= 110
    assert twice == [157.5, 157.5, 0]


def _answers(lifts: dict[str, Any], **asked: list[Any]) -> Any:
    message = {"policy": advice_policy(policy()), "law": advice_law(policy()), "lifts": lifts,
               "questions": [], **asked}  # fmt: skip
    ran = node(str(HERE / "answer_tries.mjs"), said=json.dumps(message))
    assert ran.returncode == 0, ran.stderr
    return json.loads(ran.stdout)
