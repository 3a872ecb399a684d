"""The grammar of one line of sets, in the one spelling: "3x8 @ 80kg", "80x8,8,7", "-20 x 8"."""

import re
from dataclasses import replace

from blockwright.engine.units import Unit
from blockwright.files.importing.spelling import BODY as _BODY
from blockwright.files.importing.spelling import NUMBER as _NUM
from blockwright.files.importing.spelling import UNIT as _UNIT
from blockwright.files.importing.told import OneSet, Told, Weight

MOST_SETS_A_CELL = 12
"""More sets of one lift in a cell is a load, not a count (judgement)."""
_MOST_SETS_USUAL = 6
"""In "80x3x8" the number above this is the repetitions (judgement)."""
_LIGHTEST = 5
"""In "3x8" so few are sets, also where loads come first in a file (judgement)."""
MOST_REPS = 60
"""More repetitions in one set is no set of a log (judgement)."""

_UNITS: dict[str, Unit] = {"k": "kg", "l": "lb", "p": "lb", "#": "lb"}
_EACH = r"(?:\s*(?:/|per |a |each |ea )?\s*(?:hand|arm|leg|db|dbs|each|ea|es|s)\b\.?)?"
LOAD = (
    rf"(?:(?P<bw>{_BODY}|kg(?=\s*[+-]))\s*)?(?P<sign>[+-])?\s*"
    rf"(?P<pair>2\s*x\s*)?(?P<load>{_NUM})\s*(?P<unit>{_UNIT})?{_EACH}"
    r"(?:\s*(?:dbs?|kbs?|help|assist(?:ance|ed)?))?"
)
BARE_BW = rf"(?P<bare>{_BODY})"
_REP = (
    r"\d{1,3}(?![\d.])(?:\s*\+\s*\d{1,2})*\+?(?:\s*(?:reps?|r)\b)?"
    r"(?:\s*/\s*(?:leg|side|arm)|\s*(?:each|ea|es|e/s)\b)?"
)
_LIST = rf"{_REP}(?:\s*[,/;&-]\s*{_REP}|\s+{_REP})*"
_X = r"\s*(?:x|\*|by|for)\s*"

_SLASHED = re.compile(r"(?:x ?)?(2[5-9]|[3-9]\d|[1-9]\d\d)(?:\.\d+)?/(1?\d|20)")
_BARE_PAIR = re.compile(rf"(\d{{1,3}}){_X}(\d{{1,3}})(?:\s*reps?|\s*/\s*(?:leg|side|arm))?")
_SCHEMES = r"[1-6]\s*x\s*\d{1,2}(?:\s*[,;/+]\s*[1-6]\s*x\s*\d{1,2})+"
_OF_ONE_LOAD = re.compile(
    rf"(?P<before>[^x,]+?)\s*[:,]?\s+(?P<schemes>{_SCHEMES})(?![\d.]|\s*(?:x|kg|lb))"
    rf"|(?P<first>{_SCHEMES})\s*(?:@|at)\s*(?P<behind>\S+(?: (?:kgs?|lbs?))?)"
)
_REPS_AND_EFFORTS = re.compile(r"(?:\d{1,2} ?\((?:\d|10)(?:\.5)?\)[\s,;/]*)+")
_LOAD_APART = (
    r"\s+(?=(?:[2-9]\d|\d{3})(?:\.\d+)?$|\d+\.(?!5$)\d+$|[1-9]\d\.5$|(?:[1-9]|[12]\d|\d+\.5)s$)"
)
"""A bare number behind repetitions that is no repetition and no effort; "10s" is a pair of
dumbbells, "30s" may be a rest."""
_DROP = re.compile(r"\s*(?:->|>|\bdrop(?:ped)?(?: to| set)?\b:?)\s*", re.I)
_BETWEEN = (
    r"(?:\s*(?:@|at|w/|with|:)\s*|\s+(?=[^ ]* ?(?:kg|lb|#|bw))"
    rf"|\s*,\s*(?=\d+(?:\.\d+)?\s*(?:kg|lb))|{_LOAD_APART}"
    r"|(?P<apart>\s+(?=1\d$)))"
)
_SCHEME_AT_LOAD = re.compile(rf"(\d{{1,2}}){_X}({_LIST}){_BETWEEN}(?:{LOAD}|{BARE_BW})")
_LOAD_WITH_SCHEME = re.compile(
    rf"(?:{LOAD}|{BARE_BW})(?:\s*[:,/-]\s*|\s+for\s+|\s+|\s*\()(\d{{1,2}}){_X}"
    rf"(?P<list>{_LIST})\)?"
)
_TRIPLE = re.compile(
    rf"(?P<first>[^x*]+){_X}(?P<reps>\d{{1,3}})(?:/leg|\s*reps?)?{_X}(?P<last>[^x*]+)"
)
_LOADS_FOR_REPS = re.compile(
    rf"(?P<loads>{_NUM}(?:\s*[/-]\s*{_NUM}){{2,}})\s*(?P<unit>{_UNIT})?{_X}(\d{{1,2}})"
)
_APART = rf"{_LOAD_APART}|\s+(?=\d+(?:\.\d+)?\s*(?:kg|lb))"
_REPS_AT_LOAD = re.compile(
    rf"(?P<list>{_LIST})(?:\s*(?:@|at|with|w/|x(?=.*(?:kg|lb)))\s*|(?P<apart>{_APART}))"
    rf"(?:{LOAD}|{BARE_BW})"
)
_NEXT_LOAD = re.compile(
    rf"(?:(?P<drop>{_DROP.pattern})|\s*[,/&]?\s*)(?:{LOAD}|{BARE_BW})(?:{_X}|\s*[:=]\s*|\s*\(\s*|\s*-\s+|\s+(?={_REP}\s*[,/]))"
    rf"(?P<list>{_REP}(?:\s*[,/&-]\s*{_REP}(?!\s*(?:x|\*|kg|lb))|\s+{_REP}(?!\s*(?:x|\*|kg|lb)))*)\s*\)?"
)
_LOAD_ALONE = re.compile(rf"@?\s*(?:{LOAD}|{BARE_BW})")
_REPS_LIST = re.compile(_LIST)
_WEIGHT = re.compile(rf"\s*(?:{LOAD}|{BARE_BW})\s*")


