"""What the first set's result means for the next: the load, for every number of repetitions.

The answer is the one of a few loads around the planned one at which the next set, tired from this
one, lands best in its range by the load rule (`strength.landing`). A load above the planned one is
for a first set that filled its range; a set inside its range at the printed reserve never lowers
the load of the next, one short by little takes one step off, and one past the top of it adds a step
that the next set probably bears. Paper and phone ask the same function."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, Setting
from blockwright.engine.reasons import Reason
from blockwright.engine.strength import LiftBelief, chances_of, landing_cost, most_effective
from blockwright.engine.strength.filter import rested
from blockwright.engine.strength.landing import FAR_REPS
from blockwright.engine.strength.landing import POLICY as LANDING_POLICY
from blockwright.engine.strength.state import FilterState, Floats
from blockwright.engine.training import (
    Catalogue,
    Entry,
    Lift,
    Session,
    SetPlan,
    effective_load_kg,
    written_load_kg,
)
from blockwright.engine.units import Unit, load_text
from .sheet import AdviceRow, Move

MOST_REPS = 40  # Results from 0 to this many are told apart; more is treated as this many

COMPUTED = "computed from the strength estimate"

_SAME_KG = 1e-6
_ALIKE = 1e-4  # Costs this near are alike
_CODES = {
    "raise": "next_set_raise",
    "keep": "next_set_keep",
    "wait": "next_set_next_time",
    "lower": "next_set_lower",
}
_ASSISTED = _CODES | {"raise": "next_set_less_assistance", "lower": "next_set_more_assistance"}
_POLICY = (
    *LANDING_POLICY, "next_set.day_sd", "next_set.step_up", "next_set.steps_up",
    "next_set.step_down", "next_set.steps_down", "load.most_up", "finding.step",
)  # fmt: skip


def believing_the_day(belief: LiftBelief, policy: Policy) -> LiftBelief:
    """The belief as advice within a session reads results.

    No outliers: what a lifter counted in this set is no typing slip, and more repetitions never say
    less strength. And a day may differ from the usual by more than the record says: for the next
    set of today, what today shows counts for more than what last month showed."""
    law = replace(
        belief.law,
        robust=replace(belief.law.robust, on=False),
        day_sd=policy.number("next_set.day_sd"),
    )
    return replace(belief, law=law)


def rest_between_sets_s(entry: Entry, session: Session, catalogue: Catalogue) -> float:
    """Seconds from one set of the lift to its next: the rest, and of a pair the change, the
    other lift's set at the top of its range and the rest after it."""
    if entry.pair is None:
        return float(entry.rest_s)
    total = 0.0
    for other in session.entries:
        if other.pair != entry.pair:
            continue
        total += other.rest_s
        lift = catalogue.find(other.lift)
        if other.order != entry.order and lift is not None and other.sets:
            total += other.sets[0].reps_high * lift.seconds_per_rep
    return total


