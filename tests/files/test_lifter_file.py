"""The lifter file: what each table becomes, what is assumed, and the way back to a table."""

import json
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import (
    MUSCLES,
    Allow,
    Lifter,
    Limits,
    Pin,
    RepRange,
    Screening,
    Slot,
)
from blockwright.engine.units import KG_PER_LB
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.json_text import dumps, plain
from blockwright.files.lifter_file import (
    lifter_from_table,
    lifter_to_table,
    read_lifter,
    require_for_plan,
)
from blockwright.files.policy_files import default_policy
from blockwright.files.vocabulary import vocabulary

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "lifter.toml"

FULL = """
name = "Ana"
units = "lb"
bodyweight = 150
born = 1988
sex = "Female"
experience = "advanced"
energy = "surplus"
weeks = 5
start = 2027-01-04
[screening]
kidney_disease = false
cleared_on = 2026-12-01
[[slot]]
day = "wed"
start = "18:30"
minutes = 60
[[slot]]
day = "mon"
start = 06:30:00
minutes = 75
[emphasis]
quads = "lead"
[allow]
rest_pause = true
high_reps = false
[likes]
lifts = ["Squat"]
[policy]
"suspect.many_reps" = 60
[limits]
avoid_lifts = ["conventional deadlift"]
avoid_patterns = ["Overhead Press"]
max_lifts_per_session = 6
[gym]
kit = ["bar", "Squat Rack", "bench", "dumbbells", "leg curl"]
[[gym.bar]]
name = "house bar"
mass = 45
[[gym.bar]]
name = "light bar"
mass = "15 kg"
[gym.plates]
"2.5" = 1
"45" = 3
"20 kg" = 2
[gym.dumbbells]
from = 5
to = 80
step = 5
[[gym.stack]]
lift = "Leg Curl"
from = 10
to = 120
step = 5
add_on = [2.5]
unit = "kg"
[[pin]]
lift = "barbell bench press"
days = ["mon", "wed"]
reps = "5-10"
[[lift]]
name = "yoke squat"
muscles = { quads = 1.0, glutes = 0.5 }
pattern = "squat"
kit = ["bar"]
"""


def lifter_of(text: str) -> Lifter:
    return lifter_from_table(tomllib.loads(text), "ana.toml").value


def warnings_of(text: str) -> dict[str | None, Problem]:
    return {p.key: p for p in lifter_from_table(tomllib.loads(text), "ana.toml").warnings}


def test_every_table_of_the_contract() -> None:
    lifter = lifter_of(FULL)
    assert (lifter.name, lifter.units, lifter.bodyweight) == ("Ana", "lb", 150)
    assert lifter.bodyweight_kg == 150 * KG_PER_LB
    assert (lifter.sex, lifter.experience, lifter.energy) == ("female", "advanced", "surplus")
    assert (lifter.born, lifter.weeks, lifter.start) == (1988, 5, date(2027, 1, 4))
    assert lifter.screening == Screening(
        kidney_disease=False, cleared_on=date(2026, 12, 1), cleared_for=()
    )
    assert lifter.slots == (
        Slot(day="mon", start_minute=390, minutes=75),
        Slot(day="wed", start_minute=1110, minutes=60),
    )
    assert lifter.emphasis == {"quads": "lead"}
    assert lifter.allow == Allow(rest_pause=True, high_reps=False)
    assert lifter.likes == ("barbell back squat",)
    assert lifter.policy == {"suspect.many_reps": 60}
    assert lifter.limits == Limits(
        avoid_lifts=("deadlift",), avoid_patterns=("overhead press",), max_lifts_per_session=6
    )
    assert lifter.pins == (
        Pin(lift="bench press", days=("mon", "wed"), reps=RepRange(low=5, high=10)),
    )
    assert [lift.name for lift in lifter.lifts] == ["yoke squat"]
    assert lifter.lifts[0].own


