"""The face of a letter in twelve invented weeks: short, in the trade's words, each thing once."""

import re
from dataclasses import replace
from typing import Any

import pytest

from blockwright.engine.pain import grade_in
from blockwright.engine.reasons import Reason
from blockwright.engine.review import To
from blockwright.engine.review.swaps import stand_in
from blockwright.files.proposals_json import line_of
from blockwright.files.schemas import problems_against
from blockwright.sheets.letter import MOST_WORDS, letter_of
from blockwright.sheets.letter_changes import Change
from blockwright.sheets.letter_text import letter_text, message_to_lifter
from letter_weeks import STORIES, letter_of_story, told
from reviews_as_lines import NAMES, review_lines
from text_goldens import GOLDENS

MODEL_WORDS = ("%", " SD", "SMD", "probab", "monotony", "performance held")
TODAY = {  # what the first line says
    "good week": "All four sessions, and every lift held",
    "bad night": "All four sessions; Tuesday was a bad day after a bad night, the rest held",
    "bad week": "All four sessions, a weak week",
    "two bad weeks": "All four sessions, a weak week across the board",
    "shoulder pain": "every lift held; assisted pull-up short of the range; shoulder hurts.",
    "two regions": "short of the range; shoulder and lower back hurt.",
    "a week after pain": "; nothing new of the shoulder.",
    "back from a cold": "All four sessions in the first week back, and every lift held",
    "too easy": "too easy.",
    "a lift's own sign": "All four sessions, and every lift held",
    "half done": "Two of four sessions",
    "no log": "All four sessions, the first numbers on every lift.",
    "many lifts": "All four sessions",
    "last build week": "All four sessions, and every lift held",
    "a sign": "All four sessions; nothing progresses before a professional has had a look.",
    "after the deload": "The deload is done, all four sessions.",
}


def face(name: str) -> list[str]:
    return letter_text(letter_of(letter_of_story(name))).splitlines()


def kinds(name: str) -> set[str]:
    return {proposal.kind for proposal in told(name).proposals}


@pytest.mark.parametrize("name", STORIES)
def test_a_face_is_one_screen_in_the_trades_words(name: str) -> None:
    lines = face(name)
    words = sum(len(line.split()) for line in lines)
    assert TODAY[name] in " ".join(lines[1:3])
    assert len(lines) <= 45
    assert max(map(len, lines)) <= 100
    assert words <= 180, words
    assert not [word for word in MODEL_WORDS if any(word in line for line in lines)]
    assert not re.search(r"\d{4}-\d\d-\d\d", "\n".join(lines[2:])), "a day has a name"


@pytest.mark.parametrize("name", NAMES)
def test_what_the_review_finds_is_as_written(name: str) -> None:
    """To the letter (`text_goldens`): make goldens, and read what moved."""
    written = (GOLDENS / "reviews.txt").read_text(encoding="utf-8").split("\n\n")
    assert list(review_lines(name)) == written[NAMES.index(name)].splitlines()


def test_one_bad_night_takes_nothing_back_and_adds_nothing_to_its_lifts() -> None:
    found = told("bad night")
    bad = {e.lift for s in found.case.window.week.sessions if s.session == 2 for e in s.entries}
    only = bad - {
        e.lift for s in found.case.window.week.sessions if s.session != 2 for e in s.entries
    }
    assert not kinds("bad night") & {"light_week", "deload_now", "trim_sets"}
    assert only
    assert not {p.lift for p in found.proposals if p.kind == "add_set"} & only


def test_a_weak_week_is_answered_and_nothing_is_added() -> None:
    assert kinds("bad week") <= {"light_week", "lower_load"}
    assert kinds("two bad weeks") & {"light_week", "deload_now"}
    assert "after bad sleep, fatigue and" in face("bad week")[1]
    assert "cost no strength" in letter_of_story("bad week")["message"]
    for name in ("bad week", "two bad weeks", "half done"):
        assert not any("up" in line and "As printed" in line for line in face(name))


