"""What the block page shows: weeks across, lifts down, done beside planned, margin notes."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from blockwright.engine.editing import first_open_week, pins_by_lift
from blockwright.engine.review.case import cleared_days
from blockwright.engine.review.exposures import Exposure, exposures_of, week_start
from blockwright.engine.signs import still_said
from blockwright.engine.training import DAY_NAMES, Entry, Session, Week
from blockwright.engine.units import Unit, in_unit, number_text
from blockwright.files.words import caution_says, reason_says
from blockwright.sheets.report_shapes import span_text
from blockwright.sheets.sheet_words import told_once
from .block_words import FACE, done_lines, forecast_text, planned_lines
from .ledger import Note, margin_notes
from .muscle_rows import MuscleRow, muscle_rows
from .stored_case import StoredBlock

OTHER_DAYS = "Other days"


@dataclass(slots=True)
class Cell:
    """One lift in one week, in lines of text."""

    week: int
    done: list[str] = field(default_factory=list)
    planned: list[str] = field(default_factory=list)  # Empty where it is done
    again: list[str] = field(default_factory=list)
    """Those of its lines that an earlier week's cell says already."""
    forecast: str = ""  # The range a forecast load will probably fall in
    left: str = ""  # Why a planned lift has nothing done: "not done"
    session: int = 0
    order: int = 0  # Of the entry within its session; 0 where none is planned
    open: bool = False  # Whether the coach may still change it
    entry: Entry | None = None  # What is planned in an open cell
    load: str = ""  # Its load in the lifter's unit, as typed
    typed: bool = False  # Whether it is other than what is kept
    clashes: list[str] = field(default_factory=list)  # Rules that what was typed here breaks


@dataclass(slots=True)
class Row:
    """One lift of one slot over the weeks."""

    lift: str
    cells: list[Cell]
    notes: list[Note] = field(default_factory=list)
    locked: bool = False  # Whether the lift is pinned to the day of the slot

    @property
    def clashing(self) -> list[Cell]:
        return [cell for cell in self.cells if cell.clashes]

    @property
    def idle(self) -> list[int]:
        """Weeks in which the lift is neither planned nor done."""
        return [cell.week for cell in self.cells if not cell.planned and not cell.done]

    @property
    def change_at(self) -> Cell | None:
        return next((cell for cell in self.cells if cell.open), None)


@dataclass(slots=True)
class Head:
    """A slot in one week: its date and minutes."""

    week: int
    session: int = 0  # 0 where the week has no session in the slot
    day: date | None = None
    minutes: str = ""
    missed: bool = False
    open: bool = False
    unsaid: bool = False
    """Whether nobody said yet what became of it: over, nothing logged, this week or last."""
    clashes: list[str] = field(default_factory=list)
    """Rules of the whole session that what was typed breaks."""


@dataclass(slots=True)
class Group:
    """The sessions of one slot of the week, lifts below."""

    title: str
    heads: list[Head]
    rows: dict[str, Row] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)

    @property
    def trouble_at(self) -> Head | None:
        """The next session of the slot, for what comes in between."""
        return next((head for head in self.heads if head.open), None)

    @property
    def clashing(self) -> list[Head]:
        return [head for head in self.heads if head.clashes]

    @property
    def lifts(self) -> list[Row]:
        """In the order of the last build week each stands in."""

        def place(row: Row) -> int:
            return next((cell.order for cell in reversed(row.cells[:-1]) if cell.order), 99)

        return sorted(self.rows.values(), key=place)


@dataclass(frozen=True, slots=True)
class Column:
    week: int
    kind: str
    rir: str
    dates: str
    state: str  # "done", "this week", "next week", "to come" or "forecast"


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockPage:
    columns: tuple[Column, ...]
    groups: tuple[Group, ...]
    notes: tuple[Note, ...]  # Notes that belong to no row
    muscles: tuple[MuscleRow, ...]
    cautions: tuple[str, ...]
    face: tuple[str, ...]  # What the block is, in a few lines
    reasons: tuple[str, ...]
    refer: bool
    shown_week: int  # The week a narrow screen shows first
    first_open: int | None  # The first build week of which nothing has begun
    unit: Unit

    @property
    def can_change(self) -> bool:
        return any(row.change_at for group in self.groups for row in group.lifts)


