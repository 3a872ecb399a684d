"""The tokens of a cell of sets: each spelling of a part is settled here, the grammar in `cells`."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from .told import EFFORTS, effort_of, read_effort
from .words import one_of

NUMBER = r"\d{1,4}(?:\.\d{1,3})?"
BODY = one_of("body")
_EACH = r"(?:/|p/?|per|each|every|a|je|pro|par|por|cada|in)"
_HAND = r"(?:hands?|h|dbs?|dumbbells?|kbs?|mano|main|m[ãa]o|manc\w*)\b"
_SECONDS = r"(?:s|secs?|seconds?|m|mins?|minutes?|'|\")"
_TIME = rf"\d+(?:[.:]\d+)?\s*{_SECONDS}(?![a-z])"
_HEAD = r"(?:^|(?<=[,;:\n]))\s*"
_KINDS = {
    "effort": r"⟦[^⟧]*⟧",
    "label": rf"{_HEAD}(?:top(?: sets?)?|back[- ]?offs?|work(?:ing)?(?: sets?)?|paused?"
    r"(?: \d ?s(?:ec)?)?)\b\s*:?(?=\s+(?:\d|bw))",
    "amrap": r"amrap\b",
    "sides": rf"(?:{_EACH}\s*)*{one_of('side')}\b|[elp]/[srl]\b|each way|"
    r"(?:(?<=x\d)|(?<=x\d\d)|(?<=x \d)|(?<=x \d\d))\s?[lr]\b|"
    rf"{_HEAD}[lr][:.]?(?= \d)",
    "each": rf"(?:{_EACH}\s*)+{_HAND}|(?:each|ea|e/s|es)\b\.?|'s\b|(?<=\d)\s*s(?=[\s:x)]|$)"
    r"|(?<=[\dgb ])(?:dbs?|kbs?)\b",
    "warm": rf"(?:{one_of('warmup')}(?: ?sets?)?)(?![a-zà-ÿ])\.?|w(?=\d[\d.]*x)|^w(?= \d)|"
    r"(?<=\d)w(?=$|[\s,;])",
    "help": r"(?:assist(?:ed|ance)?|asst|help|hilfe|aide|ayuda|ajuda|minus)\b(?: (?:of|by))?",
    "pause": r"(?:rp|rest[- ]?pause|myo\w*)(?=[\s:+]*\d)\s*:?\s*\+?",
    "failed": r"(?:fail(?:ed)?|miss(?:ed)?|nope|no lift|no rep)(?!\s*(?:\d|on\b|at\b|the\b))\b|"
    r"[✗✘❌]|f\b",
    "body": rf"{BODY}(?![a-wyzà-ÿ]|x[a-z])|^kg(?=\s*[+-]|\s*x)",
    "sets": rf"{one_of('sets')}(?:\s*(?:of|x|at|de|da|à)(?!\w))?(?![a-zà-ÿ])",
    "number": NUMBER,
    "unit": r"(?<=[\d ])(?:kgs?|kilos?|lbs?\b\.?|pounds?|k|#)(?![a-wyzà-ÿ])",
    "rep": rf"(?:{one_of('reps')}|(?<=\d)r)(?![a-zà-ÿ])\.?",
    "x": r"(?:x|\*|by\b)(?![a-wyzà-ÿ])|x(?=f\b|amrap|bw|fail|miss)",
    "at": rf"@|(?:{one_of('with')}|w)(?![a-zà-ÿ])(?:\s+je\b)?",
    "for": r"for\b",
    "then": r"then\b:?|work\w*(?: sets?)?\s*(?::|(?=\d))",
    "and": r"(?:and|und|et|y|e|&)(?![a-zà-ÿ])",
    "drop": r"=?>|->|drop(?:ped)?(?: to| set)?\b:?(?=\s*\d)",
    "mark": r"[;,:/()+\n|=-]",
    "space": r"[ \t]+",
    "word": r"[^\W\d_]+(?:['.!?]+[^\W\d_]*)*[\d%]*",
    "odd": r".",
}
_TOKENS = re.compile("|".join(f"(?P<{kind}>{form})" for kind, form in _KINDS.items()), re.I)
_TIDY = tuple(
    (re.compile(form), instead)
    for form, instead in (
        (r"[✓✔✅☑~≈!]|\*+$|(?<=\d)ish\b|\[|\]|(?<=\d)\.$", ""),
        (r"(?<=\d)\s+(?:½|1/2)(?=\s|x|$)", ".5"),
        (r"[→⇒➔➡]", ">"),
        # What is no part of a set: its tempo, a rest, the load in the other unit, a set's number.
        (r"[@,(]?\s*\btempo\s*:?\s*[\dx][\dx-]{2,6}\)?|\s@\s*\d-\d-[\dx](?:-[\dx])?(?!\d)", " "),
        (rf"[,(@;]?\s*(?:\brest\w*\s*:?\s*{_TIME}?\)?$|\b{_TIME}\s*(?:rest|pause|break)s?\b\)?)",
         " "),
        (rf"({NUMBER}\s*(?:kgs?|lbs?))\s*[(/=]\s*{NUMBER}\s*(?:kgs?|lbs?)\b\)?", r"\1"),
        (r"(?:^|[\s;,]+)(?:set|satz|s[ée]rie|s)\s*\d{1,2}\s*[:.)=]\s*", "; "),
        (rf"\bpair(?: of)?\s+(?={NUMBER})", "2x"),
        (rf"(?<![\d./])({NUMBER})/\1(?=\s*(?:kgs?|lbs?)?\s*[x:])", r"\1"),
    )
)  # fmt: skip
_LISTED = re.compile(r"(?:^|\s+)[1-9][).]\s+")
_COMMA = re.compile(
    r"(?P<before>^|[^\d.,])(?P<whole>\d{1,3}),(?P<part>5|25|75|50|0|00|125|375|625|875)(?!\d|,\d)"
)
_ALONE = re.compile(r"([2-9]\d|\d{3}),(\d)")
"""A number of a cell of its own: after so many repetitions nobody did so few."""
_BEHIND_LOAD = re.compile(r"\s*(?:kg|lb|x|\*|:|@|for\b|\(|s\b|;)|\s*,\s")
_EFFORT_LIST = re.compile(
    r"[,(@]*\s*(?:\b(?P<kind>rpe|rir)\s*[:@]?|@)\s*"
    r"(?P<list>\d{1,2}(?:\.5)?(?:\s*[,/]\s*\d{1,2}(?:\.5)?)+)\)?$"
)


class Token(NamedTuple):
    kind: str
    text: str
    spaced: bool  # Whether a space stands before it
    begins: int
    efforts: tuple[tuple[float, float] | None, ...] = ()


@lru_cache(maxsize=32768)
def tokens_of(text: str) -> tuple[str, Sequence[Token]]:
    """The cell in plain spelling and its tokens, each effort as one."""
    said = text.lower().strip().strip("'\"")
    for form, instead in _TIDY:
        said = form.sub(instead, said)
    if re.match(r"1[).] ", said):
        said = _LISTED.sub("; ", said)
    said = _with_efforts(_with_points(said)).strip(" ;")
    found: list[Token] = []
    spaced = False
    for match in _TOKENS.finditer(said):
        kind = match[0] if match.lastgroup == "mark" else str(match.lastgroup)
        kind = "; " if kind in "\n|" else kind
        efforts = tuple(map(_effort, match[0].strip("⟦⟧").split(";"))) if kind == "effort" else ()
        if kind != "space":
            led = spaced or match[0][:1].isspace()
            found.append(Token(kind.strip(), match[0].strip(), led, match.start(), efforts))
        spaced = kind == "space"
    return said, tuple(found)


def _with_points(said: str) -> str:
    """Decimal commas as points: of loads and efforts, never within a list of repetitions."""

    def pointed(match: "re.Match[str]") -> str:
        before, behind = said[: match.start("whole")].rstrip(), said[match.end() :]
        in_unit = re.match(r"\s*(?:kg|lb)", behind)
        touching = said[: match.start("whole")].endswith(",")
        listed = (touching or before.endswith(("x", "*", "/"))) and not in_unit
        of_load = before.endswith(("@", "+", "rpe", "rir", "pse")) or re.search(r"x\d+x$", before)
        high = int(match["whole"]) >= 20 and not re.match(r"\s*[,/]", behind)
        decimal = of_load or (not listed and (_BEHIND_LOAD.match(behind) or high))
        return f"{match['before']}{match['whole']}.{match['part']}" if decimal else match[0]

    return _ALONE.sub(r"\1.\2", said) if _ALONE.fullmatch(said) else _COMMA.sub(pointed, said)


def _with_efforts(said: str) -> str:
    if match := _EFFORT_LIST.search(said):
        listed = re.split(r"\s*[,/]\s*", match["list"])
        efforts = [read_effort(one, match["kind"] != "rir") for one in listed]
        return said[: match.start()] + _told(efforts)
    for form in EFFORTS[:-1]:
        said = form.sub(lambda match: _told([effort_of(match.groupdict())]), said)
    return said


def _told(efforts: Sequence[tuple[float, float] | None]) -> str:
    return f" ⟦{';'.join(f'{one[0]:g} {one[1]:g}' if one else '' for one in efforts)}⟧ "


def _effort(said: str) -> tuple[float, float] | None:
    low, _, high = said.partition(" ")
    return (float(low), float(high)) if high else None
