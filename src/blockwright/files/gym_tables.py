"""The `[gym]` table of a lifter file: kit words, bars, plates, dumbbells, stacks."""

import math
import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from blockwright.engine.gym import Bar, Gym, Ladder, Mass, PlatePairs
from blockwright.engine.training import Catalogue
from blockwright.engine.units import Unit, kg_from, plain_number
from .lifter_fields import ask, described
from .near import did_you_mean
from .toml_checks import Table
from .vocabulary import vocabulary

_MASS = re.compile(r"(\d+(?:\.\d+)?)\s*(kg|lb)?", re.IGNORECASE)
_HEAVIEST_PLATE_KG = 100.0
_MOST_STEPS = 2000
_MOST_PAIRS = 100


def read_gym(file: Table, unit: Unit, catalogue: Catalogue) -> Gym:
    """The gym of a lifter file; with no `[gym]` a well-equipped one, and a warning."""
    known = frozenset(vocabulary().kit).union(*(lift.kit for lift in catalogue.lifts.values()))
    table = file.table("gym")
    if not file.has("gym"):
        table.findings.warning(
            "gym",
            "nothing is said of the gym, so a well-equipped one is assumed",
            "say what there is under [gym]: kit, bars, plates",
        )
        return Gym(kit=known, unit=unit, assumed=True)
    bars = (_read_bar(item, unit) for item in table.tables("bar"))
    dumbbells = (_read_ladder(item, unit) for item in table.tables("dumbbells"))
    gym = Gym(
        kit=frozenset(),
        unit=unit,
        bars=tuple(bar for bar in bars if bar is not None),
        dumbbells=tuple(ladder for ladder in dumbbells if ladder is not None),
        plates=_read_plates(table.table("plates"), unit),
        stacks=_read_stacks(table, unit, catalogue, known),
        assumed=ask(table, "assumed") or False,
    )
    gym = replace(gym, kit=_read_kit(table, known, gym))
    table.close()
    _warn_of_unused(table, gym, catalogue)
    return gym


def gym_to_table(gym: Gym) -> dict[str, Any]:
    """The `[gym]` table that `read_gym` reads back into the same gym."""
    table: dict[str, Any] = {"kit": sorted(gym.kit)}
    if gym.bars:
        table["bar"] = [{"name": bar.name, "mass": _mass_value(bar.mass)} for bar in gym.bars]
    if gym.plates:
        table["plates"] = {plate.mass.label: plate.pairs for plate in gym.plates}
    if gym.dumbbells:
        ladders = [_ladder_to_table(ladder, gym.unit) for ladder in gym.dumbbells]
        table["dumbbells"] = ladders[0] if len(ladders) == 1 else ladders
    if gym.stacks:
        table["stack"] = [
            {"lift": name, **_ladder_to_table(ladder, gym.unit)}
            for name, ladder in gym.stacks.items()
        ]
    if gym.assumed:
        table["assumed"] = True
    return table


def _read_kit(table: Table, known: frozenset[str], gym: Gym) -> frozenset[str]:
    words = tuple(" ".join(word.lower().split()) for word in table.words("kit"))
    if not table.has("kit"):
        described = {"bar": gym.bars, "plates": gym.plates, "dumbbells": gym.dumbbells}
        words = (*(word for word, items in described.items() if items), *gym.stacks)
        table.warning(
            "kit",
            "the kit is not listed, so only what is described beside it is counted",
            'list it: kit = ["bar", "squat rack", "bench"]',
        )
        return frozenset(words)
    for place, word in enumerate(words, 1):
        if word not in known:
            table.warning(
                f"kit.{place}",
                f'no lift asks for "{word}", so it makes no difference',
                did_you_mean(word, known, "see `blockwright lifts` for the kit words in use"),
            )
    return frozenset(words)


def _read_bar(table: Table, unit: Unit) -> Bar | None:
    name = ask(table, "name")
    table.need("mass", described(table, "mass").need)
    value = table.raw("mass")
    table.close()
    if value is None:
        return None
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    mass = _read_mass(table, "mass", _bare(value) if is_number else str(value), unit)
    return Bar(name=name, mass=mass) if name and mass else None


def _read_plates(table: Table, unit: Unit) -> tuple[PlatePairs, ...]:
    plates: list[PlatePairs] = []
    for label, value in table.values.items():
        if isinstance(value, dict):
            table.error(label, "is no plate", 'put a decimal in quotes: "2.5" = 1')
            continue
        pairs = table.whole(label, 0, _MOST_PAIRS, "pairs")
        mass = _read_mass(table, label, label, unit)
        if mass is None or pairs is None:
            continue
        if any(_kg(mass) == _kg(other.mass) for other in plates):
            table.error(label, "this plate stands twice", "add its pairs up on one line")
            continue
        plates.append(PlatePairs(mass=mass, pairs=pairs))
    return tuple(sorted(plates, key=lambda plate: -_kg(plate.mass)))


