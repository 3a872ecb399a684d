"""Where a lifter stands, from what they logged: what hurts, what was written, what the watch says.

What a coach with many lifters is told at a glance. Nothing here depends on today's date.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.case import CoachCase
from blockwright.engine.change import Watches, watch_lifter
from blockwright.engine.policy import Policy
from blockwright.engine.review.evidence import watches_of
from blockwright.engine.review.safety import (
    PainState,
    pain_reports,
    pain_state,
)
from blockwright.engine.signs import Warning, latest_of_each, uncleared_signs
from blockwright.engine.training import Catalogue, CheckIn, SetDone


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What the sets and check-ins of the last weeks say."""

    trained: tuple[date, ...]
    """Days with sets, in order."""
    pains: tuple[PainState, ...]
    """Whatever hurt above the carry-on line when it was last spoken of, however long ago."""
    signs: tuple[Warning, ...]
    """Warning signs written in notes and not cleared since, the latest of each kind, in order."""
    disputes: tuple[date, ...] = ()
    """Days with a fact that was corrected in two ways, in order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WatchSeen:
    """The watch as of the last set."""

    all_lifts: bool
    """Whether the pooled chart stands above its limit."""
    lifts: tuple[str, ...]
    """Lifts whose own chart does."""
    sounded_on: date | None
    """The last day on which one of these sounded; None while none stands above its limit."""


def standing_of(
    sets: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    catalogue: Catalogue,
    policy: Policy,
    cleared: Mapping[str, date],
    signs: Sequence[Warning] = (),
) -> Standing:
    """Reads one lifter's facts. `cleared`: by what was referred, the day a professional cleared
    it (`case.cleared_by`). `signs`: what was found in words, older ones too."""
    work = [done for done in sets if done.method != "warmup"]
    of_lifts = [(done.lift, done.moment.day, done.pain) for done in work if done.pain is not None]
    reports = pain_reports(of_lifts, checkins, catalogue, date.max)
    states = (
        pain_state(about, [r for r in found if r.day > cleared.get(about, date.min)], policy)
        for about, found in reports.items()
    )
    return Standing(
        trained=tuple(sorted({done.moment.day for done in work})),
        pains=tuple(state for state in states if state is not None),
        signs=latest_of_each(uncleared_signs(signs, cleared, date.min, date.max)),
    )


def watch_seen(case: CoachCase) -> WatchSeen:
    """The charts after the lifter's last set, begun anew where the review begins them anew."""
    if not case.sets:
        return WatchSeen(all_lifts=False, lifts=(), sounded_on=None)
    last = max(done.moment.day for done in case.sets)
    watches: Watches = (
        watch_lifter(case.capacities, case.policy, through=last)
        if case.block is None
        else watches_of(case.block, case.capacities, case.policy, last)
    )
    standing = {lift: watch for lift, watch in watches.lifts.items() if watch.alarm}
    charts = [*standing.values(), *([watches.pooled] if watches.pooled.alarm else [])]
    return WatchSeen(
        all_lifts=watches.pooled.alarm,
        lifts=tuple(sorted(standing)),
        sounded_on=max((watch.alarms[-1] for watch in charts if watch.alarms), default=None),
    )
