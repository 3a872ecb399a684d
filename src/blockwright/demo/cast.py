"""Who trains in the invented weights room: their truth, their old routine, their coach's habits.

Every figure and every sentence here is made up. What happens to them is not written down
anywhere: it comes out of the run.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from blockwright.demo.body import BodySpec

ROOM = "the weights room of the Skarn Fell mountain-rescue volunteers"

Answer = Literal["declined", "changed"]
LiftSets = tuple[str, int, int, int]
"""A lift of an old routine: name, sets, fewest and most repetitions."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OldDay:
    """One day of what the person did before anybody planned it."""

    weekday: int
    start: str
    lifts: Sequence[LiftSets]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """Weeks in which everything is harder: `ln_fall` of strength, `tired` points of each
    wellness item."""

    first_week: int
    ln_fall: float
    tired: int
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pain:
    """Pain in the lifts of some patterns: `levels` by week, 0 from then on. `about` is what the
    person calls it in the week's check-in."""

    patterns: Sequence[str]
    levels: Sequence[int]
    about: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Habit:
    """How the coach answers some proposals; whatever no habit speaks of is accepted."""

    answer: Answer
    kind: str
    words: str
    weeks: Sequence[int] = ()
    """Weeks proposed for; empty: any."""
    about: Sequence[str] = ()
    """Muscles or lifts; empty: any."""
    most: int = 1
    """How often in one week."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Typing:
    """How the log goes wrong, as shares of sets."""

    slips: float = 0.006
    no_rir: float = 0.06
    rir_ranges: float = 0.08
    warmups: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """One of the cast. `key` names their file in `people/` and their folder."""

    key: str
    seed: int
    about: str
    body: BodySpec
    routine: Sequence[OldDay]
    history_weeks: int = 10
    away_weeks: int = 0
    typing: Typing = Typing()
    trouble: Trouble | None = None
    pain: Pain | None = None
    habits: Sequence[Habit] = ()
    missed: Sequence[tuple[int, int, str]] = ()
    """Week, session, and why."""
    coach: str = "Tamsin"
    weeks_behind: int = 3
    """Whole weeks trained by the day the demo is played for."""
    letter_waits: bool = False
    """Whether the coach has not answered the last of those weeks yet."""


TAMSIN = Person(
    key="tamsin",
    seed=1101,
    about="coaches the others and trains herself: advanced, five slots, some of her last sets "
    "are drop sets or go to failure",
    body=BodySpec(
        bodyweight_kg=66.0, strength=1.12, gain_pct_per_week=0.35, ceiling_sets=19.0, rir_bias=0.2
    ),
    routine=(
        OldDay(weekday=0, start="17:05", lifts=(
            ("dumbbell shoulder press", 3, 6, 10), ("dumbbell bench press", 3, 8, 12),
            ("cable lateral raise", 3, 10, 15), ("leg curl", 3, 8, 12),
        )),
        OldDay(weekday=1, start="17:10", lifts=(
            ("pull-up", 4, 6, 10), ("face pull", 3, 10, 15), ("rope pushdown", 3, 10, 15),
            ("barbell hip thrust", 3, 6, 10),
        )),
        OldDay(weekday=3, start="17:00", lifts=(
            ("romanian deadlift", 3, 6, 10), ("lat pulldown", 3, 8, 12),
            ("cable crunch", 3, 10, 15),
        )),
        OldDay(weekday=6, start="09:15", lifts=(
            ("barbell back squat", 4, 5, 8), ("deadlift", 2, 5, 8), ("lat pulldown", 3, 8, 12),
            ("seated row", 3, 8, 12), ("leg press calf raise", 3, 8, 12),
        )),
    ),
    typing=Typing(slips=0.004, no_rir=0.02, rir_ranges=0.12),
    habits=(
        Habit(answer="changed", kind="raise_load", words="a smaller step this week", weeks=(2, 3)),
        Habit(answer="declined", kind="add_set", words="my evenings are full", weeks=(3, 4)),
        Habit(answer="declined", kind="extend_block", words="the winter exercise comes first"),
    ),
    missed=((3, 2, "a call-out on the north gullies"),),
    weeks_behind=6,
)  # fmt: skip

BRAM = Person(
    key="bram",
    seed=2202,
    about="takes the night calls; he trains when the rota lets him, twice on Tuesdays and once "
    "after the late watch",
    body=BodySpec(bodyweight_kg=88.0, strength=1.0, gain_pct_per_week=0.55, ceiling_sets=16.0),
    routine=(
        OldDay(weekday=1, start="08:00", lifts=(
            ("incline dumbbell press", 3, 8, 12), ("seated row", 3, 8, 12), ("leg curl", 3, 8, 12),
            ("face pull", 3, 10, 15), ("dumbbell curl", 2, 8, 12),
        )),
        OldDay(weekday=3, start="22:30", lifts=(
            ("deadlift", 3, 5, 8), ("dumbbell shoulder press", 3, 8, 12),
            ("leg extension", 3, 10, 15), ("cable crunch", 3, 10, 15),
        )),
        OldDay(weekday=6, start="15:10", lifts=(
            ("barbell back squat", 4, 5, 8), ("leg press", 3, 8, 12),
            ("chest-supported dumbbell row", 3, 8, 12), ("cable lateral raise", 3, 10, 15),
            ("leg press calf raise", 3, 8, 12),
        )),
    ),
    trouble=Trouble(
        first_week=4, ln_fall=0.085, tired=2, says="ten nights on call in a row, little sleep"
    ),
    habits=(
        Habit(answer="declined", kind="add_set", words="not on a night week", weeks=(3,), most=2),
    ),
    weeks_behind=4,
    letter_waits=True,
)  # fmt: skip

INES = Person(
    key="ines",
    seed=3303,
    about="comes back after two months away, with a right shoulder that is sore overhead",
    body=BodySpec(bodyweight_kg=71.5, strength=0.85, gain_pct_per_week=0.9, ceiling_sets=15.0),
    routine=(
        OldDay(weekday=0, start="18:35", lifts=(
            ("barbell back squat", 3, 6, 10), ("chest press", 3, 8, 12),
            ("chest-supported dumbbell row", 3, 8, 12), ("leg curl", 3, 8, 12),
        )),
        OldDay(weekday=3, start="18:40", lifts=(
            ("deadlift", 3, 6, 10), ("dumbbell shoulder press", 3, 8, 12), ("seated row", 3, 8, 12),
            ("cable crunch", 3, 10, 15), ("leg press calf raise", 3, 10, 15),
        )),
    ),
    history_weeks=9,
    away_weeks=8,
    pain=Pain(
        patterns=("overhead press",),
        levels=(4, 3, 2, 1),
        about="right shoulder",
        note="right shoulder, front, overhead",
    ),
    habits=(
        Habit(answer="declined", kind="add_set", words="one thing at a time", weeks=(2,), most=2),
    ),
    weeks_behind=1,
)  # fmt: skip

RUNE = Person(
    key="rune",
    seed=4404,
    about="is losing weight on purpose before the spring climbs, with a bar, pound plates and "
    "dumbbells",
    body=BodySpec(
        bodyweight_kg=102.0, bodyweight_pct_per_week=-0.55, strength=0.95,
        gain_pct_per_week=0.15, ceiling_sets=13.0,
    ),
    routine=(
        OldDay(weekday=0, start="18:30", lifts=(
            ("barbell back squat", 3, 5, 8), ("bench press", 4, 5, 8), ("barbell row", 3, 8, 12),
            ("dumbbell lateral raise", 3, 10, 15),
        )),
        OldDay(weekday=2, start="06:20", lifts=(
            ("front squat", 3, 6, 10), ("dumbbell shoulder press", 3, 8, 12),
            ("dumbbell curl", 3, 8, 12), ("dumbbell leg curl", 3, 10, 15),
        )),
        OldDay(weekday=4, start="18:40", lifts=(
            ("bench press", 3, 8, 12), ("barbell row", 3, 6, 10), ("dip", 2, 5, 10),
            ("dumbbell calf raise", 3, 10, 15), ("dumbbell rear delt raise", 3, 12, 20),
        )),
    ),
    typing=Typing(slips=0.01, no_rir=0.12, rir_ranges=0.05),
    habits=(
        Habit(answer="declined", kind="add_set", words="not on this little food", weeks=(3, 4, 5),
              most=6),
        Habit(answer="changed", kind="raise_load", words="half of that, he is eating less",
              weeks=(2, 3, 4)),
    ),
    missed=((3, 2, "slept through the alarm"),),
    letter_waits=True,
)  # fmt: skip

CAST = (TAMSIN, BRAM, INES, RUNE)
COACH = TAMSIN
"""Whom the link of the demo signs in: owner of the site, coach of all, and a lifter herself."""
NEWCOMER = "liv"
"""Came in today: no log, no block, and the questions of the screening still open."""
PARTNERS = (("ines", "rune"),)
"""Pairs who share a rack."""
