"""One cell of a training log to the sets it tells: "3x8 @ 80", "80x8,8,7", "BW+10 x 6 @8".

A small grammar over one line of text. It reads four things: whole sets, repetitions alone, a load
alone, and a scheme (sets x repetitions whose load stands elsewhere). Effort is taken out first.
Two bare numbers ("8x12") can be a load and its repetitions or a scheme: the caller, who has seen
the whole table, says which (`load_first`).
"""

import re
from dataclasses import replace
from functools import lru_cache

from blockwright.engine.units import Unit
from blockwright.files.importing.efforts import LAST_SET, without_effort
from blockwright.files.importing.told import OneSet, Told, Weight
from blockwright.files.importing.warmups import without_warmup

MOST_SETS_A_CELL = 12
"""More sets of one lift in a cell is a load, not a count (judgement)."""
_MOST_SETS_USUAL = 6
"""In "80x3x8" the number above this is the repetitions (judgement)."""
MOST_REPS = 60
"""More repetitions in one set is no set of a log (judgement)."""

_NUM = r"\d{1,4}(?:\.\d{1,3})?"
_UNIT = r"(?:kgs?|kilos?|k|lbs?\.?|pounds?|#)"
_UNITS: dict[str, Unit] = {"k": "kg", "l": "lb", "p": "lb", "#": "lb"}
_EACH = (
    r"(?:\s*(?:/|per |a |each |ea |e\.?s\.?)?\s*"
    r"(?:hand|side|arm|leg|db|dbs|each|ea|es|e/s|s)\b\.?)?"
)
_BODY = (
    r"(?:bw|body ?weight|b/w|kg bw|k(?:ö|oe)rpergewicht|eigengewicht|poids (?:du|de) corps|pdc|"
    r"peso corporal|peso corpo|corpo libero|lichaamsgewicht|p\.?c\.?)"
)
_LOAD = (
    rf"(?:(?P<bw>{_BODY}|kg(?=\s*[+-]))\s*)?(?P<sign>[+-])?\s*"
    rf"(?P<pair>2\s*x\s*)?(?P<load>{_NUM})\s*(?P<unit>{_UNIT})?{_EACH}"
    r"(?:\s*(?:dbs?|kbs?|help|assist(?:ance|ed)?))?"
)
_BARE_BW = rf"(?P<bare>{_BODY})"
_REP = (
    r"\d{1,3}(?![\d.])(?:\s*\+\s*\d{1,2})*\+?(?:\s*(?:reps?|r)\b)?"
    r"(?:\s*/\s*(?:leg|side|arm)|\s*(?:each|ea|es|e/s)\b)?"
)
_LIST = rf"{_REP}(?:\s*[,/;&-]\s*{_REP}|\s+{_REP})*"
_X = r"\s*(?:x|\*|by|for)\s*"

