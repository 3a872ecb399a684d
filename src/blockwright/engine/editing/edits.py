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
    trained: frozenset[date] = frozenset()
    """Days with sets logged."""

    def session(self, session: Session) -> bool:
        return session.missed or session.day < self.today or session.day in self.trained

    def last_begun(self, block: Block) -> int:
        """Number of the last week with a session that is over; 0 before the first."""
        begun = [w.week for w in block.weeks if any(self._begun(s) for s in w.sessions)]
        return max(begun, default=0)

    def _begun(self, session: Session) -> bool:
        return session.day < self.today or session.day in self.trained


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What an edit is judged by, beside the block."""

    catalogue: Catalogue
    policy: Policy
    closed: Closed
    paths: LoadPaths | None = None
    """Makes loads for lifts that come in; without it they are left to be found."""
    painful: frozenset[str] = frozenset()
    """Lifts that hurt too much to gain sets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """An entry of a block: week, number of the session, canonical name of the lift."""

    week: int
    session: int
    lift: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetCount:
    """So many sets of a lift; in later weeks as many more or fewer as here."""

    place: Place
    sets: int
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveLift:
    """The lift in another session of the same week."""

    place: Place
    to_session: int
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLift:
    """The lift one place earlier or later in its session."""

    place: Place
    earlier: bool
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SwapLift:
    """Another lift in the place of one."""

    place: Place
    other: str
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PinLift:
    """The lift stays on the day where it stands, whatever is solved anew."""

    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class UnpinLift:
    """The lift is free to go again."""

    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class SetRange:
    """The repetitions a lift's sets are written for, here and in later weeks."""

    place: Place
    low: int
    high: int
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SetReserve:
    """So many repetitions in reserve; in later weeks as many more or fewer as here."""

    place: Place
    rir: float
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SetLoad:
    """The load of a lift, as written on the sheet; later weeks are forecast from it."""

    place: Place
    load_kg: float
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class AddLift:
    """A lift more in the session of `place`, where the order of a session puts it."""

    place: Place
    sets: int | None = None
    """None for the fewest worth doing."""
    only_this_week: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveLift:
    """The session without the lift."""

    place: Place
    only_this_week: bool = False


CellEdit = SetRange | SetReserve | SetLoad | AddLift | RemoveLift
WeekEdit = SetCount | MoveLift | OrderLift | SwapLift | CellEdit
Edit = WeekEdit | PinLift | UnpinLift

_KINDS: Mapping[type, str] = {
    SetCount: "coach_sets",
    MoveLift: "coach_move",
    OrderLift: "coach_order",
    SwapLift: "coach_swap",
    SetRange: "coach_range",
    SetReserve: "coach_reserve",
    SetLoad: "coach_load",
    AddLift: "coach_add",
    RemoveLift: "coach_remove",
    PinLift: "coach_pin",
    UnpinLift: "coach_unpin",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """The coach's own words with an edit, and the rules insisted on (codes)."""

    words: str = ""
    insisted: tuple[str, ...] = field(default=())


MARGIN: Mapping[str, str] = {
    "coach_sets": "edited_sets",
    "coach_move": "edited_move",
    "coach_order": "edited_order",
    "coach_swap": "edited_swap",
    "coach_range": "edited_range",
    "coach_reserve": "edited_reserve",
    "coach_load": "edited_load",
    "coach_add": "edited_add",
    "coach_remove": "edited_remove",
    "coach_pin": "edited_pin",
    "coach_unpin": "edited_unpin",
    "coach_rest": "edited_rest",
    "coach_back": "edited_back",
    "coach_replan_missed": "edited_missed",
    "coach_replan_minutes": "edited_minutes",
    "coach_replan_without": "edited_without",
    "coach_replan_hurts": "edited_hurts",
    "coach_replan_sore": "edited_sore",
    "coach_composed": "edited_composed",
    "coach_screening": "edited_screening",
}
"""Kind of a decision made by hand to the code of its sentence."""


def kind_of(edit: Edit) -> str:
    """The kind its decision carries: "coach_sets"."""
    return _KINDS[type(edit)]


def margin_reason(decision: BlockDecision) -> Reason | None:
    """What a decision made by hand says in the margin; None for one on a proposal."""
    code = MARGIN.get(decision.kind)
    return None if code is None else Reason(code=code, facts=decision.change)


def decision_of(
    block: Block,
    kind: str,
    change: Mapping[str, float | str],
    said: Said,
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
