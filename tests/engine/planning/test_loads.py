"""Load paths: from the log, in steps the kit makes, never more than a tenth at once."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from itertools import pairwise

import pytest
from small_gym import FULL_KIT, lifter, small_catalogue

from blockwright.engine.gym import Gym, Ladder
from blockwright.engine.planning import QUICK, compose
from blockwright.engine.planning.loads import LoadPaths, kept_load_kg
from blockwright.engine.planning.problem import Option
from blockwright.engine.planning.time_model import lift_time
from blockwright.engine.rack import rack_for
from blockwright.engine.strength.beliefs import Beliefs, replay
from blockwright.engine.strength.bodyweights import Bodyweights
from blockwright.engine.tolerated_load import tolerated_load
from blockwright.engine.training import Block, Moment, RepRange, SetDone, SetPlan
from blockwright.files.policy_files import default_policy
from plan_checker import findings_of

START = date(2027, 1, 4)
LIFTS = {"barbell bench press": 80.0, "leg press": 180.0, "lateral raise": 10.0, "pull-up": 5.0}


def log() -> tuple[SetDone, ...]:
    """Three weeks of four lifts, eight repetitions with two in reserve."""
    made = []
    for week in (3, 2, 1):
        for lift, load_kg in LIFTS.items():
            for number in (1, 2, 3):
                made.append(
                    SetDone(
                        moment=Moment(day=START - timedelta(days=7 * week)), lift=lift,
                        set_number=number, loads_kg=(load_kg,), entered_load=str(load_kg),
                        entered_unit="kg", reps=(9 - number // 2,), rir_low=2, rir_high=2,
                        rest_s=180,
                    )
                )  # fmt: skip
    return tuple(made)


@cache
def beliefs() -> Beliefs:
    return replay(
        log(), small_catalogue(), default_policy(), bodyweights=Bodyweights(usual_kg=80.0)
    )


def paths(gym: Gym) -> LoadPaths:
    return LoadPaths(
        beliefs=beliefs(), gym=gym, bodyweight_kg=80.0, policy=default_policy(), heaviest_kg=LIFTS
    )


WEEKS = [(START + timedelta(days=7 * w), rir, 3) for w, rir in enumerate((3, 3, 2, 2, 1, 1))]
GYM = Gym(kit=FULL_KIT, unit="kg")


def loads(lift: str, reps: RepRange, gym: Gym = GYM) -> list[float | None]:
    steps = paths(gym).path(small_catalogue().lifts[lift], reps, 180, WEEKS)
    return [step.load_kg for step in steps]


@pytest.mark.parametrize(("most_kg", "fit"), [(18, "end"), (40, "unknown")])
def test_kin_in_the_log_say_where_the_kit_ends(most_kg: float, fit: str) -> None:
    """No press with dumbbells was logged; the bar's say that some 18 kg a hand may be right."""
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=4, high=most_kg, step=2, unit="kg"),))
    press, reps = small_catalogue().lifts["dumbbell bench press"], RepRange(low=8, high=12)
    time = lift_time(press, "mid", reps, default_policy())
    option = Option(lift=press, zone="mid", reps=reps, time=time)
    assert paths(gym).fit(option, 3, START) == fit
    unlogged = paths(gym)
    unlogged.beliefs = None
    assert unlogged.fit(option, 3, START) == "unknown"


@pytest.mark.parametrize("grams", [-7, -5, -1, 0, 1, 5, 7])
def test_a_load_some_grams_off_the_kit_is_found(grams: int) -> None:
    """The search for the best load begins beside it, not at the foot of the stack."""
    lift = small_catalogue().lifts["leg press"]
    belief = beliefs().own("leg press")
    assert belief is not None
    centre_kg = belief.load_kg_for(6.5, 3, on=START)
    made_kg = centre_kg + grams / 1000
    gym = Gym(kit=FULL_KIT, unit="kg", stacks={"leg press": Ladder(
        low=made_kg - 150, high=made_kg + 50, step=10.0, unit="kg")})  # fmt: skip
    steps = paths(gym).path(lift, RepRange(low=5, high=8), 180, WEEKS[:1])
    assert steps[0].load_kg == pytest.approx(made_kg, abs=10.1)


