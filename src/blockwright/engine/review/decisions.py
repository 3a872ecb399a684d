"""What the coach decided about proposals, and whether it can be done."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, cast

from blockwright.engine.errors import Problem
from blockwright.engine.gym import MOST_LOAD_KG
from blockwright.engine.policy import Policy
from blockwright.engine.rack import SAME_LOAD_KG, rack_for
from blockwright.engine.training import Block, Catalogue, Entry, Lift, Week, effective_load_kg
from blockwright.engine.units import load_text
from .exposures import planned_entries
from .load_steps import is_one_change
from .proposals import KEY_OF, ChangeKey, Kind, Offered, To, number_of

PAIN_CODES = frozenset({"pain_no_progress", "pain_stop"})
"""Cautions of a proposal about a lift that hurts above the carry-on line."""

SCREENING = "screening"  # What a referral for the screening answers is about

THEN: Mapping[str, Literal["on", "end"]] = {"on": "on", "end": "end"}  # What may follow a deload

VerdictWord = Literal["accepted", "changed", "declined"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The coach's word on one proposal. `to` is what is done: the proposal's own `after`, or the
    coach's change; None for a declined one, a stopped lift, a referral."""

    offered: Offered
    verdict: VerdictWord
    to: To | None
    cleared_on: date | None = None
    words: str = ""


