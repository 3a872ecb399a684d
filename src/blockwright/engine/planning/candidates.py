"""Which lifts are worth offering: usable, fitting the lifter, and a short list a role.

`waive` leaves out rules by name; the clash finder asks "would it work without this one?". Names:
`kit`, `avoid lift:NAME`, `avoid pattern:NAME`, `skip:MUSCLE`, `lead:MUSCLE`, `pin:NUMBER`,
`slot:NUMBER`, `lifts a session`, `high repetitions`."""

from collections.abc import Collection, Iterable, Sequence

from blockwright.engine.rack import rack_for
from blockwright.engine.screening import begins_gently, has_pressure, is_new
from blockwright.engine.training import MUSCLES, Catalogue, Lift, Lifter, RepRange, Zone
from .limits import PlanningLimits
from .log_facts import HEAVY_REPS, MOST_MAIN_REPS, LogFacts
from .patterns import (
    ALONG,
    LEAD_BASIC,
    basic_of,
    is_loadable,
    is_on_the_arms,
    is_unloadable,
    main_muscle,
)

_MAINS_A_BASIC = 3
_SMALL_A_MUSCLE = {"lead": 3, "normal": 2, "hold": 1, "skip": 0}
_MUCH_SKILL, _USUAL_LIFT = 3, 2
_IN_HAND = {"dumbbells", "kettlebells", "bench", "box"}
_TRAINED_ALONG = ("lats", "upper_back", "glutes", "quads", "chest")
"""Large muscles that main lifts train: at normal one small lift is offered, if any."""


def usable_lifts(
    lifter: Lifter, catalogue: Catalogue, waive: Collection[str] = ()
) -> tuple[Lift, ...]:
    """Lifts the kit allows and nobody avoids, in catalogue order."""
    return tuple(
        lift
        for lift in catalogue.lifts.values()
        if all(rule in waive for rule in rules_against(lift, lifter, catalogue))
    )


def rules_against(lift: Lift, lifter: Lifter, catalogue: Catalogue) -> tuple[str, ...]:
    """Names of the lifter's rules that forbid a lift; empty when it is usable."""
    found = []
    if any(word not in lifter.gym.kit for word in lift.kit):
        found.append("kit")
    for name in lifter.limits.avoid_lifts:
        if catalogue.canonical(name) == lift.name:
            found.append(f"avoid lift:{name}")
    for name in lifter.limits.avoid_patterns:
        if name.strip().lower() == lift.pattern.lower():
            found.append(f"avoid pattern:{name}")
    for muscle in lift.direct:
        if lifter.emphasis_of(muscle) == "skip":
            found.append(f"skip:{muscle}")
    if lift.moves_body and lifter.bodyweight_kg is None:
        found.append("bodyweight")
    return tuple(found)


def is_careful(lifter: Lifter, log: LogFacts, limits: PlanningLimits) -> bool:
    """Whether easier lifts come first: a novice, or older and without a log."""
    if is_new(lifter):
        return True
    return not log and is_older(lifter, limits)


def is_older(lifter: Lifter, limits: PlanningLimits) -> bool:
    """Of the age from which lifts are chosen with care; False where it is not said."""
    if lifter.born is None or lifter.start is None:
        return False
    return lifter.start.year - lifter.born >= limits.count("older_years")