def test_what_was_never_logged_has_no_load() -> None:
    assert loads("deadlift", RepRange(low=5, high=8)) == [None] * 6


def test_loads_climb_as_the_reserve_falls_and_never_fall() -> None:
    path = loads("barbell bench press", RepRange(low=5, high=8))
    assert all(load is not None for load in path)
    kg = [load for load in path if load is not None]
    assert kg == sorted(kg)
    assert 70 <= kg[0] <= 88
    assert kg[-1] > kg[0]
    for before, now in pairwise(kg):
        assert now <= 1.1 * before


def test_more_repetitions_mean_less_load() -> None:
    low = loads("barbell bench press", RepRange(low=5, high=8))[0]
    mid = loads("barbell bench press", RepRange(low=8, high=12))[0]
    assert low is not None
    assert mid is not None
    assert mid < low


def test_only_later_weeks_are_forecasts_with_a_range() -> None:
    bench = small_catalogue().lifts["barbell bench press"]
    steps = paths(GYM).path(bench, RepRange(low=5, high=8), 180, WEEKS)
    assert steps[0].forecast_kg is None
    for step in steps[1:]:
        assert step.forecast_kg is not None
        low, high = step.forecast_kg
        assert step.load_kg is not None
        assert low <= step.load_kg <= high


def test_the_first_load_stays_within_a_tenth_of_the_heaviest_logged() -> None:
    careful = paths(GYM)
    careful.heaviest_kg, careful.beliefs = {"leg press": 100.0}, replace(beliefs(), sets=())
    path = careful.path(small_catalogue().lifts["leg press"], RepRange(low=8, high=12), 180, WEEKS)
    assert path[0].load_kg is not None
    assert path[0].load_kg <= 110


def test_a_big_step_waits_for_the_top_of_the_range_and_says_so() -> None:
    """Dumbbells in steps of 4 kg: 8 to 12 kg is half as much again."""
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=4, high=40, step=4, unit="kg"),))
    made = paths(gym)
    made.path(small_catalogue().lifts["lateral raise"], RepRange(low=8, high=12), 90, WEEKS)
    path = loads("lateral raise", RepRange(low=8, high=12), gym)
    risen = [
        (before, now) for before, now in pairwise(path)
        if before is not None and now is not None and now > 1.1 * before
    ]  # fmt: skip
    assert len(risen) == sum(reason.code == "smallest_step" for reason in made.reasons)


@pytest.mark.parametrize("step", [1.0, 2.5, 4.0, 5.0])
def test_a_small_lift_climbs_in_repetitions_where_a_step_is_half_its_load(step: float) -> None:
    lift, gym = (
        small_catalogue().lifts["lateral raise"],
        Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=5, high=40, step=step, unit="kg"),)),
    )
    weeks = [(START + timedelta(days=7 * at), 0.0, 3) for at in range(8)]
    steps = paths(gym).path(lift, RepRange(low=8, high=10), 90, weeks)
    asked = [(step.load_kg or 0.0, step.moved) for step in steps]
    for (before, off), (now, then) in pairwise(asked):
        assert now <= 1.2 * before
        assert now > before or then >= off


def test_week_one_asks_what_its_load_gives_and_the_end_of_the_kit_is_told() -> None:
    """Dumbbells that end at 8 kg: more than twelve are what they give, as the sheet has it."""
    made = paths(
        Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=2, high=8, step=2, unit="kg"),))
    )
    lift, reps = small_catalogue().lifts["lateral raise"], RepRange(low=8, high=12)
    steps = made.path(lift, reps, 90, WEEKS)
    off = [step.moved for step in steps]
    assert off[0] > 0
    assert off == sorted(off), "no range comes back at the same load"
    firsts = [step.aim[0] for step in steps if step.aim is not None]
    assert len(firsts) == len(WEEKS)
    assert firsts == sorted(firsts)
    usable = max(one.high for one in lift.reps.values())
    assert firsts[-1] > firsts[0] or firsts[0] + 1 == usable
    assert max(off[1:]) + reps.high <= max(usable, off[0] + reps.high)
    pinned = replace(made, pinned=frozenset({"lateral raise"}), reasons=[])
    assert not any(step.moved for step in pinned.path(lift, reps, 90, WEEKS))
    assert {(r.code, r.facts["load"]) for r in made.reasons} == {("load_kit_ends", "8 kg")}
    served = paths(GYM)
    bench = small_catalogue().lifts["barbell bench press"]
    assert not any(s.moved for s in served.path(bench, RepRange(low=5, high=8), 180, WEEKS))
    assert not served.reasons


