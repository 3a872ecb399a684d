"""A letter says in its first sentence what its own lines rest on, and asks what was really odd."""

from collections.abc import Collection
from dataclasses import replace
from datetime import date, timedelta

import pytest
from small_block import CATALOGUE, Truth, checkin, grows, log_of, monday, small_block, sunday

from blockwright.engine.reasons import and_listed
from blockwright.engine.review import Review, review
from blockwright.engine.review.doubted_sets import asks_of_set
from blockwright.engine.review.load_holds import WATCH
from blockwright.engine.strength import Flag
from blockwright.engine.training import Block, BlockDecision, CheckIn, Energy, SetDone
from blockwright.files.policy_files import default_policy
from blockwright.files.words import reason_says, reason_short
from blockwright.sheets.letter import letter_of
from blockwright.verbs.revise_block import letter_document
from said_facts import every_fact_is_said  # noqa: F401
from studies.cases import case_of

BLOCK = small_block()
FRIDAY = monday(3) + timedelta(days=4)


def read(
    log: Collection[SetDone],
    said: Collection[CheckIn] = (),
    through: date | None = None,
    block: Block = BLOCK,
) -> Review:
    case = case_of(block, list(log), list(said), CATALOGUE, default_policy())
    return review(case, through or sunday(3))


def without_friday(through: date) -> Review:
    truth = Truth(level=grows(1), does=lambda day, lift: day != FRIDAY)
    return read(log_of(BLOCK, truth, sunday(3)), through=through)


def verdict(found: Review) -> str:
    return reason_says(found.verdict)


def test_a_lift_that_comes_down_for_falling_short_is_not_among_those_that_held() -> None:
    log = log_of(BLOCK, Truth(level=grows(1)), sunday(3))
    here = [at for at, one in enumerate(log) if one.lift == "squat" and one.moment.day >= monday(3)]
    for at in here:
        opens = log[at].set_number == 1
        lighter = round(0.86 * log[at].load_kg / 2.5) * 2.5
        log[at] = replace(log[at], reps=(2,)) if opens else replace(log[at], loads_kg=(lighter,))
    found = read(log)
    assert "squat" in {p.lift for p in found.proposals if p.kind == "lower_load"}
    assert "every lift held but squat" in verdict(found)


def bench_falls(day: date, lift: str) -> float:
    weeks = max((day - monday(1)).days, 0) / 7
    return 1 - 0.02 * weeks if lift == "bench press" else 1 + 0.004 * weeks


def test_a_lift_that_falls_a_little_every_week_is_named_and_a_cut_says_what_it_rests_on() -> None:
    log = log_of(BLOCK, Truth(level=bench_falls), sunday(5))
    found = read(log)
    assert "every lift held but bench press" in verdict(found)
    lately = read(log, through=sunday(5))
    assert "trim_sets" not in {p.kind for p in lately.proposals}, "within its range: less load"
    assert "lower_load" in {p.kind for p in lately.proposals if p.lift == "bench press"}
    faster = Truth(level=lambda day, lift: 1.4 * bench_falls(day, lift) - 0.4)
    short = read(log_of(BLOCK, faster, sunday(5)), through=sunday(5))
    (cut,) = [p for p in short.proposals if p.kind == "trim_sets"]
    assert cut.muscle == "chest"
    assert reason_short(cut.reasons[0]).startswith("bench press ")
    assert "before)" in reason_short(cut.reasons[0])


def test_a_lift_down_again_after_its_load_was_held_asks_for_another_range_or_lift() -> None:
    decided = BlockDecision(
        proposal="w2", kind="lower_load", verdict="accepted", words="",
        change={"lift": "bench press", "week": 2.0},
    )  # fmt: skip

    def why(block: Block) -> set[str]:
        log = log_of(BLOCK, Truth(level=bench_falls), sunday(6))
        case = case_of(block, log, [], CATALOGUE, default_policy())
        return {
            reason.code for p in review(case, sunday(5)).proposals if p.lift == "bench press"
            for reason in p.reasons if reason.code in WATCH
        }  # fmt: skip

    assert why(BLOCK) == {"lift_watch_sounded"}
    assert why(replace(BLOCK, decisions=(decided,))) == {"lift_down_again"}


