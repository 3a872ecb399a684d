"""Where one band of pain ends and the next begins, to the day and to the point; design.md 6."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from small_block import CATALOGUE, Truth, checkin, grows, log_of, monday, small_block, sunday

from blockwright.engine.review import Review, review
from blockwright.engine.review.holds import held_lifts
from blockwright.engine.training import BlockDecision, CheckIn
from blockwright.files.json_text import plain
from blockwright.files.policy_files import default_policy
from blockwright.files.proposals_json import proposals_to_json
from blockwright.sheets.letter import letter_of
from blockwright.sheets.letter_text import message_to_lifter
from studies.cases import case_of

POLICY = default_policy()
LIFT = "bench press"
FRIDAY = monday(2) + timedelta(days=4)
DAY = timedelta(days=1)
UP = {"raise_load", "add_set"}


SUNDAY = sunday(2)


def seen(truth: Truth, through: date = SUNDAY, said: tuple[CheckIn, ...] = ()) -> Review:
    block = small_block()
    case = case_of(block, log_of(block, truth, through), said, CATALOGUE, POLICY)
    return review(case, through)


def hurts(pain: float, *days: date, lift: str = LIFT) -> Truth:
    return Truth(
        level=grows(2), pain=lambda day, name: pain if name == lift and day in days else None
    )


def kinds(found: Review, lift: str = LIFT) -> set[str]:
    return {p.kind for p in found.proposals if p.lift == lift}


@pytest.mark.parametrize(
    ("pain", "held", "stopped"),
    [(2, False, False), (2.5, True, False), (5, True, False), (5.5, True, True)],
)
def test_a_band_ends_at_its_own_line(pain: float, held: bool, stopped: bool) -> None:
    found = seen(hurts(pain, FRIDAY))
    assert bool(kinds(found) & UP) is not held
    assert ("stop_lift" in kinds(found)) is stopped


@pytest.mark.parametrize("lift", ["bench press", "row", "squat"])
def test_a_lift_that_hurts_gains_neither_load_nor_sets(lift: str) -> None:
    """Each of them gains both where nothing hurts."""
    well = seen(Truth(level=grows(2)))
    gained = {p.lift for p in well.proposals if p.kind in UP}
    assert lift in gained
    days = [done.moment.day for done in well.case.facts.sets if done.lift == lift]
    found = seen(hurts(4, max(days), lift=lift))
    assert not kinds(found, lift) & UP
    assert {p.lift for p in found.proposals if p.kind in UP}, "others go on"


def test_a_check_in_counts_like_a_set_and_the_worst_of_a_day_counts() -> None:
    def said(*values: float) -> tuple[CheckIn, ...]:
        return tuple(checkin(FRIDAY, "pain", value, LIFT) for value in values)

    assert kinds(seen(Truth(level=grows(2)), said=said(2.0))) & UP
    assert not kinds(seen(Truth(level=grows(2)), said=said(2.5))) & UP
    assert "stop_lift" in kinds(seen(Truth(level=grows(2)), said=said(1, 6, 3)))
    assert "stop_lift" in kinds(seen(hurts(1, FRIDAY), said=said(6)))
    assert "stop_lift" in kinds(seen(hurts(6, FRIDAY), said=said(1)))


def test_a_report_of_the_last_day_counts_and_a_later_one_does_not() -> None:
    end = sunday(2)
    well = Truth(level=grows(2))
    assert not kinds(seen(well, said=(checkin(end, "pain", 4, LIFT),))) & UP
    assert kinds(seen(well, said=(checkin(end + DAY, "pain", 4, LIFT),))) & UP


def test_one_report_is_remembered_a_fortnight_to_the_day() -> None:
    """`safety.pain_memory_days`, counted to the end of the week that is looked at."""
    end = sunday(5)
    well = Truth(level=grows(2))
    memory = timedelta(days=POLICY.number("safety.pain_memory_days"))
    still = seen(well, end, (checkin(end - memory, "pain", 4, LIFT),))
    over = seen(well, end, (checkin(end - memory - DAY, "pain", 4, LIFT),))
    assert still.case.pain.keys() == {LIFT}
    assert not over.case.pain
    for day in (end + n * DAY for n in range(1, 8)):
        assert LIFT in held_lifts(still.case.facts, day)[0], "as the week's letter, all week"
        assert LIFT not in held_lifts(over.case.facts, day)[0]


@pytest.mark.parametrize(
    ("values", "refers"), [((4,), False), ((4, 4), True), ((4, 1, 4), False), ((1, 4, 4), True)]
)
def test_as_many_reports_in_a_row_as_the_policy_says_refer(
    values: tuple[float, ...], refers: bool
) -> None:
    days = [sunday(2) - n * DAY for n in reversed(range(len(values)))]
    said = tuple(checkin(d, "pain", v, LIFT) for d, v in zip(days, values, strict=True))
    found = seen(Truth(level=grows(2)), said=said)
    assert ("refer" in {p.kind for p in found.proposals}) is refers
    state = found.case.pain[LIFT]
    assert state.in_a_row == (2 if refers else 1)


@pytest.mark.parametrize(
    ("cleared_on", "kind", "is_over"),
    [(FRIDAY - DAY, "refer", False), (FRIDAY, "refer", True), (FRIDAY, "swap_lift", False),
     (None, "refer", False)],
)  # fmt: skip
def test_what_a_professional_cleared_is_over_up_to_that_day(
    cleared_on: date | None, kind: str, is_over: bool
) -> None:
    """Only an answer to a referral clears, and only one that says when."""
    about = {"about": LIFT} | ({"cleared_on": cleared_on.isoformat()} if cleared_on else {})
    cleared = BlockDecision(proposal="p", kind=kind, verdict="accepted", change=about)
    block = replace(small_block(), decisions=(cleared,))
    case = case_of(block, log_of(block, hurts(4, FRIDAY), sunday(2)), (), CATALOGUE, POLICY)
    found = review(case, sunday(2))
    assert (LIFT not in found.case.pain) is is_over


def test_pain_in_a_joint_holds_back_lifts_of_the_next_week_as_well() -> None:
    """The squat was not done in the week; the next has it, and the knee hurts."""
    truth = Truth(level=grows(2), does=lambda day, lift: lift != "squat" or day < monday(2))
    knee = (checkin(FRIDAY, "pain", 4, "left knee"),)
    found = seen(truth, said=knee)
    assert {"squat", "leg press"} <= found.case.pain.keys()
    assert "row" not in found.case.pain


def test_the_lifter_is_told_the_line_of_the_coach() -> None:
    policy, block = POLICY.overridden({"safety.pain_carry_on": 1.0}, "coach"), small_block()
    case = case_of(
        block, log_of(block, hurts(1.5, FRIDAY, lift="row"), SUNDAY), (), CATALOGUE, policy
    )
    document = plain(proposals_to_json(review(case, SUNDAY)))
    said = message_to_lifter(letter_of(document), document)
    assert "Nothing goes up on row until the pain is 1 of 10 or less" in said
    assert "pain is 1 or less" in " ".join(document["caution_lines"])
