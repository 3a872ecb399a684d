"""One `[[lift]]` table to a `Lift` and back: checks every field, fills in what is not said.

The same reader serves the shipped catalogue, where more must be said, and a lifter's own lifts,
where name, muscles and pattern are enough.

Grades, ranges and what follows from a pattern are judgement: common practice, no source."""

import re
from collections.abc import Mapping
from typing import Any

from blockwright.engine.errors import BadInput
from blockwright.engine.lifts import ZONES, Role
from blockwright.engine.training import MUSCLES, REGIONS, Lift, RepRange
from blockwright.engine.units import plain_number
from .codec import to_json
from .lifter_fields import ask
from .near import did_you_mean
from .toml_checks import Findings, Table
from .vocabulary import FREE_WEIGHTS, Pattern, Stability, vocabulary

PLAIN_STANDARD = (
    "From the start of the lift's full range to its end and back, under control, every repetition "
    "the same."
)
_SHARES = (1.0, 0.5, 0.25)
_NO_KIT_SETUP_S = 20


def read_lift(values: Mapping[str, Any], place: str, *, own: bool) -> Lift:
    """The lift of one table. `place` is the table's dotted key ("lift.2"); `own` tells a
    lifter's lift from a shipped one.

    Raises BadInput with every problem found, keys beginning with `place`."""
    findings = Findings(file=None)
    table = Table(values, place, findings)
    for name, mend in _needed(own).items():
        table.need(name, mend)
    name = " ".join((ask(table, "name") or "").split())
    kit = _read_kit(table, name, own)
    pattern_name: str | None = ask(table, "pattern")
    muscles = _read_muscles(table, own)
    # An unknown pattern is already an error: any other lets the rest of the table be checked.
    pattern = vocabulary().patterns[pattern_name or "squat"]
    share = ask(table, "bodyweight_share")
    kind = ask(table, "load_kind")
    stability = ask(table, "stability") or _usual_stability(kit, name)
    axial = ask(table, "axial")
    axial = _usual_axial(kit, stability, pattern) if axial is None else axial
    reps = _read_reps(table) or dict(pattern.reps)
    regions = read_regions(table)
    safe_to_fail = ask(table, "safe_to_fail")
    is_machine = stability == "machine"
    usual_caution = pattern.free_weight_caution if _is_free_weight(kit, stability) else None
    lift = Lift(
        name=name,
        muscles=muscles,
        pattern=pattern_name or "",
        kit=kit,
        axial=axial,
        load_kind=kind or ("bodyweight_plus" if share else "external"),
        bodyweight_share=share or 0.0,
        role=read_role(table, pattern),
        family=ask(table, "family") or pattern.family,
        stability=stability,
        fatigue_group=ask(table, "fatigue_group") or pattern.fatigue_group,
        setup_s=_or(ask(table, "setup_s"), _usual_setup_s(kit)),
        seconds_per_rep=ask(table, "seconds_per_rep") or pattern.seconds_per_rep,
        reps=reps,
        prefers=read_prefers(table, pattern, reps),
        plainness=_or(ask(table, "plainness"), USUAL_PLAINNESS),
        skill=_or(ask(table, "skill"), max(pattern.skill - is_machine, 0)),
        angle=ask(table, "angle") or pattern.angle,
        regions=usual_regions(pattern, axial) if regions is None else regions,
        standard=ask(table, "standard") or PLAIN_STANDARD,
        caution=ask(table, "caution") or usual_caution,
        safe_to_fail=is_machine if safe_to_fail is None else safe_to_fail,
        rir_least=ask(table, "rir_least") or 0,
        aliases=_read_aliases(table, name),
        own=own,
    )
    table.close()
    _check_load_kind(table, lift, own)
    if pattern_name:
        _check_failure(table, lift, pattern)
    BadInput.raise_any(findings.errors)
    return lift


def lift_to_table(lift: Lift) -> dict[str, Any]:
    """The table that `read_lift` reads back into an equal lift; every field is said."""
    fields = lift_fields(lift) | {"reps": {zone: str(reps) for zone, reps in lift.reps.items()}}
    return {key: value for key, value in fields.items() if value is not None}


IN_ORDER = (
    "name", "aliases", "muscles", "pattern", "kit", "axial", "load_kind", "bodyweight_share",
    "compound", "role", "family", "stability", "fatigue_group", "setup_s", "seconds_per_rep",
    "reps", "prefers", "plainness", "skill", "angle", "regions", "standard", "caution",
    "safe_to_fail", "rir_least",
)  # fmt: skip
"""A lift's fields as people read them."""


