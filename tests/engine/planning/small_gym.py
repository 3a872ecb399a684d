"""A small invented catalogue and lifters for the planning tests: quick, and ours to change."""

from datetime import date
from typing import Any

from blockwright.engine.gym import Gym
from blockwright.engine.training import DAYS, Catalogue, Lift, Lifter, RepRange, Slot, catalogue_of

_ZONES = {"low": RepRange(low=4, high=8), "mid": RepRange(low=8, high=15),
          "high": RepRange(low=15, high=30)}  # fmt: skip

# name | main muscles | half muscles | pattern | kit | axial | compound | family | stability | zones
# ruff: noqa: E501
_ROWS = """
barbell back squat|quads glutes|adductors spinal_erectors|squat|bar,squat rack|3|c|squat|free|lm
front squat|quads|glutes upper_back spinal_erectors|squat|bar,squat rack|3|c|squat|free|lm
leg press|quads|glutes adductors|squat|leg press|0|c|leg press|machine|lmh
hack squat|quads|glutes|squat|hack squat|1|c|hack squat|machine|lm
split squat|quads glutes|adductors|lunge|dumbbells|1|c|split squat|free|mh
leg extension|quads||knee extension|leg extension|0|s|leg extension|machine|mh
romanian deadlift|hamstrings glutes|spinal_erectors forearms|hinge|bar|2|c|romanian deadlift|free|lm
dumbbell romanian deadlift|hamstrings glutes|spinal_erectors forearms|hinge|dumbbells|1|c|romanian deadlift|free|m
deadlift|glutes hamstrings spinal_erectors|quads upper_back forearms|hinge|bar|3|c|deadlift|free|l
hip thrust|glutes|hamstrings|hip extension|bar,bench|0|c|hip thrust|supported|lmh
leg curl|hamstrings||knee flexion|leg curl|0|s|leg curl|machine|lmh
back extension|spinal_erectors|glutes hamstrings|hip extension|back extension bench|1|s|back extension|supported|mh
hip adduction|adductors||hip adduction|hip adduction|0|s|hip adduction|machine|mh
standing calf raise|calves||calf raise|standing calf raise|1|s|calf raise standing|machine|lmh
dumbbell calf raise|calves||calf raise|dumbbells|0|s|calf raise standing|free|mh
seated calf raise|calves||calf raise|seated calf raise|0|s|calf raise seated|machine|mh
barbell bench press|chest|front_delts triceps|horizontal press|bar,bench|0|c|bench press|free|lm
dumbbell bench press|chest|front_delts triceps|horizontal press|dumbbells,bench|0|c|bench press|free|lm
incline dumbbell press|chest front_delts|triceps|incline press|dumbbells,bench|0|c|incline press|free|lm
press-up|chest|front_delts triceps abs|horizontal press||0|c|press-up|free|mh
chest press|chest|front_delts triceps|horizontal press|chest press|0|c|chest press|machine|lmh
cable fly|chest|front_delts|fly|cable|0|s|fly|supported|mh
dumbbell fly|chest||fly|dumbbells,bench|0|s|fly|free|m
dip|chest triceps|front_delts|dip|dip bars|0|c|dip|free|lm
overhead press|front_delts|side_delts triceps|overhead press|bar|1|c|overhead press|free|lm
dumbbell shoulder press|front_delts|side_delts triceps|overhead press|dumbbells,bench|0|c|overhead press|free|lm
lateral raise|side_delts||lateral raise|dumbbells|0|s|lateral raise|free|mh
cable lateral raise|side_delts||lateral raise|cable|0|s|lateral raise|supported|mh
upright row|side_delts upper_back|biceps front_delts|upright row|dumbbells|0|c|upright row|free|m
rear delt fly|rear_delts|upper_back|rear delt raise|dumbbells|0|s|rear delt fly|free|mh
cable reverse fly|rear_delts|upper_back|rear delt raise|cable|0|s|rear delt raise|supported|mh
pull-up|lats|biceps upper_back forearms|vertical pull|pull-up bar|0|c|pull-up|free|lm
lat pulldown|lats|biceps upper_back|vertical pull|cable|0|c|pulldown|machine|lmh
barbell row|upper_back lats|biceps rear_delts spinal_erectors|row|bar|2|c|row|free|lm
one-arm dumbbell row|lats upper_back|biceps rear_delts|row|dumbbells|0|c|one-arm row|supported|lm
cable row|upper_back|lats biceps rear_delts|row|cable|0|c|cable row|supported|lmh
inverted row|upper_back|lats biceps rear_delts|row||0|c|inverted row|free|mh
dumbbell curl|biceps|forearms|elbow flexion|dumbbells|0|s|curl|free|lmh
cable curl|biceps|forearms|elbow flexion|cable|0|s|cable curl|supported|mh
hammer curl|biceps forearms||elbow flexion|dumbbells|0|s|hammer curl|free|mh
triceps pushdown|triceps||elbow extension|cable|0|s|pushdown|supported|mh
overhead triceps extension|triceps||elbow extension|dumbbells|0|s|overhead extension|free|mh
wrist curl|forearms||wrist|dumbbells|0|s|wrist curl|supported|mh
cable crunch|abs||trunk flexion|cable|0|s|cable crunch|supported|mh
hanging leg raise|abs|forearms|trunk flexion|pull-up bar|0|s|leg raise|free|mh
crunch|abs||trunk flexion||0|s|crunch|free|mh
bodyweight squat|quads|glutes|squat||0|c|bodyweight squat|free|h
single-leg hip thrust|glutes|hamstrings|hip extension||0|c|single-leg hip thrust|free|mh
""".strip()  # fmt: skip


