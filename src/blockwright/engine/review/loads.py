"""Next week's load of one entry: a step up, the same, or lower, with the probability that it fits.

The usual rule (`belief`) is the load rule of `strength.landing`: the load at which the first set
most probably lands in its range, up by the small steps of the table and ten per cent of effective
load at most. `two_for_two` is kept beside it by name."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import exp, log

from blockwright.engine.planning.loads import smallest_step
from blockwright.engine.policy import Policy
from blockwright.engine.rack import SAME_LOAD_KG, Rack
from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.screening import fewest_reps
from blockwright.engine.strength import Landing, LiftBelief, most_effective
from blockwright.engine.strength.landing import FAR_REPS, POLICY
from blockwright.engine.training import Entry, Lift, Lifter, SetDone, effective_load_kg
from .exposures import Exposure
from .load_steps import is_one_change, step_limit_kg
from .proposals import EVEN, load_facts, percent


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadQuestion:
    """One entry of the next week."""

    lifter: Lifter
    lift: Lift
    entry: Entry
    day: date
    week: int
    before_kg: float  # What the lifter used last, as written on the sheet
    again_kg: float  # The same load as this kit makes it: equal, or the nearest that is not harder
    done: tuple[Exposure, ...]  # Comparable exposures, oldest first
    ever: tuple[Exposure, ...]  # All exposures of the lift, oldest first
    tries: tuple[SetDone, ...]  # Of the lift, on the way to a load
    belief: LiftBelief
    rack: Rack
    bodyweight_kg: float | None
    policy: Policy

    def effective(self, load_kg: float) -> float:
        """Effective kg of a load on the sheet; 0 where nothing would be lifted."""
        found = effective_load_kg(self.lift, load_kg, self.bodyweight_kg)
        return max(found or 0.0, 0.0)

    @property
    def landing(self) -> Landing:
        """Where the first set lands at each load."""
        return Landing(
            belief=self.belief,
            lift=self.lift,
            rack=self.rack,
            bodyweight_kg=self.bodyweight_kg,
            policy=self.policy,
            asked=self.entry.sets[0],
            on=self.day,
            fewest_reps=fewest_reps(self.lifter, self.policy),
        )

    @property
    def by_bands(self) -> bool:
        """Whether bands help, which nobody weighed: the next load is another one."""
        return self.lift.load_kind == "assisted" and not self.before_kg

    @property
    def gave_asked(self) -> bool:
        """Whether the last first set gave what is asked next, at its load, were the reserve that is
        asked left, less than `review.effort.beyond` of it apart: no reason to go below that load.
        What nobody wrote down was the printed one."""
        if not self.done:
            return False
        first, asked = self.done[-1].first, self.entry.sets[0]
        printed = self.done[-1].target or asked
        left = printed.rir if first.rir is None else first.rir
        short = max(asked.rir - left, 0.0)
        noise = short < self.policy.number("review.effort.beyond")
        return first.first_reps - (0.0 if noise else short) >= asked.reps_low

    def p_first(self, load_kg: float) -> float:
        """P(the first set reaches the bottom of its range at its RIR), mixed over what may happen:
        a bad week, and far beyond what was lifted another curve than the believed one."""
        number = self.policy.number
        bad, fall = number("review.read.bad_week"), number("review.read.week_fall")
        return sum(
            week * curve * replace(self.landing, growth=exp(ln + off)).p_reaches(load_kg)
            for week, ln in ((1.0 - bad, 0.0), (bad, fall))
            for curve, off in self._curves(load_kg)
        )

    def p_far_above(self, load_kg: float) -> float:
        """P(the first set ends far above its range)."""
        reps = self.entry.sets[0].reps_high + FAR_REPS + 1
        return round(self.landing.p_at_least(load_kg, reps), 3)

    def _curves(self, load_kg: float) -> tuple[tuple[float, float], ...]:
        """Shares of curves, and how much stronger than believed each has the lifter at a load, ln.
        Curves part far above all that was lifted, and a long step is taken for looking easy."""
        number = self.policy.number
        lifted = (self.before_kg, *(one.first.load_kg for one in self.ever))
        near = max(map(self.effective, lifted)) * (1 + number("review.claim.curve_from"))
        then = self.effective(load_kg)
        if near <= 0 or then <= near:
            return ((1.0, 0.0),)
        steeper, flatter = number("review.claim.steeper"), number("review.claim.flatter")
        off = number("review.claim.curve_off") * log(then / near)
        return (1.0 - steeper - flatter, 0.0), (steeper, -off), (flatter, off)

    def is_one_change(self, before_kg: float, after_kg: float) -> bool:
        """See `is_one_change`."""
        kg = (before_kg, after_kg)
        return is_one_change(self.lift, self.rack, kg, self.bodyweight_kg, self.policy)

    def is_far_light(self, load_kg: float) -> bool:
        """Whether a load is so light that the first set is expected far above its range, and the
        last one was above it: progress is not what is asked then, and every step nearer is one
        worth taking."""
        shown = self.done[-1].spare if self.done else None
        if shown is not None and shown <= 0:
            return False
        return self.landing.median_reps(load_kg) > self.entry.sets[0].reps_high + FAR_REPS


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadChoice:
    """What to do, why, and what lost."""

    load_kg: float
    reasons: tuple[Reason, ...]
    lost: tuple[float, Reason] | None = None  # The next best load, and why it lost
    repeats: bool = False  # Whether it is the present load


def chosen_load(
    question: LoadQuestion, held_back: Sequence[Reason], *, too_hard: bool
) -> LoadChoice:
    """The choice under the policy's rule.

    `held_back` reasons forbid a raise; `too_hard` says that sets came closer to failure than asked
    twice in a row, so the load comes down."""
    if too_hard:
        return _eased(question, held_back)
    rule = question.policy.text("review.load.rule")
    if held_back:
        return _held(question, held_back)
    if rule == "two_for_two":
        return _two_for_two(question)
    return _by_belief(question)


def harder_steps(question: LoadQuestion) -> Iterator[float]:
    """Loads of the kit above the present one, rising, within the limit of effective load and
    the table of steps; one step of the kit passes the table, never the limit. The table is for
    progress: a load so light that the set lands far above its range is put right by the limit."""
    limit = most_effective(question.effective(question.before_kg), question.policy)
    allowed_kg = limit
    if not question.is_far_light(question.before_kg):
        allowed_kg = question.effective(question.before_kg) + step_limit_kg(
            question.lift, question.lifter, question.policy
        )
    for number, setting in enumerate(question.rack.harder_than(question.before_kg)):
        effective = question.effective(setting.load_kg)
        if effective > limit or (number and effective > allowed_kg * (1 + 1e-9)):
            return
        yield setting.load_kg


def _by_belief(question: LoadQuestion) -> LoadChoice:
    steps = list(harder_steps(question))
    if steps and question.is_far_light(steps[-1]):
        best = steps[-1]
    else:
        best = min((question.before_kg, *steps), key=question.landing.cost)
    if best != question.before_kg:
        beyond = steps[steps.index(best) + 1 :]
        return _raised(question, best, beyond[0] if beyond else None)
    if not steps and (big := _big_step(question)) is not None:
        return big
    if not question.gave_asked and (easier := _easier(question)) is not None:
        return _lowered(question, easier, ())
    return _repeated(question, (), steps[0] if steps else None)


def _easier(question: LoadQuestion) -> float | None:
    """The easier load that lands best, where one lands better than the present load."""
    limit = question.effective(question.before_kg)
    found = question.landing.best(limit)
    if found is None or question.effective(found.load_kg) >= limit * (1 - 1e-9):
        return None
    gain = question.landing.cost(question.before_kg) - question.landing.cost(found.load_kg)
    return found.load_kg if gain > question.policy.number("review.load.lower_gain") else None


def _too_far(question: LoadQuestion, load_kg: float) -> Reason:
    """Why a harder load lost."""
    facts = _facts(question, load_kg, question.p_first(load_kg))
    return Reason(code="lost_too_far", facts=facts, policy=POLICY)


def _raised(question: LoadQuestion, load_kg: float, too_far: float | None) -> LoadChoice:
    p = question.p_first(load_kg)
    reason = Reason(
        code="load_supported",
        facts=_facts(question, load_kg, p),
        policy=(*POLICY, "load.most_up"),
        source="ACSM 2009, MSSE 41:687: steps of 2-10 %",
    )
    other = _present_lost(question, "lost_repeat_too_light")
    if too_far is not None:
        other = too_far, _too_far(question, too_far)
    return LoadChoice(load_kg=load_kg, reasons=(reason,), lost=other)


def _present_lost(question: LoadQuestion, code: str) -> tuple[float, Reason]:
    """The present load, and that it lost for what it is expected to give."""
    load = question.before_kg
    return load, Reason(code=code, facts=_facts(question, load, question.p_first(load)))


def _big_step(question: LoadQuestion) -> LoadChoice | None:
    """Where the kit's next step is over the limit, or is missing: from the top of the range."""
    setting = question.rack.next_harder(question.before_kg)
    if setting is None and _at_the_top(question):
        facts = _facts(question, question.before_kg, question.p_first(question.before_kg))
        code = "band_too_strong" if question.by_bands else "kit_ends"
        return _repeated(question, (Reason(code=code, facts=facts),), None)
    limit = most_effective(question.effective(question.before_kg), question.policy)
    if setting is None or question.effective(setting.load_kg) <= limit:
        return None
    load = setting.load_kg
    p = question.p_first(load)
    asked = question.entry
    moved = question.landing.occurring(question.before_kg, len(asked.sets), asked.rest_s)
    facts = _facts(question, load, p) | {"reps_high": asked.sets[0].reps_high + (moved or 0)}
    short = _fell_short(question, load)
    if short is not None and p < question.policy.number("review.load.again_probability"):
        return replace(_repeated(question, (short,), None), lost=(load, short))
    if _at_the_top(question) and _takes_the_step(question, load):
        kg, first = (question.before_kg, load), question.entry.sets[0]
        reason = smallest_step(question.lift, question.lifter.units, question.week, kg, first)
        reason = replace(reason, facts=facts | dict(reason.facts))
        lost = _present_lost(question, "lost_repeat_too_light")
        return LoadChoice(load_kg=load, reasons=(reason,), lost=lost)
    if _easier(question) is not None:
        return None
    why = Reason(code="lost_step_too_large", facts=facts, policy=("load.most_up",))
    stays = _repeated(question, (Reason(code="fill_the_range", facts=facts),), None)
    return replace(stays, lost=(load, why))


