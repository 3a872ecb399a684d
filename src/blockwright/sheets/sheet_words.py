"""The day's sheet as it reads: one value that text, paper and page lay out.

Works on a `blockwright/sheet/1` document as plain JSON; sentences with a code (`says`) come ready
made, here are only those that join numbers."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Any

from blockwright.engine.reasons import and_listed
from blockwright.engine.units import Unit, capital, in_unit, load_text, number_text
from .rack_words import plates_text
from .report_shapes import sentence

Document = Mapping[str, Any]

_ON_A_BAR = ("each side", "on the end")
_OF_ONE_LIFT = "find_load_kin"
_MOVES_THE_BODY = ("assisted", "bodyweight_plus")

REFER_CODES = (
    "sheet_refer", "sheet_ask_first", "screening_refer", "pressure_stop", "clearance_too_old",
)  # fmt: skip
"""Cautions that stand across the top of a sheet whose lifter is not cleared."""
SIGN_CODES = ("sheet_sign", "sheet_sign_lift", "sheet_sign_in_doubt")
"""Cautions of signs that nobody has cleared: across the top of every sheet."""
_OUT_CODES = ("sheet_sign_out", "sheet_hurts_out", "partner_out")


@dataclass(frozen=True, slots=True)
class Target:
    """Sets of one lift that ask the same: "3 × 8–12, keep 2 in reserve" and "82.5 kg", set so."""

    asked: str
    load: str  # The load in the lifter's units; "" where it is open or the setting says it already
    setting: str
    forecast: str


@dataclass(frozen=True, slots=True)
class Advice:
    """One branch: "17 or more", "add 2.5 kg (85 kg)", and for small paper "85 kg"."""

    reps: str
    rest: str
    short: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryWords:
    """One lift of the sheet; "" for what it does not have."""

    order: int
    title: str
    rest: str
    targets: tuple[Target, ...]
    standard: str
    caution: str  # Today's cautions about the lift, then its own
    shared: str
    warmup: str
    tries: str
    advice_head: str
    advice: tuple[Advice, ...]
    sets: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetWords:
    lifter: str
    unit: Unit
    day: str
    place: str
    foot: str
    refer: str  # What stands across the top while the lifter, or a sign, is not cleared
    finding: str  # How to find a load and when to stop, once for all lifts
    entries: tuple[EntryWords, ...]
    notes: tuple[str, ...]
    cautions: str


def sheet_words(document: Document) -> SheetWords:
    unit: Unit = document["units"]
    rest_of, day = _rests(document["entries"]), day_text(document)
    ahead = _is_ahead(document)
    place, revision = _place_text(document), document["block_revision"]
    return SheetWords(
        lifter=document["lifter"],
        unit=unit,
        day=day,
        place=f"{capital(place)}; {effort_text(document['week_rir'])}; {_minutes_text(document)}",
        foot=f"{document['lifter']}, {day}, block revision {revision}",
        refer=_refer_text(document),
        finding=_finding_text(document),
        entries=tuple(
            _entry(entry, rest_of[entry["order"]], unit, ahead) for entry in document["entries"]
        ),
        notes=tuple(sentence(note["says"]) for note in document["notes"]),
        cautions=_cautions_text(document),
    )


_DAYS_AHEAD = 7


def _is_ahead(document: Document) -> bool:
    """Whether the week before is not logged yet, so that the loads are still forecasts."""
    facts = (note["facts"] for note in document["notes"] if note["code"] == "sheet_facts")
    days = [date.fromisoformat(document["date"]) - date.fromisoformat(one["last_day"])
            for one in facts]  # fmt: skip
    return all(gap.days > _DAYS_AHEAD for gap in days)


def _entry(entry: Document, rest: str, unit: Unit, ahead: bool) -> EntryWords:
    shared, advice, out = entry["shared_bar"], advice_parts(entry, unit), is_out(entry)
    warmup = "; ".join(f"{_made(rung, unit)} × {rung['reps']}" for rung in entry["warmup"])
    tries = _tries_text(entry, unit)
    return EntryWords(
        order=entry["order"],
        title=capital(entry["lift"]),
        rest=rest,
        targets=() if out else tuple(_targets(entry, unit, ahead)),
        standard="" if out else entry["standard"],
        caution=_caution_paragraph(entry),
        shared=shared_bar_sentence(shared, unit) + "." if shared else "",
        warmup=warmup + "." if warmup else "",
        tries=tries + "." if tries else "",
        advice_head=_advice_head(entry) if advice else "",
        advice=tuple(advice),
        sets=0 if out else len(entry["sets"]),
    )


def is_out(entry: Document) -> bool:
    """Whether safety leaves the lift out of the session."""
    return any(caution["code"] in _OUT_CODES for caution in entry["cautions"])


def day_text(document: Document) -> str:
    """ "Monday 4 January 2027, 06:30"."""
    day = date.fromisoformat(document["date"])
    return f"{day:%A} {day.day} {day:%B %Y}, {document['start_time']}"


def _place_text(document: Document) -> str:
    """ "week 2 of 7, session 1" and, for a deload, that it is one."""
    kind = ", deload" if document["kind"] == "deload" else ""
    return f"week {document['week']} of {document['weeks']}, session {document['session']}{kind}"


def _minutes_text(document: Document) -> str:
    planned = number_text(document["minutes_planned"], 0)
    more = next((n for n in document["notes"] if n["code"] == "sheet_finding_minutes"), None)
    finding = "" if more is None else f" and up to {more['facts']['minutes']} to find loads"
    return f"about {planned} of {document['minutes_available']} minutes{finding}"


def effort_text(rir: float) -> str:
    """ "keep 2 in reserve", "to failure"."""
    return f"keep {number_text(rir)} in reserve" if rir > 0 else "to failure"


def range_text(low: int | str, high: int | str) -> str:
    """ "8–12"; "8" where both ends are one."""
    return str(low) if low == high else f"{low}–{high}"


def rest_text(seconds: float) -> str:
    """ "2:15" and, under a minute, "45 s"."""
    minutes, left = divmod(round(seconds), 60)
    return f"{minutes}:{left:02d}" if minutes else f"{left} s"


def _targets(entry: Document, unit: Unit, ahead: bool) -> Iterator[Target]:
    """The sets of an entry, neighbours that ask the same joined, in order."""
    sides = " each side" if "both sides are one rep" in entry["standard"] else ""
    for same, group in groupby(entry["sets"], key=_asks):
        high, rir, _, setting, _ = same
        method = "" if entry["method"] in ("straight", "superset") else f" {entry['method']}"
        sets = list(group)
        yield Target(
            asked=f"{len(sets)} × {range_text(sets[0]['reps_low'], high)}{sides}{method}"
            f"{_aim_text(sets)}, {effort_text(rir)}",
            load=_load(same, entry["load_kind"], unit),
            setting=setting or "",
            forecast=_forecast(same, unit) if ahead else "",
        )


def _aim_text(sets: Sequence[Document]) -> str:
    """ ", 10–11 first, later sets 6 or more": the first set's own aim and the bottom of the later
    ones' range, where they have their own."""
    first, last = sets[0], sets[-1]
    aim = aim_text(first.get("aim_low"), first.get("aim_high"))
    lower = last["reps_low"] < first["reps_low"]
    return f"{aim}, later sets {last['reps_low']} or more" if lower else aim