def test_a_sign_is_cleared_by_its_name_and_a_day() -> None:
    signs = '["chest pain 2026-12-01", "Chest pain: 2027-01-02", "a stop sign 2027-01-03", '
    signs += '"shoulder 2027-01-04", "Bench Press 2027-01-05"]'
    found = lifter_of(f'name = "Ana"\n[signs]\ncleared = {signs}').signs_cleared
    assert found == {
        "chest pain": date(2027, 1, 2),
        "a stop sign": date(2027, 1, 3),
        "shoulder": date(2027, 1, 4),
        "bench press": date(2027, 1, 5),
    }
    for wrong in ("chest pian 2027-01-02", "chest pain", "chest pain 2027-13-02"):
        with pytest.raises(BadInput) as caught:
            lifter_of(f'name = "Ana"\n[signs]\ncleared = ["{wrong}"]')
        assert [p.key for p in caught.value.problems] == ["signs.cleared.1"]


def test_the_gym_keeps_what_is_stamped_on_it() -> None:
    gym = lifter_of(FULL).gym
    assert gym.kit == {"bar", "squat rack", "bench", "dumbbells", "leg curl"}
    assert [(bar.mass.value, bar.mass.unit, bar.mass.label) for bar in gym.bars] == [
        (45, "lb", "45"), (15, "kg", "15 kg"),
    ]  # fmt: skip
    assert [(p.mass.label, p.mass.unit, p.pairs) for p in gym.plates] == [
        ("45", "lb", 3), ("20 kg", "kg", 2), ("2.5", "lb", 1),
    ]  # fmt: skip
    (dumbbells,) = gym.dumbbells
    assert (dumbbells.low, dumbbells.high, dumbbells.step, dumbbells.unit) == (5, 80, 5, "lb")
    stack = gym.stacks["leg curl"]
    assert (stack.unit, stack.add_on) == ("kg", (2.5,))
    assert not gym.assumed


def test_a_name_is_enough_to_be_read_but_not_to_plan() -> None:
    reading = lifter_from_table({"name": "Ana"}, "ana.toml")
    assert reading.value.weeks == 6
    assert reading.value.allow == Allow()
    with pytest.raises(BadInput) as caught:
        require_for_plan(reading.value)
    assert [p.key for p in caught.value.problems] == ["bodyweight", "start", "slot"]
    require_for_plan(lifter_of(FULL))


def test_without_a_gym_a_well_equipped_one_is_assumed_aloud() -> None:
    reading = lifter_from_table({"name": "Ana"}, "ana.toml")
    assert reading.value.gym.assumed
    assert reading.value.gym.kit >= set(vocabulary().kit)
    assert [(p.key, p.file) for p in reading.warnings] == [("gym", "ana.toml")]


@pytest.mark.parametrize(
    ("born", "said", "under_18", "warns"),
    [
        (1988, None, None, False),
        (2010, None, True, False),
        (2010, False, True, True),
        (2009, None, None, True),
        (2009, True, True, False),
        (2009, False, False, False),
    ],
)
def test_under_18_follows_from_the_year_of_birth(
    born: int, said: bool | None, under_18: bool | None, warns: bool
) -> None:
    answer = "" if said is None else f"[screening]\nunder_18 = {str(said).lower()}"
    text = f'name = "Ana"\nborn = {born}\nstart = 2027-01-04\n{answer}'
    assert lifter_of(text).screening.under_18 is under_18
    assert ("screening.under_18" in warnings_of(text)) is warns


def test_of_a_whole_date_of_birth_the_year_is_kept() -> None:
    assert lifter_of('name = "Ana"\nborn = 1979-05-02').born == 1979


def test_what_is_described_but_not_listed_is_said() -> None:
    text = (
        'name = "Ana"\n[gym]\nkit = ["sauna"]\n[gym.dumbbells]\nfrom = 2\nto = 10\nstep = 2\n'
        '[[gym.bar]]\nname = "bar"\nmass = 20\n'
        '[[gym.stack]]\nlift = "leg curl"\nfrom = 5\nto = 50\nstep = 5'
    )
    said = [p.says for p in lifter_from_table(tomllib.loads(text), None).warnings]
    assert any('"sauna"' in says for says in said)
    for word in ("dumbbells", "bar", "leg curl"):
        assert any(f'"{word}" is described below' in says for says in said)


