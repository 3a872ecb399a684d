"""The frame of a week: which basic pattern is trained on which visit, and which of them heavy.

A small exact model, six patterns by the visits, with one objective of separated weights: a missing
pattern outweighs a missing second exposure, that the log's own days, those what lies close
together. Costs between neighbours alone give full-body weeks on Monday, Wednesday and Friday and
split ones on Monday, Tuesday, Thursday and Friday; a coach's own template is a frame that is
given."""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from .given_frame import GivenFrame, logged_frame
from .hard_rules import MANY_VISITS
from .linear import Linear, solve
from .patterns import BASICS, LEAD_BASIC, PULL, PUSH, RELATED, SECOND_HIP
from .problem import Problem

_SOLVE_S = 0.25  # Deterministic seconds; it is proven the best long before

_WHOLE_BODY_VISITS = 3
_SHORT_MINUTES = 40  # A shorter visit has one heavy lift at most
_TWO_MAINS = 35  # A shorter visit has two main lifts
_FIVE_MAINS = 80  # One of two visits as long as this has five
_FEW_MINUTES = 45  # One or two visits no longer than this have none
_HEAVY_BASICS = ("knee", "hip", "press")
TWICE_MINUTES = 200  # From four visits and so many minutes a week on, the basics are trained twice
FEW_WEEK_MINUTES = 150
"""A shorter week has no time for an overhead press, nor for a lift of every small muscle."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What each visit holds; `heavy` are the (visit's slot, pattern) in the low zone."""

    visits: tuple[int, ...]
    roles: Mapping[int, tuple[str, ...]]  # Slot to its basic patterns
    heavy: frozenset[tuple[int, str]]
    owed: Mapping[str, int]
    """How often a coach's rules, a lead, the log or a given frame ask for a pattern; what `roles`
    has beyond gives way to what a lead would else lack."""


def make_frame(problem: Problem, visits: tuple[int, ...], given: GivenFrame | None = None) -> Frame:
    """The best frame for these visits."""
    return _Model(problem, visits, given or logged_frame(problem)).solved()


