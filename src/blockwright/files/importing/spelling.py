"""The many spellings of a set brought to one, before the grammar of `cells` reads it.

Each rule rewrites one notation: "3 sets of 5 with 100 kg" and "3x5 à 100kg" become "3x5 @ 100kg",
"140 FAIL" becomes "140 x 0", "20kg assist x 8" becomes "-20kg x 8". What is no part of a set and
holds numbers (a rest, a tempo) goes.
"""

import re
from collections.abc import Callable
from functools import lru_cache

from blockwright.files.importing.words import one_of

NUMBER = r"\d{1,4}(?:\.\d{1,3})?"
UNIT = r"(?:kgs?|kilos?|k|lbs?\.?|pounds?|#)"
BODY = one_of("body")
_SETS, _WITH, _SIDE = one_of("sets"), one_of("with"), one_of("side")
_REPS = rf"{one_of('reps')}\b\.?"
_EACH = r"(?:/|per|each|every|a|je|pro|par|por|cada|per)"
_HAND = r"(?:in |per |each |pro |je |por |par |p/?|/)+(?:hand|h|db|mano|main|m[ãa]o|manc\w*)\b"
_HELP = r"(?:assist(?:ed|ance)?|asst|help|hilfe|aide|ayuda|ajuda)\b"
_TIME = r"\d+(?:[.:]\d+)?\s*(?:s|secs?|seconds?|m|mins?|minutes?|'|\")"
_FAILED = r"(?:fail(?:ed)?|miss(?:ed)?|nope|no lift|no rep|[✗✘❌])(?!\s*(?:\d|on\b|at\b|the\b))"
_LEFT = r"(?:^|(?<=[\s,;]))"
_END = r"(?=$|[\s,;)])"

_LOAD_BEHIND = (
    rf"(?:{BODY}(?:\s*[+-]\s*{NUMBER}\s*{UNIT}?)?|(?:[+-]\s*)?{NUMBER}\s*{UNIT}|[+-]\s*{NUMBER}"
    r"|[2-9]\d(?:\.\d+)?|\d{3}(?:\.\d+)?)"
)
_SURE_LOAD_BEHIND = _LOAD_BEHIND.replace("[2-9]", "[4-9]")
_NO_MORE = r"(?=\s*(?:$|;|@\s*\d|[,(-]*\s*(?:rpe|rir|pse|\d(?:\.\d)?\s*rir)))"
"""The end, or an effort."""
_DECIMAL_COMMA = re.compile(
    r"(?<![\d,])(?:(?<!x)|(?=\d+,\d+\s*(?:kg|lb)))(\d{1,3}),(5|25|75|50|0|00|125|375|625|875)"
    rf"(?=\s*(?:x|\*|{UNIT}\b|@|\())"
)
_HALF = re.compile(
    r"(\b(?:rpe|rir|pse)\s*[:=@]?\s*\d|(?<![\d,./+-])(?<!x)(?<!x )(?:[2-9]\d|1\d\d)),5(?![\d,])"
)
"""A decimal comma in an effort, or in a load that repetitions hardly are."""
_MISSED = re.compile(
    r"(?P<before>[x/,;]\s?|\d(?P<mark>[,/;]\s?|\s)\d+(?P=mark))(?:f|fail|failed|missed)(?=$|[\s,/;])"
)
"""A missed set after x or among others in a list; "3 F" is a set that was its last."""
_PLAIN = re.compile(r"\d+|[1-9]\d*(?:\.\d+)?(?: ?[x@] ?[1-9]\d*(?:\.\d+)?){1,2}")
_BODY_ALONE = re.compile(rf"(?:\d{{1,2}}(?:\s*reps?)?\s*@?\s*{BODY}[\s,;/]*)+")


def _reps_at_load(match: "re.Match[str]") -> str:
    """ "10,10,8 x 30" is three sets at 30. "15, 3 x 8" is 15 for three sets of eight; a rising list
    ("10, 12 x 8") and what may be either ("8, 6 x 10") no set we are sure of."""
    first, *rest = (int(one) for one in match["reps"].split(","))
    few = len(rest) == 1 and rest[0] <= 6 and re.fullmatch(r"1?\d", match["load"]) is not None
    if few and 2 * rest[0] <= first:
        return match[0]
    rises = first < rest[0]
    return "?" if few or rises else f"{match['reps']} @ {match['load']}"


