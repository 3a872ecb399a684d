"""Loads a log of sets and, where given, the lifter it belongs to: the start of every estimate."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from blockwright.engine.errors import Problem
from blockwright.engine.policy import Policy
from blockwright.engine.strength import Beliefs, Bodyweights, replay
from blockwright.engine.training import Catalogue, CheckIn, Lifter, SetDone
from blockwright.engine.units import Unit
from blockwright.files.catalogue import builtin_catalogue, catalogue_for
from blockwright.files.lifter_file import read_lifter
from blockwright.files.policy_files import policy_under
from blockwright.files.sets_file import read_sets


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadLog:
    """A log, whose it is, and what reading it made us assume."""

    sets: tuple[SetDone, ...]
    lifter: Lifter | None
    catalogue: Catalogue
    policy: Policy
    warnings: tuple[Problem, ...] = ()
    weigh_ins: tuple[CheckIn, ...] = ()

    @property
    def unit(self) -> Unit:
        """The unit answers are shown in."""
        return self.lifter.units if self.lifter else "kg"

    def bodyweights(self) -> Bodyweights:
        """The weigh-ins, before them the lifter file's bodyweight: of its lifter, or of the only
        person in the log."""
        if self.lifter is None:
            return Bodyweights()
        alone = len({one.lifter for one in self.sets}) <= 1
        whose = None if alone else self.lifter.name
        return Bodyweights(self.lifter.bodyweight_kg, whose, self.weigh_ins)

    def beliefs(
        self,
        *,
        through: date | None = None,
        keep_predictions: bool = False,
        hindsight: bool = False,
    ) -> Beliefs:
        """The log through the filter; `hindsight` as in `replay`."""
        return replay(
            self.sets,
            self.catalogue,
            self.policy,
            bodyweights=self.bodyweights(),
            through=through,
            experience=self.lifter.experience if self.lifter else "intermediate",
            keep_predictions=keep_predictions,
            hindsight=hindsight,
        )


def read_log(sets_file: Path, lifter_file: Path | None, coach: Path | None = None) -> ReadLog:
    """Reads both files; raises BadInput with every problem of the first that has any."""
    policy, lifter, catalogue = policy_under(coach), None, builtin_catalogue()
    warnings: tuple[Problem, ...] = ()
    if lifter_file is not None:
        reading = read_lifter(lifter_file, policy)
        lifter, warnings = reading.value, reading.warnings
        policy = policy.overridden(lifter.policy, "lifter")
        catalogue = catalogue_for(lifter)
    sets = read_sets(sets_file, catalogue, lifter)
    return ReadLog(
        sets=sets.value,
        lifter=lifter,
        catalogue=catalogue,
        policy=policy,
        warnings=warnings + sets.warnings,
    )