def _takes_the_step(question: LoadQuestion, load_kg: float) -> bool:
    """Whether a step beyond the limit lands better and probably in its range, else the sheet moves
    the range; or as probably as not, after a set that left so much more than asked that repetitions
    are not the answer."""
    last = question.done[-1] if question.done else None
    asked = last.target if last is not None else None
    left = 0.0 if last is None or asked is None else (last.first.rir or 0.0) - asked.rir
    landing, least = question.landing, question.policy.number("load.reach_probability")
    even = left >= FAR_REPS and question.p_first(load_kg) >= EVEN
    likely = even or landing.p_reaches(load_kg) >= least
    return likely and landing.cost(load_kg) < landing.cost(question.before_kg)


LONG_AGO = 28  # Days after which the month of a set is told (judgement)


def _fell_short(question: LoadQuestion, load_kg: float) -> Reason | None:
    """That a load was tried before and ended under the range: a first set, or a try."""
    low = question.entry.sets[0].reps_low
    tried = (*((e.day, e.first) for e in reversed(question.ever)),
             *((one.moment.day, one) for one in reversed(question.tries)))  # fmt: skip
    for day, first in tried:
        if abs(first.load_kg - load_kg) < SAME_LOAD_KG and first.first_reps < low:
            return because(
                "fell_short_before",
                "review.load.again_probability",
                lift=question.lift.name,
                reps=first.first_reps,
                reps_low=low,
                when=f" in {day:%B}" if (question.day - day).days > LONG_AGO else "",
                **load_facts(load_kg, question.lifter, lift=question.lift),
            )
    return None