_DECIMAL_COMMA = re.compile(
    rf"(?<![\d,])(\d{{1,3}}),(5|25|75|50|0|00|125|375|625|875)(?=\s*(?:x|\*|{_UNIT}\b|@|\())"
)
_A_SIDE = re.compile(
    rf"(?P<side>{_NUM})\s*(?:a|per|each|every|cada|par|por|je|pro|/)?\s*"
    rf"(?:side|lado|cot[eé]|côté|seite)\s*\+\s*(?:bar\w*|stange)?\s*(?P<bar>{_NUM})(?:\s*bar)?"
)
_SCHEMES = re.compile(r"[1-6]\s*x\s*\d{1,2}(?:\s*[,;/+]\s*[1-6]\s*x\s*\d{1,2})+")
_MISSED = re.compile(
    r"(?P<before>[x/,;]\s?|\d(?P<mark>[,/;]\s?|\s)\d+(?P=mark))(?:f|fail|failed|missed)(?=$|[\s,/;])"
)
"""A missed set after x or among others in a list; "3 F" is a set that was its last."""
_WARMUP_OF_ALL = re.compile(r"(?:w/?u|warm[ -]?ups?)\s*:\s*", re.I)
LONGEST_CELL = 300
"""A longer text is prose (judgement)."""
_NEXT_SET = re.compile(
    rf"(?<=\d)\s+(?=(?:w/?u\s)?\s*(?:(?:bw|pdc)?[+-]?\d[\d.]*|bw)x\d)|\s*(?:[\n;|]|(?:,|/|&|\+|\band\b|\bthen\b)"
    rf"(?=\s*(?:w/?u|warm\S*)?\s*(?:(?:bw|bodyweight)?\s*[+-]?\s*(?:2\s*x\s*)?{_NUM}\s*{_UNIT}?s?|bw)"
    r"\s*x\s*\d))\s*"
)
_SLASHED = re.compile(r"(2[5-9]|[3-9]\d|[1-9]\d\d)(?:\.\d+)?/(1?\d|20)")
_UNIT_AND_REPS = re.compile(rf"({_NUM})\s*({_UNIT})\s+(\d{{1,2}})(?:\s*reps?)?")
_CLOCK = re.compile(r"\d{1,2}:[0-5]\d(?:[:.]\d{1,2})?")
_BARE_PAIR = re.compile(rf"(\d{{1,3}}){_X}(\d{{1,3}})(?:\s*reps?)?")
_NOTE_BEGINS = re.compile(r"(?P<mark>\s*[(\[,;:.!*]+\s*-*\s*|\s+-+\s*|\s+)(?=[a-z(\[!?<])")
_NO_NOTE = re.compile(
    r"(?:s|sec|secs|seconds?|min|mins|minutes?|m|km|mi|cal|kcals?|meters?|metres?|kg|lbs?|x|h|"
    r"hours?|steps?|%)\b"
)
_SET_IN_NOTE = re.compile(r"x\s*\d|\d\s*(?:kg|lbs?)\b.*\d\s*(?:kg|lbs?)\b")
_FAILED = re.compile(r"\bfail|\bmiss(?:ed)?\b")
_DROP = re.compile(r"\s*(?:->|>|\bdrop(?:ped)?(?: to| set)?\b:?)\s*", re.I)
_NOTE = re.compile(
    r"\((?![^)]*\d)([^)]*)\)"
    r"|\b(?:easy|hard|ok|good|felt \w+|pr|pb|paused?|tough|grindy?|amrap)\b!*"
)


def read_cell(text: str, load_first: bool | None = None) -> Told | None:
    """What the cell tells, None when it is no set at all.

    `load_first` settles bare pairs ("8x12"): True a load and its repetitions, False a scheme;
    None leaves them a `pair`.
    """
    return _read(text, load_first) if len(text) <= LONGEST_CELL else None


@lru_cache(maxsize=16384)
def _read(text: str, load_first: bool | None) -> Told | None:
    said = _cleaned(text)
    if not re.search(r"\d|bw|bodyweight", said) or _CLOCK.fullmatch(said):
        return None
    if match := _WARMUP_OF_ALL.match(said):
        told = _read(said[match.end() :], load_first)
        return told and replace(told, sets=tuple(replace(one, warmup=True) for one in told.sets))
    if not load_first and _SCHEMES.fullmatch(said):
        # "1x12, 1x9": sets and repetitions, as no load is one of so few.
        pairs = [(int(n), int(reps)) for n, reps in re.findall(r"(\d)\s*x\s*(\d+)", said)]
        return Told("reps", tuple(OneSet((reps,)) for count, reps in pairs for _ in range(count)))
    items = [item for item in _NEXT_SET.split(said) if item.strip()]
    if len(items) > 1 and (told := _joined([_item(item, load_first) for item in items])):
        return told
    return _item(said, load_first)


def _item(said: str, load_first: bool | None) -> Told | None:
    """One set or one row of sets, with its effort and a note behind it."""
    said, warmup = without_warmup(said)
    rest, rir = without_effort(said, _has_load)
    rest = " ".join(_NOTE.sub(" ", rest).split()).strip(" ,.:").rstrip(" -")
    told = _one_line(rest, load_first)
    if told is None and (cut := _before_note(rest, load_first)) is not None:
        told, note = cut
        rir = rir or ((0.0, 0.0) if _FAILED.search(note) else None)
    if told is not None and warmup:
        if told.kind == "load":
            return None
        told = replace(told, sets=tuple(replace(one, warmup=True) for one in told.sets))
    return told if told is None or rir is None else _with_effort(told, rir)


