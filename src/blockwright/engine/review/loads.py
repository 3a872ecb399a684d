"""Next week's load of one entry: a step up, the same, or lower, with the probability that it fits.

The usual rule (`belief`): the largest load the kit makes, within the small steps of the table
and ten per cent of effective load, at which the first set reaches the bottom of its range at
the target effort with `review.load.raise_probability` and the last set with
`load.last_probability` (the planner's own line). `two_for_two` and `double_progression` are
kept beside it by name.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from blockwright.engine.fatigue import FatigueState
from blockwright.engine.policy import Policy
from blockwright.engine.rack import SAME_LOAD_KG, Rack
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.exposures import Exposure
from blockwright.engine.review.proposals import load_facts, percent
from blockwright.engine.strength import LiftBelief
from blockwright.engine.training import Entry, Lift, Lifter, effective_load_kg
from blockwright.engine.units import kg_from, load_text

LoadKind = Literal["raise_load", "repeat_load", "lower_load"]
UPPER = ("chest", "lats", "upper_back", "front_delts", "side_delts", "rear_delts", "biceps",
         "triceps", "forearms", "abs")  # fmt: skip
MOST_STEPS = 400
"""A bound on walking a rack; far more steps than any lie within ten per cent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadQuestion:
    """One entry of the next week."""

    lifter: Lifter
    lift: Lift
    entry: Entry
    day: date
    week: int
    before_kg: float
    """What the lifter used last, as written on the sheet."""
    again_kg: float
    """The same load as this kit makes it: equal, or the nearest that is not harder."""
    done: tuple[Exposure, ...]
    """Comparable exposures, oldest first."""
    belief: LiftBelief
    rack: Rack
    bodyweight_kg: float | None
    policy: Policy

    def effective(self, load_kg: float) -> float:
        """Effective kg of a load on the sheet; 0 where nothing would be lifted."""
        found = effective_load_kg(self.lift, load_kg, self.bodyweight_kg)
        return max(found or 0.0, 0.0)

    def p_first(self, load_kg: float, reps: int | None = None) -> float:
        """P(the first set reaches `reps`, by default the bottom of its range, at its RIR)."""
        return self._p(load_kg, 0.0, 0, reps)

    def p_last(self, load_kg: float) -> float:
        """P(the last set, tired by the ones before, reaches the bottom of its range)."""
        first = self.entry.sets[0]
        tired = FatigueState()
        for _ in self.entry.sets[1:]:
            tired = tired.after_set(first.reps_low, first.reps_low + first.rir, self.policy)
            tired = tired.rested(self.entry.rest_s, self.policy)
        return self._p(load_kg, tired.total, -1, None)

    def _p(self, load_kg: float, fatigue: float, which: int, reps: int | None) -> float:
        effective = self.effective(load_kg)
        if effective <= 0:
            return 1.0
        asked = self.entry.sets[which]
        forecast = self.belief.forecast(effective, asked.rir, on=self.day, fatigue=fatigue)
        return forecast.p_at_least(asked.reps_low if reps is None else reps)


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherLoad:
    """A load that lost."""

    kind: LoadKind
    load_kg: float
    why: Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadChoice:
    """What to do, how likely the first set then fits, why, and what lost."""

    kind: LoadKind
    load_kg: float
    p_fits: float
    reasons: tuple[Reason, ...]
    runner_up: OtherLoad | None


def chosen_load(
    question: LoadQuestion, held_back: Sequence[Reason], *, too_hard: bool
) -> LoadChoice:
    """The choice under the policy's rule.

    `held_back` reasons forbid a raise; `too_hard` says that sets came closer to failure than
    asked twice in a row, so the load comes down.
    """
    if too_hard:
        return _eased(question, held_back)
    rule = question.policy.text("review.load.rule")
    if held_back:
        return _held(question, held_back)
    if rule == "two_for_two":
        return _two_for_two(question)
    if rule == "double_progression":
        return _double_progression(question)
    return _by_belief(question)


