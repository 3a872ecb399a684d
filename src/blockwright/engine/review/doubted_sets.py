"""How a doubted set is asked about: a slip, another effort, or out of line with its like."""

from dataclasses import replace

from blockwright.engine.rack import SAME_LOAD_KG, rack_for
from blockwright.engine.reasons import FactValue
from blockwright.engine.strength import Flag
from blockwright.engine.training import SetDone
from blockwright.engine.units import kg_from
from .case import WeekCase
from .missed_days import Asks
from .verdict import number_word

_APART = 2  # Repetitions, done or left, by which a set stands out beside a like one (judgement)
_USUAL = 2  # Earlier sessions before anything is usual (judgement)
_ROUNDED_KG = 0.05  # What a load that was probably meant is rounded to


def asks_of_set(case: WeekCase, lift: str, flag: Flag) -> Asks:
    """Whether a set is true: beside what was meant, or what was done at the load otherwise."""
    mine = [e for e in case.evidence.exposures if e.lift == lift and e.day <= flag.day]
    done = {one.set_number: one for e in mine if e.day == flag.day for one in e.sets}
    if flag.code == "too_many_reps":
        return asks_about("ask_set", lift, flag)
    one = done.get(flag.set_number)
    here = [e.planned for e in mine if e.day == flag.day and e.planned is not None]
    printed = [row.load_kg for entry in here for row in entry.sets]
    if _is_made(case, lift, flag) and not any(is_at(one, load_kg) for load_kg in printed):
        return asks_about("ask_slip", lift, flag)
    alike = [other for e in mine for other in e.sound if is_at(one, other.load_kg)]
    if one is None or not alike:
        return asks_about("ask_set_heavy" if flag.code == "unlikely" else "ask_set", lift, flag)
    # the same set of an earlier day says most, any of the same day least
    usual = max(alike, key=lambda o: (o.moment.day < flag.day, o.set_number == one.set_number,
                                      o.moment.day))  # fmt: skip
    more = one.first_reps - usual.first_reps
    closer = 0.0 if one.rir is None or usual.rir is None else usual.rir - one.rir
    better = float(flag.facts.get("surprise_sd") or more) > 0
    code = "ask_set_odd"
    if len({other.moment.day for other in alike} - {flag.day}) < _USUAL:
        pass  # nothing is usual yet
    elif abs(more) >= _APART and (more > 0) == better:
        code = "ask_set_above" if better else "ask_set_at_load"
    elif closer >= _APART and not better:
        code = "ask_set_effort"
    facts: dict[str, FactValue] = {
        "usual": usual.first_reps,
        "more": number_word(abs(more)),
        "rir": one.rir,
        "set": one.set_number,
        "way": "better" if better else "worse",
    }
    return asks_about(code, lift, replace(flag, facts={**flag.facts, **facts}))


def _is_made(case: WeekCase, lift: str, flag: Flag) -> bool:
    """Whether there is a load that was probably meant, and the kit makes it."""
    known, meant = case.catalogue.find(lift), flag.facts.get("meant")
    if known is None or meant is None:
        return meant is not None
    meant_kg = kg_from(float(str(meant)), "lb" if flag.facts["unit"] == "lb" else "kg")
    made = rack_for(known, case.lifter.gym, case.policy).at_most(meant_kg + _ROUNDED_KG)
    return made is not None and made.load_kg >= meant_kg - _ROUNDED_KG


def is_at(one: SetDone | None, load_kg: float | None) -> bool:
    """Whether the set was done at a load, pounds rounded to kilograms or not."""
    if one is None or load_kg is None:
        return False
    return abs(one.load_kg - load_kg) < SAME_LOAD_KG


def asks_about(code: str, lift: str, flag: Flag) -> Asks:
    """A question about a lift's flagged set, with the facts of its flag."""
    return code, {"lift": lift, "date": flag.day.isoformat(), **flag.facts}
