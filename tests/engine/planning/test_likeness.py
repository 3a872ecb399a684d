"""One order of stand-ins, for every page that offers them: a table a coach would check.

The rows are common practice, no source.
"""

import pytest

from blockwright.engine.planning.likeness import likest
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy

CATALOGUE = builtin_catalogue()


@pytest.mark.parametrize(
    ("lift", "taken", "first", "after"),
    [
        ("bench press", False, "dumbbell bench press", "machine fly"),
        ("bench press", False, "chest press", "press-up"),
        ("overhead press", False, "machine shoulder press", "wall handstand press-up"),
        ("barbell back squat", False, "box squat", "leg press"),
        ("barbell back squat", True, "leg press", "box squat"),
        ("romanian deadlift", True, "dumbbell romanian deadlift", "stiff-leg deadlift"),
        ("dumbbell lateral raise", True, "cable lateral raise", "plate lateral raise"),
        ("barbell back squat", True, "goblet squat", "bodyweight squat"),
        ("barbell back squat", True, "bulgarian split squat", "bodyweight squat"),
        ("bench press", True, "dumbbell bench press", "press-up"),
        ("barbell hip thrust", True, "dumbbell hip thrust", "glute bridge"),
        ("pull-up", True, "close-grip lat pulldown", "band-assisted pull-up"),
        ("seated row", False, "chest-supported row", "lat pulldown"),
    ],
)
def test_the_likest_comes_first(lift: str, taken: bool, first: str, after: str) -> None:
    mine = CATALOGUE.lifts[lift]
    others = [o for o in CATALOGUE.lifts.values() if set(o.direct) & set(mine.direct)]
    order = [o.name for o in likest(mine, others, default_policy(), taken=taken)]
    assert order.index(first) < order.index(after)