def test_a_block_begins_no_lower_than_what_lately_gave_its_prescription() -> None:
    """Eight with two left at 180 kg, three weeks running: with two asked that load, with three no
    more than a step less; older sets, and what hurt, show nothing."""
    press, reps = small_catalogue().lifts["leg press"], RepRange(low=8, high=12)

    def first(rir: float, **change: object) -> float | None:
        made = paths(GYM)
        made.beliefs = replace(beliefs(), sets=tuple(replace(s, **change) for s in log()))  # type: ignore[arg-type]
        return made.path(press, reps, 135, [(START, rir, 3)])[0].load_kg

    lands = first(3, pain=3.0)
    assert lands is not None
    assert first(2) == 180.0
    assert first(3) == 175.0
    assert lands < 175.0
    assert first(3, moment=Moment(day=START - timedelta(days=60))) == lands


@pytest.mark.parametrize("own", [True, False])
def test_what_hurts_is_printed_as_its_sheet_has_it(own: bool) -> None:
    """Every set of the last day hurt: a step less than it had, as the sheet; where a place hurts
    that the lift loads, its load stays. Nothing climbs, and no set comes nearer to failure."""
    press, reps = small_catalogue().lifts["leg press"], RepRange(low=5, high=8)
    sets = tuple(replace(s, pain=3.0) for s in log()) if own else log()
    made = replace(paths(GYM), beliefs=replace(beliefs(), sets=sets), hurt={press.name})
    steps = made.path(press, reps, 135, WEEKS)
    hurt = tolerated_load(press, sets, default_policy())
    rack = rack_for(press, GYM, default_policy())
    kept = None if hurt is None else kept_load_kg(rack, hurt)
    assert (kept is not None) is own
    assert {(step.load_kg, step.rir) for step in steps} == {(kept or steps[0].load_kg, 3)}
    assert not own or kept == 175.0


@pytest.mark.parametrize("end", [8, 10, 12, 14])
def test_where_the_load_waits_the_printed_repetitions_climb(end: int) -> None:
    """Dumbbells that end too light or just right: the first set's aim rises with the effort, and
    stays in the printed range."""
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=2, high=end, step=2, unit="kg"),))
    lift = small_catalogue().lifts["lateral raise"]
    reps = RepRange(low=8, high=12)
    steps = paths(gym).path(lift, reps, 90, WEEKS)
    assert steps[0].load_kg == steps[-1].load_kg
    aims = [step.aim or (0, 0) for step in steps]
    assert aims[-1][0] > aims[0][0] > 0
    assert all(low >= reps.low + step.moved for (low, _), step in zip(aims, steps, strict=True))
    assert all(high <= reps.high + step.moved for (_, high), step in zip(aims, steps, strict=True))


def test_a_small_lift_is_printed_in_a_range_that_coaches_write() -> None:
    """Whatever the kit's step makes of twelve to twenty."""
    lift, plain = small_catalogue().lifts["lateral raise"], set[tuple[int, int]]()
    for step in (2, 3, 4):
        gym = Gym(kit=FULL_KIT, unit="kg",
                  dumbbells=(Ladder(low=step, high=40, step=step, unit="kg"),))  # fmt: skip
        for made in paths(gym).path(lift, RepRange(low=12, high=20), 90, WEEKS):
            assert made.printed is not None
            plain.add((made.printed.reps_low, made.printed.reps_high))
    assert len(plain) > 1
    assert plain <= {(8, 12), (10, 15), (12, 20), (15, 25)}