def _before_note(said: str, load_first: bool | None) -> tuple[Told, str] | None:
    """The sets before words that are no part of them: "80x8 last one slow", "60x12, elbows"."""
    for match in _NOTE_BEGINS.finditer(said):
        note = said[match.end("mark") :]
        if _NO_NOTE.match(note) or _SET_IN_NOTE.search(note):
            continue
        before, rir = without_effort(said[: match.start()].strip(" ,.:"), _has_load)
        told = _one_line(before.strip(" ,.:"), load_first)
        if told is not None and told.sets:
            if last := LAST_SET.search(note):
                sets = told.sets
                told = replace(told, sets=(*sets[:-1], replace(sets[-1], reps=(int(last[1]),))))
            return (_with_effort(told, rir) if rir else told), note
    return None


def _joined(parts: list[Told | None]) -> Told | None:
    if any(part is None or part.kind not in ("sets", "reps") for part in parts):
        return None
    told = [part for part in parts if part is not None]
    if len({part.kind for part in told}) > 1:
        return None
    return Told(told[0].kind, tuple(one for part in told for one in part.sets))


def _with_effort(told: Told, rir: tuple[float, float]) -> Told:
    """One effort for a row of sets belongs to its last set."""
    if not told.sets:
        return replace(told, rir=rir)
    sets = [replace(one, row_rir=rir) for one in told.sets]
    return replace(told, sets=(*sets[:-1], replace(sets[-1], rir=rir)))


def _cleaned(text: str) -> str:
    said = text.lower().strip().strip("'\"")
    # A decimal comma stands before x, a unit or the end, behind a load's digits.
    said = _DECIMAL_COMMA.sub(r"\1.\2", said)
    said = re.sub(r"([@+]\s*)(\d{1,3}),(5|25|75|50)(?![\d,])", r"\1\2.\3", said)
    said = re.sub(r"[✓✔✅~≈*!]|(?<=\d)ish\b", "", said)
    said = _MISSED.sub(lambda match: f"{match['before']}0", said)
    said = re.sub(r"\bsets? (?:of|x|at)\b|\bsets?\b", " x ", said)
    said = re.sub(r"\bw(?=\d[\d.]*x\d)", "wu ", said)
    said = re.sub(r"(x\d{1,2}x\d{2,3}),(5|25|75)$", r"\1.\2", said)
    return re.sub(r"x[ \t]+x", "x", said).strip().removesuffix(" x").strip()


def _has_load(before: str) -> bool:
    """Whether the text before a bare "@8" already tells a load, so that 8 is an effort."""
    told = _one_line(" ".join(before.split()).strip(" ,"), None)
    return told is not None and told.kind in ("sets", "load", "pair")


def _one_line(said: str, load_first: bool | None) -> Told | None:
    if not said:
        return None
    rules = (
        _scheme_at_load, _load_with_scheme, _triple, _many_reps, _loads_with_reps, _reps_at_load
    )  # fmt: skip
    if match := _SLASHED.fullmatch(said):
        # "135/10": a load far above any repetitions, and its repetitions.
        return Told("sets", (OneSet((int(match[2]),), (Weight(float(match[1])),)),))
    if match := _UNIT_AND_REPS.fullmatch(said):
        weight = Weight(float(match[1]), _UNITS[match[2][0]])
        return Told("sets", (OneSet((int(match[3]),), (weight,)),))
    for rule in rules:
        if (told := rule(said)) is not None:
            return told
    if match := _BARE_PAIR.fullmatch(said):
        return _pair(int(match[1]), int(match[2]), load_first)
    if re.fullmatch(_LIST, said) and (told := _reps_told(said)) is not None:
        return told
    if match := re.fullmatch(rf"@?\s*(?:{_LOAD}|{_BARE_BW})", said):
        return None if re.fullmatch(r"\d+\s*s", said) else Told("load", weight=_weight(match))
    return None


@lru_cache(maxsize=4096)
def read_load(text: str) -> Weight | None:
    """A cell of a load column: "82,5", "BW+10", "2x22.5", "185 lb"; None when it is no load."""
    if text.strip().lower() == "kg":
        # Of "Körpergewicht", in a cell of loads.
        return Weight(0.0, None, True)
    text = without_warmup(text)[0]
    said = re.sub(r"^((?:2\s*x\s*)?[^\d]*\d{1,4}),(\d{1,3})(?=\D*$)", r"\1.\2", _cleaned(text))
    if match := _A_SIDE.fullmatch(said):
        return Weight(2 * float(match["side"]) + float(match["bar"]))
    match = re.fullmatch(rf"@?\s*(?:{_LOAD}|{_BARE_BW})", said.strip(" ."))
    return _weight(match) if match else None