def test_loads_too_hard_for_the_effort_are_the_news_of_a_week_that_held() -> None:
    found = read(log_of(BLOCK, Truth(closer_by=1.5), sunday(3)))
    assert "every lift held; most of it closer to failure than asked" in verdict(found)


def test_a_lift_that_held_and_comes_down_for_its_effort_is_said_to_have_been_too_hard() -> None:
    log = [replace(one, rir_low=0.0, rir_high=0.0)
           if one.lift == "bench press" else one
           for one in log_of(BLOCK, Truth(), sunday(3))]  # fmt: skip
    assert "every lift held; bench press closer to failure than asked" in verdict(read(log))


def test_a_lift_has_held_as_its_probability_says_and_is_named_once() -> None:
    short = [replace(one, reps=(2,)) if one.lift == "row" and one.set_number == 1
             and one.moment.day >= monday(3) else one
             for one in log_of(BLOCK, Truth(level=bench_falls), sunday(3))]  # fmt: skip
    found = read(short)
    fell = [name for name, one in found.case.evidence.lifts.items() if one.fell]
    heading = verdict(found)
    assert fell
    assert f"held but {and_listed(fell)}" in heading
    assert all(heading.count(name) <= 1 for name in found.case.evidence.lifts)


def test_a_short_first_set_in_doubt_is_asked_about_and_stands_in_the_heading() -> None:
    log = log_of(BLOCK, Truth(level=grows(1)), sunday(3))
    at = next(
        at for at, one in enumerate(log) if one.lift == "squat" and one.moment.day >= monday(3)
    )
    log[at] = replace(log[at], reps=(1,), rir_low=0.0, rir_high=0.0)
    found = read(log)
    (squats,) = found.case.evidence.lifts["squat"].done
    assert log[at] not in squats.sound
    assert "every lift held; squat short of the range" in verdict(found)


def test_a_missed_session_is_named_and_only_what_was_done_held() -> None:
    found = without_friday(sunday(3))
    assert "(Friday missed), and every lift done held" in verdict(found)
    assert "ask_missed_go" in {one.asks.code for one in found.settle}
    done, printed = found.case.sets_of_week
    assert done / printed >= found.case.policy.number("review.week.done_share"), "done enough"


def test_a_missed_day_is_offered_what_a_coach_would_do_and_climbs_no_further() -> None:
    def without(*days: date, block: Block = BLOCK) -> Review:
        truth = Truth(level=grows(2), does=lambda day, lift: day not in days)
        return read(log_of(block, truth, sunday(3)), block=block)

    def asked(found: Review) -> list[tuple[str, object]]:
        return [(one.asks.code, one.asks.facts.get("lift")) for one in found.settle]

    wednesday = monday(3) + timedelta(days=2)
    assert asked(without(wednesday)) == [("ask_missed_go", None)], "Monday opens with the lead"
    legs = replace(BLOCK.lifter, emphasis={"quads": "lead"})
    found = without(wednesday, block=replace(BLOCK, lifter=legs))
    assert asked(found) == [("ask_missed_lift", "squat")]
    assert found.settle[0].asks.facts["day"] == "Monday"
    arms = replace(BLOCK.lifter, emphasis={"biceps": "lead"})
    gone = without(wednesday, block=replace(BLOCK, lifter=arms))
    assert asked(gone) == [("ask_missed_go", None)], "nothing but a lead's own is made up"
    again = without(wednesday - timedelta(days=7), wednesday)
    assert asked(again) == [("ask_missed_again", None)]
    found = without(monday(3))
    assert asked(found) == [("ask_missed_go", None)], "all of it but a curl had another day"
    raised = {(p.lift, p.session) for p in found.proposals if p.kind == "raise_load"}
    assert ("row", 1) in raised, "Friday has the same range"
    assert ("bench press", 3) in raised
    assert ("bench press", 1) not in raised, "Friday's five say nothing of Monday's eight"
    assert "missed_that_day" in {s.why.code for s in found.stays if s.lift == "bench press"}


def test_a_load_that_comes_down_on_a_missed_day_does_not_say_as_printed() -> None:
    gone = monday(1)
    truth = Truth(level=lambda *_: 0.88, does=lambda day, _: day != gone)
    log = [done for done in log_of(BLOCK, truth, sunday(1)) if done.moment.day >= gone]
    down = [p for p in read(log, through=sunday(1)).proposals
            if (p.kind, p.lift, p.session) == ("lower_load", "bench press", 1)]  # fmt: skip
    assert [[r.code for r in p.reasons] for p in down] == [["load_not_supported", "lifted_last"]]


