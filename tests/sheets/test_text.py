"""The sheet in a terminal: 80 columns, everything a lifter needs, in words."""

from dataclasses import replace
from datetime import timedelta

import pytest

from blockwright.engine.reasons import Caution
from blockwright.sheets.sheet_words import load_as, load_beside, rest_text, told_once
from blockwright.sheets.text import WIDTH, sheet_text
from sheet_documents import document_of, documents
from sheet_people import LOWER_DAY, MONDAY, block, entry, lifter, sets


@pytest.mark.parametrize("unit", ["kg", "lb"])
def test_no_line_is_wider_than_a_terminal(unit: str) -> None:
    made = block(lifter(unit=unit))  # type: ignore[arg-type]
    for document in (*documents(made), document_of(1, 1, made), document_of(1, 2, made)):
        for line in sheet_text(document).splitlines():
            assert len(line) <= WIDTH, line


def test_a_long_name_and_a_long_lift_still_fit() -> None:
    name = "Maximiliane Ortega de la Invencion-Fernandez y de los Llanos Altos"
    for document in documents(block(lifter(name))):
        assert all(len(line) <= WIDTH for line in sheet_text(document).splitlines())
    beside, alone = (sheet_text(document_of(1, 1, block(lifter("n" * n)))) for n in (50, 51))
    assert beside.splitlines()[0] == f"{'n' * 50}  Monday 4 January 2027, 06:30", "just fits"
    assert alone.splitlines()[0] == "n" * 51


def test_the_target_reads_as_a_coach_says_it() -> None:
    text = sheet_text(document_of(1, 2))
    assert "4 × 8–12, keep 2 in reserve, 82.5 kg: 20 kg bar, 20 + 10 + 1.25 each side" in text
    assert "bodyweight + 5 kg" in text
    assert "20 kg dumbbell in each hand" in text
    assert "20 kg of help: pin at 20 kg" in text
    assert "rest 2:15" in text
    assert "Warm up: 30 kg (5 each side) × 8; 50 kg (15 each side) × 5;" in text


def test_later_sets_that_reach_lower_take_no_line_of_their_own() -> None:
    first, *later = sets(3, 82.5, 8, 12)
    rows = (replace(first, aim_low=10, aim_high=11), *(replace(one, reps_low=6) for one in later))
    text = sheet_text(document_of(1, 1, entries=[entry(1, "bench press", rows)]))
    assert "3 × 8–12, 10–11 first, later sets 6 or more, keep 2 in reserve, 82.5 kg" in " ".join(
        text.split()
    )


def test_the_help_of_a_band_has_no_number() -> None:
    assert load_as("assisted", "0 kg", zero=True) == "help not weighed"
    assert load_beside("assisted", "20 kg", zero=False) == "20 kg of help"


def test_pounds_are_shown_to_who_counts_in_pounds() -> None:
    pounds = sets(3, 83.91458845, 8, 12)  # 185 lb
    made = block(lifter(unit="lb"))
    text = sheet_text(document_of(1, 1, made, [entry(1, "bench press", pounds)]))
    assert "185 lb" in text
    assert " lb off (" in advice_of(text)


def advice_of(text: str) -> str:
    _, _, after = " ".join(text.split()).partition("After a first set ")
    return after.partition(". set 1")[0]


def test_advice_names_its_reserve_and_only_what_can_occur() -> None:
    row = entry(1, "chest-supported dumbbell row", sets(3, 16, 8, 12, rir=3))
    document = document_of(1, 1, entries=[row])
    rows = document["entries"][0]["next_set_advice"]
    assert rows[-1]["reps_from"] > 16
    said = advice_of(sheet_text(document))
    up = f"{rows[-1]['reps_from']} or more, add 2 kg (18 kg)"
    waits = f"13 to {rows[-2]['reps_to']}, keep 16 kg today, and add next time"
    assert said.startswith(f"with 3 in reserve: {up}; {waits}; 7 or fewer, take "), (
        "a first step up that is near is said"
    )
    assert said.endswith("; otherwise, keep it")


def test_a_way_down_is_said_however_far_it_is() -> None:
    """A wide step keeps the load down to four repetitions; three take a step off on paper too."""
    document = document_of(1, 1, entries=[entry(1, "machine lateral raise", sets(2, 15, 8, 13))])
    first = document["entries"][0]
    rows = first["next_set_advice"]
    down = [r | {"reps_from": 0, "reps_to": 3} for r in rows if r["move"] == "lower"][-1:]
    keep = [r | {"reps_from": 4} for r in rows if r["move"] == "keep"]
    far = document | {"entries": [first | {"next_set_advice": [*down, *keep]}]}
    says = "with 2 in reserve: 3 or fewer, take 5 kg off (10 kg); otherwise, keep it"
    assert advice_of(sheet_text(far)) == says


