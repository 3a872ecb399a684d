"""Rules over a table's columns as a whole: what their values and each other say of their roles."""

import itertools
import re
from bisect import bisect_right
from collections.abc import Sequence, Set
from dataclasses import replace

from .cells import read_cell
from .days import When, day_of_cell, read_when
from .grids import Cell
from .headings import SOME_SETS, Column, is_label, read_heading, role_of, says_done
from .names import NO_LIFT
from .words import unit_in, words

DATA_OF_A_ROW = 2
MANY = 5
_SCHEME = re.compile(r"\d{1,2} ?x ?\d", re.I)
_NUMBERS = frozenset({"load", "reps", "rir", "rpe", "sets", "set"})
_NUMBER_LIST = re.compile(r"[\d\s.,;/x+@>-]*\d[\d\s.,;/x+@>-]*", re.I)
_OF_SETS = frozenset({"reps", "cell", "sets", "set"})
_OF_RECORDS = frozenset({"lift", "load", "date", "unit"})
WHEN_ROLES = frozenset({"date", "day", "week"})
TICK = re.compile(r"[✓✔✅☑xvy1]|yes|true|done|ok|all|ja|oui|si|sim|as \w+", re.I)
TELLING = frozenset({"load", "reps", "cell", "lift", "sets"})
Columns = dict[int, Column]


def has_lift(columns: Columns) -> bool:
    """Whether a column says the lifts, or of which lift it is."""
    return any(head.role == "lift" or head.lift for head in columns.values())


def with_lift_column(columns: Columns) -> Columns:
    """A column called "Name" holds people beside a column of lifts, else lifts."""
    names = [column for column, head in columns.items() if head.role == "lifter"]
    if has_lift(columns) or not names:
        return columns
    return {**columns, names[0]: replace(columns[names[0]], role="lift")}


def dates_below(cells: Sequence[Cell], columns: Columns) -> Columns:
    """The columns with the days of a row "Date:" below their header, or of a weekday under weeks
    of loads and repetitions; {} for any other row."""
    dated = role_of(cells[0].text) == "date"
    if not columns or not (dated or _is_day_of_weeks(cells[0], columns)):
        return {}
    days = {cell.column: day for cell in cells[1:] if (day := day_of_cell(cell)) is not None}
    if not days or len(days) < len(cells) - 1:
        return {}
    told: Columns = {}
    for column, old in columns.items():
        before = [first for first in days if first <= column]
        told[column] = replace(old, when=When(days[max(before)])) if before else old
    return told


def is_card_line(cells: Sequence[Cell]) -> bool:
    """Whether a row says whose or of which day the rows below are: "Client: | Ana"."""
    for label, said in itertools.zip_longest(cells[::2], cells[1::2]):
        role = role_of(label.text)
        if said is None or role not in ("lifter", "date"):
            return False
        if (day_of_cell(said) is None) == (role == "date"):
            return False
    return bool(cells)


def _is_day_of_weeks(cell: Cell, columns: Columns) -> bool:
    """Whether a row begins with a day, under columns of loads and repetitions a week or a day."""
    when = read_when(cell)
    if when.day is not None or when.weekday is when.session is None:
        return False
    weeks = {head.when for head in columns.values() if head.role == "load" and head.when}
    return len(weeks) >= DATA_OF_A_ROW


def is_data(cell: Cell, columns: Columns) -> bool:
    """Whether a cell is what its column holds: a number or a list of them, a unit."""
    head = columns.get(cell.column)
    if head is not None and head.role == "unit":
        return unit_in(cell.text) is not None
    if head is not None and head.role == "cell":
        return tells_sets(cell)
    if head is not None and head.role == "date":
        return day_of_cell(cell) is not None
    if head is None or head.role not in _NUMBERS:
        return False
    if not isinstance(cell.value, str):
        return day_of_cell(cell) is None
    if (day := day_of_cell(cell)) is not None and day.readings[0][0] is not None:
        return False
    return _NUMBER_LIST.fullmatch(cell.text) is not None or bool(read_cell(cell.text))


