"""A lift one place earlier or later in its session; the two lifts of a pair go together."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import groupby

from blockwright.engine.editing.edited_weeks import open_places, put_entries, weeks_text
from blockwright.engine.editing.edits import OrderLift, Setting
from blockwright.engine.errors import BadInput
from blockwright.engine.review.block_weeks import BlockWeeks
from blockwright.engine.review.derived import renumbered
from blockwright.engine.training import Entry, Session, Week


def reorder(weeks: BlockWeeks, edit: OrderLift, setting: Setting) -> dict[str, float | str]:
    """Carries it out in every week it reaches; BadInput where nothing stands on that side."""
    moved: dict[int, tuple[Entry, ...]] = {}
    for number, session, entry in list(open_places(weeks, edit, setting)):
        entries = _stepped(session.entries, entry, -1 if edit.earlier else 1)
        if entries is not None:
            moved[number] = entries
            put_entries(weeks, number, {session.session: entries})
    if edit.place.week not in moved:
        where = "first" if edit.earlier else "last"
        says = f"{edit.place.lift} is {where} in its session already"
        raise BadInput.of(says, "move it the other way")
    order = next(e.order for e in moved[edit.place.week] if e.lift == edit.place.lift)
    return {"place": order, "weeks": weeks_text(edit)}


def _stepped(entries: Sequence[Entry], entry: Entry, step: int) -> tuple[Entry, ...] | None:
    groups = [list(found) for _, found in groupby(entries, lambda e: e.pair or e.order)]
    at = next(index for index, group in enumerate(groups) if entry in group)
    to = at + step
    if not 0 <= to < len(groups):
        return None
    groups[at], groups[to] = groups[to], groups[at]
    return renumbered([each for group in groups for each in group])


def in_order_of(week: Week, old: Week, days: Collection[str], day_of: Sequence[str]) -> Week:
    """The week with the lifts of some days in the order they had: those it has of them take their
    places in turn. Where that would part a pair, the order stays."""
    sessions = []
    for session in week.sessions:
        was = next(
            (s for s in old.sessions if (s.day, s.start_time) == (session.day, session.start_time)),
            None,
        )
        wanted = was is not None and day_of[session.day.weekday()] in days
        sessions.append(_as_before(session, was) if was is not None and wanted else session)
    return replace(week, sessions=tuple(sessions))


def _as_before(session: Session, was: Session) -> Session:
    places = {entry.lift: at for at, entry in enumerate(was.entries)}
    known = iter(
        sorted((e for e in session.entries if e.lift in places), key=lambda e: places[e.lift])
    )
    entries = [next(known) if each.lift in places else each for each in session.entries]
    labels = [label for label, _ in groupby(entry.pair for entry in entries) if label is not None]
    if len(labels) != len(set(labels)):
        return session
    return replace(session, entries=renumbered(entries))