class Candidates:
    """The short lists of one lifter."""

    def __init__(
        self,
        lifter: Lifter,
        lifts: Sequence[Lift],
        log: LogFacts,
        limits: PlanningLimits,
        wanted: Collection[str],
        known: Collection[str],
        sore: Collection[str] = (),
        *,
        wide: bool = False,
    ) -> None:
        """`wide` makes the lists long: every lift that fits, the best first."""
        self.wide = wide
        self.lifter, self.limits, self.log = lifter, limits, log
        self.wanted = frozenset(wanted)
        """Liked, pinned, kept, logged or known: always offered, whatever the filter says."""
        self.known, self.sore = frozenset(known), frozenset(sore)
        self.careful = is_careful(lifter, log, limits)
        squats = [x for x in lifts if x.pattern == "squat" and x.name in known]
        self._squats = any("bar" in x.kit for x in squats)
        """With a bar: what the hands hold is too light beside it."""
        self.by_basic: dict[str, list[Lift]] = {}
        self.by_muscle: dict[str, list[Lift]] = {}
        self.others: list[Lift] = []
        for lift in lifts:
            if not self._is_new_on_hold(lift, lifts):
                self._sort_in(lift)
        leads = {m for m in MUSCLES if lifter.emphasis_of(m) == "lead"}
        self._all = tuple(lifts)
        self.lead_basics = {basic for muscle, basic in LEAD_BASIC.items() if muscle in leads}
        for name, found in self.by_basic.items():
            self.by_basic[name] = self._usual(self._fitting(found), name in self.lead_basics)
        direct = {m for found in self.by_basic.values() for lift in found for m in lift.direct}
        self._along = direct & set(_TRAINED_ALONG)
        for name, found in self.by_muscle.items():
            self.by_muscle[name] = self._usual(self._fitting(found), name in leads)

    def _sort_in(self, lift: Lift) -> None:
        basic = basic_of(lift)
        if basic is not None:
            self.by_basic.setdefault(basic, []).append(lift)
        elif lift.compound:
            if lift.name in self.wanted:
                self.others.append(lift)
        else:
            self.by_muscle.setdefault(main_muscle(lift), []).append(lift)

    def _is_new_on_hold(self, lift: Lift, lifts: Sequence[Lift]) -> bool:
        """Whether it is for a muscle on hold and no lead, beside what the log has for it."""
        muscle, asked = main_muscle(lift), {self.lifter.emphasis_of(m) for m in lift.direct}
        if self.lifter.emphasis_of(muscle) != "hold" or "lead" in asked or lift.name in self.wanted:
            return False
        done = [x for x in lifts if x.name in self.log.lifts and muscle in x.direct]
        return any(not lift.compound or basic_of(x) == basic_of(lift) for x in done)

    # --------------------------------------------------------------------------- fitness

    def _fitting(self, lifts: list[Lift]) -> list[Lift]:
        """Without what does not suit the lifter, where enough is left; wanted lifts stay."""
        left = list(lifts)
        for unsuited, enough in (
            (self._too_light, 2),
            (self._too_much, 2),
            (self._odd, 2),
            (is_unloadable, 1),
            (self._unproved, 1),
        ):
            fine = [lift for lift in left if lift.name in self.wanted or not unsuited(lift)]
            loaded = sum(1 for lift in fine if not is_unloadable(lift))
            if loaded >= enough:
                left = fine
        return left

    def _usual(self, lifts: list[Lift], two_angles: bool) -> list[Lift]:
        """Without what few would choose, where enough is left."""
        usual = [lift for lift in lifts if self._is_usual(lift)]
        angles = {x.angle for x in usual if not (x.compound and is_unloadable(x))}
        return usual if len(angles) > two_angles and not self.wide else lifts

    def _too_much(self, lift: Lift) -> bool:
        if not self.careful:
            return False
        free_leg = lift.pattern == "lunge" and lift.stability == "free"
        return (lift.compound and lift.axial >= 2) or free_leg or lift.skill >= _MUCH_SKILL

    def _too_light(self, lift: Lift) -> bool:
        """Whether all the hands can hold is soon too little for two legs: one has more of it."""
        held = set(lift.kit) <= _IN_HAND and not lift.moves_body
        body_kg = self.lifter.bodyweight_kg
        if not held or body_kg is None or lift.role != "main":
            return False
        most = rack_for(lift, self.lifter.gym, self.limits.policy).at_most(body_kg)
        share = self.limits.share("hands_share" if self.careful else "hands_share_trained")
        light = most is None or most.load_kg < share * body_kg / lift.hands
        return light and basic_of(lift) in ("knee", "hip")

    def _is_beyond(self, lift: Lift) -> bool:
        """Whether it asks for a skill that few have who are not advanced."""
        return lift.skill >= _MUCH_SKILL and self.lifter.experience != "advanced"

    def _odd(self, lift: Lift) -> bool:
        held = self._squats and lift.pattern == "squat" and set(lift.kit) <= _IN_HAND
        return lift.plainness < 1 or self._is_beyond(lift) or held

    def _unproved(self, lift: Lift) -> bool:
        """Hangs or rests on the arms alone, and no log shows that it can be done; for the trunk
        what asks for skill, or of who is older."""
        hangs = not lift.compound and "pull-up bar" in lift.kit
        hangs = hangs and (lift.skill > 0 or is_older(self.lifter, self.limits))
        return (is_on_the_arms(lift) or hangs) and lift.name not in self.known

    # ----------------------------------------------------------------------- short lists

    def score(self, lift: Lift) -> int:
        """How well a lift suits; larger is better."""
        skill = 4 * lift.skill if self.careful else 3 * (lift.skill >= _MUCH_SKILL)
        points = 10 * lift.plainness - skill - lift.axial
        if lift.role == "main":
            points += 20
        points += 8 * (lift.name in self.wanted) + 25 * (lift.name in self.log.lifts)
        if any(self.lifter.emphasis_of(muscle) == "lead" for muscle in lift.direct):
            points += {"machine": 5, "supported": 3, "free": 0}[lift.stability]
        if lift.compound and lift.load_kind == "assisted":
            points -= 6
        if lift.role == "main" and "bar" in lift.kit and not self.careful:
            points += 4
        points -= 12 * sum(lift.regions.get(region, 0) for region in self.sore)
        if is_unloadable(lift):
            points -= 12
        if self._unproved(lift) and lift.compound:
            points -= 10
        if lift.own:
            points += 15
        return points

    def mains(self, basic: str) -> list[Lift]:
        """The lifts offered for a basic pattern, best first."""
        lifts = self.by_basic.get(basic, [])
        if basic == "press" and basic in self.lead_basics:  # what trains the chest along is no more
            lifts = [x for x in lifts if "chest" in x.direct or x.name in self.wanted] or lifts
        count = _MAINS_A_BASIC + (basic in self.lead_basics)
        return self._short(lifts, len(lifts) if self.wide else count, needs_heavy=True)

    def smalls(self, muscle: str) -> list[Lift]:
        """The small lifts offered for a muscle, best first."""
        emphasis = self.lifter.emphasis_of(muscle)
        count = _SMALL_A_MUSCLE[emphasis]
        if emphasis != "lead" and muscle in ALONG:
            count = 0
        elif emphasis != "lead" and muscle in self._along:
            count = min(count, 1) if muscle in ("quads", "chest") else 0
        found = self.by_muscle.get(muscle, [])
        if self.wide:
            return self._short(found, len(found))
        if emphasis != "lead" and (is_new(self.lifter) or self._is_logged(found)):
            count = min(count, 1)  # what trains it now will do; a beginner learns one
        # what trains it along is better than an odd small lift
        least = int(self.careful or muscle == "hamstrings")
        least = _USUAL_LIFT if muscle in _TRAINED_ALONG else least
        fine = [
            x for x in found
            if x.name in self.wanted or (x.plainness >= least and not self._is_beyond(x))
        ]  # fmt: skip
        return self._short(fine, count)

    def other_angle(self, muscle: str, offered: Sequence[Lift]) -> list[Lift]:
        """For a lead whose lifts on offer are all of one angle: the best of another."""
        angles = {lift.angle for lift in offered if muscle in lift.direct}
        unsuited = (self._too_much, self._too_light, self._odd, is_unloadable, self._unproved)
        other = [x for x in self._all if muscle in x.direct and x.angle not in angles]
        fit = [x for x in other if not any(found(x) for found in unsuited)]
        return self._short(fit, len(angles) < 2)

    def _is_usual(self, lift: Lift) -> bool:
        return lift.plainness >= _USUAL_LIFT or lift.name in self.wanted

    def _is_logged(self, lifts: Iterable[Lift]) -> bool:
        """Whether one of them that loads in steps is done now, in repetitions it suits."""
        logged = [
            (lift, self.log.lifts[lift.name])
            for lift in lifts
            if lift.name in self.log.lifts and is_loadable(lift)
        ]
        return any(now.is_usual(reps) for lift, now in logged for reps in lift.reps.values())

    def _short(self, lifts: Iterable[Lift], count: int, *, needs_heavy: bool = False) -> list[Lift]:
        """The best few of different families or angles, and all that are wanted."""
        ranked = sorted(lifts, key=lambda lift: -self.score(lift))  # ties: the catalogue's order
        chosen: list[Lift] = []
        for fresh_only in (True, False):
            for lift in ranked:
                if len(chosen) >= count:
                    break
                twin = any(are_twins(lift, x) for x in chosen if not is_unloadable(x))
                if lift not in chosen and not (fresh_only and twin):
                    chosen.append(lift)
        if needs_heavy and chosen and not any("low" in lift.reps for lift in chosen):
            chosen += [lift for lift in ranked if "low" in lift.reps][:1]
        chosen += [lift for lift in ranked if lift.name in self.wanted and lift not in chosen]
        return sorted(chosen, key=ranked.index)


