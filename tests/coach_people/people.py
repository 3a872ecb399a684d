"""The invented lifters. `rest` is more of the lifter file; `log` a usual week (`logs.py`)."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Person:
    key: str
    slots: str
    """Day, time and minutes: "mon 18:00 60, thu 18:00 60"."""
    gym: str
    emphasis: str = ""
    """"quads lead, chest hold"."""
    rest: str = ""
    experience: str = "intermediate"
    bodyweight: float = 80
    born: int = 1994
    units: str = "kg"
    weeks: int = 6
    log: str = ""
    log_weeks: int = 6
    checkins: str = ""


_FOUR = "mon 18:00 {0}, tue 18:00 {0}, thu 18:00 {0}, fri 18:00 {0}"
_THREE = "mon 18:00 {0}, wed 18:00 {0}, fri 18:00 {0}"
_SIX = "mon 18:00 {0}, tue 18:00 {0}, wed 18:00 {0}, thu 18:00 {0}, fri 18:00 {0}, sat 10:00 {0}"
_ALL_DAYS = _SIX + ", sun 10:00 {0}"
_EARLY = "mon 06:30 {0}, tue 06:30 {0}, wed 06:30 {0}, thu 06:30 {0}, fri 06:30 {0}, sat 17:00 {0}, sun 17:00 {0}"  # noqa: E501

_UPPER_LOWER = """
mon: bench press 4x6@85, barbell row 4x8@75, incline dumbbell press 3x10@26, lat pulldown 3x10@65, dumbbell lateral raise 3x15@10, triceps pushdown 3x12@30
tue: barbell back squat 4x6@115, romanian deadlift 3x8@100, leg press 3x12@180, lying leg curl 3x12@45, standing calf raise 3x12@90
thu: overhead press 4x6@52.5, pull-up 4x7@5, machine fly 3x12@55, seated row 3x10@65, dumbbell curl 3x12@14, dumbbell lateral raise 3x15@10
fri: deadlift 3x5@150, hack squat 3x10@100, leg extension 3x12@60, seated leg curl 3x12@50, standing calf raise 3x12@90, cable crunch 3x12@40
"""  # noqa: E501
_POWER = """
mon: barbell back squat 5x5@150, leg press 3x10@220, leg curl 3x12@50
tue: bench press 5x5@110, barbell row 4x8@90, dip 3x8@20, face pull 3x15@20
thu: deadlift 4x4@190, front squat 3x6@105, back extension 3x12@10
fri: close-grip bench press 4x6@90, overhead press 3x6@60, pull-up 4x6@10, dumbbell curl 3x12@16
"""
_FULL_BODY = """
mon: barbell back squat 3x8@80, bench press 3x8@60, seated cable row 3x10@50, leg curl 3x12@35, dumbbell lateral raise 2x15@8
wed: romanian deadlift 3x8@80, dumbbell shoulder press 3x10@18, lat pulldown 3x10@50, leg extension 3x12@45, dumbbell curl 2x12@10
fri: leg press 3x12@120, dumbbell bench press 3x10@24, seated cable row 3x10@50, leg curl 3x12@35, triceps pushdown 2x12@22.5, standing calf raise 3x12@60
"""  # noqa: E501
_QUADS = """
mon: barbell back squat 5x6@120, leg press 4x12@220, leg extension 3x12@65, lying leg curl 3x12@45
tue: bench press 4x6@90, seated cable row 4x10@65, incline dumbbell press 3x10@28, dumbbell lateral raise 3x15@10
wed: hack squat 4x8@110, romanian deadlift 3x8@105, leg extension 3x15@60, standing calf raise 4x12@90
fri: overhead press 3x6@55, lat pulldown 4x10@70, machine fly 3x12@55, ez bar curl 3x12@30, rope pushdown 3x12@25
sat: front squat 3x6@90, barbell hip thrust 3x10@120, seated leg curl 3x12@50, cable crunch 3x12@40
"""  # noqa: E501
_LATS = """
mon: pull-up 4x6@15, dumbbell row 4x10@38, straight-arm pulldown 3x12@30, dumbbell curl 3x12@14
wed: barbell back squat 4x6@110, romanian deadlift 3x8@95, leg press 3x12@180, standing calf raise 3x12@80
thu: lat pulldown 4x10@75, chest-supported row 4x10@60, machine fly 3x12@50, dumbbell lateral raise 3x15@10
sat: bench press 3x6@80, dumbbell shoulder press 3x10@22, leg curl 3x12@40, rope pushdown 3x12@25
"""  # noqa: E501
_POUNDS = """
mon: barbell back squat 4x6@225, leg press 3x12@360, lying leg curl 3x12@90
tue: bench press 4x6@185, seated row 4x10@140, dumbbell shoulder press 3x10@45, dumbbell lateral raise 3x15@20
thu: romanian deadlift 3x8@205, leg extension 3x12@120, standing calf raise 3x12@180, cable crunch 3x12@90
fri: incline dumbbell press 4x8@60, lat pulldown 4x10@140, machine fly 3x12@110, ez bar curl 3x12@65
"""  # noqa: E501
_SHORT = """
mon: bench press 3x8@70, lat pulldown 3x10@60, dumbbell lateral raise 2x15@8
tue: leg press 3x10@160, romanian deadlift 3x10@80, leg curl 2x12@40
thu: incline dumbbell press 3x10@24, seated row 3x10@55, dumbbell curl 2x12@12
fri: barbell back squat 3x6@95, leg extension 2x15@50, standing calf raise 3x12@70
"""
_SIX_DAYS = """
mon: barbell back squat 4x6@125, leg press 4x10@200, leg extension 3x12@60, standing calf raise 4x12@90
tue: bench press 5x5@100, incline dumbbell press 4x10@32, dip 3x8@15, rope pushdown 4x12@27.5
wed: deadlift 4x4@170, barbell row 4x8@85, lat pulldown 4x10@75, dumbbell curl 4x10@16
thu: front squat 4x6@95, romanian deadlift 4x8@110, lying leg curl 4x12@45, standing calf raise 4x12@90
fri: overhead press 5x5@60, machine fly 4x12@55, dumbbell lateral raise 4x15@12, triceps pushdown 3x12@30
sat: pull-up 5x6@15, seated row 4x10@70, face pull 3x15@20, hammer curl 4x10@16
"""  # noqa: E501
_SIDE_DELTS_LB = """
tue: bench press 4x5@205, seated row 4x10@150, dumbbell shoulder press 3x10@50, triceps pushdown 3x12@60
thu: barbell back squat 4x5@265, romanian deadlift 3x8@225, leg extension 3x12@130, standing calf raise 3x12@200
sat: incline dumbbell press 4x8@65, lat pulldown 4x10@150, ez bar curl 3x12@65, dumbbell lateral raise 3x15@20
"""  # noqa: E501
_RAISES = """
mon: barbell hip thrust 4x8@110, romanian deadlift 3x10@70, leg press 3x12@150, hip abduction 3x15@50
tue: dumbbell shoulder press 4x10@14, lat pulldown 4x10@45, dumbbell lateral raise 4x15@6, cable lateral raise 3x15@7.5
wed: barbell back squat 4x8@70, seated leg curl 4x12@35, leg extension 3x15@40, standing calf raise 3x15@60
thu: chest press 3x10@35, seated cable row 4x10@45, machine reverse fly 3x15@25, dumbbell curl 3x12@9
fri: barbell hip thrust 4x12@95, bulgarian split squat 3x10@14, lying leg curl 3x12@30, machine crunch 3x15@30
sat: machine lateral raise 4x15@20, machine shoulder press 3x12@25, lat pulldown 3x12@40, dumbbell lateral raise 3x15@6
"""  # noqa: E501

_SEVEN_LIFTS = """
mon: barbell back squat 3x8@70, bench press 3x8@50, barbell row 3x8@50
thu: deadlift 3x5@95, overhead press 3x8@32.5, lat pulldown 3x10@50, leg press 2x12@110
"""
_HEAVY_FRIDAY = """
mon: barbell back squat 5x4@170, bench press 4x6@115, barbell row 4x8@90
wed: bench press 5x4@125, pull-up 4x6@15, close-grip bench press 3x8@95
fri: deadlift 4x4@210, front squat 3x6@115, dumbbell row 3x10@44
sat: overhead press 4x6@65, bench press 3x8@105, dip 3x8@20, ez bar curl 3x10@40
"""
_HOTEL = """
mon: goblet squat 4x15@24, dumbbell bench press 4x14@24, dumbbell row 4x14@24
wed: dumbbell romanian deadlift 4x14@24, dumbbell shoulder press 3x10@18, lat pulldown 3x10@50
fri: bulgarian split squat 3x10@18, dumbbell bench press 3x14@24, dumbbell row 4x14@24, dumbbell curl 3x12@12
"""  # noqa: E501

PEOPLE = (
    Person("novice_two_days", "tue 18:00 60, fri 18:00 60", "small", experience="novice",
           bodyweight=64, born=2001),
    Person("novice_three_days", _THREE.format(60), "full", experience="novice", born=1999),
    Person("powerlifter", _FOUR.format(90), "barbell", "quads lead, chest lead",
           experience="advanced", bodyweight=92, log=_POWER, log_weeks=10),
    Person("nine_slots", _ALL_DAYS.format(60) + ", tue 06:30 45, thu 06:30 45", "full",
           "lats lead, side_delts lead", experience="advanced"),
    Person("four_short_slots", _FOUR.format(45), "usual", "chest lead"),
    Person("four_short_logged", _FOUR.format(45), "usual", log=_SHORT),
    Person("home_dumbbells", _THREE.format(50), "dumbbells", bodyweight=70),
    Person("bands_and_dumbbells", _THREE.format(45), "bands", "glutes lead", bodyweight=60),
    Person("sore_shoulder", _THREE.format(75), "full", "quads lead",
           '[limits]\navoid_patterns = ["overhead press", "dip"]',
           checkins="2026-12-29,pain,left shoulder,4,\n2027-01-02,pain,left shoulder,3,"),
    Person("knee_limit", _FOUR.format(60), "full", "glutes lead",
           '[limits]\navoid_patterns = ["lunge"]\navoid_lifts = ["barbell back squat"]',
           checkins="2026-12-30,pain,knee,3,"),
    Person("lead_glutes", _FOUR.format(60), "full", "glutes lead, chest hold", bodyweight=66,
           born=1990),
    Person("chest_legs_on_hold", _FOUR.format(60) + ", sat 10:00 60", "full",
           "chest lead, quads hold, hamstrings hold, glutes hold"),
    Person("age_48_no_log", _THREE.format(60), "usual", born=1978, bodyweight=88),
    Person("trained_six_days", _SIX.format(60), "full", "side_delts lead", log=_UPPER_LOWER,
           log_weeks=8),
    Person("pound_gym", _FOUR.format(70), "pounds", "chest lead", units="lb", bodyweight=190,
           log=_POUNDS),
    Person("kettlebells", _THREE.format(45), "kettlebells", bodyweight=72),
    Person("two_slots_of_40", "tue 07:00 40, fri 07:00 40", "usual"),
    Person("fourteen_slots", _ALL_DAYS.format(45) + ", " + _EARLY.format(45), "full",
           "quads lead, chest lead", experience="advanced"),
    Person("pins", _FOUR.format(75), "full", "chest lead",
           '[[pin]]\nlift = "bench press"\ndays = ["mon"]\nreps = "low"\n'
           '[[pin]]\nlift = "deadlift"\ndays = ["fri"]\nreps = "4-6"\n'
           '[[pin]]\nlift = "dumbbell lateral raise"'),
    Person("no_hinges", _FOUR.format(60), "full", "quads lead",
           '[limits]\navoid_patterns = ["hinge", "upright row"]'),
    Person("special_sets", _FOUR.format(60), "full", "side_delts lead, biceps lead",
           "[allow]\nrest_pause = true\ndrop_sets = true", experience="advanced",
           log=_UPPER_LOWER),
    Person("quads_with_a_long_log", "mon 18:00 75, tue 18:00 75, wed 18:00 75, fri 18:00 75, "
           "sat 10:00 75", "full", "quads lead", "[likes]\nlifts = [\"leg press\"]",
           experience="advanced", log=_QUADS, log_weeks=12),
    Person("lats_with_a_log", "mon 18:00 80, wed 18:00 80, thu 18:00 80, sat 10:00 80", "full",
           "lats lead, chest hold", log=_LATS, log_weeks=8),
    Person("full_body_logged", _THREE.format(75), "usual", log=_FULL_BODY, bodyweight=71,
           weeks=5),
    Person("floor_and_bar", _THREE.format(40), "floor", bodyweight=75),
    Person("one_long_slot", "sat 10:00 90", "usual"),
    Person("machines_only", _THREE.format(60), "machines", experience="novice", bodyweight=95),
    Person("twice_on_monday", "mon 07:00 50, mon 18:00 50, thu 18:00 70, sat 10:00 70", "usual",
           "triceps lead"),
    Person("likes_and_skips", _FOUR.format(60), "usual", "hamstrings lead, forearms skip",
           '[likes]\nlifts = ["romanian deadlift", "dip"]\n[limits]\nmax_lifts_per_session = 5',
           weeks=4),
    Person("deload_in_two_parts", _FOUR.format(60), "usual", "chest lead",
           '[deload]\nstyle = "two-part"'),
    Person("habits", _FOUR.format(60), "full", "quads lead",
           "[habits]\nweekly_sets = { quads = 14, chest = 10, lats = 10, hamstrings = 9 }\n"
           'reps = { "lateral raise" = "12-20" }'),
    Person("known_lifts", _FOUR.format(60), "full", "chest lead",
           '[[known]]\nlift = "bench press"\nload = 90\nreps = 5\nrir = 2\n'
           '[[known]]\nlift = "barbell back squat"\nload = 120\nreps = 5\nrir = 2'),
    Person("six_days_into_three", _THREE.format(70), "full", experience="advanced",
           bodyweight=90, log=_SIX_DAYS, log_weeks=9),
    Person("sixty_two_days", "tue 10:00 60, fri 10:00 60", "usual", experience="novice",
           born=1962, bodyweight=86),
    Person("pounds_side_delts", "tue 18:00 75, thu 18:00 75, sat 10:00 75", "pounds",
           "side_delts lead, chest hold", experience="advanced", units="lb", bodyweight=185,
           log=_SIDE_DELTS_LB, log_weeks=12),
    Person("two_hotel_mornings", "tue 06:30 45, thu 06:30 45", "hotel", bodyweight=78),
    Person("six_days_of_raises", _SIX.format(70), "full", "side_delts lead, glutes lead",
           experience="advanced", bodyweight=61, log=_RAISES, log_weeks=8),
    Person("seven_logged_lifts", "mon 18:00 75, thu 18:00 75, sat 10:00 60", "usual",
           log=_SEVEN_LIFTS),
    Person("heavy_friday", "mon 18:00 90, wed 18:00 90, fri 18:00 90, sat 18:00 90", "barbell",
           "chest lead", experience="advanced", bodyweight=98, log=_HEAVY_FRIDAY, log_weeks=10),
    Person("dumbbells_end", _THREE.format(60), "hotel", bodyweight=76, log=_HOTEL),
    Person("sore_shoulder_logged", _THREE.format(70), "usual", log=_FULL_BODY,
           checkins="2026-12-29,pain,left shoulder,4,\n2027-01-02,pain,left shoulder,3,"),
    Person("four_visits_of_six", _SIX.format(60), "full", "lats lead", "visits = 4"),
)  # fmt: skip