def test_what_the_only_load_gives_is_printed_up_to_the_usable_repetitions_and_said() -> None:
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=2, high=6, step=2, unit="kg"),))
    lift = replace(small_catalogue().lifts["lateral raise"], reps={"mid": RepRange(low=8, high=20)})
    made = paths(gym)
    steps = made.path(lift, RepRange(low=10, high=15), 90, WEEKS)
    assert [step.printed.reps_high for step in steps if step.printed] == [20] * len(WEEKS)
    assert [r.code for r in made.reasons] == ["load_gives_more"]


def test_after_week_one_a_range_begins_with_the_lifts_usable_repetitions() -> None:
    """Week one prints what its load gives, fewer than suit the lift; then they count again."""
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=10, high=40, step=10, unit="kg"),))
    lift = small_catalogue().lifts["lateral raise"]
    steps = paths(gym).path(lift, RepRange(low=8, high=12), 90, WEEKS)
    least = min(reps.low for reps in lift.reps.values())
    assert steps[0].load_kg == steps[-1].load_kg
    assert 8 + steps[0].moved < least
    assert all(8 + step.moved >= least for step in steps[1:])


@pytest.mark.parametrize(
    ("most_kg", "first", "last"), [(165, 13, 15), (160, 15, 15), (150, 18, 21)]
)
def test_a_main_lift_that_waits_climbs_no_further_than_suits_one(
    most_kg: int, first: int, last: int
) -> None:
    """Fifteen repetitions, as a coach has main lifts, though it can be done for more; where the kit
    ends so light that week one has more, it climbs on from there."""
    stack = Ladder(low=10, high=most_kg, step=5, unit="kg")
    gym = Gym(kit=FULL_KIT, unit="kg", stacks={"leg press": stack})
    press, reps = small_catalogue().lifts["leg press"], RepRange(low=8, high=12)
    steps = paths(gym).path(press, reps, 135, WEEKS)
    assert {step.load_kg for step in steps} == {float(most_kg)}
    assert [reps.high + step.moved for step in (steps[0], steps[-1])] == [first, last]


def test_one_set_at_the_bottom_of_its_range_is_no_load_for_a_block() -> None:
    """What gave it once, where the estimate gives it an even chance, is not where a block begins:
    where it is likely, it is."""
    press, reps = small_catalogue().lifts["leg press"], RepRange(low=8, high=12)
    made = paths(GYM)
    landing = made.landing(
        press, rack_for(press, GYM, default_policy()), beliefs().own(press.name),
        SetPlan.of(reps, 2), START,
    )  # fmt: skip
    even = next(kg for kg in range(180, 220, 5) if landing.p_reaches(kg) < 0.65)
    shown = replace(log()[-1], lift=press.name, loads_kg=(float(even),), reps=(8,))
    made.beliefs = replace(beliefs(), sets=(shown,))
    assert made.path(press, reps, 135, [(START, 2, 3)])[0].load_kg < even


def test_kit_that_is_too_heavy_leaves_the_load_open() -> None:
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=30, high=40, step=2, unit="kg"),))
    made = paths(gym)
    path = made.path(small_catalogue().lifts["lateral raise"], RepRange(low=8, high=12), 90, WEEKS)
    assert path[0].load_kg is None
    assert made.reasons[0].code == "load_too_heavy_for_kit"


@cache
def planned() -> Block:
    return compose(
        lifter(
            "mon 18:00 60",
            "wed 18:00 60",
            "fri 18:00 60",
            likes=tuple(LIFTS),
            deload_style="two-part",
        ),
        small_catalogue(),
        default_policy(),
        beliefs=beliefs(),
        facts=log(),
        budget=QUICK,
    )


def test_a_block_with_a_log_keeps_every_rule_and_has_loads() -> None:
    assert findings_of(planned(), small_catalogue(), default_policy()) == []
    known = {
        e.lift for s in planned().weeks[0].sessions for e in s.entries
        if e.sets[0].load_kg is not None
    }  # fmt: skip
    assert known
    assert known <= set(LIFTS)


