"""What a column or a row is, told by its values: set numbers or counts, people, loads alone."""

from pathlib import Path

import pytest

from blockwright.engine.errors import BadInput
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.draft import Draft, Wishes, draft_of

NUMBERED = """Fecha;Ejercicio;Serie;Peso (kg);Reps
18/01/2027;Sentadilla;1;100;5
18/01/2027;Sentadilla;2;100;4
18/01/2027;Press banca;1;70;8
18/01/2027;Press banca;2;70;7"""
COUNTED = """Date,Lift,Set,Reps,kg
18/01/2027,Squat,3,5,100
18/01/2027,Bench press,3,8,70"""
PARTS_BELOW = """Exercise,,18/01/2027,25/01/2027
Squat,kg,100,102.5
,reps,5,4
Bench press,kg,70,72.5
,reps,8,7"""
PARTS_BELOW_WITH_THEIR_LIFT = """What,Mon 18 Jan 2027,Wed 20 Jan 2027
Squat (kg),100,102.5
Squat (reps),5,4
Bench press kg,70,
Bench press reps,8,"""
A_SESSION_IN_A_CELL = """Date,What I did
18/01/2027,"Squat 100x5, 100x4
Bench press 60x8
felt good"
20/01/2027,"Row 50x10
Deadlift 140x3\""""
A_LIFT_UNKNOWN_BESIDE_ONE = """Date,Squat,Mystery lift
18/01/2027,100x5,60x8"""
A_DAY_OF_TWO = """Name,Date,Main lift,Top set,RPE / top set,Back-off,Accessory,Sets: reps (RPE)
Ana,18/01/2027,Squat,100x5,8,2x6 @ 90,Leg press 120kg,"12 (7), 10 (9)\""""
PEOPLE_OF_WHOM_ONE_IS_OFTEN_AWAY = """18/01/2027,,
,Nat,Ollie
Squat,60x8,100x5
Row,40x8,away
Bench press,40x8,sick
,Nat,Ollie
Squat,60x8,no (sick)"""
DONE_WITHOUT_LOAD_BESIDE_A_PLAN = """Date,Exercise,Planned,Actual
18/01/2027,Squat,2x5 @ 80,2x5 @ 80
,Nordic curl,2x5,2x4
,DB bench press,2x10,2x20"""
REPS_ALONE_IN_A_DIARY = """18/01/2027
Squat 100x5
"Chins 6, 5\""""
SESSIONS_OF_A_PHONE = """created,text
2027-01-18 18:22,"squat 100 5/5. leg ext 2x12 45"
2027-01-20 09:10,"bench 60 8/7, row 50 10/10/10\""""
LIFTS_IN_CELLS_OF_A_DAY = """Date,1st lift,2nd lift
Jan 18/27,Squat 100x5x2,Leg press 150x10
Jan 20/27,Bench 60x8,Row 50x10"""
MUSCLES_OVER_LIFTS = """18/01/2027
Glutes/hams,Target,Set 1,Set 2,RIR
RDL,8-10,60x10,60x9,2
Leg curl,12,25x12,,"""
UNITS_OF_EACH_ROW = """Date,Lift,WT,U,R1,R2
18/01/2027,Squat,100,kg,5,5
18/01/2027,Leg press,200,lb,10,"""
LOADS_ALONE = """Date,Squat 2x5,Bench press 2x8
18/01/2027,100,62.5"""
PEOPLE = """,,Ana,Bo
18/01/2027,Squat,60x8,100x5
18/01/2027,Bench press,40x8,80x6"""
PEOPLE_BESIDE_HEADINGS = """Date,Exercise,Ana,Max
18/01/2027,Squat,60x8,100x5
25/01/2027,Bench press,40x8,80x6"""
PEOPLE_DOWN = """18/01/2027,,
,Squat,Bench press
Ana,60x8,40x8
Mia,100x5,80x6
,,
25/01/2027,,
,Squat,Bench press
Ana,62.5x8,40x9"""
SCHEMES_BELOW = """,Squat,Chin-up
,2x5,2x6
18/01/2027,100,5
25/01/2027,105,7.5"""
UNNUMBERED = """Date,Exercise,kg,reps,kg,reps
18/01/2027,Squat,80,8,90,6
18/01/2027,Row,50,10"""
PARTS_BELOW_TWICE = """Exercise,,18/01/2027
Squat,kg,100
,reps,5

Exercise,,25/01/2027
Squat,kg,105
,reps,4"""
PEOPLE_OVER_PARTS = """,,Mia,,Bo,
,,kg,reps,kg,reps
18/01/2027,Squat,50,8,110,5
,Row,30,10,70,9"""

