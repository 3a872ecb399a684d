"""What a person should look at in a log: sets left out, surprising ones, changed levels."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from math import exp, log

import numpy as np

from blockwright.engine.reasons import FactValue
from blockwright.engine.training import NO_ROW, SetDone
from blockwright.engine.units import in_unit, number_text
from .law import LB_PER_KG_LN
from .observation_arrays import NOT_EVIDENCE, UNLIKE_LATER, Whole
from .replay import Replayed
from .slips import SLIPS, likeliest_slip

SLIP_NEAR_LN = 0.15
"""How near ln of a jump must come to a usual slip (tenfold, kg for lb) to be explained by it."""
TWO_LEVELS = "two_levels"  # The lift's loads belong to two levels in turn
TENFOLD_NEAR_LN = 0.3  # The same between two sets of which neither is known to be right


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """One thing to look at; words are made of its `code` at the edge."""

    code: str
    day: date
    set_number: int
    row: int
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    load_kg: float = 0.0  # As logged


def flags_of(replayed: Replayed, index: int, sets: Sequence[SetDone]) -> tuple[Flag, ...]:
    """The flags of series `index`, in time order."""
    columns, robust = replayed.columns, replayed.law.robust
    places = np.arange(columns.first[index], columns.first[index + 1])
    outcome = replayed.outcome.at(places)
    far = (np.abs(outcome.z) > robust.soft_z) & (np.abs(outcome.jump) > robust.ask_least)
    quiet = (columns.why_not[places] == 0) & ~(far | outcome.flagged | outcome.restarted)
    quiet &= (columns.reps[places] > 0) & ~columns.beyond[places] & ~outcome.paired
    found: list[Flag] = []
    if columns.lifts[index] is None:
        found.append(_flag(sets[columns.source[places[0]]], "unknown_lift", {}))
    for place in places[~quiet].tolist():
        one = sets[columns.source[place]]
        code = _code(replayed, place, one)
        if code == "no_bodyweight" and any(flag.code == code for flag in found):
            continue  # once a lift is enough
        if code:
            found.append(_flag(one, code, _facts(replayed, place, one)))
    found = [f for f in found if f.row != NO_ROW and not _is_of_second_level(f, found)]
    left = _left_of_two(replayed, places)
    if left is not None:
        one = sets[columns.source[left]]
        found.append(_flag(one, "one_of_two", _facts(replayed, left, one)))
    return tuple(sorted(found, key=lambda flag: (flag.day, flag.row)))


def _is_of_second_level(flag: Flag, found: Sequence[Flag]) -> bool:
    """Whether a set out of line turned out to be of the other of two levels, asked about there."""
    pairs = [one for one in found if one.code == TWO_LEVELS and one.day > flag.day]
    way = float(str(flag.facts.get("change_pct", 0.0)))
    return flag.code == "out_of_line" and any(
        float(str(one.facts["change_pct"])) * way > 0 for one in pairs
    )


def _left_of_two(replayed: Replayed, places: Whole) -> int | None:
    """The set that counts where a lift has two and the other, ten times off, was left out."""
    columns = replayed.columns
    two = [int(p) for p in places if columns.why_not[p] in (0, UNLIKE_LATER) and columns.reps[p]]
    two = [p for p in two if not columns.beyond[p]]
    if len(two) != 2:
        return None
    left = [p for p in two if not columns.why_not[p] and not replayed.outcome.flagged[p]]
    apart = abs(float(np.log(columns.load_kg[two[0]] / columns.load_kg[two[1]])))
    is_tenfold = abs(apart - log(10.0)) < TENFOLD_NEAR_LN
    return left[0] if len(left) == 1 and is_tenfold else None


def _code(replayed: Replayed, place: int, one: SetDone) -> str:
    outcome, columns = replayed.outcome, replayed.columns
    why = NOT_EVIDENCE[columns.why_not[place]]
    if why == "too_many_reps" and one.confirmed:
        return ""
    if why:
        return "" if why in ("warmup", "mini_set", "easy_on_purpose", "try_on_the_way") else why
    if outcome.paired[place]:
        return TWO_LEVELS
    if outcome.restarted[place] and columns.confirmed[place]:
        return "confirmed_level" if one.confirmed else ""
    if columns.beyond[place] and columns.confirmed[place]:
        return "beyond_confirmed"
    if columns.unlikely[place] and not np.isfinite(outcome.z[place]):
        return "unlikely"
    if columns.beyond[place] and not np.isfinite(outcome.z[place]):
        return "beyond_anyone"
    if outcome.restarted[place]:
        jump = abs(abs(float(outcome.jump[place])) - LB_PER_KG_LN)
        return "unit_switch" if jump < replayed.law.robust.agree_ln else "changed_level"
    if outcome.flagged[place]:
        return "out_of_line" if _meant_kg(replayed, place, one) is None else "mistyped"
    return "failed_attempt" if columns.reps[place] == 0 else "surprising"


def _meant_kg(replayed: Replayed, place: int, one: SetDone) -> float | None:
    """What the load was probably meant to be, if a usual slip of the pen explains the set."""
    lift = replayed.columns.lifts[replayed.columns.series_of[place]]
    moved_kg, jump = float(replayed.columns.load_kg[place]), float(replayed.outcome.jump[place])
    slip = likeliest_slip(lift, one.load_kg, moved_kg, jump, dict.fromkeys(SLIPS, SLIP_NEAR_LN))
    return None if slip is None else slip[1]


def _facts(replayed: Replayed, place: int, one: SetDone) -> dict[str, FactValue]:
    facts: dict[str, FactValue] = {"load": one.entered_load, "unit": one.entered_unit}
    facts["reps"] = one.first_reps
    z = float(replayed.outcome.z[place])
    if np.isfinite(z):
        jump = float(replayed.outcome.jump[place])
        facts["surprise_sd"] = round(z, 1)
        facts["change_pct"] = round(100.0 * (exp(jump) - 1.0), 1)
        meant_kg = _meant_kg(replayed, place, one) if replayed.outcome.flagged[place] else None
        if meant_kg is not None:
            facts["meant"] = number_text(in_unit(meant_kg, one.entered_unit), 1)
    return facts


def _flag(one: SetDone, code: str, facts: Mapping[str, FactValue]) -> Flag:
    return Flag(
        code=code, day=one.moment.day, set_number=one.set_number, row=one.row, facts=facts,
        load_kg=one.load_kg or 0.0,
    )  # fmt: skip
