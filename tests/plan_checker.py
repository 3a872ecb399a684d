"""Checks a finished block against the rules as design.md and engine.md state them.

Written from the rules, on the block alone: it knows nothing of the request, the board or the
model. Every finding is a sentence; a good block has none.
"""

import math
from collections.abc import Iterator

from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    Entry,
    effective_load_kg,
)
from week_checker import WeekChecker

READ_KG = 1e-3
"""A block read from JSON has its loads rounded: 110 lb is 49.895161 kg there."""
TRUNK = ("abs", "forearms", "spinal_erectors")


class Checker(WeekChecker):
    """One block under the eye of the rules."""

    def findings(self) -> list[str]:
        """Everything that breaks a rule."""
        found = [*self._shape(), *self._ramp(), *self._reasons(), *self._loads()]
        for week in self.builds:
            found += [f"week {week.week}: {says}" for says in self.week_findings(week)]
        found += [f"deload: {says}" for says in self._deload()]
        return found

    # ------------------------------------------------------------------------ the block

    def _shape(self) -> Iterator[str]:
        block, lifter = self.block, self.lifter
        if len(self.builds) != lifter.weeks or len(block.weeks) != lifter.weeks + 1:
            yield "the number of weeks is not the lifter's"
        if block.weeks[-1].kind != "deload":
            yield "the last week is no deload"
        if block.solver.gap < 0:
            yield "the gap is negative"
        rirs = [week.rir for week in self.builds]
        for number, rir in enumerate(rirs):
            line = 3 - 2 * number / (lifter.weeks - 1)
            if lifter.screening.high_blood_pressure:
                line = max(line, 2)
            if lifter.screening.currently_active is False:
                line = max(line, (4, 4, 3, 2)[number] if number < 4 else line)
            if abs(rir - line) > 0.5 + 1e-9 or rir != round(rir):
                yield f"RIR {rir} is off the line from 3 to 1 in week {number + 1}"
        lifts = [
            [(s.day.weekday(), s.start_time, sorted(e.lift for e in s.entries)) for s in w.sessions]
            for w in self.builds
        ]
        if any(week != lifts[0] for week in lifts):
            yield "the lifts change within the block"

    def _ramp(self) -> Iterator[str]:
        for before, after in zip(self.builds, self.builds[1:], strict=False):
            for muscle in MUSCLES:
                step = after.muscle_sets[muscle].fractional - before.muscle_sets[muscle].fractional
                if step > 2 + 1e-9:
                    yield f"{muscle} climbs by {step} to week {after.week}"
        for muscle in MUSCLES:
            direct = [week.muscle_sets[muscle].direct for week in self.builds]
            emphasis = self.lifter.emphasis_of(muscle)
            if emphasis == "hold" and max(direct) - min(direct) > 1:
                yield f"held {muscle} moves: {direct}"
            if emphasis == "skip" and any(direct):
                yield f"skipped {muscle} has direct sets: {direct}"

    def _reasons(self) -> Iterator[str]:
        told = {
            str(reason.facts.get("muscle"))
            for reason in self.block.reasons
            if reason.code.startswith("below_floor")
        }
        for muscle in MUSCLES:
            if self.lifter.emphasis_of(muscle) == "skip":
                continue
            below = any(
                week.muscle_sets[muscle].fractional < week.muscle_sets[muscle].floor
                for week in self.builds
            )
            if below and muscle.replace("_", " ") not in told:
                yield f"{muscle} is below the floor and no reason says so"
        if "house_rule_gave_way" in self.codes:
            yield "a house rule gave way"

    # -------------------------------------------------------------------------- deload

    def _deload(self) -> Iterator[str]:
        deload, last = self.block.weeks[-1], self.builds[-1]
        halves = self.lifter.deload_style == "half"
        wanted = {9: 5, 6: 3, 4: 2, 3: 2, 2: 2, 1: 1}.get(len(last.sessions))
        if halves:
            wanted = len(last.sessions)
        if wanted is not None and len(deload.sessions) != wanted:
            yield f"{len(deload.sessions)} sessions from {len(last.sessions)}"
        if deload.rir != 5:
            yield f"RIR {deload.rir}"
        yield from self.sums(deload)
        base = [e for s in last.sessions for e in s.entries]
        half_from = len(deload.sessions) if halves else math.ceil(len(deload.sessions) / 2)
        for number, session in enumerate(deload.sessions):
            if session.minutes_planned > session.minutes_available:
                yield f"session {session.session} takes {session.minutes_planned} min"
            for entry in session.entries:
                if not any(self._is_half(entry, old, number >= half_from) for old in base):
                    yield f"{entry.lift} is not half of any entry of the last build week"
            for muscle in MUSCLES:
                if not halves and self.muscle_sums(session, muscle)[0] > 4:
                    yield f"{muscle} is hard in session {session.session}"
        before = sum(len(e.sets) for e in base)
        after = sum(len(e.sets) for s in deload.sessions for e in s.entries)
        if after > 0.67 * before + 1:
            yield f"{after} sets after {before}"

    def _is_half(self, entry: Entry, old: Entry, lighter: bool) -> bool:
        halves = self.lifter.deload_style == "half"
        counted = sum(row.counts_as for row in old.sets) if halves else len(old.sets)
        if entry.lift != old.lift or len(entry.sets) != math.ceil(counted / 2):
            return False
        for row, was in zip(entry.sets, old.sets, strict=False):
            asked = was.reps_low, was.reps_high
            if row.rir != 5 or not self._has_fewer(row.reps_low, row.reps_high, *asked, halves):
                return False
            if halves and not self._load_eased(entry, row.load_kg, was.load_kg):
                return False
            if not halves and not self._load_halved(entry, row.load_kg, was.load_kg, lighter):
                return False
        return True

    def _has_fewer(self, low: int, high: int, was_low: int, was_high: int, halves: bool) -> bool:
        """Half of the repetitions, rounded up; in a deload of half the sets from as many to what
        leaves 5 in reserve."""
        half = math.ceil(was_low / 2), math.ceil(was_high / 2)
        return low <= was_low and 1 <= low <= high <= was_high if halves else (low, high) == half

    def _load_eased(self, entry: Entry, now: float | None, was: float | None) -> bool:
        """A little lighter, unless the kit has nothing lighter."""
        if now is None or was is None:
            return now == was
        rack = rack_for(self.lift(entry.lift), self.lifter.gym, self.policy)
        if rack.next_easier(was) is None:
            return now == was
        return now > was if rack.more_is_easier else now < was

    def _load_halved(
        self, entry: Entry, now: float | None, was: float | None, lighter: bool
    ) -> bool:
        if now is None or was is None or not lighter:
            return now == was
        lift = self.lift(entry.lift)
        if lift.load_kind == "assisted":
            return now >= was
        rack = rack_for(lift, self.lifter.gym, self.policy)
        return now <= max(was / 2, rack.easiest.load_kg) + READ_KG

    # --------------------------------------------------------------------------- loads

    def _loads(self) -> Iterator[str]:
        steps = {(r.facts["lift"], r.facts["week"]) for r in self.block.reasons
                 if r.code == "smallest_step"}  # fmt: skip
        bodyweight = self.lifter.bodyweight_kg
        before: dict[tuple[int, str], list[float]] = {}
        for week in self.block.weeks:
            for session in week.sessions:
                for entry in session.entries:
                    lift = self.lift(entry.lift)
                    rack = rack_for(lift, self.lifter.gym, self.policy)
                    key = (session.day.weekday(), entry.lift)
                    done: list[float] = []
                    for number, row in enumerate(entry.sets):
                        if row.load_kg is None:
                            continue
                        if rack.exactly(row.load_kg) is None:
                            yield f"{entry.lift}: no kit makes {row.load_kg} kg"
                        if week.kind != "build":
                            continue
                        now = effective_load_kg(lift, row.load_kg, bodyweight)
                        assert now is not None
                        done.append(now)
                        was = before.get(key, [])[: number + 1][-1:]
                        if (
                            was
                            and now > 1.1 * was[0] + READ_KG
                            and (entry.lift, week.week) not in steps
                        ):
                            yield f"{entry.lift} rises from {was[0]} to {now} in week {week.week}"
                    before[key] = done


def findings_of(block: Block, catalogue: Catalogue, policy: Policy) -> list[str]:
    """What breaks a rule in a block; empty for a good one."""
    return Checker(block, catalogue, policy).findings()