PEOPLE_OVER_BLOCKS = """Evening group w/c 18/01/2027

Mia
Squat,60x8
Bench press,40x8

Bo
Squat,100x5
Bench press,80x6"""
PEOPLE_OVER_TABLES = """18/01/2027,,
Mia
Exercise,kg,Reps
Squat,60,8
Bo
Exercise,kg,Reps
Squat,100,5"""
PEOPLE_WITHIN_A_TABLE = """Date,Exercise,Set 1,Set 2
MIA,,,
18/01/2027,Squat,60x8,60x7
BEN,,,
18/01/2027,Squat,100x5,100x4"""
PEOPLE_LEFT_OF_LIFTS = """,Exercise,kg,Reps
18/01/2027,,,
Mia,Squat,60,8
,Row,30,10
Bo,Squat,100,5"""
DAYS_OF_A_SPLIT = """18/01/2027
Alpha
Squat,60x8
20/01/2027
Beta
Bench press,80x6"""
SCHEMES_OVER_SET_NUMBERS = """Date,Squat,,Bench press,
,2x5,,2x8,
,1,2,1,2
18/01/2027,100,102.5,60,62.5"""
REPS_OVER_LOADS = """Date,Squat,,Bench press,
,5,3,5,3
18/01/2027,100,110,60,67.5"""
WARM_UPS_OF_THEIR_OWN = """Date,Lift,Warm-up,,Set 1,
,,kg,reps,kg,reps
18/01/2027,Squat,60,5,100,5"""
SETS_OF_TWO_NAMES = """Date,Lift,Warm-up,,Top set,,Back-off,
,,kg,reps,kg,reps,kg,reps
18/01/2027,Squat,60,5,100,3,90,5"""
WORDS_AROUND_HEADINGS = """Exercise,Weight,Reps per set,RIR last set
Monday 18 January 2027 - Session A
Squat,100,"5, 5",2"""
DAYS_WITHIN_DATED_WEEKS = """,week of 18/01/2027,,week of 25/01/2027,
Exercise,kg,reps,kg,reps
THURSDAY
Squat,100,5-5,105,5-4"""
EVERY_AT_IS_A_LOAD = """18/01/2027
Squat,2x5 @ 100
Goblet squat,2x10 @ 10
Row,2x8 @ 40"""
WEEK_BESIDE_ITS_START = """week 1,start 18/01/2027,
,Mon,Thu
Squat,3 x 6 x 80,85x5
Bench press,50 kg 3x8,60x5
week 2,start 25/01/2027,
,Mon,Thu
Squat,,90x5"""
BODYWEIGHT_IN_GERMAN = """Datum;Uebung;Satz 1;Satz 2;RIR letzter Satz
18/01/2027;Kniebeuge;70 x 5;72,5 x 5;2
;Klimmzuege;KG x 8;KG x 7;"""
UNKNOWN_AMONG_LIFTS = """18/01/2027,Squat,100x5
,Wobble board twist,20x8
,Row,60x8"""