def one_line(said: str, load_first: bool | None) -> Told | None:
    if not said:
        return None
    rules = (
        _scheme_at_load, _load_with_scheme, _triple, _loads_with_reps, _reps_at_load,
        _loads_for_reps,
    )  # fmt: skip
    if match := _SLASHED.fullmatch(said):
        # "135/10": a load far above any repetitions, and its repetitions.
        return _one_set(match[1], match[2])
    if _OF_ONE_LOAD.fullmatch(said) and (told := schemes_of_one_load(said)) is not None:
        return told
    for rule in rules:
        if (told := rule(said)) is not None:
            return told
    if match := _BARE_PAIR.fullmatch(said):
        return _pair(int(match[1]), int(match[2]), load_first)
    if _REPS_LIST.fullmatch(said) and (reps := _reps_of(said)):
        return Told("reps", tuple(OneSet(parts) for parts in reps))
    if match := _LOAD_ALONE.fullmatch(said):
        return None if re.fullmatch(r"\d+\s*s", said) else Told("load", weight=weight_of(match))
    return None


def _scheme_at_load(said: str) -> Told | None:
    """3x8 @ 80, 3x8 80kg, 3 x 8,8,7 @ 80, 5x5 at BW+10."""
    match = _SCHEME_AT_LOAD.fullmatch(said)
    if match is None or int(match[1]) > MOST_SETS_A_CELL:
        return None
    told, weight = _spread(int(match[1]), match[2], weight_of(match)), weight_of(match)
    if match["apart"] and told and weight and weight.amount <= max(10, *told.sets[0].reps):
        # "3x12 10": an effort, a load or one more set.
        return None
    return told


def _load_with_scheme(said: str) -> Told | None:
    """80 5x5, 80kg: 3x8, BW 3x8, 60kg 3x10,10,9."""
    match = _LOAD_WITH_SCHEME.fullmatch(said)
    if match is None:
        return None
    count = match[match.lastindex - 1] if match.lastindex else ""
    return _spread(int(count), match["list"], weight_of(match))


def _triple(said: str) -> Told | None:
    """3x8x80 and 80x8x3: the outer number that can be no load is the count of sets."""
    match = _TRIPLE.fullmatch(said)
    if match is None:
        return None
    first, last = _plain_weight(match["first"]), _plain_weight(match["last"])
    if first is None or last is None:
        return None
    count_last = re.fullmatch(r"\d{1,2}", match["last"].strip()) is not None
    count_first = re.fullmatch(r"\d{1,2}", match["first"].strip()) is not None
    if match["first"].strip() == "2" and count_last and last.amount < int(match["reps"]):
        # A pair: 2x20x12 is two dumbbells of 20 for twelve.
        return _one_set(match["reps"], last.amount)
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
    sets: list[OneSet] = []
    at = 0
    while at < len(said):
        match = _NEXT_LOAD.match(said, at)
        if match is None:
            return None
        weight, reps = weight_of(match), _reps_of(match["list"])
        bare = not any(match[name] for name in ("unit", "bare", "bw", "pair", "sign"))
        if reps is None or weight is None or (bare and _may_be_count(match["load"], said)):
            return None
        dropped = bool(sets) and _DROP.fullmatch(match["drop"] or "")
        if dropped and len(reps) != 1:
            return None
        if dropped and weight.amount < sets[-1].weights[-1].amount:
            last = sets[-1]
            sets[-1] = replace(last, reps=last.reps + reps[0], weights=(*last.weights, weight))
        else:
            # "100x5 > 105x5" is no drop.
            sets += [OneSet(parts, (weight,)) for parts in reps]
        at = match.end()
    return Told("sets", tuple(sets)) if sets else None


