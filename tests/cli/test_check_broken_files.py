"""Broken files, one a line of a table: exit 2, no traceback, the place and the mend are named."""

import json
from pathlib import Path

import pytest

from blockwright.cli.main import exit_code

LIFTER = 'name = "Ana"\n'
SETS = "when,lift,set,load,unit,reps,rir,rest_s,method,full_range,pain,note\n"
CHECKINS = "when,measure,about,value,unit\n"


def sets_row(**cells: str) -> str:
    """A sets file of one good row and, in row 3, one with `cells` changed."""
    good = {
        "when": "2027-01-04", "lift": "barbell back squat", "set": "1", "load": "100",
        "unit": "kg", "reps": "8", "rir": "2", "rest_s": "150", "method": "straight",
        "full_range": "yes", "pain": "0", "note": "",
    }  # fmt: skip
    bad = good | {"set": "2"} | cells
    return SETS + ",".join(good.values()) + "\n" + ",".join(bad.values()) + "\n"


def checkin(row: str) -> str:
    return f"{CHECKINS}2027-01-04,sleep,,3,\n{row}\n"


# (file name, content, place, what the message must hold). A place is (row, column, key).
Place = tuple[int | None, str | None, str | None]
TOML_CASES: list[tuple[str, str | bytes, Place, str]] = [
    ("no name", "units = 'kg'", (None, None, "name"), "Ana"),
    ("empty name", 'name = "  "', (None, None, "name"), "write something"),
    ("name is a number", "name = 3", (None, None, "name"), "text in quotes"),
    ("unknown key", LIFTER + "bodywieght = 80", (None, None, "bodywieght"), "bodyweight"),
    ("unknown key in a slot",
     LIFTER + '[[slot]]\nday = "mon"\nstart = "06:30"\nminutes = 60\nlength = 3',
     (None, None, "slot.1.length"), "known here: day, start, minutes"),
    ("units of stone", LIFTER + 'units = "stone"', (None, None, "units"), "kg or lb"),
    ("text as bodyweight", LIFTER + 'bodyweight = "81"',
      (None, None, "bodyweight"), "without quotes"),
    ("comma in a number", LIFTER + "bodyweight = 81,5", (2, None, None), "81.5"),
    ("pounds typed as kg", LIFTER + "bodyweight = 815", (None, None, "bodyweight"), "25 to 400 kg"),
    ("kg typed as pounds", LIFTER + 'units = "lb"\nbodyweight = 50', (None, None, "bodyweight"),
     "55 to 882 lb"),
    ("nan", LIFTER + "bodyweight = nan", (None, None, "bodyweight"), "plain number"),
    ("infinity", LIFTER + "bodyweight = -inf", (None, None, "bodyweight"), "plain number"),
    ("true as a number", LIFTER + "weeks = true", (None, None, "weeks"), "whole number"),
    ("weeks too many", LIFTER + "weeks = 9", (None, None, "weeks"), "3 to 8"),
    ("half a week", LIFTER + "weeks = 4.5", (None, None, "weeks"), "whole"),
    ("born too early", LIFTER + "born = 1066", (None, None, "born"), "1900 to 2095"),
    ("born after the start", LIFTER + "born = 2030\nstart = 2027-01-04", (None, None, "born"),
     "check both"),
    ("start on a Tuesday", LIFTER + "start = 2027-01-05", (None, None, "start"),
     "2027-01-04 or 2027-01-11"),
    ("start in no year", LIFTER + "start = 1899-01-02", (None, None, "start"), "2027-01-04"),
    ("start with a time", LIFTER + "start = 2027-01-04T06:00:00", (None, None, "start"),
     "year-month-day"),
    ("start as other text", LIFTER + 'start = "4 January"', (None, None, "start"),
     "year-month-day"),
    ("no day of the calendar", LIFTER + "start = 2027-02-30", (2, None, None), "calendar"),
    ("unknown experience", LIFTER + 'experience = "avanced"', (None, None, "experience"),
     "advanced"),
    ("unknown day", LIFTER + '[[slot]]\nday = "monday"\nstart = "06:30"\nminutes = 60',
     (None, None, "slot.1.day"), "mon"),
    ("no such time", LIFTER + '[[slot]]\nday = "mon"\nstart = "24:30"\nminutes = 60',
     (None, None, "slot.1.start"), "06:30"),
    ("slot without minutes", LIFTER + '[[slot]]\nday = "mon"\nstart = "06:30"',
     (None, None, "slot.1.minutes"), "75"),
    ("slot too short", LIFTER + '[[slot]]\nday = "mon"\nstart = "06:30"\nminutes = 5',
     (None, None, "slot.1.minutes"), "10 to 300"),
    ("second slot too long",
     LIFTER + '[[slot]]\nday = "mon"\nstart = "06:30"\nminutes = 60\n'
     '[[slot]]\nday = "tue"\nstart = "06:30"\nminutes = 600',
     (None, None, "slot.2.minutes"), "10 to 300"),
    ("slots overlap",
     LIFTER + '[[slot]]\nday = "mon"\nstart = "06:30"\nminutes = 60\n'
     '[[slot]]\nday = "mon"\nstart = "07:00"\nminutes = 60',
     (None, None, "slot.2.start"), "move one"),
    ("slot is a text", LIFTER + 'slot = "mon"', (None, None, "slot"), "[[slot]]"),
    ("answer in words", LIFTER + '[screening]\nkidney_disease = "no"',
     (None, None, "screening.kidney_disease"), "true or"),
    ("unknown muscle", LIFTER + '[emphasis]\nquad = "lead"', (None, None, "emphasis.quad"),
     "quads"),
    ("unknown emphasis", LIFTER + '[emphasis]\nquads = "grow"', (None, None, "emphasis.quads"),
     "lead, normal, hold or skip"),
    ("unknown permission", LIFTER + "[allow]\nsuperset = true", (None, None, "allow.superset"),
     "supersets"),
    ("unknown policy key", LIFTER + '[policy]\n"suspect.many_rep" = 60',
     (None, None, "policy.suspect.many_rep"), "suspect.many_reps"),
    ("policy out of bounds", LIFTER + "[policy]\nsuspect.many_reps = 6000",
     (None, None, "policy.suspect.many_reps"), "default"),
    ("policy is a list", LIFTER + "[policy]\nsuspect.many_reps = [60]",
     (None, None, "policy.suspect.many_reps"), "= 1"),
    ("unknown lift to avoid", LIFTER + '[limits]\navoid_lifts = ["barbel back squat"]',
     (None, None, "limits.avoid_lifts.1"), "barbell back squat"),
    ("unknown pattern to avoid", LIFTER + '[limits]\navoid_patterns = ["overhead pres"]',
     (None, None, "limits.avoid_patterns.1"), "overhead press"),
    ("no lifts a session", LIFTER + "[limits]\nmax_lifts_per_session = 0",
     (None, None, "limits.max_lifts_per_session"), "1 to 20"),
    ("pin of an unknown lift", LIFTER + '[[pin]]\nlift = "leg pres"', (None, None, "pin.1.lift"),
     "leg press"),
    ("pin without a lift", LIFTER + '[[pin]]\nreps = "low"', (None, None, "pin.1.lift"),
     "name the lift"),
    ("pin on no day", LIFTER + '[[pin]]\nlift = "leg press"\ndays = ["wednesday"]',
     (None, None, "pin.1.days.1"), "wed"),
    ("pin in an odd range", LIFTER + '[[pin]]\nlift = "leg press"\nreps = "10-5"',
     (None, None, "pin.1.reps"), "5-10"),
    ("pin in no zone", LIFTER + '[[pin]]\nlift = "leg press"\nreps = "heavy"',
     (None, None, "pin.1.reps"), "low, mid, high"),
    ("bar without mass", LIFTER + '[gym]\nkit = ["bar"]\n[[gym.bar]]\nname = "x"',
     (None, None, "gym.bar.1.mass"), "mass = 20"),
    ("bar of a ton", LIFTER + '[gym]\nkit = ["bar"]\n[[gym.bar]]\nname = "x"\nmass = 1000',
     (None, None, "gym.bar.1.mass"), "unit"),
    ("plate in no unit", LIFTER + '[gym]\nkit = ["bar"]\n[gym.plates]\n"20 stone" = 2',
     (None, None, "gym.plates.20 stone"), "45 lb"),
    ("half a pair", LIFTER + '[gym]\nkit = ["bar"]\n[gym.plates]\n"20" = 1.5',
     (None, None, "gym.plates.20"), "whole"),
    ("fewer than no plates", LIFTER + '[gym]\nkit = ["bar"]\n[gym.plates]\n"20" = -1',
     (None, None, "gym.plates.20"), "0 to 100 pairs"),
    ("plate without quotes", LIFTER + '[gym]\nkit = ["bar"]\n[gym.plates]\n2.5 = 1',
     (None, None, "gym.plates.2"), "quotes"),
    ("plate twice", LIFTER + '[gym]\nkit = ["bar"]\n[gym.plates]\n"20" = 1\n"20 kg" = 1',
     (None, None, "gym.plates.20 kg"), "one line"),
    ("dumbbells backwards",
     LIFTER + '[gym]\nkit = ["dumbbells"]\n[gym.dumbbells]\nfrom = 40\nto = 4\nstep = 2',
     (None, None, "gym.dumbbells.1.to"), "swap"),
    ("dumbbells without a step",
     LIFTER + '[gym]\nkit = ["dumbbells"]\n[gym.dumbbells]\nfrom = 4\nto = 40',
     (None, None, "gym.dumbbells.1.step"), "step"),
    ("a step of nothing",
     LIFTER + '[gym]\nkit = ["leg curl"]\n[[gym.stack]]\nlift = "leg curl"\nfrom = 5\nto = 9\n'
     "step = 0",
     (None, None, "gym.stack.1.step"), "2.5"),
    ("kit with a number", LIFTER + "[gym]\nkit = [3]", (None, None, "gym.kit.1"), "quotes"),
    ("own lift without muscles", LIFTER + '[[lift]]\nname = "yoke"\npattern = "squat"',
     (None, None, "lift.1.muscles"), "muscles"),
    ("own lift with an unknown key",
     LIFTER + '[[lift]]\nname = "yoke"\npattern = "squat"\nmuscles = { quads = 1.0 }\nweigth = 1',
     (None, None, "lift.1.weigth"), "known here"),
    ("a value without quotes", "name = Ana", (1, None, None), "quotes"),
    ("a key twice", 'name = "A"\nname = "B"\n', (2, None, None), "twice"),
    ("a quote left open", 'name = "Ana', (1, None, None), "quotes"),
    ("not UTF-8", b'name = "Jos\xe9"', (1, None, None), "UTF-8"),
    ("nothing at all", "", (None, None, None), "empty"),
]  # fmt: skip