def _lift(row: str) -> Lift:
    (name, main, half, pattern, kit, axial, kind, family, stability, zones) = row.split("|")
    words = tuple(word for word in kit.split(",") if word)
    compound = kind == "c"
    per_hand = "dumbbells" in words
    groups = {"squat": "squat", "hinge": "hinge"}
    group = "single_joint" if not compound else groups.get(pattern, "press")
    return Lift(
        name=name,
        muscles={**dict.fromkeys(main.split(), 1.0), **dict.fromkeys(half.split(), 0.5)},
        pattern=pattern,
        kit=words,
        axial=int(axial),
        load_kind="per_hand" if per_hand else "external" if words else "bodyweight_plus",
        bodyweight_share=0.0 if words else 0.65,
        role="main" if compound else "small",
        family=family,
        stability=stability,  # type: ignore[arg-type]
        fatigue_group=group,  # type: ignore[arg-type]
        setup_s=45,
        seconds_per_rep=3.5 if compound else 3.0,
        reps={name: rng for name, rng in _ZONES.items() if name[0] in zones},
        standard="full range, under control",
        safe_to_fail=not compound or stability == "machine",
    )


def small_catalogue() -> Catalogue:
    """Some fifty lifts."""
    return catalogue_of(tuple(_lift(row) for row in _ROWS.splitlines()))


FULL_KIT = frozenset(word for lift in small_catalogue().lifts.values() for word in lift.kit)


def slots(*texts: str) -> tuple[Slot, ...]:
    """Slots from words such as "mon 18:00 60"."""
    made = []
    for text in texts:
        day, start, minutes = text.split()
        hours, past = start.split(":")
        made.append(Slot(day=day, start_minute=60 * int(hours) + int(past), minutes=int(minutes)))
    return tuple(sorted(made, key=lambda slot: (DAYS.index(slot.day), slot.start_minute)))


def lifter(*texts: str, kit: frozenset[str] = FULL_KIT, **more: Any) -> Lifter:
    """An invented lifter with these slots."""
    facts: dict[str, Any] = {
        "name": "Ada Invented",
        "bodyweight": 80.0,
        "bodyweight_kg": 80.0,
        "start": date(2027, 1, 4),
        "slots": slots(*texts),
        "gym": Gym(kit=kit, unit="kg"),
    }
    return Lifter(**(facts | more))


USUAL = ("mon 18:00 75", "tue 18:00 75", "thu 18:00 75", "fri 18:00 75", "sat 10:00 75")
