"""What a sheet says about its own notation: "all kg", "* = warm-up", "RPE is for every set".

Such sentences stand anywhere, often below everything; so they are looked for before the rows are
read, and what they mean is written into the cells."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from blockwright.engine.units import Unit
from .days import day_of_cell
from .grids import Cell, Grid
from .headings import role_of
from .names import words_of
from .tokens import BODY, NUMBER
from .words import UNIT, one_of, unit_in, without_warmup

_OF_ALL = re.compile(rf"\b{one_of('of_all')}\b", re.I)
_UNLESS = re.compile(r"\b(?:unless|except|if not|falls nicht|sauf|salvo|exceto)\b.*", re.I)
_TITLE_UNIT = re.compile(
    r"[(\[](?:all |in )?(kgs?|kilos?|lbs?|pounds)[)\],;]|(?:kgs?|lbs?)!*", re.I
)
_MOST_WORDS = 4
"""Before a unit in a clause that says whose it is: "Ana still logs in pounds" (judgement)."""
_EACH = re.compile(r"\b(?:rpe|rir)\b.{0,200}\b(?:every|each|all)\b.{0,200}\bsets?\b", re.I)
_LAST = re.compile(
    r"\b(?:rpe|rir)\b[^.]{0,200}\b(?:last|final) (?:work(?:ing)? )?set|^last set$"
    r"|\b(?:rpe|rir) (?:(?:at|on|of) (?:the )?)?(?:last|end)$"
    r"|\b(?:last|final) (?:set|one) (?:rpe|rir)\b|\b(?:rpe|rir)\b[^.]{0,200}"
    r"\b(?:letzten?|[uú]ltim[ao]|derni[eè]re?)(?: satz\b| s[eé]rie\b|$)",
    re.I,
)
_DUMBBELLS = re.compile(
    r"\b(?:all|only|nur|tout|todo) (?:with )?(?:dumbbells?|dbs?|kurzhanteln?|mancuernas)\b|"
    r"(?<!db )(?<!dumbbell )\b(?:kgs?|lbs?|weights?|loads?)\s*(?:=|are|is|:)?\s*"
    r"(?:each|per|of each|of one|je|pro)\s+(?:dumbbell|db|kurzhantel)\b",
    re.I,
)
_OF_DUMBBELLS = re.compile(r"\b(?:dbs?|dumbbells?|kh|kurzhanteln?)\s*=", re.I)
"""What is said of the lifts with this mark alone: "DB = weight per dumbbell"."""
_MARK = re.compile(
    r"(?P<mark>[*^~+#]|\b[a-z]{1,3}\b|\(\s*(?:…|\.{3})?\s*\)|(?:brackets?|parenth[eè]s[ei]s|klammern?|parenteses)\b\)?)\s*(?:=|:|means?|are|is)\s*(?P<meaning>[^=,;.]+)",
    re.I,
)
_BAR = re.compile(
    r"\b(?:empty )?(?:bar|stange|barre|barra)\s*(?:=|:|is|weighs|only =)\s*"
    r"(\d{1,2}(?:[.,]\d)?)(?!\d)\s*(?:kgs?|lbs?)?",
    re.I,
)
_A_SIDE = re.compile(
    r"\b(?:each|per|every|one|a|pro|je|par|por|cada) (?:side|seite|c[oô]t[eé]|lado)\b", re.I
)
"""The weight of a bar's plates on one of its ends."""
_OF_A_HAND = frozenset({"dumbbell", "kettlebell"})
_OF_NO_BAR = frozenset({"machine", "smith", "leg", "hack", "cable", "calf", "trap"})
"""Words of lifts whose own bar or sled weighs something else."""
_BAR_CELL = re.compile(
    r"^(?:(?:just |the |empty )*bar)$|(?<![a-z-])(?:empty )?bar(?=\s*[x*]\s*\d)", re.I
)
_IN_BRACKETS = re.compile(r"\(([^()]*\dx\d[^()]*|[^()]*\d\s+x\s+\d[^()]*)\)\s*")
_NUMBER_IN_BRACKETS = re.compile(rf"^\(({NUMBER}(?: ?(?:kgs?|lbs?))?)\)$", re.I)
_PARTS = {
    "load": r"(?:weight|load|kgs?|lbs?|gewicht|peso|poids|carga|charge)",
    "sets": one_of("sets"),
    "reps": one_of("reps"),
}
_NUMBERS = {"load": r"\d+(?:[.,]\d+)?", "sets": r"\d{1,2}", "reps": r"\d{1,2}"}
_ANY_PART = "|".join(f"(?:{form})" for form in _PARTS.values())
_ORDER = re.compile(rf"\b({_ANY_PART})\s*([x/*-])\s*({_ANY_PART})\s*\2\s*({_ANY_PART})(?!\w)", re.I)
"""The order of three parts: "weight x sets x reps", "sets/reps/kg"."""
_SINGLES = re.compile(r"\bsingles?\b.{0,12}\b(?:unless|if not|where no)", re.I)
_LOAD_ALONE = re.compile(r"(?:[2-9]\d|[1-9]\d\d)(?:[.,]\d{1,2})?(?: ?(?:kg|lbs?))?", re.I)
_LOAD_MARK_REPS = re.compile(rf"\b{_PARTS['load']}\s*([x*/])\s*(?:reps?|wdh|wh)\b", re.I)
_SLASHED = re.compile(r"(bw|[+-]?\d{1,3}(?:[.,]\d{1,2})?)/(?:(\d{1,2})|x|f)(?=$|[\s,;)])", re.I)
_ALL_SLASHED = re.compile(rf"(?:\(?{_SLASHED.pattern}[\s,;)]*)+", re.I)
_REPS_LOAD = re.compile(rf"(?<!x )\b(?:reps?|wdh|wh)\s*[x@]\s*{_PARTS['load']}\b", re.I)
_REPS_X = re.compile(rf"(\d{{1,2}}(?:\s*,\s*\d{{1,2}})*)\s*x\s*(?={NUMBER}|{BODY})", re.I)
_HELP = re.compile(
    r"(?P<name>[a-z]{3,})(?: bands?)?\s*(?:=|:|is|helps?)\s*(?:about |ca\.? |approx\.? |~)*-?"
    r"(?P<help>\d{1,2}(?:[.,]\d)?)",
    re.I,
)
_EFFORT_IN_BRACKETS = re.compile(
    r"\breps?\s*\(\s*(?:rir|rpe)\s*\)"
    r"|\b(?:in |the )?(?:brackets?|parenthes[ei]s|\(\))\s*(?:=|:|is|are|means?)\s*(?:the )?"
    r"(?:rir|rpe|reps? in reserve|reps? left)\b"
    r"|\b(?:rir|rpe|reps? in reserve|reps? left)(?: is| are)? in (?:the )?(?:brackets|parenth)",
    re.I,
)
_REPS_AND_EFFORTS = re.compile(r"(?:\d{1,2}\s*\(\d{1,2}(?:[.,]5)?\)[\s,;/]*)+")
_LISTED = re.compile(r"(.*[:x@ ] ?\d{1,2}(?: ?[,/] ?\d{1,2})+) ?\((\d{1,2}(?:[.,]5)?)\)", re.I)
_SOME_RPE = 5  # From this on a number may be an RPE, or repetitions in reserve
_FEWEST = 2  # Cells that show how a file tells an effort (judgement)
_PAIR = re.compile(r"(\d+)\s*\(([\d.,]+)\)")
_SET_AND_EFFORT = re.compile(r"(x ?\d{1,2})\s*\((\d{1,2}(?:[.,]5)?)\)", re.I)
_WORD = re.compile(r"[^\W\d_]{2}")
_TOP_ROWS = 4
_LONGEST = 120
_MOST_LETTERS = 2_000_000  # Of a sheet's texts; a legend stands before them


