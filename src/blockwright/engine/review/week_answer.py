"""A weak week's answer, each step priced; and one week more where everything recovers at the end.

The steps: muscles cut, the week again, a lighter one, a deload and on. No session alone leads here:
a bad day is a state of its own and asks for nothing. The steps go up one at a time; what a week was
made easier for already is not offered again. The price of a step is the expected stimulus it gives
up over the build weeks left, beside the print done unrecovered."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from math import prod
from typing import Literal

from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.training import Week
from blockwright.engine.units import spoken
from blockwright.engine.volume import benefit
from .block_weeks import BlockWeeks
from .case import WeekCase
from .evidence import MuscleEvidence
from .exposures import planned_entries
from .lift_and_week_changes import eased
from .proposals import EVEN, Kind, Proposal, RunnerUp, Stay, To, percent, proposal_id, sure
from .training_facts import done_text, shortfalls
from .verdict import BACK_SOURCE, back_in, poor_words
from .week_state import SEVERAL, WeekState, had_too_much, is_bad, most_fell, slow_muscles

Step = Literal["repeat", "light", "deload", "end"]
STEPS: Mapping[Step, tuple[str, str]] = {
    "repeat": ("propose_week_repeat", "price_of_repeat"),
    "light": ("propose_week_light", "price_of_light"),
    "deload": ("propose_week_deload", "price_of_deload"),
    "end": ("propose_week_end", "price_of_end"),
}
"""From the least to the most: what proposes it, and what says its price."""
_ORDER = tuple(STEPS)
_PRICES = ((0.02, "next to nothing"), (0.075, "about a twentieth"), (0.15, "about a tenth"),
           (0.3, "about a fifth"), (0.42, "about a third"), (0.6, "about half"))  # fmt: skip
"""Words for a share of the work left, up to so much of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The step for a weak week, with what speaks for it."""

    step: Step
    reasons: tuple[Reason, ...]
    probability: float  # Of what the step answers
    time_off: bool = False
    """Whether it answers what was not trained: nothing says that strength is down."""


WEAK = ("a_bad_week", "nearly_all_down", "most_days_bad")
"""Why a week is done again that was weak, and no decline."""
NOT_WEAK = ("back_from_a_week_off", "first_week_back", "half_the_week_done")
"""Why a week is answered that was not done, or not as usual; after all others its loads stand."""
_MISSED = 2.0
"""Repetitions short of the range, what was left counted in, that a coach hears of (judgement)."""


def missed_and_kept(case: WeekCase) -> list[Stay]:
    """After a weak week the lifts whose first sets missed, the worst first: their loads stand."""
    here = [e for found in case.evidence.lifts.values() for e in found.done if e.short >= _MISSED]
    worst = {one.lift: one for one in sorted(here, key=lambda one: one.short)}
    return [
        Stay(lift=lift, why=because("weak_week_keeps", lift=lift,
                                    done=done_text(one, case.lifter.units)))
        for lift, one in reversed(worst.items())
    ]  # fmt: skip


def answer_to(case: WeekCase) -> Proposal | None:
    """The proposal for a weak week, or None where the print (or a cut muscle) is answer enough."""
    upcoming, states = case.window.next_week, case.states
    if upcoming is None or upcoming.kind != "build" or case.window.week.kind != "build":
        return None
    weak = _weak(case, states) if case.state else None
    found = _away(case) or _half_done(case) or weak or _mostly_bad(case)
    return None if found is None else _proposal(case, upcoming, found)


def _away(case: WeekCase) -> Answer | None:
    """Nothing was trained in the week: two thirds of the sets to come back, then on."""
    before = [e for e in case.evidence.exposures if e.day < case.window.start]
    if case.done or not before or not case.window.week.sessions:
        return None
    days = (case.window.end - before[-1].day).days
    facts: dict[str, FactValue] = {"days": days, "back": back_in(days, case.policy)}
    policy = ("review.back.weeks_a_week_off",)
    reason = Reason(code="back_from_a_week_off", facts=facts, policy=policy, source=BACK_SOURCE)
    return Answer(step="light", reasons=(reason,), probability=EVEN, time_off=True)


def _half_done(case: WeekCase) -> Answer | None:
    """Much of the week's work was left undone: the same week again before the next, once."""
    share = case.half_done
    if share is None or case.window.week.ease is not None:
        return None
    facts: dict[str, FactValue] = {"done_pct": round(100 * share)}
    reason = Reason(code="half_the_week_done", facts=facts, policy=("review.week.done_share",))
    return Answer(step="repeat", reasons=(reason,), probability=EVEN, time_off=True)


