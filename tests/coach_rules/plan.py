"""A block's JSON, its lifter, the catalogue and the log, as a coach who reads them sees them.

Reads documents only and imports nothing of the engine: what is checked here must not be computed
by what it checks.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from statistics import median
from typing import Any

Document = Mapping[str, Any]

KNEE = ("squat", "lunge")
HIP = ("hinge", "hip extension", "back extension")
PRESS = ("horizontal press", "incline press", "dip")
OVERHEAD = ("overhead press",)
ROW = ("row",)
VERTICAL = ("vertical pull",)
PUSH = (*PRESS, *OVERHEAD)
PULL = (*ROW, *VERTICAL)
LEG_CURL = ("knee flexion",)
TRAINED_FOR = {
    "knee": ("quads",), "hip": ("glutes", "hamstrings"), "leg curl": ("hamstrings",),
    "press": ("chest",), "row": ("lats", "upper_back"), "pull": ("lats", "upper_back"),
}  # fmt: skip
"""What a coach trains a basic pattern for: with all of it on hold, nobody asks for more."""
RAISES = ("lateral raise", "rear delt raise", "front raise")
LOG_DAYS = 28
PAIN_COUNTS = 3.0


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at: rule, whether it is kept, and where it is not."""

    rule: int
    kept: bool
    words: str
    week: int | None = None
    session: int | None = None


@dataclass(frozen=True, slots=True)
class Lift:
    """One lift of `lifts --json`, or of the lifter's own."""

    name: str
    muscles: Mapping[str, float]
    pattern: str
    kit: tuple[str, ...]
    main: bool
    axial: int
    stability: str
    family: str
    angle: str
    plainness: int
    load_kind: str
    share: float
    reps: tuple[tuple[int, int], ...]
    regions: Mapping[str, int]

    @property
    def direct(self) -> tuple[str, ...]:
        return tuple(muscle for muscle, share in self.muscles.items() if share >= 1)

    @property
    def loadable(self) -> bool:
        """Loads in steps one can use: not bands, not a share of the body."""
        if self.load_kind in ("external", "per_hand"):
            return bool(self.kit) and "bands" not in self.kit
        return self.share >= 1


def range_of(text: str) -> tuple[int, int]:
    low, high = text.split("-")
    return int(low), int(high)


@dataclass(frozen=True, slots=True)
class Entry:
    """A lift in a session of one week."""

    lift: Lift
    sets: Sequence[Document]
    method: str
    rest_s: int
    order: int

    @property
    def count(self) -> int:
        return len(self.sets)

    @property
    def reps(self) -> tuple[int, int]:
        return self.sets[0]["reps_low"], self.sets[0]["reps_high"]

    @property
    def low(self) -> bool:
        """A heavy exposure: repetitions of the low zone."""
        return self.reps[1] <= 8

    @property
    def load_kg(self) -> float | None:
        load: float | None = self.sets[0]["load_kg"]
        return load


@dataclass(frozen=True, slots=True)
class Session:
    number: int
    day: date
    start: str
    available: float
    planned: float
    entries: tuple[Entry, ...]

    @property
    def hour(self) -> float:
        hours, minutes = self.start.split(":")
        return 24 * self.day.weekday() + int(hours) + int(minutes) / 60

    def of(self, patterns: Iterable[str], *, main: bool = True) -> list[Entry]:
        return [e for e in self.entries if e.lift.pattern in patterns and e.lift.main >= main]


@dataclass(frozen=True, slots=True)
class Week:
    number: int
    kind: str
    rir: float
    sessions: tuple[Session, ...]
    muscle_sets: Mapping[str, Document]

    @property
    def entries(self) -> list[Entry]:
        return [entry for session in self.sessions for entry in session.entries]

    @property
    def set_count(self) -> int:
        return sum(entry.count for entry in self.entries)


@dataclass(frozen=True, slots=True)
class LogSet:
    day: date
    lift: str
    load_kg: float
    reps: float
    rir: float | None
    pain: float