def _read_mass(table: Table, name: str, written: str, unit: Unit) -> Mass | None:
    """A mass such as "20" or "45 lb"; a bare number is in the file's unit."""
    label = written.strip()
    match = _MASS.fullmatch(label)
    if match is None:
        table.error(name, f'"{label}" is not a mass', f'write a number in {unit}, or "45 lb"')
        return None
    stamped: Unit = "lb" if (match[2] or unit).lower() == "lb" else "kg"
    amount = float(match[1])
    if not 0 < kg_from(amount, stamped) <= _HEAVIEST_PLATE_KG:
        table.error(name, f"{label} is not a mass one lifts", "check the number and its unit")
        return None
    return Mass(value=amount, unit=stamped, label=label)


def _read_ladder(table: Table, file_unit: Unit) -> Ladder | None:
    """Loads `from`, `to`, `step`, with `add_on` masses and, where it differs, `unit`."""
    unit: Unit = ask(table, "unit") or file_unit
    low, high, step, add_on = (ask(table, name, unit) for name in ("from", "to", "step", "add_on"))
    table.close()
    if low is None or high is None or step is None:
        return None
    if high < low:
        says = f"{plain_number(high)} is below from = {plain_number(low)}"
        table.error("to", says, "swap from and to")
        return None
    if step <= 0 or (high - low) / step > _MOST_STEPS:
        says = f"a step of {plain_number(step)} {unit} cannot be"
        table.error("step", says, "write the step: step = 2.5")
        return None
    return Ladder(low=low, high=high, step=step, unit=unit, add_on=add_on)


def _read_stacks(
    gym: Table, unit: Unit, catalogue: Catalogue, known: Iterable[str]
) -> dict[str, Ladder]:
    stacks: dict[str, Ladder] = {}
    for table in gym.tables("stack"):
        typed = ask(table, "lift")
        ladder = _read_ladder(table, unit)
        if typed is None:
            continue
        name = _machine_name(typed, catalogue, known)
        if name not in known and name not in catalogue.lifts:
            table.warning(
                "lift",
                f'no lift or machine is called "{typed}", so this stack is not used',
                did_you_mean(typed, {*known, *catalogue.lifts}, "see `blockwright lifts`", 2),
            )
        if name in stacks:
            table.error("lift", f'"{name}" has two stacks', "keep one")
        elif ladder is not None:
            stacks[name] = ladder
    return stacks


def _machine_name(typed: str, catalogue: Catalogue, known: Iterable[str]) -> str:
    word = " ".join(typed.lower().split())
    if word in known:
        return word
    lift = catalogue.find(word)
    return lift.name if lift else word


def _warn_of_unused(table: Table, gym: Gym, catalogue: Catalogue) -> None:
    """Warns of what is described but not in `kit`, where the planner looks."""
    kit = gym.kit
    missing = ["dumbbells"] if gym.dumbbells and "dumbbells" not in kit else []
    if gym.bars and not kit & {"bar", "ez bar", "trap bar", "landmine"}:
        missing.append("bar")
    for name in gym.stacks:
        lift = catalogue.lifts.get(name)
        missing += [word for word in (lift.kit if lift else ()) if word not in kit]
        if lift is None and name not in kit:
            missing.append(name)
    for word in dict.fromkeys(missing):
        table.warning(
            "kit",
            f'"{word}" is described below but not in the kit, so it is not used',
            f'add "{word}" to the kit',
        )


def _kg(mass: Mass) -> float:
    return kg_from(mass.value, mass.unit)


def _bare(value: float) -> str:
    """A number as typed: 20, 22.5."""
    return str(int(value)) if math.isfinite(value) and value == int(value) else repr(value)


def _mass_value(mass: Mass) -> float | str:
    return mass.value if mass.label == _bare(mass.value) else mass.label


def _ladder_to_table(ladder: Ladder, gym_unit: Unit) -> dict[str, Any]:
    table: dict[str, Any] = {"from": ladder.low, "to": ladder.high, "step": ladder.step}
    if ladder.add_on:
        table["add_on"] = list(ladder.add_on)
    if ladder.unit != gym_unit:
        table["unit"] = ladder.unit
    return table