def _mostly_bad(case: WeekCase) -> Answer | None:
    """Most days of the week, two at least, were bad ones: the same week again, once."""
    trained = {e.day for e in case.done}
    bad = len(case.bad_days & trained)
    if bad < 2 or 2 * bad <= len(trained) or case.window.week.ease is not None:
        return None
    facts: dict[str, FactValue] = {"bad": bad, "days": len(trained)}
    reason = Reason(code="most_days_bad", facts=facts, policy=("review.read.act_from",))
    return Answer(step="repeat", reasons=(reason,), probability=EVEN, time_off=True)


def _weak(case: WeekCase, states: Sequence[WeekState]) -> Answer | None:
    n = case.policy.number
    state = states[-1]
    last = states[-2] if len(states) > 1 else None
    act = n("review.read.act_from")
    many = had_too_much(state, case.policy)
    bad = is_bad(state, case.policy)
    weak = n("review.read.weak_two_weeks")
    twice = last is not None and all(
        one.mean is not None and one.mean <= weak for one in (state, last)
    )
    # what one muscle had too much of is answered there
    # beside a bad day the chart falls by the day
    falls = case.lower and state.fell >= SEVERAL and not case.bad_days and _watch_falls(case)
    falls = falls and max(state.muscles.values(), default=0.0) < act
    # where the lifter says so too, half of the lifts below their usual are enough
    told = case.lower and most_fell(state) and poor_words(case)
    if not (many or bad or twice or falls or case.down or told):
        return None
    if case.first_back:
        first = Reason(code="first_week_back")
        return Answer(step="repeat", reasons=(first,), probability=EVEN, time_off=True)
    strongest, *others = _reasons(case, state, many=many, bad=bad, twice=twice, falls=falls)
    reasons = (replace(strongest, facts={**strongest.facts, "shown": shortfalls(case)}), *others)
    again = last is not None and (is_bad(last, case.policy) or twice)
    step: Step = "light" if many or falls or again else "repeat"
    had = _eased_lately(case)
    if had is not None:
        step = _ORDER[min(max(_ORDER.index(step), _ORDER.index(had) + 1), _ORDER.index("deload"))]
    p = max(state.everything, state.bad_week, EVEN)
    if bad and not twice:
        p += (1 - p) * EVEN  # what was no bad week may be down all the same
    elif falls and not (many or twice) and had is None:
        p = n("review.confidence.watch_down")
    return Answer(step=step, reasons=reasons, probability=p)


def _eased_lately(case: WeekCase) -> Step | None:
    """What the week just done, or the one before it, was made easier by."""
    number = case.window.week.week
    found = [w for w in case.block.weeks if number - 1 <= w.week <= number]
    steps: list[Step] = [w.ease for w in found if w.ease is not None]
    return max(steps, key=_ORDER.index, default=None)


def _watch_falls(case: WeekCase) -> bool:
    """Whether the chart over all lifts stands above its limit on a day of the week, after it has
    been fed for long enough."""
    watch, window = case.evidence.watches.pooled, case.window
    sounded = any(window.holds(day) for day in watch.alarms)
    trained = any(window.holds(point.day) for point in watch.points)
    if not sounded and not (watch.alarm and trained):
        return False
    # a set said on the first day stands in the chart, and follows nobody
    first = max(watch.points[0].day, case.evidence.exposures[0].day)
    known = (window.end - first).days
    return known >= case.policy.number("review.deload.days_known")