def _at_the_top(question: LoadQuestion) -> bool:
    """Whether the latest first set reached the top of its range without undue effort, or the
    belief expects the next to."""
    if question.landing.median_reps(question.before_kg) >= question.entry.sets[0].reps_high:
        return True
    if not question.done:
        return False
    latest = question.done[-1]
    first, target = latest.first, latest.target or question.entry.sets[0]
    strained = first.rir is not None and first.rir < target.rir - 1
    return first.first_reps >= target.reps_high and not strained


def _held(question: LoadQuestion, held_back: Sequence[Reason]) -> LoadChoice:
    if (easier := _easier(question)) is not None:
        return _lowered(question, easier, held_back)
    nearest = next(harder_steps(question), None)
    return _repeated(question, held_back, nearest)


def _repeated(
    question: LoadQuestion, reasons: Sequence[Reason], nearest: float | None
) -> LoadChoice:
    again = question.again_kg
    p = question.p_first(again)
    own = Reason(code="load_stays", facts=_facts(question, again, p), policy=POLICY)
    same = abs(again - question.before_kg) < SAME_LOAD_KG
    if not same:
        own = Reason(code="kit_cannot_repeat", facts=_facts(question, question.before_kg, p))
    other = None
    if nearest is not None:
        why = _too_far(question, nearest)
        if reasons:
            why = replace(why, code="lost_held_back")
        other = nearest, why
    return LoadChoice(load_kg=again, reasons=(*reasons, own), lost=other, repeats=same)