def harder_steps(question: LoadQuestion) -> Iterator[float]:
    """Loads of the kit above the present one, rising, within the limit of effective load and
    the table of steps; one step of the kit passes the table, never the limit."""
    limit = most_effective(question.effective(question.before_kg), question.policy)
    allowed_kg = question.effective(question.before_kg) + step_limit_kg(
        question.lift, question.lifter, question.policy
    )
    load = question.before_kg
    for number in range(MOST_STEPS):
        setting = question.rack.next_harder(load)
        if setting is None:
            return
        load = setting.load_kg
        effective = question.effective(load)
        if effective > limit or (number and effective > allowed_kg * (1 + 1e-9)):
            return
        yield load


def most_effective(effective_kg: float, policy: Policy) -> float:
    """The largest effective load one change may lead to."""
    return effective_kg * (1 + policy.number("load.most_up")) * (1 + 1e-9)


def step_limit_kg(lift: Lift, lifter: Lifter, policy: Policy) -> float:
    """The table's largest step, in kg: by experience, body area and the rack's unit."""
    who = "novice" if lifter.experience == "novice" else "trained"
    area = "upper" if any(muscle in UPPER for muscle in lift.direct) else "lower"
    unit = lifter.gym.unit
    return kg_from(policy.number(f"review.load.step.{who}_{area}_{unit}"), unit)


def _by_belief(question: LoadQuestion) -> LoadChoice:
    best: float | None = None
    too_far: float | None = None
    for load in harder_steps(question):
        if _supported(question, load):
            best = load
        else:
            too_far = load
            break
    if best is not None:
        return _raised(question, best, too_far)
    if too_far is None and (big := _big_step(question)) is not None:
        return big
    if question.p_first(question.before_kg) < _line(question, "lower"):
        return _lowered(question, ())
    return _repeated(question, (), too_far)


def _too_far(question: LoadQuestion, load_kg: float) -> Reason:
    """Why a load lost: the first set, or the last one."""
    p = question.p_first(load_kg)
    facts = _facts(question, load_kg, p)
    if p < _line(question, "raise"):
        return Reason(code="lost_too_far", facts=facts)
    return Reason(
        code="lost_last_set_short",
        facts=facts | {"p_last_said": percent(question.p_last(load_kg))},
        policy=("load.last_probability",),
    )


def _supported(question: LoadQuestion, load_kg: float) -> bool:
    return question.p_first(load_kg) >= _line(question, "raise") and question.p_last(
        load_kg
    ) >= question.policy.number("load.last_probability")


def _line(question: LoadQuestion, which: str) -> float:
    return question.policy.number(f"review.load.{which}_probability")


def _raised(question: LoadQuestion, load_kg: float, too_far: float | None) -> LoadChoice:
    p = question.p_first(load_kg)
    reasons = [
        Reason(
            code="load_supported",
            facts=_facts(question, load_kg, p),
            policy=("review.load.raise_probability", "load.last_probability", "load.most_up"),
            source="ACSM 2009, MSSE 41:687: steps of 2-10 %",
        )
    ]
    if too_far is not None:
        why = _too_far(question, too_far)
        other = OtherLoad(kind="raise_load", load_kg=too_far, why=why)
    else:
        why = Reason(
            code="lost_repeat_too_light",
            facts=_facts(question, question.before_kg, question.p_first(question.before_kg)),
        )
        other = OtherLoad(kind="repeat_load", load_kg=question.before_kg, why=why)
    return LoadChoice(
        kind="raise_load", load_kg=load_kg, p_fits=p, reasons=tuple(reasons), runner_up=other
    )