SETS_BY_BARE_NUMBERS = """,,18/01/2027,,,,20/01/2027,,,
Exercise,Target,kg,1,2,RIR,kg,1,2,RIR
Squat,2x5,100,5,4,1,,,,
Row,2x8,,,,,60,8,7,0"""
A_LEGEND_OF_THE_PLAN = """Soll: Sätze x Wdh. (kg). Ist: kg x Wdh.
Datum,Übung,Soll,Satz 1,Satz 2
18/01/2027,Kniebeuge,3 x 5 (100),100 x 5,100 x 4
,Klimmzüge,2 x 5 (ohne),0 x 6,0 x 5"""
LOADS_OVER_REPS_OF_TWO = """kg/reps of each set. (brackets) = warm up
Date,Exercise,ANA,MIA
18/01/2027,Squat,(20/10) 40/8 40/7,80/5
,Pull ups,-20/6 -20/5,BW/8 BW/7
20/01/2027,Pull ups,,+5/5 +5/4"""
REPS_BEFORE_THE_LOAD = """reps x kg
,18/01/2027,20/01/2027
Squat warm up,10 x 15,10 x 20
Squat,"10,8 x 30","8,5 x 35"
Press ups,"8,7 x bodyweight","""
FORMULAS_BESIDE = """Start,Exercise,m [kg],n [-],V = m*n [kg],V cum. [kg]
2027-01-18 18:05,Squat,100,5,500,500
2027-01-18 18:05,Bench press,70,8,560,1060"""
EFFORT_OF_TWO_ROWS = """Date,Lift,Set 1,,Set 2,,RIR,Volume
,,kg,reps,kg,reps,last set,"work sets, kg"
18/01/2027,Squat,100,5,100,4,2,900"""
EFFORTS_IN_BRACKETS = """Date,Exercise,Planned,DBs used (kg per hand),Done: reps (RIR)
18/01/2027,DB Floor Press,3x10 with 18s,18,"10 (3), 9 (1)"
,Push-up,2x max,BW,20 (0)
,DB Curl,2x12 with 10s,,-"""
BRACKETS_OF_A_LEGEND = """Number in brackets = RPE
Date,Exercise,kg,Done
18/01/2027,Squat,100,"5 (8), 5 (9)\""""
BRACKETS_BEHIND_SETS = """Weight x reps, reps in reserve in brackets
Date,Exercise,Set 1,Set 2
18/01/2027,Squat,100x5 (3),100x5 (2)"""
BRACKETS_OF_EACH_SET = """Date,Exercise,kg,Set 1: reps (RIR),Set 2: reps (RIR)
18/01/2027,Squat,100,5 (3),5 (2)"""
BODY_OVER_REPS = """Date,Squat,Pull-ups (body weight)
18/01/2027,"100x5,5","6,5"
20/01/2027,,"7,5\""""
PLATES_OF_EACH_SIDE = """Plates on each side; the bar is 20 kg
Date,Lift,Weight,Sets,Reps
18/01/2027,Squat,20,2,5
18/01/2027,DB row,22,1,8
18/01/2027,Leg press,80,1,10"""
PLATES_OF_A_BAR_NOT_TOLD = """Date,Lift,Per side (kg),Sets,Reps
18/01/2027,Squat,20,2,5
18/01/2027,DB row,22,1,8"""
SETS_NUMBERED_BELOW_A_DAY = """"January 2027, kg, singles unless written"
Mon 18 Jan
Lift,1,2,3
Snatch,50x2,65,70
Front squat,80x3,90x2,"""
OF_WHICH_SETS = """Date,Lift,Load,Sets,Reps
18/01/2027,Bench top set,90,1,3
,Back-off squat,80,1,5
,Squat (top single),120,1,1"""
LIFTS_BELOW_A_TITLE = """Spring 2027 (kg),Mon 18 Jan,Wed 20 Jan
Squat,100x5,
Bench,,60x8"""
WORDS_BEFORE_A_LIFT = """18/01/2027
"legs today. squat 100x5, 110x3"
next week. squat 105x5
"1-arm DB row 26 x 12 each side, 2 sets"
"Tues 19 Jan. Bench 2x5 @ 60, last one slow. Then RDLs, 80 for 2 sets of 8. Planned 85 next.\""""
WEEKS_IN_HEADINGS = """,Exercise,W1 weight,W1 reps,W1 RIR,W2 weight,W2 reps,W2 RIR
18/01/2027,,,,,,,
Chest,Bench press,60,8 7,3,62.5,8 6,2"""
LIFTS_BELOW_A_DAY = """Start:,18/01/2027,
DAY 1,Week 1,Week 2
Squat 2x6,50,52.5"""
REPETITIONS_BY_SETS = """Date,Lift,Weight,Reps x Sets
18/01/2027,Squat,100,5x3"""
BARE_NUMBERS_BESIDE_SETS = """18/01/2027,,,
Squat,5 @ 60,2x5 @ 100,
Chin-up,8,7,6
Row,60,8,8
Dips: bw - 9/8,,,"""
LOAD_OF_THE_PLAN = """,18/01/2027,
,Plan,Done
Squat,3x8 @ 70,"8,8,7"
"""
SEVERAL_LIFTS_IN_A_LINE = """
"Jan 18 '27 - swings 2x10 @24kg, goblets 2x8 @ 16kg"
"""
EFFORT_IN_A_REMARK = """Date,Lift,Weight,Sets x reps,Remarks
18/01/2027,Squat,100,2 x 5,"RPE 8, back fine"
,Press-ups,none,2 x 20,"""

WEEKS_IN_A_UNIT = """Start date,18/01/2027,
Exercise,Week 1 (kg),Week 2 (kg)
Squat,"80x8,7",82.5x8"""
COLUMNS_BY_THEIR_INITIALS = """Ex,S,R,W
18/01/2027,,,
Squat,2,5,100
Row,2,8,60
Bench press,2,8,70"""
A_PLAN_IN_EACH_OF_TWO_TABLES = """Date,Main lift,Set 1,Set 2,Assistance,Done
18/01/2027,Squat,75x5,85x5,Leg curl,2x12 @ 35"""
REPS_RIGHT_OF_LOADS_BY_DATE = """Exercise,18-Jan-27,reps got,25-Jan-27,reps got
Squat,80,"10,9",82.5,"9,9"
Row,45,"10,10",47.5,"9,8\""""
BACK_OFFS_IN_PARTS = """Date,Lift,Top set,Top RPE,Back-off load,Back-off reps
18/01/2027,Squat,1x5 @ 120,8,105,"5,4\""""
A_SETTING_BESIDE_THE_LOAD = """Date,Machine,Pin,Weight,Set 1,Set 2
18/01/2027,Chest press,3,40,10,9"""
RESERVE_BEHIND_A_LIST = """Exercise,18/01/2027,25/01/2027
Squat,60: 10/9 (2),62.5: 8/8 (1)"""
RPE_BEHIND_A_LIST = """Exercise,RPE,18/01/2027,25/01/2027
Squat,8,60: 10/9 (8),62.5: 8/8 (9)"""


