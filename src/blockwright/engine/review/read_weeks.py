"""What kind of week it was: muscles that had too much, a bad week, bad days, or nothing; and what
follows for each lift (did it keep its level?), each muscle (did it recover?) and its ceiling.

A mixture over the states {no muscle, one, a pair, all} x bad week x up to two bad days, each a
Gaussian over the residuals y = ln capacity - level, with one covariance for all:

    cov = measurement + lift noise + one error a session + one a lift's level + one of the week
    mean = overreach x the lift's share x how far the week is on + bad week + bad day

The log-likelihood is tempered; answers about sleep, wellness and soreness weigh the states, and a
question nobody answered weighs nothing. The level is frozen while a week is read and then moves by
what the states do not explain, much further where a lift was done in a zone that is new to it: the
curve is corrected there, and no fall is seen. Weeks are read one after another; a ceiling learns
from each what its lifts said beyond what was believed before. Numbers: `review.read` in policy,
from a formulation measured on invented lifters (docs/review.md)."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import combinations

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.strength.mixture import normal_cdf
from blockwright.engine.volume import CeilingBelief, WeekRecovery
from blockwright.engine.volume.ceiling import LN_CEILINGS
from .week_state import SEVERAL, WeekFacts, WeekState, overreached

Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass
class _Memory:
    """What one week hands to the next."""

    ceilings: dict[str, CeilingBelief]
    levels: dict[str, tuple[float, date]] = field(default_factory=dict)
    muscles: dict[str, float] = field(default_factory=dict)
    everything: float = 0.0
    bad_week: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a lifter's weeks were, in order of time, and the ceilings after them."""

    states: tuple[WeekState, ...]
    ceilings: Mapping[str, CeilingBelief]


def read_weeks(
    weeks: Sequence[WeekFacts],
    ceilings: Mapping[str, CeilingBelief],
    policy: Policy,
    *,
    through: date,
) -> Reading:
    """The weeks in order of time; `ceilings` as believed before the first of them."""
    memory = _Memory(dict(ceilings))
    found = [_Reader(week, memory, policy).state() for week in weeks]
    after = {muscle: each.on(through, policy) for muscle, each in memory.ceilings.items()}
    return Reading(states=tuple(found), ceilings=after)


