"""A slip where the log has next to nothing to hold it against, and what "confirmed" may do."""

from datetime import date, timedelta

import numpy as np
import pytest

from blockwright.engine.strength import Beliefs, Bodyweights, backtest_rows, replay, score
from blockwright.engine.strength.outliers import suspect_rows, unlike_later_sets
from blockwright.engine.strength.plausible import Limits
from blockwright.engine.strength.slips import Suspicion
from blockwright.engine.training import Experience, Moment, SetDone
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.files.words import reason_says, sentences

CATALOGUE, POLICY = builtin_catalogue(), default_policy()


def log(*loads: float | str, lift: str = "bench press", reps: int = 5) -> list[SetDone]:
    """A set every third day; a load written with "!" is confirmed."""
    return [
        SetDone(
            moment=Moment(day=date(2027, 1, 4) + timedelta(days=3 * n)),
            lift=lift,
            set_number=1,
            loads_kg=(float(str(load).rstrip("!")),),
            entered_load=str(load).rstrip("!"),
            entered_unit="kg",
            reps=(reps,),
            rir_low=1,
            rir_high=1,
            confirmed=str(load).endswith("!"),
            row=n + 2,
        )
        for n, load in enumerate(loads)
    ]


def seen(sets: list[SetDone], bodyweight_kg: float | None = None) -> Beliefs:
    weights = Bodyweights(usual_kg=bodyweight_kg)
    aside = unlike_later_sets(sets, CATALOGUE, POLICY, bodyweight_kg)
    return replay(sets, CATALOGUE, POLICY, bodyweights=weights, aside=aside, experience="advanced")


def one_rm(beliefs: Beliefs, lift: str = "bench press") -> float | None:
    belief = beliefs.own(lift)
    return None if belief is None else belief.one_rm_kg.median


def asked(sets: list[SetDone]) -> dict[int, Suspicion]:
    return dict(suspect_rows(sets, CATALOGUE, POLICY))


@pytest.mark.parametrize("loads", [(800, 80), (80, 800)])
def test_the_load_beyond_anyone_is_blamed_wherever_it_stands(loads: tuple[float, float]) -> None:
    sets = log(*loads)
    beliefs = seen(sets)
    assert one_rm(beliefs) == pytest.approx(92, abs=4)
    wrong = loads.index(800)
    code = "mistyped" if wrong else "beyond_anyone"
    assert [(f.code, f.row) for f in beliefs.flags("bench press")] == [(code, wrong + 2)]
    assert {at: q.kind for at, q in asked(sets).items()} == {wrong: "beyond_anyone"}
    assert asked(sets)[wrong].meant_kg == 80


@pytest.mark.parametrize("loads", [(15, 150), (150, 15)])
def test_of_two_possible_loads_both_are_asked_about_and_the_lighter_counts(
    loads: tuple[float, float],
) -> None:
    sets = log(*loads)
    beliefs = seen(sets)
    estimate = one_rm(beliefs)
    assert estimate is not None
    assert estimate < 25, "nobody is sent under ten times the load by a slip"
    assert {at: q.kind for at, q in asked(sets).items()} == dict.fromkeys((0, 1), "one_of_two")
    assert {f.row for f in beliefs.flags("bench press")} == {2, 3}
    light = next(f for f in beliefs.flags("bench press") if f.code == "one_of_two")
    assert light.row == 2 + loads.index(15)


def test_two_sets_that_agree_or_are_not_ten_apart_raise_no_question() -> None:
    assert asked(log(80, 82.5)) == {}
    assert asked(log(80, 40)) == {}, "a light day"
    assert not seen(log(80, 40)).flags("bench press") or one_rm(seen(log(80, 40)))


def test_a_third_set_settles_it() -> None:
    for loads, wrong in (((150, 15, 15), 0), ((15, 150, 16), 1), ((150, 15, 150), 1)):
        assert {at: q.kind for at, q in asked(log(*loads)).items()} == {
            wrong: "ten_times" if loads[wrong] == 150 else "a_tenth"
        }


def test_bodyweight_lowers_the_limit_and_one_hand_has_half_of_it() -> None:
    limits = Limits.of(POLICY)
    bench, dumbbell = CATALOGUE.lifts["bench press"], CATALOGUE.lifts["dumbbell bench press"]
    assert limits.most_one_rm_kg(bench, 60) == 240
    assert limits.most_one_rm_kg(bench, None) == 400
    assert limits.most_one_rm_kg(dumbbell, None) == 200
    assert limits.most_one_rm_kg(None, None) == float("inf")
    assert limits.ask_one_rm_kg(bench, 60) == 135
    assert limits.ask_one_rm_kg(dumbbell, 60) == 67.5
    assert limits.ask_one_rm_kg(bench, None) == 400
    assert one_rm(seen(log(300), bodyweight_kg=60)) is None
    assert one_rm(seen(log(300), bodyweight_kg=170)) is not None