def test_a_load_too_hard_for_the_effort_comes_down_where_none_is_printed() -> None:
    found = told("no log")
    calf = [p for p in found.proposals if p.lift == "standing calf raise"]
    assert "effort_beyond_target" in {reason.code for p in calf for reason in p.reasons}
    assert {p.kind for p in calf} == {"lower_load"}
    said = " ".join(" ".join(face("no log")).split())
    assert "likely: standing calf raise 80→75 (nearer failure" in said


def test_first_numbers_give_loads_and_no_set_beyond_the_print() -> None:
    assert kinds("no log") == {"raise_load", "lower_load"}
    text = "\n".join(face("no log"))
    opened = letter_of(letter_of_story("no log")).changes[-1]
    assert (opened.about, opened.change) == ("First loads", f"{len(opened.lines)} as lifted")
    assert "First loads  " in text
    assert "first numbers, so" not in text, "the verdict says it"
    assert "barbell back squat" not in text, "decisions are not buried under them"
    assert "Your sheet has loads for" in letter_of_story("no log")["message"]


def test_what_hurts_is_referred_once_and_never_said_to_stay_as_well() -> None:
    lines = face("shoulder pain")
    assert sum("licensed professional (no diagnosis)" in line for line in lines) == 1
    stays = " ".join(lines[next(n for n, one in enumerate(lines) if one.startswith("Stays")) :])
    assert stays.lower().count("dumbbell shoulder press") <= 1


def test_the_lifter_is_told_what_stays_down_while_it_hurts() -> None:
    said = letter_of_story("shoulder pain")["message"]
    held = "nothing goes up on dumbbell shoulder press and dumbbell lateral raise until the pain is"
    assert f"{held} 2 of 10 or less." in said
    assert said.endswith("stop whatever hurts and tell me.")


def test_two_lifts_that_hurt_are_one_shoulder() -> None:
    (refer,) = [p for p in told("shoulder pain").proposals if p.kind == "refer"]
    assert refer.says.facts["about"] == "shoulder"
    said = " ".join(" ".join(face("shoulder pain")).split())
    assert "in dumbbell bench press, dumbbell shoulder press" in said


def test_regions_that_hurt_at_once_are_said_once_each_and_nothing_beyond() -> None:
    """Which lifts, the swaps say; where and how much, the referral; small muscles ask nothing."""
    text = " ".join(" ".join(face("two regions")).split())
    assert (
        "shoulder (pain 5 of 10, 3 times in a week), lower back (pain 5 of 10, twice in a week)"
        in text
    )
    assert "2 lifts swapped" in text
    assert "dumbbell shoulder press, dumbbell lateral raise, romanian deadlift." in text
    assert "spinal erectors" not in text.lower()
    assert "Barbell back squat: pinned, and lower back hurts" in text, "asked, not swapped"
    message = letter_of_story("two regions")["message"]
    assert "this spares it" not in message, "one reason does not speak for two regions"
    added = [p.lift for p in told("two regions").proposals if p.kind == "add_set"]
    assert "dumbbell lateral raise" not in added, "it loads the shoulder a little"


def test_a_lift_swapped_for_pain_last_week_is_part_of_its_region_and_not_held() -> None:
    text = " ".join(" ".join(face("a week after pain")).split())
    assert "shoulder (pain 5 of 10 in dumbbell bench press, dumbbell shoulder press, " in text
    held = text.split("Nothing added until pain is 2 or less: ")[1].split(".")[0]
    assert held == "dumbbell shoulder press, dumbbell lateral raise"
    climbs = (
        "Loads the shoulder little, so no more than printed: lat pulldown reserve 2 → 1, "
        "assisted pull-up 2 → 3 sets, reserve 2 → 1, barbell row 4 → 5 sets, reserve 2 → 1"
    )
    assert climbs in text
    kept = letter_of(letter_of_story("a week after pain")).all_stays
    assert any(line.startswith("Neutral-grip dumbbell bench press: shoulder hurt") for line in kept)


def test_a_sign_leaves_the_letter_one_thing_to_do() -> None:
    text = "\n".join(face("a sign"))
    assert kinds("a sign") == {"refer"}
    assert 'faintness (written on Tue 19 Jan: "' in re.sub(r"\s+", " ", text)
    assert "As printed" not in text
    assert len(text.split()) <= 100
    assert "more: faintness, so a professional first" in text