def test_a_set_that_was_declined_does_not_come_back_with_another_reason() -> None:
    log = log_of(BLOCK, Truth(level=grows(3)), sunday(3))
    added = next(p for p in read(log).proposals if p.kind == "add_set")
    no = BlockDecision(proposal="w3-add-set-x", kind="add_set", verdict="declined", words="",
                       change={"week": 3.0, "lift": str(added.lift)})  # fmt: skip
    found = read(log, block=replace(BLOCK, decisions=(no,)))
    assert added.lift not in {p.lift for p in found.proposals if p.kind == "add_set"}
    assert "declined_before" in {s.why.code for s in found.stays if s.lift == added.lift}
    long_ago = replace(no, change={"week": 1.0, "lift": str(added.lift)})
    found = read(log, block=replace(BLOCK, decisions=(long_ago,)))
    assert added.lift in {p.lift for p in found.proposals if p.kind == "add_set"}


def test_a_session_of_the_last_day_is_still_to_come() -> None:
    found = without_friday(FRIDAY)
    assert "(Friday to come), and every lift done held" in verdict(found)
    assert "ask_missed" not in {one.asks.code for one in found.settle}
    assert "light_week" not in {p.kind for p in found.proposals}


def test_two_weeks_of_bad_sleep_are_the_news_and_end_no_week_whose_lifts_held() -> None:
    days = [monday(week) + timedelta(days=n) for week in (-1, 0, 1, 2, 3) for n in (0, 2, 4)]
    said = [
        checkin(day, measure, 6 if day >= monday(2) else 2)
        for day in days for measure in ("sleep", "fatigue", "stress", "soreness")
    ]  # fmt: skip
    found = read(log_of(BLOCK, Truth(level=grows(1)), sunday(3)), said)
    assert "every lift held; bad sleep, fatigue and stress, two weeks running" in verdict(found)
    assert not {p.kind for p in found.proposals} & {"light_week", "deload_now"}


def test_a_set_better_than_usual_is_asked_about_as_one() -> None:
    log = log_of(BLOCK, Truth(level=grows(1)), sunday(3))
    at = max(at for at, one in enumerate(log) if one.lift == "dumbbell curl")
    better = replace(log[at], reps=(log[at].reps[0] + 9,))
    asked = [reason_says(one.asks) for one in read([*log[:at], better, *log[at + 1 :]]).settle]
    assert any("more than usual: true?" in one for one in asked), asked
    assert not any("a bad set" in one for one in asked)


def told(found: Review) -> list[str]:
    """What was lifted, of every line that says it."""
    return [
        reason_short(reason) for p in found.proposals for reason in p.reasons
        if reason.code == "lifted_last"
    ]  # fmt: skip


def test_only_what_was_the_same_ran_for_two_weeks() -> None:
    log = log_of(BLOCK, Truth(spare=4.0), sunday(2))
    running = [one for one in told(read(log, through=sunday(2))) if "two weeks running" in one]
    assert running
    unlike = [
        replace(one, reps=(one.reps[0] - 3,)) if one.moment.day >= monday(2)
        and one.set_number > 1 else one for one in log
    ]  # fmt: skip
    after = [one for one in told(read(unlike, through=sunday(2))) if "two weeks running" in one]
    assert not after, after


def test_a_load_that_was_printed_is_no_slip_of_the_pen() -> None:
    log = log_of(BLOCK, Truth(), sunday(3))
    one = next(done for done in reversed(log) if done.lift == "squat")
    rounded = one.load_kg + 4e-7  # pounds as the file rounds them
    for kg, meant, code in (
        (one.load_kg, one.load_kg, "ask_set_odd"),
        (rounded, one.load_kg, "ask_set_odd"),
        (2.2 * one.load_kg, one.load_kg, "ask_slip"),
        (2.2 * one.load_kg, one.load_kg + 0.7, "ask_set"),  # no plates make that
    ):
        typed = [replace(d, loads_kg=(kg,)) if d is one else d for d in log]
        flag = Flag(code="mistyped", day=one.moment.day, set_number=one.set_number, row=one.row,
                    facts={"surprise_sd": 9.0, "meant": meant, "unit": "kg"})  # fmt: skip
        assert asks_of_set(read(typed).case, "squat", flag)[0] == code


