"""Pain belongs to a region: the painful lift is swapped, the others of the region are held."""

from collections.abc import Collection
from dataclasses import replace
from datetime import date, timedelta
from typing import Literal

import pytest
from small_block import (
    BENCH,
    CATALOGUE,
    FLY,
    PRESS,
    Truth,
    checkin,
    grows,
    log_of,
    monday,
    small_block,
    sunday,
    with_lift,
)

from blockwright.engine.pain import joints_loaded
from blockwright.engine.review import Review, Verdict, review, revised
from blockwright.engine.review.block_weeks import with_entry, with_sets
from blockwright.engine.review.safety import PainReport, pain_by_lift, pain_reports
from blockwright.engine.review.swaps import sparing_joint
from blockwright.engine.training import CheckIn, SetDone, catalogue_of
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.files.proposals_json import proposals_from_json, proposals_to_json
from blockwright.files.words import caution_says, reason_says
from blockwright.verbs.revise_block import letter_document
from studies.cases import case_of

POLICY = default_policy()
GRADED = catalogue_of(
    (
        *CATALOGUE.lifts.values(),
        replace(BENCH, regions={"shoulder": 2, "elbow": 2}),
        replace(PRESS, regions={"shoulder": 2, "elbow": 1}),
        replace(FLY, regions={"shoulder": 1}),
    )
)
FRIDAY = monday(2) + timedelta(days=4)


def found_with(pain: dict[str, float], checkins: Collection[CheckIn] = ()) -> Review:
    def said(day: date, lift: str) -> float | None:
        return pain.get(lift) if monday(2) <= day <= sunday(2) else None

    block = small_block()
    log = log_of(block, Truth(level=grows(2), pain=said), sunday(2))
    return review(case_of(block, log, tuple(checkins), GRADED, POLICY), sunday(2))


def kinds(found: Review, lift: str) -> set[str]:
    return {p.kind for p in found.proposals if p.lift == lift}


def week_of(day: date) -> int:
    return (day - monday(1)).days // 7 + 1


def held(found: Review, lift: str) -> set[str]:
    return {stay.why.code for stay in found.stays if stay.lift == lift}


def test_a_sore_shoulder_swaps_the_painful_press_and_holds_the_quiet_one() -> None:
    found = found_with({"bench press": 4}, [checkin(FRIDAY, "pain", 4, "left shoulder")])
    swap = next(p for p in found.proposals if p.kind == "swap_lift")
    assert (swap.lift, swap.after and swap.after.value) == ("bench press", "cable fly")
    assert swap.loses == {"triceps": 3.0}, "what each muscle loses is said"
    assert not kinds(found, "chest press") & {"swap_lift", "stop_lift", "raise_load", "add_set"}
    assert held(found, "chest press") == {"pain_no_progress_reason"}
    assert "raise_load" in kinds(found, "squat")


@pytest.mark.parametrize("other", ["dumbbell floor press", "dumbbell bench press"])
def test_pain_written_with_a_set_is_spared_like_pain_in_a_check_in(other: str) -> None:
    """A bench press loads the shoulder much and nothing else: where no fly is at hand, a press that
    spares it stands in; where the only other press does not, the line beside the pain is lighter,
    and so is what else may be done about it."""
    real = builtin_catalogue().lifts
    catalogue = catalogue_of(
        (*(one for one in CATALOGUE.lifts.values() if one.name not in ("bench press", "cable fly")),
         real["bench press"], real[other])
    )  # fmt: skip

    def said(day: date, lift: str) -> float | None:
        return 4 if lift == "bench press" and monday(2) <= day <= sunday(2) else None

    log = log_of(small_block(), Truth(level=grows(4), pain=said), sunday(2))
    place = checkin(FRIDAY, "pain", 4, "left shoulder")
    for checkins in ((), (place,)):
        found = review(case_of(small_block(), log, checkins, catalogue, POLICY), sunday(2))
        mine = [p for p in found.proposals if p.lift == "bench press"]
        swaps = [p.after.value for p in mine if p.kind == "swap_lift" and p.after]
        assert swaps == ([other] if "floor" in other else []), checkins
        assert ("no_stand_in" in held(found, "bench press")) == (not swaps)
        kinds_here = {p.kind for p in mine} | {p.runner_up.kind for p in mine if p.runner_up}
        assert "raise_load" not in kinds_here