@dataclass(frozen=True)
class Plan:
    """Everything there is to read about one composed block."""

    block: Document
    weeks: tuple[Week, ...]
    catalogue: Mapping[str, Lift]
    names: Mapping[str, str]
    """Lower-case name or alias to the catalogue's name."""
    log: tuple[LogSet, ...] = ()
    pains: tuple[tuple[date, str, float], ...] = ()
    minutes_logged: tuple[tuple[date, float], ...] = ()

    @property
    def lifter(self) -> Document:
        return self.block["lifter"]  # type: ignore[no-any-return]

    @cached_property
    def builds(self) -> tuple[Week, ...]:
        return tuple(week for week in self.weeks if week.kind == "build")

    @property
    def first(self) -> Week:
        return self.builds[0]

    @property
    def last(self) -> Week:
        return self.builds[-1]

    @property
    def deload(self) -> Week | None:
        return self.weeks[-1] if self.weeks[-1].kind == "deload" else None

    @property
    def start(self) -> date:
        return date.fromisoformat(self.block["start"])

    # ------------------------------------------------------------------ what the lifter asks

    def emphasis(self, muscle: str) -> str:
        return self.lifter.get("emphasis", {}).get(muscle, "normal")  # type: ignore[no-any-return]

    def leads(self) -> list[str]:
        return [m for m in self.last.muscle_sets if self.emphasis(m) == "lead"]

    def is_leads(self, lift: Lift) -> bool:
        return any(self.emphasis(muscle) == "lead" for muscle in lift.direct)

    def on_hold(self, lift: Lift) -> bool:
        return any(self.emphasis(muscle) == "hold" for muscle in lift.direct)

    @cached_property
    def pinned(self) -> frozenset[str]:
        return frozenset(self.known_name(pin["lift"]) for pin in self.lifter.get("pin", []))

    def known_name(self, typed: str) -> str:
        return self.names.get(typed.strip().lower(), typed)

    @property
    def slots(self) -> list[Document]:
        return list(self.lifter["slot"])

    @property
    def weekly_minutes(self) -> float:
        return float(sum(slot["minutes"] for slot in self.slots))

    def allows(self, what: str) -> bool:
        return bool(self.lifter.get("allow", {}).get(what, what == "high_reps"))

    # ---------------------------------------------------------------------- where it can

    @cached_property
    def available(self) -> tuple[Lift, ...]:
        """Lifts the kit serves that no limit, avoid or skip forbids."""
        limits = self.lifter.get("limits", {})
        avoided = {self.known_name(name) for name in limits.get("avoid_lifts", [])}
        patterns = set(limits.get("avoid_patterns", []))
        kit = {word.lower() for word in self.lifter["gym"]["kit"]}
        return tuple(
            lift
            for lift in self.catalogue.values()
            if all(word.lower() in kit for word in lift.kit)
            and lift.name not in avoided
            and lift.pattern not in patterns
            and not any(self.emphasis(muscle) == "skip" for muscle in lift.direct)
        )

    def can(self, patterns: Iterable[str], *, main: bool = True, hold: bool = True) -> bool:
        """Whether a lift of these patterns is there; `hold` False wants one not on hold."""
        wanted = tuple(patterns)
        return any(
            lift.pattern in wanted
            and (lift.main or not main or lift.pattern == "back extension")
            and (hold or not self.on_hold(lift))
            and not self.hurts(lift)
            and not self.is_avoided_again(lift)
            for lift in self.available
        )

    def is_avoided_again(self, lift: Lift) -> bool:
        """Whether a lift is in all but name one that a limit avoids (rule 17)."""
        names = self.lifter.get("limits", {}).get("avoid_lifts", [])
        avoided = [self.catalogue[name] for name in map(self.known_name, names)
                   if name in self.catalogue]  # fmt: skip
        return lift.name not in self.logged_lifts and any(
            lift.family == other.family and lift.angle == other.angle
            and lift.axial >= max(other.axial, 1) and set(lift.kit) & set(other.kit)
            for other in avoided
        )  # fmt: skip

    def may_grow(self, name: str, patterns: Iterable[str], *, main: bool = True) -> bool:
        """Whether a basic pattern is there and what it is trained for is not on hold."""
        held = all(self.emphasis(m) in ("hold", "skip") for m in TRAINED_FOR[name])
        return not held and self.can(patterns, main=main, hold=False)

    def hurts(self, lift: Lift) -> bool:
        """Whether a check-in of pain names a region the lift loads much, or the lift."""
        return any(lift.regions.get(place, 0) >= 2 or place == lift.name
                   for place in self.painful)  # fmt: skip

    @cached_property
    def painful(self) -> frozenset[str]:
        recent = self.start - timedelta(days=LOG_DAYS)
        found = set()
        for day, about, value in self.pains:
            if day >= recent and value >= PAIN_COUNTS:
                words = about.lower().replace(" ", "_")
                found |= {r for r in _REGIONS if r in words} or {self.known_name(about)}
        return frozenset(found)

    # --------------------------------------------------------------------------- the log

    @cached_property
    def recent(self) -> tuple[LogSet, ...]:
        """Work sets of the log's last 28 days, none if it ended 28 days before the start."""
        before = [row for row in self.log if row.day < self.start]
        if not before or (self.start - max(row.day for row in before)).days > LOG_DAYS:
            return ()
        since = max(row.day for row in before) - timedelta(days=LOG_DAYS - 1)
        return tuple(row for row in before if row.day >= since)

    @cached_property
    def log_weeks(self) -> float:
        days = [row.day for row in self.recent]
        return max(1, min(4, math.ceil(((max(days) - min(days)).days + 1) / 7))) if days else 1

    @cached_property
    def logged_sets(self) -> dict[str, float]:
        """Muscle to weighted sets a week."""
        sums: dict[str, float] = defaultdict(float)
        for row in self.recent:
            lift = self.catalogue.get(row.lift)
            for muscle, share in lift.muscles.items() if lift else ():
                sums[muscle] += share / self.log_weeks
        return dict(sums)

    @cached_property
    def logged_lifts(self) -> dict[str, list[list[LogSet]]]:
        """Lift to its sets by day."""
        by_day: dict[str, dict[date, list[LogSet]]] = defaultdict(lambda: defaultdict(list))
        for row in self.recent:
            by_day[row.lift][row.day].append(row)
        return {name: list(days.values()) for name, days in by_day.items()}

    def usual_sets(self, name: str) -> float:
        return median(len(day) for day in self.logged_lifts[name])

    def usual_reps(self, name: str) -> float:
        return median(row.reps for day in self.logged_lifts[name] for row in day)

    def reps_to_plan(self, lift: Lift) -> float:
        """The usual repetitions within what the lift may be planned with: where a main lift loads
        in steps, more than fifteen ask for more load (rule 3)."""
        least, most = min(r[0] for r in lift.reps), max(r[1] for r in lift.reps)
        if lift.main and lift.loadable:
            most = max(least, min(most, MOST_MAIN_REPS))
        return min(max(self.usual_reps(lift.name), least), most)

    def says(self, name: str) -> bool:
        """Whether a reason names this lift, and not only its load, its day or its deload."""
        longer = sorted((n for n in self.catalogue if name in n and n != name), key=len)
        for reason in self.block["reasons"]:
            if reason["code"].startswith(_NO_REASONS):
                continue
            words = " ".join([reason["says"], *map(str, reason["facts"].values())])
            for other in reversed(longer):
                words = words.replace(other, "")
            if name in words:
                return True
        return False

    def pairs(self) -> Iterator[tuple[Session, Entry, Entry]]:
        """Every entry of week one with its own of the last build week."""
        ends = {(s.day.weekday(), s.start, e.lift.name, e.reps): e
                for s in self.last.sessions for e in s.entries}  # fmt: skip
        for session in self.first.sessions:
            for entry in session.entries:
                end = ends.get((session.day.weekday(), session.start, entry.lift.name, entry.reps))
                if end is not None:
                    yield session, entry, end


MOST_MAIN_REPS = 15
_NO_REASONS = ("load", "smallest_step", "deload", "day_", "method", "effort", "pinned")
_REGIONS = (
    "neck", "shoulder", "elbow", "wrist", "upper_back", "lower_back", "hip", "knee", "ankle",
)  # fmt: skip


def neighbours(one: Session, other: Session) -> bool:
    """Whether two sessions of a week are on days next to each other, Sunday to Monday too."""
    return abs(one.day.weekday() - other.day.weekday()) in (1, 6)