def lift_fields(lift: Lift) -> dict[str, Any]:
    """A lift's fields as plain values, in that order."""
    said = {name: to_json(getattr(lift, name)) for name in IN_ORDER}
    said["reps"] = [
        {"zone": zone, "reps_low": reps.low, "reps_high": reps.high}
        for zone, reps in lift.reps.items()
    ]
    return said | {"prefers": list(map(str, lift.prefers)), "caution": lift.caution or None}


def _needed(own: bool) -> dict[str, str]:
    needed = {
        "name": 'name the lift: name = "..."',
        "muscles": "say what it trains: muscles = { quads = 1.0, glutes = 0.5 }",
        "pattern": 'say how it moves: pattern = "squat"',
    }
    if not own:
        needed |= {
            "kit": 'say what it needs: kit = ["bar"], or kit = []',
            "axial": "grade the load on the spine from 0 to 3: axial = 0",
            "standard": "say in a line where a repetition starts and ends",
        }
    return needed


# --------------------------------------------------------------------------------- what is said


def _read_kit(table: Table, name: str, own: bool) -> tuple[str, ...]:
    """The kit words in lower case; a lifter's own lift may need a machine of its own name."""
    known = {word: word for word in vocabulary().kit}
    if own and name:
        known[name.lower()] = name
    kit: list[str] = []
    for place, typed in enumerate(table.words("kit"), 1):
        word = " ".join(typed.lower().split())
        if word not in known:
            mend = did_you_mean(typed, known, "see `blockwright lifts` for the kit words", 2)
            if own:
                mend += " A machine that is not among them bears the name of its lift."
            table.error(f"kit.{place}", f'"{typed}" is not a kit word', mend)
        elif word not in kit:
            kit.append(word)
    return tuple(kit)


def _read_muscles(table: Table, own: bool) -> dict[str, float]:
    """Muscle to share, in the order of the file."""
    inner = table.table("muscles").by_word(MUSCLES, "a muscle")
    said = {muscle: inner.number(muscle, 0.0, 1.0) for muscle in inner.values}
    muscles = {muscle: share for muscle, share in said.items() if share is not None}
    for muscle, share in muscles.items():
        if share == 0 or (not own and share not in _SHARES):
            mend = "write 1.0 for direct, 0.5 or 0.25 for indirect, or leave the muscle out"
            inner.error(muscle, f"a share of {plain_number(share)} cannot be", mend)
    if table.raw("muscles") == {}:
        table.error("muscles", "names no muscle", "say what it trains: muscles = { quads = 1.0 }")
    if muscles and not own and 1.0 not in muscles.values():
        table.error("muscles", "has no direct muscle", "give the muscle it is for 1.0")
    return muscles


def _read_reps(table: Table) -> dict[str, RepRange]:
    """Zone to range, zones in order."""
    inner = table.table("reps")
    read: dict[str, RepRange] = {}
    for zone in ZONES:
        text = inner.text(zone)
        if text is None:
            continue
        reps = read_range(inner, zone, text, f'{zone} = "8-15"')
        if reps is not None:
            read[zone] = reps
    inner.close()
    return read


def _read_aliases(table: Table, name: str) -> tuple[str, ...]:
    aliases = [" ".join(alias.lower().split()) for alias in table.words("aliases")]
    for place, alias in enumerate(aliases, 1):
        if alias == name.lower() or alias in aliases[: place - 1]:
            table.error(f"aliases.{place}", f'"{alias}" stands twice', "keep one")
    return tuple(aliases)


# ----------------------------------------------------------------------------- what is not said


def _or(said: int | None, usual: int) -> int:
    return usual if said is None else said


def _usual_stability(kit: tuple[str, ...], name: str) -> Stability:
    words = vocabulary().kit
    if any(word == name.lower() or (word in words and words[word].machine) for word in kit):
        return "machine"
    return "supported" if "cable" in kit else "free"


def _usual_axial(kit: tuple[str, ...], stability: Stability, pattern: Pattern) -> int:
    if stability == "machine" or not FREE_WEIGHTS.intersection(kit):
        return 0
    has_bar = not {"bar", "ez bar", "trap bar"}.isdisjoint(kit)
    return pattern.axial if has_bar else max(pattern.axial - 1, 0)


def _usual_setup_s(kit: tuple[str, ...]) -> int:
    words = vocabulary().kit
    machine_s = max(word.setup_s for word in words.values() if word.machine)
    return max(
        (words[word].setup_s if word in words else machine_s for word in kit),
        default=_NO_KIT_SETUP_S,
    )