def _may_be_count(load: str, said: str) -> bool:
    """Whether "5x5", "2x10/leg" or "2x10 18" may be a scheme, and "12 (7), 10 (8)" repetitions
    with their efforts: no load is surely meant."""
    few = "." not in load and float(load) <= MOST_SETS_A_CELL
    if few and re.fullmatch(rf"\d+{_X}{_REP}(?:\s+\d+)?", said):
        return True
    if few and (match := re.fullmatch(rf"\d+{_X}(\d+)\s*[,/]\s*(\d+)", said)):
        # "3x8, 20" is no set of eight and one of twenty.
        return int(match[2]) > int(match[1])
    return float(load) <= MOST_REPS // 2 and _REPS_AND_EFFORTS.fullmatch(said) is not None


def _reps_at_load(said: str) -> Told | None:
    """8,8,7 @ 80; 8 reps @ 80kg; 8 @ 80; 12 x 80kg; 8,8,7 80kg; 8,8,7 82.5."""
    match = _REPS_AT_LOAD.fullmatch(said)
    if match is None or (match["apart"] and not re.search(r"\d *[,/] *\d", match["list"])):
        return None
    reps, weight = _reps_of(match["list"]), weight_of(match)
    if reps and len(reps) > 1 and reps[0][0] > 3 * max(map(max, reps[1:])):
        # "60 8 8 7 @ 8": the first is the load.
        return None
    return _all_at(reps, weight) if reps and weight else None


def _loads_for_reps(said: str) -> Told | None:
    """60/80/100 x 5: three or more loads, each for the same repetitions."""
    match = _LOADS_FOR_REPS.fullmatch(said)
    loads = [float(one) for one in re.split(r"\s*[/-]\s*", match["loads"])] if match else []
    if match is None or min(loads) <= MOST_SETS_A_CELL or loads != sorted(set(loads)):
        return None
    unit = unit_of(match["unit"])
    reps = int(match[match.lastindex or 0])
    return Told("sets", tuple(OneSet((reps,), (Weight(load, unit),)) for load in loads))


def schemes_alone(said: str) -> Told | None:
    """1x12, 1x9: sets and repetitions, as no load is one of so few."""
    if not re.fullmatch(_SCHEMES, said):
        return None
    pairs = [(int(n), int(reps)) for n, reps in re.findall(r"(\d)\s*x\s*(\d+)", said)]
    return Told("reps", tuple(OneSet((reps,)) for count, reps in pairs for _ in range(count)))


def schemes_of_one_load(said: str) -> Told | None:
    """42.5kg 2x8, 1x7; 2x8, 1x6 @ 90; what stands behind is left out."""
    match = _OF_ONE_LOAD.match(said)
    weight = _plain_weight(match["before"] or match["behind"]) if match else None
    told = schemes_alone(match["schemes"] or match["first"]) if match else None
    if told is None or weight is None:
        return None
    if weight.amount <= MOST_SETS_A_CELL and not (weight.unit or weight.bodyweight):
        # So little is an effort, or a count of sets.
        return None
    return replace(
        told, kind="sets", sets=tuple(replace(one, weights=(weight,)) for one in told.sets)
    )


def _pair(first: int, second: int, load_first: bool | None) -> Told | None:
    no_load = first <= _LIGHTEST and second > first
    most = MOST_REPS // 2 if not load_first or first <= MOST_SETS_A_CELL else MOST_REPS
    if second > most and first <= MOST_REPS // 2:
        return _one_set(second, first)
    if first > MOST_SETS_A_CELL or (load_first and not no_load):
        return _one_set(first, second) if 0 <= second <= MOST_REPS else None
    if load_first is None:
        return Told("pair", numbers=(first, second))
    return Told("scheme", numbers=(first, second)) if first else None


def _one_set(load: str | float, reps: str | float) -> Told:
    return _all_at([(int(reps),)], Weight(float(load)))


def _all_at(reps: list[tuple[int, ...]], weight: Weight) -> Told:
    return Told("sets", tuple(OneSet(parts, (weight,)) for parts in reps))


def _spread(count: int, listed: str, weight: Weight | None) -> Told | None:
    """`count` equal sets; a list as long as the count tells each, another length is no log."""
    reps = _reps_of(listed)
    if reps is None or weight is None or not 1 <= count <= MOST_SETS_A_CELL:
        return None
    if len(reps) == 1:
        reps = reps * count
    return _all_at(reps, weight) if len(reps) == count else None


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


def unit_of(text: str | None) -> Unit | None:
    return _UNITS[text[0]] if text else None


def _plain_weight(text: str) -> Weight | None:
    match = _WEIGHT.fullmatch(text)
    return weight_of(match) if match else None


def weight_of(match: "re.Match[str]") -> Weight | None:
    if match["bare"]:
        return Weight(0.0, None, True)
    amount = float(match["load"])
    unit = unit_of(match["unit"])
    signed = match["bw"] is not None or match["sign"] is not None
    return Weight(-amount if match["sign"] == "-" else amount, unit, signed)


def joined(parts: list[Told | None]) -> Told | None:
    if any(part is None or part.kind not in ("sets", "reps") for part in parts):
        return None
    told = [part for part in parts if part is not None]
    if len({part.kind for part in told}) > 1:
        return None
    return Told(told[0].kind, tuple(one for part in told for one in part.sets))
