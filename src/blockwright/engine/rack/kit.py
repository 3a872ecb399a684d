"""From a lift and a gym to the rack: which kit makes the load, and what is assumed of it.

Where the gym names a piece of kit without details, the policy's defaults stand in (`rack.*`), in
the unit that the log shows, or the gym's own; they make what was logged too."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from blockwright.engine.errors import BadInput
from blockwright.engine.gym import Bar, Gym, Ladder, Mass, PlatePairs
from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift
from blockwright.engine.units import Unit, kg_from, number_text
from .loads import Rack
from .makers import Maker, NoLoad, Place, Plated, Run
from .masses import NG_PER_KG, SAME_LOAD_KG, as_stamped, mass_ng
from .plates import Plate, PlateSet, plate_set

BAR_WORDS = ("bar", "ez bar", "trap bar")
NOT_MACHINES = frozenset({
    *BAR_WORDS, "squat rack", "bench", "incline bench", "preacher bench", "dip bars",
    "pull-up bar", "dumbbells", "kettlebells", "bands", "landmine", "plates", "box",
    "back extension bench", "ab wheel", "rings",
})  # fmt: skip
"""Free kit of the catalogue's vocabulary; any other word of a lift is a machine or a cable."""

STANDARD_PLATES: dict[Unit, tuple[float, ...]] = {
    "kg": (20, 15, 10, 5, 2.5, 1.25),
    "lb": (45, 35, 25, 10, 5, 2.5),
}
"""Assumed where a gym lists no plates. kg: in the disc set of the IPF Technical Rules; lb: common
practice, no source. What a gym really has goes in its file."""

_NAME_MARKS = {"ez bar": {"ez", "curl"}, "trap bar": {"trap", "hex"}}
"""Words in a bar's name that tell what kind it is; a bar with none of them is a plain bar."""
_LEGS = ("hinge", "lunge", "squat")
"""Patterns in which one side at a time still holds a dumbbell in each hand."""
_MOST_ADD_ONS = 10
_ROUND = 0.5  # What is stamped on a stack or a dumbbell comes in halves, in its own unit


def rack_for(lift: Lift, gym: Gym, policy: Policy, bar: str | None = None) -> Rack:
    """What loads `gym` can make for `lift`, kg as written on the sheet.

    `bar` names the bar to use (a name of the gym's file, or a bar's kit word). Raises BadInput when
    there is no such bar or a stack cannot be counted."""
    if lift.load_kind == "bodyweight_plus":
        return Rack(_beside_bodyweight(lift, gym, policy))
    kit = set(lift.kit)
    if lift.load_kind == "assisted":
        machine = _stack(lift, gym, policy)
        alone = NoLoad("band, no load to set" if "bands" in kit else "bodyweight alone")
        return Rack(machine or [alone], more_is_easier=bool(machine))
    if "landmine" in kit:
        return Rack([_plated(_bars("bar", gym, policy, bar)[0], "on the end", gym, policy)])
    for word in BAR_WORDS[::-1]:
        if word in kit:
            return _bar_rack(word, gym, policy, bar)
    one_arm = "both sides are one rep" in lift.standard and lift.pattern not in _LEGS
    each_hand = lift.load_kind == "per_hand" and not one_arm
    return Rack(_without_bar(lift, each_hand, gym, policy))


def listed_most_kg(lift: Lift, gym: Gym, policy: Policy) -> float | None:
    """The heaviest load of `lift` that the gym's own lists make; None where they say nothing of it
    (a default stack or plate set says nothing about what a gym really has)."""
    if gym.assumed or lift.load_kind == "assisted":
        return None
    named = any(word in gym.stacks for word in (lift.name, *lift.aliases, *lift.kit))
    listed = named or (gym.dumbbells if "dumbbells" in lift.kit else gym.plates)
    free = all(word in NOT_MACHINES for word in lift.kit)
    if not listed or not (named or free):
        return None
    heaviest = rack_for(lift, gym, policy).at_most(policy.number("rack.most_kg"))
    return None if heaviest is None else heaviest.load_kg


def bar_rack(gym: Gym, policy: Policy, bar: str | None = None) -> Rack:
    """The gym's plain bar (or the one named) with its plates, whatever the lift."""
    return _bar_rack("bar", gym, policy, bar)


