"""A lifter back to the table of its file, whole and normalised, as a block's JSON carries it."""

from dataclasses import asdict
from typing import Any

from blockwright.engine.training import Habits, Known, Lifter, Pin, RepRange, Slot
from blockwright.files.catalogue import lift_to_table
from blockwright.files.gym_tables import gym_to_table


def lifter_to_table(lifter: Lifter) -> dict[str, Any]:
    """The table that `lifter_from_table` reads back into an equal lifter.

    The keys of the lifter file; dates as ISO text; what nobody answered is left out.
    """
    return _without_none(
        {
            "name": lifter.name,
            "units": lifter.units,
            "bodyweight": lifter.bodyweight,
            "born": lifter.born,
            "sex": lifter.sex,
            "experience": lifter.experience,
            "energy": lifter.energy,
            "weeks": lifter.weeks,
            "visits": lifter.visits,
            "start": lifter.start.isoformat() if lifter.start else None,
            "screening": _screening(lifter),
            "signs": _signs(lifter),
            "slot": [_slot(slot) for slot in lifter.slots],
            "emphasis": dict(lifter.emphasis),
            "allow": asdict(lifter.allow),
            "likes": {"lifts": list(lifter.likes)},
            "policy": dict(lifter.policy),
            "limits": _without_none(
                {
                    "avoid_lifts": list(lifter.limits.avoid_lifts),
                    "avoid_patterns": list(lifter.limits.avoid_patterns),
                    "max_lifts_per_session": lifter.limits.max_lifts_per_session,
                }
            ),
            "gym": gym_to_table(lifter.gym),
            "pin": [_pin(pin) for pin in lifter.pins],
            "known": [_known(known) for known in lifter.known] or None,
            "habits": _habits(lifter.habits),
            "deload": {"style": lifter.deload_style},
            "lift": [lift_to_table(lift) for lift in lifter.lifts],
        }
    )


def _screening(lifter: Lifter) -> dict[str, Any]:
    answers = asdict(lifter.screening)
    cleared_on = lifter.screening.cleared_on
    answers["cleared_on"] = cleared_on.isoformat() if cleared_on else None
    cleared_for = lifter.screening.cleared_for
    answers["cleared_for"] = None if cleared_for is None else list(cleared_for)
    return _without_none(answers)


def _signs(lifter: Lifter) -> dict[str, Any] | None:
    found = [f"{sign} {day}" for sign, day in lifter.signs_cleared.items()]
    return {"cleared": found} if found else None


def _slot(slot: Slot) -> dict[str, Any]:
    return {"day": slot.day, "start": slot.start_time, "minutes": slot.minutes}


def _pin(pin: Pin) -> dict[str, Any]:
    reps = str(pin.reps) if isinstance(pin.reps, RepRange) else pin.reps
    return _without_none({"lift": pin.lift, "days": list(pin.days) or None, "reps": reps})


def _known(known: Known) -> dict[str, Any]:
    return _without_none(
        {
            "lift": known.lift,
            "load": known.load,
            "reps": known.reps,
            "rir": known.rir,
            "on": known.on.isoformat() if known.on else None,
        }
    )


def _habits(habits: Habits) -> dict[str, Any] | None:
    table = {
        "weekly_sets": dict(habits.weekly_sets) or None,
        "reps": {name: str(reps) for name, reps in habits.reps.items()} or None,
    }
    return _without_none(table) or None


def _without_none(table: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in table.items() if value is not None}
