"""One cell of a training log to the sets it tells: "3x8 @ 80", "80x8,8,7", "BW+10 x 6 @8".

A small grammar over one line of text. It reads four things: whole sets, repetitions alone, a load
alone, and a scheme (sets x repetitions whose load stands elsewhere). Effort is taken out first.
Two bare numbers ("8x12") can be a load and its repetitions or a scheme: the caller, who has seen
the whole table, says which (`load_first`).
"""

import re
from dataclasses import replace
from functools import lru_cache

from blockwright.files.importing.grammar import (
    BARE_BW,
    LOAD,
    joined,
    one_line,
    schemes_alone,
    schemes_of_one_load,
    unit_of,
    weight_of,
)
from blockwright.files.importing.notation import read_notation
from blockwright.files.importing.spelling import NUMBER as _NUM
from blockwright.files.importing.spelling import UNIT as _UNIT
from blockwright.files.importing.spelling import one_spelling
from blockwright.files.importing.told import (
    LAST_SET,
    OneSet,
    Told,
    Weight,
    read_effort,
    without_effort,
)
from blockwright.files.importing.words import without_warmup

_A_SIDE = re.compile(
    rf"(?P<side>{_NUM})\s*(?:a|per|each|every|cada|par|por|je|pro|/)?\s*"
    rf"(?:side|lado|cot[eé]|côté|seite)\s*\+\s*(?:bar\w*|stange)?\s*(?P<bar>{_NUM})(?:\s*bar)?"
)
_WARMUP_OF_ALL = re.compile(
    r"(?:w/?u|warm[ -]?ups?)(?:\s*:\s*|\s(?=.*\b(?:then|work)\b|[^;]*,[^;]*;))", re.I
)
_AFTER_WARMUPS = re.compile(
    r"\s*[,;.]?\s*(?:\bthen\b\s*:?|\bwork\w*(?: sets?)?\s*(?::|(?=\d))|(?<=[;\n])(?=.)|[;\n])\s*"
)
_OF_ONE_SIDE = re.compile(r"[12][ -]?(?:arm|leg|hand)\b")
_CLOCK = re.compile(r"\d{1,2}:[0-5]\d(?:[:.]\d{1,2})?")
_EFFORT_LIST = re.compile(
    r"[,(@]*\s*(?:\b(?P<kind>rpe|rir)\s*[:@]?|@)\s*"
    r"(?P<list>\d{1,2}(?:\.5)?(?:\s*[,/]\s*\d{1,2}(?:\.5)?)+)\)?$"
)
_PLAIN_SET = re.compile(
    r"([1-9]\d{0,2}\.\d{1,2}|[1-9]\d\d|1[3-9]|[2-9]\d)(?: ?(kg|lb)s?)? ?x ?([1-5]\d|[1-9])"
    r"(?: ?@ ?([5-9](?:\.5)?|10))?"
)
_PLAIN_SETS = re.compile(rf"{_PLAIN_SET.pattern}(?:, {_PLAIN_SET.pattern})*")
LONGEST_CELL = 300
"""A longer text is prose (judgement)."""
_NEXT_SET = re.compile(
    rf"(?<=\d)\s+(?=(?:w/?u\s)?\s*(?:(?:bw|pdc)?[+-]?\d[\d.]*|bw)x\d)|\s*(?:[\n;|]|(?:,|/|&|(?<!bw)\+|\band\b|\bthen\b)"
    rf"(?=\s*(?:w/?u|warm\S*)?\s*(?:(?:bw|bodyweight)?\s*[+-]?\s*(?:2\s*x\s*)?{_NUM}\s*{_UNIT}?s?|bw)"
    rf"\s*x\s*\d|\s*{_NUM}\s*(?:kg|lb)s?\s+\d{{1,2}}\s*x\s*\d))\s*"
)
_NEXT_SIGNED = re.compile(r"[\s,;]+(?=\+\d)")
_NOTE_BEGINS = re.compile(r"(?P<mark>\s*[(\[,;:.!*]+\s*-*\s*|\s+-+\s*|\s+)(?=[a-z(\[!?<])")
_NO_NOTE = re.compile(
    r"(?:s|sec|secs|seconds?|min|mins|minutes?|m|km|mi|cal|kcals?|meters?|metres?|kg|lbs?|x|h|"
    r"hours?|steps?|%)\b"
)
_SET_IN_NOTE = re.compile(
    r"x\s*\d|\d\s*(?:kg|lbs?)\b.*\d\s*(?:kg|lbs?)\b|@\s*\d\d|\d\s*bw\b|^\(\d+(?:\.5)?\)"
)
_NUMBERS_ASIDE = re.compile(rf"[(\[]?(?:next|pain|rest|aim|goal|target)\b|\({_NUM} ?{_UNIT}\)$")
"""Notes whose numbers are of no set that was done; or its load in the other unit."""
_DID = re.compile(r"\(?(?:only |just )?(?:did|got|made|managed)\s*(?:only |just )?(\d{1,2})\b")
_TO_FAILURE = re.compile(
    r"(?<!kein )(?:muskelversagen|bis zum versagen)|\b(?:al fallo|a falha|a cedimento|à l'échec)\b"
)
_FAILED = re.compile(rf"\bfail|\bmiss(?:ed)?\b|{_TO_FAILURE.pattern}")
_OF_LAST = re.compile(r"\b(?:last|letzte\w*|[uú]ltim[ao]|derni[eè]re?)\b")
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