def test_a_region_alone_holds_and_asks_and_swaps_nothing() -> None:
    found = found_with({}, [checkin(FRIDAY, "pain", 4, "shoulder")])
    assert "swap_lift" not in {p.kind for p in found.proposals}
    assert held(found, "bench press") == held(found, "chest press") == {"pain_no_progress_reason"}
    assert any(question.id.startswith("pain-shoulder") for question in found.settle)


def test_a_place_named_in_the_note_of_a_painful_set_is_a_report_of_it() -> None:
    def read(note: str) -> Review:
        truth = Truth(
            level=grows(2),
            pain=lambda day, lift: 4 if lift == "row" and monday(2) <= day <= sunday(2) else None,
            extra={f"{monday(2) + timedelta(days=n)} row": note for n in range(7)},
        )
        log = log_of(small_block(), truth, sunday(2))
        return review(case_of(small_block(), log, (), GRADED, POLICY), sunday(2))

    assert not held(read("slow today"), "bench press") & {"pain_no_progress_reason"}
    named = read("inside of the left elbow")
    assert held(named, "bench press") == {"pain_no_progress_reason"}
    assert not kinds(named, "bench press") & {"raise_load", "add_set"}


def test_a_joint_and_the_lift_in_which_alone_it_hurt_are_one_complaint() -> None:
    """A row loads the elbow a little: whose elbow hurt in rows has one sore elbow."""

    def rowed(place: str) -> Review:
        days = [monday(2) + timedelta(days=n) for n in range(7)]
        truth = Truth(
            level=grows(2),
            pain=lambda day, lift: 4 if lift == "row" and monday(2) <= day <= sunday(2) else None,
            extra={f"{day} row": place for day in days},
        )
        known = catalogue_of((*GRADED.lifts.values(),
                              replace(CATALOGUE.lifts["row"], regions={"elbow": 1})))  # fmt: skip
        log = log_of(small_block(), truth, sunday(2))
        return review(case_of(small_block(), log, (), known, POLICY), sunday(2))

    found = rowed("inside of the left elbow")
    assert found.case.pain["row"].about == "elbow"
    assert "; elbow hurts" in reason_says(found.verdict)
    referred = [str(p.says.facts["about"]) for p in found.proposals if p.kind == "refer"]
    assert referred in ([], ["elbow"])


def test_a_joint_that_is_quieter_is_heard_though_its_lifts_were_what_hurt() -> None:
    days = [monday(2) + timedelta(days=n) for n in (5, 6)]
    better = [
        checkin(day, "pain", pain, "shoulder") for day, pain in zip(days, (2, 1), strict=True)
    ]
    found = found_with({"bench press": 4, "chest press": 4}, better)
    assert "; shoulder hurts, down to 1 of 10 since" in reason_says(found.verdict)


def test_words_that_name_no_place_are_asked_about_once() -> None:
    found = found_with({}, [checkin(FRIDAY, "pain", 7, "old dent")])
    assert [one.id.startswith("pain-old-dent") for one in found.settle].count(True) == 1


def test_two_painful_presses_are_the_shoulder() -> None:
    found = found_with({"bench press": 4, "chest press": 4})
    swaps = {p.lift for p in found.proposals if p.kind == "swap_lift"}
    assert swaps <= {"bench press", "chest press"}
    assert swaps
    for proposal in found.proposals:
        if proposal.kind == "swap_lift" and proposal.after is not None:
            other = GRADED.lifts[str(proposal.after.value)]
            assert other.regions.get("shoulder", 0) < 2


def test_curl_and_pushdown_that_hurt_are_the_elbow() -> None:
    """A pushdown loads the elbow a little, and nothing else: where else would it hurt?"""
    real = builtin_catalogue().lifts
    curl, pushdown = real["barbell curl"], real["triceps pushdown"]
    catalogue = catalogue_of((*GRADED.lifts.values(), curl, pushdown))
    block = with_lift(small_block(), "dumbbell curl", curl.name)
    block = with_lift(block, "chest press", pushdown.name)

    def said(day: date, lift: str) -> float | None:
        return 4 if lift in (curl.name, pushdown.name) and day >= monday(2) else None

    log = log_of(block, Truth(pain=said), sunday(2))
    assert len({done.moment.day for done in log if done.pain}) > 1
    found = review(case_of(block, log, (), catalogue, POLICY), sunday(2))
    referred = [p.says.facts for p in found.proposals if p.kind == "refer"]
    assert "elbow" in {facts.get("about") or facts.get("lift") for facts in referred}, referred
    assert all("in barbell curl" in str(facts["lifts"]) for facts in referred)


