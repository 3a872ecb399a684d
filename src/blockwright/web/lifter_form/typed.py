"""A lifter file to what stands in the form, and what was typed back to a file's table."""

import re
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.units import Unit, kg_from
from blockwright.files.catalogue import lift_from_table
from blockwright.files.lifter_fields import Field
from blockwright.files.policy_files import default_policy, flattened
from blockwright.files.vocabulary import vocabulary
from .fields import NotThat, Rows, Typed, fields, number, rows, typed_of, value_of

WAS = "was"
"""Of a row: its number in the file that was opened, so that keys the form does not know stay."""
_ROW = re.compile(r"(\d{1,4})\.(.+)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class FilledForm:
    """The file's table as far as it could be made, and what was in the way."""

    table: dict[str, Any]
    places: Mapping[str, str]  # The form's field by the reader's key, where they differ
    problems: tuple[Problem, ...]


def typed_from(file: Mapping[str, Any]) -> dict[str, list[str]]:
    table = spread(file)
    typed = {field.key: typed_of(field, _at(table, field.key)) for field in fields()}
    for part in rows():
        for n, row in enumerate(_at(table, part.key) or [], 1):
            for field in part.fields:
                typed[f"{part.key}.{n}.{field.key}"] = typed_of(field, _at(row, field.key))
            typed[f"{part.key}.{n}.{WAS}"] = [str(n)]
    return typed


def filled(typed: Typed, base: Mapping[str, Any]) -> FilledForm:
    """The table of a form whose rows are `compacted`; `base` is the file it was made from, whose
    keys the form does not ask for stay as they are."""
    before = spread(base)
    table = spread(base)
    problems: list[Problem] = []
    for field in fields():
        _take(table, field, field.key, typed, problems)
    for part in rows():
        made = [_row(part, n, typed, before, problems) for n in row_numbers(typed, part)]
        _put(table, part.key, made or None)
    places, more = gather(table, base)
    return FilledForm(table, places, (*problems, *more))


def compacted(typed: Typed) -> dict[str, list[str]]:
    """The same without empty rows, the others numbered 1, 2, 3 as the file's reader counts."""
    kept = {field.key: list(typed.get(field.key, ())) for field in fields()}
    for part in rows():
        n = 0
        for old in row_numbers(typed, part):
            names = [*(field.key for field in part.fields), WAS]
            row = {name: list(typed.get(f"{part.key}.{old}.{name}", ())) for name in names}
            if any(text.strip() for name in names[:-1] for text in row[name]):
                n += 1
                kept |= {f"{part.key}.{n}.{name}": texts for name, texts in row.items()}
    return kept


def row_numbers(typed: Typed, part: Rows) -> list[int]:
    """The numbers of the rows of one part, rising."""
    known = {field.key for field in part.fields} | {WAS}
    before = f"{part.key}."
    found = set()
    for name in typed:
        match = _ROW.fullmatch(name[len(before) :]) if name.startswith(before) else None
        if match and match[2] in known:
            found.add(int(match[1]))
    return sorted(found)


def _row(
    part: Rows, n: int, typed: Typed, before: Mapping[str, Any], problems: list[Problem]
) -> dict[str, Any]:
    old = _row_before(typed.get(f"{part.key}.{n}.{WAS}", ()), _at(before, part.key) or [])
    row = dict(old)
    for field in part.fields:
        _take(row, field, f"{part.key}.{n}.{field.key}", typed, problems)
    return row


def _row_before(was: Sequence[str], rows_before: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """The row of the opened file that stands in this one; empty for a new row."""
    number = int(was[0]) if was and was[0].isdecimal() else 0
    return deepcopy(rows_before[number - 1]) if 1 <= number <= len(rows_before) else {}


def _take(
    table: dict[str, Any], field: Field, name: str, typed: Typed, problems: list[Problem]
) -> None:
    """Puts what was typed in place of what the opened file said."""
    before = _at(table, field.key)
    try:
        value = value_of(field, typed.get(name, ()))
    except NotThat as error:
        value = None
        problems.append(Problem(key=name, says=error.args[0], mend=error.args[1]))
    if field.kind == "checks" and isinstance(before, list):
        # Boxes have an order of their own: what was ticked before keeps the file's.
        value = sorted(value, key=lambda one: before.index(one) if one in before else len(before))
    _put(table, field.key, value)


def _at(table: Mapping[str, Any], key: str) -> Any:
    """The value under a dotted key, or None."""
    name, _, rest = key.partition(".")
    value = table.get(name)
    return value if not rest else _at(value, rest) if isinstance(value, dict) else None


def _put(table: dict[str, Any], key: str, value: Any) -> None:
    """Sets a dotted key; None takes it away. A table that stays empty is none."""
    name, _, rest = key.partition(".")
    if rest:
        inner = dict(table.get(name) or {})
        _put(inner, rest, value)
        value = inner or None
    if value is None:
        table.pop(name, None)
    else:
        table[name] = value


KIT_PARTS = ("kit", "kit_machines", "kit_other")
_LIFT_MUST_SAY = frozenset({"name", "muscles", "pattern", "kit"})
_SAYS = {True: "yes", False: "no"}
_SAID = {"yes": True, "true": True, "no": False, "false": False}


def spread(file: Mapping[str, Any]) -> dict[str, Any]:
    """The lifter file's table as the form shows it."""
    table = deepcopy(dict(file))
    table["gym"] = _gym_spread(table.get("gym") or {}, table.get("units", "kg"))
    # A database need not keep the order of keys: the rows have one of their own.
    told = sorted(flattened(table.get("policy") or {}))
    table["policy"] = [
        {"key": key, "value": _SAYS[value] if isinstance(value, bool) else value}
        for key, value in told
    ]
    table["lift"] = [_least(lift) for lift in table.get("lift") or []]
    return table


def gather(table: dict[str, Any], base: Mapping[str, Any]) -> tuple[dict[str, str], list[Problem]]:
    """Turns the form's table into the file's, in place. `base` is the file that was in the form.

    Gives the form's fields by the keys under which the reader will name them where those differ,
    and what cannot be put into a file."""
    places: dict[str, str] = {}
    problems: list[Problem] = []
    _clearance(table.get("screening") or {}, base.get("screening") or {})
    told = base.get("emphasis") or {}
    table["emphasis"] = {
        muscle: word
        for muscle, word in (table.get("emphasis") or {}).items()
        if word != "normal" or muscle in told
    }
    _habits(table, base.get("habits") or {})
    table["policy"] = _as_policy(table.get("policy") or [], places, problems)
    before = _gym_spread(base.get("gym") or {}, base.get("units", "kg"))
    gym = _as_gym(table["gym"], base.get("gym") or {}, before, places, problems)
    if gym is None:
        del table["gym"]
    else:
        table["gym"] = gym
    return places, problems


def _habits(table: dict[str, Any], base: Mapping[str, Any]) -> None:
    """Liked ranges have no field and stay as they were; nothing said is no table."""
    habits = dict(table.get("habits") or {})
    if base.get("reps"):
        habits["reps"] = base["reps"]
    if habits:
        table["habits"] = habits
    else:
        table.pop("habits", None)


def _clearance(said: dict[str, Any], before: Mapping[str, Any]) -> None:
    """With nothing ticked a new clearance is for every answer; one that stood before for
    nothing, since nothing needed it, is not for an answer given now."""
    if said.get("cleared_for"):
        return
    same = said.get("cleared_on") is not None and said["cleared_on"] == before.get("cleared_on")
    if same and before.get("cleared_for") == []:
        said["cleared_for"] = []
    else:
        said.pop("cleared_for", None)


def _gym_spread(gym: Mapping[str, Any], unit: Unit) -> dict[str, Any]:
    if not gym or (set(gym) <= {"kit", "assumed"} and gym.get("assumed")):
        return {"assumed": True}
    words = vocabulary()
    kit = list(gym.get("kit") or ())
    ladders = gym.get("dumbbells") or []
    shown = dict(gym)
    shown["kit"] = [word for word in words.free_kit if word in kit]
    shown["kit_machines"] = [word for word in words.machines if word in kit]
    shown["kit_other"] = [word for word in kit if word not in words.kit]
    plates = (gym.get("plates") or {}).items()
    heaviest_first = sorted(plates, key=lambda plate: (-_mass_kg(plate[0], unit), plate[0]))
    shown["plates"] = [{"mass": mass, "pairs": pairs} for mass, pairs in heaviest_first]
    shown["dumbbells"] = [ladders] if isinstance(ladders, dict) else ladders
    return shown


def _mass_kg(label: str, unit: Unit) -> float:
    """What a plate weighs, for the order of the rows; 0 for what is no mass."""
    amount, _, stamped = label.lower().partition(" ")
    try:
        return kg_from(float(amount), "lb" if (stamped or unit) == "lb" else "kg")
    except ValueError:
        return 0.0


def _as_gym(
    shown: dict[str, Any],
    base: Mapping[str, Any],
    before: Mapping[str, Any],
    places: dict[str, str],
    problems: list[Problem],
) -> Mapping[str, Any] | None:
    """None where nothing is known of the gym, as when a file does not speak of it."""
    is_assumed = bool(shown.pop("assumed", False))
    says_something = any(shown.values())
    if is_assumed and base.get("assumed") and (not says_something or _same(shown, before)):
        return base
    if is_assumed and says_something:
        says = "the gym is described below, and this says that nothing is known of it"
        problems.append(
            Problem(key="gym.assumed", says=says, mend="untick this, or empty the rest")
        )
    if is_assumed:
        return None
    gym = {key: value for key, value in shown.items() if key not in KIT_PARTS and value}
    gym["kit"] = sorted({word for part in KIT_PARTS for word in shown.get(part) or ()})
    if shown.get("plates"):
        gym["plates"] = _as_plates(shown["plates"], places, problems)
    return gym


def _same(shown: Mapping[str, Any], before: Mapping[str, Any]) -> bool:
    said = {key: value for key, value in before.items() if value and key != "assumed"}
    return {key: value for key, value in shown.items() if value} == said


def _as_plates(
    rows: list[dict[str, Any]], places: dict[str, str], problems: list[Problem]
) -> dict[str, Any]:
    plates: dict[str, Any] = {}
    for n, row in enumerate(rows, 1):
        mass, pairs = row.get("mass"), row.get("pairs")
        place = f"gym.plates.{n}"
        if mass is None or pairs is None:
            missing = f"{place}.mass" if mass is None else f"{place}.pairs"
            mend = "write what one plate weighs" if mass is None else "write how many pairs"
            problems.append(Problem(key=missing, says="is missing", mend=mend))
        elif mass in plates:
            says = "this plate stands twice"
            problems.append(Problem(key=f"{place}.mass", says=says, mend="add the pairs up"))
        else:
            plates[mass] = pairs
            places[f"gym.plates.{mass}"] = f"{place}.mass"
    return plates


def _as_policy(
    rows: list[dict[str, Any]], places: dict[str, str], problems: list[Problem]
) -> dict[str, Any]:
    policy: dict[str, Any] = {}
    for n, row in enumerate(rows, 1):
        key, text = row.get("key"), row.get("value")
        if key is None or text is None:
            missing = f"policy.{n}.{'key' if key is None else 'value'}"
            problems.append(Problem(key=missing, says="is missing", mend="fill in both, or none"))
        elif key in policy:
            problems.append(
                Problem(key=f"policy.{n}.key", says=f"{key} stands twice", mend="keep one")
            )
        else:
            policy[key] = _policy_value(key, str(text))
            places[f"policy.{key}"] = f"policy.{n}.value"
    return policy


def _policy_value(key: str, text: str) -> float | str | bool:
    """What was typed, as the kind of value the key takes; otherwise as it is, to be judged."""
    known = default_policy().values.get(key)
    usual = None if known is None else known.value
    if isinstance(usual, bool):
        return _SAID.get(text.lower(), text)
    if isinstance(usual, str):
        return text
    try:
        return number(text)
    except NotThat:
        return text


def _least(lift: dict[str, Any]) -> dict[str, Any]:
    """The shortest table that is read as the same lift; as it stands where it cannot be read."""
    try:
        whole = lift_from_table(lift, "lift")
    except BadInput:
        return lift
    for key in [key for key in lift if key not in _LIFT_MUST_SAY]:
        shorter = {name: value for name, value in lift.items() if name != key}
        try:
            if lift_from_table(shorter, "lift") == whole:
                lift = shorter
        except BadInput:
            continue
    return lift