@dataclass
class Legend:
    """The conventions of a sheet; what it does not say is empty."""

    unit: Unit | None = None
    of_people: dict[str, Unit] = field(default_factory=dict)  # By the name in lower case
    effort_of_each: bool = False
    effort_of_last: bool = False
    dumbbells: bool = False  # Whether all is done with dumbbells
    warm_marks: frozenset[str] = frozenset()
    bar: str = ""
    order: tuple[str, ...] = ()
    """The parts of "100x3x5" in their order, after the mark between them."""
    reps_load: bool | None = None
    """Whether "10,8 x 30" is ten and eight at 30; not where a word says loads first, too."""
    in_brackets: str = ""
    """The effort, RIR or RPE, that stands in brackets behind a set's repetitions."""
    singles: bool = False  # Whether a load alone is a set of one
    load_reps: bool = False  # Whether "60/3" is 60 for three
    helps: dict[str, str] = field(default_factory=dict)
    """The kilograms that a band helps by, by its name."""

    def over(self, other: "Legend") -> "Legend":
        """This, with what it does not say from another sheet of the same book."""
        both = {
            name: own | mine
            if isinstance(own := getattr(other, name), dict | frozenset)
            else mine or own
            for name, mine in vars(self).items()
            if name not in ("dumbbells", "reps_load")
        }
        return replace(self, **both)

    def unit_of(self, person: str) -> Unit | None:
        """The unit in which a person logs."""
        first = person.lower().split()[:1]
        return self.of_people.get(first[0], self.unit) if first else self.unit