class Checker:
    """Finds every problem of a set of verdicts against a block."""

    def __init__(self, block: Block, catalogue: Catalogue, policy: Policy) -> None:
        self.block, self.catalogue, self.policy = block, catalogue, policy

    def problems(self, verdicts: Sequence[Verdict]) -> list[Problem]:
        """One problem for each verdict that cannot be done; empty when all can."""
        found = []
        for verdict in verdicts:
            if verdict.verdict == "declined":
                continue
            problem = self._problem(verdict)
            if problem is not None:
                says, mend = problem
                found.append(Problem(key=verdict.offered.id, says=says, mend=mend))
        return found

    def _problem(self, verdict: Verdict) -> tuple[str, str] | None:
        checks = {
            "load_kg": self._load_problem,
            "sets": self._sets_problem,
            "lift": self._lift_problem,
            "weeks": self._weeks_problem,
            "week_kind": self._week_problem,
        }
        key = verdict.to.key if verdict.to is not None else KEY_OF[verdict.offered.kind]
        return None if key is None else checks[key](verdict)

    def _week_problem(self, verdict: Verdict) -> tuple[str, str] | None:
        week = self._week(verdict.offered.week)
        if week is None or week.kind != "build":
            return f"week {verdict.offered.week} is no build week", "review the block anew"
        return None

    def _load_problem(self, verdict: Verdict) -> tuple[str, str] | None:
        offered, wanted = verdict.offered, number_of(verdict.to)
        place = self._place(offered)
        if place is None:
            return _gone(offered)
        # nan is not within the bounds either
        if wanted is None or not 0 <= wanted <= MOST_LOAD_KG:
            says = f"a load is a number of kilograms, 0 to {MOST_LOAD_KG:g}"
            return says, "write load_kg=62.5"
        own = verdict.to != offered.after  # what is offered is made: the log says more of the kit
        kit = self._kit_problem(place[0], wanted) if own else None
        problem = kit or self._pain_problem(offered, *place, wanted)
        return problem or (self._rise_problem(offered, *place, wanted) if own else None)

    def _pain_problem(
        self, offered: Offered, lift: Lift, entry: Entry, load_kg: float
    ) -> tuple[str, str] | None:
        """A lift that hurts makes no progress: a coach may keep its load or go down, not up."""
        hurts = any(caution.code in PAIN_CODES for caution in offered.cautions)
        sides = (number_of(offered.after), number_of(offered.before), entry.sets[0].load_kg)
        before = next((load for load in sides if load is not None), None)
        if not hurts or before is None:
            return None
        bodyweight = self.block.lifter.bodyweight_kg
        now, then = (effective_load_kg(lift, load, bodyweight) for load in (before, load_kg))
        if now is None or then is None or then <= now + SAME_LOAD_KG:
            return None
        return (
            f"{lift.name} hurts: no more than {load_text(before, self.block.lifter.units)} "
            "until it is quiet",
            "keep the load or go below it; once a professional has cleared it, write "
            "cleared_on=DATE to its referral and review anew",
        )

    def _kit_problem(self, lift: Lift, load_kg: float) -> tuple[str, str] | None:
        rack = rack_for(lift, self.block.lifter.gym, self.policy)
        if rack.exactly(load_kg) is not None:
            return None
        near = [s for s in (rack.at_most(load_kg), rack.at_least(load_kg)) if s is not None]
        unit = self.block.lifter.units
        choices = " or ".join(
            f"load_kg={load_text(s.load_kg, unit)}".replace(" ", "") for s in near
        )
        return (
            f"the gym cannot make {load_text(load_kg, unit)} for {lift.name}",
            f"nearest: {choices}" if near else "check the gym in the lifter file",
        )

    def _rise_problem(
        self, offered: Offered, lift: Lift, entry: Entry, load_kg: float
    ) -> tuple[str, str] | None:
        sides = (number_of(offered.before), entry.sets[0].load_kg, number_of(offered.after))
        before = next((load for load in sides if load is not None), None)
        if before is None:
            return None
        rack = rack_for(lift, self.block.lifter.gym, self.policy)
        bodyweight, kg = self.block.lifter.bodyweight_kg, (before, load_kg)
        now, then = (effective_load_kg(lift, each, bodyweight) for each in kg)
        if not now or not then or is_one_change(lift, rack, kg, bodyweight, self.policy):
            return None
        percent = 100 * (then / now - 1)
        return (
            f"{load_text(load_kg, self.block.lifter.units)} is {percent:.0f} % more than before",
            f"at most {100 * self.policy.number('load.most_up'):g} % at once",
        )

    def _sets_problem(self, verdict: Verdict) -> tuple[str, str] | None:
        offered, wanted = verdict.offered, number_of(verdict.to)
        before, most = number_of(offered.before), self.policy.whole("planning.sets_most")
        if offered.lift is not None and self._place(offered) is None:
            return _gone(offered)
        if offered.lift is None and before is not None:
            most = int(before)
        if wanted is None or wanted not in range(1, most + 1):
            said = None if verdict.to is None else verdict.to.value
            return f"{said!r} is no number of sets", f"write sets= a whole number from 1 to {most}"
        return None

    def _lift_problem(self, verdict: Verdict) -> tuple[str, str] | None:
        offered = verdict.offered
        week = self._week(offered.week)
        planned = planned_entries(week, self.catalogue) if week is not None else {}
        if offered.lift not in planned:
            return _gone(offered)
        if verdict.to is None:
            return None
        name = verdict.to.value
        other = self.catalogue.find(str(name))
        if other is None:
            return f'no lift is called "{name}"', "see `blockwright lifts`"
        lacking = [word for word in other.kit if word not in self.block.lifter.gym.kit]
        if lacking:
            return f"the gym lacks {', '.join(lacking)} for {other.name}", "name another lift"
        if other.name in planned:
            return f"{other.name} is in the week already", "name another lift"
        return None

    def _weeks_problem(self, verdict: Verdict) -> tuple[str, str] | None:
        now = len(self.block.builds)
        most = self.policy.whole("review.extend.most_weeks")
        if number_of(verdict.to) in range(now + 1, most + 1):
            return None
        said = None if verdict.to is None else verdict.to.value
        return f"{said!r} is no length for this block", f"write weeks= {now + 1} to {most}"

    def _week(self, number: int | None) -> Week | None:
        return next((week for week in self.block.weeks if week.week == number), None)

    def _place(self, offered: Offered) -> tuple[Lift, Entry] | None:
        week = self._week(offered.week)
        lift = self.catalogue.find(offered.lift or "")
        if week is None or lift is None:
            return None
        for session, entry in planned_entries(week, self.catalogue).get(lift.name, []):
            if session.session == offered.session or offered.kind == "swap_lift":
                return lift, entry
        return None


def _gone(offered: Offered) -> tuple[str, str]:
    where = f"week {offered.week}" + (f", session {offered.session}" if offered.session else "")
    return f"the block has no {offered.lift} in {where}", "review the block anew"


def keys_of(kind: Kind) -> tuple[str, ...]:
    """What `--change` may name for a proposal of this kind."""
    if kind == "refer":
        return ("cleared_on",)
    key = KEY_OF[kind]
    more = {"swap_lift": ("load_kg",), "light_week": ("then",), "deload_now": ("then",)}
    return () if key is None else (key, *more.get(kind, ()))


def side_of(mapping: Mapping[str, float | str | None] | None) -> To | None:
    """A `before` or `after` object as a noun."""
    if not mapping:
        return None
    then = mapping.get("then")
    key, value = next((k, v) for k, v in mapping.items() if k != "then")
    return To(cast("ChangeKey", key), value, then=None if then is None else THEN[str(then)])
