"""What happened to one session, as a coach or the lifter says it."""

from dataclasses import dataclass

from blockwright.engine.pain import MUCH
from blockwright.engine.training import Catalogue, Lift
from blockwright.engine.units import spoken


@dataclass(frozen=True, slots=True, kw_only=True)
class Disruption:
    """Exactly one of `minutes`, `missed`, `without`, `sore` and `hurts` is given."""

    week: int
    session: int
    minutes: int | None = None
    missed: bool = False
    without: tuple[str, ...] = ()  # Canonical lift names
    sore: tuple[str, ...] = ()  # Muscles
    hurts: tuple[str, ...] = ()
    """Canonical lift names: left out for the rest of the week, never carried."""
    region: str = ""  # Where it hurts (one of `lifts.REGIONS`); "" when nobody said
    stand_ins: tuple[str, ...] = ()  # Lifts that may come in for those that hurt
    logged: bool = True  # Whether there is a log or check-in to read pain from
    held: frozenset[str] = frozenset()
    """Lifts that gain no set, by what was logged of pain and signs."""
    stopped: frozenset[str] = frozenset()
    """Lifts that pain stops, by the log: left out like those that hurt, and nothing comes in."""

    def takes(self, lift: str) -> bool:
        """Whether a lift of the session cannot be done today."""
        return self.missed or lift in self.without or self.pains(lift)

    def pains(self, lift: str) -> bool:
        """Whether a lift is left out for the rest of the week."""
        return lift in self.hurts or lift in self.stopped

    def spares(self, lift: Lift, catalogue: Catalogue) -> bool:
        """Whether a lift may stand in: it does not hurt, nor load much the place that does."""
        is_well = not self.pains(lift.name) and lift.name not in self.held
        return is_well and self._load_on_pain(lift, catalogue) < MUCH

    def lets_grow(self, lift: Lift, catalogue: Catalogue) -> bool:
        """Whether a lift may gain sets: it may stand in, and leaves the place that hurts alone."""
        return self.spares(lift, catalogue) and not self._load_on_pain(lift, catalogue)

    def _load_on_pain(self, lift: Lift, catalogue: Catalogue) -> int:
        """How much a lift loads the place that hurts; where nobody said which, of any place that a
        lift which hurts loads much the most."""
        painful = catalogue.known(self.hurts)
        regions = {self.region} if self.region else {
            region for one in painful for region, grade in one.regions.items() if grade >= MUCH
        }  # fmt: skip
        return max((lift.regions.get(region, 0) for region in regions), default=0)

    @property
    def words(self) -> tuple[str, dict[str, str | int]]:
        """A code and facts that say what happened."""
        if self.missed:
            return "replan_missed", {}
        if self.minutes is not None:
            return "replan_minutes", {"minutes": self.minutes}
        if self.without:
            return "replan_without", {"lifts": ", ".join(self.without)}
        if self.hurts:
            return "replan_hurts", {"lifts": ", ".join(self.hurts)}
        return "replan_sore", {"muscles": ", ".join(spoken(m) for m in self.sore)}