def _scheme_at_load(said: str) -> Told | None:
    """3x8 @ 80, 3x8 80kg, 3 x 8,8,7 @ 80, 5x5 at BW+10."""
    between = (
        r"(?:\s*(?:@|at|w/|with|:)\s*|\s+(?=[^ ]*(?:kg|lb|#|bw))"
        r"|\s*,\s*(?=\d+(?:\.\d+)?\s*(?:kg|lb))|\s+(?=(?:[2-9]\d|\d{3})(?:\.\d+)?$))"
    )
    pattern = rf"(\d{{1,2}}){_X}({_LIST}){between}(?:{_LOAD}|{_BARE_BW})"
    match = re.fullmatch(pattern, said)
    if match is None or int(match[1]) > MOST_SETS_A_CELL:
        return None
    return _spread(int(match[1]), match[2], _weight(match))


def _load_with_scheme(said: str) -> Told | None:
    """80 5x5, 80kg: 3x8, BW 3x8, 60kg 3x10,10,9."""
    match = re.fullmatch(
        rf"(?:{_LOAD}|{_BARE_BW})(?:\s*[:,-]\s*|\s+for\s+|\s+|\s*\()(\d{{1,2}}){_X}"
        rf"(?P<list>{_LIST})\)?",
        said,
    )
    if match is None:
        return None
    count = match[match.lastindex - 1] if match.lastindex else ""
    return _spread(int(count), match["list"], _weight(match))


def _many_reps(said: str) -> Told | None:
    """80x8x8x7: a load and the repetitions of three or more sets."""
    match = re.fullmatch(
        rf"(?P<load>{_NUM})\s*(?P<unit>{_UNIT})?((?:\s*x\s*\d{{1,2}}){{3,}})", said
    )
    if match is None:
        return None
    unit = _UNITS[match["unit"][0]] if match["unit"] else None
    reps = [int(one) for one in re.findall(r"\d+", match[3])]
    return Told(
        "sets", tuple(OneSet((one,), (Weight(float(match["load"]), unit),)) for one in reps)
    )


def _triple(said: str) -> Told | None:
    """3x8x80 and 80x8x3: the outer number that can be no load is the count of sets."""
    match = re.fullmatch(
        rf"(?P<first>[^x*]+){_X}(?P<reps>\d{{1,3}})(?:\s*reps?)?{_X}(?P<last>[^x*]+)", said
    )
    if match is None:
        return None
    first, last = _plain_weight(match["first"]), _plain_weight(match["last"])
    if first is None or last is None:
        return None
    count_last = re.fullmatch(r"\d{1,2}", match["last"].strip()) is not None
    count_first = re.fullmatch(r"\d{1,2}", match["first"].strip()) is not None
    if match["first"].strip() == "2" and count_last and last.amount < int(match["reps"]):
        # A pair: 2x20x12 is two dumbbells of 20 for twelve.
        return Told("sets", (OneSet((int(last.amount),), (Weight(float(match["reps"])),)),))
    if count_first and (not count_last or last.amount > first.amount):
        return _spread(int(match["first"]), match["reps"], last)
    reps, count = match["reps"], match["last"].strip()
    if count_last and int(count) > _MOST_SETS_USUAL >= int(reps):
        reps, count = count, reps
    if count_last and int(count) <= MOST_SETS_A_CELL:
        return _spread(int(count), reps, first)
    return None


def _loads_with_reps(said: str) -> Told | None:
    """80x8, 80x8,8,7, 80x8, 82.5x8, 2x22.5x10, 80kg 8,8,7, 80: 8/8/7, 80 (8,8,7)."""
    load = rf"(?:{_LOAD}|{_BARE_BW})"
    sets: list[OneSet] = []
    at = 0
    while at < len(said):
        match = re.compile(
            rf"(?:(?P<drop>{_DROP.pattern})|\s*[,/&]?\s*){load}(?:{_X}|\s*[:=]\s*|\s*\(\s*|\s*-\s+|\s+(?={_REP}\s*[,/]))"
            rf"(?P<list>{_REP}(?:\s*[,/&-]\s*{_REP}(?!\s*(?:x|\*|kg|lb))|\s+{_REP}(?!\s*(?:x|\*|kg|lb)))*)\s*\)?"
        ).match(said, at)
        if match is None:
            return None
        weight, reps = _weight(match), _reps_of(match["list"])
        bare = (
            match["unit"] is None
            and match["bare"] is None
            and not match["bw"]
            and not match["pair"]
        )
        if reps is None or weight is None:
            return None
        if bare and not match["sign"] and _may_be_count(match["load"], reps, said):
            return None
        if sets and _DROP.fullmatch(match["drop"] or ""):
            if len(reps) != 1:
                return None
            sets[-1] = replace(
                sets[-1], reps=sets[-1].reps + reps[0], weights=(*sets[-1].weights, weight)
            )
        else:
            sets += [OneSet(parts, (weight,)) for parts in reps]
        at = match.end()
    return Told("sets", tuple(sets)) if sets else None


