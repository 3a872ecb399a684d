"""A case: own facts only, cut at a day, found once; several together as each alone."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import pytest

import blockwright.engine.case as engine_case
from blockwright.engine.case import CoachCase, derived, together
from blockwright.engine.gym import Gym, Ladder
from blockwright.engine.rack import rack_for
from blockwright.engine.signs import Warning
from blockwright.engine.strength import Beliefs
from blockwright.engine.training import CheckIn, Known, Lifter, Moment, SetDone
from blockwright.engine.units import kg_from, load_text
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.files.signs.grammar import signs_found

CATALOGUE, POLICY = builtin_catalogue(), default_policy()
START = date(2027, 1, 4)
DAY = timedelta(days=1)
PRESS, PULL_UP = "bench press", "pull-up"


def sets(
    lift: str, loads: Sequence[float], reps: int = 8, name: str | None = None
) -> list[SetDone]:
    return [
        SetDone(
            moment=Moment(day=START + 3 * n * DAY), lift=lift, set_number=1, loads_kg=(load,),
            entered_load=f"{load:g}", entered_unit="kg", reps=(8,), rir_low=2, rir_high=2,
            lifter=name, row=2 + n,
        )
        for n, load in enumerate(loads)
    ]  # fmt: skip


def weighed(kg: float, day: date) -> CheckIn:
    return CheckIn(moment=Moment(day=day), measure="bodyweight", about=None, value=kg)


def case(
    *logs: list[SetDone], kg: float | None = 80.0, said: Sequence[CheckIn] = (), name: str = "Ana",
    experience: str = "intermediate",
) -> CoachCase:  # fmt: skip
    done = sorted((one for log in logs for one in log), key=lambda one: one.moment.day)
    lifter = Lifter(
        name=name, bodyweight=kg, bodyweight_kg=kg, experience=experience,  # type: ignore[arg-type]
        gym=Gym(kit=frozenset(), unit="kg"),
    )  # fmt: skip
    return CoachCase(
        lifter=lifter, catalogue=CATALOGUE, policy=POLICY, read_note=signs_found,
        sets=tuple(done), checkins=tuple(said),
    )  # fmt: skip


def one_rm(beliefs: Beliefs, lift: str) -> float:
    belief = beliefs.own(lift)
    assert belief is not None
    return belief.one_rm_kg.median


STEADY, SLIP = [60.0] * 8, [600.0, *[60.0] * 7]
PEOPLE = (
    lambda: case(sets(PRESS, STEADY), sets(PULL_UP, [0.0] * 8)),
    lambda: case(sets(PRESS, SLIP), sets(PULL_UP, [0.0] * 8), kg=100.0, name="Bo"),
    lambda: case(
        sets(PRESS, SLIP, name="Cy"), sets(PULL_UP, [0.0] * 8, name="Cy"), kg=60.0, name="Cy",
        said=[weighed(64.0, START + 9 * DAY)],
    ),
    lambda: case(sets(PRESS, STEADY), name="Di", experience="novice"),
    lambda: case(name="Nobody yet"),
)  # fmt: skip
"""Two slips of the pen, three bodyweights, one weigh-in, one novice, one without a set."""


@pytest.mark.parametrize("day", [None, START + 12 * DAY, START - DAY])
def test_several_together_are_each_as_alone(day: date | None) -> None:
    shared, alone = [make() for make in PEOPLE], [make() for make in PEOPLE]
    together(shared, day)
    for one, other in zip(shared, alone, strict=True):
        given, wanted = one.beliefs(day), other.beliefs(day)
        assert given.series == wanted.series
        assert list(given.sets) == list(wanted.sets)
        for who, lift in wanted.series:
            assert given.flags(lift, who) == wanted.flags(lift, who)
            assert given.history(lift) == wanted.history(lift)
            assert (given.own(lift) is None) == (wanted.own(lift) is None)
            if wanted.own(lift) is not None:
                assert one_rm(given, lift) == pytest.approx(one_rm(wanted, lift), rel=1e-12)


def test_names_alike_do_not_mix() -> None:
    same = [case(sets(PRESS, [load] * 6, name="Ana")) for load in (60.0, 90.0)]
    together(same, None)
    light, heavy = (one_rm(one.beliefs(), PRESS) for one in same)
    assert heavy == pytest.approx(1.5 * light, rel=0.05)


def test_hindsight_sees_a_first_slip_and_foresight_does_not() -> None:
    slipped = case(sets(PRESS, SLIP))
    assert slipped.aside == {0}
    without = one_rm(case(sets(PRESS, STEADY)).beliefs(), PRESS)
    assert one_rm(slipped.beliefs(), PRESS) == pytest.approx(without, rel=0.02), "not of 600 kg"
    seen = {flag.code for flag in slipped.foresight().flags(PRESS)}
    assert "unlike_later_sets" not in seen
    assert "unlike_later_sets" in {flag.code for flag in slipped.beliefs().flags(PRESS)}
    assert slipped.foresight().replayed.predictions is not None


def test_an_earlier_day_knows_which_first_set_was_a_slip() -> None:
    """Else the week after the slip would look like a fall."""
    slipped = case(sets(PRESS, SLIP))
    first_day = slipped.beliefs(START + DAY)
    assert first_day.own(PRESS) is None
    assert slipped.until(START + DAY).aside == frozenset(), "nothing later is known then"


def test_what_comes_after_the_day_is_not_of_the_case() -> None:
    end = START + 6 * DAY
    signs = tuple(Warning(sign="faintness", day=end + n * DAY, lift=PRESS) for n in (0, 1))
    sore = CheckIn(moment=Moment(day=end), measure="sore", about="quads", value=3)
    said = [weighed(80, end), sore, weighed(90, end + DAY)]
    whole = replace(case(sets(PRESS, STEADY), said=said), signs=signs)
    cut = whole.until(end)
    assert max(one.moment.day for one in cut.sets) == end
    assert [one.value for one in cut.checkins] == [80, 3]
    assert [one.value for one in cut.weights.weigh_ins] == [80]
    assert [one.day for one in cut.signs] == [end]
    assert cut.through == end
    assert whole.until(end) is cut, "found once"
    assert cut.until(end) is cut
    assert whole.until(None) is whole
    assert cut.beliefs().through == end
    assert len(cut.beliefs().sets) == len(cut.sets)


def test_a_default_stack_makes_what_was_logged_twice_and_a_listed_one_does_not() -> None:
    """coach.md 1, rule 6: a logged load is one the kit makes, whatever a default stack says."""
    known = case(sets("cable curl", [23.0, 23.0, 26.0]))
    assert known.lifter is not None
    curl, gym = CATALOGUE.lifts["cable curl"], known.lifter.gym
    listed = replace(gym, stacks={"cable": Ladder(low=5, high=50, step=5, unit="kg")})
    made = [rack_for(curl, one, POLICY).exactly(kg) for one in (gym, listed) for kg in (23, 26)]
    assert [one is not None for one in made] == [True, False, False, False]
    assert known.until(START).lifter.gym.logged == {}  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("load_kg", "times", "known"), [(1.0, 2, True), (1.0, 1, False), (0.0, 2, False)]
)
def test_any_load_that_was_logged_twice_is_one_the_kit_makes(
    load_kg: float, times: int, known: bool
) -> None:
    found = case(sets("dumbbell lateral raise", [load_kg] * times))
    assert found.lifter is not None
    assert ("dumbbell lateral raise" in found.lifter.gym.logged) == known


def test_a_half_step_logged_on_one_lift_of_a_stack_is_true_of_the_stack() -> None:
    """Face pulls at 27.5, and a lateral raise on the same cable that could have no 7.5."""
    known = case(sets("face pull", [27.5, 27.5]))
    assert known.lifter is not None
    raises, curl = (CATALOGUE.lifts[name] for name in ("cable lateral raise", "leg curl"))
    made = [rack_for(one, known.lifter.gym, POLICY).exactly(7.5) for one in (raises, curl)]
    assert [one is not None for one in made] == [True, False]


def test_pounds_logged_in_kilograms_are_a_dumbbell_in_pounds() -> None:
    known = case(sets("dumbbell curl", [18.144, 18.1437]))
    assert known.lifter is not None
    pounds = replace(known, lifter=replace(known.lifter, gym=replace(known.lifter.gym, unit="lb")))
    twice = replace(pounds, sets=(*pounds.sets, *pounds.sets))
    logged = twice.until(None).lifter.gym.logged  # type: ignore[union-attr]
    assert logged["dumbbell curl"] == (40.0,)


def test_a_stack_logged_in_pounds_has_steps_in_pounds() -> None:
    """100 lb in a gym of kilograms: the next load is another pin, not 47.5 kg."""
    known = case(sets("leg curl", [kg_from(100, "lb"), kg_from(100, "lb")]))
    assert known.lifter is not None
    rack = rack_for(CATALOGUE.lifts["leg curl"], known.lifter.gym, POLICY)
    harder = rack.next_above(kg_from(100, "lb"))
    assert rack.exactly(kg_from(100, "lb")) is not None
    assert harder is not None
    assert harder.says == "pin at 110 lb"
    assert load_text(harder.load_kg, "kg") == "110 lb"


def test_a_derived_answer_is_found_once_a_case_and_argument() -> None:
    asked: list[int] = []

    @derived
    def count(of: CoachCase, times: int = 1) -> int:
        asked.append(times)
        return times * len(of.sets)

    one, other = case(sets(PRESS, STEADY)), case(sets(PRESS, STEADY[:3]))
    assert [count(one), count(one), count(one, 2), count(one, 2), count(other)] == [8, 8, 16, 16, 3]
    assert asked == [1, 2, 1]


def test_a_log_of_nobody_known_has_neither_bodyweight_nor_experience() -> None:
    unknown = CoachCase(
        lifter=None, catalogue=CATALOGUE, policy=POLICY, read_note=signs_found,
        sets=tuple(sets(PULL_UP, [0.0] * 4)),
    )  # fmt: skip
    assert unknown.experience == "intermediate"
    assert unknown.weights.on(None, START) is None
    assert unknown.beliefs().own(PULL_UP) is None
    assert unknown.capacities[PULL_UP] == ()


def test_one_lifters_log_is_filtered_once_for_beliefs_and_what_was_expected(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A long log is walked set by set: a strength page asked for it twice."""
    runs: list[int] = []
    run = engine_case.replay
    monkeypatch.setattr(
        engine_case, "replay", lambda *given, **named: (runs.append(1), run(*given, **named))[1]
    )
    for first in (CoachCase.beliefs, CoachCase.foresight):
        runs.clear()
        steady = case(sets(PRESS, STEADY))
        first(steady)
        assert steady.foresight().replayed.predictions is not None
        assert one_rm(steady.beliefs(), PRESS) > 0
        assert len(runs) == 1


