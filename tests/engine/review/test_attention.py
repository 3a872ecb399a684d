"""Who needs the coach, and in which order: scenarios with their reason and its rank."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_block import CATALOGUE, SCREENED, START, small_block, small_lifter

from blockwright.engine.case import CoachCase
from blockwright.engine.errors import BadInput
from blockwright.engine.review.attention import (
    Attention,
    BlockAtHand,
    LetterAtHand,
    LifterAtHand,
    PlannedDay,
    Standing,
    WatchSeen,
    attention,
    missed_days,
    standing_of,
    watch_seen,
)
from blockwright.engine.review.safety import PainReport, PainState
from blockwright.engine.signs import Warning, signs_in_sets
from blockwright.engine.training import CheckIn, Moment, Screening, SetDone
from blockwright.files.policy_files import default_policy
from blockwright.files.signs.grammar import signs_found
from blockwright.files.words import reason_says

POLICY = default_policy()
DAY = timedelta(days=1)
QUIET = WatchSeen(all_lifts=False, lifts=(), sounded_on=None)
BLOCK = small_block()
DAYS = tuple(
    PlannedDay(week=week.week, day=session.day, session=1, starts="18:30", missed=False)
    for week in BLOCK.weeks
    for session in week.sessions
)
AT_HAND = BlockAtHand(
    start=START,
    ends=START + 48 * DAY,
    made=START - 3 * DAY,
    waits=False,
    days=DAYS,
    another_follows=False,
)


def trained_as_planned(until: date) -> tuple[date, ...]:
    return tuple(one.day for one in DAYS if one.day <= until)


def at(today: date, **changes: Any) -> LifterAtHand:
    """Somebody who did what was planned and decided on every letter, unless said otherwise."""
    until = today - DAY
    sunday = START + timedelta(days=(today - START).days // 7 * 7 - 1)
    facts: dict[str, Any] = {
        "lifter": small_lifter(),
        "policy": POLICY,
        "standing": Standing(trained=trained_as_planned(until), pains=(), signs=()),
        "watch": QUIET,
        "block": AT_HAND,
        "letter": LetterAtHand(through=sunday, answered=True),
    }
    return LifterAtHand(**facts | changes)


def pain(day: date, worst: float, in_a_row: int = 1) -> PainState:
    return PainState(
        band="stop" if worst > 5 else "watchful",
        latest=PainReport(day=day, pain=worst),
        in_a_row=in_a_row,
        refer=in_a_row >= 2,
        about="knee",
        carry_on=2.0,
    )


def needs(found: tuple[Attention, ...]) -> list[str]:
    return [one.need for one in found]


TUESDAY = START + 15 * DAY
"""In the third week."""


def standing(*, pains: tuple[PainState, ...] = (), signs: tuple[Warning, ...] = ()) -> Standing:
    return Standing(trained=trained_as_planned(TUESDAY - DAY), pains=pains, signs=signs)


def test_nothing_waits_and_the_next_session_is_named() -> None:
    (only,) = attention(at(TUESDAY), TUESDAY)
    assert only.need == "nothing"
    assert reason_says(only.why) == "Nothing waits; the next session is on 20 January 2027"
    (today,) = attention(at(TUESDAY + DAY), TUESDAY + DAY)
    assert reason_says(today.why) == "Nothing waits; trains today"


@pytest.mark.parametrize(
    ("changes", "need", "words"),
    [
        (
            {"standing": standing(signs=(Warning(sign="chest pain", day=TUESDAY, lift="row"),))},
            "sign", "chest pain was written down on 19 January 2027",
        ),
        ({"standing": standing(pains=(pain(TUESDAY - DAY, 3, 2),))}, "refer", "painful 2 times"),
        ({"standing": standing(pains=(pain(TUESDAY - DAY, 7),))}, "pain_stop", "knee: pain 7"),
        ({"standing": standing(pains=(pain(TUESDAY - DAY, 3),))}, "pain", "knee: pain 3 of 10"),
        ({"block": replace(AT_HAND, waits=True)}, "clearance", "medical clearance"),
        (
            {"lifter": small_lifter(screening=replace(SCREENED, symptoms_at_effort=True))},
            "clearance", "medical clearance",
        ),
        (
            {
                "lifter": small_lifter(screening=Screening()),
                "standing": standing(pains=(pain(TUESDAY - DAY, 7, 2),)),
            },
            "not_screened", "Not screened: 8 questions",
        ),
        (
            {
                "lifter": small_lifter(screening=Screening()),
                "standing": standing(signs=(Warning(sign="chest pain", day=TUESDAY, lift="row"),)),
            },
            "sign", "chest pain",
        ),
        (
            {"watch": WatchSeen(all_lifts=True, lifts=(), sounded_on=TUESDAY - DAY)},
            "watch", "All lifts together",
        ),
        (
            {"watch": WatchSeen(all_lifts=False, lifts=("row",), sounded_on=TUESDAY - DAY)},
            "watch", "row",
        ),
        (
            {"letter": LetterAtHand(through=START + 13 * DAY, answered=False, open_lines=8)},
            "letter", "The letter through 17 January 2027 has 8 changes to decide",
        ),
        ({"letter": None}, "letter", "Week 2 is over since 17 January 2027"),
        ({"block": None}, "no_block", "There is no block yet"),
    ],
)  # fmt: skip
def test_what_comes_first(changes: dict[str, Any], need: str, words: str) -> None:
    found = attention(at(TUESDAY, **changes), TUESDAY)
    assert found[0].need == need
    assert words in reason_says(found[0].why)


def test_a_week_that_is_over_wants_its_letter() -> None:
    monday = START + 14 * DAY
    found = attention(
        at(monday, letter=LetterAtHand(through=START + 6 * DAY, answered=True)), monday
    )
    assert reason_says(found[0].why) == (
        "Week 2 is over since 17 January 2027; its letter is not written yet"
    )


def test_a_week_of_which_only_the_first_day_was_trained_wants_its_letter_too() -> None:
    first = Standing(trained=(START,), pains=(), signs=())
    found = attention(at(START + 7 * DAY, standing=first, letter=None), START + 7 * DAY)
    assert "letter" in needs(found)


def test_a_missed_session_is_told_until_it_is_past_mending() -> None:
    done = tuple(day for day in trained_as_planned(TUESDAY) if day != START + 11 * DAY)
    told = at(TUESDAY, standing=Standing(trained=done, pains=(), signs=()))
    found = attention(told, TUESDAY)
    assert needs(found) == ["missed"]
    assert "15 January 2027" in reason_says(found[0].why)
    later = TUESDAY + 7 * DAY
    everything_after = (*done, *(d for d in trained_as_planned(later) if d > TUESDAY))
    told = at(later, standing=Standing(trained=everything_after, pains=(), signs=()))
    assert "missed" not in needs(attention(told, later))


def test_another_day_of_the_week_stands_in_for_a_missed_one() -> None:
    moved = tuple(d if d != START + 11 * DAY else d + DAY for d in trained_as_planned(TUESDAY))
    assert missed_days(AT_HAND, moved, TUESDAY) == ()


def test_a_session_the_coach_calls_missed_is_known() -> None:
    known = tuple(replace(d, missed=d.day == START + 11 * DAY) for d in DAYS)
    block = replace(AT_HAND, days=known)
    done = tuple(day for day in trained_as_planned(TUESDAY) if day != START + 11 * DAY)
    assert missed_days(block, done, TUESDAY) == ()


def test_what_a_letter_was_told_of_is_neither_missed_nor_silence() -> None:
    done = tuple(day for day in trained_as_planned(TUESDAY) if day < START + 7 * DAY)
    known = tuple(d.day for d in DAYS if START + 7 * DAY <= d.day < TUESDAY)
    silent = Standing(trained=done, pains=(), signs=())
    assert {"missed", "quiet"} <= set(needs(attention(at(TUESDAY, standing=silent), TUESDAY)))
    told = at(TUESDAY, standing=replace(silent, explained=known))
    assert not {"missed", "quiet"} & set(needs(attention(told, TUESDAY)))


def test_nothing_was_due_before_the_block_was_made() -> None:
    """Two weeks of it had passed when it came in as a file, and nobody had trained by it."""
    late = replace(AT_HAND, made=TUESDAY)
    nothing = Standing(trained=(), pains=(), signs=())
    assert missed_days(late, (), TUESDAY) == ()
    found = attention(at(TUESDAY, standing=nothing, block=late), TUESDAY)
    assert "missed" not in needs(found)
    assert "quiet" not in needs(found)
    assert missed_days(AT_HAND, (), TUESDAY) != ()


def test_a_block_trained_by_before_it_came_in_was_due_since() -> None:
    late = replace(AT_HAND, made=TUESDAY)
    done = tuple(day for day in trained_as_planned(TUESDAY) if day != START + 11 * DAY)
    assert missed_days(late, done, TUESDAY) == (START + 11 * DAY,)


def test_silence_is_told_after_the_policys_days() -> None:
    quiet = POLICY.whole("roster.quiet_days")
    done = trained_as_planned(START + 4 * DAY)
    for days, told in ((quiet - 1, False), (quiet, True)):
        today = done[-1] + days * DAY
        found = attention(at(today, standing=Standing(trained=done, pains=(), signs=())), today)
        assert ("quiet" in needs(found)) == told
        says = [reason_says(one.why) for one in found if one.need == "quiet"]
        assert all("8 January 2027" in one for one in says)


def test_the_blocks_end_is_told_unless_another_follows() -> None:
    ends = AT_HAND.ends
    for today, told in ((ends - 7 * DAY, False), (ends - 6 * DAY, True), (ends + DAY, True)):
        assert ("block_end" in needs(attention(at(today), today))) == told
    after = replace(AT_HAND, another_follows=True)
    assert "block_end" not in needs(attention(at(ends, block=after), ends))


def test_a_decided_letter_answers_the_watch_but_never_pain() -> None:
    day = START + 12 * DAY
    told = at(
        TUESDAY,
        watch=WatchSeen(all_lifts=True, lifts=(), sounded_on=day),
        standing=standing(pains=(pain(day, 7),)),
    )
    assert needs(attention(told, TUESDAY)) == ["pain_stop"]


def test_pain_is_over_when_its_memory_is() -> None:
    memory = POLICY.whole("safety.pain_memory_days")
    for days, told in ((memory, True), (memory + 1, False)):
        state = pain(TUESDAY - days * DAY, 7)
        found = attention(at(TUESDAY, standing=standing(pains=(state,))), TUESDAY)
        assert ("pain_stop" in needs(found)) == told


def test_a_letter_without_lines_neither_waits_nor_answers_the_watch() -> None:
    empty = LetterAtHand(through=START + 13 * DAY, answered=False, open_lines=0)
    assert needs(attention(at(TUESDAY, letter=empty), TUESDAY)) == ["nothing"]
    sounds = WatchSeen(all_lifts=True, lifts=(), sounded_on=START + 12 * DAY)
    for letter in (empty, None):
        assert "watch" in needs(attention(at(TUESDAY, letter=letter, watch=sounds), TUESDAY))
    past = LetterAtHand(through=START + 13 * DAY, answered=True, open_lines=2, overtaken=True)
    assert needs(attention(at(TUESDAY, letter=past, watch=sounds), TUESDAY)) == ["nothing"]


@given(st.lists(st.sampled_from(["pain", "stop", "refer", "sign", "watch", "letter", "waits"])))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_reasons_come_in_the_order_of_their_rank(kinds: list[str]) -> None:
    states = {"pain": pain(TUESDAY, 3), "stop": pain(TUESDAY, 8), "refer": pain(TUESDAY, 3, 2)}
    told = at(
        TUESDAY,
        standing=standing(
            pains=tuple(states[kind] for kind in kinds if kind in states),
            signs=tuple(
                Warning(sign="numbness", day=TUESDAY, lift="row") for k in kinds if k == "sign"
            ),
        ),
        watch=WatchSeen(all_lifts=True, lifts=(), sounded_on=TUESDAY if "watch" in kinds else None),
        letter=LetterAtHand(
            through=START + 13 * DAY, answered=True, open_lines=2 * ("letter" in kinds)
        ),
        block=replace(AT_HAND, waits="waits" in kinds),
    )
    found = attention(told, TUESDAY)
    assert found
    assert all(one.rank <= other.rank for one, other in pairwise(found))
    assert (found[0].need == "nothing") == (not kinds)


def test_a_coach_may_move_what_is_routine_but_not_put_pain_behind_it() -> None:
    moved = POLICY.overridden({"roster.rank.quiet": 6}, "coach")
    assert moved.whole("roster.rank.quiet") == 6
    with pytest.raises(BadInput, match="stricter"):
        POLICY.overridden({"roster.rank.pain": 12}, "coach")


# -------------------------------------------------------------------------------- what is seen


def done(day: date, lift: str = "bench press", load: float = 70.0, **more: Any) -> SetDone:
    facts: dict[str, Any] = {
        "moment": Moment(day=day), "lift": lift, "set_number": 1, "loads_kg": (load,),
        "entered_load": f"{load:g}", "entered_unit": "kg", "reps": (10,), "rir_low": 2.0,
        "rir_high": 2.0, "rest_s": 150.0,
    }  # fmt: skip
    return SetDone(**facts | more)


def test_pain_of_sets_and_check_ins_is_seen_and_a_quiet_report_ends_it() -> None:
    sets = [done(START, pain=6.0), done(START + 2 * DAY, lift="row", pain=4.0),
            done(START + 4 * DAY, lift="row", pain=1.0)]  # fmt: skip
    said = [
        CheckIn(moment=Moment(day=START + DAY), measure="pain", about="left knee", value=3.0),
        CheckIn(moment=Moment(day=START + 2 * DAY), measure="pain", about="knee", value=4.0),
    ]
    seen = standing_of(sets, said, CATALOGUE, POLICY, {})
    assert {state.about: (state.band, state.refer, state.often) for state in seen.pains} == {
        "bench press": ("stop", False, "once"),
        "knee": ("watchful", True, "2 days running"),
    }
    assert seen.trained == (START, START + 2 * DAY, START + 4 * DAY)


def test_what_was_cleared_is_over() -> None:
    sets = [done(START, pain=6.0, note="dizzy")]
    before = standing_of(sets, (), CATALOGUE, POLICY, {}, signs_in_sets(sets, signs_found))
    assert [sign.sign for sign in before.signs] == ["faintness"]
    cleared = {"bench press": START, "faintness": START}
    after = standing_of(sets, (), CATALOGUE, POLICY, cleared, signs_in_sets(sets, signs_found))
    assert (after.pains, after.signs) == ((), ())


def test_the_watch_is_quiet_on_steady_work_and_sounds_on_a_fall() -> None:
    def seen(sets: list[SetDone]) -> WatchSeen:
        return watch_seen(
            CoachCase(
                lifter=None,
                catalogue=CATALOGUE,
                policy=POLICY,
                read_note=signs_found,
                sets=tuple(sets),
            )
        )

    lifts = ("bench press", "row", "squat")
    days = [START + timedelta(days=step) for step in range(0, 56, 2)]
    steady = [done(day, lift) for day in days for lift in lifts]
    assert seen(steady) == QUIET
    weak = [done(day + 56 * DAY, lift, reps=(4,)) for day in days[:6] for lift in lifts]
    fallen = seen([*steady, *weak])
    assert fallen.all_lifts
    assert fallen.sounded_on is not None
    assert seen([]) == QUIET
