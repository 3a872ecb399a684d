"""The report as a pure function: a lifter whose truth is known, and what must stand in it."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from blockwright.engine.errors import BadInput
from blockwright.engine.reasons import Caution, FactValue
from blockwright.engine.report import BlockReport, block_report
from blockwright.engine.review import Offered, To
from blockwright.engine.training import Block, BlockDecision, CheckIn, SetDone
from blockwright.files.codec import document
from blockwright.files.policy_files import default_policy
from blockwright.files.schemas import problems_against
from engine.review.small_block import (
    CATALOGUE,
    START,
    Truth,
    checkin,
    falls,
    grows,
    log_of,
    monday,
    small_block,
    sunday,
)
from studies.cases import case_of

POLICY = default_policy()
BLOCK = small_block()
END = sunday(7)


def report(
    sets: list[SetDone] | None = None,
    *,
    checkins: list[CheckIn] | None = None,
    told: tuple[Offered, ...] = (),
    through: date | None = None,
    block: Block = BLOCK,
) -> BlockReport:
    sets = log_of(BLOCK, Truth(level=grows(0.8)), END) if sets is None else sets
    case = case_of(block, sets, checkins or [], CATALOGUE, POLICY)
    return block_report(case, told=told, through=through)


def told(week: int, lift: str, session: int, load: float, confidence: float = 0.9) -> Offered:
    return Offered(
        id=f"w{week}-{lift}-{session}", kind="raise_load", week=week, says=f"{lift} to {load:g} kg",
        confidence=confidence, session=session, lift=lift, after=To("load_kg", load),
    )  # fmt: skip


def test_everything_done_is_counted_as_planned() -> None:
    found = report()
    assert [week.sessions_done for week in found.weeks] == [3] * 6 + [2]
    assert all(week.sets_done == week.sets_planned for week in found.weeks)
    assert all(not week.missed for week in found.weeks)
    assert found.findings["done"].code == "report_all_done"
    assert found.is_over
    bench = next(lift for lift in found.lifts if lift.lift == "bench press")
    assert bench.done[:6] == (6,) * 6
    assert bench.first_load_kg == bench.last_load_kg == 70.0
    assert found.weeks[2].rir_said == pytest.approx(found.weeks[2].rir_asked)


def test_pain_and_body_weight_of_the_block_are_told() -> None:
    quiet = report().findings
    assert (quiet["pain"].code, quiet["weight"].code) == ("report_no_pain", "report_no_weight")
    hurt = [checkin(monday(week), "pain", pain, "shoulder") for week, pain in ((2, 4), (5, 1))]
    before = checkin(START - timedelta(days=9), "pain", 8, "knee")
    weighed = [checkin(monday(week), "bodyweight", 80) for week in range(2, 8)]
    found = report(checkins=[before, *hurt, *weighed]).findings
    assert found["pain"].facts["pains"] == f"shoulder up to 4 of 10, last 1 on {monday(5):%-d %B}"
    assert found["weight"].code == "weight_level"


def test_a_missed_session_is_named_and_not_invented() -> None:
    gone = monday(3) + timedelta(days=2)
    sets = [s for s in log_of(BLOCK, Truth(), END) if s.moment.day != gone]
    found = report(sets)
    assert found.weeks[2].missed == (gone,)
    assert found.weeks[2].sessions_done == 2
    assert found.findings["done"].code == "report_some_missed"
    chest = next(muscle for muscle in found.muscles if muscle.muscle == "chest")
    assert chest.done[2] == chest.planned[2] - 3


def test_strength_that_rises_is_said_to_rise_and_a_fall_to_fall() -> None:
    slow = report(log_of(BLOCK, Truth(level=grows(1.3)), END))
    assert {lift.heading for lift in slow.strength} <= {"rising", "unsure"}
    assert slow.findings["strength"].facts["certainty"] == "sure"
    # 1.3 in the six weeks of the block, nothing in the three before: over the 56 days of a trend a
    # line through their levels rises by 0.98 to 1.20, by the days on which the lift was done.
    trends = [lift.trend_pct_per_week for lift in slow.strength]
    assert all(abs(trend.median - 1.1) < 0.5 for trend in trends)
    assert sum(trend.low80 < 1.1 < trend.high80 for trend in trends) >= len(trends) - 2
    rising = report(log_of(BLOCK, Truth(level=grows(2.0)), END))
    # None is said to fall (it would come first); the two done least are not sure.
    assert sorted(lift.heading for lift in rising.strength)[:4] == ["rising"] * 4
    bench = next(lift for lift in rising.strength if lift.lift == "bench press")
    assert bench.before_kg is not None
    assert bench.after_kg.median > bench.before_kg.median
    falling = report(log_of(BLOCK, Truth(level=falls(0.12, monday(4))), END))
    assert falling.findings["strength"].facts["falling"] >= 1
    assert falling.findings["strength"].facts["rising"] == 0


def test_the_ceiling_reads_at_least_until_a_week_failed() -> None:
    fine = report()
    assert all(muscle.ceiling.at_least is not None for muscle in fine.muscles)
    assert fine.findings["muscles"].code == "report_not_over"
    weak = report(log_of(BLOCK, Truth(level=falls(0.12, monday(4))), END))
    assert weak.findings["muscles"].code == "report_weak_weeks"
    assert "4" in str(weak.findings["muscles"].facts["weak"])
    assert not any(muscle.ceiling.failure_seen for muscle in weak.muscles)


def test_the_week_that_was_too_much_is_one_reading() -> None:
    """The finding, the ceilings and what the next block is told name the same muscles."""

    def level(day: date, lift: str) -> float:
        return 0.92 if lift in ("bench press", "chest press") and day >= monday(4) else 1.0

    for log, over in ((None, set()), (log_of(BLOCK, Truth(level=level), END), {"chest"})):
        found = report(log)
        told = {r.facts["muscle"] for r in found.following.reasons
                if r.code == "next_block_ceiling"}  # fmt: skip
        failed = {one.muscle for one in found.muscles if one.ceiling.failure_seen}
        said = found.findings["muscles"]
        assert (said.code, str(said.facts["over"])) == (
            "report_over" if over else "report_not_over", ", ".join(over),
        )  # fmt: skip
        assert told == failed == over
        assert all((m.ceiling.at_least is None) == (m.muscle in over) for m in found.muscles)


def test_one_bad_set_makes_no_week_too_much() -> None:
    log = log_of(BLOCK, Truth(), END)
    at = next(n for n, one in enumerate(log) if one.moment.day >= monday(3))
    log[at] = replace(log[at], reps=(max(log[at].first_reps - 3, 1),))
    assert report(log).findings["muscles"].code == "report_not_over"


def test_pain_of_several_weeks_is_one_caution() -> None:
    def pain(code: str, day: int) -> Caution:
        facts: dict[str, FactValue] = {"lift": "row", "pain": 4.0, "date": f"2027-01-{day:02d}"}
        return Caution(code=code, facts=facts)

    told = [pain(code, day) for code in ("pain_refer", "pain_no_progress") for day in (4, 11)]
    found = report(block=replace(BLOCK, cautions=tuple(told)))
    rows = [c for c in found.cautions if c.facts.get("lift") == "row"]
    assert [(c.code, c.facts["date"]) for c in rows] == [("pain_refer", "2027-01-11")], (
        "once, and what nobody reports any more holds nothing"
    )


def test_claims_are_judged_by_the_set_that_was_done_at_the_load() -> None:
    right, wrong_load = told(2, "bench press", 1, 70.0), told(2, "row", 1, 62.5)
    other_session = told(3, "squat", 1, 90.0)
    found = report(told=(right, wrong_load, other_session))
    fates = {fate.id: fate.came_true for fate in found.proposals}
    assert fates == {right.id: True, wrong_load.id: None, other_session.id: None}
    assert found.claims is not None
    assert (found.claims.judged, found.claims.kept) == (1, 1)
    assert found.claims.expected == pytest.approx(0.9)
    assert found.findings["claims"].code == "report_few_claims"
    weak = report(log_of(BLOCK, Truth(level=falls(0.2, monday(2))), END), told=(right,))
    assert {fate.came_true for fate in weak.proposals} == {False}


def test_proposals_carry_the_coachs_word_and_open_ones_are_open() -> None:
    decision = BlockDecision(
        proposal="w2-row-1", kind="raise_load", verdict="declined", words="grip first"
    )
    block = replace(BLOCK, revision=2, decisions=(decision,))
    found = report(told=(told(2, "row", 1, 62.5), told(3, "row", 1, 62.5)), block=block)
    assert [(fate.verdict, fate.words) for fate in found.proposals] == [
        ("declined", "grip first"), ("open", ""),
    ]  # fmt: skip
    assert found.findings["proposals"].code == "report_proposals_open"
    alone = report(block=block)
    assert [(fate.kind, fate.verdict, fate.says) for fate in alone.proposals] == [
        ("raise_load", "declined", None)
    ]


def test_predictions_are_the_build_weeks_alone_and_beside_a_rule() -> None:
    found = report().predictions
    assert found is not None
    build_sets = sum(len(e.sets) for w in BLOCK.weeks[:6] for s in w.sessions for e in s.entries)
    assert 0.8 * build_sets < found.sets <= build_sets
    assert 0 < found.inside <= found.sets
    assert found.rule in ("last_session_same_set", "mean_of_last_three", "mean_of_last_three_sets",
                          "best_recent")  # fmt: skip


def test_session_load_is_shown_with_its_monotony() -> None:
    said = [
        checkin(monday(1) + timedelta(days=day), measure, value)
        for day in (0, 2, 4)
        for measure, value in (("session_rpe", 7.0), ("session_minutes", 60.0))
    ]
    found = report(checkins=said)  # type: ignore[arg-type]
    load = found.weeks[0].load
    assert load is not None
    assert load.total == pytest.approx(3 * 420)
    # mean 180 over an SD of 420 sqrt(3/7 4/7): arithmetic
    assert load.monotony == pytest.approx(180 / (420 * (12 / 49) ** 0.5))
    assert found.weeks[1].load is None
    assert found.findings["load"].facts["week"] == 1


def test_a_session_planned_out_of_its_week_is_still_one_of_those_planned() -> None:
    week = BLOCK.weeks[1]
    gone = replace(week.sessions[0], entries=(), missed=True)
    block = replace(BLOCK, weeks=tuple(
        replace(one, sessions=(gone, *one.sessions[1:])) if one.week == week.week else one
        for one in BLOCK.weeks
    ))  # fmt: skip
    done = [s for s in log_of(BLOCK, Truth(), END) if s.moment.day != gone.day]
    facts = report(done, block=block).findings["done"].facts
    assert facts["sessions_planned"] == sum(len(one.sessions) for one in BLOCK.weeks)
    assert facts["missed"] == 1


def test_a_lead_is_told_by_its_sets_and_what_its_lifts_did() -> None:
    told = str(report().findings["leads"].facts["leads"])
    leads = [m for m, how in BLOCK.lifter.emphasis.items() if how == "lead"]
    assert leads
    assert all(f"{muscle.replace('_', ' ')} " in told for muscle in leads)
    assert "sets a week, " in told


def test_a_report_in_the_middle_looks_no_further() -> None:
    sets = log_of(BLOCK, Truth(), END)
    middle = report(sets, through=sunday(2))
    assert len(middle.weeks) == 2
    assert not middle.is_over
    cut = [s for s in sets if s.moment.day <= sunday(2)]
    assert document("report", middle) == document("report", report(cut, through=sunday(2)))


def test_other_peoples_sets_and_an_empty_log() -> None:
    sets = log_of(BLOCK, Truth(), END)
    theirs = [replace(s, lifter="Somebody Else") for s in sets]
    mine = [replace(s, lifter=BLOCK.lifter.name) for s in sets]
    both = document("report", report([*mine, *theirs]))
    assert both == document("report", report(sets))
    with pytest.raises(BadInput, match="nothing to report"):
        report([s for s in sets if s.moment.day < START])


def test_the_document_is_sound() -> None:
    found = document("report", report(told=(told(2, "bench press", 1, 70.0),)))
    assert problems_against("report", found, "report") == []


@pytest.mark.parametrize("step", [2.5, -2.5])
def test_loads_that_only_caught_up_with_the_lifter_are_no_gain(step: float) -> None:
    """Nor are loads held down, for pain say, that ended far above their range."""

    def reps(one: SetDone) -> SetDone:
        week = (one.moment.day - START).days // 7 + 1
        if one.lift != "leg press" or week < 1:
            return one
        load = round(0.6 * one.load_kg / 2.5) * 2.5 + step * week
        return replace(one, loads_kg=(load,), reps=(one.reps[0] + 8,), rir_low=5.0, rir_high=5.0)

    found = report([reps(one) for one in log_of(BLOCK, Truth(level=grows(0.8)), END)])
    gains = {one.lift: one.gain for one in found.strength}
    assert gains["leg press"] is None
    assert gains["squat"] is not None


def test_a_session_of_the_last_day_is_not_missed_before_the_block_is_over() -> None:
    friday = monday(3) + timedelta(days=4)
    truth = Truth(level=grows(0.8), does=lambda day, lift: day != friday)
    log = log_of(BLOCK, truth, friday)
    waits = report(log, through=friday)
    assert not waits.weeks[-1].missed
    assert (waits.weeks[-1].sessions_planned, waits.weeks[-1].sessions_done) == (2, 2)
    assert waits.findings["done"].code == "report_all_done"
    ended = report(log, through=sunday(2)).findings["leads"]
    assert waits.findings["leads"].facts == ended.facts, "a week not over tells no lead's sets"
    assert report(log, through=friday + timedelta(days=1)).weeks[-1].missed == (friday,)
