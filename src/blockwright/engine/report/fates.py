"""What was proposed, and what the coach made of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from blockwright.engine.training import BlockDecision

Verdict = Literal["accepted", "changed", "declined", "open"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A proposal as its letter told it."""

    id: str
    kind: str
    week: int | None
    says: str
    confidence: float
    session: int | None = None
    lift: str | None = None
    muscle: str | None = None
    to_load_kg: float | None = None
    """Of a load proposal, as written on the sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """One proposal and its fate."""

    id: str
    kind: str
    week: int | None
    says: str | None
    """None where the letter was not at hand: the block keeps decisions, not sentences."""
    confidence: float | None
    verdict: Verdict
    words: str
    change: Mapping[str, float | str]
    came_true: bool | None
    """Whether its claim came true; None where that cannot be told from the log."""


def fates_of(
    decisions: Sequence[BlockDecision],
    told: Sequence[Told],
    came_true: Mapping[str, bool],
    weeks: int,
) -> tuple[Fate, ...]:
    """Every proposal for the first `weeks` weeks and beyond the end, in order of week; those
    without a decision are open."""
    letters = {one.id: one for one in told}
    decided = {one.proposal: one for one in decisions}
    found = []
    for name in dict.fromkeys((*letters, *decided)):
        letter, decision = letters.get(name), decided.get(name)
        found.append(
            Fate(
                id=name,
                kind=letter.kind if letter else decision.kind if decision else "",
                week=letter.week if letter else _week(decision),
                says=letter.says if letter else None,
                confidence=letter.confidence if letter else None,
                verdict=decision.verdict if decision else "open",
                words=decision.words if decision else "",
                change=dict(decision.change) if decision else {},
                came_true=came_true.get(name),
            )
        )
    return tuple(sorted(found, key=lambda fate: fate.week if fate.week is not None else weeks + 1))


def _week(decision: BlockDecision | None) -> int | None:
    week = decision.change.get("week") if decision is not None else None
    return None if week is None else round(float(week))
