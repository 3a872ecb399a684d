"""Lists the lift catalogue, all of it or what a kit, a muscle or a lifter narrows it to; and the
policy: what a coach may change, within which bounds, and why it is as it is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from textwrap import fill
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import MUSCLES, Catalogue
from blockwright.files.answer_documents import LiftList, PolicyList
from blockwright.files.catalogue import builtin_catalogue, catalogue_for
from blockwright.files.codec import document
from blockwright.files.lifter_file import read_lifter
from blockwright.files.near import did_you_mean, listed
from blockwright.files.policy_files import policy_under
from blockwright.files.vocabulary import vocabulary


@dataclass(frozen=True, slots=True, kw_only=True)
class Narrowing:
    """What to list; empty means everything."""

    muscle: str = ""  # Only lifts that train this muscle directly
    pattern: str = ""
    kit: tuple[str, ...] = ()  # Only lifts for which these kit words are enough
    find: str = ""  # Only lifts whose name or alias contains this
    lifter: Path | None = None
    """Only lifts this lifter's gym has the kit for, the lifter's own among them."""


def lifts_document(narrowing: Narrowing) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """The `blockwright/lifts/1` document, and what was assumed while a lifter file was read.

    Raises BadInput for an unknown muscle, pattern or kit word, and for a broken lifter file."""
    catalogue, gym_kit, warnings = _catalogue(narrowing.lifter)
    return narrowed(narrowing, catalogue, gym_kit), warnings


def narrowed(
    narrowing: Narrowing, catalogue: Catalogue, gym_kit: frozenset[str] | None
) -> dict[str, Any]:
    """The document of a catalogue at hand, of lifts for which `gym_kit` (None: any) is enough;
    the narrowing's lifter file is not read. Raises BadInput for an unknown word."""
    muscle, pattern, kit = _known_words(narrowing, catalogue)
    enough = gym_kit if not kit else kit if gym_kit is None else kit & gym_kit
    find = narrowing.find.strip().lower()
    order = list(vocabulary().patterns)
    lifts = [
        lift
        for lift in sorted(catalogue.lifts.values(), key=lambda lift: order.index(lift.pattern))
        if (not muscle or muscle in lift.direct)
        and (not pattern or lift.pattern == pattern)
        and (enough is None or enough.issuperset(lift.kit))
        and any(find in name.lower() for name in (lift.name, *lift.aliases))
    ]
    return document("lifts", LiftList(tuple(lifts)))


def lifts_text(document: Mapping[str, Any]) -> str:
    lifts: Sequence[Mapping[str, Any]] = document["lifts"]
    if not lifts:
        return "No lift matches."
    width = max(len(lift["name"]) for lift in lifts)
    lines: list[str] = []
    pattern = None
    for lift in lifts:
        if lift["pattern"] != pattern:
            pattern = lift["pattern"]
            lines += ["", f"{pattern}: {vocabulary().patterns[pattern].says}"]
        lines.append(f"  {lift['name']:<{width}}  {_in_short(lift)}")
    count = f"{len(lifts)} lift{'s' if len(lifts) > 1 else ''}"
    lines += ["", f"{count}. Muscles in brackets count in part."]
    return "\n".join(lines[1:])


def _catalogue(
    lifter_file: Path | None,
) -> tuple[Catalogue, frozenset[str] | None, tuple[Problem, ...]]:
    if lifter_file is None:
        return builtin_catalogue(), None, ()
    reading = read_lifter(lifter_file)
    return catalogue_for(reading.value), reading.value.gym.kit, reading.warnings


def _known_words(narrowing: Narrowing, catalogue: Catalogue) -> tuple[str, str, frozenset[str]]:
    """Muscle, pattern and kit words as the catalogue writes them."""
    problems: list[Problem] = []
    all_kit = {*vocabulary().kit, *(word for lift in catalogue.lifts.values() for word in lift.kit)}
    muscle = _known(narrowing.muscle.replace(" ", "_"), MUSCLES, "muscle", problems)
    pattern = _known(narrowing.pattern, list(vocabulary().patterns), "pattern", problems)
    kit = {_known(word, sorted(all_kit), "kit", problems) for word in narrowing.kit}
    BadInput.raise_any(problems)
    return muscle, pattern, frozenset(kit)


def _known(typed: str, known: Sequence[str], option: str, problems: list[Problem]) -> str:
    word = " ".join(typed.lower().split())
    if word and word not in known:
        mend = did_you_mean(word, known, f"use one of: {listed(known)}", 2)
        says = f'"{typed}" is not a {option} word' if option == "kit" else f'"{typed}" is unknown'
        problems.append(Problem(key=f"--{option}", says=says, mend=mend))
    return word


def _in_short(lift: Mapping[str, Any]) -> str:
    direct = [_words(muscle) for muscle, share in lift["muscles"].items() if share >= 1]
    part = [_words(muscle) for muscle, share in lift["muscles"].items() if share < 1]
    muscles = ", ".join(direct) + (f" ({', '.join(part)})" if part else "")
    own = "; own lift" if lift["own"] else ""
    return f"{muscles.strip()}; {' + '.join(lift['kit']) or 'no kit'}{own}"


def _words(muscle: str) -> str:
    return muscle.replace("_", " ")


def policy_document(coach: Path | None, find: str = "") -> dict[str, Any]:
    """The `blockwright/policy/1` document; only entries whose key or reason contains `find`."""
    wanted = find.lower()
    values = sorted(policy_under(coach).values.values(), key=lambda value: value.key)
    found = (one for one in values if wanted in one.key.lower() or wanted in one.why.lower())
    return document("policy", PolicyList(tuple(found)))


def policy_text(listed: dict[str, Any]) -> str:
    lines: list[str] = []
    for entry in listed["policy"]:
        origin = "" if entry["origin"] == "default" else f"  [{entry['origin']}]"
        lines.append(f"{entry['key']} = {entry['value']} {entry['unit']}{origin}")
        bounds = (
            f"{entry['low']} to {entry['high']}"
            if entry["low"] is not None
            else ", ".join(map(str, entry.get("choices", ["true", "false"])))
        )
        lines.append(f"    may be {bounds}; source: {entry['source']}")
        lines.append(fill(entry["why"], 92, initial_indent="    ", subsequent_indent="    "))
    return "\n".join(lines) or "No policy value matches."