def _may_be_count(load: str, reps: list[tuple[int, ...]], said: str) -> bool:
    """Whether "5x5" alone may be a scheme: a small whole number before one repetition count."""
    whole = "." not in load and float(load) <= MOST_SETS_A_CELL
    return whole and len(reps) == 1 and re.fullmatch(rf"\d+{_X}\d+(?:\s*reps?)?", said) is not None


def _reps_at_load(said: str) -> Told | None:
    """8,8,7 @ 80; 8 reps @ 80kg; 8 @ 80; 12 x 80kg."""
    match = re.fullmatch(
        rf"(?P<list>{_LIST})\s*(?:@|at|with|w/|x(?=.*(?:kg|lb)))\s*(?:{_LOAD}|{_BARE_BW})", said
    )
    if match is None:
        return None
    reps, weight = _reps_of(match["list"]), _weight(match)
    if reps is None or weight is None:
        return None
    return Told("sets", tuple(OneSet(parts, (weight,)) for parts in reps))


def _pair(first: int, second: int, load_first: bool | None) -> Told | None:
    most = MOST_REPS if load_first else MOST_REPS // 2
    if second > most and first <= MOST_REPS // 2:
        return Told("sets", (OneSet((first,), (Weight(float(second)),)),))
    if first > MOST_SETS_A_CELL or load_first:
        if not 0 <= second <= MOST_REPS:
            return None
        return Told("sets", (OneSet((second,), (Weight(float(first)),)),))
    if load_first is None:
        return Told("pair", numbers=(first, second))
    return Told("scheme", numbers=(first, second)) if first else None


def _reps_told(said: str) -> Told | None:
    reps = _reps_of(said)
    if reps is None:
        return None
    return Told("reps", tuple(OneSet(parts) for parts in reps))


def _spread(count: int, listed: str, weight: Weight | None) -> Told | None:
    """`count` equal sets; a list as long as the count tells each, another length is no log."""
    reps = _reps_of(listed)
    if reps is None or weight is None or not 1 <= count <= MOST_SETS_A_CELL:
        return None
    if len(reps) == 1:
        reps = reps * count
    if len(reps) != count:
        return None
    return Told("sets", tuple(OneSet(parts, (weight,)) for parts in reps))


def _reps_of(listed: str) -> list[tuple[int, ...]] | None:
    """The repetitions of a list: "8,8,7", "8/8/7", "8 8 7", "15+4+4". "8-10" is a range."""
    bare = re.sub(r"reps?|/\s*(?:leg|side|arm)|each|(?:\b|(?<=\d))(?:ea|es|e/s|r)\b", " ", listed)
    if re.fullmatch(r"\s*\d+\s*-\s*\d+\s*", bare):
        return None
    parts = [
        part
        for part in re.split(r"[,/;&-]|(?<=[\d+])\s+(?=\d)", re.sub(r"\s*\+\s*", "+", bare))
        if part.strip()
    ]
    if not all(re.fullmatch(r"[\s\d+]*", part) for part in parts):
        return None
    reps = [tuple(int(one) for one in part.split("+") if one.strip()) for part in parts]
    if not reps or any(not each or max(each) > MOST_REPS for each in reps):
        return None
    return reps


def _plain_weight(text: str) -> Weight | None:
    match = re.fullmatch(rf"\s*(?:{_LOAD}|{_BARE_BW})\s*", text)
    return _weight(match) if match else None


def _weight(match: "re.Match[str]") -> Weight | None:
    if match["bare"]:
        return Weight(0.0, None, True)
    amount = float(match["load"])
    unit = _UNITS[match["unit"][0]] if match["unit"] else None
    signed = match["bw"] is not None or match["sign"] is not None
    return Weight(-amount if match["sign"] == "-" else amount, unit, signed)
