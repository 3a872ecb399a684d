"""What one block has that another has not, line by line: sets, loads, minutes, muscles.

One line for each thing that changes; weeks that change alike stand together in it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.proposals import load_said, with_unit
from blockwright.engine.training import DAY_NAMES, Block, Catalogue, Entry, Session, Week
from blockwright.engine.units import number_text, spoken
from .edits import SetRange

Facts = dict[str, FactValue]
_Said = Callable[[str, float | None], str]  # A lift's load, in words


@dataclass(frozen=True, slots=True)
class _Line:
    """One change in one week: what it is about, and from what to what ("" where that says all)."""

    group: str
    code: str
    about: Facts
    change: str = ""


def differences(before: Block, after: Block, catalogue: Catalogue) -> tuple[Reason, ...]:
    """What changes from `before` to `after`: pins and lifts first, then loads, minutes, muscles.
    Empty when nothing does."""
    lines: list[tuple[_Line, int]] = []
    old_weeks = {week.week: week for week in before.weeks}

    def said(lift: str, load_kg: float | None) -> str:
        unit = after.lifter.units
        load = "" if load_kg is None else load_said(load_kg, catalogue.find(lift), unit)
        return with_unit(load, unit) or "to be found"

    for week in after.weeks:
        old = old_weeks.pop(week.week, None)
        if old != week:
            lines += [(line, week.week) for line in _week_lines(old, week, said)]
    lines += [(_Line("weeks", "diff_week_gone", {}), number) for number in old_weeks]
    told = list(_pins(before, after))
    for group in ("weeks", "lifts", "loads", "minutes", "muscles"):
        told += _joined([pair for pair in lines if pair[0].group == group])
    return tuple(told)


def _joined(lines: Sequence[tuple[_Line, int]]) -> Iterator[Reason]:
    """One reason for each thing that changes, with what it changes to and in which weeks."""
    found: dict[str, dict[str, list[int]]] = {}
    about: dict[str, _Line] = {}
    for line, week in lines:
        key = f"{line.code} {line.about!r}"
        about.setdefault(key, line)
        found.setdefault(key, {}).setdefault(line.change, []).append(week)
    for key, changes in found.items():
        line = about[key]
        said = ", ".join(
            f"{change} ({weeks_text(weeks)})" if change else weeks_text(weeks)
            for change, weeks in changes.items()
        )
        yield Reason(code=line.code, facts={**line.about, "changes": said})


def weeks_text(weeks: Sequence[int]) -> str:
    """ "week 3", "weeks 3-6", "weeks 2, 4-5"."""
    runs: list[list[int]] = []
    for number in sorted(set(weeks)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    text = ", ".join(f"{r[0]}-{r[-1]}" if len(r) > 1 else str(r[0]) for r in runs)
    return f"week {text}" if text.isdigit() else f"weeks {text}"


def _week_lines(old: Week | None, new: Week, said: _Said) -> Iterator[_Line]:
    if old is None:
        yield _Line("weeks", "diff_week_new", {})
        return
    if old.kind != new.kind:
        yield _Line("weeks", "diff_week_kind", {"kind": new.kind})
    was, now = _entries(old), _entries(new)
    for key in dict.fromkeys((*was, *now)):
        yield from _entry_lines(was.get(key), now.get(key), said)
    starts = _by_start(old)
    for day, session in _by_start(new).items():
        yield from _minutes_line(starts.pop(day, None), session)
    for session in starts.values():
        yield _Line("minutes", "diff_session_gone", {"day": f"{session.day:%A}"})
    for muscle, sets in new.muscle_sets.items():
        before = old.muscle_sets.get(muscle)
        if before is not None and abs(before.fractional - sets.fractional) > 1e-9:
            about: Facts = {
                "muscle": spoken(muscle),
                "floor": number_text(sets.floor, 0),
                "ceiling": number_text(sets.ceiling, 0),
            }
            change = f"{number_text(before.fractional)} → {number_text(sets.fractional)}"
            yield _Line("muscles", "diff_muscle", about, change)


def _by_start(week: Week) -> dict[tuple[int, str], Session]:
    return {(s.day.weekday(), s.start_time): s for s in week.sessions}


def _entries(week: Week) -> Mapping[tuple[int, str, str], tuple[Session, Entry]]:
    """By weekday, start and lift."""
    return {
        (s.day.weekday(), s.start_time, e.lift): (s, e) for s in week.sessions for e in s.entries
    }


def _entry_lines(
    was: tuple[Session, Entry] | None, now: tuple[Session, Entry] | None, said: _Said
) -> Iterator[_Line]:
    found = now or was
    if found is None:
        return
    session, entry = found
    about: Facts = {"lift": entry.lift, "day": f"{session.day:%A}"}
    if was is None or now is None:
        code = "diff_lift_in" if was is None else "diff_lift_out"
        sets = len(entry.sets)
        yield _Line("lifts", code, about, f"{sets} set{'' if sets == 1 else 's'}")
        return
    before = was[1]
    if len(before.sets) != len(entry.sets):
        yield _Line("lifts", "diff_sets", about, f"{len(before.sets)} → {len(entry.sets)}")
    if (before.pair is None) != (entry.pair is None):
        yield _Line("lifts", "diff_pair_gone" if entry.pair is None else "diff_pair_new", about)
    for code, old_words, new_words in (
        ("diff_reps", range_text(before), range_text(entry)),
        ("diff_reserve", _reserve(before), _reserve(entry)),
    ):
        if old_words != new_words:
            yield _Line("lifts", code, about, f"{old_words} → {new_words}")
    loads = (before.sets[0].load_kg, entry.sets[0].load_kg)
    if loads[0] != loads[1]:
        change = " → ".join(said(entry.lift, load_kg) for load_kg in loads)
        yield _Line("loads", "diff_load", about, change)


def range_text(of: Entry | SetRange) -> str:
    """The range an entry is written for, or shall be: "8-12" with its dash."""
    low, high = (of.low, of.high) if isinstance(of, SetRange) else (
        of.sets[0].reps_low, of.sets[0].reps_high
    )  # fmt: skip
    return str(low) if low == high else f"{low}–{high}"


def _reserve(entry: Entry) -> str:
    """Of the first set and, where it differs, the last."""
    ends = dict.fromkeys(number_text(row.rir) for row in (entry.sets[0], entry.sets[-1]))
    return ", last ".join(ends)


def _minutes_line(was: Session | None, now: Session) -> Iterator[_Line]:
    day: Facts = {"day": f"{now.day:%A}"}
    if was is None:
        yield _Line("minutes", "diff_session_new", day)
    elif now.missed and not was.missed:
        yield _Line("minutes", "diff_session_missed", day)
    elif round(was.minutes_planned) != round(now.minutes_planned):
        about: Facts = {**day, "minutes_available": now.minutes_available}
        change = f"{was.minutes_planned:.0f} → {now.minutes_planned:.0f}"
        yield _Line("minutes", "diff_minutes", about, change)


def _pins(before: Block, after: Block) -> Iterator[Reason]:
    old = {(pin.lift, day) for pin in before.lifter.pins for day in pin.days or ("",)}
    new = {(pin.lift, day) for pin in after.lifter.pins for day in pin.days or ("",)}
    for code, pins in (("diff_pinned", new - old), ("diff_unpinned", old - new)):
        for lift, day in sorted(pins):
            said = DAY_NAMES.get(day, "a day of the week")
            yield Reason(code=code, facts={"lift": lift, "day": said})