def _without_bar(lift: Lift, each_hand: bool, gym: Gym, policy: Policy) -> list[Maker]:
    if "dumbbells" in lift.kit:
        return _dumbbells(lift, gym, policy, each_hand=each_hand)
    if "kettlebells" in lift.kit:
        unit, loads = _logged(gym, lift.name, "kettlebells")
        ladder = _default_ladder("kettlebell", unit, policy)
        return [Run(each, "kettlebell") for each in _with_logged(ladder, loads)]
    machine = _stack(lift, gym, policy)
    if machine:
        return [*machine]
    if "bands" in lift.kit:
        return [NoLoad("a light band; its rating is the load")]
    sides = 2 if each_hand else 1
    place: Place = "in each hand" if each_hand else "in the hands"
    return [Plated(plates=_plate_set(gym, policy, sides), place=place)]


def _beside_bodyweight(lift: Lift, gym: Gym, policy: Policy) -> list[Maker]:
    alone = NoLoad("bodyweight alone")
    if "dumbbells" in lift.kit:
        return [alone, *_dumbbells(lift, gym, policy, each_hand=False)]
    if gym.plates or gym.kit & {"plates", *BAR_WORDS}:
        # a belt hangs free only below somebody who hangs or leans on their hands
        place: Place = "on the belt" if lift.pattern in ("vertical pull", "dip") else "added"
        return [alone, Plated(plates=_plate_set(gym, policy, 1), place=place)]
    # nobody lies a dumbbell on their own back, but for those who log that they do
    held = lift.pattern != "horizontal press" or lift.name in gym.logged
    if held and (gym.dumbbells or "dumbbells" in gym.kit):
        return [alone, *_dumbbells(lift, gym, policy, each_hand=False)]
    return [alone]


# -------------------------------------------------------------------------------------- bars


def _bar_rack(word: str, gym: Gym, policy: Policy, named: str | None) -> Rack:
    """The usual bar first; lighter ones of the kind only for loads it is too heavy for."""
    makers: list[Maker] = []
    below_ng: int | None = None
    for bar in _bars(word, gym, policy, named):
        ng = mass_ng(bar.mass.value, bar.mass.unit)
        if below_ng is None or ng < below_ng:
            makers.append(_plated(bar, "each side", gym, policy, below_ng))
            below_ng = ng
    return Rack(makers)


def _bars(word: str, gym: Gym, policy: Policy, named: str | None) -> list[Bar]:
    """The bar to use, then lighter ones of its kind, heaviest first. Never empty."""
    if named is not None:
        return [_bar_named(named, gym, policy)]
    of_kind = [bar for bar in gym.bars if _kind_of(bar) == word]
    if not of_kind:
        return [_default_bar(word, gym.unit, policy)]
    lighter = sorted(of_kind[1:], key=lambda bar: -mass_ng(bar.mass.value, bar.mass.unit))
    return [of_kind[0], *lighter]


def _bar_named(named: str, gym: Gym, policy: Policy) -> Bar:
    wanted = named.strip().casefold()
    for bar in gym.bars:
        if bar.name.casefold() == wanted:
            return bar
    for word in BAR_WORDS:
        stands_in = _default_bar(word, gym.unit, policy)
        if wanted == word and (of_kind := [bar for bar in gym.bars if _kind_of(bar) == word]):
            return of_kind[0]
        if wanted in (word, stands_in.name.casefold()):
            return stands_in
    names = [bar.name for bar in gym.bars] or [_default_bar("bar", gym.unit, policy).name]
    known = ", ".join(f'"{name}"' for name in dict.fromkeys([*names, *BAR_WORDS]))
    raise BadInput.of(f'this gym has no bar called "{named}"', f"use one of: {known}", key="bar")


def _kind_of(bar: Bar) -> str:
    words = set(re.findall(r"[a-z]+", bar.name.casefold()))
    return next((kind for kind, marks in _NAME_MARKS.items() if words & marks), "bar")


def _default_bar(word: str, unit: Unit, policy: Policy) -> Bar:
    value = policy.number(f"rack.{word.replace(' ', '_')}_{unit}")
    mass = f"{number_text(value)} {unit}"
    return Bar(name=f"{mass} {word}", mass=Mass(value=value, unit=unit, label=mass))


# ------------------------------------------------------------------------------------ plates