def _is_free_weight(kit: tuple[str, ...], stability: Stability) -> bool:
    return stability != "machine" and not FREE_WEIGHTS.isdisjoint(kit)


# ------------------------------------------------------------------------------- what fits not


def _check_load_kind(table: Table, lift: Lift, own: bool) -> None:
    """Bodyweight kinds need a share; a shipped lift of another kind must not have one."""
    if lift.moves_body and lift.bodyweight_share == 0:
        says = f"is missing or 0, and load_kind {lift.load_kind} moves the body"
        mend = "say which share of bodyweight moves: 1.0 for a pull-up, about 0.64 for a press-up"
        table.error("bodyweight_share", says, mend)
    if not own and not lift.moves_body and lift.bodyweight_share > 0:
        says = f"has no effect with load_kind {lift.load_kind}"
        table.error("bodyweight_share", says, "leave it out")


def _check_failure(table: Table, lift: Lift, pattern: Pattern) -> None:
    """A caution is never silenced: these lifts are not for failure alone, whoever says so."""
    is_cautioned = pattern.free_weight_caution and _is_free_weight(lift.kit, lift.stability)
    if lift.safe_to_fail and is_cautioned:
        says = f"a free-weight {lift.pattern} is not safe to fail alone"
        table.error("safe_to_fail", says, "leave it out or write safe_to_fail = false")


MOST_REPS = 60
USUAL_PLAINNESS = 2
_MOST_GRADE = 2
_RANGE = re.compile(r"\s*(\d{1,3})(?:\s*[-–]\s*(\d{1,3}))?\s*")


def read_range(table: Table, key: str, text: str, example: str) -> RepRange | None:
    """The range in `text`; None when it is none, which is then an error of `key`."""
    match = _RANGE.fullmatch(text)
    low, high = (0, 0) if match is None else (int(match[1]), int(match[2] or match[1]))
    if not 1 <= low <= high <= MOST_REPS:
        mend = f"write it as {example}, from 1 to {MOST_REPS}"
        table.error(key, f'"{text}" is not a range of repetitions', mend)
        return None
    return RepRange(low=low, high=high)


def read_role(table: Table, pattern: Pattern) -> Role:
    """The role said, or that follows from `compound`, or the pattern's."""
    said, compound = ask(table, "role"), ask(table, "compound")
    if compound is None:
        return said or pattern.role
    if said and compound != (said != "small"):
        says = f"{said} and compound = {str(compound).lower()} cannot both be"
        mend = (
            "a lift of one joint is small, one of several joints main or second; leave one key out"
        )
        table.error("role", says, mend)
    if not compound:
        return "small"
    return said or ("second" if pattern.role == "small" else pattern.role)


def read_prefers(
    table: Table, pattern: Pattern, usable: Mapping[str, RepRange]
) -> tuple[RepRange, ...]:
    """The ranges said, best first; else the pattern's that the lift can use, else its own."""
    lowest = min(reps.low for reps in usable.values())
    highest = max(reps.high for reps in usable.values())
    said: list[RepRange] = []
    for place, text in enumerate(table.words("prefers"), 1):
        key = f"prefers.{place}"
        reps = read_range(table, key, text, '"8-12"')
        if reps is None:
            continue
        if not lowest <= reps.low <= reps.high <= highest:
            says = f"{reps} is not inside the lift's usable {lowest}-{highest}"
            table.error(key, says, "prefer a range inside it, or widen `reps`")
        said.append(reps)
    usual = tuple(r for r in pattern.prefers if lowest <= r.low <= r.high <= highest)
    return tuple(said) or usual or tuple(usable.values())


def read_regions(table: Table) -> dict[str, int] | None:
    """Region to grade, in the order of the body, a grade of 0 left out; None if nothing is said."""
    if not table.has("regions"):
        return None
    inner = table.table("regions").by_word(REGIONS, "a region of the body")
    said = ((region, inner.whole(region, 0, _MOST_GRADE)) for region in REGIONS)
    return {region: grade for region, grade in said if grade}


def usual_regions(pattern: Pattern, axial: int) -> dict[str, int]:
    """The pattern's, and what a load on the spine adds to the lower back."""
    spine = {"lower_back": max(pattern.regions.get("lower_back", 0), min(axial, _MOST_GRADE))}
    both = {**pattern.regions, **spine}
    return {region: both[region] for region in REGIONS if both.get(region)}