@dataclass(frozen=True)
class NextSet:
    """The question after a set of a lift: which load next?

    `done` is the set just finished as planned, with its load; `planned` the one to come. `belief`
    is from before the set. Loads are kg as written on the sheet."""

    belief: LiftBelief
    lift: Lift
    rack: Rack
    done: SetPlan
    planned: SetPlan
    rest_s: float
    on: date
    bodyweight_kg: float | None
    policy: Policy
    unit: Unit  # In which the rows speak
    rest_before_s: float | None = None
    """Rest before `done`, where it was not the lift's first set of the day; None: the usual."""
    printed_rir: float | None = None
    """The reserve the sheet asked of `done`, where another one was said; None: that of `done`."""
    may_raise: bool = True  # False: the letter holds the load
    later_reps: tuple[int, ...] = ()
    """Parts after the first of a rest-pause or drop set just finished. They only tire: the answer
    is by the first part, the one at the planned load and effort."""

    def load_after(self, reps: int) -> Setting:
        """The load for the next set after `reps` at the target effort."""
        return self._answers[min(reps, MOST_REPS)]

    def table(self) -> tuple[AdviceRow, ...]:
        """`load_after` of every result from 0 on, equal neighbours joined; lowest first."""
        return tuple(self._rows())

    @cached_property
    def _answers(self) -> tuple[Setting, ...]:
        """By repetitions. More of them never mean a lighter next set, fewer never a heavier one:
        where a very long set before a short rest would tire the lifter below the load it has
        just shown, the answer stays at that of the results nearer to the range."""
        middle = min(self.done.reps_low, MOST_REPS)
        found = [self._load_for(reps) for reps in range(MOST_REPS + 1)]
        for reps in range(middle + 1, MOST_REPS + 1):
            found[reps] = max(found[reps - 1], found[reps], key=self._moved_kg)
        for reps in range(middle - 1, -1, -1):
            found[reps] = min(found[reps + 1], found[reps], key=self._moved_kg)
        return tuple(found)

    def _moved_kg(self, setting: Setting) -> float:
        return self._effective(setting.load_kg)

    def _load_for(self, reps: int) -> Setting:
        """What this one result says, whatever its neighbours do."""
        filled = reps >= self.done.reps_high
        kept = self._choices.index(self._kept)
        end = len(self._choices) if self._short_by(reps) > FAR_REPS else kept + 2
        choices = range(0 if filled else kept, min(end, len(self._choices)))
        answer = self._choices[self._lands_best(choices, reps)]
        if reps >= self.done.reps_low and self._reserve_was_left:
            above = max(kept - 1, 0)
            least = self._choices[above] if self._is_passed(reps, above) else self._as_done
            answer = max(answer, least, key=self._moved_kg)
        return answer

    def _short_by(self, reps: int) -> float:
        """Repetitions missing, in the range or of the printed reserve."""
        kept_back = 0.0 if self.printed_rir is None else self.printed_rir - self.done.rir
        return self.done.reps_low - reps + max(kept_back, 0.0)

    def _is_passed(self, reps: int, above: int) -> bool:
        """Whether so many repetitions, at the planned load, are reason to add: past the top of the
        range where the next choice probably keeps the set in it, or, where that is no further than
        a try may go, far above it by more than its width, whatever so long a set tires."""
        over = reps - self.done.reps_high
        reaches = self._landings[above][1][min(reps, MOST_REPS)] >= 1 / 2
        most_kg = self._moved_kg(self._kept) * (1 + self.policy.number("finding.step")) + _SAME_KG
        is_near = self._moved_kg(self._choices[above]) <= most_kg
        wide = self.done.reps_high - self.done.reps_low + FAR_REPS
        return self._as_done == self._kept and (over > 0 if reaches else is_near and over > wide)

    def _lands_best(self, choices: range, reps: int) -> int:
        """Which choice lands best. Where all miss alike the easiest does, if they are too hard,
        the hardest, if they are too easy."""
        costs = {at: float(self._landings[at][0][reps]) for at in choices}
        alike = [at for at in choices if costs[at] <= min(costs.values()) + _ALIKE]
        too_hard = self._landings[alike[0]][1][reps] < 1 / 2
        return alike[-1] if too_hard else alike[0]

    @property
    def _reserve_was_left(self) -> bool:
        return self.printed_rir is None or self.done.rir >= self.printed_rir

    @cached_property
    def _as_done(self) -> Setting:
        """The planned load, or what was lifted where that was less."""
        done_kg = self.done.load_kg or 0.0
        if self._effective(done_kg) >= self._moved_kg(self._kept):
            return self._kept
        return self.rack.not_harder_than(done_kg) or self._kept

    # -------------------------------------------------------------------- what the set says

    @cached_property
    def _landings(self) -> tuple[tuple[Floats, Floats], ...]:
        """Of each choice, by the result of the set just done: the expected cost of the next set
        after the rest, and the chance of its range's bottom. (choices of (results,))"""
        belief = believing_the_day(self.belief, self.policy)
        states = rested(self._tired(belief), np.array(max(self.rest_s, 0.0)), belief.law)
        planned, done = self.planned, self.done
        # A range that reaches lower for what fatigue takes is no reason to add load.
        as_wide = planned.reps_high - (done.reps_high - done.reps_low)

        def landing(setting: Setting) -> tuple[Floats, Floats]:
            effective = self._effective(setting.load_kg)
            more = effective > self._moved_kg(self._kept) + _SAME_KG
            low = max(planned.reps_low, as_wide) if more else planned.reps_low

            def chance(reps: int) -> Floats:
                return chances_of(reps, effective, planned.rir, states, belief.law)

            return landing_cost(chance, low, planned.reps_high, self.policy), chance(
                planned.reps_low
            )

        return tuple(landing(setting) for setting in self._choices)

    def _tired(self, belief: LiftBelief) -> FilterState:
        """The states with each result of the set folded in. A longer set than the policy takes as
        evidence says that at least so many repetitions were there."""
        most = self.policy.whole("strength.evidence_max_reps")
        return belief.states_after(
            self._effective(self.done.load_kg or 0.0),
            [min(reps, most) for reps in range(MOST_REPS + 1)],
            self.done.rir,
            on=self.on,
            rest_s=self.rest_before_s,
            later_reps=self.later_reps,
            part_rest_s=self.policy.number("fatigue.part_rest_s"),
        )

    # ------------------------------------------------------------------- loads to choose from

    @cached_property
    def _kept(self) -> Setting:
        """The planned load, or the nearest the kit makes that asks no more."""
        planned_kg = self.planned.load_kg or 0.0
        return self.rack.not_harder_than(planned_kg) or self.rack.easiest

    @cached_property
    def _choices(self) -> tuple[Setting, ...]:
        """The loads that may be advised, the hardest first; the planned one is among them."""
        up = reversed(self._steps("up", 1)) if self.may_raise else ()
        return (*up, self._kept, *self._steps("down", -1))

    def _steps(self, way: str, sign: int) -> list[Setting]:
        """The policy's steps up or down from the planned load, nearest first."""
        kept_kg = self._effective(self._kept.load_kg)
        most_kg = most_effective(kept_kg, self.policy)
        step_kg = sign * kept_kg * self.policy.number(f"next_set.step_{way}")
        found: list[Setting] = []
        while len(found) < self.policy.whole(f"next_set.steps_{way}"):
            beyond = self._step_from(found[-1] if found else self._kept, step_kg)
            moved = 0.0 if beyond is None else self._effective(beyond.load_kg)
            # Where the kit's smallest step is larger than the limit, one such step is allowed.
            if beyond is None or moved <= 0 or (found and moved > most_kg):
                break
            found.append(beyond)
        return found

    def _step_from(self, setting: Setting, step_kg: float) -> Setting | None:
        """The first setting at least `step_kg` (effective) away, or the kit's next one where
        nothing lies so far; None at the end of the kit."""
        rack, from_kg = self.rack, setting.load_kg
        away_kg = self._effective(from_kg) + step_kg
        target = self._known(written_load_kg(self.lift, away_kg, self.bodyweight_kg))
        if step_kg < 0:
            return rack.not_harder_than(target) or rack.next_easier(from_kg)
        beyond = rack.at_most(target) if rack.more_is_easier else rack.at_least(target)
        return beyond or rack.next_harder(from_kg)

    def _effective(self, written_kg: float) -> float:
        return self._known(effective_load_kg(self.lift, written_kg, self.bodyweight_kg))

    def _known(self, load_kg: float | None) -> float:
        if load_kg is None:
            raise ValueError(f"{self.lift.name} needs a bodyweight")
        return load_kg

    # ---------------------------------------------------------------------------------- rows

    def _rows(self) -> Iterator[AdviceRow]:
        start = 0
        for reps in range(1, MOST_REPS + 1):
            if self._said(reps) != self._said(start):
                yield self._row(start, reps - 1)
                start = reps
        yield self._row(start, None)

    def _said(self, reps: int) -> tuple[Setting, bool]:
        """The load after so many, and whether it is kept for today only."""
        setting = self.load_after(reps)
        return setting, setting == self._kept and reps >= self._waits_from

    @cached_property
    def _waits_from(self) -> float:
        """The least result that keeps the load for today only: past the top of a range that the
        kit's step is so wide for that the next, tired set gets no more, where a fresh one with the
        next load probably reaches the bottom."""
        past, kept = self.done.reps_high + 1, self._choices.index(self._kept)
        if not kept or self.load_after(past + FAR_REPS) != self._kept:
            return np.inf
        belief = believing_the_day(self.belief, self.policy)
        states = rested(self._tired(belief), np.array(np.inf), belief.law)
        harder, low, rir = self._choices[kept - 1], self.done.reps_low, self.done.rir
        reaches = chances_of(low, self._moved_kg(harder), rir, states, belief.law) >= 1 / 2
        return next((n for n in range(past, MOST_REPS + 1) if reaches[n]), np.inf)

    def _row(self, reps_from: int, reps_to: int | None) -> AdviceRow:
        setting, waits = self._said(reps_from)
        change = self._effective(setting.load_kg) - self._effective(self._kept.load_kg)
        keep: Move = "wait" if waits else "keep"
        move: Move = keep if abs(change) < _SAME_KG else "raise" if change > 0 else "lower"
        change_kg = abs(setting.load_kg - self._kept.load_kg)
        load = load_text(setting.load_kg, self.unit) if setting.load_kg else setting.says
        return AdviceRow(
            reps_from=reps_from,
            reps_to=reps_to,
            setting=setting,
            move=move,
            reason=Reason(
                code=(_ASSISTED if self.rack.more_is_easier else _CODES)[move],
                facts={
                    "reps": _span(reps_from, reps_to),
                    "load": load,
                    "to": f" ({load})" if self._kept.load_kg else "",
                    "load_kg": setting.load_kg,
                    "change": load_text(change_kg, self.unit),
                    "change_kg": change_kg,
                },
                policy=_POLICY,
                source=COMPUTED,
            ),
        )


def _span(reps_from: int, reps_to: int | None) -> str:
    """ "17 or more", "12 to 16", "11 or fewer", "12"."""
    if reps_to is None:
        return f"{reps_from} or more" if reps_from else "any number"
    if reps_from == 0:
        return f"{reps_to} or fewer" if reps_to else "0"
    return f"{reps_from} to {reps_to}" if reps_to > reps_from else str(reps_from)