def _big_step(question: LoadQuestion) -> LoadChoice | None:
    """Where the kit's next step is more than the limit: only from the top of the range."""
    setting = question.rack.next_harder(question.before_kg)
    limit = most_effective(question.effective(question.before_kg), question.policy)
    if setting is None or question.effective(setting.load_kg) <= limit:
        return None
    load = setting.load_kg
    p = question.p_first(load)
    facts = _facts(question, load, p) | {"reps_high": question.entry.sets[0].reps_high}
    if _at_the_top(question) and p >= _line(question, "lower"):
        reason = Reason(
            code="smallest_step",
            facts=facts
            | {
                "lift": question.lift.name,
                "week": question.week,
                "before_kg": question.before_kg,
                "after_kg": load,
                "before": load_text(question.before_kg, question.lifter.units),
                "after": load_text(load, question.lifter.units),
            },
            policy=("load.most_up",),
        )
        other = OtherLoad(
            kind="repeat_load",
            load_kg=question.before_kg,
            why=Reason(
                code="lost_repeat_too_light",
                facts=_facts(question, question.before_kg, question.p_first(question.before_kg)),
            ),
        )
        return LoadChoice(
            kind="raise_load", load_kg=load, p_fits=p, reasons=(reason,), runner_up=other
        )
    if question.p_first(question.before_kg) < _line(question, "lower"):
        return None
    why = Reason(code="lost_step_too_large", facts=facts, policy=("load.most_up",))
    stays = _repeated(question, (Reason(code="fill_the_range", facts=facts),), None)
    return replace(stays, runner_up=OtherLoad(kind="raise_load", load_kg=load, why=why))


def _at_the_top(question: LoadQuestion) -> bool:
    """Whether the latest first set reached the top of its range without undue effort."""
    if not question.done:
        return False
    latest = question.done[-1]
    first, target = latest.first, latest.target or question.entry.sets[0]
    strained = first.rir is not None and first.rir < target.rir - 1
    return first.first_reps >= target.reps_high and not strained


def _held(question: LoadQuestion, held_back: Sequence[Reason]) -> LoadChoice:
    if question.p_first(question.before_kg) < _line(question, "lower"):
        return _lowered(question, held_back)
    nearest = next(harder_steps(question), None)
    return _repeated(question, held_back, nearest)


def _repeated(
    question: LoadQuestion, reasons: Sequence[Reason], nearest: float | None
) -> LoadChoice:
    again = question.again_kg
    p = question.p_first(again)
    own = Reason(
        code="load_stays",
        facts=_facts(question, again, p),
        policy=("review.load.raise_probability",),
    )
    same = abs(again - question.before_kg) < SAME_LOAD_KG
    if not same:
        own = Reason(code="kit_cannot_repeat", facts=_facts(question, question.before_kg, p))
    other = None
    if nearest is not None:
        why = _too_far(question, nearest)
        if reasons:
            why = replace(why, code="lost_held_back")
        other = OtherLoad(kind="raise_load", load_kg=nearest, why=why)
    return LoadChoice(
        kind="repeat_load" if same else "lower_load",
        load_kg=again,
        p_fits=p,
        reasons=(*reasons, own),
        runner_up=other,
    )


def _lowered(question: LoadQuestion, reasons: Sequence[Reason]) -> LoadChoice:
    """The largest easier load the estimate supports."""
    load = question.before_kg
    for _ in range(MOST_STEPS):
        setting = question.rack.next_easier(load)
        if setting is None or question.effective(setting.load_kg) <= 0:
            break
        load = setting.load_kg
        if question.p_first(load) >= _line(question, "raise"):
            break
    if load == question.before_kg:
        end = Reason(code="kit_has_no_easier", facts=_facts(question, load, question.p_first(load)))
        return _repeated(question, (*reasons, end), None)
    p_now = question.p_first(question.before_kg)
    own = Reason(
        code="load_not_supported",
        facts=_facts(question, question.before_kg, p_now),
        policy=("review.load.lower_probability",),
    )
    why = Reason(code="lost_repeat_too_heavy", facts=_facts(question, question.before_kg, p_now))
    return LoadChoice(
        kind="lower_load",
        load_kg=load,
        p_fits=question.p_first(load),
        reasons=(*reasons, own),
        runner_up=OtherLoad(kind="repeat_load", load_kg=question.before_kg, why=why),
    )


