"""The finding of each part, as a code and its facts: what its title says. Of body weight and girths
the trend of the last measurements, how sure it is, and whether a weight does what the block's
energy phase asks for."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import sqrt
from statistics import NormalDist

from blockwright.engine.case import CoachCase
from blockwright.engine.published.safety import SESSION_LOAD
from blockwright.engine.reasons import FactValue, Reason, and_listed, because, certainty_word
from blockwright.engine.review import NextBlock
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.safety import Reports
from blockwright.engine.review.week_state import ever_overreached, was_weak
from blockwright.engine.review.wellness import line_through
from blockwright.engine.training import Catalogue, Energy, Measure
from blockwright.engine.units import CM_PER_IN, Unit, in_unit, mass_text, number_text, spoken
from .done import MuscleDone, WeekDone
from .fates import ClaimsKept, Fate, PredictionScore
from .lifts import Heading, LiftStrength, PooledGain, is_clear, told_gain

FEW_CLAIMS = 10  # Below this many judged claims no rate is worth stating (judgement)
MOST_NAMED = 4  # More muscles than this are counted, not named: a title is read at a glance


def done_finding(weeks: Sequence[WeekDone]) -> Reason:
    """Sessions and sets of those planned."""
    missed = sum(len(week.missed) for week in weeks)
    done = sum(week.sets_done for week in weeks)
    planned = sum(week.sets_planned for week in weeks)
    facts: dict[str, FactValue] = {
        "sessions_done": sum(week.sessions_done for week in weeks),
        "sessions_planned": sum(week.sessions_planned for week in weeks),
        "sets_done": done,
        "sets_planned": planned,
        "missed": missed,
        "sets": f"{done}" if done == planned else f"{done} of {planned}",
    }
    all_done = sum(week.sessions_done for week in weeks) == facts["sessions_planned"]
    return Reason(code="report_all_done" if all_done else "report_some_missed", facts=facts)


def muscle_finding(muscles: Sequence[MuscleDone], builds: int) -> Reason:
    """Which muscle had most sets in a week."""
    top = max(muscles, key=lambda m: max(m.done[:builds], default=0.0), default=None)
    if top is None:
        return Reason(code="report_no_muscles")
    facts: dict[str, FactValue] = {
        "muscle": spoken(top.muscle),
        "sets": max(top.done[:builds], default=0.0),
        "muscles": len(muscles),
    }
    return Reason(code="report_most_sets", facts=facts)


def recovery_finding(muscles: Sequence[MuscleDone], builds: int, case: WeekCase) -> Reason:
    """Which muscles had too much in some week of the block and which weeks were weak as a whole,
    as the letters read them."""
    most = muscle_finding(muscles, builds)
    start = case.block.start
    read = {
        (one.start - start).days // 7 + 1: one
        for one in case.states
        if one.start >= start and one.mean is not None
    }
    if not read or not muscles:
        return replace(most, code="report_not_judged") if muscles else most
    had = ever_overreached(read.values(), start, case.policy)
    over = [spoken(m.muscle) for m in muscles if m.muscle in had]
    weak = [str(number) for number, one in read.items() if was_weak(one, case.policy)]
    code = "report_weak_weeks" if weak else "report_not_over"
    if over:
        code = "report_over_many" if len(over) > MOST_NAMED else "report_over"
    facts: dict[str, FactValue] = {
        "over": and_listed(over),
        "over_count": len(over),
        "weak": f"week{'s' if len(weak) > 1 else ''} {and_listed(weak)}" if weak else "",
    }
    return replace(most, code=code, facts={**most.facts, **facts})


def strength_finding(headings: Sequence[Heading], pooled: PooledGain | None = None) -> Reason:
    """What the block came to over all lifts, and how many rise, fall, or do not say."""
    facts: dict[str, FactValue] = {
        "lifts": len(headings),
        **{which: headings.count(which) for which in ("rising", "falling", "unsure")},
    }
    if pooled is not None and headings:
        way = "stronger" if pooled.pct >= 0 else "weaker"
        facts |= {
            "pct": round(pooled.pct, 1),
            "pooled_lifts": pooled.lifts,
            "p_same_sign": round(pooled.p_same_sign, 3),
            "said": f"about {abs(pooled.pct):.0f} % {way}"
            if is_clear(pooled.pct, certainty_word(pooled.p_same_sign))
            else "about as strong as before",
            "certainty": certainty_word(pooled.p_same_sign),
        }
        return Reason(code="report_strength_pooled", facts=facts)
    sure = "report_strength_unsure" if facts["unsure"] == len(headings) else "report_strength"
    return Reason(code=sure if headings else "report_no_strength", facts=facts)


def proposals_finding(fates: Sequence[Fate]) -> Reason:
    """How many, and what became of them."""
    facts: dict[str, FactValue] = {"proposals": len(fates)}
    for verdict in ("accepted", "changed", "declined", "open"):
        facts[verdict] = sum(fate.verdict == verdict for fate in fates)
    if not fates:
        return Reason(code="report_no_proposals")
    return Reason(
        code="report_proposals_open" if facts["open"] else "report_proposals", facts=facts
    )


def predictions_finding(found: PredictionScore | None) -> Reason:
    """Coverage and error, beside the best simple rule."""
    if found is None:
        return Reason(code="report_no_predictions")
    better = found.rmse_reps <= found.rule_rmse_reps
    return because(
        "report_predictions" if better else "report_predictions_worse",
        sets=found.sets,
        inside=found.inside,
        inside_pct=round(100 * found.inside / found.sets),
        rmse_reps=round(found.rmse_reps, 1),
        rule_rmse_reps=round(found.rule_rmse_reps, 1),
        rule=spoken(found.rule),
        flagged=found.flagged,
    )


def claims_finding(found: ClaimsKept | None) -> Reason:
    """Claims kept, beside what we said; too few say nothing."""
    if found is None:
        return Reason(code="report_no_claims")
    facts: dict[str, FactValue] = {
        "judged": found.judged,
        "kept": found.kept,
        "expected": round(found.expected, 1),
        "low": round(max(found.expected - 1.2816 * found.expected_sd, 0.0), 1),
        "high": round(min(found.expected + 1.2816 * found.expected_sd, found.judged), 1),
    }
    few = found.judged < FEW_CLAIMS
    return Reason(code="report_few_claims" if few else "report_claims", facts=facts)


def lead_finding(
    muscles: Sequence[MuscleDone], builds: int, strength: Sequence[LiftStrength], known: Catalogue
) -> Reason:
    """What came of the muscles that lead: sets of the first and the last build week, beside those
    planned, and what the lifts that train them did."""
    told = []
    for one in (muscle for muscle in muscles if muscle.emphasis == "lead" and builds):
        first, last, planned = one.done[0], one.done[builds - 1], one.planned[builds - 1]
        fewer = f" of {number_text(planned)} planned" if last < planned - 1 else ""
        lifts = [
            f"{each.lift} {told_gain(each.gain.pct, each.gain.certainty)}"
            for each in strength
            if each.gain is not None and is_clear(each.gain.pct, each.gain.certainty)
            and (lift := known.find(each.lift)) is not None and one.muscle in lift.direct
        ]  # fmt: skip
        sets = (
            f"{number_text(first)} to {number_text(last)}" if last != first else number_text(last)
        )
        sets += f"{fewer} sets a week"
        name = spoken(one.muscle)
        told.append(f"{name} {sets}, {and_listed(lifts) or 'no clear gain on its lifts'}")
    facts: dict[str, FactValue] = {"leads": "; ".join(told)}
    return Reason(code="report_leads" if told else "report_no_leads", facts=facts)


def load_finding(weeks: Sequence[WeekDone], flag: float) -> Reason:
    """The heaviest week, and whether any was monotonous; shown, never decisive alone."""
    known = [(week.week, week.load) for week in weeks if week.load is not None]
    if not known:
        return Reason(code="report_no_load")
    top, load = max(known, key=lambda pair: pair[1].total)
    dull = [str(n) for n, each in known if each.monotony is not None and each.monotony >= flag]
    facts: dict[str, FactValue] = {
        "week": top,
        "total_au": round(load.total),
        "flag": flag,
        "monotonous": ", ".join(dull),
    }
    return Reason(
        code="report_load_monotonous" if dull else "report_load",
        facts=facts,
        policy=("review.monotony_flag",),
        source=str(SESSION_LOAD),
    )


def next_finding(following: NextBlock) -> Reason:
    """Lifts that stay, lifts that make way."""
    facts: dict[str, FactValue] = {
        "kept": len(following.kept),
        "left_out": ", ".join(following.left_out),
        "left_out_count": len(following.left_out),
        "steps_below": following.steps_below,
    }
    changes = bool(following.left_out)
    return Reason(code="report_next_changes" if changes else "report_next_same", facts=facts)


def pain_finding(said: Reports, start: date) -> Reason:
    """What hurt in the block, the worst first: how much at most, and when last and how much. A lift
    in which alone a joint hurt is told with it."""
    here = {about: [one for one in reports if one.day >= start] for about, reports in said.items()}
    joined = {(r.lift, r.day) for about, found in here.items() for r in found if r.lift != about}
    told: list[tuple[float, str]] = []
    for about, reports in here.items():
        if hurt := [one for one in reports if one.pain and (about, one.day) not in joined]:
            worst, last = max(one.pain for one in hurt), reports[-1]
            lifts = dict.fromkeys(one.lift for one in hurt if one.lift not in ("", about))
            where = f" in {and_listed([*lifts])}" if lifts else ""
            when = f"last {last.pain:g} on {last.day.day} {last.day:%B}"
            told.append((-worst, f"{about}{where} up to {worst:g} of 10, {when}"))
    more = [f"{len(told) - MOST_NAMED} more"] if len(told) > MOST_NAMED else []
    worst_first = [words for _, words in sorted(told)[:MOST_NAMED]]
    facts: dict[str, FactValue] = {"pains": "; ".join([*worst_first, *more])}
    return Reason(code="report_pain" if told else "report_no_pain", facts=facts)


def weighed_finding(case: CoachCase, energy: Energy, unit: Unit, end: date) -> Reason:
    """The trend of the last weigh-ins up to `end`."""
    weights = [(c.moment.day, c.value) for c in case.checkins if c.measure == "bodyweight"]
    trend = trend_of(weights, end)
    return weight_finding(trend, energy, unit) if trend else Reason(code="report_no_weight")


DAYS = 28  # Weigh-ins older than this say little of the rate now (judgement)
GIRTH_DAYS = 84
"""A tape is laid less often than a scale is stood on, and a girth moves slowly (judgement)."""
_LEAST, _LEAST_SHARE = 4, 0.36
"""Measurements, and the share of the days from the first to the last, without which no rate is told
(judgement)."""
_Z = NormalDist().inv_cdf(0.9)
_WANTED = {"surplus": "rises", "deficit": "falls", "maintenance": "level"}
_WEIGHT = {"rises": "weight_rises", "falls": "weight_falls", "level": "weight_level"}
_GIRTH = {"rises": "girth_rises", "falls": "girth_falls", "level": "girth_level"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """A straight line through measurements, by least squares."""

    seen: tuple[tuple[date, float], ...]  # Day and value, in time order
    value: float  # The line on the last day
    per_week: float
    spread: float  # Half of the 80 % interval of the rate

    @property
    def way(self) -> str:
        """Level where the interval holds no change."""
        if abs(self.per_week) <= self.spread:
            return "level"
        return "rises" if self.per_week > 0 else "falls"

    @property
    def ends(self) -> tuple[float, float]:
        """The 80 % interval of the rate, of a rise or fall without its sign."""
        low, high = self.per_week - self.spread, self.per_week + self.spread
        return (
            (low, high)
            if self.way == "level"
            else (min(abs(low), abs(high)), max(abs(low), abs(high)))
        )


def trend_of(measured: Sequence[tuple[date, float]], today: date, days: int = DAYS) -> Trend | None:
    """The trend of (day, value) in the `days` up to `today`; None for too few, or too close
    together."""
    since = today - timedelta(days=days)
    seen = sorted((day, value) for day, value in measured if since < day <= today)
    if len(seen) < _LEAST or (seen[-1][0] - seen[0][0]).days < _LEAST_SHARE * (days - 1):
        return None
    points = [(float((day - seen[0][0]).days), value) for day, value in seen]
    n = len(seen)
    middle, mean, slope = line_through(points)
    across = sum((day - middle) ** 2 for day, _ in points)
    left = sum((value - mean - slope * (day - middle)) ** 2 for day, value in points)
    error = sqrt(left / (n - 2) / across)
    return Trend(
        seen=tuple(seen),
        value=mean + slope * (points[-1][0] - middle),
        per_week=7 * slope,
        spread=7 * error * _student(n - 2),
    )


def _student(freedom: int) -> float:
    """The 90 % quantile of Student's t, by Fisher's expansion (within 2 % from two degrees on)."""
    first = (_Z**3 + _Z) / (4 * freedom)
    second = (5 * _Z**5 + 16 * _Z**3 + 3 * _Z) / (96 * freedom**2)
    return _Z + first + second


def weight_finding(trend: Trend, energy: Energy, unit: Unit) -> Reason:
    """What the trend of a body weight says, beside what the block's phase asks."""
    phase = "maintenance" if energy == "maintenance" else f"a {energy}"
    wanted = trend.way == _WANTED[energy]
    beside = f"as {phase} asks" if wanted else f"and the block is at {phase}"
    low, high = trend.ends
    return because(
        _WEIGHT[trend.way],
        kg=mass_text(trend.value, unit, 1),
        rate=mass_text(abs(trend.per_week), unit),
        low=number_text(in_unit(low, unit)),
        high=mass_text(high, unit),
        beside=beside,
        count=len(trend.seen),
        days=DAYS,
    )


def girth_finding(girth: Measure, trend: Trend, unit: Unit) -> Reason:
    """What the trend of a girth says; in inches for who works in pounds."""
    scale, word = (CM_PER_IN, "in") if unit == "lb" else (1.0, "cm")
    low, high = (number_text(end / scale, 2) for end in trend.ends)
    return because(
        _GIRTH[trend.way],
        girth=girth,
        now=f"{number_text(trend.value / scale, 1)} {word}",
        rate=f"{number_text(abs(trend.per_week) / scale, 2)} {word}",
        low=low,
        high=f"{high} {word}",
        count=len(trend.seen),
        weeks=GIRTH_DAYS // 7,
    )
