"""Today's sheet: one session of a block with loads, plates, warm-ups, advice and cautions.

`day_sheet` is the door; `NextSet` answers which load follows a set, for paper and phone alike.
Imports everything below it in the engine but the solver; decides no load that the coach has
accepted."""

from .find_session import PlannedSession, session_in_week, session_on, sessions_of
from .make_sheet import Partner, day_sheet
from .next_set import MOST_REPS, NextSet, believing_the_day, rest_between_sets_s
from .sheet import DaySheet, SheetEntry
