"""The nouns: what a coach changes by hand, and what may still be changed."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from blockwright.engine.planning.loads import LoadPaths
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Reason
from blockwright.engine.training import Block, BlockDecision, Catalogue, Session


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """Which sessions are over: what is done is not planned anew."""

    today: date
    trained: frozenset[date] = frozenset()  # Days with sets logged

    def session(self, session: Session) -> bool:
        return session.missed or session.day < self.today or session.day in self.trained

    def last_begun(self, block: Block) -> int:
        """Number of the last week with a session that is over; 0 before the first."""
        begun = [w.week for w in block.weeks if any(self._begun(s) for s in w.sessions)]
        return max(begun, default=0)

    def _begun(self, session: Session) -> bool:
        return session.day < self.today or session.day in self.trained


@dataclass(frozen=True, slots=True, kw_only=True)
class EditContext:
    """What an edit is judged by, beside the block."""

    catalogue: Catalogue
    policy: Policy
    closed: Closed
    paths: LoadPaths | None = None
    """Makes loads for lifts that come in; without it they are left to be found."""
    painful: frozenset[str] = frozenset()  # Lifts that hurt too much to gain sets


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """An entry of a block: week, number of the session, canonical name of the lift."""

    week: int
    session: int
    lift: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class _Weekly(_Placed):
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCount(_Weekly):
    """So many sets of a lift; in later weeks as many more or fewer as here."""

    sets: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveLift(_Weekly):
    """The lift in another session of the same week."""

    to_session: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLift(_Weekly):
    """The lift one place earlier or later in its session."""

    earlier: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapLift(_Weekly):
    """Another lift in the place of one."""

    other: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PinLift(_Placed):
    """The lift stays on the day where it stands, whatever is solved anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnpinLift(_Placed):
    """The lift is free to go again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetRange(_Weekly):
    """The repetitions a lift's sets are written for, here and in later weeks."""

    low: int
    high: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SetReserve(_Weekly):
    """So many repetitions in reserve; in later weeks as many more or fewer as here."""

    rir: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetLoad(_Weekly):
    """The load of a lift, as written on the sheet; later weeks are forecast from it."""

    load_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AddLift(_Weekly):
    """A lift more in a session, where its order puts it; without `sets` the fewest worth doing."""

    sets: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveLift(_Weekly):
    """The session without the lift."""


CellEdit = SetRange | SetReserve | SetLoad | AddLift | RemoveLift
WeekEdit = SetCount | MoveLift | OrderLift | SwapLift | CellEdit
Edit = WeekEdit | PinLift | UnpinLift


@dataclass(frozen=True, slots=True, kw_only=True)
class CoachWords:
    """The coach's own words with an edit, and the rules insisted on (codes)."""

    words: str = ""
    insisted: tuple[str, ...] = field(default=())


def kind_of(edit: Edit) -> str:
    """The kind its decision carries: "coach_sets"."""
    word = type(edit).__name__.removeprefix("Set").removesuffix("Lift").lower()
    return f"coach_{'sets' if word == 'count' else word}"


def margin_reason(decision: BlockDecision) -> Reason | None:
    """What a decision made by hand says in the margin; None for one on a proposal."""
    _, by_hand, kind = decision.kind.partition("coach_")
    code = f"edited_{kind.removeprefix('replan_')}"
    return Reason(code=code, facts=decision.change) if by_hand else None


def decision_of(
    block: Block, kind: str, change: Mapping[str, float | str], said: CoachWords
) -> BlockDecision:
    """The decision that stands in the margin of the revision after `block`."""
    facts = dict(change)
    if said.insisted:
        facts["insisted"] = ", ".join(said.insisted)
    subject = re.sub(r"[^a-z0-9]+", "-", str(change.get("lift", "")).lower()).strip("-")
    name = kind.replace("_", "-") + (f"-{subject}" if subject else "")
    name = f"r{block.revision + 1}-{name}"
    alike = sum(one.proposal.partition("~")[0] == name for one in block.decisions)
    return BlockDecision(
        proposal=f"{name}~{alike + 1}" if alike else name,
        kind=kind,
        verdict="changed",
        words=said.words,
        change=facts,
    )