def test_the_same_question_of_several_sets_is_asked_once() -> None:
    for name in STORIES:
        assert " ".join(face(name)).count("a bad set, or a slip?") <= 1
    document = letter_of_story("good week")
    twice = {"asks": "dip on 2027-01-19, 18 kg × 17: 8.2 kg meant?"}
    (asked,) = [one for one in letter_of(document | {"settle": [twice, twice]}).settle
                if "8.2" in one]  # fmt: skip
    assert asked == "Dip on Tue 19 Jan, 18 kg × 17: 8.2 kg meant?"


@pytest.mark.parametrize("name", STORIES)
def test_a_face_names_something_that_stays(name: str) -> None:
    """Where nothing is changed, or all of it goes up for the first time, nothing stays."""
    found, stays = told(name), letter_of(letter_of_story(name)).stays
    assert bool(stays) is (name not in ("no log", "last build week", "after the deload"))
    named = {str(one.lift or one.muscle).replace("_", " ") for one in found.stays}
    assert not stays or any(one in " ".join(stays).lower() for one in named)


def test_an_easy_week_gets_load_before_sets() -> None:
    found = told("too easy")
    leads = {"quads", "lats"}
    raised = {p.lift for p in found.proposals if p.kind == "raise_load"}
    both = [p for p in found.proposals if p.kind == "add_set" and p.lift in raised]
    assert len(raised) >= 8
    assert {p.muscle for p in both} <= leads


def test_a_line_without_a_day_begins_with_a_capital() -> None:
    change = letter_of(letter_of_story("half done")).changes[0]
    assert (change.day, change.about) == ("", "Week 4")
    assert change.certainty == "likely"


def test_lines_without_a_day_stand_in_columns_of_their_own_and_end_without_blanks() -> None:
    document = letter_of_story("shoulder pain")
    load = next(one for one in document["proposals"] if one["kind"] == "raise_load")
    parts = {**load["line"], "day": "", "change": "out", "why": ""}
    out = {**load, "id": "x", "kind": "stop_lift", "line": parts}
    text = letter_text(letter_of(document | {"proposals": [out, load]}))
    about = load["line"]["about"]
    assert f"Change   {about[:1].upper()}{about[1:]}  out  {load['line']['certainty']}\n" in text


def test_a_load_that_may_open_short_of_its_range_says_so() -> None:
    found = told("no log")
    for proposal in found.proposals:
        short = f"; may open short of {proposal.says.facts['reps_low']}"
        assert line_of(proposal, found).why.endswith(short) == (proposal.confidence < 0.5)


@pytest.mark.parametrize("name", STORIES)
def test_what_goes_up_as_printed_is_listed_by_day(name: str) -> None:
    document = letter_of_story(name)
    climb = document["climb"]
    said = " ".join(climb["days"])
    steps = [int(to) - int(was) for was, to in re.findall(r"(\d+) → (\d+) sets", said)]
    assert (said.count(" → ") - len(steps), sum(steps)) == (climb["loads"], climb["sets"])
    behind = " ".join(letter_text(letter_of(document), full=True).split())
    assert said in behind


def test_a_long_verdict_takes_its_words_from_the_changes() -> None:
    """Climbs give way; cuts, questions and cautions keep their words."""
    document = letter_of_story("many lifts")
    text = letter_text(letter_of(document | {"verdict": "word " * 30}))
    assert len(text.split()) <= 180


def test_the_same_change_on_two_days_is_one_line() -> None:
    document = letter_of_story("good week")
    load = next(one for one in document["proposals"] if one["kind"] == "raise_load")
    twin = {**load, "id": "twin", "line": {**load["line"], "day": "Sun"}}
    found = letter_of({**document, "proposals": [load, twin]}).changes
    assert [(one.day, len(one.lines)) for one in found] == [(f"{load['line']['day']}, Sun", 2)]