def with_dates(columns: Columns, below: dict[int, list[Cell]]) -> Columns:
    """ "Start" over days is their date, where no other column tells it."""
    if any(head.role in ("date", "day") or head.when for head in columns.values()):
        return columns
    for column, head in columns.items():
        cells = below.get(column, ())
        if head.role == "skip" and not head.planned and cells and all(map(day_of_cell, cells)):
            return {**columns, column: Column("date")}
    return columns


def without_needless_schemes(columns: Columns) -> Columns:
    """The columns with a lift's "3x5" only where no column tells its repetitions, and as those of
    one set where each has its column."""
    told = {(head.lift, head.lifter) for head in columns.values() if head.role == "reps"}
    return {
        column: replace(head, scheme=_scheme_of(head, told)) if head.scheme else head
        for column, head in columns.items()
    }


def _scheme_of(head: Column, told: set[tuple[str, str]]) -> str:
    if (head.lift, head.lifter) in told:
        return ""
    return re.split(r"\s*x\s*", head.scheme, flags=re.I)[-1] if head.set_number else head.scheme


def with_labels_of_pairs(columns: Columns) -> Columns:
    """ "Squat kg | sets x reps | Bench kg | sets x reps": what repeats without a label has that of
    the column left of it."""
    told = dict(columns)
    bare = [c for c, head in columns.items() if head.role in _NUMBERS | {"cell"} and not
            head.is_labelled and not head.planned]  # fmt: skip
    left = [columns.get(c - 1, Column("skip")) for c in bare]
    roles = {columns[c].role for c in bare}
    labelled = all(h.lift or (h.when and h.role == "cell") for h in left)
    if len(bare) >= DATA_OF_A_ROW and len(roles) == 1 and labelled:
        for column, head in zip(bare, left, strict=True):
            told[column] = columns[column].under(head)
    return told


def without_side_table(columns: Columns) -> Columns:
    """A second date right of the sets, over nothing that tells one, begins a table of its own."""
    telling = [column for column, head in columns.items() if head.role in TELLING]
    dates = [column for column, head in columns.items() if head.role == "date"]
    aside = [date for date in dates if telling and date > max(telling) and date != min(dates)]
    aside += [date for date in dates if _weighs_in(date, columns)]
    if not aside:
        return columns
    return {
        column: Column("skip") if column >= min(aside) else head for column, head in columns.items()
    }


def _weighs_in(date: int, columns: Columns) -> bool:
    """Whether behind a gap right of the sets only a date and a weight stand: of the body."""
    left = {head.role for column, head in columns.items() if column < date}
    right = sorted(head.role for column, head in columns.items() if column >= date)
    sets = "lift" in left and left & {"load", "cell"}
    return bool(sets) and right == ["date", "load"] and date - 1 not in columns


def with_plan_beside_done(
    columns: Columns, cells: Sequence[Cell], below: dict[int, list[Cell]]
) -> Columns:
    """ "Reps" beside "Actual reps" is what was planned, and so are sets, repetitions and load
    beside an "Actual" over ticks and whole sets."""
    done = {c.column for c in cells if c.column in columns and says_done(c.text)}
    roles = {columns[column].role for column in done} & {"load", "reps", "rpe", "rir"}
    for column in done:
        told = [cell for cell in below.get(column, ()) if tells_sets(cell)]
        if told and any(TICK.fullmatch(cell.text) for cell in below[column]):
            roles |= {"load", "reps", "sets"} if columns[column].role == "cell" else set()
    return {
        column: replace(head, planned=True)
        if column not in done and head.role in roles and not head.is_labelled
        else head
        for column, head in columns.items()
    }


def with_plan_beside_labels(columns: Columns, below: dict[int, list[Cell]]) -> Columns:
    """Loads and repetitions of no set, week or person were planned, where columns of each tell
    what was done: "Sets | Reps | Load | 1 | 2 | 3" over "80x8"."""
    starts = starts_of_tables(columns)
    parts: dict[int, Columns] = {}
    for column, head in columns.items():
        # Each table beside another has its own plan.
        parts.setdefault(bisect_right(starts, column), {})[column] = head
    return {c: h for part in parts.values() for c, h in _with_plan(part, below).items()}