@pytest.mark.parametrize(
    ("sheet", "sets"),
    [
        (NUMBERED, ["100x5", "100x4", "70x8", "70x7"]),
        (
            "\n".join(
                [NUMBERED, "Fecha;Ejercicio;Serie;Peso (kg);Reps", *NUMBERED.split("\n")[1:]]
            ),
            ["100x5", "100x4", "70x8", "70x7"] * 2,
        ),
        (COUNTED, ["100x5"] * 3 + ["70x8"] * 3),
        (PARTS_BELOW, ["100x5", "70x8", "102.5x4", "72.5x7"]),
        (PARTS_BELOW_WITH_THEIR_LIFT, ["100x5", "70x8", "102.5x4"]),
        (A_SESSION_IN_A_CELL, ["100x5", "100x4", "60x8", "50x10", "140x3"]),
        (A_LIFT_UNKNOWN_BESIDE_ONE, ["100x5", "60x8"]),
        (A_DAY_OF_TWO, ["Ana 100x5", "Ana 90x6", "Ana 90x6", "Ana 120x12", "Ana 120x10"]),
        (
            PEOPLE_OF_WHOM_ONE_IS_OFTEN_AWAY,
            ["Nat 60x8", "Ollie 100x5", "Nat 40x8", "Nat 40x8", "Nat 60x8"],
        ),
        (DONE_WITHOUT_LOAD_BESIDE_A_PLAN, ["80x5", "80x5", "0x4", "0x4", "20x10", "20x10"]),
        (REPS_ALONE_IN_A_DIARY, ["100x5", "0x6", "0x5"]),
        (
            SESSIONS_OF_A_PHONE,
            ["100x5", "100x5", "45x12", "45x12", "60x8", "60x7", "50x10", "50x10", "50x10"],
        ),
        (LIFTS_IN_CELLS_OF_A_DAY, ["100x5", "100x5", "150x10", "60x8", "50x10"]),
        (MUSCLES_OVER_LIFTS, ["60x10", "60x9", "25x12"]),
        (LOADS_ALONE, ["100x5", "100x5", "62.5x8", "62.5x8"]),
        (PEOPLE, ["Ana 60x8", "Bo 100x5", "Ana 40x8", "Bo 80x6"]),
        (PEOPLE_BESIDE_HEADINGS, ["Ana 60x8", "Max 100x5", "Ana 40x8", "Max 80x6"]),
        (PEOPLE_DOWN, ["Ana 60x8", "Ana 40x8", "Mia 100x5", "Mia 80x6", "Ana 62.5x8", "Ana 40x9"]),
        (SCHEMES_BELOW, ["100x5"] * 2 + ["5x6"] * 2 + ["105x5"] * 2 + ["7.5x6"] * 2),
        (UNNUMBERED, ["80x8", "90x6", "50x10"]),
        (PARTS_BELOW_TWICE, ["100x5", "105x4"]),
        (PEOPLE_OVER_PARTS, ["Mia 50x8", "Bo 110x5", "Mia 30x10", "Bo 70x9"]),
        (PEOPLE_OVER_BLOCKS, ["Mia 60x8", "Mia 40x8", "Bo 100x5", "Bo 80x6"]),
        (PEOPLE_OVER_TABLES, ["Mia 60x8", "Bo 100x5"]),
        (PEOPLE_WITHIN_A_TABLE, ["Mia 60x8", "Mia 60x7", "Ben 100x5", "Ben 100x4"]),
        (PEOPLE_LEFT_OF_LIFTS, ["Mia 60x8", "Mia 30x10", "Bo 100x5"]),
        (DAYS_OF_A_SPLIT, ["60x8", "80x6"]),
        (SCHEMES_OVER_SET_NUMBERS, ["100x5", "102.5x5", "60x8", "62.5x8"]),
        (REPS_OVER_LOADS, ["100x5", "110x3", "60x5", "67.5x3"]),
        (WARM_UPS_OF_THEIR_OWN, ["60x5", "100x5"]),
        (SETS_OF_TWO_NAMES, ["60x5", "100x3", "90x5"]),
        (WORDS_AROUND_HEADINGS, ["100x5", "100x5"]),
        (DAYS_WITHIN_DATED_WEEKS, ["100x5", "100x5", "105x5", "105x4"]),
        (EVERY_AT_IS_A_LOAD, ["100x5"] * 2 + ["10x10"] * 2 + ["40x8"] * 2),
        (WEEK_BESIDE_ITS_START, ["80x6"] * 3 + ["50x8"] * 3 + ["85x5", "60x5", "90x5"]),
        (BODYWEIGHT_IN_GERMAN, ["70x5", "72.5x5", "0x8", "0x7"]),
        (UNKNOWN_AMONG_LIFTS, ["100x5", "20x8", "60x8"]),
        (SETS_BY_BARE_NUMBERS, ["100x5", "100x4", "60x8", "60x7"]),
        (A_LEGEND_OF_THE_PLAN, ["100x5", "100x4", "0x6", "0x5"]),
        (
            LOADS_OVER_REPS_OF_TWO,
            [
                *("Ana 20x10", "Ana 40x8", "Ana 40x7", "Mia 80x5", "Ana 20x6", "Ana 20x5"),
                *("Mia 0x8", "Mia 0x7", "Mia 5x5", "Mia 5x4"),
            ],
        ),
        (REPS_BEFORE_THE_LOAD, ["15x10", "30x10", "30x8", "0x8", "0x7", "20x10", "35x8", "35x5"]),
        (FORMULAS_BESIDE, ["100x5", "70x8"]),
        (EFFORT_IN_A_REMARK, ["100x5", "100x5", "0x20", "0x20"]),
        (EFFORT_OF_TWO_ROWS, ["100x5", "100x4"]),
        (EFFORTS_IN_BRACKETS, ["18x10", "18x9", "0x20"]),
        (PLATES_OF_EACH_SIDE, ["60x5", "60x5", "22x8"]),
        (PLATES_OF_A_BAR_NOT_TOLD, ["22x8"]),
        (SETS_NUMBERED_BELOW_A_DAY, ["50x2", "65x1", "70x1", "80x3", "90x2"]),
        (OF_WHICH_SETS, ["90x3", "80x5", "120x1"]),
        (LIFTS_BELOW_A_TITLE, ["100x5", "60x8"]),
        (
            WORDS_BEFORE_A_LIFT,
            ["100x5", "110x3", "26x12", "26x12", *["60x5"] * 2, *["80x8"] * 2],
        ),
        (WEEKS_IN_HEADINGS, ["60x8", "60x7", "62.5x8", "62.5x6"]),
        (LIFTS_BELOW_A_DAY, ["50x6", "50x6", "52.5x6", "52.5x6"]),
        (REPETITIONS_BY_SETS, ["100x5"] * 3),
        (
            BARE_NUMBERS_BESIDE_SETS,
            ["60x5", "100x5", "100x5", "0x8", "0x7", "0x6", "60x8", "60x8", "0x9", "0x8"],
        ),
        (LOAD_OF_THE_PLAN, ["70x8", "70x8", "70x7"]),
        (SEVERAL_LIFTS_IN_A_LINE, ["24x10", "24x10", "16x8", "16x8"]),
        (WEEKS_IN_A_UNIT, ["80x8", "80x7", "82.5x8"]),
        (COLUMNS_BY_THEIR_INITIALS, ["100x5"] * 2 + ["60x8"] * 2 + ["70x8"] * 2),
        (A_PLAN_IN_EACH_OF_TWO_TABLES, ["75x5", "85x5", "35x12", "35x12"]),
        (
            REPS_RIGHT_OF_LOADS_BY_DATE,
            ["80x10", "80x9", "45x10", "45x10", "82.5x9", "82.5x9", "47.5x9", "47.5x8"],
        ),
        (BACK_OFFS_IN_PARTS, ["120x5", "105x5", "105x4"]),
        (A_SETTING_BESIDE_THE_LOAD, ["40x10", "40x9"]),
        (BODY_OVER_REPS, ["100x5", "100x5", "0x6", "0x5", "0x7", "0x5"]),
    ],
)
def test_the_values_tell_what_the_headings_do_not(
    sheet: str, sets: list[str], tmp_path: Path
) -> None:
    assert _sets(_draft(sheet, tmp_path)) == sets