def test_no_stand_in_loads_the_other_place_that_hurts() -> None:
    found = told("two regions")
    swaps = [p.after for p in found.proposals if p.kind == "swap_lift"]
    assert len(swaps) >= 2
    for after in swaps:
        assert after is not None
        other = found.case.catalogue.lifts[str(after.value)]
        assert all(grade_in(other, place) < 2 for place in ("shoulder", "lower back")), other.name
    row = found.case.catalogue.lifts["barbell row"]
    first = stand_in(found.case, row, found.case.pain[row.name])
    assert first is not None
    second = stand_in(found.case, row, found.case.pain[row.name], {first.name})
    assert second != first, "two lifts never lead to the same"


def test_a_pain_that_the_referral_names_is_not_told_again_where_words_are_short() -> None:
    document = letter_of_story("two regions")
    refers = [one for one in document["proposals"] if one["kind"] == "refer"]
    swap = next(one for one in document["proposals"] if one["kind"] == "swap_lift")

    def face_with(words: int) -> tuple[Change, ...]:
        asked = [{"asks": "why " * words}]
        return letter_of({**document, "proposals": [*refers, swap], "settle": asked}).changes

    assert " pain " in face_with(1)[-1].why
    referral, out = face_with(MOST_WORDS)
    assert "(pain 5 of 10" in referral.why
    assert out.why == ""


def test_cuts_that_share_a_line_keep_their_reasons() -> None:
    document = letter_of_story("good week")
    assert "Reps before load: dumbbell " in " ".join(face("good week"))
    down = next(one for one in document["proposals"] if one["kind"] == "lower_load")

    def cuts(count: int) -> Change:
        lines = [
            {**down["line"], "about": f"a lift with quite a long name {n}",
             "way": "load", "was": "5", "to": "4", "last": "4", "change": "5 → 4 kg (4 last time)",
             "why": "nearer failure than asked, 2 sessions running" if n else "3 × 5 at 4; 8 asked",
             "brief": "" if n else "3 × 5 at 4", "cause": ""}
            for n in range(count)
        ]  # fmt: skip
        (joined,) = letter_of(
            {**document, "proposals": [{**down, "line": line} for line in lines]}
        ).changes
        return joined

    assert cuts(7).about == "Mon (kg)"
    line = {**down["line"], "certainty": "sure", "why": "5 at 4", "brief": "", "cause": ""}
    days = [{**down, "line": {**line, "day": day, "about": f"lift {n}"}, "session": number}
            for number, day in ((1, "Mon"), (2, "Tue")) for n in range(8)]  # fmt: skip
    told = " ".join(one.why for one in letter_of({**document, "proposals": days}).changes)
    assert told.count("5 at 4") == 8, "a reason is told once, not on each day"
    assert "name 0 5→4 (3 × 5 at 4)" in cuts(7).why
    assert cuts(9).why.count("name 1 5→4") == 1, "every load stays"
    assert "nearer failure than asked" not in cuts(9).why, "where words are short, no reason"


def test_a_load_below_the_print_that_is_no_step_down_says_so() -> None:
    found = told("good week")
    squat = next(p for p in found.proposals if p.lift == "barbell back squat")
    assert line_of(squat, found).change == "not up, 72.5 kg again"
    lifted = next(one for one in squat.reasons if one.code == "lifted_last")
    own = replace(
        squat, lift="pull-up", before=To("load_kg", 2.5), after=To("load_kg", 0.0),
        reasons=(replace(lifted, facts={**lifted.facts, "most_kg": 0.0}),),
    )  # fmt: skip
    assert line_of(own, found).change == "not up, bodyweight again"
    assert line_of(replace(own, before=None), found).change == "first load bodyweight"
    heavier = replace(lifted, facts={**lifted.facts, "most_kg": 5.0})
    down = replace(own, reasons=(heavier,))
    assert line_of(down, found).change == "+2.5 kg → bodyweight"
    assert "; may open short of" in line_of(replace(down, confidence=0.3), found).why
    up = replace(down, before=To("load_kg", 0.0), after=To("load_kg", 2.5))
    assert line_of(up, found).change == "bodyweight → +2.5 kg"
    waits = Reason(code="fill_the_range", facts={"reps_high": 12})
    rises = replace(up, kind="raise_load", reasons=(waits, heavier))
    assert line_of(rises, found).why == lifted.facts["done"], "not why it goes no further"
    message = letter_of_story("good week")["message"]
    assert "Not as far up as planned: barbell back squat stays at 72.5 kg" in message
    assert "squat" not in message.split("Down next week")[1].split(". ")[0]