def read_legend(grid: Grid) -> Legend:
    """What the texts of a sheet say of its notation."""
    legend = Legend()
    seen: set[str] = set()
    notes: set[int] = set()
    left = _MOST_LETTERS
    _take(Cell(0, 0, grid.tab, grid.tab), legend, True)
    for at, row in enumerate(grid.rows):
        of_lift = any(cell.text[0].isdecimal() for cell in row)
        notes |= set() if of_lift else {c.column for c in row if role_of(c.text) == "note"}
        if at < _TOP_ROWS and len(row) > 1 and role_of(row[-2].text) == "unit":
            legend.unit = legend.unit or unit_in(row[-1].text)  # "Lifter | Ana | Units | kg"
        for cell in row:
            if cell.text in seen or not isinstance(cell.value, str) or not _WORD.search(cell.text):
                continue
            if of_lift and cell.column in notes and not re.search(r"\b(?:all|every)", cell.text):
                # A note beside one lift is of that lift.
                continue
            seen.add(cell.text)
            left -= len(cell.text)
            if left > 0:
                _take(cell, legend, at < _TOP_ROWS and len(row) <= 2)
    legend.in_brackets = legend.in_brackets or _behind_lists(grid)
    return legend


def _behind_lists(grid: Grid) -> str:
    """The effort that a number in brackets behind a list of repetitions can only be ("60: 10/10/9
    (2)"): the one a heading names, else reserve where all are so low, RPE where all are high."""
    listed = map(_LISTED.fullmatch, (text for text in grid.texts if text[-1:] == ")"))
    numbers = [float(match[2].replace(",", ".")) for match in listed if match]
    low = ["rir"] * (max(numbers, default=0) < _SOME_RPE)
    high = ["rpe"] * (_SOME_RPE < min(numbers, default=0) <= max(numbers, default=0) <= 10)
    named = sorted({"rir", "rpe"} & {*map(role_of, grid.texts)}) or low or high
    return named[0] if len(numbers) >= _FEWEST and len(named) == 1 else ""


