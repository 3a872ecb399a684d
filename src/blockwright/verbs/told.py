"""What was told in the gym besides sets and check-ins: a stop sign, no time, a taken machine, a
swap, a note. Read from the session events of phones."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from blockwright.engine.signs import STOP_SIGN, SignFound, Warning
from blockwright.files.signs.grammar import signs_found
from blockwright.store.facts import facts_of
from blockwright.store.models import Fact, Lifter
from blockwright.store.standing import in_done_order, standing

LATELY = timedelta(days=14)
WHOLE_SESSION = "the whole session"
_WORDS = ("text", "where", "why")
"""Keys of a session event under which a person writes what they like."""


@dataclass(frozen=True, slots=True)
class ToldLine:
    """One line for the coach, without its full stop."""

    day: date
    says: str
    is_caution: bool


def signs_told(facts: Iterable[Fact]) -> tuple[Warning, ...]:
    """Sessions stopped for a stop sign, and warning signs in notes to the coach, in order."""
    return tuple(
        Warning(sign=one.sign, day=fact.day, lift=WHOLE_SESSION, sure=one.sure)
        for fact in _session_events(facts)
        for one in _signs(fact.body)
    )


def told_lately(row: Lifter, today: date) -> tuple[ToldLine, ...]:
    """The last two weeks, the latest day first."""
    facts = _session_events(facts_of(row, first=today - LATELY))
    lines = [
        ToldLine(fact.day, says, is_caution=fact.body["what"] == "hurts" or bool(_signs(fact.body)))
        for fact in facts
        if (says := _says(fact.body))
    ]
    return tuple(sorted(lines, key=lambda line: line.day, reverse=True))


def _session_events(facts: Iterable[Fact]) -> list[Fact]:
    return in_done_order([fact for fact in standing(facts) if fact.kind == Fact.SESSION])


def _is_stop_sign(said: Mapping[str, Any]) -> bool:
    """The phone's button: it names no lift."""
    return said["what"] == "hurts" and not said.get("lift")


def _signs(said: Mapping[str, Any]) -> tuple[SignFound, ...]:
    if _is_stop_sign(said):
        return (SignFound(STOP_SIGN, sure=True),)
    return tuple(one for key in _WORDS for one in signs_found(str(said.get(key) or "")))


def _says(said: Mapping[str, Any]) -> str:
    """A sentence, or nothing where the event says nothing to a coach."""
    why = f": {said['why']}" if said.get("why") else ""
    match said["what"]:
        case "hurts" if _is_stop_sign(said):
            return "the session was stopped for a stop sign"
        case "hurts":
            where = "".join(f", {said[key]}" for key in ("region", "where") if said.get(key))
            return f"pain {_number(said, 'pain')} of 10 in {said['lift']}{where}"
        case "short_of_time":
            left = said.get("left_out") or "nothing"
            return f"short of time, {_number(said, 'minutes')} minutes left; left out: {left}"
        case "machine_taken":
            return f"the machine of lift {_number(said, 'entry')} was taken"
        case "swap_lift":
            return f"{said.get('lift')} in place of lift {_number(said, 'entry')}{why}"
        case "skip_lift":
            return f"lift {_number(said, 'entry')} was left out{why}"
        case "add_lift":
            return f"{said.get('lift')} was added"
        case "note":
            return f"\u201c{said.get('text')}\u201d"
        case _:
            return ""


def _number(said: Mapping[str, Any], key: str) -> str:
    """As a person writes it; a phone of another version may have sent anything."""
    value = said.get(key)
    return f"{value:g}" if isinstance(value, int | float) else "?"
