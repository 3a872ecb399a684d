"""The tokens of a cell of sets: its spellings are settled here, its grammar in `notation`."""

import re
from dataclasses import dataclass

from blockwright.files.importing.spelling import BODY
from blockwright.files.importing.told import EFFORTS, effort_of
from blockwright.files.importing.words import one_of

_WARM = rf"(?:{one_of('warmup')}(?: ?sets?)?)(?![a-zà-ÿ])\.?"
_HAND = r"(?:hand|arm|side|leg|seite|lado|dbs?|kbs?)\b"
_KINDS = {
    "effort": r"⟦[\d.]+ [\d.]+⟧",
    "body": rf"{BODY}(?![a-zà-ÿ]*[a-wyzà-ÿ])",
    "warm": _WARM,
    "sets": rf"{one_of('sets')}(?:\s*(?:of|x|de|à|da))?(?![a-zà-ÿ])",
    "number": r"\d{1,4}(?:\.\d{1,3})?",
    "unit": r"(?:kgs?|kilos?|lbs?|pounds)(?![a-wyzà-ÿ])",
    "each": rf"(?:(?:per|each|je|pro|por|par|/|a)\s*)?{_HAND}|each\b|e/s\b|ea\b|'?s(?=[\sx]|$)",
    "rep": r"(?:reps?|wdh|rép?s?|repeticiones|repetições)\b\.?",
    "times": r"x|\*",
    "at": rf"@|(?:{one_of('with')}|w)(?![a-zà-ÿ])",
    "for": r"for\b",
    "and": r"(?:and|und|et|y|e|then|&)(?![a-zà-ÿ])",
    "drop": r"->|>|→",
    "mark": r"[;,:/()+\n-]",
    "space": r"\s+",
    "word": r"[a-zà-ÿ'.!?]+",
    "odd": r".",
}
_TOKENS = re.compile("|".join(f"(?P<{kind}>{form})" for kind, form in _KINDS.items()), re.I)
_DECIMALS = re.compile(
    r"(?P<before>^|[^\d.,])(?P<whole>\d{1,3}),(?P<part>\d{1,2})(?P<behind>(?=.*)(?!,?\d))"
)
_BEHIND_LOAD = re.compile(r"\s*(?:kgs?|lbs?)?\s*(?:x|\*|:|/|@|for\b|\(|$|;|kg|lb|s\b)|\s*,\s")


@dataclass(frozen=True, slots=True)
class Token:
    kind: str
    text: str
    spaced: bool
    """Whether a space stands before it."""


def tokens_of(text: str) -> list[Token]:
    """The tokens of a cell, efforts as one each; [] where a sign is none of them."""
    said = _with_efforts(_with_points(text.lower().strip()))
    found: list[Token] = []
    spaced = False
    for match in _TOKENS.finditer(said):
        kind = match[0] if match.lastgroup == "mark" else str(match.lastgroup)
        if kind == "odd":
            return []
        if kind != "space":
            found.append(Token(kind, match[0], spaced))
        spaced = kind == "space"
    return found


def _with_points(said: str) -> str:
    """Decimal commas as points: of loads and efforts, never within a list of repetitions."""

    def pointed(match: "re.Match[str]") -> str:
        before, behind = said[: match.start("whole")], said[match.end() :]
        listed = before.rstrip(" ").endswith(("x", "*")) or before.endswith((",", "/"))
        listed = listed and not re.match(r"\s*(?:kg|lb)", behind)
        if match["part"] not in ("5", "25", "75", "50") and not re.match(r"\s*(?:kg|lb)", behind):
            return match[0]
        if not listed and _BEHIND_LOAD.match(behind):
            return f"{match['before']}{match['whole']}.{match['part']}"
        return match[0]

    return _DECIMALS.sub(pointed, said)


def _with_efforts(said: str) -> str:
    for form in EFFORTS[:4]:
        said = form.sub(_told_effort, said)
    return said


def _told_effort(match: "re.Match[str]") -> str:
    found = effort_of(match.groupdict())
    return f" ⟦{found[0]:g} {found[1]:g}⟧ " if found else match[0]