@pytest.mark.parametrize(
    ("sheet", "efforts"),
    [
        (SETS_BY_BARE_NUMBERS, [None, 1, None, 0]),
        (WEEKS_IN_HEADINGS, [None, 3, None, 2]),
        (EFFORT_IN_A_REMARK, [None, 2, None, None]),
        ('Date,Lift,kg,Reps,RPE end\n18/01/2027,Squat,100,"5, 4",9', [None, 1]),
        ('Date,Lift,kg,Reps,RIR at end\n18/01/2027,Squat,100,"5, 4",1', [None, 1]),
        ('Date,Lift,kg,Reps,RPE última\n18/01/2027,Squat,100,"5, 4",9', [None, 1]),
        (EFFORT_OF_TWO_ROWS, [None, 2]),
        (EFFORTS_IN_BRACKETS, [3, 1, 0]),
        (BRACKETS_OF_A_LEGEND, [2, 1]),
        (BRACKETS_BEHIND_SETS, [3, 2]),
        (BRACKETS_OF_EACH_SET, [3, 2]),
        (BACK_OFFS_IN_PARTS, [2, None, None]),
        (RESERVE_BEHIND_A_LIST, [None, 2, None, 1]),
        (RPE_BEHIND_A_LIST, [None, 2, None, 1]),
    ],
)
def test_one_effort_is_of_the_last_set(
    sheet: str, efforts: list[int | None], tmp_path: Path
) -> None:
    assert [done.rir_low for done in _draft(sheet, tmp_path).sets] == efforts