def test_no_front_raise_stands_in_for_a_press_that_hurts_the_shoulder() -> None:
    real = builtin_catalogue().lifts
    press, front = real["dumbbell shoulder press"], real["dumbbell front raise"]
    catalogue = catalogue_of((*GRADED.lifts.values(), press, front))
    block = with_lift(small_block(), "dumbbell curl", press.name)

    def said(day: date, lift: str) -> float | None:
        return 4 if lift == press.name and day >= monday(2) else None

    log = log_of(block, Truth(pain=said), sunday(2))
    place = (checkin(FRIDAY, "pain", 4, "left shoulder"),)
    found = review(case_of(block, log, place, catalogue, POLICY), sunday(2))
    assert front.name not in {p.after.value for p in found.proposals if p.after}
    assert "no_stand_in" in held(found, press.name)
    assert "ask_unspared" in {one.asks.code for one in found.settle}


def test_near_pain_nothing_that_gave_its_range_comes_down() -> None:
    """A pulldown of 8 and 8 at 130 with what was asked left went to 120, for the shoulder."""
    place = (checkin(FRIDAY, "pain", 4, "shoulder"),)

    def last_week(done: SetDone, reps: tuple[int, int]) -> SetDone:
        fresh = done.lift == "chest press" and done.moment.day >= monday(2)
        return replace(done, reps=(reps[done.set_number > 1],)) if fresh else done

    graded = catalogue_of((*GRADED.lifts.values(), replace(PRESS, regions={"shoulder": 1})))
    log = log_of(small_block(), Truth(), sunday(2))
    for reps, way in (((9, 3), set()), ((5, 4), {"lower_load"})):
        mine = [last_week(done, reps) for done in log]
        found = review(case_of(small_block(), mine, place, graded, POLICY), sunday(2))
        assert kinds(found, "chest press") == way, reps


def test_one_day_reported_twice_is_one_report() -> None:
    """A lift and its joint on the same day: a day counts once, two days refer."""
    once = found_with({}, [checkin(FRIDAY, "pain", 4, "shoulder"),
                           checkin(FRIDAY, "pain", 4, "bench press")])  # fmt: skip
    assert "refer" not in {p.kind for p in once.proposals}
    twice = found_with({}, [checkin(FRIDAY, "pain", 4, "shoulder"),
                            checkin(sunday(2), "pain", 4, "bench press")])  # fmt: skip
    assert "refer" in {p.kind for p in twice.proposals}


def test_what_was_swapped_is_tried_again_when_it_has_been_quiet() -> None:
    found = found_with({}, [checkin(FRIDAY, "pain", 4, "bench press")])
    file = proposals_from_json(proposals_to_json(found), "here")
    verdicts = [Verdict(offered=o, verdict="accepted", to=o.after) for o in file.offered.values()]
    block = revised(small_block(), verdicts, file.cautions, GRADED, POLICY)
    assert "cable fly" in {e.lift for s in block.weeks[3].sessions for e in s.entries}

    def after(week: int, note: str = "", hurts: str = "") -> Review:
        def said(day: date, lift: str) -> float | None:
            return (4.0 if week_of(day) == 4 else 1.0) if lift == hurts else None

        truth = Truth(extra={f"{FRIDAY} bench press": note}, pain=said)
        log = log_of(block, truth, sunday(week))
        return review(case_of(block, log, (), GRADED, POLICY), sunday(week))

    def again(found: Review) -> list[object]:
        return [p.after.value for p in found.proposals if p.kind == "swap_lift" and p.after]

    assert again(after(3)) == [], "not yet"
    assert again(after(5)) == ["bench press"]
    assert (
        "try bench press at 70 kg in place of cable fly again."
        in letter_document(after(5))["message"]
    )
    assert again(after(5, "sharp pain")) == [], "a sign nobody has cleared"
    assert again(after(5, hurts="chest press")) == [], "what loads the same joint hurt since"


