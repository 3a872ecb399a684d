"""The page of a report that the lifter reads: done, stronger, recovered, next."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from blockwright.engine.report.lifts import FEWEST_SESSIONS, is_clear, told_gain
from blockwright.engine.units import Unit, capital, load_text, number_text
from .report_shapes import Document, Part, Table, finding, is_over, sentence
from .sheet_words import load_beside

MOST_REASONS = 3  # Lifts that make way, with why


def _facts(document: Document, part: str) -> tuple[str, Mapping[str, Any]]:
    finding = document["findings"][part]
    return str(finding["code"]), finding["facts"]


def first_page(document: Document) -> tuple[Part, ...]:
    """Done, stronger, recovered, pain and weight, next."""
    return (
        _what_done(document),
        _stronger(document),
        Part(name="What recovered", title=finding(document, "muscles")),
        Part(name="Pain and body weight", title=finding(document, "pain"),
             notes=(sentence(finding(document, "weight")),)),
        _ahead(document),
    )  # fmt: skip


def _what_done(document: Document) -> Part:
    builds = [
        week for week in document["weeks"] if week["kind"] == "build" and is_over(week, document)
    ]
    notes = missed_notes(document)
    if len(builds) > 1:
        first, last = builds[0]["sets_done"], builds[-1]["sets_done"]
        notes += (f"From {first} sets in the first week to {last} in the last build week.",)
    return Part(name="What was done", title=finding(document, "done"), notes=notes)


def missed_notes(document: Document) -> tuple[str, ...]:
    """The sessions that were not done, as a note; none where all were."""
    missed = [date.fromisoformat(day) for week in document["weeks"] for day in week["missed"]]
    if not missed:
        return ()
    return (f"Not done: the sessions of {', '.join(f'{d.day} {d:%B}' for d in missed)}.",)


_SAME_EFFORT = (
    "Strength is judged over all sessions, at equal effort: one set says little, and a load that "
    "rose while less was left in reserve is not more strength yet."
)


def _stronger(document: Document) -> Part:
    code, facts = _facts(document, "strength")
    title = "Too little was logged to say"
    if code == "report_strength_pooled":
        said = str(facts["said"])
        title = f"{capital(said)}, {facts['certainty']}"
        if "%" not in said:
            title = f"No clear change over all lifts ({said})"
    sets = {
        lift["lift"]: tuple(_set(lift, which, document["units"]) for which in ("first", "last"))
        for lift in document["lifts"]
    }
    ways = {lift["lift"]: _way(lift) for lift in document["lifts"]}
    told = [lift for lift in document["strength"] if lift["sessions"] >= FEWEST_SESSIONS]
    told.sort(key=lambda lift: (lift["gain"] is None, -_clear_pct(lift["gain"])))
    rows = tuple(
        (one["lift"], *sets.get(one["lift"], ("", "")), _gain(one["gain"], ways[one["lift"]]))
        for one in told
    )
    head = ("Lift", "First", "Last", "Strength")
    table = Table("What each lift did over the block", head, rows)
    notes = (_SAME_EFFORT,) if rows else ()
    if _facts(document, "leads")[0] == "report_leads":
        notes = (sentence(finding(document, "leads")), *notes)
    return Part(name="What strength did", title=title, tables=(table,) if rows else (), notes=notes)


def _set(lift: Document, which: str, unit: Unit) -> str:
    """The first set of the block or of its last build week: "80 kg × 8, 3 left"."""
    load, reps, rir = (lift[f"{which}_{key}"] for key in ("load_kg", "reps", "rir"))
    if load is None:
        return ""
    left = "" if rir is None else f", {number_text(rir)} left"
    said = load_beside(lift["load_kind"], load_text(load, unit), zero=load == 0)
    return f"{said} × {reps}{left}"


def _clear_pct(gain: Document | None) -> int:
    """The gain as it is told; 0 where it is no clear change."""
    clear = gain is not None and is_clear(gain["pct"], gain["certainty"])
    return round(gain["pct"]) if gain is not None and clear else 0


def _gain(gain: Document | None, way: str) -> str:
    """What a lift did, never against what its two sets show."""
    if gain is None:
        return "too light to judge"
    pct = _clear_pct(gain)
    if way and (not pct or (pct > 0) != (way == "up")):
        return f"{way}, not sure yet"
    return told_gain(gain["pct"], gain["certainty"]) if pct else "held"


def _way(lift: Document) -> str:
    """Whether the last set is clearly "up" or "down" on the first, what was left counted in: more
    load for no fewer repetitions, or two more at no less load; "" where they do not say."""
    if lift["first_load_kg"] is None or lift["last_load_kg"] is None:
        return ""
    harder = -1 if lift["load_kind"] == "assisted" else 1
    load = harder * (lift["last_load_kg"] - lift["first_load_kg"])
    left = [lift["first_rir"], lift["last_rir"]]
    reps = lift["last_reps"] - lift["first_reps"]
    reps += 0 if None in left else left[1] - left[0]
    for way, sign in (("up", 1), ("down", -1)):
        if sign * load >= 0 and sign * reps >= (0 if load else _MORE_REPS):
            return way
    return ""


_MORE_REPS = 2  # At the same load (judgement: one is a day's noise)


def _ahead(document: Document) -> Part:
    code, facts = _facts(document, "next")
    title = f"All {facts['kept']} lifts come again"
    if code == "report_next_changes":
        title = f"{facts['kept']} lifts come again; {facts['left_out']} out"
    reasons = document["next_block"]["reasons"]
    why = tuple(
        sentence(reason["says"])
        for reason in reasons
        if reason["facts"].get("lift") in str(facts["left_out"]).split(", ")
    )
    start = "Loads start a step below what the last weeks say."
    return Part(name="What next", title=title, notes=(*why[:MOST_REASONS], start))
