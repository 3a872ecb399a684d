"""Facts back to the CSV files they are read from, nothing lost."""

import csv
import io
from collections.abc import Iterable, Sequence

from blockwright.engine.training import GIRTHS, CheckIn, Moment, SetDone
from blockwright.engine.units import CM_PER_IN, in_unit
from . import checkins_file, sets_file
from .csv_text import cell_of, harmless

SET_COLUMNS, CHECKIN_COLUMNS = sets_file.COLUMNS[:-1], checkins_file.COLUMNS[:-1]
"""All but the last, `lifter`."""


def sets_csv(sets: Sequence[SetDone]) -> str:
    """The sets file, in the order given; with a `lifter` column where the sets name their people.

    A day on which a session ran past midnight, or whose times are not all known, gets plain dates:
    `when` alone decides the day a set belongs to, and the order of rows says the rest."""
    plain_days = {s.moment.day for s in sets if s.moment.at is None} | {
        s.moment.day for s in sets if s.moment.at and s.moment.at.date() != s.moment.day
    }
    named = any(done.lifter for done in sets)
    return _table(
        sets_file.COLUMNS if named else SET_COLUMNS,
        (
            (
                _when(done.moment, plain=done.moment.day in plain_days),
                *map(cell_of, set_cells(done).values()),
                *((done.lifter or "",) if named else ()),
            )
            for done in sets
        ),
    )


def checkins_csv(checkins: Sequence[CheckIn]) -> str:
    return _table(CHECKIN_COLUMNS, (checkin_row(one) for one in checkins))


def _table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return text.getvalue()


def set_cells(done: SetDone) -> dict[str, object]:
    """A set by the columns of a sets file, from `lift` on; numbers, yes and no as they are."""
    return {
        "lift": done.lift,
        "set": done.set_number,
        "load": done.entered_load,
        "unit": done.entered_unit,
        "reps": "+".join(map(str, done.reps)),
        "rir": rir_text(done.rir_low, done.rir_high),
        "rest_s": done.rest_s,
        "method": done.method,
        "full_range": done.full_range,
        "pain": done.pain,
        "note": done.note,
        "confirmed": done.confirmed,
    }


def checkin_row(one: CheckIn) -> tuple[str, ...]:
    """The cells under `CHECKIN_COLUMNS`; bodyweight and girths in the unit they came in."""
    other_day = one.moment.at is not None and one.moment.at.date() != one.moment.day
    when = _when(one.moment, plain=other_day)
    unit = one.entered_unit.lower()
    value = one.value
    if one.measure == "bodyweight":
        # What stands in `value` is kilograms, whatever was typed.
        pounds = unit.startswith(("lb", "pound"))
        value = in_unit(value, "lb" if pounds else "kg")
        unit = "lb" if pounds else "kg"
    if one.measure in GIRTHS and unit in checkins_file.INCHES:
        value /= CM_PER_IN
    return (when, one.measure, one.about or "", cell_of(value), unit, one.note)


def _when(moment: Moment, *, plain: bool) -> str:
    if moment.at is None or plain:
        return moment.day.isoformat()
    return moment.at.replace(microsecond=0).isoformat(sep=" ")


def rir_text(low: float | None, high: float | None) -> str:
    """ "2", "1-2": repetitions in reserve as they are typed; "" where none were said."""
    if low is None or high is None:
        return ""
    return cell_of(low) if low == high else f"{cell_of(low)}-{cell_of(high)}"