def test_a_gym_without_kit_has_what_it_describes() -> None:
    text = 'name = "Ana"\n[gym]\n[[gym.bar]]\nname = "bar"\nmass = 20\n[gym.plates]\n"20" = 2'
    assert lifter_of(text).gym.kit == {"bar", "plates"}
    assert "gym.kit" in warnings_of(text)


def test_unknown_likes_are_left_out_with_near_misses() -> None:
    text = 'name = "Ana"\n[likes]\nlifts = ["leg pres", "leg curl"]'
    assert lifter_of(text).likes == ("leg curl",)
    assert "leg press" in warnings_of(text)["likes.lifts.1"].mend


def test_what_comes_after_the_start_is_pointed_out() -> None:
    text = (
        'name = "Ana"\nstart = 2027-01-04\n[screening]\ncleared_on = {}\n'
        '[[known]]\nlift = "leg press"\nload = 80\nreps = 8\non = {}'
    )
    late = {"screening.cleared_on", "known.1.on"}
    assert late <= set(warnings_of(text.format("2027-01-05", "2027-01-05")))
    assert not late & set(warnings_of(text.format("2027-01-04", "2027-01-04")))


def test_a_pin_on_a_day_without_a_slot_is_left_to_the_planner() -> None:
    text = (
        'name = "Ana"\n[[slot]]\nday = "mon"\nstart = "06:30"\nminutes = 60\n'
        '[[pin]]\nlift = "leg press"\ndays = ["wed"]'
    )
    assert lifter_of(text).pins[0].days == ("wed",)
    assert "pin.1.days" in warnings_of(text)


def test_slots_may_touch_but_not_overlap_around_the_week() -> None:
    late = '[[slot]]\nday = "sun"\nstart = "23:00"\nminutes = {}\n'
    early = '[[slot]]\nday = "mon"\nstart = "00:30"\nminutes = 60\n'
    assert len(lifter_of('name = "A"\n' + late.format(90) + early).slots) == 2
    with pytest.raises(BadInput, match="overlaps the slot on sun"):
        lifter_of('name = "A"\n' + late.format(91) + early)


def test_the_example_lifter_reads_without_a_warning() -> None:
    reading = read_lifter(EXAMPLE)
    assert not reading.warnings
    require_for_plan(reading.value)
    assert "invented" in EXAMPLE.read_text(encoding="utf-8")


def test_policy_is_checked_against_the_policy_given() -> None:
    table = {"name": "Ana", "policy": {"suspect.many_reps": 60}}
    policy = default_policy()
    assert lifter_from_table(table, None, policy).value.policy == {"suspect.many_reps": 60}


@pytest.mark.parametrize("text", [FULL, EXAMPLE.read_text(encoding="utf-8"), 'name = "Ana"'])
def test_a_lifter_comes_back_from_json_text(text: str) -> None:
    lifter = lifter_of(text)
    again = json.loads(dumps(lifter_to_table(lifter)))
    reading = lifter_from_table(again, "block.json")
    assert reading.value == lifter
    assert lifter_to_table(reading.value) == lifter_to_table(lifter)


def test_the_table_of_a_lifter_raises_no_new_warning() -> None:
    table = lifter_to_table(lifter_of('name = "Ana"'))
    assert lifter_from_table(table, "block.json").warnings == ()


# ----------------------------------------------------------------- any good file comes back whole

FIXED = settings(deadline=None, derandomize=True, max_examples=300)

LIFTS = sorted(builtin_catalogue().lifts)[:40]
TEXTS = st.text(alphabet="abc éß'\"", min_size=1, max_size=8).filter(
    lambda text: bool(text.strip())
)