_RULES: tuple[tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]], ...] = tuple(
    (re.compile(form), instead)
    for form, instead in (
        (r"[✓✔✅~≈!]|(?<!\d)\s*\*|\*(?!\s*\d)|(?<=\d)ish\b", ""),
        (r"(?<=\d)\s+(?:½|1/2)(?=\s|x|$)", ".5"),
        (r"=?>|[→⇒➔➡]", ">"),
        # What is no part of a set.
        (r"[@,(]?\s*\btempo\s*:?\s*[\dx][\dx-]{2,6}\)?|\s@\s*\d-\d-[\dx](?:-[\dx])?(?!\d)", " "),
        (
            rf"[,(@;]?\s*(?:\brest\w*\s*:?\s*{_TIME}?\)?$|\b{_TIME}\s*(?:rest|pause|break)s?\b\)?)",
            " ",
        ),
        (
            r"^(?:top(?: sets?)?|back[- ]?offs?|work(?:ing)?(?: sets?)?|paused?(?: \d ?s(?:ec)?)?)"
            r"\s*:?\s+(?=\d|bw)",
            "",
        ),
        (r"^(?!w/?u|warm)(.*?)[,;.]\s*then\b:?", r"\1,"),
        (r"[,;]\s*(?=drop(?:ped)? to\b)", " "),
        (r"(x\d{1,2})w(?=$|[\s,;])", r"\1 wu"),
        # Sets, repetitions and what they are done with.
        (rf"^(bw|{NUMBER} ?{UNIT}?)\s*x?\s*amrap\s+(\d{{1,2}})$", r"\1 x \2"),
        (r"^amrap\s+(\d{1,2})$|amrap\s*[(:=]\s*(\d{1,2})\)?", r"\1\2"),
        (rf"(?<=\d)\s*{_REPS}", " reps"),
        (rf"x\s*(\d{{1,2}})\s*{_SETS}\s*(?:of|x|,|de|à)?\s*(?=\d)", r" \1x"),
        (rf"\s*{_LEFT}(?:set|satz|s[ée]rie|s)\s*\d{{1,2}}\s*[:.)=]\s*", "; "),
        (
            rf"^({NUMBER}\s*{UNIT}?)\s*x\s*(\d{{1,2}})(?:\s*{_EACH}\s*{_SIDE})?"
            rf"\s*,\s*(\d{{1,2}})\s*{_SETS}\s*$",
            r"\3x\2 @ \1",
        ),
        (rf"\b{_SETS}\s*$", ""),
        (rf"\b{_SETS}\b(?:\s*(?:of|x|at|de|da|à)(?![\w]))?", " x "),
        (r"(?<=\d)\s*x(?=,\s*x)|,\s*x\s*(?=\d)", ","),
        (
            rf"^({NUMBER}\s*{UNIT}?)((?:\s*x\s*\d{{1,2}}){{3,}})(?![\d.])",
            lambda match: f"{match[1]}x{','.join(re.findall('[0-9]+', match[2]))}",
        ),
        (r"\(\s*x\s*(\d{1,2})\s*\)", r" x\1"),
        (rf"^\(([+-]?{NUMBER}\s*{UNIT})\)\s*(\d{{1,2}}\s*x\s*\d{{1,2}})$", r"\2 @ \1"),
        (rf"(?<=[\da-z)])\s+{_WITH}\s+(?:je\s+)?(?=[+-]?\d|{BODY})", " @ "),
        (rf"^(\d{{1,2}})\s*r(?:eps?)?\s+(?={NUMBER}\s*{UNIT}$)", r"\1 @ "),
        # Whose the number is: a side's repetitions, a hand's weight, the machine's help.
        (r"(x\s*\d{1,2})\s*[lr]\b|(?:^|(?<=[,;/] ))[lr][:.]? (?=\d[\d.]*x\d)", r"\1"),
        (rf"(x\s*\d{{1,2}})\s*{_EACH}\s*{_SIDE}\b", r"\1/leg"),
        (rf"(?<=\d)\s*{_EACH}\s*{_SIDE}\b(?=\s*(?:[@,)]|$))", "/leg"),
        (r"(?<=\d)\s*(?:[elp]/[srl]|each way)(?!\w)", "/leg"),
        (rf"(?<=\d)(\s*{UNIT})?\s*(?:{_HAND}|'s)", r"\1 each "),
        (rf"\bpair(?: of)?\s+(?={NUMBER})", "2x"),
        (rf"(?<![\d./])({NUMBER})/\1(?=\s*(?:{UNIT}\s*)?[x:])", r"\1"),
        (rf"(-\s*{NUMBER}\s*{UNIT}?)\s*(?:of\s+)?{_HELP}", r"\1"),
        (rf"(?<![\w.])(?:{_HELP}|minus)\s*(?:of|by|:|-)?\s*(?={NUMBER})", "-"),
        (rf"(?<![\dx.-])(?<!x )({NUMBER}\s*{UNIT}?)\s*(?:of\s+)?{_HELP}", r"-\1"),
        (rf"^({BODY}) - (?=\d{{1,2}}(?:[,/] ?\d{{1,2}})+$)", r"\1 "),
        (rf"^({BODY}(?:\s*[+-]\s*{NUMBER})?)\s+(?=\d{{1,2}}(?:[ ,/]+\d{{1,2}})+$)", r"\1 x "),
        (rf"^{BODY}\s*[:,-]?\s*([1-3]?\d)(?:\s*reps?)?$", r"bw x \1"),
        (
            rf"^(?P<reps>(?:1?\d|20)(?:\s*,\s*(?:1?\d|20))+)\s*x\s*(?P<load>{NUMBER}\s*{UNIT}?|{BODY})$",
            _reps_at_load,
        ),
        (
            rf"(?<![\d.])({NUMBER}\s*{UNIT})\s+"
            r"(?=\d{1,2}(?:[ ,]+\d{1,2})*(?:\s*reps?)?\s*(?:$|[;,]))",
            r"\1 x ",
        ),
        (r"(?:^|(?<=[,;] ))0\s*(?:kg)?\s*x\s*(?=\d)", "bw x "),
        # A load behind its repetitions, in brackets or after a dash or a plus.
        (rf"({NUMBER}\s*(?:kgs?|lbs?))\s*[(/=]\s*{NUMBER}\s*(?:kgs?|lbs?)\b\)?", r"\1"),
        (
            r"^((?:\d{1,2}\s*x\s*)?\d{1,2}(?:[\s,/-]+\d{1,2})*)"
            rf"(?:\s*reps)?\s*\(\s*@?\s*({_LOAD_BEHIND})\s*\){_NO_MORE}",
            r"\1 @ \2",
        ),
        (
            r"(?:^|(?<=[;,] )|(?<=wu ))(\d{1,2}\s*x\s*\d{1,2})\s*"
            rf"\(\s*@?\s*({_LOAD_BEHIND})\s*\)(?=\s*(?:$|[;,]))",
            r"\1 @ \2",
        ),
        (
            rf"^(\d{{1,2}}\s*x\s*\d{{1,2}})(?:\s*reps)?(?:\s+-\s+(?={_LOAD_BEHIND}{_NO_MORE})"
            rf"|\s*[,/]\s*(?={_SURE_LOAD_BEHIND}{_NO_MORE}))",
            r"\1 @ ",
        ),
        (
            rf"^([^+]*[,x]\s*\d{{1,2}})\s+\+\s?(?=(?:[5-9]|\d\d|\d\.\d+)\s*{UNIT}?$|{NUMBER}\s*{UNIT}$)",
            r"\1 @ +",
        ),
        (rf"(x\d{{1,2}})\+(?={NUMBER}x\d)", r"\1 > "),
        (r"(?<=\d)\s*[,+]?\s*(?:rp|rest[- ]?pause|myo\w*)\s*:?\s*\+?(?=\d{1,2}(?!\d|x))", "+"),
        (rf"(?<=\d)\s+-\s+(?={NUMBER}\s*{UNIT}?\s*x\s*\d)", ", "),
        (rf"^({NUMBER}\s*{UNIT})\s*/\s*(?=\d{{1,2}}/)", r"\1: "),
        # Attempts that failed.
        (rf"(x\s*)1\s*[(,-]*\s*(?:{_FAILED}|f\b)\)?{_END}", r"\g<1>0"),
        (
            rf"{_LEFT}((?:[3-9]\d|\d{{3}})(?:\.\d+)?\s*{UNIT}?)\s*[(,-]*\s*{_FAILED}\)?{_END}",
            r"\1 x 0",
        ),
    )
)