def are_twins(one: Lift, other: Lift) -> bool:
    """Whether two lifts of a muscle do much the same."""
    return one.family == other.family and (not one.angle or one.angle == other.angle)


def ranges_of(
    lift: Lift,
    lifter: Lifter,
    log: LogFacts,
    limits: PlanningLimits,
    *,
    high_reps: bool,
    said: Collection[int] = (),
) -> list[RepRange]:
    """Ranges the lift is offered at, the likeliest first: liked, logged, preferred. `said` are
    repetitions it was said to be known at; who does it heavy goes on so, but for a bar to it."""
    liked = lifter.habits.range_for(lift)
    if liked is not None:
        return [liked]
    logged = log.lifts.get(lift.name)
    done = list(dict.fromkeys(logged.days.values() if logged is not None else said))
    low_reps = limits.novice_low if is_new(lifter) else not is_careful(lifter, log, limits)
    low_reps |= any(reps <= HEAVY_REPS for reps in done) and not begins_gently(lifter)
    low_reps = low_reps and not lifter.screening.pregnant_or_postpartum
    if has_pressure(lifter.screening, limits.policy):
        low_reps = low_reps and limits.policy.switch("planning.pressure_low")
    allowed: dict[Zone, bool] = {"low": low_reps, "mid": True, "high": high_reps}
    zones = [zone for zone, may in allowed.items() if may]
    preferred = [r for r in lift.prefers if _may(r, lift, limits, zones)]
    if not preferred:
        usual: tuple[Zone, ...] = ("low", "mid", "high") if lift.compound else ("mid", "high")
        found = (limits.working_range(lift, zone) for zone in usual)
        preferred = [r for r in found if r and _may(r, lift, limits, zones)]
    if lift.compound:  # longer ones only where the log has them
        preferred = [r for r in preferred if r.high <= MOST_MAIN_REPS] or preferred
    ranges = preferred[: 3 if lift.compound else 2]
    lighter = {logged.days[day] for day in logged.light} if logged is not None else set()
    done = [reps for reps in done if reps not in lighter]
    for reps in done:
        near = [r for r in preferred if r.low <= reps <= r.high]
        ranges += near[:1] or [
            r for r in _around(reps, lift, limits) if _may(r, lift, limits, zones)
        ]
    ranges = [as_done(r, done, lift, limits) for r in ranges]
    for reps in sorted(lighter):  # what is done lighter is lighter than the heavy range
        longer = [r for r in preferred if r.low <= reps <= r.high and limits.zone_of(r) != "low"]
        own = RepRange(low=reps - 1, high=reps + 1)
        usable = longer or [r for r in (own, *reversed(preferred)) if _may(r, lift, limits, zones)]
        ranges += usable[:1]
    return list(dict.fromkeys(ranges))