def _eased(question: LoadQuestion, reasons: Sequence[Reason]) -> LoadChoice:
    """Sets came closer to failure than asked: lower, at least one step, unless one step down
    would be too light to be worth it."""
    setting = question.rack.next_easier(question.before_kg)
    if setting is None or question.effective(setting.load_kg) <= 0:
        return _repeated(question, reasons, None)
    top = question.entry.sets[0].reps_high
    if question.p_first(setting.load_kg, top) >= _line(question, "raise"):
        return _repeated(question, reasons, None)
    load = setting.load_kg
    for _ in range(MOST_STEPS):
        if question.p_first(load) >= _line(question, "raise"):
            break
        easier = question.rack.next_easier(load)
        if easier is None or question.effective(easier.load_kg) <= 0:
            break
        load = easier.load_kg
    p_now = question.p_first(question.before_kg)
    why = Reason(code="lost_repeat_too_heavy", facts=_facts(question, question.before_kg, p_now))
    return LoadChoice(
        kind="lower_load",
        load_kg=load,
        p_fits=question.p_first(load),
        reasons=tuple(reasons),
        runner_up=OtherLoad(kind="repeat_load", load_kg=question.before_kg, why=why),
    )


def _two_for_two(question: LoadQuestion) -> LoadChoice:
    """Two sessions in a row with two repetitions over the goal in the last set, then a step.

    Baechle & Earle, Essentials (from memory). The goal is the top of the range.
    """
    extra = question.policy.whole("review.load.two_for_two_reps")
    recent = question.done[-2:]
    over = [
        exposure.sets[-1].first_reps - (exposure.target or question.entry.sets[0]).reps_high
        for exposure in recent
    ]
    fired = len(over) == 2 and all(more >= extra for more in over)
    reason = Reason(
        code="two_for_two_fired" if fired else "two_for_two_waits",
        facts={"extra_reps": extra, "sessions": sum(more >= extra for more in over)},
        policy=("review.load.rule", "review.load.two_for_two_reps"),
        source="Baechle & Earle, Essentials (from memory)",
    )
    return _stepped(question, reason) if fired else _repeated(question, (reason,), None)


def _double_progression(question: LoadQuestion) -> LoadChoice:
    """Every set at the top of its range, then one step; twice below it, one step down."""
    facts: dict[str, FactValue] = {"reps_high": question.entry.sets[0].reps_high}
    latest = question.done[-1] if question.done else None
    if latest is not None and _filled(question, latest):
        reason = Reason(code="range_filled", facts=facts, policy=("review.load.rule",))
        return _stepped(question, reason, one=True)
    short = [
        e.first.first_reps < (e.target or question.entry.sets[0]).reps_low
        for e in question.done[-2:]
    ]
    if len(short) == 2 and all(short):
        reason = Reason(code="range_missed_twice", policy=("review.load.rule",))
        return _eased(question, (reason,))
    reason = Reason(code="range_not_filled", facts=facts, policy=("review.load.rule",))
    return _repeated(question, (reason,), None)


def _filled(question: LoadQuestion, exposure: Exposure) -> bool:
    asked = exposure.target or question.entry.sets[0]
    return all(
        done.first_reps >= asked.reps_high and (done.rir is None or done.rir >= asked.rir - 1)
        for done in exposure.sets
    )


def _stepped(question: LoadQuestion, reason: Reason, *, one: bool = False) -> LoadChoice:
    """One step of the table (or of the kit), whatever the estimate says of it."""
    steps = list(harder_steps(question))
    if not steps:
        return _big_step(question) or _repeated(question, (reason,), None)
    load = steps[0] if one else steps[-1]
    why = Reason(
        code="lost_repeat_too_light",
        facts=_facts(question, question.before_kg, question.p_first(question.before_kg)),
    )
    return LoadChoice(
        kind="raise_load",
        load_kg=load,
        p_fits=question.p_first(load),
        reasons=(reason,),
        runner_up=OtherLoad(kind="repeat_load", load_kg=question.before_kg, why=why),
    )


def _facts(question: LoadQuestion, load_kg: float, p: float) -> dict[str, FactValue]:
    first = question.entry.sets[0]
    return {
        "lift": question.lift.name,
        **load_facts(load_kg, question.lifter),
        "reps_low": first.reps_low,
        "rir": first.rir,
        "p_fits": round(p, 3),
        "p_fits_said": percent(p),
    }