def aim_text(low: int | None, high: int | None) -> str:
    """ ", 10–11 first"; "" where the first set has no aim of its own."""
    return "" if low is None or high is None else f", {range_text(low, high)} first"


def _asks(planned: Document) -> tuple[Any, ...]:
    forecast = planned.get("forecast_kg")
    return (
        planned["reps_high"],
        planned["rir"],
        planned["load_kg"],
        planned["setting"],
        tuple(forecast) if forecast else None,
    )


def _load(asks: Sequence[Any], load_kind: str, unit: Unit) -> str:
    load_kg, setting = asks[2], asks[3] or ""
    if load_kg is None or (load_kg == 0 and setting):
        return ""
    said, shown = load_text(load_kg, unit), load_as(load_kind, load_text(load_kg, unit))
    # The setting may name the load itself ("20 kg dumbbell in each hand").
    starts = setting.startswith((f"{said} dumbbell", f"{said} kettlebell"))
    return "" if shown == said and (starts or setting.endswith(said)) else shown


def load_as(load_kind: str, said: str, *, zero: bool = False) -> str:
    """ "10 kg", "bodyweight + 10 kg", "10 kg of help": a load of its kind; the help of a
    band has no number."""
    if load_kind == "bodyweight_plus":
        return "bodyweight" if zero else f"bodyweight + {said}"
    if load_kind == "assisted":
        return "help not weighed" if zero else f"{said} of help"
    return said