def _plated(
    bar: Bar, place: Place, gym: Gym, policy: Policy, below_ng: int | None = None
) -> Plated:
    bar_ng = mass_ng(bar.mass.value, bar.mass.unit)
    sides = 2 if place == "each side" else 1
    return Plated(
        plates=_plate_set(gym, policy, sides),
        place=place,
        bar=bar.name,
        bar_ng=bar_ng,
        below_ng=below_ng,
    )


def _plate_set(gym: Gym, policy: Policy, sides: int) -> PlateSet:
    plates = tuple(
        Plate(
            label=pair.mass.label,
            mass_ng=mass_ng(pair.mass.value, pair.mass.unit),
            unit=pair.mass.unit,
            count=pair.pairs if sides == 2 else 2 * pair.pairs,
        )
        for pair in gym.plates or _standard_pairs(gym.unit, policy)
    )
    most_ng = round(policy.number("rack.most_kg") * NG_PER_KG) // sides
    return plate_set(plates, most_ng, policy.whole("rack.most_plates_on_a_side"))


def _standard_pairs(unit: Unit, policy: Policy) -> Iterable[PlatePairs]:
    pairs = policy.whole("rack.standard_pairs")
    for value in STANDARD_PLATES[unit]:
        mass = Mass(value=value, unit=unit, label=number_text(value))
        yield PlatePairs(mass=mass, pairs=pairs)


# ------------------------------------------------------------------------ dumbbells and stacks


def _dumbbells(lift: Lift, gym: Gym, policy: Policy, *, each_hand: bool) -> list[Maker]:
    unit, loads = _logged(gym, lift.name, "dumbbells")
    ladders: Sequence[Ladder] = gym.dumbbells or _with_logged(
        _default_ladder("dumbbell", unit, policy), loads
    )
    return [Run(each, "dumbbell in each hand" if each_hand else "dumbbell") for each in ladders]


def _stack(lift: Lift, gym: Gym, policy: Policy) -> list[Run]:
    """The stack listed for the lift or for any kit word of it; else the default; or nothing."""
    machines = [word for word in lift.kit if word not in NOT_MACHINES]
    for name in (lift.name, *lift.aliases, *machines):
        if name in gym.stacks:
            return [Run(_counted(name, gym.stacks[name]), "stack")]
    if not machines:
        return []
    unit, loads = _logged(gym, lift.name, *machines)
    ladder = _default_ladder("stack", unit, policy)
    if lift.load_kind == "assisted":
        ladder = replace(ladder, high=policy.number(f"rack.help_heaviest_{unit}"))
    half = ladder.step / 2
    if any(abs((load - ladder.low) % ladder.step - half) < SAME_LOAD_KG for load in loads):
        ladder = replace(ladder, step=half)  # an add-on serves the whole stack
    return [Run(each, "stack") for each in _with_logged(ladder, loads)]


def _logged(gym: Gym, *names: str) -> tuple[Unit, list[float]]:
    """Loads logged of a lift, or of any other on the same kit, in the unit that is stamped on it:
    the gym's, unless more of them are round numbers in the other."""
    loads = {load for name in names for load in gym.logged.get(name, ())}
    other: Unit = "lb" if gym.unit == "kg" else "kg"
    changed = {as_stamped(kg_from(load, gym.unit), other) for load in loads}
    own_round, other_round = (
        sum(load % _ROUND < SAME_LOAD_KG for load in each) for each in (loads, changed)
    )
    return (other, sorted(changed)) if other_round > own_round else (gym.unit, sorted(loads))


def _with_logged(ladder: Ladder, loads: Iterable[float]) -> list[Ladder]:
    """A default, and the logged loads within its ends as runs of their own."""
    within = (load for load in loads if ladder.low < load < ladder.high)
    return [ladder, *(replace(ladder, low=load, high=load) for load in within)]


def _counted(name: str, ladder: Ladder) -> Ladder:
    if len(ladder.add_on) > _MOST_ADD_ONS:
        says = f"the stack of {name} lists {len(ladder.add_on)} add-on weights"
        raise BadInput.of(says, f"list at most {_MOST_ADD_ONS}", key="gym.stack")
    return ladder


def _default_ladder(kind: str, unit: Unit, policy: Policy) -> Ladder:
    low, high, step = (
        policy.number(f"rack.{kind}_{end}_{unit}") for end in ("lightest", "heaviest", "step")
    )
    return Ladder(low=low, high=high, step=step, unit=unit)