def _with_plan(columns: Columns, below: dict[int, list[Cell]]) -> Columns:
    told: set[str] = set()
    for column, head in columns.items():
        of_each = (head.set_number or 0) >= 0 and head.set_number not in SOME_SETS.values()
        if head.is_labelled and not head.planned and of_each:
            whole = [cell for cell in below.get(column, ()) if tells_sets(cell)]
            many = head.role == "cell" and len(whole) * 2 > len(below.get(column, ()))
            told |= {"load", "reps", "sets"} if many else {head.role} & {"load", "reps"}
    found = dict(columns)
    for column, head in columns.items():
        schemes = [cell for cell in below.get(column, ()) if _SCHEME.match(cell.text)]
        scheme = head.role == "cell" and {"load", "reps"} <= told and schemes
        if not head.is_labelled and (head.role in told or scheme):
            found[column] = replace(head, planned=True)
    return found


def without_best_lifts(columns: Columns, used: Set[int]) -> Columns:
    """Lifts and loads beside a full table, over no repetitions, are no sets: "Best lifts | kg"."""
    ordered = sorted(columns)
    for at, start in enumerate(ordered):
        own = [columns[column] for column in ordered[:at] if not columns[column].planned]
        if not {"lift", "load", "reps"} <= {head.role for head in own}:
            continue
        aside = {column: columns[column] for column in ordered[at:]}
        left = start - 1
        while left in used and left not in columns:
            left -= 1
        if columns[start].role != "lift" and left in used:
            continue
        if any(h.is_labelled or h.role in _OF_SETS for h in aside.values()):
            continue
        gone = {c: Column("skip") for c, h in aside.items() if h.role in _OF_RECORDS}
        return {**columns, **gone}
    return columns


def is_plain(cell: Cell) -> bool:
    """Whether a cell neither heads a column nor names a day or a way to train."""
    said = cell.text.lower()
    if said == "max":
        # A first name too; a best is one number, not whole sets.
        return True
    known = said in NO_LIFT or said in words()["headings"]["no_person"]
    return not known and read_heading(cell.text) is None and not read_when(cell)


def with_counters(columns: Columns, below: dict[int, list[Cell]]) -> Columns:
    """ "Serie" over 1, 2, 3 within each lift numbers the sets, over 3, 3, 4 it counts them, over
    "3x12" it tells them where no other column does."""
    counts_alone = not any(head.role in ("reps", "cell") for head in columns.values())
    lifts = [below[column] for column, head in columns.items() if head.role == "lift"
             and column in below]  # fmt: skip
    names = {cell.row: cell.text for cell in lifts[0]} if lifts else {}
    told = dict(columns)
    for column, head in columns.items():
        cells = [cell for cell in below.get(column, []) if cell.text.isdecimal()]
        if head.role not in ("set", "sets") or len(cells) * 2 <= len(below.get(column, [])):
            if head.role == "sets" and counts_alone and column in below and not head.planned:
                told[column] = replace(head, role="cell")
            continue
        number, lift, begun, went_on = 0, "", 0, 0
        for cell in cells:
            lift, before = names.get(cell.row, lift), lift
            begun += int(cell.text) == 1
            went_on += int(cell.text) == number + 1 > 1 and lift == before
            number = int(cell.text)
        # A letter for a warm-up stands among numbers of sets, not among counts.
        marked = any(cell.text.isalpha() for cell in below.get(column, ()))
        enough = marked or went_on >= DATA_OF_A_ROW
        if head.role == "sets" and enough and begun + went_on == len(cells):
            told[column] = replace(head, role="set")
        elif head.role == "set" and cells and not begun and not went_on:
            told[column] = replace(head, role="sets")
    return told