@pytest.mark.parametrize(("sessions", "code"), [(2, "ask_set_odd"), (3, "ask_set_above")])
def test_nothing_is_usual_before_two_earlier_sessions(sessions: int, code: str) -> None:
    """ "Two more than usual" of a first session compared one of its sets with the other."""
    log = [d for d in log_of(BLOCK, Truth(), sunday(3)) if d.lift == "squat"]
    day = sorted({done.moment.day for done in log})[sessions - 1]
    log = [replace(d, loads_kg=log[0].loads_kg) for d in log if d.moment.day <= day]
    one = next(done for done in log if done.moment.day == day)
    much = replace(one, reps=(one.first_reps + 5,))
    flag = Flag(code="out_of_line", day=day, set_number=one.set_number, row=one.row,
                facts={"surprise_sd": 5.0})  # fmt: skip
    found = read([much if done is one else done for done in log], through=sunday(3))
    assert asks_of_set(found.case, "squat", flag)[0] == code


def test_nothing_goes_beyond_the_print_after_a_weak_week_without_repetitions_to_spare() -> None:
    down = ("squat", "row", "leg press")
    level = lambda day, lift: 0.955 if lift in down and day >= monday(3) else 1.0  # noqa: E731
    found = read(log_of(BLOCK, Truth(level=level, spare=1.6), sunday(3)))
    assert found.case.lower
    assert "raise_load" not in {p.kind for p in found.proposals if p.lift == "bench press"}


def test_lifts_that_hurt_where_nobody_said_are_one_question() -> None:
    sore = ("dumbbell curl", "squat")
    pain = lambda day, lift: 4.0 if lift in sore and day >= monday(3) else None  # noqa: E731
    found = read(log_of(BLOCK, Truth(pain=pain), sunday(3)))
    (asked,) = [q.asks for q in found.settle if q.asks.code == "ask_pain_where"]
    assert set(str(asked.facts["about"]).split(" and ")) == set(sore)


@pytest.mark.parametrize(
    ("energy", "pct", "code"),
    [("maintenance", 0.8, "ask_weight_falls"), ("deficit", 1.5, "ask_weight_fast"),
     ("deficit", 0.8, None), ("surplus", 0.1, None)],
)  # fmt: skip
def test_a_bodyweight_that_falls_is_asked_about(energy: Energy, pct: float, code: str) -> None:
    said = [
        checkin(monday(1) + timedelta(days=n), "bodyweight", 80 * (1 - pct / 100 * n / 7))
        for n in range(0, 21, 3)
    ]
    block = replace(BLOCK, lifter=replace(BLOCK.lifter, energy=energy))
    log = log_of(block, Truth(), sunday(3))
    found = review(case_of(block, log, said, CATALOGUE, default_policy()), sunday(3))
    codes = [q.asks.code for q in found.settle if q.asks.code.startswith("ask_weight")]
    assert codes == ([code] if code else [])


def test_the_first_week_back_says_when_the_old_loads_are_to_be_expected() -> None:
    for weeks, words in ((1, "about a week"), (4, "about two weeks")):
        back = monday(weeks + 2)
        truth = Truth(
            level=lambda day, lift, back=back: 0.93 if day >= back else 1.0,
            does=lambda day, lift, back=back: day < monday(2) or day >= back,
        )
        found = read(log_of(BLOCK, truth, sunday(weeks + 2)), through=sunday(weeks + 2))
        assert verdict(found).count(f"; the old loads again in {words}") == 1
        away = read(log_of(BLOCK, truth, sunday(2)), through=sunday(2))
    assert "the old loads again in about a week" in reason_short(away.proposals[0].reasons[0])
    assert away.proposals[0].claim.code == "claim_back_gently"


def test_a_reason_quotes_every_set_where_the_first_does_not_speak_for_all() -> None:
    log = log_of(BLOCK, Truth(level=grows(4), spare=4.0), sunday(3))
    plain, quoted = read(log), read([
        replace(one, reps=(one.reps[0] - 3 * (one.set_number - 1),)) for one in log
    ])  # fmt: skip

    assert told(plain)
    assert told(quoted)
    assert not any(one.count(", ") > 1 for one in told(plain))
    assert all(one.split(" at ")[0].count(", ") >= 1 for one in told(quoted))