@pytest.mark.parametrize(("name", "joint"), [
    ("leg press", "knee"), ("barbell back squat", "knee"), ("dumbbell shoulder press", "shoulder"),
    ("bench press", "shoulder"), ("dumbbell romanian deadlift", "back"),
])  # fmt: skip
def test_what_stands_in_spares_the_joint_and_is_no_harder(name: str, joint: str) -> None:
    catalogue = builtin_catalogue()
    kit = tuple({word for lift in catalogue.lifts.values() for word in lift.kit})
    lifter = small_block().lifter
    lifter = replace(lifter, gym=replace(lifter.gym, kit=kit))
    lift = catalogue.lifts[name]
    region = "lower_back" if joint == "back" else joint
    offered = sparing_joint(lift, joint, catalogue, lifter, POLICY)
    assert bool(offered) is (name != "leg press"), "else nothing stands in, and that is said"
    for other in offered:
        assert other.skill <= lift.skill, other.name
        assert other.regions.get(region, 0) <= 1, other.name
        assert joint != "knee" or other.pattern != "lunge", other.name
        assert joint != "back" or other.pattern != "hinge", "no loaded bend from the hip"
    names = [other.name for other in offered]
    if name == "barbell back squat":
        assert offered[0].muscles["quads"] >= 1, "what a squat is for, where the kit has it"
        assert names.index("barbell hip thrust") < names.index("rack pull"), "no lift for the back"


def test_a_lift_that_loads_a_sore_joint_a_little_waits_too() -> None:
    """The fly hurts nobody and is graded 1 in the shoulder: no load and no set more."""
    block = with_lift(small_block(), "dumbbell curl", "cable fly")
    log = log_of(block, Truth(level=grows(2)), sunday(2))

    def read(place: str) -> Review:
        said = [checkin(FRIDAY, "pain", 3, place)]
        return review(case_of(block, log, said, GRADED, POLICY), sunday(2))

    assert "raise_load" in kinds(read("left ankle"), "cable fly")
    sore = read("left shoulder")
    assert not kinds(sore, "cable fly") & {"raise_load", "add_set"}


def test_a_joint_nobody_named_holds_what_loads_it_much_and_no_more() -> None:
    """One press that hurts: the other press waits, a fly that loads the joint a little does not."""
    block = with_lift(small_block(), "dumbbell curl", "cable fly")

    def said(day: date, lift: str) -> float | None:
        return 4 if lift == "chest press" and monday(2) <= day <= sunday(2) else None

    one_joint = catalogue_of((*GRADED.lifts.values(), replace(BENCH, regions={"shoulder": 2})))
    log = log_of(block, Truth(level=grows(4), pain=said), sunday(2))
    found = review(case_of(block, log, (), one_joint, POLICY), sunday(2))
    assert held(found, "bench press") == {"near_pain"}
    assert "raise_load" in kinds(found, "cable fly")
    named = (checkin(FRIDAY, "pain", 4, "left shoulder"),)
    found = review(case_of(block, log, named, one_joint, POLICY), sunday(2))
    assert not kinds(found, "cable fly") & {"raise_load", "add_set", "lower_load"}
    assert held(found, "cable fly") == {"near_pain"}, "the press is referred, and its kin held"


@pytest.mark.parametrize("verdict", ["accepted", "declined"])
@pytest.mark.parametrize(("role", "sets"), [("small", 2), ("main", 3)])
def test_a_small_lift_that_loads_a_sore_joint_gains_no_printed_set(
    role: str, sets: int, verdict: Literal["accepted", "declined"]
) -> None:
    """A main lift that loads it a little goes on as printed; a hold is no line to decline away."""
    block = with_lift(small_block(), "dumbbell curl", "cable fly")
    weeks = list(block.weeks)
    fly = weeks[2].sessions[0].entries[2]
    for at in (2, 3):
        weeks[at] = with_entry(weeks[at], 1, with_sets(fly, 3))
    block = replace(block, weeks=tuple(weeks))
    fly_so = replace(FLY, regions={"shoulder": 1}, role=role)  # type: ignore[arg-type]
    known = catalogue_of((*GRADED.lifts.values(), fly_so))
    said = (checkin(FRIDAY, "pain", 4, "left shoulder"),)
    log = log_of(block, Truth(), sunday(2))
    found = review(case_of(block, log, said, known, POLICY), sunday(2))
    file = proposals_from_json(proposals_to_json(found), "here")
    taken = [one for one in file.offered.values() if one.lift == "cable fly"]
    verdicts = [Verdict(offered=one, verdict=verdict, to=one.after) for one in taken]
    new = revised(block, verdicts, file.cautions, known, POLICY)
    done, held_week, later = (week.sessions[0].entries[2] for week in new.weeks[1:4])
    assert [len(one.sets) for one in (done, held_week, later)] == [2, sets, 3]
    assert [one.waits for one in (held_week, later)] == [False, role == "small"]
    codes = {r.code for p in found.proposals if p.lift == "cable fly" for r in p.reasons}
    assert ("sets_near_pain" in codes) is (role == "small")