TWO_OF_A_CELLAR = """
Date,Who,Lift,Weight,Reps
18/01/2027,Ada,Squat,100,5
18/01/2027,Ben,Squat,100,5"""
SIDE_BY_SIDE = """Mon 4 January 2027,,,,Thu 7 January 2027,,
Upper,plan,done,,Lower,plan,done
Bench,1x6 80,80x5,,Squat,2x6 110,"110x6,5"
Row,1x8 60,60x8,,RDL,1x8 95,95x8"""
MONTH_ABOVE = """JANUARY 2027 - all kg
Mon 4,Push
Bench,80x5
Thu 7,Pull
Row,60x8
Mon 1,Push
Bench,82.5x5"""
BLOCKS_OF_DAYS = """Mon 4 January 2027,,,,Thu 7 January 2027,
,sets,,,,sets
Bench,60x8,,,Sqaut,100x5
,62.5x6,2 left,,,105x5
Row,50x8,,,Our own thing,40x9"""
WEEKDAYS_THAT_RUN_ON = """Day,Lift,Load,s1,s2
Mon 18 Jan 2027,Squat,100,5,5
Wed,Block pull,140,3,
Mon,Squat,105,5,"""
WEEKDAYS_OF_WEEKS = """Block start (Monday of week 1):,18/01/2027,
When,Exercise,Done
Week 1 Tue,Squat,100x5
Week 1 Thu,Bench,60x8
Week 2 Tue,Squat,105x5"""
WEEKDAYS_OVER_LIFTS = """Week,Mon,,Wed,
,Squat,Bench,Deadlift,Press
18/01/2027,100x5,60x8,140x5,40x6
25/01/2027,105x5,,145x5,"""
DAYS_OVER_TWO_TABLES = """UPPER,18/01/2027,,LOWER,19/01/2027,
Lift,kg,reps,Lift,kg,reps
Bench,60,5,Squat,100,5
UPPER,25/01/2027,,LOWER,26/01/2027,
Lift,kg,reps,Lift,kg,reps
Bench,65,5,Squat,105,5"""
SETS_BELOW_A_LINE = """Mon 18 Jan 2027,,
Squat w/u 60x5 80x3,,
"100x5, 100x4",,
Snatch,40x3,50x2
Row,50x8,
Bench 60x8,,
Wobble thing,,
30x8,,"""
EFFORT_WITH_COMMA = """Datum;Übung;Sätze;RPE
18.01.2027;Squat;2x5 @ 100;8,5
Summe;;20;"""


@pytest.mark.parametrize(
    ("sheet", "sets"),
    [
        (
            SIDE_BY_SIDE,
            "04 bench press 80x5; 04 barbell row 60x8; 07 barbell back squat 110x6; "
            "07 barbell back squat 110x5; 07 romanian deadlift 95x8",
        ),
        (MONTH_ABOVE, "04 bench press 80x5; 07 barbell row 60x8; 01 bench press 82.5x5"),
        (
            BLOCKS_OF_DAYS,
            "04 bench press 60x8; 04 bench press 62.5x6 2.0; 04 barbell row 50x8; "
            "07 barbell back squat 100x5; 07 barbell back squat 105x5; 07 Our own thing 40x9",
        ),
        (
            WEEKDAYS_OF_WEEKS,
            "19 barbell back squat 100x5; 21 bench press 60x8; 26 barbell back squat 105x5",
        ),
        (MONTH_ABOVE.split("\n", 1)[1], ""),
        (
            WEEKDAYS_OVER_LIFTS,
            "18 barbell back squat 100x5; 18 bench press 60x8; 20 deadlift 140x5; "
            "20 overhead press 40x6; 25 barbell back squat 105x5; 27 deadlift 145x5",
        ),
        (
            DAYS_OVER_TWO_TABLES,
            "18 bench press 60x5; 19 barbell back squat 100x5; 25 bench press 65x5; "
            "26 barbell back squat 105x5",
        ),
        (
            WEEKDAYS_THAT_RUN_ON,
            "18 barbell back squat 100x5; 18 barbell back squat 100x5; 20 rack pull 140x3; "
            "25 barbell back squat 105x5",
        ),
        (
            SETS_BELOW_A_LINE,
            "18 barbell back squat 60x5; 18 barbell back squat 80x3; 18 barbell back squat 100x5; "
            "18 barbell back squat 100x4; 18 Snatch 40x3; 18 Snatch 50x2; 18 barbell row 50x8; "
            "18 bench press 60x8",
        ),
        (EFFORT_WITH_COMMA, "18 barbell back squat 100x5; 18 barbell back squat 100x5 1.5"),
    ],
)
def test_each_set_has_its_own_lift_and_day(sheet: str, sets: str, tmp_path: Path) -> None:
    try:
        told = _draft(sheet, tmp_path).sets
    except BadInput:
        told = ()
    read = [
        f"{d.moment.day:%d} {d.lift} {d.entered_load}x{d.reps[0]} {d.rir_low or ''}".strip()
        for d in told
    ]
    assert sorted(read) == sorted(filter(None, sets.split("; ")))


def test_a_lift_of_no_day_is_not_asked_about(tmp_path: Path) -> None:
    (tmp_path / "paid.csv").write_text("Lift,kg,Reps\nHank,32,2", "utf-8")
    (tmp_path / "log.csv").write_text("Date,Lift,kg,Reps\n18/01/2027,Squat,100,5", "utf-8")

    draft = draft_of([tmp_path / "log.csv", tmp_path / "paid.csv"], builtin_catalogue(), Wishes())

    assert not draft.questions
    assert [skipped.why for skipped in draft.skipped] == ["no day stands beside it"]


def test_a_name_that_two_lifts_share_is_asked_about(tmp_path: Path) -> None:
    draft = _draft("Date,Exercise,kg,reps\n2027-01-04,Seated rows,50,10", tmp_path)

    asked = [(question.about, question.choices) for question in draft.questions]
    lifts = ("seated row", "seated cable row", "keep it as a lift of its own")
    assert asked == [("Seated rows", lifts)]


