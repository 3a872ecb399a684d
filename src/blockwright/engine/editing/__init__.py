"""A coach's own changes to a block: carried out, checked against the rules, told in lines.

    edited(block, edit, context)            the next revision
    broken_rules(before, after, context)    which rules it breaks, and whether one may insist
    differences(before, after, catalogue)   what changes, week by week
    rest_solved(block, context)             the weeks not begun composed anew around edits and pins
    gone_back(block, old, context)          an earlier revision's weeks, where none has begun

Owns edits; takes review's weeks and planning's rules as they are. Knows no file and no words."""

from .apply_edit import edited, gone_back, most_sets_named, revision_after
from .differences import differences
from .edited_weeks import entry_at, pins_by_lift, session_at, swap_candidates
from .edits import (
    AddLift,
    Closed,
    CoachWords,
    Edit,
    EditContext,
    MoveLift,
    OrderLift,
    PinLift,
    Place,
    RemoveLift,
    SetCount,
    SetLoad,
    SetRange,
    SetReserve,
    SwapLift,
    UnpinLift,
    decision_of,
    margin_reason,
)
from .rest import first_open_week, rest_solved
from .rules import Broken, broken_rules