CSV_CASES: list[tuple[str, str | bytes, Place, str]] = [
    ("no load column", "when,lift,set,unit,reps\n", (1, "load", None), "when, lift, load"),
    ("another word for load", "when,lift,weight,unit,reps\n", (1, "load", None), "weight"),
    ("a column twice", "when,lift,load,unit,reps,reps\n", (1, "reps", None), "rename"),
    ("load below zero", sets_row(load="-20"), (3, "load", None), "without a minus"),
    ("load not a number", sets_row(load="heavy"), (3, "load", None), "plain number"),
    ("load nan", sets_row(load="nan"), (3, "load", None), "plain number"),
    ("load infinite", sets_row(load="inf"), (3, "load", None), "plain number"),
    ("load missing", sets_row(load=""), (3, "load", None), "bodyweight"),
    ("load 0 on a bar", sets_row(load="0"), (3, "load", None), "bodyweight"),
    ("load of no lift", sets_row(load="99999"), (3, "load", None), "check the number"),
    ("load with two readings", sets_row(load='"1,250"'), (3, "load", None), "point"),
    ("load of what unit", sets_row(unit=""), (3, "load", None), "kg or lb"),
    ("load in two units", sets_row(load="100 lb"), (3, "load", None), "agree"),
    ("unit of stone", sets_row(unit="stone"), (3, "unit", None), "kg or lb"),
    ("reps missing", sets_row(reps=""), (3, "reps", None), "failed attempt"),
    ("reps below zero", sets_row(reps="-1"), (3, "reps", None), "minus"),
    ("half a repetition", sets_row(reps="7.5"), (3, "reps", None), "7 or 8"),
    ("reps in parts of a straight set", sets_row(reps="15+4"), (3, "reps", None), "rest-pause"),
    ("reps with a part missing", sets_row(reps="15++4", method="drop"), (3, "reps", None),
     "every part"),
    ("loads and parts disagree", sets_row(reps="15+4+4", load="60+45", method="drop"),
     (3, "reps", None), "one load for each"),
    ("rir below zero", sets_row(rir="-1"), (3, "rir", None), "0 or more"),
    ("rir above ten", sets_row(rir="11"), (3, "rir", None), "leave it empty"),
    ("rir too fine", sets_row(rir="1.3"), (3, "rir", None), "half"),
    ("rir turned into a date", sets_row(rir="02-Jan"), (3, "rir", None), "text"),
    ("rir in words", sets_row(rir="hard"), (3, "rir", None), "number"),
    ("rest below zero", sets_row(rest_s="-90"), (3, "rest_s", None), "minus"),
    ("rest of a week", sets_row(rest_s="600000"), (3, "rest_s", None), "21600 s"),
    ("unknown method", sets_row(method="strait"), (3, "method", None), "straight"),
    ("range in words", sets_row(full_range="mostly"), (3, "full_range", None), "yes or no"),
    ("pain above ten", sets_row(pain="11"), (3, "pain", None), "0 to 10"),
    ("set number zero", sets_row(set="0"), (3, "set", None), "1 to 200"),
    ("no lift", sets_row(lift=" "), (3, "lift", None), "name it"),
    ("no date", sets_row(when=""), (3, "when", None), "2027-01-31"),
    ("two readings of a date", sets_row(when="03/04/2027"), (3, "when", None), "2027-04-03"),
    ("two readings with points", sets_row(when="03.04.2027"), (3, "when", None), "2027-04-03"),
    ("no day of the calendar", sets_row(when="2027-02-30"), (3, "when", None), "2027-01-31"),
    ("a month of thirteen", sets_row(when="32/13/2027"), (3, "when", None), "2027-01-31"),
    ("year 1899", sets_row(when="1899-12-31"), (3, "when", None), "year"),
    ("year 2150", sets_row(when="2150-01-01"), (3, "when", None), "year"),
    ("a year of two digits", sets_row(when="13/04/27"), (3, "when", None), "four digits"),
    ("no time of day", sets_row(when="2027-01-04 25:00"), (3, "when", None), "18:30"),
    ("a word as date", sets_row(when="monday"), (3, "when", None), "2027-01-31"),
    ("whose set", "when,lift,load,unit,reps,lifter\n2027-01-04,bench press,60,kg,8,\n"
     "2027-01-04,bench press,60,kg,8,Ana\n", (2, "lifter", None), "every row"),
    ("a quote left open", SETS + '2027-01-04,"bench press,1,60,kg,8\n', (2, None, None), '"'),
    ("nothing at all", "", (None, None, None), "first row"),
    ("blank lines only", "\n \n\n", (None, None, None), "first row"),
    ("a workbook", b"PK\x03\x04....", (None, None, None), "save it as CSV"),
    ("no text", b"when,lift\x00\x01\x02", (None, None, None), "save it as CSV"),
    ("no measure", checkin("2027-01-05,,,3,"), (3, "measure", None), "sleep"),
    ("an unknown measure", checkin("2027-01-05,sorenes,,3,"), (3, "measure", None), "soreness"),
    ("sleep of nine", checkin("2027-01-05,sleep,,9,"), (3, "value", None), "1 to 7"),
    ("sore nowhere", checkin("2027-01-05,sore,,3,"), (3, "about", None), "quads"),
    ("sore in no muscle", checkin("2027-01-05,sore,quad,3,"), (3, "about", None), "quads"),
    ("pain nowhere", checkin("2027-01-05,pain,,3,"), (3, "about", None), "left knee"),
    ("bodyweight of what", checkin("2027-01-05,bodyweight,,80,"), (3, "value", None), "kg or lb"),
    ("no bodyweight", checkin("2027-01-05,bodyweight,,8,kg"), (3, "value", None), "25 to 400"),
    ("value missing", checkin("2027-01-05,stress,,,"), (3, "value", None), "delete the row"),
    ("no value column", "when,measure,about\n", (1, "value", None), "when, measure, value"),
]  # fmt: skip