def with_set_numbers(columns: Columns) -> Columns:
    """ "kg, reps, kg, reps" beside one lift are the first set and the second, after warm-ups."""
    own = {column: head for column, head in columns.items() if (head.set_number or 0) >= 0}
    parts = [
        (column, head)
        for column, head in sorted(own.items())
        if head.role in ("load", "reps", "rpe", "rir") and not head.planned
    ]
    labelled = any(head.is_labelled for head in own.values())
    lifts = sum(head.role == "lift" for head in columns.values())
    counts = [sum(head.role == role for _, head in parts) for role in ("load", "reps")]
    if labelled or lifts != 1 or counts[0] != counts[1] or counts[0] < DATA_OF_A_ROW:
        return columns
    first, seen = parts[0][1].role, 0
    each = {role for role in ("load", "reps", "rpe", "rir") if
            sum(head.role == role for _, head in parts) == counts[0]}  # fmt: skip
    told = dict(columns)
    for column, head in parts:
        seen += head.role == first
        if head.role in each:
            # One effort beside them all is the row's.
            told[column] = replace(head, set_number=seen)
    return told


def with_more_reps(
    columns: Columns, header: Sequence[Cell], below: dict[int, list[Cell]]
) -> Columns:
    """ "Reps" over as many columns as there are sets: those right of it without a heading, over
    numbers much like its own."""
    told = dict(columns)
    headed = columns.keys() | {cell.column for cell in header}
    for column, head in columns.items():
        first = {c.row: int(c.text) for c in below.get(column, ()) if c.text.isdecimal()}
        if head.role != "reps" or head.planned or head.is_labelled or not first:
            continue
        for at in itertools.count(column + 1):
            cells = below.get(at, [])
            like = [c for c in cells if c.text.isdecimal() and
                    first.get(c.row, 0) <= 2 * int(c.text) <= 4 * first.get(c.row, 0)]  # fmt: skip
            if at in headed or not cells or len(like) * 4 < len(cells) * 3:
                break
            told[at] = replace(head, set_number=at - column + 1)
            told[column] = replace(head, set_number=1)
    return told


def repeats(named: Columns) -> bool:
    """Whether a role stands in several columns: of weeks or lifts named above an earlier table."""
    roles = [head.role for head in named.values() if head.role in ("load", "reps")]
    return len(roles) > len(set(roles))


def label_width(columns: Columns) -> int:
    """How many columns a label spans: the usual distance of two."""
    labels = sorted(column for column, head in columns.items() if is_label(head))
    return min((later - first for first, later in itertools.pairwise(labels)), default=1)


def tells_sets(cell: Cell) -> bool:
    """Whether a cell tells whole sets, and is no day ("25/12")."""
    told = isinstance(cell.value, str) and read_cell(cell.text).kind == "sets"
    return told and day_of_cell(cell) is None


def is_value(cell: Cell) -> bool:
    """Whether a cell can tell a set or a part of one."""
    if isinstance(cell.value, str):
        return bool(read_cell(cell.text))
    return day_of_cell(cell) is None


def starts_of_tables(columns: Columns) -> list[int]:
    """The columns where tables that stand side by side begin; [] for one."""
    lifts = sorted(column for column, head in columns.items() if head.role == "lift")
    dates = sorted(column for column, head in columns.items() if head.role == "date")
    if len(lifts) < 2 and (lifts or len(dates) < 2):
        return []
    if len(lifts) < 2:
        lifts = dates
    starts = []
    for before, lift in itertools.pairwise([-1, *lifts]):
        own = [
            column
            for column in range(before + 1, lift)
            if column in columns and columns[column].role in WHEN_ROLES
        ]
        starts.append(min([*own, lift]))
    return starts


def segments(cells: Sequence[Cell], starts: Sequence[int]) -> Sequence[Sequence[Cell]]:
    """The row's cells cut where a second table stands beside the first."""
    parts: list[list[Cell]] = [[] for _ in starts]
    for cell in cells if starts else ():
        parts[max(bisect_right(starts, cell.column) - 1, 0)].append(cell)
    return parts or [cells]


def holds_for_all(role: str, columns: Columns) -> bool:
    """Whether one column of the role, left of the first lift, holds for all of a row."""
    found = [column for column, head in columns.items() if head.role == role]
    lifts = [column for column, head in columns.items() if head.role == "lift"]
    return len(found) == 1 and found[0] < min(lifts, default=0)
