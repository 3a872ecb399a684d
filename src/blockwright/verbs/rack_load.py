"""What a load needs: plates per side, the nearest loads, the warm-up, a partner's changes."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.gym import Gym
from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, Setting, bar_rack, partner_moves, rack_for, warmup_ladder
from blockwright.engine.training import Lift, Lifter
from blockwright.engine.units import Unit, kg_from, load_text, mass_text
from blockwright.files.answer_documents import RackLoad, TakingTurns, Turn, TurnChange
from blockwright.files.codec import document
from blockwright.files.policy_files import policy_under
from blockwright.files.reading import CommandAnswer
from blockwright.sheets.rack_words import rack_text

_USES_A_BAR = {"bar", "ez bar", "trap bar", "landmine"}


@dataclass(frozen=True, slots=True, kw_only=True)
class RackQuestion:
    load: str
    unit: Unit | None = None
    lifter_file: Path | None = None
    bar: str | None = None
    partner: str | None = None
    lift: str | None = None
    coach: Path | None = None


def rack_load(question: RackQuestion) -> CommandAnswer:
    """Answers for the gym of the lifter file, or for the usual bar and enough standard plates.

    Raises BadInput for a load, a bar, a lift or a file that cannot be used."""
    policy = policy_under(question.coach)
    lifter, warnings = _lifter(question.lifter_file, policy)
    if lifter is not None:
        policy = policy.overridden(lifter.policy, "lifter")
    answer = rack_document(question, lifter, policy)
    return CommandAnswer(answer, rack_text(answer), warnings)


def rack_document(question: RackQuestion, lifter: Lifter | None, policy: Policy) -> dict[str, Any]:
    """The `blockwright/rack/1` document for a lifter at hand (None: the usual bar and plates)
    under their policy; the question's files are not read. Raises BadInput as `rack_load`."""
    unit = question.unit or (lifter.units if lifter else "kg")
    gym = lifter.gym if lifter else Gym(kit=frozenset({"bar"}), unit=unit)
    lift = _lift(question.lift, lifter)
    rack = _rack(lift, gym, policy, question.bar)
    load_kg = _load_kg(question.load, unit, "load", rack, policy)
    bodyweight_kg = lifter.bodyweight_kg if lifter else None
    turns = None
    if question.partner is not None:
        partner_kg = _load_kg(question.partner, unit, "partner", rack, policy)
        turns = _partner(rack, load_kg, partner_kg, unit)
    exact, work = rack.exactly(load_kg), rack.at_most(load_kg)
    warmup = (
        warmup_ladder(rack, work.load_kg, lift, policy, bodyweight_kg=bodyweight_kg) if work else ()
    )
    needs = RackLoad(
        load_kg=load_kg,
        unit=unit,
        lift=lift.name if lift else None,
        bar=(work or rack.least).bar,
        exact=exact is not None,
        below=work,
        above=exact or rack.at_least(load_kg),
        warmup=warmup,
        partner=turns,
    )
    return document("rack", needs)


def _lifter(file: Path | None, policy: Policy) -> tuple[Lifter | None, tuple[Problem, ...]]:
    if file is None:
        return None, ()
    from blockwright.files.lifter_file import read_lifter

    reading = read_lifter(file, policy)
    return reading.value, reading.warnings


def _lift(name: str | None, lifter: Lifter | None) -> Lift | None:
    if name is None:
        return None
    from blockwright.files.catalogue import builtin_catalogue, catalogue_for, lift_called

    return lift_called(name, catalogue_for(lifter) if lifter else builtin_catalogue(), "lift")


def _rack(lift: Lift | None, gym: Gym, policy: Policy, bar: str | None) -> Rack:
    if lift is None:
        return bar_rack(gym, policy, bar)
    if bar is not None and not _USES_A_BAR & set(lift.kit):
        says = f"{lift.name} is not done with a bar"
        raise BadInput.of(says, "leave out the bar or the lift", column="bar")
    return rack_for(lift, gym, policy, bar)


def _load_kg(typed: str, unit: Unit, where: str, rack: Rack, policy: Policy) -> float:
    """The load in kg. Raises BadInput for what is no number, not above zero, or out of reach."""
    try:
        # Python would read 1_000; nobody writes a load so, and 82_5 is a slip of the finger.
        value = float("nan") if "_" in typed else float(typed.replace(",", "."))
    except ValueError:
        value = float("nan")
    most_kg = policy.number("rack.most_kg")
    if value != value:
        problem = f'"{typed}" is not a number', "write the load as a number, for example 82.5"
    elif value < 0 or (value == 0 and rack.least.load_kg > 0):
        problem = f"{typed} is not a load", "write a number above zero"
    elif kg_from(value, unit) > most_kg:
        limit = " = ".join(mass_text(most_kg, each) for each in ("kg", "lb"))
        problem = f"{typed} {unit} is above the limit of {limit}", "check the number and the unit"
    else:
        return kg_from(value, unit)
    raise BadInput.of(problem[0], problem[1], column=where)


def _partner(rack: Rack, load_kg: float, partner_kg: float, unit: Unit) -> TakingTurns:
    """The two on one bar; a load that cannot be made gives way to the nearest one below."""
    if rack.least.plates_per_side is None:
        says = "sharing is worked out for a bar with plates on both sides"
        raise BadInput.of(says, "leave the partner out", column="partner")
    own, other = (rack.at_most(kg) or rack.at_least(kg) for kg in (load_kg, partner_kg))
    moves = partner_moves(rack, own.load_kg, other.load_kg) if own and other else None
    if moves is None:
        loads = " and ".join(load_text(kg, unit) for kg in (load_kg, partner_kg))
        says = f"{loads} are not made on the same bar here"
        raise BadInput.of(says, "name one bar", column="partner")
    return TakingTurns(
        load_kg=partner_kg,
        exact=rack.exactly(partner_kg) is not None,
        lifter=_turn(moves.first, moves.shared, moves.first_only),
        partner=_turn(moves.second, moves.shared, moves.second_only),
        stays_on=moves.shared,
        moves=(
            TurnChange(to="partner", off=moves.first_only, on=moves.second_only),
            TurnChange(to="lifter", off=moves.second_only, on=moves.first_only),
        ),
        moves_per_side=moves.moves_per_side,
    )


def _turn(setting: Setting, shared: Mapping[str, int], own: Mapping[str, int]) -> Turn:
    """One lifter's loading; `order` runs from the collar outwards, one side."""
    order = tuple(
        label for plates in (shared, own) for label, n in plates.items() for _ in range(n)
    )
    return Turn(load_kg=setting.load_kg, plates_per_side=setting.plates_per_side, order=order)
