"""Any spreadsheet's CSV to a header and rows: encoding, separator, blank lines, broken quotes.

What was assumed on the way comes back as warnings; what cannot be read is BadInput."""

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from pathlib import Path

from blockwright.engine.errors import BadInput, Problem
from .limits import MEND, MOST_BYTES, MOST_COLUMNS, MOST_ROWS, SAYS, is_storable, read_limited
from .near import nearest

_SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}
_NOT_TEXT = {
    b"PK\x03\x04": "is a workbook, a text document or an archive, not a CSV file",
    b"\xd0\xcf\x11\xe0": "is an old workbook, not a CSV file",
    b"%PDF": "is a PDF, not a CSV file",
    b"\x89PNG": "is a picture, not a CSV file",
}
_LONGEST_HEADER = 100_000
_HEADER_BYTES = 65_536

# What people call the columns, beside near spellings. Suggested, never assumed.
_OTHER_NAMES = {
    "date": "when", "day": "when", "datum": "when", "time": "when", "timestamp": "when",
    "exercise": "lift", "movement": "lift", "exercise_name": "lift",
    "weight": "load", "load_kg": "load", "load_lb": "load", "weight_kg": "load", "kg": "load",
    "weight_lb": "load", "lb": "load", "lbs": "load",
    "repetitions": "reps", "rep": "reps", "units": "unit", "set_number": "set", "sets": "set",
    "reps_in_reserve": "rir", "rest": "rest_s", "rest_sec": "rest_s", "rest_seconds": "rest_s",
    "notes": "note", "comment": "note", "comments": "note", "name": "lifter", "athlete": "lifter",
    "type": "method", "set_type": "method", "full_rom": "full_range", "rom": "full_range",
    "metric": "measure", "joint": "about", "muscle": "about", "score": "value", "rating": "value",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CsvFile:
    """A header and its rows, each as wide as the header or wider."""

    file: str
    columns: tuple[str, ...]
    """Header words in the form of the contract: lower case, `_` for anything else."""
    rows: list[tuple[int, list[str]]]
    """Row number as a spreadsheet shows it, and cells; blank rows are left out."""
    warnings: tuple[Problem, ...]


def cell_of(value: object) -> str:
    """A value as the cell of a file; a number as short as it reads back, since the readers take
    nine decimals."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.9f}".rstrip("0").rstrip(".")
    return "" if value is None else str(value)


def one_row(said: Mapping[str, object]) -> CsvFile:
    """A file of one row, so that what comes otherwise is read by a file's rules."""
    row = [cell_of(value) for value in said.values()]
    return CsvFile(file="", columns=tuple(said), rows=[(1, row)], warnings=())


def read_csv(path: Path, known: Sequence[str], required: Sequence[str]) -> CsvFile:
    """Reads a CSV file whose header should hold `known` columns and must hold `required`.

    Raises BadInput when the file is not text, has no usable header or a quote never closes."""
    text, warnings = decoded(path)
    separator, text = _separator(text, known)
    if separator != ",":
        says = f"columns are separated by {_SEPARATORS[separator]}"
        warnings.append(Problem(file=path.name, says=says, mend="read so"))
    records = _records(text, separator, path.name)
    if len(records) > MOST_ROWS:
        raise BadInput.of(f"has more than {MOST_ROWS} rows", "give it in parts", file=path.name)
    header_at = next((i for i, cells in enumerate(records) if any(map(str.strip, cells))), None)
    if header_at is None:
        raise BadInput.of("is empty", _header_mend(required), file=path.name)
    columns = tuple(column_name(cell) for cell in records[header_at])
    while columns and not columns[-1]:
        columns = columns[:-1]
    if len(columns) > MOST_COLUMNS:
        says = f"has more than {MOST_COLUMNS} columns"
        mend = "keep the columns that are known"
        raise BadInput.of(says, mend, file=path.name, row=header_at + 1)
    if "lift" in required and {"measure", "value"} <= {*columns}:
        raise BadInput.of("is a check-ins file", "give it as --checkins", file=path.name)
    problems, notes = _header_findings(path.name, header_at + 1, columns, known, required)
    BadInput.raise_any(problems)
    if "'" in text:
        records = [[as_it_was(cell) for cell in cells] for cells in records]
    rows = [
        (at, cells)
        for at, cells in enumerate(records[header_at + 1 :], header_at + 2)
        if cells and (cells[0].strip() or any(map(str.strip, cells)))
    ]
    if not rows:
        notes.append(Problem("has a header and no rows", "add a row for each fact", path.name))
    return CsvFile(path.name, columns, rows, (*warnings, *notes))


def header_of(path: Path, known: Sequence[str]) -> tuple[str, ...]:
    """The header words of a CSV file, to tell its kind; empty when there is none."""
    text, _ = decoded(path, _HEADER_BYTES)
    separator, text = _separator(text, known)
    line = next((line for line in text.splitlines() if line.strip()), "")
    return tuple(column_name(cell) for cell in _split(line, separator))


def column_name(cell: str) -> str:
    """A header cell in the form of the contract: " Rest (s)" is `rest_s`."""
    return re.sub(r"[^0-9a-z]+", "_", cell.strip().lower()).strip("_")


def decoded(path: Path, most_bytes: int | None = None) -> tuple[str, list[Problem]]:
    data = read_limited(path, most_bytes or MOST_BYTES, cut=most_bytes is not None)
    is_text = path.suffix.lower() in (".doc", ".docx", ".odt", ".pages", ".pdf", ".rtf")
    copy = "copy its table into a spreadsheet, and " * is_text
    for magic, says in _NOT_TEXT.items():
        if data.startswith(magic):
            raise BadInput.of(says, f"{copy}save it as CSV (UTF-8)", file=path.name)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _decoded_utf16(data, path.name)
    if b"\x00" in data:
        raise BadInput.of("is not a text file", "save it as CSV (UTF-8)", file=path.name)
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError as error:
        row = data[: error.start].count(b"\n") + 1
    says = "is not UTF-8; read as Western European text (Windows-1252)"
    warning = Problem(file=path.name, row=row, says=says, mend="save it as CSV (UTF-8)")
    try:
        return data.decode("cp1252"), [warning]
    except UnicodeDecodeError:
        return data.decode("latin-1"), [warning]


def _decoded_utf16(data: bytes, file: str) -> tuple[str, list[Problem]]:
    try:
        text = data.decode("utf-16")
    except UnicodeDecodeError as error:
        raise BadInput.of("is not a text file", "save it as CSV (UTF-8)", file=file) from error
    if not is_storable(text):
        row = next(at for at, line in enumerate(text.split("\n"), 1) if not is_storable(line))
        raise BadInput.of(SAYS, MEND, file=file, row=row)
    return text, [Problem(file=file, says="read as UTF-16", mend="save it as CSV (UTF-8)")]


def _separator(text: str, known: Sequence[str]) -> tuple[str, str]:
    """The separator whose reading of the header knows most columns, and the text after `sep=`."""
    first, newline, rest = text.partition("\n")
    if re.fullmatch(r'"?sep=[,;|\t]"?\s*', first) and newline:
        # A spreadsheet takes this line for itself and counts the header as row 1.
        return first.strip('"\r')[4], rest
    line = next((line for line in text.splitlines() if line.strip()), "")[:_LONGEST_HEADER]

    def fitness(separator: str) -> tuple[int, int]:
        cells = [column_name(cell) for cell in _split(line, separator)]
        return sum(cell in known for cell in cells), len(cells)

    return max(_SEPARATORS, key=fitness), text


def _split(line: str, separator: str) -> list[str]:
    try:
        return next(csv.reader([line], delimiter=separator), [])
    except csv.Error:
        return line.split(separator)


def _records(text: str, separator: str, file: str) -> list[list[str]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    records: list[list[str]] = []
    try:
        records.extend(islice(reader, MOST_ROWS + 1))
    except csv.Error as error:
        if "field larger" in str(error) or "unexpected end" in str(error):
            says = "a quote opens here and does not close"
            mend = 'close it with ", or write "" for a quote inside a text'
            raise BadInput.of(says, mend, file=file, row=len(records) + 1) from error
    else:
        return records
    # A quote in the middle of a text: harmless when read loosely.
    try:
        loose = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
        return list(islice(loose, MOST_ROWS + 1))
    except csv.Error as error:
        mend = "save it anew as CSV (UTF-8)"
        raise BadInput.of("its quotes cannot be read", mend, file=file) from error


def _header_findings(
    file: str, row: int, columns: Sequence[str], known: Sequence[str], required: Sequence[str]
) -> tuple[list[Problem], list[Problem]]:
    """What is wrong with a header, and what to note about it."""
    errors: list[Problem] = []
    says, mend = "this column stands twice", "keep one or rename the other"
    for column in dict.fromkeys(columns):
        if column and columns.count(column) > 1:
            errors.append(Problem(says, mend, file=file, row=row, column=column))
    missing = [column for column in known if column not in columns]
    extra = [column for column in columns if column and column not in known]
    meant = {column: _meant(column, missing) for column in extra}
    for column in required:
        if column in columns:
            continue
        like = [other for other, name in meant.items() if name == column]
        mend = f'is it the column "{like[0]}"? rename it {column}' if like else ""
        mend = mend or _header_mend(required)
        errors.append(Problem("this column is missing", mend, file=file, row=row, column=column))
    notes = [
        Problem(file=file, row=row, column=column, says="is kept as a note only",
                mend=f'did you mean "{name}"?')
        for column, name in meant.items()
        if name is not None and name not in required
    ]  # fmt: skip
    return errors, notes


def _meant(column: str, missing: Iterable[str]) -> str | None:
    missing = list(missing)
    other = _OTHER_NAMES.get(column)
    if other in missing:
        return other
    return next(iter(nearest(column, missing)), None)


def _header_mend(required: Sequence[str]) -> str:
    return "the first row must name the columns, at least: " + ", ".join(required)


_RUNS = tuple("=+-@\t\r\n＝＋－＠")
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


@lru_cache(maxsize=4096)
def harmless(cell: str) -> str:
    """The cell as it is written: a spreadsheet takes one that begins with `= + - @`, a tab or a
    line end for a formula and runs it. An apostrophe before it makes it text; our reader takes it
    away again. Plain numbers stay."""
    if not _would_run(cell) or _NUMBER.fullmatch(cell):
        return cell
    return f"'{cell}"


def as_it_was(cell: str) -> str:
    """The cell that `harmless` wrote."""
    return cell[1:] if cell.startswith("'") and _would_run(cell) else cell


def _would_run(cell: str) -> bool:
    """Also of a text with apostrophes before it: one more must come off it again."""
    return cell.lstrip("'").startswith(_RUNS)