JSON_CASES: list[tuple[str, str | bytes, Place, str]] = [
    ("not JSON", '{"format": \n', (2, None, None), "as blockwright wrote"),
    ("no document", "[1, 2]", (None, None, None), "as blockwright wrote"),
    ("empty", "", (1, None, None), "empty"),
    ("no format", "{}", (None, None, "format"), "blockwright/block/1"),
    ("unknown format", '{"format": "blockwright/plan/1"}', (None, None, "format"), "block/1"),
    ("a later format", '{"format": "blockwright/block/2"}', (None, None, "format"), "block"),
    ("an empty block", '{"format": "blockwright/block/1"}', (None, None, None), "revision"),
    ("deeply nested", "[" * 100_000, (None, None, None), "as blockwright wrote"),
]

POLICY_CASES: list[tuple[str, str | bytes, Place, str]] = [
    ("unknown policy", "[suspect]\nmany = 60", (None, None, "suspect.many"), "suspect.many_reps"),
    ("policy out of bounds", "[suspect]\nmany_reps = 1", (None, None, "suspect.many_reps"), "31"),
    ("policy is a list", "[suspect]\nmany_reps = [1]", (None, None, "suspect.many_reps"), ""),
    ("policy is a date", "[suspect]\nmany_reps = 2027-01-04", (None, None, "suspect.many_reps"),
     ""),
]  # fmt: skip