@lru_cache(maxsize=32768)
def one_spelling(text: str) -> str:
    """The cell's text in lower case and in the spelling that the grammar knows."""
    said = text.lower().strip().strip("'\"")
    if _PLAIN.fullmatch(said):
        return said
    # A decimal comma stands before x, a unit or the end, behind a load's digits.
    said = _DECIMAL_COMMA.sub(r"\1.\2", said)
    said = _HALF.sub(r"\1.5", said)
    said = re.sub(r"([@+]\s*)(\d{1,3}),(5|25|75|50)(?![\d,])", r"\1\2.\3", said)
    if re.match(r"1[).] ", said):
        said = re.sub(r"(?:^|\s+)[1-9][).]\s+", "; ", said)
    for pattern, instead in _RULES:
        said = pattern.sub(instead, said)
    said = _MISSED.sub(lambda match: f"{match['before']}0", said)
    if _BODY_ALONE.fullmatch(said):
        said = ", ".join(f"bw x {reps}" for reps in re.findall(r"\d+", said))
    said = re.sub(r"\bw(?=\d[\d.]*x\d)|^w (?=\d[\d.]* ?x ?\d)", "wu ", said)
    said = re.sub(r"(x\d{1,2}x\d{2,3}),(5|25|75)$", r"\1.\2", said)
    return re.sub(r"x[ \t]+x", "x", said).strip(" ;")
