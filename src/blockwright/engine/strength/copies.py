"""Sessions of a log that were written down twice."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date

from blockwright.engine.training import SetDone


def sessions_again(sets: Sequence[SetDone], least_sets: int) -> Iterator[tuple[int, int]]:
    """First set, and the row it repeats, of sessions that equal an earlier one in lifts, loads,
    repetitions, RIR and rests.

    Programmes repeat loads and repetitions; equal sessions count only when their repetitions vary
    within the session, as they do when someone counted them."""
    sessions: dict[tuple[str | None, date], list[int]] = defaultdict(list)
    for index, done in enumerate(sets):
        sessions[done.lifter, done.moment.day].append(index)
    first_row: dict[tuple[object, ...], int] = {}
    for (lifter, _), indices in sessions.items():
        is_short = len(indices) < least_sets
        if is_short or len({sets[index].reps for index in indices}) < 3:
            continue
        content = (
            lifter,
            *(
                (s.lift, s.set_number, s.loads_kg, s.reps, s.rir_low, s.rir_high, s.rest_s)
                for s in (sets[index] for index in indices)
            ),
        )
        row = sets[indices[0]].row
        if first_row.setdefault(content, row) != row:
            yield indices[0], first_row[content]