class _Reader:
    def __init__(self, week: WeekFacts, memory: _Memory, policy: Policy) -> None:
        self.week, self.memory, self.policy = week, memory, policy
        own = "review" if week.eased == "first" else "watch"
        gap = policy.days(f"{own}.gap_days")
        known = memory.levels
        self.seen = [
            one for one in week.seen if one.lift in known and one.day - known[one.lift][1] <= gap
        ]
        self.days = sorted({one.day for one in self.seen})
        self.muscles = sorted({m for one in self.seen for m, s in one.shares.items() if s >= 1})
        self._shares = {
            m: np.array([one.shares.get(m, 0.0) for one in self.seen]) for m in self.muscles
        }

    def n(self, name: str) -> float:
        return self.policy.number(f"review.read.{name}")

    def state(self) -> WeekState:
        over, over_prior, over_mean = self._overreach()
        bad, bad_prior, bad_mean = self._bad()
        asked = over_prior * self._answers(over)
        weights, shift = self._posterior(asked, over_mean, bad_prior, bad_mean)
        by_over, by_bad = weights.sum(axis=1), weights.sum(axis=0)
        single, before = (
            {m: float(sum(p for p, group in zip(shares, over, strict=True) if group and m in group))
             for m in self.muscles}
            for shares in (by_over, over_prior / over_prior.sum())
        )  # fmt: skip
        everything = float(sum(p for p, group in zip(by_over, over, strict=True) if group is None))
        days = {
            day: float(sum(p for p, (_, group) in zip(by_bad, bad, strict=True) if day in group))
            for day in self.days
        }
        week = float(sum(p for p, (is_bad, _) in zip(by_bad, bad, strict=True) if is_bad))
        y = self._residuals()
        days |= dict.fromkeys(self._said_and_shown(y), 1.0)
        kept = self._kept(weights, over_mean, bad_mean, y, days)
        self._remember(y, shift, single, everything, week)
        shown = {m: p if self._lay_low(m, y) else 0.0 for m, p in single.items()}
        state = WeekState(
            start=self.week.start,
            muscles=shown,
            everything=everything,
            bad_week=week,
            bad_days=days,
            shown={
                m: tuple(one.day for one in self.seen if one.shares.get(m, 0.0) >= 1
                         and not (one.gave and not self.week.sore.get(m)))
                for m in self.muscles
            },
            mean=float(y.mean()) if len(y) else None,
            otherwise=self._otherwise(y, days),
            kept=kept,
            recovered={m: self._trusted((1 - p - everything) * (1 - week))
                       for m, p in shown.items()},
        )  # fmt: skip
        self._learn(before, single, state)
        return state

    def _said_and_shown(self, y: Floats) -> list[date]:
        """Days that were said to be bad and whose lifts lay low; with nothing to compare it by, a
        day is as bad as it was said to be. Most days of a week are no days but the week."""
        trained = {one.day for one in self.week.seen}
        low = {day: [r for r, one in zip(y, self.seen, strict=True) if one.day == day]
               for day in sorted(trained) if self.week.noted.get(day)}  # fmt: skip
        found = [day for day, own in low.items()
                 if not own or float(np.mean(own)) <= self.n("weak_shown")]  # fmt: skip
        return found if 2 * len(found) <= len(trained) else []

    def _otherwise(self, y: Floats, bad: Mapping[date, float]) -> float | None:
        left = [r for r, o in zip(y, self.seen, strict=True) if bad[o.day] < self.n("act_from")]
        return float(np.mean(left)) if len(left) >= SEVERAL else None

    def _trusted(self, p: float) -> float:
        """The probability as far as its odds are trusted: logs follow no model of ours."""
        p = min(max(p, 1e-6), 1 - 1e-6)
        return float(1 / (1 + ((1 - p) / p) ** self.n("trust")))

    def _kept(
        self, weights: Floats, over_mean: Floats, bad_mean: Floats, y: Floats,
        bad: Mapping[date, float],
    ) -> dict[str, float]:  # fmt: skip
        """By lift: what each state does to it and how far it strays by itself, met by what was
        measured, on bad days only where it had no other."""
        fall = self.policy.number("review.meaningful_fall")
        found = {}
        for lift in sorted({one.lift for one in self.seen}):
            mine = [i for i, one in enumerate(self.seen) if one.lift == lift]
            at = [i for i in mine if bad[self.seen[i].day] < self.n("act_from")] or mine
            measured = float(np.mean([self.seen[i].variance for i in at])) / len(at)
            measured += self.n("level_sd") ** 2
            own = self.n("lift_sd") ** 2 + self.policy.number("review.common_sd") ** 2
            gain = own / (own + measured)
            effect = over_mean[:, at].mean(axis=1)[:, None] + bad_mean[:, at].mean(axis=1)[None, :]
            middle = effect + gain * (float(y[at].mean()) - effect)
            above = normal_cdf((middle + fall) / np.sqrt(own * (1 - gain)))
            found[lift] = float((weights * above).sum())
        return found

    def _learn(
        self, before: Mapping[str, float], after: Mapping[str, float], state: WeekState
    ) -> None:
        """Each ceiling from the odds that the week added to those that were believed of it; it has
        failed where the week is read so."""
        over = overreached(state, self.policy)
        for muscle, p in after.items():
            sets, prior = self.week.sets.get(muscle, 0.0), before[muscle]
            if sets <= 0 or not 0 < prior < 1:
                continue
            against, forth = p * (1 - prior), (1 - p) * prior
            seen = WeekRecovery(
                day=self.week.start + timedelta(days=6),
                sets=sets,
                p_recovered=forth / (against + forth),
            )
            old = self.memory.ceilings[muscle]
            self.memory.ceilings[muscle] = replace(
                old.after(seen, self.policy), failure_seen=old.failure_seen or muscle in over
            )

    def _lay_low(self, muscle: str, y: Floats) -> bool:
        """Whether the lifts of a muscle show it: lifts that were much too light and went far up
        make all others look low beside them."""
        own = [float(r) for r, o in zip(y, self.seen, strict=True) if o.shares.get(muscle, 0) >= 1]
        return sum(own) <= self.n("weak_shown") * len(own)

    def _residuals(self) -> Floats:
        return np.array([o.ln_capacity - self.memory.levels[o.lift][0] for o in self.seen])

    # ------------------------------------------------------------------------- states and priors

    def _overreach(self) -> tuple[list[tuple[str, ...] | None], Floats, Floats]:
        """Groups of muscles (None: all), their priors before anybody is asked, and what each does
        to every residual; each group twice, as new (small) and as standing (large)."""
        q = {m: self._prior_of(m) for m in self.muscles}
        none = float(np.prod([1 - p for p in q.values()])) if q else 1.0
        odds = {m: p / (1 - p) for m, p in q.items()}
        whole = self.n("whole_body") + self.n("persists") * self.memory.everything
        groups: list[tuple[str, ...] | None] = [()]
        prior, mean = [none], [np.zeros(len(self.seen))]
        small, large, share = self.n("overreach_new"), self.n("overreach_standing"), 0.5
        pairs = [*((m,) for m in self.muscles), *combinations(self.muscles, 2)]
        for group in pairs:
            p = none * float(np.prod([odds[m] for m in group]))
            stood = max(self.memory.muscles.get(m, 0.0) for m in group)
            standing = share + (1 - share) * stood
            effect = self._effect(group)
            groups += [group, group]
            prior += [p * (1 - standing), p * standing]
            mean += [small * effect, large * effect]
        groups.append(None)
        prior.append(whole * (1 - none) if self.muscles else 0.0)
        mean.append(large * self._ramp())
        return groups, np.array(prior), np.array(mean)

    def _answers(self, groups: Sequence[tuple[str, ...] | None]) -> Floats:
        """How much more probable soreness and wellness make each group."""
        worse = self._wellness(self.n("worse_overreach"))
        return np.array([
            1.0 if group == () else worse * float(np.prod([self._soreness(m) for m in group or ()]))
            for group in groups
        ])  # fmt: skip

    def _prior_of(self, muscle: str) -> float:
        """P(the muscle has too much), before its lifts are looked at: never a cut by itself."""
        stands = self.memory.muscles.get(muscle, 0.0)
        kept = {"light": "after_light", "deload": "after_deload"}.get(self.week.eased or "")
        persists = self.n(kept) if kept is not None else self.n("persists")
        sets = self.week.sets.get(muscle, 0.0)
        new = 0.0
        if sets > 0:
            ceiling = self.memory.ceilings[muscle]
            over = normal_cdf((np.log(sets) - LN_CEILINGS) / self.n("ceiling_width"))
            new = min(float(ceiling.weights @ over), self.n("most_new"))
        return min(stands * persists + (1 - stands) * new, 0.95) if sets > 0 else 0.01

    def _soreness(self, muscle: str) -> float:
        sore = self.week.sore.get(muscle)
        if sore is None:
            return 1.0
        yes, no = self.n("sore_overreach"), self.n("sore_else")
        return yes / no if sore else (1 - yes) / (1 - no)

    def _wellness(self, rate: float) -> float:
        if self.week.worse is None:
            return 1.0
        usual = self.n("worse_else")
        return rate / usual if self.week.worse else (1 - rate) / (1 - usual)

    def _effect(self, group: tuple[str, ...]) -> Floats:
        return np.minimum(sum(self._shares[m] for m in group), 1.0) * self._ramp()

    def _ramp(self) -> Floats:
        """How much of an overreach shows by the day: it grows through the week."""
        first = self.n("ramp_from")
        on = np.array([(o.day - self.week.start).days / 6 for o in self.seen])
        return first + (1 - first) * on

    def _bad(self) -> tuple[list[tuple[bool, tuple[date, ...]]], Floats, Floats]:
        usual, after = self.n("bad_week"), self.n("bad_week_again")
        p_week = usual + (after - usual) * self.memory.bad_week
        p_week_odds = p_week / (1 - p_week) * self._wellness(self.n("worse_bad_week"))
        odds = {day: self._day_odds(day) for day in self.days}
        groups: list[tuple[date, ...]] = [
            (), *((d,) for d in self.days), *combinations(self.days, 2),
        ]  # fmt: skip
        states, prior, mean = [], [], []
        for is_bad in (False, True):
            for group in groups:
                on = np.array([o.day in group for o in self.seen], dtype=float)
                states.append((is_bad, group))
                prior.append(
                    (p_week_odds if is_bad else 1.0) * float(np.prod([odds[d] for d in group]))
                )
                mean.append(self.n("day_fall") * on + (self.n("week_fall") if is_bad else 0.0))
        return states, np.array(prior), np.array(mean).reshape(len(states), len(self.seen))

    def _day_odds(self, day: date) -> float:
        p, said = self.n("bad_day"), self.week.noted.get(day)
        yes, no = self.n("noted_bad"), self.n("noted_else")
        factor = 1.0 if said is None else yes / no if said else (1 - yes) / (1 - no)
        return p / (1 - p) * factor

    # -------------------------------------------------------------------------------- likelihood

    def _covariance(self) -> Floats:
        lifts = np.array([o.lift for o in self.seen])
        days = np.array([o.day.toordinal() for o in self.seen])
        new = np.array([o.new_zone for o in self.seen], dtype=float)
        own = np.array([o.variance for o in self.seen]) + self.n("lift_sd") ** 2
        cov = np.diag(own) + self.policy.number("review.common_sd") ** 2
        cov += self.policy.number("strength.day_sd") ** 2 * (days[:, None] == days[None, :])
        same_lift = lifts[:, None] == lifts[None, :]
        cov += self.n("level_sd") ** 2 * same_lift
        both = np.outer(new, new)
        return np.asarray(cov + self.n("new_zone_sd") ** 2 * both * (1 + same_lift))

    def _posterior(
        self, over_prior: Floats, over_mean: Floats, bad_prior: Floats, bad_mean: Floats
    ) -> tuple[Floats, Floats]:
        """Weights by (overreach, bad), and the expected effect on each residual."""
        with np.errstate(divide="ignore"):
            log_prior = np.log(over_prior)[:, None] + np.log(bad_prior)[None, :]
        if not self.seen:
            weights = np.exp(log_prior - log_prior.max())
            return weights / weights.sum(), np.zeros(0)
        y = self._residuals()
        white = np.linalg.inv(np.linalg.cholesky(self._covariance()))
        a, b = (y - over_mean) @ white.T, bad_mean @ white.T
        square = (a**2).sum(axis=1)[:, None] - 2 * a @ b.T + (b**2).sum(axis=1)[None, :]
        log = log_prior - 0.5 * self.n("temper") * square
        weights = np.exp(log - log.max())
        weights /= weights.sum()
        shift = weights.sum(axis=1) @ over_mean + weights.sum(axis=0) @ bad_mean
        return weights, shift

    # ------------------------------------------------------------------------------------ levels

    def _remember(
        self,
        y: Floats,
        shift: Floats,
        muscles: dict[str, float],
        everything: float,
        bad_week: float,
    ) -> None:
        memory = self.memory
        memory.muscles, memory.everything, memory.bad_week = muscles, everything, bad_week
        rest = y - shift
        common = float(rest.mean()) if len(rest) else 0.0
        moved: dict[str, list[tuple[float, bool]]] = {}
        for one, left in zip(self.seen, rest.tolist(), strict=True):
            moved.setdefault(one.lift, []).append((left, one.new_zone))
        for lift, parts in moved.items():
            mean = sum(left for left, _ in parts) / len(parts)
            own = self.n("gain_new_zone" if any(new for _, new in parts) else "gain_own")
            step = self.n("gain_common") * common + own * (mean - common)
            memory.levels[lift] = (memory.levels[lift][0] + step, memory.levels[lift][1])
        fresh: dict[str, list[float]] = {}
        for one in self.week.seen:
            if one.lift not in moved:
                fresh.setdefault(one.lift, []).append(one.ln_capacity)
        for lift, capacities in fresh.items():
            memory.levels[lift] = (sum(capacities) / len(capacities), date.min)
        for one in self.week.seen:
            level, day = memory.levels[one.lift]
            memory.levels[one.lift] = (level, max(day, one.day))