def test_the_first_weight_on_a_belt_is_said_once() -> None:
    made = block(lifter(unit="lb"))
    document = document_of(1, 1, made, [entry(1, "dip", sets(3, 0, 8, 12, rir=1))])
    says = [row["says"] for row in document["entries"][0]["next_set_advice"]]
    assert says[1].endswith(": add 5 lb")


def test_a_spotter_is_asked_for_once() -> None:
    asks = Caution(code="spotter", facts={"lifts": "barbell back squat, good morning"})
    lifts = [entry(1, "barbell back squat", sets(3, 60, 6, 10, rir=3))]
    text = sheet_text(document_of(1, 1, block(cautions=(asks,)), lifts))
    assert text.count("spotter") == 1


def test_a_caution_of_several_lifts_is_said_once_and_names_them_all() -> None:
    said = ["dip: pain 4 of 10. Stop", "see a doctor", "curl: pain 5 of 10", "see a doctor",
            "bench press: pain 4 of 10. Stop", "row: pain 4 of 10. Stop"]  # fmt: skip
    assert told_once(said) == [
        "dip, bench press and row: pain 4 of 10. Stop", "see a doctor", "curl: pain 5 of 10",
    ]  # fmt: skip


def test_a_pair_is_done_in_turn() -> None:
    text = sheet_text(document_of(1, 1))
    assert "in turn with dumbbell lateral raise, 1:15 to change over" in text
    assert "in turn with seated leg curl, then rest 1:00" in text
    document = document_of(1, 1)
    out = next(e for e in document["entries"] if e["lift"] == "seated leg curl")
    out["cautions"].append({"code": "sheet_hurts_out", "says": "leave it out"})
    assert "in turn with seated leg curl" not in sheet_text(document)


def test_the_way_to_a_load_is_told_once() -> None:
    twice = [entry(1, "leg extension", sets(2, None, 8, 12)), LOWER_DAY[5]]
    text = sheet_text(document_of(1, 1, block(), twice))
    assert text.count("Finding a load.") == 1
    assert text.count("Tries:") == 2


def test_where_the_body_is_moved_the_way_begins_at_the_easiest() -> None:
    text = sheet_text(document_of(1, 1, block(), [entry(1, "dip", sets(2, None, 8, 12))]))
    assert "Tries: 8 repetitions with bodyweight alone; while" in text


def test_a_lift_of_one_side_at_a_time_says_so_beside_its_repetitions() -> None:
    lifts = [
        entry(1, "dumbbell row", sets(2, 20, 8, 12)),
        entry(2, "ez bar curl", sets(2, 30, 8, 12)),
    ]
    text = sheet_text(document_of(1, 1, block(), lifts))
    assert text.count("2 × 8–12 each side, keep") == 1
    assert " 2  EZ bar curl " in text


def test_a_referral_stands_on_top_in_capitals() -> None:
    text = sheet_text(document_of(1, 1, block(status="refer")))
    assert text.index("NOT CLEARED YET") < text.index("Barbell back squat")


def test_a_deload_says_so() -> None:
    text = sheet_text(document_of(4, 1))
    assert "Week 4 of 4, session 1, deload" in text
    assert "After a first set" not in text


@pytest.mark.parametrize(("seconds", "words"), [(45, "45 s"), (60, "1:00"), (135, "2:15")])
def test_rests_read_as_a_clock(seconds: int, words: str) -> None:
    assert rest_text(seconds) == words


@pytest.mark.parametrize(
    ("logged_days_ago", "is_said"), [(None, True), (8, True), (7, False), (2, False)]
)
def test_a_load_is_called_a_forecast_until_the_week_before_is_logged(
    logged_days_ago: int | None, is_said: bool
) -> None:
    later = tuple(replace(one, forecast_kg=(75.0, 82.5)) for one in sets(3, 80, 8, 12))
    document = document_of(1, 1, block(), [entry(1, "bench press", later)])
    if logged_days_ago is not None:
        last_day = str(MONDAY - timedelta(days=logged_days_ago))
        document["notes"].append(
            {"code": "sheet_facts", "says": "", "facts": {"last_day": last_day}}
        )
    text = " ".join(sheet_text(document).split())
    assert ("a forecast, probably 75 to 82.5 kg" in text) is is_said