CASES = [
    *[("lifter.toml", *case) for case in TOML_CASES],
    *[("log.csv", *case) for case in CSV_CASES],
    *[("block.json", *case) for case in JSON_CASES],
    *[("coach.toml", *case) for case in POLICY_CASES],
]


def test_the_table_is_long_enough() -> None:
    assert len(CASES) >= 60


@pytest.mark.parametrize(
    ("name", "case", "content", "place", "words"), CASES, ids=[f"{c[0]}: {c[1]}" for c in CASES]
)
def test_a_broken_file_names_place_and_mend(
    name: str,
    case: str,
    content: str | bytes,
    place: Place,
    words: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    file = tmp_path / name
    file.write_bytes(content.encode() if isinstance(content, str) else content)

    assert exit_code(["check", str(file), "--json"]) == 2

    out = capsys.readouterr()
    assert "Traceback" not in out.out + out.err
    assert "our fault" not in out.err
    errors = json.loads(out.out)["files"][0]["errors"]
    row, column, key = place
    at_place = [
        error
        for error in errors
        if (row is None or error["row"] == row)
        and (column is None or error["column"] == column)
        and (key is None or error["key"] == key)
    ]
    assert at_place, f"{case}: nothing at {place} in {errors}"
    assert any(words in f"{error['says']}; {error['mend']}" for error in at_place), at_place
    assert all(error["mend"] for error in errors), "an error without a mend"


def test_files_that_cannot_be_opened(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "folder.csv"
    folder.mkdir()
    workbook = tmp_path / "log.xlsx"
    workbook.write_bytes(b"PK\x03\x04")
    unnamed = tmp_path / "log"
    unnamed.write_text(SETS)

    assert exit_code(["check", str(tmp_path / "none.toml"), str(folder), str(workbook),
                      str(unnamed), "--json"]) == 2  # fmt: skip

    files = json.loads(capsys.readouterr().out)["files"]
    said = [file["errors"][0]["says"] + file["errors"][0]["mend"] for file in files]
    assert "no such file" in said[0]
    assert "folder" in said[1]
    assert "blockwright import" in said[2]
    assert ".toml" in said[3]
    assert {file["kind"] for file in files} == {"unknown"}


def test_every_problem_of_a_file_is_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(sets_row(load="-1", reps="x", rir="12", pain="99", when="03/04/2027"))
    assert exit_code(["check", str(file), "--json"]) == 2
    errors = json.loads(capsys.readouterr().out)["files"][0]["errors"]
    assert {error["column"] for error in errors} == {"when", "load", "reps", "rir", "pain"}
    lifter = tmp_path / "lifter.toml"
    lifter.write_text('nme = "A"\nweeks = 12\nstart = 2027-01-05\n[emphasis]\nquads = "x"\n')
    assert exit_code(["check", str(lifter), "--json"]) == 2
    keys = {e["key"] for e in json.loads(capsys.readouterr().out)["files"][0]["errors"]}
    assert keys == {"name", "nme", "weeks", "start", "emphasis.quads"}
