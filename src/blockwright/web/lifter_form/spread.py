"""The few tables of a lifter file that a form shows otherwise, and the way back.

Spread out, plates and policy are rows, dumbbells are always rows, the kit stands in three lists,
a gym that is only assumed is empty, and an own lift says no more than it must: what its reader
would fill in alone is left out, so that it follows again when the rest is changed.
"""

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.units import Unit, kg_from
from blockwright.files.catalogue import lift_from_table
from blockwright.files.policy_files import default_policy
from blockwright.files.vocabulary import vocabulary
from blockwright.web.lifter_form.fields import NotThat, number

KIT_PARTS = ("kit", "kit_machines", "kit_other")
_LIFT_MUST_SAY = frozenset({"name", "muscles", "pattern", "kit"})
_SAID = {"yes": True, "true": True, "no": False, "false": False}


def spread(file: Mapping[str, Any]) -> dict[str, Any]:
    """The lifter file's table as the form shows it."""
    table = deepcopy(dict(file))
    table["gym"] = _gym_spread(table.get("gym") or {}, table.get("units", "kg"))
    # A database need not keep the order of keys: the rows have one of their own.
    told = sorted(_flat(table.get("policy")))
    table["policy"] = [{"key": key, "value": value} for key, value in told]
    table["lift"] = [_least(lift) for lift in table.get("lift") or []]
    return table


def gather(table: dict[str, Any], base: Mapping[str, Any]) -> tuple[dict[str, str], list[Problem]]:
    """Turns the form's table into the file's, in place. `base` is the file that was in the form.

    Gives the form's fields by the keys under which the reader will name them where those differ,
    and what cannot be put into a file.
    """
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


# ------------------------------------------------------------------------------------ the gym


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


# -------------------------------------------------------------------------- policy and own lifts


def _flat(values: Mapping[str, Any] | None, before: str = "") -> list[tuple[str, Any]]:
    found: list[tuple[str, Any]] = []
    for key, value in (values or {}).items():
        if isinstance(value, dict):
            found += _flat(value, f"{before}{key}.")
        else:
            said = ("yes" if value else "no") if isinstance(value, bool) else value
            found.append((f"{before}{key}", said))
    return found


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