def _take(cell: Cell, legend: Legend, on_top: bool) -> None:
    text = cell.text
    if UNIT.search(text):
        if " " in text:
            for clause in re.split(r"[,;.](?!\d)|\s-\s|\band\b", _UNLESS.sub("", text)):
                _take_unit(clause, legend, on_top)
        if on_top and (match := _TITLE_UNIT.search(text)) and legend.unit is None:
            legend.unit = unit_in(match[0])
    if _EACH.search(text):
        legend.effort_of_each = True
    elif _LAST.search(text):
        legend.effort_of_last = True
    for match in _MARK.finditer(text):
        if not without_warmup(match["meaning"])[1]:
            continue
        mark = match["mark"].lower()
        legend.warm_marks |= {"(" if len(mark) > 3 or mark[0] == "(" else mark}
    if says_dumbbells(text):
        legend.dumbbells = True
    if (match := _ORDER.search(text)) and not legend.order:
        parts = [_part(match[at]) for at in (1, 3, 4)]
        legend.order = (match[2], *parts) if len(set(parts)) == len(parts) else ()
    if _REPS_LOAD.search(text):
        legend.reps_load = legend.reps_load is not False
    for mark in _LOAD_MARK_REPS.findall(text):
        legend.load_reps |= mark == "/"
        legend.reps_load = legend.reps_load if mark == "/" else False
    if told := _EFFORT_IN_BRACKETS.search(text):
        legend.in_brackets = "rpe" if "rpe" in told[0].lower() else "rir"
    if _SINGLES.search(text):
        legend.singles = True
    if re.search(r"\b(?:bands?|help|elasti\w*|gummi\w*|assist\w*)\b", text, re.I):
        legend.helps |= {found["name"].lower(): found["help"] for found in _HELP.finditer(text)}
    if match := _BAR.search(text):
        legend.bar = match[1].replace(",", ".")


@lru_cache(maxsize=32768)
def says_dumbbells(text: str) -> bool:
    """Whether a text says that dumbbells were used: "kg is each DB"."""
    return _DUMBBELLS.search(text) is not None and not _OF_DUMBBELLS.search(text)


def _take_unit(clause: str, legend: Legend, on_top: bool) -> None:
    found = UNIT.search(clause)
    if found is None or re.search(r"\d", clause[: found.start()]):
        return
    unit: Unit = "kg" if found["kg"] else "lb"
    before = clause[: found.start()]
    alone = on_top and not re.sub(r"\W|\bin\b", "", clause.replace(found[0], ""))
    if (alone or _OF_ALL.search(clause)) and not re.search(r"\d", clause):
        legend.unit = legend.unit or unit
    elif (
        len(named := re.findall(r"[^\W\d_]{2,}", before.strip() or clause[found.end() :]))
        <= _MOST_WORDS
    ):
        # A word that is nobody's name is nobody's unit.
        for word in named:
            legend.of_people.setdefault(word.lower(), unit)


def legends_of(grids: Sequence[Grid]) -> list[Legend]:
    """The legend of each sheet, with what another sheet of its book says for all."""
    own = [read_legend(grid) for grid in grids]
    every = []
    for grid, legend in zip(grids, own, strict=True):
        for other, said in zip(grids, own, strict=True):
            if other.book == grid.book and said is not legend:
                # What a tab's own name says of its unit is of that tab: "Ruth (lb)".
                legend = legend.over(replace(said, unit=None) if unit_in(other.tab) else said)
        every.append(legend)
    return every


def as_the_legend_says(grid: Grid, legend: Legend) -> Grid:
    """The sheet with its marks written out: a starred set is a warm-up, "bar" is its weight."""
    bar = legend.bar or {"kg": "20", "lb": "45"}.get(legend.unit or "", "")
    grid = _with_the_bar(grid, legend.bar)
    if legend.load_reps:
        told = filter(_ALL_SLASHED.fullmatch, grid.texts)
        as_pairs = {text: _SLASHED.sub(lambda m: f"{m[1]}x{m[2] or 0}", text) for text in told}
        grid = grid.rewritten(as_pairs, _columns_of_slashes(grid))
    texts = set(grid.texts)
    if legend.singles:
        numbers = (c for row in grid.rows for c in row if isinstance(c.value, float | int))
        texts |= {cell.text for cell in numbers}
    written = {text: _written_out(text, legend, bar) for text in texts if len(text) <= _LONGEST}
    return grid.rewritten({text: new for text, new in written.items() if new != text})