def load_beside(load_kind: str, said: str, *, zero: bool) -> str:
    """As `load_as`, for a column: what is added to the body as "+10 kg"."""
    return load_as(load_kind, said, zero=zero).replace("bodyweight + ", "+")


def _forecast(asks: Sequence[Any], unit: Unit) -> str:
    if asks[4] is None:
        return ""
    low, high = (number_text(in_unit(kg, unit)) for kg in asks[4])
    return f"a forecast, probably {low} to {high} {unit}"


def _finding_text(document: Document) -> str:
    """How to find a load and when to stop, once for the whole sheet; "" where all are known."""
    for entry in document["entries"]:
        if entry["find_rules"]:
            return ". ".join(r["says"] for r in entry["find_rules"] if r["code"] != _OF_ONE_LIFT)
    return ""


def _refer_text(document: Document) -> str:
    """What stands across the top while the lifter, or a sign, is not cleared; else ""."""
    said = [c["says"] for c in document["cautions"] if c["code"] in _across(document)]
    return " ".join(map(sentence, said))


def _across(document: Document) -> Collection[str]:
    return (*(REFER_CODES if document["status"] == "refer" else ()), *SIGN_CODES)


def _cautions_text(document: Document) -> str:
    """The cautions of the whole sheet but those across the top."""
    across = _across(document)
    said = [c["says"] for c in document["cautions"] if c["code"] not in across]
    return " ".join(map(sentence, told_once(said)))


def told_once(said: Iterable[str]) -> list[str]:
    """Cautions in their order, each once; what is said alike of several is said of them together:
    "dip and bench press: pain 4 of 10"."""
    names: dict[str, list[str]] = {}
    for one in dict.fromkeys(said):
        name, colon, rest = one.partition(": ")
        if colon:
            names.setdefault(rest, []).append(name)
        else:
            names.setdefault(one, [])
    return [f"{and_listed(who)}: {what}" if who else what for what, who in names.items()]


def _tries_text(entry: Document, unit: Unit) -> str:
    """ "8 repetitions with half of your guess, or 20 kg; while 15 or more are left, then 30 kg"; ""
    where the load is known."""
    tries, rules = entry["find_load"], {rule["code"]: rule for rule in entry["find_rules"]}
    if not tries:
        return ""
    first, *others = (_made(rung, unit) for rung in tries)
    if _OF_ONE_LIFT in rules:
        first = f"{first}, {rules[_OF_ONE_LIFT]['says']}"
    elif others and entry["load_kind"] not in _MOVES_THE_BODY:
        first = f"half of your guess, or {first}"
    gently = any(one["code"] == "sheet_find_gently" for one in entry["cautions"])
    far = rules["find_load_step"]["facts"]["more_rir" if gently else "far_rir"]
    then = f"; while {far} or more are left, then {', '.join(others)}" if others else ""
    return f"{tries[0]['reps']} repetitions with {first}{then}"


