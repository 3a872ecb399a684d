"""How the belief about a lift has moved, session by session, for pictures and tables."""

from dataclasses import dataclass
from datetime import date

import numpy as np

from blockwright.engine.strength.belief import Z80, Interval
from blockwright.engine.strength.replay import Replayed


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthPoint:
    """One session: what was believed after it, and the 1RM each of its sets spoke for (kg)."""

    day: date
    one_rm_kg: Interval
    used_kg: tuple[float, ...]
    flagged_kg: tuple[float, ...]
    """Of sets left out as out of line."""


def strength_history(replayed: Replayed, index: int) -> tuple[StrengthPoint, ...]:
    """Sessions of series `index` from the first with evidence on, in time order."""
    columns, outcome = replayed.columns, replayed.outcome
    places = np.arange(columns.first[index], columns.first[index + 1])
    points: list[StrengthPoint] = []
    for session in range(int(columns.session[places[-1]]) + 1):
        here = places[columns.session[places] == session]
        mean, sd = outcome.ln_one_rm[here[-1]], outcome.ln_one_rm_sd[here[-1]]
        if not np.isfinite(mean):
            continue
        seen = np.exp(outcome.seen_ln_one_rm[here])
        points.append(
            StrengthPoint(
                day=date.fromordinal(int(columns.day[here[0]])),
                one_rm_kg=Interval(*np.exp([mean, mean - Z80 * sd, mean + Z80 * sd]).tolist()),
                used_kg=tuple(seen[outcome.used[here]].tolist()),
                flagged_kg=tuple(seen[outcome.flagged[here]].tolist()),
            )
        )
    return tuple(points)