def _reasons(
    case: WeekCase, state: WeekState, *, many: bool, bad: bool, twice: bool, falls: bool
) -> tuple[Reason, ...]:
    made = []
    if many:
        said = ", ".join(spoken(m) for m in slow_muscles(state, case.policy)) or "all muscles"
        facts: dict[str, FactValue] = {
            "muscles": said,
            "expected": round(state.expected, 2),
            "p_all": round(state.everything, 3),
        }
        keys = ("review.read.light_from", "review.read.act_from")
        made.append(Reason(code="several_muscles_had_too_much", facts=facts, policy=keys))
    if twice:
        made.append(Reason(code="two_weak_weeks", policy=("review.read.weak_two_weeks",)))
    if bad:
        facts = {"p_bad_week": round(state.bad_week, 3)}
        made.append(Reason(code="a_bad_week", facts=facts, policy=("review.read.act_from",)))
    if falls:
        watch = case.evidence.watches.pooled
        facts = {
            "statistic_sd": round(watch.statistic, 2),
            "limit_sd": round(watch.limit, 2),
            "since": None if watch.falling_since is None else watch.falling_since.isoformat(),
        }
        made.append(
            Reason(
                code="pooled_watch_sounded",
                facts=facts,
                policy=("watch.false_alarms_a_year", "watch.slack", "watch.lift_correlation"),
                source="one-sided CUSUM; run lengths computed (Lucas & Crosier 1982)",
            )
        )
    if not made:
        facts = {"fell": state.fell, "lifts": len(state.kept)}
        keys = ("review.read.nearly_all", "review.read.weak_two_weeks")
        made.append(Reason(code="nearly_all_down", facts=facts, policy=keys))
    return tuple(made)


# ------------------------------------------------------------------------------ price and offer


def _proposal(case: WeekCase, week: Week, found: Answer) -> Proposal:
    kind: Kind = "deload_now" if found.step in ("deload", "end") else "light_week"
    name = proposal_id(week.week, kind)
    facts: dict[str, FactValue] = {"week": week.week, "date": case.window.next_start.isoformat()}
    place = _ORDER.index(found.step) + 1
    other = _ORDER[place] if place < len(_ORDER) else None
    return Proposal(
        id=name,
        kind=kind,
        week=week.week,
        before=To("week_kind", "build"),
        after=side(found.step),
        says=Reason(code=STEPS[found.step][0], facts=facts),
        claim=Reason(code="claim_back_gently" if found.time_off else "claim_down", facts=facts),
        reasons=(*found.reasons, _price(case, found.step, found.probability)),
        confidence=sure(
            case.policy.number("review.confidence.back_gently")
            if found.time_off
            else found.probability
        ),
        runner_up=None
        if other is None
        else RunnerUp(
            kind="deload_now" if other in ("deload", "end") else "light_week",
            after=side(other),
            why=_price(case, other, found.probability),
        ),
    )


def side(step: Step) -> To:
    """A step as the `after` of a proposal."""
    if step == "end":
        return To("week_kind", "deload", then="end")
    return To("week_kind", step, then="on" if step == "deload" else None)


def _price(case: WeekCase, step: Step, p_down: float) -> Reason:
    """What the step gives up of the expected stimulus of the build weeks left."""
    printed = _worth(case, case.block.weeks, p_down, None)
    left = _worth(case, _with_step(case, step), p_down, step)
    share = 1.0 - left / printed if printed > 0 else 0.0
    words = next((said for most, said in _PRICES if share <= most), "most")
    facts: dict[str, FactValue] = {"step": step, "share": round(share, 3), "price": words}
    return Reason(
        code=STEPS[step][1],
        facts=facts,
        policy=("review.read.unrecovered_loss", "volume.benefit.slope"),
    )


def _with_step(case: WeekCase, step: Step) -> Sequence[Week]:
    number = case.next_number or 0
    weeks = BlockWeeks(case.block, case.catalogue, case.policy)
    eased(weeks, number, side(step))
    return weeks.finished(number)