@lru_cache(maxsize=32768)
def _plain_sets(text: str) -> Told | None:
    """ "80x8, 82.5x8 @8": most cells of most logs, read without the grammar, to the same sets."""
    if not _PLAIN_SETS.fullmatch(text):
        return None
    sets = []
    for load, unit, reps, rpe in _PLAIN_SET.findall(text):
        rir = (10 - float(rpe), 10 - float(rpe)) if rpe else None
        weight = Weight(float(load), unit_of(unit))
        sets.append(OneSet((int(reps),), (weight,), rir, rir))
    return Told("sets", tuple(sets))


@lru_cache(maxsize=65536)
def _read(text: str, load_first: bool | None) -> Told | None:
    if (plain := _plain_sets(text) or read_notation(text, load_first)) is not None:
        return plain if plain.sets else None
    said = one_spelling(text)
    if (
        not re.search(r"\d|bw|bodyweight", said)
        or _CLOCK.fullmatch(said)
        or _OF_ONE_SIDE.match(said)
    ):
        return None
    if match := _WARMUP_OF_ALL.match(said):
        first, *rest = _AFTER_WARMUPS.split(said[match.end() :], maxsplit=1)
        told = _read(first, load_first)
        told = told and replace(told, sets=tuple(replace(one, warmup=True) for one in told.sets))
        return joined([told, *(_read(part, load_first) for part in rest)]) if rest else told
    if not load_first and (told := schemes_alone(said)) is not None:
        return told
    # Where the first load has its sign, a plus begins the next and joins none.
    between = _NEXT_SIGNED if re.match(r"\+[^+]*\s\+\d", said) else _NEXT_SET
    items = [item for item in between.split(said) if item.strip()]
    if len(items) > 1 and schemes_of_one_load(said) is None:
        parts = [_item(item, load_first) for item in items]
        if load_first and any(part is not None and part.kind == "sets" for part in parts):
            parts = [_light(part) for part in parts]
        if told := joined(parts):
            return told
    return _item(said, load_first)


def _item(said: str, load_first: bool | None) -> Told | None:
    """One set or one row of sets, with its effort and a note behind it."""
    said, warmup = without_warmup(said)
    if match := _EFFORT_LIST.search(said):
        return _with_effort_list(_item(said[: match.start()], load_first), match)
    rest, rir = without_effort(said, _has_load)
    note = " ".join(match[0] for match in _NOTE.finditer(rest))
    rir = rir or ((0.0, 0.0) if _TO_FAILURE.search(note) else None)
    rest = " ".join(_NOTE.sub(" ", rest).split()).strip(" ,.:").rstrip(" -")
    told = one_line(rest, load_first)
    if told is None and (cut := _before_note(rest, load_first)) is not None:
        told, note = cut
        rir = rir or ((0.0, 0.0) if _FAILED.search(note) else None)
    if told is not None and warmup:
        if told.kind == "load":
            return None
        told = replace(told, sets=tuple(replace(one, warmup=True) for one in told.sets))
    return told if told is None or rir is None else _with_effort(told, rir, note)