def test_what_hurts_is_asked_about_beside_a_week_that_is_done_again() -> None:
    """Much was left undone, and a lift hurts for which nothing stands in: the letter says both."""

    def said(day: date, lift: str) -> float | None:
        return 4 if lift == "squat" and day >= monday(2) else None

    truth = Truth(pain=said, does=lambda day, lift: day < monday(2) or lift == "squat")
    log = log_of(small_block(), truth, sunday(2))
    found = review(case_of(small_block(), log, (), CATALOGUE, POLICY), sunday(2))
    assert "light_week" in {p.kind for p in found.proposals}
    assert held(found, "squat") == {"no_stand_in"}
    assert "ask_unspared" in {one.asks.code for one in found.settle}


def test_a_named_joint_explains_the_lifts_that_load_it() -> None:
    """Two squats that hurt a named knee say nothing of the back, which they load as well; unnamed,
    they are asked about under their own names."""
    real = builtin_catalogue().lifts
    squats = [real["barbell back squat"], real["front squat"]]
    reports = {one.name: [PainReport(day=FRIDAY, pain=4.0)] for one in squats}
    lifts = [*squats, real["barbell row"]]
    until = (lifts, catalogue_of(tuple(lifts)), POLICY, FRIDAY, {})
    named = pain_by_lift(reports | {"knee": [PainReport(day=FRIDAY, pain=4.0)]}, *until)
    assert {name: state.about for name, state in named.items()} == {
        one.name: "knee" for one in squats
    }
    both = [("knee", FRIDAY, 4.0), ("back", FRIDAY, 3.0), ("lower back", sunday(2), 4.0)]
    assert set(pain_reports(both, (), catalogue_of(tuple(lifts)), sunday(2))) == {
        "knee", "lower back",
    }, "the back is the lower one where that was said"  # fmt: skip
    so_far = pain_reports(both, (), catalogue_of(tuple(lifts)), FRIDAY)
    assert set(so_far) == {"knee", "back"}, "what is said later renames nothing"
    unnamed = pain_by_lift(reports, *until)
    assert {unnamed[one.name].about for one in squats} == {one.name for one in squats}
    assert unnamed["barbell row"].about in reports, "the row waits with them"


def test_a_sore_lower_back_leaves_a_supported_row() -> None:
    row, supported = (builtin_catalogue().lifts[n] for n in ("barbell row", "chest-supported row"))
    kit = tuple({word for lift in builtin_catalogue().lifts.values() for word in lift.kit})
    lifter = replace(small_block().lifter, gym=replace(small_block().lifter.gym, kit=kit))
    offered = sparing_joint(row, "lower back", builtin_catalogue(), lifter, POLICY)
    assert supported in offered
    assert not joints_loaded(supported) & {"lower back"}


@pytest.mark.parametrize("since", [1, 2])
def test_what_stands_in_for_a_referred_press_is_not_raised(since: int) -> None:
    """A press that hurt in two weeks is referred; a fly that loads the shoulder a little waits with
    it, and the caution of the other press says in which it hurt."""
    block = with_lift(small_block(), "dumbbell curl", "cable fly")

    def said(day: date, lift: str) -> float | None:
        return 4 if lift == "chest press" and monday(since) <= day <= sunday(2) else None

    one_joint = catalogue_of((*GRADED.lifts.values(), replace(BENCH, regions={"shoulder": 2})))
    log = log_of(block, Truth(level=grows(4), pain=said), sunday(2))
    found = review(case_of(block, log, (), one_joint, POLICY), sunday(2))
    assert ("refer" in {p.kind for p in found.proposals}) is (since == 1)
    assert ("raise_load" in kinds(found, "cable fly")) is (since == 2)
    pressed = max(done.moment.day for done in log if done.lift == "chest press")
    named = (checkin(pressed, "pain", 4, "shoulder"),)
    told = log if since == 2 else [replace(done, pain=None) for done in log]
    found = review(case_of(block, told, named, one_joint, POLICY), sunday(2))
    says = {str(c.facts["lift"]): caution_says(c) for c in found.cautions
            if c.code == "pain_no_progress"}  # fmt: skip
    assert ("4 of 10 in chest press on" in says["bench press"]) is (since == 2)


