"""Invented lifters from a seed: usual ones, odd ones, in every mixture the files allow."""

import random
from datetime import date
from typing import Any, get_args

from blockwright.engine.gym import Gym
from blockwright.engine.training import (
    DAYS,
    MUSCLES,
    Allow,
    Catalogue,
    Lifter,
    Limits,
    Pin,
    RepRange,
    Slot,
    Zone,
)

FREE = frozenset({
    "bar", "squat rack", "bench", "incline bench", "dumbbells", "pull-up bar", "dip bars",
    "plates", "ez bar", "box",
})  # fmt: skip
KITS = {
    "dumbbells only": frozenset({"dumbbells", "bench"}),
    "floor": frozenset(),
    "bar at home": frozenset({"bar", "squat rack", "bench", "plates", "pull-up bar"}),
    "free": FREE,
    "small gym": FREE | {"cable", "leg press", "leg curl", "leg extension", "lat pulldown"},
}


def full_kit(catalogue: Catalogue) -> frozenset[str]:
    """Every word any lift needs."""
    return frozenset(word for lift in catalogue.lifts.values() for word in lift.kit)


def made_up_lifter(seed: int, catalogue: Catalogue) -> Lifter:
    """The same lifter for the same seed."""
    rng = random.Random(seed)
    kits = {**KITS, "everything": full_kit(catalogue)}
    kit = kits[rng.choice(sorted(kits))]
    count = rng.choice([1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 9, 14])
    usable = sorted(
        lift.name
        for lift in catalogue.lifts.values()
        if set(lift.kit) <= kit and lift.load_kind != "assisted"
    )
    emphasis = {
        muscle: rng.choices(["lead", "normal", "hold", "skip"], [0.15, 0.65, 0.12, 0.08])[0]
        for muscle in MUSCLES
    }
    leads = [m for m, e in emphasis.items() if e == "lead"]
    for muscle in leads[3:]:
        emphasis[muscle] = "normal"
    slots = _slots(rng, count)
    facts: dict[str, Any] = {
        "name": f"Made Up {seed}",
        "bodyweight": 75.0,
        "bodyweight_kg": 75.0,
        "start": date(2027, 1, 4),
        "weeks": rng.randint(3, 8),
        "experience": rng.choice(["novice", "intermediate", "intermediate", "advanced"]),
        "energy": rng.choice(["surplus", "maintenance", "deficit"]),
        "slots": slots,
        "emphasis": {m: e for m, e in emphasis.items() if e != "normal"},
        "allow": Allow(
            supersets=rng.random() < 0.7,
            rest_pause=rng.random() < 0.3,
            drop_sets=rng.random() < 0.3,
            pre_exhaust=rng.random() < 0.2,
            high_reps=rng.random() < 0.8,
            to_failure=rng.random() < 0.3,
        ),
        "limits": Limits(
            avoid_lifts=tuple(rng.sample(usable, min(2, len(usable)))),
            max_lifts_per_session=rng.choice([None, None, 4, 5, 6, 8]),
        ),
        "likes": tuple(rng.sample(usable, min(2, len(usable)))),
        "gym": Gym(kit=kit, unit="kg"),
    }
    facts["pins"] = _pins(rng, usable, facts, catalogue)
    return Lifter(**facts)


def _slots(rng: random.Random, count: int) -> tuple[Slot, ...]:
    places = [(day, hour) for day in DAYS for hour in (7, 18)]
    if count <= 7:
        days = rng.sample(DAYS, count)
        places = [(day, rng.choice([7, 18])) for day in days]
    chosen = rng.sample(places, count)
    made = [
        Slot(
            day=day,
            start_minute=60 * hour + rng.choice([0, 30]),
            minutes=rng.choice([20, 40, 45, 60, 60, 75, 90, 120]),
        )
        for day, hour in chosen
    ]
    return tuple(sorted(made, key=lambda slot: (slot.day_index, slot.start_minute)))


def _pins(
    rng: random.Random, usable: list[str], facts: dict[str, Any], catalogue: Catalogue
) -> tuple[Pin, ...]:
    avoided = set(facts["limits"].avoid_lifts)
    fine = [
        name
        for name in usable
        if name not in avoided
        and not any(facts["emphasis"].get(m) == "skip" for m in catalogue.lifts[name].direct)
    ]
    long = [slot for slot in facts["slots"] if slot.minutes >= 45]
    if not fine or not long or rng.random() < 0.5:
        return ()
    lift = rng.choice(fine)
    day = rng.choice(long).day
    zones: list[Zone] = [zone for zone in get_args(Zone) if zone in catalogue.lifts[lift].reps]
    reps: Zone | RepRange | None = rng.choice([None, rng.choice(zones), RepRange(low=6, high=10)])
    return (Pin(lift=lift, days=rng.choice([(), (day,)]), reps=reps),)