def _with_effort_list(told: Told | None, match: "re.Match[str]") -> Told | None:
    """The sets with an effort each ("RPE 7,8,9"); None where there are not as many."""
    listed = re.split(r"\s*[,/]\s*", match["list"])
    if told is None or len(told.sets) != len(listed):
        return None
    efforts = [read_effort(one, match["kind"] != "rir") for one in listed]
    return replace(
        told,
        sets=tuple(replace(one, rir=each) for one, each in zip(told.sets, efforts, strict=True)),
    )


def _before_note(said: str, load_first: bool | None) -> tuple[Told, str] | None:
    """The sets before words that are no part of them: "80x8 last one slow", "60x12, elbows"."""
    for match in _NOTE_BEGINS.finditer(said):
        note = said[match.end("mark") :]
        if _NO_NOTE.match(note) or _SET_IN_NOTE.search(note):
            continue
        did = _DID.match(note)
        before, rir = without_effort(said[: match.start()].strip(" ,.:"), _has_load)
        told = one_line(before.strip(" ,.:"), load_first)
        if told is not None and told.sets:
            if did and len(told.sets) > 1:
                return None
            last = did or LAST_SET.search(note)
            if (
                not last
                and re.search(r"\d(?!\d|st|nd|rd|th)", note)
                and not _NUMBERS_ASIDE.match(note)
            ):
                # What else it tells may be of the set: "RP 5", "then 60".
                continue
            if last:
                sets = told.sets
                told = replace(told, sets=(*sets[:-1], replace(sets[-1], reps=(int(last[1]),))))
            return (_with_effort(told, rir) if rir else told), note
    return None


def all_warmups(note: str) -> tuple[OneSet, ...]:
    """The sets of a note of warm-ups and no more: "wu: 60x5 80x3"."""
    marked = without_warmup(note)[1] and any(letter.isdigit() for letter in note)
    told = read_cell(note) if marked else None
    sets = told.sets if told is not None and told.kind == "sets" else ()
    return sets if all(one.warmup for one in sets) else ()


def _light(told: Told | None) -> Told | None:
    """A bare pair beside whole sets: so light a load ("7.5x12 + 5x10")."""
    if told is None or told.kind != "scheme":
        return told
    load, reps = told.numbers
    return Told("sets", (OneSet((reps,), (Weight(float(load)),), told.rir),))


def _with_effort(told: Told, rir: tuple[float, float], note: str = "") -> Told:
    """One effort for a row of sets belongs to its last set, surely where the note says so."""
    if not told.sets:
        return replace(told, rir=rir)
    sets = [replace(one, row_rir=None if _OF_LAST.search(note) else rir) for one in told.sets]
    return replace(told, sets=(*sets[:-1], replace(sets[-1], rir=rir)))


def _has_load(before: str) -> bool:
    """Whether the text before a bare "@8" already tells a load, so that 8 is an effort."""
    told = one_line(" ".join(before.split()).strip(" ,"), None)
    return told is not None and told.kind in ("sets", "load", "pair")


@lru_cache(maxsize=32768)
def read_load(text: str) -> Weight | None:
    """A cell of a load column: "82,5", "BW+10", "2x22.5", "185 lb"; None when it is no load."""
    if text.strip().lower() == "kg":
        # Of "Körpergewicht", in a cell of loads.
        return Weight(0.0, None, True)
    text = without_warmup(text)[0]
    said = re.sub(r"^((?:2\s*x\s*)?[^\d]*\d{1,4}),(\d{1,3})(?=\D*$)", r"\1.\2", one_spelling(text))
    if match := _A_SIDE.fullmatch(said):
        return Weight(2 * float(match["side"]) + float(match["bar"]))
    match = re.fullmatch(rf"@?\s*(?:{LOAD}|{BARE_BW})", said.strip(" ."))
    return weight_of(match) if match else None