def _made(rung: Document, unit: Unit) -> str:
    """A load and, on a bar, the plates that make it; else how it is set is plain."""
    said, setting = load_text(rung["load_kg"], unit), rung["says"]
    if rung["load_kg"] == 0 or setting.endswith(" alone"):
        return str(setting)
    _, comma, plates = setting.partition(", ")
    return f"{said} ({plates})" if comma and plates.endswith(_ON_A_BAR) else said


def _rests(entries: Sequence[Document]) -> Mapping[int, str]:
    """By order of the entry: "rest 2:15", or how a pair is done in turn."""
    found: dict[int, str] = {}
    for entry in entries:
        paired = [e for e in entries if e is not entry and e["pair"] == entry["pair"] is not None]
        other = None if not paired or is_out(paired[0]) else paired[0]
        rest = rest_text(entry["rest_s"])
        if other is None:
            found[entry["order"]] = f"rest {rest}"
        elif entry["order"] < other["order"]:
            found[entry["order"]] = f"in turn with {other['lift']}, {rest} to change over"
        else:
            found[entry["order"]] = f"in turn with {other['lift']}, then rest {rest}"
    return found


def _caution_paragraph(entry: Document) -> str:
    """Today's cautions about a lift, then the lift's own; "" where there is none. Of a lift that is
    out, that it is."""
    if is_out(entry):
        return " ".join(sentence(c["says"]) for c in entry["cautions"] if c["code"] in _OUT_CODES)
    said = [sentence(caution["says"]) for caution in entry["cautions"]]
    return " ".join([*said, *([entry["caution"]] if entry["caution"] else [])])


_REACH = 4
"""So many repetitions outside its range a first set may end; what is further off is no row, and
is answered as the last one. A first step up is a row up to twice as far: not "8 or more, keep"; a
first step down always: "otherwise, keep it" must hold."""


def _advice_head(entry: Document) -> str:
    """The reserve that the rows assume."""
    rir = entry["sets"][0]["rir"]
    return f"After a first set {f'with {number_text(rir)} in reserve' if rir > 0 else 'to failure'}"


def advice_parts(entry: Document, unit: Unit) -> list[Advice]:
    """What the first set means for the next, most repetitions first; what keeps the load is said
    last, for all the rest. Empty where every result that can occur means the same."""
    first = entry["sets"][0] if entry["sets"] else {"reps_low": 0, "reps_high": 0}
    low, high = first["reps_low"] - _REACH, first["reps_high"] + _REACH
    said = entry["next_set_advice"]
    down = [row for row in said if row["move"] == "lower" and row["reps_to"]][-1:]
    rows = [
        row for row in said
        if row in down
        or (row["reps_from"] <= high and (row["reps_to"] is None or row["reps_to"] >= low))
    ]  # fmt: skip
    if len(rows) < 2:
        return []
    if rows[-1]["move"] in ("keep", "wait"):
        up = [row for row in said if row["move"] == "raise"][:1]
        rows += [row for row in up if row["reps_from"] <= high + _REACH]
    parts = []
    for row in reversed(rows):
        if row["move"] == "keep":
            continue
        least, most = row["reps_from"], row["reps_to"]
        reps = str(least) if least == most else f"{least} to {most}"
        if row is rows[-1] or most is None:
            reps = f"{least} or more"
        elif row is rows[0]:
            reps = f"{most} or fewer" if most else "0"
        rest = row["says"].partition(": ")[2]
        load = load_text(row["load_kg"], unit) if row["load_kg"] else row["setting"]
        parts.append(Advice(reps, rest, load))
    if any(row["move"] == "keep" for row in rows):
        parts.append(Advice("otherwise", "keep it", "keep"))
    return parts


def shared_bar_sentence(shared: Document, unit: Unit) -> str:
    own, other = (load_text(shared[key], unit) for key in ("load_kg", "partner_load_kg"))
    stays, mine, theirs = (plates_text(shared[key]) for key in ("stays_on", "own", "partner_own"))
    return (
        f"With {shared['partner']} on one bar: leave {stays} on each side; "
        f"add {mine} for {own}, {theirs} for their {other}"
    )
