"""How the block page says a set, a load, a week: short lines for the cells of a grid."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import groupby

from blockwright.engine.training import DAY_NAMES, Block, Entry, Lift, Pin, SetDone, Week
from blockwright.engine.units import Unit, load_text, number_text


def planned_lines(entry: Entry, week: Week, lift: Lift | None, unit: Unit) -> list[str]:
    """ "3 × 8–12", "60 kg", and what is out of the ordinary."""
    first, last = entry.sets[0], entry.sets[-1]
    lines = [
        f"{len(entry.sets)} × {_range(first.reps_low, first.reps_high)}",
        "load to be found" if first.load_kg is None else load_words(lift, first.load_kg, unit),
    ]
    if first.rir != week.rir:
        lines.append(f"{number_text(first.rir)} in reserve")
    if last.rir != first.rir:
        end = "to failure" if last.rir == 0 else f"{number_text(last.rir)} in reserve"
        lines.append(f"last set {end}")
    if entry.method in ("rest-pause", "drop"):
        lines.append(f"last set {'a drop set' if entry.method == 'drop' else 'rest-pause'}")
    if entry.pair is not None:
        lines.append(f"in turn, {entry.pair}")
    return lines


def forecast_text(entry: Entry, unit: Unit) -> str:
    """ "57.5–62.5 kg": between which loads a later week will probably fall; "" for none."""
    forecast = entry.sets[0].forecast_kg
    if forecast is None:
        return ""
    low, high = (load_text(kg, unit) for kg in forecast)
    return low if low == high else f"{low.removesuffix(f' {unit}')}–{high}"


def load_words(lift: Lift | None, load_kg: float, unit: Unit) -> str:
    """A load as the sheet says it, without its plates."""
    return _load_as(lift, load_text(load_kg, unit), zero=load_kg == 0)


def _load_as(lift: Lift | None, said: str, *, zero: bool) -> str:
    if lift is not None and lift.load_kind == "bodyweight_plus":
        return "bodyweight" if zero else f"bodyweight + {said}"
    if lift is not None and lift.load_kind == "assisted":
        return f"{said} of help"
    return said


def done_lines(sets: Sequence[SetDone], lift: Lift | None) -> list[str]:
    """ "60 kg × 10, 9, 9" for sets of one load as typed, and "RIR 2, 1, 1"."""
    lines = []
    for typed, group in groupby(sets, lambda done: (done.entered_load, done.entered_unit)):
        these = list(group)
        said = f"{typed[0]} {typed[1]}"
        load = _load_as(lift, said, zero=these[0].load_kg == 0)
        lines.append(f"{load} × {', '.join('+'.join(map(str, done.reps)) for done in these)}")
    if any(done.rir is not None for done in sets):
        lines.append(f"RIR {', '.join(map(_rir, sets))}")
    worst = max((done.pain for done in sets if done.pain), default=None)
    if worst is not None:
        lines.append(f"pain {number_text(worst)}")
    return lines


def _rir(done: SetDone) -> str:
    if done.rir_low is None or done.rir_high is None:
        return "–"
    if done.rir_low == done.rir_high:
        return number_text(done.rir_low)
    return f"{number_text(done.rir_low)}–{number_text(done.rir_high)}"


def _range(low: int, high: int) -> str:
    return str(low) if low == high else f"{low}–{high}"


def pin_text(pin: Pin) -> str:
    """ "Monday and Thursday", "a day of the week"."""
    return " and ".join(DAY_NAMES[day] for day in pin.days) or "a day of the week"


def span_text(first: date) -> str:
    """ "4–10 Jan", "28 Dec – 3 Jan": the week that begins on `first`."""
    last = first + timedelta(days=6)
    if first.month == last.month:
        return f"{first.day}–{last.day} {last:%b}"
    return f"{first.day} {first:%b} – {last.day} {last:%b}"


def quality_text(block: Block) -> str:
    """How good the composed week is proven to be."""
    if block.solver.status == "optimal":
        return "The last build week is the best there is for these rules, as composed."
    percent = 100 * block.solver.gap
    return f"As composed, no week could be more than {percent:.1f} % better for these rules."