@pytest.mark.parametrize(
    ("lift", "load_kg", "reps", "bodyweight_kg", "experience", "asked_about"),
    [("leg press calf raise", 70, 15, 58, "novice", False),
     ("leg press calf raise", 700, 15, 58, "novice", True),
     ("hanging leg raise", 45.4, 9, 84.4, "intermediate", True),
     ("hanging leg raise", 10, 12, 84.4, "intermediate", False),
     ("prone y raise", 5, 15, 84.4, "novice", False)],
)  # fmt: skip
def test_calves_carry_much_and_little_hangs_on_a_leg_raise(
    lift: str, load_kg: float, reps: int, bodyweight_kg: float, experience: Experience,
    asked_about: bool,
) -> None:  # fmt: skip
    found = suspect_rows(log(load_kg, lift=lift, reps=reps), CATALOGUE, POLICY, bodyweight_kg,
                         experience)  # fmt: skip
    assert bool(found) is asked_about


@pytest.mark.parametrize(
    ("lift", "load_kg", "reps"),
    [("barbell back squat", 300, 5), ("bench press", 250, 3), ("deadlift", 400, 1),
     ("leg press", 700, 10), ("standing calf raise", 350, 12), ("barbell hip thrust", 350, 8)],
)  # fmt: skip
def test_very_strong_people_are_believed(lift: str, load_kg: float, reps: int) -> None:
    """Near what the strongest do: common practice, no source."""
    limits = Limits.of(POLICY)
    worth = float(limits.one_rm_kg(np.array(load_kg), np.array(float(reps))))
    assert worth < limits.most_one_rm_kg(CATALOGUE.lifts[lift], 110)


@pytest.mark.parametrize(
    ("experience", "asked_about"), [("novice", True), ("intermediate", True), ("advanced", False)]
)
def test_pounds_typed_as_kilograms_are_asked_about_sooner_the_less_somebody_has_trained(
    experience: Experience, asked_about: bool
) -> None:
    slip, honest = log(135), log(61)
    found = suspect_rows(slip, CATALOGUE, POLICY, 85.0, experience)
    assert [one.kind for one in found.values()] == ["unlikely"] * asked_about
    weights = Bodyweights(usual_kg=85.0)
    beliefs = replay(slip, CATALOGUE, POLICY, bodyweights=weights, experience=experience)
    assert (one_rm(beliefs) is None) is asked_about, "nothing is advised from it"
    assert not suspect_rows(honest, CATALOGUE, POLICY, 85.0, experience)
    assert not suspect_rows(log(135, 135), CATALOGUE, POLICY, 85.0, experience), "borne out"


def test_what_nobody_lifts_counts_once_confirmed_and_is_said() -> None:
    beliefs = seen(log("800!"))
    assert one_rm(beliefs) == pytest.approx(919, rel=0.05)
    assert [f.code for f in beliefs.flags("bench press")] == ["beyond_confirmed"]


def test_a_lone_confirmed_jump_is_said_and_the_way_back_is_short() -> None:
    sets = log(80, 80, 80, "130!", 81, 81)
    before = one_rm(seen(sets[:3]))
    jumped, back = seen(sets[:4]), seen(sets[:5])
    assert before is not None
    assert one_rm(jumped) == pytest.approx(130 / 80 * before, rel=0.1)
    assert [f.code for f in jumped.flags("bench press")] == ["confirmed_level"]
    assert one_rm(back) == pytest.approx(before, rel=0.05), "one set at the old level is enough"
    assert [f.code for f in back.flags("bench press")] == ["confirmed_level", "changed_level"]
    assert one_rm(seen(sets)) == pytest.approx(before, rel=0.05)


def test_a_confirmed_jump_that_lasts_stays() -> None:
    after = seen(log(80, 80, 80, "110!", 110, 111))
    assert one_rm(after) == pytest.approx(110 * 92 / 80, rel=0.05)
    assert [f.code for f in after.flags("bench press")] == ["confirmed_level"]


def test_an_earlier_slip_does_not_bend_a_confirmed_level() -> None:
    """The slip's jump once halved the confirmed one."""
    after = one_rm(seen(log(80, 80, 80, 8, "110!")))
    assert after == pytest.approx(one_rm(seen(log(80, 80, 80, "110!"))), rel=0.02)


def test_the_backtest_scores_it_and_says_so_by_its_own_row_alone() -> None:
    sets = log(80, 80, 800, 80)
    rows = backtest_rows(replay(sets, CATALOGUE, POLICY, keep_predictions=True).replayed)
    assert [row.skipped for row in rows] == ["first_set", "", "", ""]
    assert [row.flagged for row in rows] == [False, False, True, False]
    found = score(rows)
    assert (found.n, found.n_flagged) == (3, 1)
    assert found.rmse_in_line is not None
    assert found.rmse_reps is not None
    assert found.rmse_reps > found.rmse_in_line
    cut = backtest_rows(replay(sets[:3], CATALOGUE, POLICY, keep_predictions=True).replayed)
    assert rows[:3] == cut


def test_every_flag_has_words() -> None:
    sets = log(80, 800, "900!", 80, 8)
    for flag in seen(sets).flags("bench press"):
        assert flag.code in sentences()
    facts = seen(log(15, 150)).flags("bench press")[0]
    assert "lighter one counts" in reason_says(replace_reason(facts.code, facts.facts))


def replace_reason(code: str, facts: object) -> object:
    from blockwright.engine.reasons import Reason

    return Reason(code=code, facts=facts)  # type: ignore[arg-type]