def block_page(stored: StoredBlock, *, read_only: bool = False) -> BlockPage:
    """The page of a stored block as of `stored.today`. An earlier revision is `read_only`: what
    was done since is not put beside what it had planned."""
    block = stored.block
    grid = _Grid(stored, read_only=read_only)
    cautions = still_said(block.cautions, cleared_days(stored.case))
    return BlockPage(
        columns=tuple(_columns(stored)),
        groups=tuple(grid.groups.values()),
        notes=tuple(grid.place_notes(margin_notes(stored.row, block))),
        muscles=muscle_rows(stored, read_only=read_only),
        cautions=tuple(told_once(map(caution_says, cautions))),
        face=tuple(reason_says(one) for one in block.reasons if one.code in FACE),
        reasons=tuple(reason_says(one) for one in block.reasons if one.code not in FACE),
        refer=block.status == "refer",
        shown_week=_week_on(stored, stored.today),
        first_open=first_open_week(block, stored.closed),
        unit=block.lifter.units,
    )


def _beside(note: Note) -> Note:
    """A note in the row of its lift and day, which it need not name."""
    named = rf"\b{re.escape(note.lift or '')}(,| on) \w+day: "
    return replace(note, says=re.sub(named, "", note.says, count=1, flags=re.IGNORECASE))


def _week_on(stored: StoredBlock, day: date) -> int:
    """The week of a day; the first before the block, the last after it."""
    number = 1 + (day - stored.block.start).days // 7
    return min(max(number, 1), len(stored.block.weeks))


def _columns(stored: StoredBlock) -> Iterator[Column]:
    now = 1 + (stored.today - stored.block.start).days // 7
    words = {0: "this week", 1: "next week"} if now >= 1 else {1 - now: "to come"}
    for week in stored.block.weeks:
        ahead = week.week - now
        yield Column(
            week=week.week,
            kind=week.kind,
            rir=number_text(week.rir),
            dates=span_text(week_start(stored.block, week.week)),
            state="done" if ahead < 0 else words.get(ahead, "forecast"),
        )