def test_a_lift_left_out_until_quiet_is_told_so_once() -> None:
    document = letter_of_story("shoulder pain")
    swap = next(one for one in document["proposals"] if one["kind"] == "swap_lift")
    line = {
        **swap["line"],
        "change": "out",
        "why": "pain 6 of 10: out until quiet or looked at",
        "brief": "pain 6 of 10",
    }
    out = document | {"proposals": [{**swap, "kind": "stop_lift", "line": line}]}
    said = message_to_lifter(letter_of(out), out)
    assert f"Until it is quiet, leave out {swap['line']['about']} (pain 6 of 10)." in said


@pytest.mark.parametrize("name", STORIES)
def test_the_message_is_two_to_five_sentences(name: str) -> None:
    said: dict[str, Any] = letter_of_story(name)
    sentences = re.findall(r"[.!?](?:\s|$)", said["message"])
    assert 2 <= len(sentences) <= 5
    assert not [word for word in MODEL_WORDS if word in said["message"]]
    moved = [p for p in said["proposals"] if p["kind"] in ("raise_load", "lower_load", "add_set")]
    first = [p for p in moved if p["line"]["change"].startswith("first load")]
    stopped = "before anything else" in said["message"]
    told = [] if stopped else [p for p in moved if p not in first]
    assert not [p["lift"] for p in told if p["lift"] not in said["message"]], (
        "all that moves is told"
    )


def test_three_questions_stand_on_the_face_and_every_caution() -> None:
    asked = [{"asks": f"Question {n}?"} for n in range(5)]
    letter = letter_of(letter_of_story("shoulder pain") | {"settle": asked})
    text, full = letter_text(letter), letter_text(letter, full=True)
    assert text.count("Question") == 3
    assert all(f"Question {n}?" in full for n in range(5))
    assert "Nothing added until pain is 2 or less" in text


def test_a_stand_in_says_where_its_tries_begin() -> None:
    said = " ".join(" ".join(face("shoulder pain")).split())
    assert "→ neutral-grip dumbbell bench press, tries from 12 kg" in said


def test_a_letter_of_an_older_version_is_told_by_its_words() -> None:
    document = letter_of_story("good week")
    words = ("day", "about", "change", "certainty", "why")
    old = document | {
        "proposals": [one | {"line": {key: one["line"][key] for key in words}}
                      for one in document["proposals"]],
        "stays": [{key: value for key, value in one.items() if key not in ("at", "load_kg")}
                  for one in document["stays"]],
    }  # fmt: skip
    assert problems_against("proposals", old, "old.json") == []
    told_now = [one.change for one in letter_of(document).changes]
    assert [one.change for one in letter_of(old).changes] == told_now
    assert "stays at ." not in message_to_lifter(letter_of(old), old)


def test_a_lift_that_failed_stays_with_its_load() -> None:
    document = letter_of_story("good week")
    stay = {**document["stays"][0], "lift": "row", "short": "5, 4 at 60; 8–12 asked"}
    kept = letter_of(document | {"stays": [stay | {"at": "stays at 60 kg"}]}).stays
    assert kept == ("Row stays at 60 kg: 5, 4 at 60; 8–12 asked.",)


@pytest.mark.parametrize("name", STORIES)
def test_where_some_muscle_leads_no_other_gains_a_set(name: str) -> None:
    leads = {m for m, how in told(name).case.lifter.emphasis.items() if how == "lead"}
    assert {p.muscle for p in told(name).proposals if p.kind == "add_set"} <= leads


def test_a_load_that_stays_light_is_as_sure_as_it_is() -> None:
    """No coin is tossed for a load that leaves more than asked."""
    found = told("too easy")
    one = next(p for p in found.proposals if p.kind == "raise_load" and p.before is not None)
    says = replace(one.says, facts={**one.says.facts, "p_far_above": 0.9})
    reasons = tuple(why for why in one.reasons if why.code != "far_too_light")
    line = line_of(replace(one, says=says, confidence=0.95, reasons=reasons), found)
    assert line.certainty == "sure"
    assert line.why.endswith("; still light")
