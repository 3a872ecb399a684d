"""Plain lifts that most lifters know: where two lifts do the same, the plain one is chosen.

A judgement, and a mild one: it costs a few points a set (`planning.price.unfamiliar`) to use a
lift that is not here, nothing to use the lifter's own, liked or pinned lifts.
"""

from blockwright.engine.training import Lift

_NEARLY_ALL = 0.9
_LEGS = frozenset({"quads", "hamstrings", "glutes", "adductors", "calves"})

FAMILIAR = frozenset({
    "barbell back squat", "front squat", "leg press", "hack squat", "bulgarian split squat",
    "walking lunge", "dumbbell split squat", "goblet squat", "leg extension", "leg curl",
    "lying leg curl", "seated leg curl", "romanian deadlift", "dumbbell romanian deadlift",
    "deadlift", "trap bar deadlift", "barbell hip thrust", "dumbbell hip thrust",
    "machine hip thrust", "back extension", "hip adduction", "standing calf raise",
    "seated calf raise", "leg press calf raise", "dumbbell calf raise", "bench press",
    "dumbbell bench press", "incline bench press", "incline dumbbell press", "chest press",
    "incline chest press", "dip", "press-up", "cable fly", "dumbbell fly", "machine fly",
    "overhead press", "dumbbell shoulder press", "machine shoulder press",
    "dumbbell lateral raise", "cable lateral raise", "machine lateral raise",
    "dumbbell rear delt raise", "cable rear delt fly", "machine reverse fly", "face pull",
    "pull-up", "chin-up", "lat pulldown", "barbell row", "dumbbell row", "seated cable row",
    "seated row", "chest-supported row", "chest-supported dumbbell row", "dumbbell curl",
    "barbell curl", "ez bar curl", "cable curl", "incline dumbbell curl", "hammer curl",
    "preacher curl", "triceps pushdown", "rope pushdown", "overhead cable extension",
    "dumbbell overhead extension", "lying triceps extension", "cable crunch", "machine crunch",
    "hanging knee raise", "hanging leg raise", "crunch", "reverse crunch", "ab wheel rollout",
    "barbell wrist curl", "dumbbell wrist curl",
})  # fmt: skip


def is_on_the_arms(lift: Lift) -> bool:
    """Whether the arms move nearly the whole body and nothing makes it lighter: pull-ups, dips."""
    whole = lift.load_kind == "bodyweight_plus" and lift.bodyweight_share >= _NEARLY_ALL
    return whole and _LEGS.isdisjoint(lift.direct)
