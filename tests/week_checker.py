"""Checks one build week of a finished block; see `plan_checker.py`.

Written from the rules, on the block alone: it knows nothing of the request, the board or the
model. Every finding is a sentence; a good block has none.
"""

import math
from collections.abc import Iterator
from itertools import combinations

from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    DAYS,
    MUSCLES,
    Block,
    Catalogue,
    Entry,
    Lift,
    RepRange,
    Session,
    Slot,
    Week,
)

TRUNK = ("abs", "forearms", "spinal_erectors")


class WeekChecker:
    """The rules of one build week."""

    def __init__(self, block: Block, catalogue: Catalogue, policy: Policy) -> None:
        self.block, self.catalogue, self.policy = block, catalogue, policy
        self.lifter = block.lifter
        self.builds = [week for week in block.weeks if week.kind == "build"]
        self.pinned = {self.lift(pin.lift).name for pin in self.lifter.pins}
        self.stay = {str(r.facts["lift"]) for r in block.reasons if r.code == "lift_stays"}
        """What the log has: it comes first (rules 6 and 15 of a coach)."""
        told = [r.facts["lifts"] for r in block.reasons if r.code == "held_as_it_hurts"]
        self.begun = {
            (e.lift, row.load_kg, row.rir)
            for s in self.builds[0].sessions for e in s.entries for row in e.sets
            if any(e.lift in str(lifts) for lifts in told)
        }  # fmt: skip
        """How week one does what hurts: the later weeks stay there."""
        stay = [r for r in block.reasons if r.code in ("lift_stays", "lift_stays_hurts")]
        self.visits = {str(r.facts["lift"]): int(str(r.facts.get("visits", 0))) for r in stay}
        """Visits of a usual week of the log that have a main lift."""
        self.codes = {reason.code for reason in block.reasons}

    def lift(self, name: str) -> Lift:
        found = self.catalogue.find(name)
        assert found is not None, name
        return found

    # ------------------------------------------------------------------------- one week

    def week_findings(self, week: Week) -> Iterator[str]:
        yield from self.sums(week)
        yield from self._pins(week)
        for session in week.sessions:
            for says in self._session(session, week):
                yield f"session {session.session}: {says}"
        yield from self._spacing(week)
        yield from self._lift_rules(week)
        yield from self._leads(week)
        yield from self._shares(week)
        yield from self._axial(week)
        if week.week == 1 and self._gentle():
            yield from self._first_week(week)

    def _gentle(self) -> bool:
        return bool(self.codes & {"gentle_novice", "gentle_return"})

    def sums(self, week: Week) -> Iterator[str]:
        for muscle in MUSCLES:
            direct = indirect = fractional = 0.0
            for session in week.sessions:
                d, i, f = self.muscle_sums(session, muscle)
                direct, indirect, fractional = direct + d, indirect + i, fractional + f
            said = week.muscle_sets[muscle]
            if (direct, indirect) != (said.direct, said.indirect) or not math.isclose(
                fractional, said.fractional, abs_tol=1e-9
            ):
                yield f"{muscle} sets are {direct}/{indirect}/{fractional}, the block says {said}"
            if week.kind == "build" and fractional > said.ceiling + 1e-9:
                yield f"{muscle} is above the ceiling"

    def muscle_sums(self, session: Session, muscle: str) -> tuple[float, float, float]:
        direct = indirect = fractional = 0.0
        for entry in session.entries:
            share = self.lift(entry.lift).muscles.get(muscle, 0.0)
            if share >= 1:
                direct += len(entry.sets)
            elif share > 0:
                indirect += len(entry.sets)
            fractional += share * sum(row.counts_as for row in entry.sets)
        return direct, indirect, fractional

    def _pins(self, week: Week) -> Iterator[str]:
        for pin in self.lifter.pins:
            name = self.lift(pin.lift).name
            days = [
                DAYS[s.day.weekday()]
                for s in week.sessions
                if any(e.lift == name for e in s.entries)
            ]
            if not days or any(day not in days for day in pin.days):
                yield f"pinned {name} is on {days}, not {pin.days}"
            for session in week.sessions:
                for entry in session.entries:
                    if entry.lift != name or pin.reps is None:
                        continue
                    rows = {(row.reps_low, row.reps_high) for row in entry.sets}
                    if isinstance(pin.reps, RepRange):
                        if rows != {(pin.reps.low, pin.reps.high)}:
                            yield f"pinned {name} has {rows}, not {pin.reps}"
                    elif entry.zone != pin.reps:
                        yield f"pinned {name} is {entry.zone}, not {pin.reps}"

    def _session(self, session: Session, week: Week) -> Iterator[str]:
        slot = next(
            s
            for s in self.lifter.slots
            if s.day_index == session.day.weekday() and s.start_time == session.start_time
        )
        if session.minutes_available != slot.minutes:
            yield "the minutes are not the slot's"
        if session.minutes_planned > slot.minutes + 1e-9:
            yield f"{session.minutes_planned} min in a slot of {slot.minutes}"
        least = self._least_minutes(session)
        if least > session.minutes_planned + 0.2:
            yield f"takes at least {least:.1f} min, says {session.minutes_planned}"
        most = self.lifter.limits.max_lifts_per_session
        if most is not None and len(session.entries) > most:
            yield f"{len(session.entries)} lifts, at most {most}"
        if len(session.entries) < min(3, most or 3) and slot.minutes >= 40:
            yield f"only {len(session.entries)} lifts in {slot.minutes} minutes"
        if [e.order for e in session.entries] != list(range(1, len(session.entries) + 1)):
            yield "the order is not counted from 1"
        for entry in session.entries:
            yield from self._entry(entry, week)
        for muscle in MUSCLES:
            if self.muscle_sums(session, muscle)[2] > 11:
                yield f"{self.muscle_sums(session, muscle)[2]} sets of {muscle}"
        families = [self.lift(e.lift).family for e in session.entries]
        free = [
            (lift.family, lift.angle if self._is_leads_small(lift) and self.stay else "")
            for e in session.entries
            if (lift := self.lift(e.lift)) and e.lift not in self.pinned
        ]
        if len(set(families)) < len(families) and len(set(free)) < len(free):
            yield f"a family twice: {sorted(families)}"
        yield from self._order(session)
        yield from self._pairs(session)

    def _least_minutes(self, session: Session) -> float:
        """Set-up, repetitions at the top of the range, written rests: no warm-ups, no coming in."""
        seconds = 0.0
        for entry in session.entries:
            lift = self.lift(entry.lift)
            work = sum(row.reps_high * lift.seconds_per_rep for row in entry.sets)
            rests = len(entry.sets) - 1
            if entry.pair is not None and self._first_of_pair(session, entry):
                rests = len(entry.sets)
            seconds += lift.setup_s + work + rests * entry.rest_s
        return seconds / 60

    def _first_of_pair(self, session: Session, entry: Entry) -> bool:
        return next(e for e in session.entries if e.pair == entry.pair) is entry

    def _entry(self, entry: Entry, week: Week) -> Iterator[str]:
        lift, limits = self.lift(entry.lift), self.lifter.limits
        if any(word not in self.lifter.gym.kit for word in lift.kit):
            yield f"{lift.name} needs {lift.kit}"
        if lift.name in {self.lift(n).name for n in limits.avoid_lifts if self.catalogue.find(n)}:
            yield f"{lift.name} is avoided"
        if lift.pattern in limits.avoid_patterns:
            yield f"{lift.pattern} is avoided"
        counted = sum(row.counts_as for row in entry.sets)
        if not 2 <= counted <= 5 or len(entry.sets) < 2:
            yield f"{lift.name} has {len(entry.sets)} sets"
        pinned = entry.lift in self.pinned
        low = min(usable.low for usable in lift.reps.values())
        high = max(usable.high for usable in lift.reps.values())
        liked = self.lifter.habits.range_for(lift) is not None
        for row in entry.sets:
            moved = week.week == 1 and row.load_kg is not None and row.reps_low >= 3
            if not (pinned or liked or moved or low <= row.reps_low < row.reps_high <= high):
                yield f"{lift.name} has {row.reps_low}-{row.reps_high} in {entry.zone}"
            kept = max(week.rir, lift.rir_least)
            held = (entry.lift, row.load_kg, row.rir) in self.begun and row.rir > kept
            fails = self._may_fail(entry, lift, week, row is entry.sets[-1])
            if row.rir != kept and not held and not fails:
                yield f"{lift.name} has RIR {row.rir} in a week of {kept}"
        if entry.method in ("rest-pause", "drop"):
            allowed = {
                "rest-pause": self.lifter.allow.rest_pause,
                "drop": self.lifter.allow.drop_sets,
            }
            if not allowed[entry.method] or not lift.safe_to_fail or week.week == 1:
                yield f"{lift.name} is done as {entry.method}"
        if entry.zone == "high" and not self.lifter.allow.high_reps and not pinned:
            yield f"{lift.name} has high repetitions"

    def _may_fail(self, entry: Entry, lift: Lift, week: Week, last: bool) -> bool:
        return (
            self.lifter.allow.to_failure
            and lift.safe_to_fail
            and last
            and week is self.builds[-1]
            and entry.sets[-1].rir == 0
        )

    def _order(self, session: Session) -> Iterator[str]:
        lifts = [self.lift(e.lift) for e in session.entries]
        for earlier, later in combinations(lifts, 2):
            if later.compound and not earlier.compound and not self.lifter.allow.pre_exhaust:
                yield f"{earlier.name} before {later.name}"
            if later.axial >= 2 and later.compound and next(iter(earlier.muscles)) in TRUNK:
                yield f"{earlier.name} before the heavy {later.name}"

    def _pairs(self, session: Session) -> Iterator[str]:
        labels = [e.pair for e in session.entries]
        for label in {label for label in labels if label is not None}:
            at = [i for i, one in enumerate(labels) if one == label]
            if len(at) != 2 or at[1] != at[0] + 1:
                yield f"pair {label} is at {at}"
                continue
            one, two = (session.entries[i] for i in at)
            first, second = self.lift(one.lift), self.lift(two.lift)
            if len(one.sets) != len(two.sets):
                yield f"{label} has {len(one.sets)} and {len(two.sets)} sets"
            if set(first.direct) & set(second.direct):
                yield f"{first.name} and {second.name} compete"
            if first.axial and second.axial:
                yield f"{first.name} and {second.name} both load the spine"
            if not self.lifter.allow.supersets:
                yield "pairs are not allowed"

    # ------------------------------------------------------------------- over the week

    def _hour(self, session: Session) -> float:
        hours, minutes = session.start_time.split(":")
        return 24 * session.day.weekday() + int(hours) + int(minutes) / 60

    def _apart(self, one: Session, two: Session) -> float:
        gap = abs(self._hour(one) - self._hour(two))
        return min(gap, 168 - gap)

    def _spacing(self, week: Week) -> Iterator[str]:
        sessions = list(week.sessions)
        forced = self._forced_by_pins()
        for one, two in combinations(sessions, 2):
            gap = self._apart(one, two)
            for muscle in MUSCLES:
                both = [self.muscle_sums(s, muscle)[0] for s in (one, two)]
                if min(both) >= 4 and gap < 40 and not forced.get(muscle):
                    yield f"{muscle} is hard twice in {gap:g} h ({one.day}, {two.day})"
        for first in sessions:
            near = [s for s in sessions if (self._hour(s) - self._hour(first)) % 168 < 48]
            for muscle in MUSCLES:
                total = sum(self.muscle_sums(s, muscle)[2] for s in near)
                if total > 12:
                    yield f"{total} sets of {muscle} within 48 h"

    def _forced_by_pins(self) -> dict[str, bool]:
        """Muscles with four or more direct sets pinned to two days."""
        by_muscle: dict[str, list[int]] = {}
        for muscle in MUSCLES:
            for day in DAYS:
                pins = [
                    p for p in self.lifter.pins
                    if day in p.days and muscle in self.lift(p.lift).direct
                ]  # fmt: skip
                if len(pins) >= 2:
                    by_muscle.setdefault(muscle, []).append(len(pins))
        return {muscle: len(days) >= 2 for muscle, days in by_muscle.items()}

    def _lift_rules(self, week: Week) -> Iterator[str]:
        places: dict[str, list[tuple[Session, Entry]]] = {}
        for session in week.sessions:
            for entry in session.entries:
                places.setdefault(entry.lift, []).append((session, entry))
        families: dict[str, int] = {}
        for name, found in places.items():
            lift = self.lift(name)
            families[lift.family] = families.get(lift.family, 0) + len(found)
            days = [s.day for s, _ in found]
            if len(set(days)) < len(days):
                yield f"{name} twice in a day"
            if name in self.pinned:
                continue
            low = [e for _, e in found if e.zone == "low"]
            often = self.visits.get(name, 0)  # somebody's own week is moved on (rule 6)
            higher = len(found) - len(low)
            many = len(low) > max(1, often) or higher > max(1 + (not low), often)
            if lift.compound and (many or len(found) > max(2, often)):
                yield f"{name} has {len(low)} low and {len(found) - len(low)} higher exposures"
            least = 40 if lift.axial >= 2 else 24 if lift.compound else 20
            for (one, _), (two, _) in combinations(found, 2):
                if self._apart(one, two) < least:
                    yield f"{name} again after {self._apart(one, two):g} h"
        pinned = {self.lift(n).family for n in self.pinned}
        for family, count in families.items():
            most = 4 if any(self._is_leads_small(self.lift(n)) for n in places
                                if self.lift(n).family == family) else 2  # fmt: skip
            own = sum(n for x, n in self.visits.items() if self.lift(x).family == family)
            most = max(most, own)
            if count > most and family not in pinned:
                yield f"family {family} {count} times"

    def _is_leads_small(self, lift: Lift) -> bool:
        """A lead's small pattern may come three or four times (rule 14 of a coach)."""
        leads = {m for m in MUSCLES if self.lifter.emphasis_of(m) == "lead"}
        return not lift.compound and bool(leads & set(lift.direct))

    def _leads(self, week: Week) -> Iterator[str]:
        possible = any(
            self._apart_slots(a, b) >= 40 for a in self.lifter.slots for b in self.lifter.slots
        )
        for muscle in MUSCLES:
            if self.lifter.emphasis_of(muscle) != "lead" or not possible:
                continue
            days = [s for s in week.sessions if self.muscle_sums(s, muscle)[0] >= 2]
            if not any(self._apart(a, b) >= 40 for a, b in combinations(days, 2)):
                yield f"lead {muscle} has no two exposures 40 h apart"
            sums = week.muscle_sets[muscle]
            if sums.direct < sums.fractional / 2:
                yield f"lead {muscle} has {sums.direct} direct of {sums.fractional}"

    def _apart_slots(self, one: Slot, two: Slot) -> float:
        gap = abs(one.start_hour_of_week - two.start_hour_of_week)
        return min(gap, 168 - gap)

    def _shares(self, week: Week) -> Iterator[str]:
        sets = {"low": 0.0, "mid": 0.0, "high": 0.0}
        new = kept = 0.0  # a logged lift keeps its logged range (rule 15 of a coach)
        leads = {m for m in MUSCLES if self.lifter.emphasis_of(m) == "lead"}
        for session in week.sessions:
            for entry in session.entries:
                if self.lift(entry.lift).compound:
                    counted = sum(row.counts_as for row in entry.sets)
                    sets[entry.zone] += counted
                    new += counted * (entry.lift not in self.stay)
                    leading = entry.lift in self.stay and leads & set(self.lift(entry.lift).direct)
                    kept += counted * (bool(leading) and entry.zone == "low")
        total = sum(sets.values())
        ends = week in (self.builds[0], self.builds[-1])
        told = any("heavy sets" in str(r.facts.get("what")) for r in self.block.reasons)
        if told or not ends or not total:
            return  # an aim of the first and the last week, which a coach is told of when missed
        waived = {"no_low_novice", "no_low_kit", "no_low_time", "no_low_pressure"} & self.codes
        pressed = self.block.lifter.screening.high_blood_pressure
        if pressed:
            low = {e.lift for x in week.sessions for e in x.entries if e.zone == "low"}
            yield from (f"{n} is heavy, with high blood pressure" for n in low - self.pinned)
        least = 0.0 if waived or pressed else 0.25 * (new if self.stay else total)
        if not least - 1e-9 <= sets["low"] <= kept + 0.65 * (total - kept) + 1e-9:
            yield f"heavy share of the main lifts {sets['low'] / total:.2f}"

    def _axial(self, week: Week) -> Iterator[str]:
        if "spine_as_logged" in self.codes:
            return  # the log shows that more was borne
        loads = [
            (s.day.weekday(), sum(self.lift(e.lift).axial * len(e.sets) for e in s.entries))
            for s in week.sessions
        ]
        if any(load > self.policy.number("planning.axial_session") for _, load in loads):
            yield f"axial load in a session: {loads}"
        for day in range(7):
            two = sum(load for at, load in loads if at in (day, (day + 1) % 7))
            if two > self.policy.number("planning.axial_two_days"):
                yield f"axial load in two days: {loads}"
        if sum(load for _, load in loads) > self.policy.number("planning.axial_week"):
            yield f"axial load in the week: {loads}"

    def _first_week(self, week: Week) -> Iterator[str]:
        if week.rir < 3:
            yield f"first week at RIR {week.rir}"
        for session in week.sessions:
            for entry in session.entries:
                if len(entry.sets) > 3 or entry.method in ("rest-pause", "drop"):
                    yield f"{entry.lift}: {len(entry.sets)} sets, {entry.method} in a first week"
                if any(row.rir < 3 for row in entry.sets):
                    yield f"{entry.lift} nearer failure than 3 in a first week"
            for muscle in MUSCLES:
                if self.muscle_sums(session, muscle)[2] > 6:
                    yield f"{self.muscle_sums(session, muscle)[2]} sets of {muscle} in a first week"