@pytest.mark.parametrize(("most", "swaps"), [(40, True), (10, False)])
def test_what_the_kit_cannot_load_like_it_stands_in_for_no_heavy_lift(
    most: float, swaps: bool
) -> None:
    real = builtin_catalogue().lifts
    catalogue = catalogue_of(
        (*(one for one in CATALOGUE.lifts.values() if one.name not in ("bench press", "cable fly")),
         real["bench press"], real["dumbbell floor press"])
    )  # fmt: skip
    block = small_block()
    dumbbells = (replace(block.lifter.gym.dumbbells[0], high=most),)
    gym = replace(block.lifter.gym, dumbbells=dumbbells)
    block = replace(block, lifter=replace(block.lifter, gym=gym))

    def said(day: date, lift: str) -> float | None:
        return 4 if lift == "bench press" and monday(2) <= day <= sunday(2) else None

    log = log_of(block, Truth(level=grows(4), pain=said), sunday(2))
    found = review(case_of(block, log, (), catalogue, POLICY), sunday(2))
    assert ("swap_lift" in kinds(found, "bench press")) is swaps


@pytest.mark.parametrize("more", [0.0, 5.0])
def test_of_a_lead_is_told_what_pain_leaves_where_it_climbs_no_more(more: float) -> None:
    block = small_block()
    next_week = block.weeks[2]
    chest = next_week.muscle_sets["chest"]
    printed = {**next_week.muscle_sets, "chest": replace(chest, fractional=chest.fractional + more)}
    weeks = (*block.weeks[:2], replace(next_week, muscle_sets=printed), *block.weeks[3:])
    lifter = replace(block.lifter, emphasis={"chest": "lead"})
    log = log_of(block, Truth(), sunday(2))
    said = (checkin(FRIDAY, "pain", 4, "left shoulder"),)
    made = replace(block, lifter=lifter, weeks=weeks)
    found = review(case_of(made, log, said, GRADED, POLICY), sunday(2))
    told = [stay.why.facts["sets"] for stay in found.stays if stay.why.code == "lead_in_pain"]
    assert told == ([] if more else [chest.fractional])


def test_what_a_line_or_a_question_says_hurts_no_caution_says_again() -> None:
    found = found_with({"bench press": 4}, [checkin(FRIDAY, "pain", 4, "left shoulder")])
    said = proposals_to_json(found)["caution_lines"]
    assert any("chest press" in line for line in said)
    assert not any("4 of 10" in line for line in said)


@pytest.mark.parametrize("again", [False, True])
def test_no_joint_is_quiet_while_a_lift_that_loads_it_hurts(again: bool) -> None:
    def said(day: date, lift: str) -> float | None:
        return 4 if again and lift == "bench press" and day >= monday(3) else None

    block = small_block()
    log = log_of(block, Truth(level=grows(2), pain=said), sunday(3))
    old = (checkin(monday(1), "pain", 4, "left shoulder"),)
    found = review(case_of(block, log, old, GRADED, POLICY), sunday(3))
    asked = [one for one in found.settle if one.asks.code == "ask_pain_quiet"]
    assert len(asked) == (not again)


@pytest.mark.parametrize(("lighter", "out"), [(5.0, True), (0.0, False)])
def test_what_hurts_again_with_less_load_and_has_no_stand_in_goes_out(
    lighter: float, out: bool
) -> None:
    squats = ("squat",)
    known = catalogue_of(replace(lift, regions={"knee": 2}) if lift.name in squats else lift
                         for lift in GRADED.lifts.values())  # fmt: skip
    truth = Truth(level=grows(2), pain=lambda day, lift: 4 if lift == "squat" and day >= monday(2)
                  else None)  # fmt: skip
    log = [replace(one, loads_kg=(one.loads_kg[0] - lighter,))
           if one.lift == "squat" and one.moment.day >= monday(3) else one
           for one in log_of(small_block(), truth, sunday(3))]  # fmt: skip
    found = review(case_of(small_block(), log, (), known, POLICY), sunday(3))
    assert ("stop_lift" in kinds(found, "squat")) is out
    assert ("no_stand_in" in held(found, "squat")) is not out
