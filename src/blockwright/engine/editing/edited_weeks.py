"""Where an edit reaches: its own week and the open ones after it; putting what it makes there."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from blockwright.engine.editing.edits import Setting, WeekEdit
from blockwright.engine.planning.loads import LoadPaths, Step
from blockwright.engine.review.block_weeks import BlockWeeks, Found
from blockwright.engine.training import Entry, Lift, RepRange, Week


def weeks_text(edit: WeekEdit) -> str:
    week = edit.place.week
    return f"in week {week} only" if edit.only_this_week else f"from week {week} on"


def open_places(weeks: BlockWeeks, edit: WeekEdit, setting: Setting) -> Iterator[Found]:
    """The entry in its week and, unless it is for that week only, in those after it."""
    place = edit.place
    for number, session, entry in weeks.entries(place.week, place.session, place.lift):
        if number == place.week or (
            not edit.only_this_week and not setting.closed.session(session)
        ):
            yield number, session, entry


def put_week(weeks: BlockWeeks, week: Week) -> None:
    index = next(i for i, found in enumerate(weeks.weeks) if found.week == week.week)
    weeks.weeks[index] = week


def put_entries(
    weeks: BlockWeeks, number: int, entries_of: Mapping[int, tuple[Entry, ...]]
) -> None:
    """The week with other entries in some sessions, by number of the session."""
    week = next(found for found in weeks.weeks if found.week == number)
    sessions = tuple(
        replace(s, entries=entries_of[s.session]) if s.session in entries_of else s
        for s in week.sessions
    )
    put_week(weeks, replace(week, sessions=sessions))


def with_loads(places: Sequence[Found], lift: Lift, setting: Setting) -> list[Found]:
    """The entries with loads from the lifter's own log. Where it has none, what stood stays."""
    if setting.paths is None or not places:
        return list(places)
    made = []
    for (number, session, entry), step in zip(
        places, load_steps(places, lift, setting.paths), strict=True
    ):
        made.append((number, session, entry if step.load_kg is None else _at(entry, step)))
    return made


def load_steps(places: Sequence[Found], lift: Lift, paths: LoadPaths) -> Sequence[Step]:
    """Loads in these places by the lifter's own log, for the first place's range and rest."""
    _, _, entry = places[0]
    first = entry.sets[0]
    reps = RepRange(low=first.reps_low, high=first.reps_high)
    asked = [(s.day, e.sets[0].rir, len(e.sets)) for _, s, e in places]
    return paths.path(lift, reps, entry.rest_s, asked)


def _at(entry: Entry, step: Step) -> Entry:
    load, forecast = step.load_kg, step.forecast_kg
    rows = (
        replace(row, load_kg=load, forecast_kg=forecast, aim_low=None, aim_high=None)
        for row in entry.sets
    )
    return replace(entry, sets=tuple(rows))