class _Model:
    def __init__(self, problem: Problem, visits: tuple[int, ...], given: GivenFrame | None) -> None:
        self.problem, self.visits, self.given = problem, visits, given
        self.linear = Linear()
        self.minutes = sum(problem.slots[s].minutes for s in visits)
        self.basics = [b for b in BASICS if any(o.basic == b for o in problem.options)]
        self.low = {
            b for b in self.basics if any(o.basic == b and o.heavy for o in problem.options)
        }
        # who does another lift of the pattern, and not heavy, is given none for the sake of it
        done = [o for o in problem.options if o.lift.name in problem.log.lifts]
        said = [o for o in problem.options if o.is_main and o.lift.name in problem.known]
        said = done if problem.log else said
        self.low -= {o.basic for o in said} - {o.basic for o in said if o.heavy}
        self.again = {o.basic for o in done} - {o.basic for o in done if o.lift.axial >= 2}
        borne = {o.basic: o.lift.name for o in problem.options if problem.is_sore(o)}
        free = {o.basic for o in problem.options if o.lift.name not in borne.values()}
        logged = problem.log.lifts
        often = {x.basic for name, x in logged.items() if x.visits > 1 and name in borne.values()}
        self.once = set(borne) - free - often
        """What is borne in one lift, though it loads what hurts: no oftener than it is done."""
        upper = [o for o in problem.options if o.basic in (*PUSH, *PULL)]
        self.liked = {o.basic for o in upper if o.lift.name in problem.liked}
        if given is None and self._is_short():
            self.low = set()
        short = all(problem.slots[s].minutes < _FEW_MINUTES for s in visits)
        self.small_lead = short and any(m not in LEAD_BASIC for m in problem.leads)
        """Whether visits are so short that a lead's small lifts need the time of a main lift."""
        self.on = {(s, b): self.linear.var(0, 1) for s in visits for b in self.basics}
        self.hard = {
            (s, b): self.linear.var(0, 1 if b in self.low else 0)
            for s in visits
            for b in self.basics
        }

    def _price(self, name: str) -> int:
        return self.problem.limits.count(f"frame.{name}")

    def _slack(self, most: int, name: str) -> int:
        return self.linear.var(0, most, -self._price(name))

    def _is_short(self) -> bool:
        """Whether long rests would leave no time for half of the body."""
        minutes = [self.problem.slots[slot].minutes for slot in self.visits]
        return len(minutes) <= 2 and max(minutes) <= _FEW_MINUTES

    def solved(self) -> Frame:
        if not self.basics:
            return Frame(self.visits, dict.fromkeys(self.visits, ()), frozenset(), {})
        self._sessions()
        self._exposures()
        self._whole_body()
        self._pins()
        if self.given is not None:
            self._given(self.given)
        self._balance(PULL, PUSH)
        self._balance(("hip",), ("knee",))
        self._neighbours()
        values = solve(self.linear, deterministic_s=_SOLVE_S)
        if values is None:
            raise RuntimeError("a frame always exists: every pattern may stay out")
        roles = {s: tuple(b for b in self.basics if values[self.on[s, b]]) for s in self.visits}
        return Frame(
            self.visits,
            roles,
            frozenset(key for key, var in self.hard.items() if values[var]),
            {b: self._owed(b) for b in self.basics},
        )

    # ------------------------------------------------------------------------- one session

    def most_mains(self, slot: int) -> int:
        """Main lifts a visit has time for."""
        minutes = self.problem.slots[slot].minutes
        three, four = (75, math.inf) if len(self.visits) > 2 else (45, _FIVE_MAINS)
        steps = ((25, 1), (_TWO_MAINS, 2), (three, 3), (four, 4))
        if self.small_lead:
            minutes = min(minutes, _TWO_MAINS - 1)
        most = next((count for end, count in steps if minutes < end), 5)
        if len(self.visits) == 1:
            most = min(6, max(most, minutes // 12))
        logged = len(self._given_roles(slot))
        return min(max(most, min(logged, 4)), self.problem.most_lifts)

    def _sessions(self) -> None:
        linear = self.linear
        counts = []
        for slot in self.visits:
            mains = [(self.on[slot, b], 1) for b in self.basics]
            linear.row(mains, low=int(self.once < {*self.basics}), high=self.most_mains(slot))
            heavy = [(self.hard[slot, b], 1) for b in self.basics]
            linear.row(heavy, high=1 if self.problem.slots[slot].minutes < _SHORT_MINUTES else 2)
            for basic in self.basics:
                linear.row([(self.on[slot, basic], 1), (self.hard[slot, basic], -1)], low=0)
            if {"knee", "hip"} <= set(self.basics) and not self._both_heavy(slot):
                linear.row([(self.hard[slot, "knee"], 1), (self.hard[slot, "hip"], 1)], high=1)
            counts.append(mains)
        if self.small_lead and len(counts) >= MANY_VISITS:  # a visit with one main lift is its own
            most = sum(self.most_mains(slot) for slot in self.visits) - 1
            linear.row([term for mains in counts for term in mains], high=most)
        uneven = self._price("uneven")
        top, bottom = linear.var(0, 6, -uneven), linear.var(0, 6, uneven)
        for mains in counts:
            linear.row([*mains, (top, -1)], high=0)
            linear.row([*mains, (bottom, -1)], low=0)

    def _is_fixed(self) -> bool:
        return self.given is not None and self.given.fixed

    def _both_heavy(self, slot: int) -> bool:
        """Whether the log, or the coach's frame, has a heavy squat and a heavy hinge here."""
        day = self.problem.slots[slot].day
        given = set() if self.given is None else self.given.heavy
        return self._is_fixed() or {(day, None, "knee"), (day, None, "hip")} <= given

    # ---------------------------------------------------------------------------- the week

    def _missing(
        self, basics: Collection[str], count: int, name: str, slots: Sequence[int] | None = None
    ) -> None:
        """A price for each of so many exposures that any of the visits lacks."""
        slots = self.visits if slots is None else slots
        terms = [(self.on[s, b], 1) for s in slots for b in basics if b in self.basics]
        if terms:
            missing = self._slack(count, name)
            self.linear.row([*terms, (missing, 1)], low=count)

    def _exposures(self) -> None:
        problem, visits = self.problem, self.visits
        for basic in self.basics:
            if basic in self.once:
                self.linear.row([(self.on[s, basic], 1) for s in visits], high=1)
        long = all(problem.slots[s].minutes >= 45 for s in visits)
        held = {LEAD_BASIC[m] for m in problem.holds if m in LEAD_BASIC}
        for basic in self.basics:
            if basic != "overhead" or (len(visits) > 2 and self.minutes >= FEW_WEEK_MINUTES):
                self._missing((basic,), 1, "missing")
            elif self.given is None:  # one who trains already says whether there is time for it
                self._missing((basic,), 1, "twice" if len(visits) < 3 else "short_overhead")
            if len(visits) > 1 and basic in problem.lead_basics:
                self._missing((basic,), 2, "lead_twice")
                self._apart(basic)
            if basic not in held:
                self._second(basic)
            if basic not in held - problem.lead_basics:  # what is held needs nothing heavy
                self._heavies(basic)
        if len(visits) > 1:
            for side in (PUSH, PULL):
                self._on_two_days(side)
        if len(visits) == 2 and long:
            for basics in (("knee",), ("hip",), PUSH, PULL):
                for slot in visits if self.given is None or held.isdisjoint(basics) else ():
                    self._missing(basics, 1, "twice", [slot])

    def _apart(self, basic: str) -> None:
        """Two exposures of a lead's pattern lie far enough apart, where two visits do."""
        hours = self.problem.limits.hours_between
        far = [p for p in combinations(self.visits, 2) if self.problem.gap_h(*p) >= hours]
        close = self._slack(1, "lead_close")
        both = [self.linear.var(0, 1) for _ in far]
        for pair, (one, other) in zip(both, far, strict=True):
            self.linear.row([(self.on[one, basic], 1), (pair, -1)], low=0)
            self.linear.row([(self.on[other, basic], 1), (pair, -1)], low=0)
        self.linear.row([*((pair, 1) for pair in both), (close, 1)], low=min(1, len(far)))

    def _owed(self, basic: str) -> int:
        """Exposures a week that are asked for; a coach's own frame asks for all it has."""
        visits = len(self.visits)
        if basic in self.once:
            return 1
        if self._is_fixed() or visits == 2:
            return visits
        if basic in self.problem.lead_basics:
            return min(2, visits)
        # of the four trained twice a leg curl may be the second hip, a pulldown the second row
        curls = any(o.lift.pattern in SECOND_HIP for o in self.problem.options)
        twice = ("knee", "press") if curls else ("knee", "press", "hip")
        if basic in twice and visits >= MANY_VISITS and self.minutes >= TWICE_MINUTES:
            return 2
        return int(basic != "overhead" or self.minutes >= FEW_WEEK_MINUTES)

    def _second(self, basic: str) -> None:
        visits = len(self.visits)
        if self.given is None and visits > 2 and self._owed(basic) > 1:
            self._missing((basic,), 2, "twice")
        leads = basic in self.problem.lead_basics
        if visits >= 2 and (leads or basic != "overhead"):
            self._missing((basic,), 2, f"no_second.{basic}")
        if visits >= MANY_VISITS and leads and basic in self.liked:  # twice, beside another
            self._missing((basic,), 3, "third")
        terms = [(self.on[s, basic], 1) for s in self.visits]
        # nobody owes a second overhead press: presses train the front of the shoulder
        most, name = (1, "second_overhead") if basic == "overhead" and not leads else (2, "third")
        price = self._price(name)
        more = self.linear.var(0, visits, -price // 3 if leads else -price)
        self.linear.row([*terms, (more, -1)], high=most)

    def _heavies(self, basic: str) -> None:
        if basic not in self.low:
            return
        terms = [(self.hard[s, basic], 1) for s in self.visits]
        often = basic in _HEAVY_BASICS
        if self.given is not None and any(basic in roles for roles in self.given.roles.values()):
            # the log says how it is trained, be it on a day that is no visit
            often = self._is_given_heavy(basic)
        missing = self._slack(1, "no_heavy" if often else "no_second_heavy")
        self.linear.row([*terms, (missing, 1)], low=1)
        if not self._is_given_heavy(basic):
            self.linear.row(terms, high=1)

    def _is_given_heavy(self, basic: str) -> bool:
        return self.given is not None and any(b == basic for *_, b in self.given.heavy)

    def _on_two_days(self, basics: Collection[str]) -> None:
        used = []
        for slot in self.visits:
            terms = [(self.on[slot, b], 1) for b in basics if b in self.basics]
            if not terms:
                return
            any_here = self.linear.var(0, 1)
            self.linear.row([*terms, (any_here, -1)], low=0)
            used.append((any_here, 1))
        missing = self._slack(2, "twice")
        self.linear.row([*used, (missing, 1)], low=2)

    def _balance(self, over: Collection[str], under: Collection[str]) -> None:
        """Three exposures of a side for four of its opposite, also where the log has fewer."""
        muscles = [m for m, basic in LEAD_BASIC.items() if basic in (*over, *under)]
        if self._is_fixed() or any(self.problem.lifter.emphasis_of(m) != "normal" for m in muscles):
            return
        logged = self.problem.log.lifts
        basic_of = {o.lift.name: o.basic for o in self.problem.options if o.lift.name in logged}

        def sets(side: Collection[str]) -> int:
            found = [logged[name] for name, basic in basic_of.items() if basic in side]
            return sum(x.sets * len(x.days) for x in found)

        terms = [(self.on[s, b], 4) for s in self.visits for b in over if b in self.basics]
        need = 3 * sets(under) - 4 * sets(over) if logged else 0
        if logged:  # what its sets lack, in exposures of four
            days = sum(len(logged[n].days) for n, basic in basic_of.items() if basic in over)
            need = 4 * (days + -(-max(need, 0) // 16)) if need > 0 else 0
        else:
            terms += [(self.on[s, b], -3) for s in self.visits for b in under if b in self.basics]
        missing = self._slack(max(4 * len(self.visits), need), "unbalanced")
        self.linear.row([*terms, (missing, 1)], low=need)

    def _whole_body(self) -> None:
        """On few visits each holds legs and upper body."""
        for basics in (("knee", "hip"), (*PUSH, *PULL)):
            for slot in self.visits if len(self.visits) <= _WHOLE_BODY_VISITS else ():
                self._missing(basics, 1, "neighbour", [slot])

    def _pins(self) -> None:
        for pin in self.problem.pins:
            options = [o for o in self.problem.options if o.lift.name == pin.lift]
            if not options or options[0].basic is None:
                continue
            basic = options[0].basic
            for group in pin.wanted:
                here = [s for s in group if s in self.visits]
                if not here:
                    continue
                # more pins than a visit has time for are the coach's to settle, not the frame's
                missing = self.linear.var(0, 1, -10 * self._price("missing"))
                self.linear.row([*((self.on[s, basic], 1) for s in here), (missing, 1)], low=1)
                if all(o.heavy for o in options) and len(here) == 1:
                    light = self._slack(1, "no_heavy")
                    self.linear.row([(self.hard[here[0], basic], 1), (light, 1)], low=1)

    # ----------------------------------------------------------------------- given, close

    def _given_roles(self, slot: int) -> frozenset[str]:
        if self.given is None:
            return frozenset()
        where = self.problem.slots[slot]
        roles = self.given.roles
        exact = roles.get((where.day, where.start_time))
        return exact if exact is not None else roles.get((where.day, None), frozenset())

    def _given(self, given: GivenFrame) -> None:
        factor = 100 if given.fixed else 1
        for slot in self.visits:
            where = self.problem.slots[slot]
            roles = self._given_roles(slot)
            for basic in self.basics:
                if basic in roles:
                    missing = self.linear.var(0, 1, -self._price("log_missing") * factor)
                    self.linear.row([(self.on[slot, basic], 1), (missing, 1)], low=1)
                elif roles or given.fixed:
                    added = self._price("log_added") - self._price("again") * (basic in self.again)
                    self.linear.points[self.on[slot, basic]] -= added * factor
                keys = {(where.day, where.start_time, basic), (where.day, None, basic)}
                # where a visit has too many heavy lifts, the squat stays heavy before the chin-up
                points = self._price("log_added")
                points = points if keys & given.heavy else -points // 3
                self.linear.points[self.hard[slot, basic]] += factor * points

    def _neighbours(self) -> None:
        for one, other in combinations(self.visits, 2):
            if not self.problem.neighbours(one, other):
                if self.problem.gap_h(one, other) < 60:
                    self._pairs(one, other, "close")
                continue
            same_day = self.problem.slots[one].day == self.problem.slots[other].day
            self._pairs(one, other, "same_day" if same_day else "neighbour", "related")

    def _pairs(self, one: int, other: int, same: str, related: str = "") -> None:
        for basic in self.basics:
            self._together(self.on[one, basic], self.on[other, basic], same)
            partner = RELATED[basic]
            if related and partner in self.basics:
                self._together(self.on[one, basic], self.on[other, partner], related)

    def _together(self, one: int, other: int, name: str) -> None:
        both = self._slack(1, name)
        self.linear.row([(one, 1), (other, 1), (both, -1)], high=1)