def _lowered(question: LoadQuestion, load: float, reasons: Sequence[Reason]) -> LoadChoice:
    p_now = question.p_first(question.before_kg)
    own = Reason(
        code="load_not_supported",
        facts=_facts(question, question.before_kg, p_now),
        policy=(*POLICY, "review.load.lower_gain"),
    )
    lost = _present_lost(question, "lost_repeat_too_heavy")
    return LoadChoice(load_kg=load, reasons=(*reasons, own), lost=lost)


def _eased(question: LoadQuestion, reasons: Sequence[Reason]) -> LoadChoice:
    """Sets came closer to failure than asked: lower, at least one step, unless one step down
    would be too light to be worth it."""
    setting = question.rack.next_easier(question.before_kg)
    if setting is None or question.effective(setting.load_kg) <= 0:
        return _repeated(question, reasons, None)
    landing, top = question.landing, question.entry.sets[0].reps_high
    too_light = question.policy.number("review.load.too_light_probability")
    if landing.p_at_least(setting.load_kg, top) >= too_light:
        return _repeated(question, reasons, None)
    best = landing.best(question.effective(setting.load_kg))
    load = setting.load_kg if best is None else best.load_kg
    lost = _present_lost(question, "lost_repeat_too_heavy")
    return LoadChoice(load_kg=load, reasons=tuple(reasons), lost=lost)


def _two_for_two(question: LoadQuestion) -> LoadChoice:
    """Two sessions in a row with two repetitions over the goal in the last set, then a step.

    Baechle & Earle, Essentials (from memory). The goal is the top of the range."""
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


def _stepped(question: LoadQuestion, reason: Reason) -> LoadChoice:
    """The largest step of the table, whatever the estimate says of it."""
    steps = list(harder_steps(question))
    if not steps:
        return _big_step(question) or _repeated(question, (reason,), None)
    lost = _present_lost(question, "lost_repeat_too_light")
    return LoadChoice(load_kg=steps[-1], reasons=(reason,), lost=lost)


def _facts(question: LoadQuestion, load_kg: float, p: float) -> dict[str, FactValue]:
    first = question.entry.sets[0]
    return {
        "lift": question.lift.name,
        **load_facts(load_kg, question.lifter, lift=question.lift),
        "reps_low": first.reps_low,
        "rir": first.rir,
        "p_fits": round(p, 3),
        "p_fits_said": percent(p),
    }