def optional(**fields: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries({}, optional=fields)


ladders = st.builds(
    lambda low, steps, step: {"from": low, "to": low + steps * step, "step": step},
    st.integers(0, 50), st.integers(0, 30), st.sampled_from([0.5, 1, 2, 2.5, 5, 10]),
)  # fmt: skip
gyms = st.fixed_dictionaries(
    {"kit": st.lists(st.sampled_from(sorted(vocabulary().kit)), unique=True)},
    optional={
        "bar": st.lists(
            st.fixed_dictionaries(
                {"name": TEXTS, "mass": st.sampled_from([20, 15.5, "45 lb", "20"])}
            ),
            max_size=3,
        ),
        "plates": st.dictionaries(
            st.sampled_from(["20", "2.5", "45 lb", "35 lb", "0.5", "10 kg"]), st.integers(0, 10)
        ),
        "dumbbells": st.one_of(ladders, st.lists(ladders, max_size=2)),
        "stack": st.lists(
            st.builds(
                lambda lift, ladder, more: {"lift": lift, **ladder, **more},
                st.sampled_from(LIFTS), ladders,
                optional(add_on=st.lists(st.sampled_from([1.25, 2.5])),
                         unit=st.sampled_from(["kg", "lb"])),
            ),
            max_size=4, unique_by=lambda stack: stack["lift"],
        ),
        "assumed": st.booleans(),
    },
)  # fmt: skip
slots = st.lists(
    st.sampled_from(["mon", "tue", "wed", "thu", "fri", "sat", "sun"]), unique=True
).map(lambda days: [{"day": day, "start": "06:30", "minutes": 60} for day in days])
pins = st.lists(
    st.builds(
        lambda lift, more: {"lift": lift, **more},
        st.sampled_from(LIFTS),
        optional(days=st.lists(st.sampled_from(["mon", "wed"]), unique=True),
                 reps=st.sampled_from(["low", "mid", "high", "5-10", "1-1"])),
    ),
    max_size=3,
)  # fmt: skip
switches = {item: st.booleans() for item in ("supersets", "rest_pause", "to_failure")}
files = st.fixed_dictionaries(
    {"name": TEXTS},
    optional={
        "units": st.sampled_from(["kg", "lb"]),
        "bodyweight": st.floats(60, 350),
        "born": st.integers(1930, 2015),
        "sex": st.sampled_from(["female", "male"]),
        "experience": st.sampled_from(["novice", "intermediate", "advanced"]),
        "weeks": st.integers(3, 8),
        "start": st.sampled_from([date(2027, 1, 4), "2027-03-01"]),
        "screening": optional(
            kidney_disease=st.booleans(), under_18=st.booleans(),
            cleared_on=st.just(date(2026, 12, 1)),
            cleared_for=st.lists(st.sampled_from(["under_18", "kidney_disease"]), unique=True),
            systolic=st.integers(120, 200), diastolic=st.integers(40, 110),
        ),
        "signs": optional(cleared=st.just(["chest pain 2026-12-01", "numbness, 2026-12-02"])),
        "slot": slots,
        "emphasis": st.dictionaries(
            st.sampled_from(MUSCLES), st.sampled_from(["lead", "normal", "hold", "skip"])
        ),
        "allow": optional(**switches),
        "habits": st.just({"weekly_sets": {"quads": 9}, "reps": {"squat": "6-9"}}),
        "likes": optional(lifts=st.lists(st.sampled_from(LIFTS))),
        "policy": optional(**{"suspect.many_reps": st.integers(31, 200)}),
        "limits": optional(
            avoid_lifts=st.lists(st.sampled_from(LIFTS)),
            max_lifts_per_session=st.integers(1, 20),
        ),
        "gym": gyms,
        "pin": pins,
        "lift": st.lists(
            st.fixed_dictionaries(
                {"name": TEXTS.map(lambda text: f"own {text.strip()}"), "pattern": st.just("squat"),
                 "muscles": st.just({"quads": 1.0, "glutes": 0.5})},
                optional={"kit": st.just(["bar"]), "axial": st.integers(0, 3)},
            ),
            max_size=2, unique_by=lambda lift: " ".join(lift["name"].lower().split()),
        ),
    },
)  # fmt: skip


@FIXED
@given(files)
def test_any_good_lifter_comes_back_whole(table: dict[str, Any]) -> None:
    plates = table.get("gym", {}).get("plates", {})
    lifter = lifter_from_table(plain(table), "lifter.toml").value  # as it is stored
    again = lifter_to_table(lifter)
    assert lifter_from_table(again, "block.json").value == lifter
    assert lifter_to_table(lifter_from_table(again, "block.json").value) == again
    assert sum(plate.pairs for plate in lifter.gym.plates) == sum(plates.values())