def _worth(case: WeekCase, weeks: Sequence[Week], p_down: float, step: Step | None) -> float:
    """Expected stimulus of the build weeks from the next on; a week done unrecovered loses a
    share of its worth."""
    n = case.policy.number
    kept: Mapping[Step | None, float] = {
        "light": n("review.read.after_light"),
        "deload": n("review.read.after_deload"),
        "end": n("review.read.after_deload"),
        "repeat": n("review.read.persists"),
        None: n("review.read.persists"),
    }
    total, down = 0.0, p_down
    number = case.next_number or 0
    for week in weeks:
        if week.week < number:
            continue
        if week.kind == "build":
            worth = sum(
                benefit(sets.fractional, case.policy)
                * n(f"review.sets.gain_weight.{_weight(case, muscle)}")
                for muscle, sets in week.muscle_sets.items()
            )
            total += worth * (1 - n("review.read.unrecovered_loss") * down)
        down *= kept[step] if week.week == number else n("review.read.persists")
    return total


def _weight(case: WeekCase, muscle: str) -> str:
    emphasis = case.lifter.emphasis_of(muscle)
    return "hold" if emphasis == "skip" else emphasis


def extension_proposal(case: WeekCase) -> Proposal | None:
    """One more build week before the deload, or None."""
    upcoming, week = case.window.next_week, case.window.week
    at_the_end = upcoming is not None and upcoming is case.block.weeks[-1] and week.kind == "build"
    if not at_the_end or case.awaits_clearance is not None or case.pain:
        return None
    known = _recovered(case)
    made = None if known is None else _extension(case, known)
    enough = case.policy.number("review.extend.all_from")
    return None if made is None or made.confidence < enough else made


def _extension(case: WeekCase, known: Sequence[MuscleEvidence]) -> Proposal:
    lowest = min(known, key=lambda f: f.p_recovered or 0.0)
    weeks = len(case.block.builds)
    facts: dict[str, FactValue] = {
        "weeks_before": weeks,
        "weeks_after": weeks + 1,
        "deload_date": (case.window.next_start + timedelta(days=7)).isoformat(),
    }
    return Proposal(
        id=proposal_id(case.next_number, "extend_block"),
        kind="extend_block",
        week=case.next_number,
        before=To("weeks", weeks),
        after=To("weeks", weeks + 1),
        says=Reason(code="propose_extend_block", facts=facts),
        claim=Reason(code="claim_recovers_longer", facts=facts),
        reasons=(
            because(
                "recovery_holds",
                "review.extend.recovered_from",
                "review.extend.ceiling_share",
                muscles=len(known),
                lowest=lowest.muscle.replace("_", " "),
                lowest_said=percent(lowest.p_recovered or 0.0),
            ),
        ),
        confidence=sure(
            prod(  # all of them, not the least sure alone
                case.ceilings[f.muscle].p_recovered(f.sets_done, case.policy)
                for f in known
                if f.sets_done > 0
            )
        ),
    )


def _recovered(case: WeekCase) -> list[MuscleEvidence] | None:
    """The lead and normal muscles trained directly, where each has recovered; None where one has
    not, is near its ceiling or is unknown, where a session was missed, or where the block is long
    enough."""
    policy, evidence = case.policy, case.evidence
    builds = len(case.block.builds)
    if builds >= policy.whole("review.extend.most_weeks") or evidence.missed:
        return None
    wanted = policy.number("review.extend.recovered_from")
    lifts = case.catalogue.known(planned_entries(case.window.week, case.catalogue))
    direct = {muscle for lift in lifts for muscle in lift.direct}
    known = [
        found
        for muscle, found in evidence.muscles.items()
        if case.lifter.emphasis_of(muscle) in ("lead", "normal") and muscle in direct
    ]
    if not known or any(f.p_recovered is None or f.p_recovered < wanted for f in known):
        return None
    share = policy.number("review.extend.ceiling_share")
    for found in known:
        lead = case.lifter.emphasis_of(found.muscle) == "lead"
        if lead and found.sets_done > share * case.ceilings[found.muscle].median:
            return None
    return known