def told(of: CoachCase, load: float, on: date | None = None, lift: str = PRESS) -> CoachCase:
    """The case with a known set in the lifter file."""
    assert of.lifter is not None
    known = Known(lift=lift, load=load, reps=8, rir=2, on=on)
    return replace(of, lifter=replace(of.lifter, known=(known,), start=START + 30 * DAY))


def test_a_known_set_teaches_strength_wherever_it_is_asked() -> None:
    logged = one_rm(case(sets(PRESS, [80.0])).beliefs(), PRESS)
    nobody = told(case(), 80)
    assert one_rm(nobody.beliefs(), PRESS) == pytest.approx(logged, rel=0.02)
    assert one_rm(nobody.until(START + 40 * DAY).beliefs(), PRESS) == pytest.approx(
        logged, rel=0.05
    )
    assert nobody.until(START).taught == (), "it is said of the day before the block"
    assert nobody.sets == (), "nobody did it: it is no volume"


def test_a_log_that_began_before_a_known_set_wins() -> None:
    """Told without a day it moves to the next block's start; the log knows better by then."""
    steady = case(sets(PRESS, STEADY))
    assert told(steady, 100).taught == steady.sets
    assert len(told(steady, 100, lift=PULL_UP).taught) == len(steady.sets) + 1
    dated = told(steady, 70, on=START - DAY)
    assert dated.taught[0].loads_kg == (70.0,), "a day makes it a fact of its own"
    assert [flag.row for flag in told(case(sets(PRESS, [60.0] * 3)), 600, on=START - DAY)
            .beliefs().flags(PRESS)] == []  # fmt: skip
