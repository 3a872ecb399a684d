"""The public answer to a log: a belief per lifter and lift, its history, its flags."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    Catalogue,
    Experience,
    Lift,
    SessionCapacity,
    SetDone,
    SetPlan,
)
from .belief import Interval, LiftBelief
from .bodyweights import Bodyweights
from .flags import Flag, flags_of
from .law import StrengthLaw, strength_law
from .observation_arrays import Series, columns_of
from .pooling import near_kin, worth
from .replay import Replayed, replayed
from .sessions import StrengthPoint, lost_since, session_capacities, strength_history, trend_of
from .state import X


@dataclass(frozen=True, slots=True)
class Beliefs:
    """Strength of every lifter and lift in a log, as of its end or of `through`."""

    replayed: Replayed
    sets: Sequence[SetDone]  # As given, cut after `through`
    catalogue: Catalogue
    policy: Policy
    through: date | None
    place: Mapping[Series, int]

    @property
    def series(self) -> tuple[Series, ...]:
        """Lifter and lift of every series in the log, sorted; some may have no evidence yet."""
        return self.replayed.columns.series

    def part(
        self, who: str | None, name: str | None, sets: Sequence[SetDone], offset: int
    ) -> "Beliefs":
        """One lifter's beliefs out of several's, under their own `name`; `sets` are theirs, which
        stood from `offset` on in the sets of all."""
        mine = [index for index, (whose, _) in enumerate(self.series) if whose == who]
        series = slice(mine[0], mine[-1] + 1) if mine else slice(0, 0)
        replayed = self.replayed.part(series, offset)
        columns = replace(
            replayed.columns, series=tuple((name, lift) for _, lift in replayed.columns.series)
        )
        return replace(
            self,
            replayed=replace(replayed, columns=columns),
            sets=sets,
            place={key: index for index, key in enumerate(columns.series)},
        )

    def likely_kg(self, wanted: Lift, asked: SetPlan, on: date) -> list[tuple[Lift, float]]:
        """Near kin of `wanted` in the log of one lifter, and its effective load for the asked
        range's bottom by each; one hand takes a share of what a bar does, and so does overhead."""
        found = []
        for _, name in self.series:
            kin, belief = self.catalogue.find(name), self.own(name)
            if kin is not None and belief is not None and near_kin(wanted, kin):
                load_kg = belief.load_kg_for(asked.reps_low, asked.rir, on=on)
                load_kg *= worth(wanted, self.policy) / worth(kin, self.policy)
                found.append((kin, load_kg))
        return found

    def last_day(self, lift: str, lifter: str | None = None) -> date | None:
        """Day of the lift's last set in the log."""
        index = self.place.get((self._lifter(lifter), lift))
        columns = self.replayed.columns
        last = None if index is None else columns.day[columns.first[index + 1] - 1]
        return None if last is None else date.fromordinal(int(last))

    def session_capacities(
        self, lift: str, lifter: str | None = None
    ) -> tuple[SessionCapacity, ...]:
        """Each session's capacity on the lift, in time order; see `sessions.session_capacities`."""
        index = self.place.get((self._lifter(lifter), lift))
        return () if index is None else session_capacities(self.replayed, index)

    def trend_pct_per_week(
        self, lift: str, lifter: str | None = None, *, learning_rule: bool = True
    ) -> Interval:
        """Percent a week, over the policy's window up to `as_of`; first exposures left out as
        learning unless `learning_rule` is False."""
        index = self.place[(self._lifter(lifter), lift)]
        return trend_of(
            session_capacities(self.replayed, index, reread=True),
            float(self.replayed.state.process_variance[index]),
            self.replayed.law,
            self.policy,
            learning_rule=learning_rule,
        )

    def flags(self, lift: str, lifter: str | None = None) -> tuple[Flag, ...]:
        """What a person should look at, in time order."""
        index = self.place.get((self._lifter(lifter), lift))
        return () if index is None else flags_of(self.replayed, index, self.sets)

    def history(self, lift: str, lifter: str | None = None) -> tuple[StrengthPoint, ...]:
        """The 1RM as it was believed after each session, and the sets behind it."""
        index = self.place.get((self._lifter(lifter), lift))
        return () if index is None else strength_history(self.replayed, index)

    def _lifter(self, lifter: str | None) -> str | None:
        if lifter is not None and any(who == lifter for who, _ in self.series):
            return lifter
        names = {who for who, _ in self.series}
        return next(iter(names)) if len(names) == 1 else lifter

    def own(self, lift: str, lifter: str | None = None) -> LiftBelief | None:
        """The belief from the lift's own sets, after a long break with what others done since say
        it cost; None before there is evidence."""
        who = self._lifter(lifter)
        index = self.place.get((who, lift))
        last = self.last_day(lift, lifter)
        if index is None or last is None or not self.replayed.state.started[index]:
            return None
        state = self.replayed.state.at(np.array([index]))
        mine = [place for (whose, _), place in self.place.items() if whose == who]
        if lost := lost_since(self.replayed, mine, index):
            mean = state.mean.copy()
            mean[X] += lost
            state = state.but(mean=mean)
        return LiftBelief(
            lifter=who,
            lift=lift,
            as_of=last if self.through is None else self.through,
            state=state,
            last_day=last,
            law=self.replayed.law,
        )


def replay(
    sets: Sequence[SetDone],
    catalogue: Catalogue,
    policy: Policy,
    *,
    bodyweights: Bodyweights | None = None,
    through: date | None = None,
    experience: Experience = "intermediate",
    law: StrengthLaw | None = None,
    keep_predictions: bool = False,
    aside: Collection[int] = (),
    roster: bool = False,
) -> Beliefs:
    """Everything the sets up to `through` (included) say of strength.

    `experience` sets the gain to expect before the log shows the lifter's own, and from where on a
    first set is asked about. `law` stands in for the policy's constants in studies.
    `keep_predictions` keeps what was expected of each set from the sets before it (the backtest
    needs it; 600 bytes a set). `aside`: indices of sets that are no evidence, because later ones
    show them to be mistyped (`outliers.unlike_later_sets`), which no earlier set can show; `sets`
    must then be in time order. `roster`: the lifters share a file, and tell one another of their
    endurance."""
    kept = sets if through is None else [s for s in sets if s.moment.day <= through]
    law = strength_law(policy, experience) if law is None else law
    weights = bodyweights or Bodyweights()
    columns = columns_of(kept, catalogue, policy, law.fatigue, weights, aside, experience)
    return Beliefs(
        replayed=replayed(columns, policy, law, keep_predictions=keep_predictions, roster=roster),
        sets=kept,
        catalogue=catalogue,
        policy=policy,
        through=through,
        place={key: index for index, key in enumerate(columns.series)},
    )