class _Grid:
    def __init__(self, stored: StoredBlock, *, read_only: bool) -> None:
        self.stored, self.read_only = stored, read_only
        self.unit = stored.block.lifter.units
        self.pins = pins_by_lift(stored.block.lifter, stored.case.catalogue)
        self.groups: dict[tuple[int, str], Group] = {}
        case, tomorrow = stored.case, stored.today + timedelta(days=1)
        sets = () if read_only else case.sets
        if stored.row.reader is not None:  # how much it hurt is the lifter's own
            sets = tuple(replace(one, pain=None) for one in sets)
        exposures = exposures_of(stored.block, sets, case.catalogue, tomorrow)
        slots = {
            (session.day.weekday(), session.start_time): f"{session.day:%A} {session.start_time}"
            for week in stored.block.weeks
            for session in week.sessions
        }
        for key, title in sorted(slots.items()):
            heads = [Head(week=week.week) for week in stored.block.weeks]
            self.groups[key] = Group(title=title, heads=heads)
        for week in stored.block.weeks:
            self._week(week, exposures)

    def _week(self, week: Week, exposures: Sequence[Exposure]) -> None:
        start = week_start(self.stored.block, week.week)
        here = [e for e in exposures if 0 <= (e.day - start).days < 7]
        for session in week.sessions:
            group = self.groups[session.day.weekday(), session.start_time]
            self._head(group, week, session)
            for entry in session.entries:
                mine = [e for e in here if e.session == session.session and e.lift == entry.lift]
                self._fill(group, week, session, entry, mine)
        for exposure in here:
            if exposure.session is None:
                self._unplanned(week, exposure)

    def _head(self, group: Group, week: Week, session: Session) -> None:
        group.heads[week.week - 1] = Head(
            week=week.week,
            session=session.session,
            day=session.day,
            minutes=(
                f"{number_text(session.minutes_planned, 0)} of {session.minutes_available} min"
            ),
            missed=session.missed,
            open=not self.read_only and not self.stored.closed.session(session),
            unsaid=self._is_unsaid(session),
        )

    def _is_unsaid(self, session: Session) -> bool:
        """A past session of the last seven days without a set, that is not down as missed and was
        due (the block was made by then)."""
        days_ago = (self.stored.today - session.day).days
        if self.read_only or session.missed or not session.entries or not 0 < days_ago <= 7:
            return False
        if session.day < self.stored.due_from:
            return False
        return session.day not in self.stored.closed.trained

    def _cell(self, group: Group, lift: str, week: Week) -> Cell:
        if lift not in group.rows:
            cells = [Cell(week=each.week) for each in self.stored.block.weeks]
            days = self.pins[lift].days if lift in self.pins else ()
            locked = any(group.title.startswith(DAY_NAMES[day]) for day in days)
            group.rows[lift] = Row(lift=lift, cells=cells, locked=locked)
        return group.rows[lift].cells[week.week - 1]

    def _fill(
        self, group: Group, week: Week, session: Session, entry: Entry, done: Sequence[Exposure]
    ) -> None:
        cell = self._cell(group, entry.lift, week)
        lift = self.stored.case.catalogue.find(entry.lift)
        closed = self.stored.closed.session(session)
        cell.session, cell.order = session.session, entry.order
        if done:
            for exposure in done:
                cell.done += done_lines(exposure.sets, lift)
                if exposure.day != session.day:
                    cell.done.append(f"on {exposure.day:%A}")
            short = len(entry.sets) - sum(len(exposure.sets) for exposure in done)
            if short > 0:
                cell.done.append(f"{len(entry.sets)} sets were planned")
            return
        cell.planned = planned_lines(entry, week, lift, self.unit)
        before = group.rows[entry.lift].cells[: week.week - 1]
        cell.again = [
            line
            for line in cell.planned
            if line.startswith(("load to be", "in turn")) and any(line in c.planned for c in before)
        ]
        cell.forecast = forecast_text(entry, self.unit)
        cell.open = not closed and not self.read_only and week.kind == "build"
        if cell.open:
            load = entry.sets[0].load_kg
            cell.entry = entry
            cell.load = "" if load is None else number_text(in_unit(load, self.unit))
        if closed and not self.read_only and session.day < self.stored.today:
            cell.left = "not done"

    def _unplanned(self, week: Week, exposure: Exposure) -> None:
        """A lift nobody planned: in the group of its day, else among other days."""
        day = exposure.day.weekday()
        key = next((slot for slot in self.groups if slot[0] == day), (7, OTHER_DAYS))
        if key not in self.groups:
            heads = [Head(week=each.week) for each in self.stored.block.weeks]
            self.groups[key] = Group(title=OTHER_DAYS, heads=heads)
        cell = self._cell(self.groups[key], exposure.lift, week)
        lift = self.stored.case.catalogue.find(exposure.lift)
        cell.done += done_lines(exposure.sets, lift)
        where = f"not planned, {exposure.day:%A}" if key[0] == 7 else "not planned"
        cell.done.append(where)

    def place_notes(self, notes: Sequence[Note]) -> Iterator[Note]:
        """Puts each note where it belongs; those that belong to no row come back."""
        for note in notes:
            group = self._group_of(note)
            row = group.rows.get(note.lift or "") if group else self._row_anywhere(note)
            if row is not None:
                row.notes.append(_beside(note) if group else note)
            elif group is not None:
                group.notes.append(note)
            else:
                yield note

    def _group_of(self, note: Note) -> Group | None:
        asked = (note.week, note.session)
        heads = ((group, head) for group in self.groups.values() for head in group.heads)
        found = (group for group, head in heads if (head.week, head.session) == asked)
        return next(found, None) if note.session else None

    def _row_anywhere(self, note: Note) -> Row | None:
        rows = (group.rows.get(note.lift or "") for group in self.groups.values())
        return next(filter(None, rows), None)