def test_a_bar_behind_a_name_is_the_barbell(tmp_path: Path) -> None:
    sheet = "Date,Exercise,kg,reps\n2027-01-04,Row (bar),50,10\n2027-01-04,Dip bar row,0,9"
    done = _draft(sheet, tmp_path).sets
    assert [one.lift for one in done] == ["barbell row", "dip bar row"]


@pytest.mark.parametrize(
    ("sheet", "mend"),
    [
        ("Name,Squat,Row\nAda,50x5,40x8\nBen,60x5,40x8", "write the day"),
        ("Date,Squat,Row\n18/01/2027,60,40\n20/01/2027,70,50", "write sets and repetitions"),
    ],
)
def test_a_file_of_which_no_set_is_usable_is_told_how_to_mend(
    sheet: str, mend: str, tmp_path: Path
) -> None:
    with pytest.raises(BadInput, match=mend):
        _draft(sheet, tmp_path)


def test_a_week_beside_its_start_dates_the_days_below(tmp_path: Path) -> None:
    days = [done.moment.day.isoformat() for done in _draft(WEEK_BESIDE_ITS_START, tmp_path).sets]
    assert days == ["2027-01-18"] * 6 + ["2027-01-21"] * 2 + ["2027-01-28"]


def test_words_over_columns_of_sets_are_people_only_if_the_coach_says_so(tmp_path: Path) -> None:
    sheet = PEOPLE.replace("Ana", "Blue").replace("Bo", "Red")
    asked = {question.id: question.choices for question in _draft(sheet, tmp_path).questions}
    assert asked["people"] == ("yes", "no")

    assert {s.lifter for s in _draft(sheet, tmp_path, people="no").sets} <= {None, ""}

    sheet = PEOPLE.replace("Ana", "Left").replace("Bo", "Right")
    assert {s.lifter for s in _draft(sheet, tmp_path).sets} <= {None, ""}


@pytest.mark.parametrize(
    ("tabs", "second_day", "people", "asked"),
    [
        (("Grid", "Ramp"), "20/01/2027", set(), False),
        (("Oda", "Pim"), "20/01/2027", {"Oda", "Pim"}, True),
        (("Oda", "Pim"), "18/01/2027", {"Oda", "Pim"}, False),
    ],
)
def test_tabs_are_of_people_where_two_do_one_lift_on_one_day_else_it_is_asked(
    tabs: tuple[str, str], second_day: str, people: set[str], asked: bool, tmp_path: Path
) -> None:
    files = [tmp_path / f"club - {tab}.csv" for tab in tabs]
    for file, day in zip(files, ("18/01/2027", second_day), strict=True):
        file.write_text(f"Date,Lift,kg,Reps\n{day},Squat,100,5", "utf-8")

    draft = draft_of(files, builtin_catalogue(), Wishes())

    assert {done.lifter for done in draft.sets} - {None, ""} == people
    assert ("people" in {question.id for question in draft.questions}) == asked


def test_loads_that_may_be_repetitions_are_not_taken(tmp_path: Path) -> None:
    with pytest.raises(BadInput):
        _draft("Date,Squat 2x5,Bench press 2x8\n18/01/2027,5,8", tmp_path)


def _draft(sheet: str, folder: Path, **answers: str) -> Draft:
    path = folder / "log.csv"
    path.write_text(sheet, encoding="utf-8")
    return draft_of([path], builtin_catalogue(), Wishes(answers=answers))


def _sets(draft: Draft) -> list[str]:
    return [
        f"{done.lifter or ''} {done.entered_load}x{done.reps[0]}".strip() for done in draft.sets
    ]


def test_a_raised_digit_is_no_number(tmp_path: Path) -> None:
    sheet = "Date,Lift,Serie,kg,Reps\n18/01/2027,Squat,¹,100,5\n18/01/2027,Squat,²,100,5\n¹,²,³,,"

    assert _sets(_draft(sheet, tmp_path)) == ["100x5"] * 2


def test_less_than_the_body_in_a_line_is_help(tmp_path: Path) -> None:
    draft = _draft("18/01/2027\nPull-ups -15kg 2x6\nSquat -80x5", tmp_path)

    assert [done.lift for done in draft.sets] == [*["assisted pull-up"] * 2, "barbell back squat"]


@pytest.mark.parametrize(
    ("sheet", "units"),
    [
        (UNITS_OF_EACH_ROW, ["kg", "kg", "lb"]),
        ("Ada writes pounds, Ben still thinks in kilos" + TWO_OF_A_CELLAR, ["lb", "kg"]),
        ("kg: Ada. Pounds: Ben" + TWO_OF_A_CELLAR, ["kg", "lb"]),
    ],
)
def test_a_row_may_have_its_own_unit(sheet: str, units: list[str], tmp_path: Path) -> None:
    draft = _draft(sheet, tmp_path)

    assert [done.entered_unit for done in draft.sets] == units
    assert not draft.questions