def test_several_changes_in_one_line_each_keep_their_own_certainty() -> None:
    document = letter_document(read(log_of(BLOCK, Truth(level=grows(4), spare=4.0), sunday(3))))
    raises = [p for p in document["proposals"] if p["kind"] == "raise_load"]
    assert raises
    words = ("sure", "likely", "even")
    many = [
        p | {"id": f"x{n}", "line": p["line"] | {"about": f"lift {n}", "certainty": words[n % 2]}}
        for n in range(13) for p in raises[:1]
    ]  # fmt: skip
    (joined,) = letter_of(document | {"proposals": many}).changes
    assert joined.certainty == "sure", "what most are"
    said = joined.why.split("; lift ")
    assert [("(likely" in one) for one in said] == [n % 2 == 1 for n in range(13)]


def test_a_cut_of_a_lift_still_to_be_done_says_what_was_lifted() -> None:
    def level(day: date, lift: str) -> float:
        return 0.85 if lift == "leg press" and day >= monday(2) else 1.0

    fell = Truth(level=level, does=lambda day, lift: lift != "leg press" or day < monday(3))
    log = [one for one in log_of(BLOCK, fell, sunday(3)) if one.moment.day < FRIDAY]
    lines = [
        one["line"]["why"]
        for one in letter_document(read(log, through=FRIDAY))["proposals"]
        if one["kind"] == "lower_load"
    ]
    assert lines
    assert not any("not done" in why for why in lines)


def test_a_week_of_other_lifts_is_no_week_in_which_the_lifts_held() -> None:
    log = [
        replace(one, lift="cable fly") if one.moment.day >= monday(3) else one
        for one in log_of(BLOCK, Truth(), sunday(3))
    ]
    assert "with other lifts than printed" in verdict(read(log))


@pytest.mark.parametrize(("surprise", "way"), [(4.4, "better"), (-4.6, "worse")])
def test_a_set_that_stands_out_from_its_estimate_alone_is_asked_about_as_that(
    surprise: float, way: str
) -> None:
    """Beside the same set of the week before it does not stand out, and never the other way."""
    log = log_of(BLOCK, Truth(), sunday(3))
    one = next(done for done in reversed(log) if done.lift == "dumbbell curl")
    flag = Flag(code="unlikely", day=one.moment.day, set_number=one.set_number, row=one.row,
                facts={"surprise_sd": surprise})  # fmt: skip
    code, facts = asks_of_set(read(log).case, one.lift, flag)
    assert (code, facts["way"]) == ("ask_set_odd", way)


@pytest.mark.parametrize(
    ("surprise", "usual_rir", "code"),
    [(4.4, 3.0, "ask_set_odd"), (-4.6, 3.0, "ask_set_effort"), (-4.6, 2.0, "ask_set_effort"),
     (-4.6, 1.0, "ask_set_odd")],
)  # fmt: skip
def test_effort_explains_a_set_that_is_worse_and_none_that_is_better(
    surprise: float, usual_rir: float, code: str
) -> None:
    """Effort that is at least two repetitions closer to failure than usual."""
    log = log_of(BLOCK, Truth(), sunday(3))
    one = next(done for done in reversed(log) if done.lift == "dumbbell curl")
    typed = [
        replace(d, rir_low=rir, rir_high=rir) if d.lift == one.lift else d
        for d in log
        for rir in [0.0 if d is one else usual_rir]
    ]
    flag = Flag(code="unlikely", day=one.moment.day, set_number=one.set_number, row=one.row,
                facts={"surprise_sd": surprise})  # fmt: skip
    assert asks_of_set(read(typed).case, one.lift, flag)[0] == code


def test_many_sets_short_in_one_week_are_asked_about_in_one_line() -> None:
    log = log_of(BLOCK, Truth(level=grows(1)), sunday(3))
    short = [
        replace(one, reps=(1,)) if one.moment.day >= monday(3) and one.set_number == 2 else one
        for one in log
    ]
    codes = [one.asks.code for one in read(short).settle]
    assert codes.count("ask_sets_short") == 1
    assert not {"ask_set_at_load", "ask_set_effort"} & {*codes}