def test_the_deload_halves_loads_in_its_second_half_only() -> None:
    deload = planned().weeks[-1]
    assert len(deload.sessions) == 2
    last = {
        (e.lift, e.zone): e.sets[0].load_kg
        for s in planned().weeks[-2].sessions for e in s.entries
    }  # fmt: skip
    seen = 0
    for number, session in enumerate(deload.sessions):
        for entry in session.entries:
            was, now = last[entry.lift, entry.zone], entry.sets[0].load_kg
            if was is None:
                assert now is None
                continue
            seen += 1
            assert now is not None
            assert now == was if number == 0 else now <= max(was / 2, 20.0)
    assert seen


@pytest.mark.parametrize("weeks", [3, 8])
def test_any_length_of_block(weeks: int) -> None:
    block = compose(
        lifter("mon 18:00 60", "thu 18:00 60", weeks=weeks),
        small_catalogue(), default_policy(), beliefs=beliefs(), facts=log(),
        budget=QUICK,
    )  # fmt: skip
    assert findings_of(block, small_catalogue(), default_policy()) == []


@pytest.mark.parametrize("step", [2.0, 3.0, 4.0, 6.0])
def test_a_big_step_waits_until_its_range_is_within_reach(step: float) -> None:
    """However often the top of the range is expected at the load before: at every load written
    the bottom of the range is within reach."""
    reps, lift = RepRange(low=8, high=12), small_catalogue().lifts["lateral raise"]
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=4, high=40, step=step, unit="kg"),))
    belief = beliefs().own("lateral raise")
    reach = default_policy().number("load.reach_probability")
    growth = 1 + default_policy().number("load.growth_per_week")
    for week, made in enumerate(paths(gym).path(lift, reps, 90, WEEKS)):
        assert made.load_kg is not None
        as_now_kg = made.load_kg / (growth**week * 1.003)
        assert belief.forecast(as_now_kg, WEEKS[week][1], on=START).p_at_least(8) >= reach


@pytest.mark.parametrize("lift", ["barbell bench press", "leg press"])
@pytest.mark.parametrize("reps", [RepRange(low=5, high=8), RepRange(low=10, high=12)])
def test_the_first_load_lands_in_its_range_more_surely_than_its_neighbours(
    lift: str, reps: RepRange
) -> None:
    found, policy = small_catalogue().lifts[lift], default_policy()
    load = loads(lift, reps)[0]
    assert load is not None
    belief, rack = beliefs().own(lift), rack_for(found, GYM, policy)

    def cost(load_kg: float) -> float:
        forecast = belief.forecast(load_kg, 3.0, on=START)
        over, far = forecast.p_at_least(reps.high + 1), forecast.p_at_least(reps.high + 3)
        return 3 * (1 - forecast.p_at_least(reps.low)) + (over - far) + 3 * far

    for other in (rack.next_harder(load), rack.next_easier(load)):
        assert other is not None
        assert cost(load) <= cost(other.load_kg)
    assert reps.low - 1 <= belief.forecast(load, 3.0, on=START).median <= reps.high + 1.5


@pytest.mark.parametrize("lift", ["barbell bench press", "leg press"])
def test_the_first_set_has_its_own_aim_where_fatigue_spreads_the_sets(lift: str) -> None:
    reps, found = RepRange(low=8, high=12), small_catalogue().lifts[lift]
    one_set = [(day, rir, 1) for day, rir, _ in WEEKS]
    assert all(step.aim is None for step in paths(GYM).path(found, reps, 60, one_set))
    several = [(day, 1.0, 4) for day, _, _ in WEEKS]
    for step in paths(GYM).path(found, reps, 60, several):
        assert step.aim is not None
        low, high = step.aim
        assert reps.low <= low < high <= reps.high
        assert high - low == 1


def test_between_too_light_and_too_heavy_the_lighter_load_needs_no_tries() -> None:
    """Raises of ten kilograms are eight; the kit has five, far too light, and twenty: on the sheet
    that was tries anew at every session."""
    gym = Gym(kit=FULL_KIT, unit="kg", dumbbells=(Ladder(low=2, high=20, step=9, unit="kg"),))
    steps = paths(gym).path(
        small_catalogue().lifts["lateral raise"], RepRange(low=12, high=15), 90, WEEKS[:1]
    )
    assert [step.load_kg for step in steps] == [2.0]
