"""What every deload keeps to: shorter and with fewer sets than week one."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import cached_property
from statistics import median

from blockwright.engine.policy import Policy
from blockwright.engine.training import Entry, Lifter, Session, Zone
from .limits import PlanningLimits
from .order import order_key
from .problem import Option
from .time_model import minutes_of

_MUCH_AXIAL = 3


@dataclass(frozen=True, kw_only=True)
class DeloadRules:
    """What a deload needs to know of lifter, policy and the block's first and last build week."""

    lifter: Lifter
    policy: Policy
    options: Mapping[tuple[str, Zone], Option]  # By lift and zone
    first: Sequence[Session]  # Week one's sessions
    last: Sequence[Session]

    def option_of(self, entry: Entry) -> Option:
        return self.options[entry.lift, entry.zone]

    @cached_property
    def most_minutes(self) -> float:
        """The longest a session may take."""
        minutes = [s.minutes_planned for s in self.first if s.entries] or [math.inf]
        return min(self.policy.number("deload.longer") * median(minutes), max(minutes))

    @cached_property
    def lifts(self) -> int:
        """Lifts a session may have."""
        most = PlanningLimits(self.policy).lifts_session(self.lifter)
        return min(max((len(s.entries) for s in self.first if s.entries), default=most), most)

    @cached_property
    def most_sets(self) -> int:
        """Sets the week may have."""
        first, last = (sum(len(e.sets) for s in week for e in s.entries)
                       for week in (self.first, self.last))  # fmt: skip
        of_first = self.policy.number("deload.share_first") * first
        of_last = self.policy.number("deload.share_last") * last
        return math.floor(min(of_first, of_last) + 1e-9)

    @cached_property
    def least_sets(self) -> int:
        """Sets the week should have."""
        last = sum(len(e.sets) for s in self.last for e in s.entries)
        return math.ceil(self.policy.number("deload.share_last_least") * last - 1e-9)

    def order(self, entry: Entry) -> tuple[object, ...]:
        """What sorts a session."""
        return order_key(self.option_of(entry), self.lifter.leads)

    def fits(self, entries: Sequence[Entry], home: Session) -> bool:
        """Whether a session may hold these: time, lifts, one much loaded spine."""
        lifts = [self.option_of(e).lift for e in entries]
        families = [lift.family for lift in lifts]
        return (
            len(entries) <= self.lifts
            and len(set(families)) == len(families)
            and sum(lift.axial >= _MUCH_AXIAL for lift in lifts) <= 1
            and minutes_of(self.seconds(entries))
            <= min(self.most_minutes, home.minutes_available) + 1e-9
        )

    def seconds(self, entries: Sequence[Entry]) -> int:
        """Set-up, warm-ups and rests as usual: an easy week is no reason to hurry."""
        seconds = self.policy.whole("time.session_start")
        for entry in entries:
            option = self.option_of(entry)
            work_s = round(entry.sets[0].reps_high * option.lift.seconds_per_rep)
            seconds += replace(option.time, work_s=work_s).seconds(len(entry.sets))
        return seconds


def straight(entry: Entry, rules: DeloadRules) -> Entry:
    """The entry on its own: no pair, no special set, its full rest."""
    return replace(entry, method="straight", pair=None, rest_s=rules.option_of(entry).time.rest_s)


def session_of(home: Session, entries: Sequence[Entry], number: int, rules: DeloadRules) -> Session:
    """The session a week after `home` with these entries in order."""
    ranked = sorted(entries, key=rules.order)
    return Session(
        session=number,
        day=home.day + timedelta(days=7),
        start_time=home.start_time,
        minutes_available=home.minutes_available,
        minutes_planned=minutes_of(rules.seconds(ranked)),
        entries=tuple(replace(e, order=i) for i, e in enumerate(ranked, start=1)),
    )