def test_sets_where_a_lift_should_stand_name_none(tmp_path: Path) -> None:
    sheet = """Date,Lift,kg,Reps
18/01/2027,Squat,100,5
18/01/2027,"bar x10, 40x8",70,4"""
    draft = _draft(sheet, tmp_path)

    assert _sets(draft) == ["100x5"]
    # The lift that names none is listed too, beside the load that it left without a lift.
    assert [skipped.place for skipped in draft.skipped] == ["log.csv, C3", "log.csv, B3"]


WARMUPS = {
    "in brackets": """all kg,(brackets) = warm up
Date,Lift,Weight,Reps
04/01/2027,Squat,(40),(10)
,Squat,80,5
""",
    "by a letter behind": """all kg (w = warm up)
04/01/2027,
Squat,40 x 10 w
Squat,80x5
""",
    "in a note of their own": """Date,Lift,Top set,Back-offs (sets x reps),Note
04/01/2027,Squat,100x3,-,wu: 40x5 60x3
,Bench press,-,50 2x5,
""",
    "in a column of their own": """everything in kg,,,
Mon 4/1/2027,warm up,work,cold in here
squat,"20x10, 60x5, 80x3",3x5 @ 100
bench,"20x10, 40x5","60x5,5,4"
""",
    "in a row of their own": """Lift,Mon 4 Jan 2027,Thu 7 Jan 2027
Warm-up,"squat 20x8, 30x5",bike
Squat,60x5,65x5
""",
    "by a mark under a strange heading": """Date,Lift,kg,Reps,Ew
04/01/2027,Squat,60,5,x
,Squat,100,5,
,Bench press,40,5,x
,Bench press,70,5,
""",
    "by a mark that others bear too": """Date,Lift,kg,Reps,Belt
04/01/2027,Squat,60,5,x
,Squat,100,5,x
,Bench press,40,5,x
,Bench press,70,5,
""",
    "in a note on a row of sets": """Date,Exercise,kg,Reps,Remarks
04/01/2027,Leg press,"50, 60, 60","12, 10, 9",first one only to warm up
18/01/2027,Leg press,60,"10, 9",
""",
}


@pytest.mark.parametrize(
    ("where", "loads"),
    [
        *zip(
            WARMUPS,
            ([40], [40], [40, 60], [20, 60, 80, 20, 40], [20, 30], [60, 40], [], [50]),
            strict=True,
        )
    ],
)
def test_warm_ups_are_known_by_what_stands_over_or_beside_them(
    where: str, loads: list[float], tmp_path: Path
) -> None:
    (tmp_path / "log.csv").write_text(WARMUPS[where], "utf-8")

    draft = draft_of([tmp_path / "log.csv"], builtin_catalogue(), Wishes())

    warm = [done.loads_kg[0] for done in draft.sets if done.method == "warmup"]
    assert warm == loads


def test_a_column_of_efforts_under_a_strange_heading_is_asked_about(tmp_path: Path) -> None:
    sheet = """Date,Lift,kg,Reps,Feel /10
18/01/2027,Squat,100,5,7
18/01/2027,Squat,100,5,8
18/01/2027,Squat,100,5,9"""
    (tmp_path / "log.csv").write_text(sheet, "utf-8")

    left, taken = (
        draft_of([tmp_path / "log.csv"], builtin_catalogue(), Wishes(answers=answers))
        for answers in ({}, {"heading-feel-10": "RPE"})
    )

    assert [question.id for question in left.questions] == ["heading-feel-10"]
    assert {done.rir_low for done in left.sets} == {None}
    assert [done.rir_low for done in taken.sets] == [3, 2, 1]


ODD = {
    "load and repetitions": "20/01/2027,Hip thrust,10,40",
    "far from the others of the lift": "20/01/2027,Squat,1025,5",
    "far from the others": "20/01/2072,Squat,100,5",
}


@pytest.mark.parametrize("why", ODD)
def test_a_set_unlike_the_rest_of_its_file_is_asked_about_and_left_out(
    why: str, tmp_path: Path
) -> None:
    days = "\n".join(f"{day}/01/2027,Squat,100,5" for day in range(14, 20))
    (tmp_path / "log.csv").write_text(f"Date,Lift,kg,Reps\n{days}\n{ODD[why]}\n", "utf-8")

    left, taken = (
        draft_of([tmp_path / "log.csv"], builtin_catalogue(), Wishes(answers=answers))
        for answers in ({}, {"doubtful": "take them"})
    )

    assert [question.id for question in left.questions] == ["doubtful"]
    assert (len(left.sets), len(left.entries), len(taken.sets)) == (6, 6, 7)
    assert why in left.skipped[-1].why


def test_a_lift_that_may_be_either_of_two_is_left_out_until_it_is_answered(tmp_path: Path) -> None:
    lifts = ("Curls", "Leg raises", "Flys")
    rows = "\n".join(f"18/01/2027,{lift},20 kg,8" for lift in lifts)
    (tmp_path / "log.csv").write_text(f"Date,Lift,Load,Reps\n{rows}\n", "utf-8")

    draft = draft_of([tmp_path / "log.csv"], builtin_catalogue(), Wishes())

    asked = {question.about for question in draft.questions}
    left = {one.text for one in draft.skipped if "was not asked" in one.why}
    assert len(asked) == 2
    assert asked | left == set(lifts)
