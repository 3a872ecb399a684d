"""The noun: a proposal, with reasons, confidence, claim, runner-up and cautions."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from blockwright.engine.reasons import Caution, Certainty, FactValue, Reason
from blockwright.engine.training import Lift, Lifter
from blockwright.engine.units import Unit, in_unit, number_text

Kind = Literal[
    "add_set", "trim_sets", "raise_load", "lower_load", "light_week", "deload_now",
    "extend_block", "swap_lift", "stop_lift", "refer",
]  # fmt: skip
ChangeKey = Literal["sets", "load_kg", "lift", "week_kind", "weeks"]

EVEN = 0.5
"""As likely as not."""
KEY_OF: Mapping[Kind, ChangeKey | None] = {
    "add_set": "sets", "trim_sets": "sets", "raise_load": "load_kg", "lower_load": "load_kg",
    "light_week": "week_kind", "deload_now": "week_kind", "extend_block": "weeks",
    "swap_lift": "lift", "stop_lift": "lift", "refer": None,
}  # fmt: skip
"""What a proposal of each kind changes."""


@dataclass(frozen=True, slots=True)
class To:
    """One side of a change: `before` or `after`."""

    key: ChangeKey
    value: float | str | None
    then: Literal["on", "end"] | None = None  # Of a deload: whether the block goes on after it


def number_of(side: To | None) -> float | None:
    """The number that a change leads to or comes from; None where it has none."""
    value = None if side is None else side.value
    return float(value) if isinstance(value, float | int) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerUp:
    """The next best choice, and why it lost."""

    kind: Kind
    after: To | None
    why: Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A change against week `week` as printed. `sets` are those of the lift in the session where
    both are named, else the muscle's direct sets of the week; `load_kg` is as on the sheet."""

    id: str
    kind: Kind
    week: int | None
    session: int | None = None
    lift: str | None = None
    muscle: str | None = None
    before: To | None = None
    after: To | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered(Change):
    """A proposal as its letter carries it: its sentence in place of the reasons."""

    says: str = ""
    confidence: float = 0.0
    about: str | None = None  # For a referral: the lift, the joint or the sign it is about
    cautions: tuple[Caution, ...] = ()
    holds: bool = False
    """Whether it keeps a lift as it was for what hurts: for one week, and declined or not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal(Change):
    """A proposal as the review makes it."""

    says: Reason  # The proposal itself, as a sentence's code and facts
    reasons: tuple[Reason, ...]  # Strongest first, never empty
    confidence: float
    claim: Reason  # What will turn out true or not; `confidence` is its probability
    runner_up: RunnerUp | None = None
    loses: Mapping[str, float] = field(default_factory=dict)
    """Muscle to the fractional sets of the week that it loses."""
    cautions: tuple[Caution, ...] = ()

    def __post_init__(self) -> None:
        if self.before is not None and self.before == self.after:
            raise ValueError(f"{self.id}: a proposal that changes nothing cannot be built")
        if not self.reasons:
            raise ValueError(f"{self.id}: a proposal without a reason cannot be built")
        if not 0 <= self.confidence <= 1:
            raise ValueError(f"{self.id}: confidence {self.confidence} is no probability")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stay:
    """Something a coach may have expected to change, and why it does not."""

    lift: str | None = None
    session: int | None = None
    muscle: str | None = None
    load_kg: float | None = None  # Of a lift whose load waits, the one it is done with
    why: Reason


Way = Literal[
    "load", "stays", "first", "sets", "weeks", "week", "swap", "back", "lighter", "out", "refer",
]  # fmt: skip
"""How a line changes the print: `stays` is a load or sets below it that are no step down, `back` a
lift that was swapped out, `lighter` a lift in place of one that goes no lighter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterLine:
    """A proposal as one line of a letter: the parts of its change, and all of it in words. Letters
    of an older version have the words only."""

    day: str  # "" for what is not of one session
    about: str
    way: Way | None = None
    was: str = ""  # "85", "+30", "help 20", "bodyweight", "3"; "" of what comes from nothing
    to: str = ""
    unit: str = ""  # Of `was` and `to`: "kg", "lb", "sets"; "" where they have none
    last: str = ""
    """What was lifted last, of a load below the print that is no step down from there."""
    tries: str = ""  # " (by tries)", ", tries from 20 kg": how the load is found
    certainty: Certainty
    why: str
    brief: str = ""  # `why` without what is asked or else beside it
    cause: str = ""  # What `why` comes to, in two or three words
    place: str = ""  # What hurts
    change: str  # "85 → 90 kg"


def proposal_id(week: int | None, kind: Kind, subject: str = "", session: int | None = None) -> str:
    """A readable, stable name: "w3-raise-load-bench-press", "w3-raise-load-row-s2"."""
    words = [f"w{week}" if week is not None else "after", kind.replace("_", "-")]
    if subject:
        words.append(re.sub(r"[^a-z0-9]+", "-", subject.lower()).strip("-"))
    if session is not None:
        words.append(f"s{session}")
    return "-".join(words)


def sure(probability: float) -> float:
    """A probability as it is stated: three decimals, never certain."""
    return round(min(max(probability, 0.01), 0.99), 3)


def percent(probability: float) -> str:
    """A probability for a sentence, never certain: "1 %" to "99 %"."""
    return f"{min(max(round(100 * probability), 1), 99)} %"


def load_facts(
    load_kg: float | None, lifter: Lifter, name: str = "load", lift: Lift | None = None
) -> dict[str, FactValue]:
    """A load as facts: kilograms for machines, the lifter's own unit for people; what a `lift` adds
    to the body, or takes off it, as such."""
    if load_kg is None:
        return {f"{name}_kg": None, name: "no load yet"}
    said = in_words(load_said(load_kg, lift, lifter.units), lifter.units)
    return {f"{name}_kg": round(load_kg, 4), name: said}


def load_said(load_kg: float, lift: Lift | None, unit: Unit) -> str:
    """ "85", "+30", "bodyweight", "help 20": a load in a unit, without it; less help is harder."""
    kind = "external" if lift is None else lift.load_kind
    if not load_kg and kind in ("bodyweight_plus", "assisted"):
        return "bodyweight" if kind == "bodyweight_plus" else "help not weighed"
    sign = {"bodyweight_plus": "+", "assisted": "help "}.get(kind, "")
    return f"{sign}{number_text(in_unit(load_kg, unit))}"


def with_unit(said: str, unit: str) -> str:
    """With its unit where it ends in a number: "help 20 kg", "bodyweight"."""
    return f"{said} {unit}" if unit and said[-1:].isdigit() else said


def in_words(said: str, unit: str) -> str:
    """As a sentence has it: "20 kg of help", "+30 kg"."""
    told = with_unit(said, unit)
    helped = told.startswith("help ") and told != said
    return f"{told.removeprefix('help ')} of help" if helped else told


def from_to(was: str, to: str, unit: str) -> tuple[str, str]:
    """Both ends of a change, each word said once: "help 25", "20 kg"; "+2.5 kg", "bodyweight"."""
    if was.startswith("help ") and to[-1:].isdigit():
        to = to.removeprefix("help ")
    return (was, with_unit(to, unit)) if to[-1:].isdigit() else (with_unit(was, unit), to)


def distinct(proposals: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """The proposals with ids that differ: a repeated one gets a number at its end."""
    seen: dict[str, int] = {}
    kept = []
    for proposal in proposals:
        count = seen.get(proposal.id, 0) + 1
        seen[proposal.id] = count
        kept.append(proposal if count == 1 else replace(proposal, id=f"{proposal.id}-{count}"))
    return tuple(kept)