def as_done(reps: RepRange, done: Collection[int], lift: Lift, limits: PlanningLimits) -> RepRange:
    """A heavy range about what is done where that is its least: who does fives goes on with 4-6."""
    least = min(r.low for r in lift.reps.values())
    if limits.zone_of(reps) == "low" and least < reps.low >= min(done, default=reps.high):
        return RepRange(low=reps.low - 1, high=reps.low + 1)
    return reps


def _may(reps: RepRange, lift: Lift, limits: PlanningLimits, zones: Collection[Zone]) -> bool:
    zone = limits.zone_of(reps)
    if zone == "low" and is_unloadable(lift) and set(lift.reps) != {"low"}:
        return False  # nothing to load it with: the lifter, not the sheet, sets the number
    if zone == "high" and lift.compound and lift.axial >= 2:
        return False  # long sets with a heavily loaded spine are no one's friend
    return zone in zones


_LONG_MAIN = RepRange(low=12, high=15)


def _around(reps: int, lift: Lift, limits: PlanningLimits) -> list[RepRange]:
    """The working range that holds what is usually done, where the lift suits it."""
    zones: tuple[Zone, ...] = ("low", "mid", "high")
    found = [limits.working_range(lift, zone) for zone in zones]
    if lift.compound:
        found.insert(2, _LONG_MAIN)
    least = min(r.low for r in lift.reps.values())
    most = max(r.high for r in lift.reps.values())
    width = max(2, reps // 3)
    low = max(least, min(reps - 1, most - width))
    found.append(RepRange(low=low, high=min(most, low + width)))
    return [
        r for r in found
        if r is not None and r.low <= reps <= r.high and least <= r.low < r.high <= most
    ][:1]  # fmt: skip