def _with_the_bar(grid: Grid, bar: str) -> Grid:
    """The sheet with what hangs on each side of a bar written as such, beside the bar's weight; of
    a bar that is not told, no load."""
    of_all = any(_A_SIDE.search(text) and _BAR.search(text) for text in grid.texts)
    heads = {text: bare for text in grid.texts if (bare := _load_of_a_side(text, of_all))}
    columns = {cell.column for row in grid.rows for cell in row if heads and cell.text in heads}
    rows = []
    for row in grid.rows if heads else ():
        row = tuple(c.saying(heads.get(c.text, c.text)) for c in row)
        lift = {word for cell in row[:_TOP_ROWS] for word in words_of(cell.text)}
        behind = f" a side + {bar}" if bar and not lift & _OF_NO_BAR else " a side of what?"
        plates = [
            c for c in row if c.column in columns and re.fullmatch(r"\d+(?:[.,]\d+)?", c.text)
        ]
        told = {c: c.saying(c.text.replace(",", ".") + behind) for c in plates}
        rows.append(row if lift & _OF_A_HAND else tuple(told.get(cell, cell) for cell in row))
    return replace(grid, rows=tuple(rows)) if heads else grid


def _load_of_a_side(text: str, of_all: bool) -> str:
    """A heading of loads without its "per side"; empty for any other text."""
    if not of_all and not _A_SIDE.search(text):
        return ""
    bare = " ".join(_A_SIDE.sub(" ", text).split())
    return next((one for one in (bare, text) if role_of(one) == "load"), "")


def _part(word: str) -> str:
    return next(part for part, form in _PARTS.items() if re.fullmatch(form, word, re.I))


def _in_order(text: str, mark: str, *parts: str) -> str:
    """Each "100x3x5" as "3x5 @ 100", by what each of its numbers is."""
    behind = "x" if mark == "x" else " @ "
    form = f" ?{re.escape(mark)} ?".join(rf"(?P<{part}>{_NUMBERS[part]})" for part in parts)
    return re.sub(rf"(?<![\dx./]){form}(?![\dx./])", rf"\g<sets>x\g<reps>{behind}\g<load>", text)


def _warm(match: "re.Match[str]") -> str:
    return "".join(f"{one.strip()} wu, " for one in match[1].split(","))


def _columns_of_slashes(grid: Grid) -> frozenset[int]:
    """Columns of "60/3 65/2", of which one cell at least is no day."""
    cells = [cell for row in grid.rows for cell in row if _ALL_SLASHED.fullmatch(cell.text)]
    return frozenset(cell.column for cell in cells if day_of_cell(cell) is None)


def _written_out(text: str, legend: Legend, bar: str) -> str:
    text = legend.helps.get(text.lower(), text)
    if legend.singles and _LOAD_ALONE.fullmatch(text):
        text += "x1"
    if legend.order:
        text = _in_order(text, *legend.order)
    if legend.reps_load and (told := _REPS_X.match(text)):
        load = re.sub(r"^(\d+)(?![\d.,])", r"\1.0", text[told.end() :])
        text = f"{told[1].replace(',', ', ')} @ {load}"
    if legend.in_brackets and _REPS_AND_EFFORTS.fullmatch(text):
        reps, efforts = (", ".join(part) for part in zip(*_PAIR.findall(text), strict=True))
        text = f"{reps} {legend.in_brackets} {efforts}"
    elif legend.in_brackets and (listed := _LISTED.fullmatch(text)):
        text = f"{listed[1]} {legend.in_brackets} {listed[2]}"
    elif legend.in_brackets:
        text = _SET_AND_EFFORT.sub(rf"\1 {legend.in_brackets} \2", text)
    for mark in legend.warm_marks:
        text = _with_mark(text, mark)
    return _BAR_CELL.sub(bar, text) if bar and "bar" in text.lower() else text


def _with_mark(text: str, mark: str) -> str:
    """The text with the mark of a warm-up as the word."""
    if mark == "(":
        text = _IN_BRACKETS.sub(_warm, _NUMBER_IN_BRACKETS.sub(r"\1 wu", text))
        return text.strip(", ")
    if mark.isalpha():
        text = re.sub(rf"\b{mark} ?(?=\d[\d.]* ?x ?\d)|^{mark}\.?$", "wu ", text, flags=re.I)
        return re.sub(rf"(?<=x)( ?\d+) ?{mark}$", r"\1 wu", text, flags=re.I)
    marked = len(text) > 1 and (text.endswith(mark) or text[0] == mark)
    return text.strip(mark).strip() + " wu" if marked else text
