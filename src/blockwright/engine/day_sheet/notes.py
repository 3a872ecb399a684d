"""What a sheet says of itself: how it differs from the block, and why."""

import math
from collections.abc import Collection, Iterator, Sequence

from blockwright.engine.policy import Policy
from blockwright.engine.rack import SAME_LOAD_KG, finding_s
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.strength.landing import POLICY as LANDING_POLICY
from blockwright.engine.training import Block, Entry, SetDone, SetPlan
from blockwright.engine.units import Unit, load_text
from .find_session import PlannedSession
from .sheet import SheetEntry


def sheet_notes(
    block: Block,
    chosen: PlannedSession,
    entries: Sequence[SheetEntry],
    sets: Sequence[SetDone],
    held: Collection[str],
    policy: Policy,
) -> Iterator[Reason]:
    """The notes of a session. `sets` is what was logged before it, `held` lifts that hurt."""
    unit, build = block.lifter.units, chosen.week.kind == "build"
    if chosen.session.missed:
        yield Reason(code="sheet_missed")
    if not build:
        yield Reason(code="sheet_deload")
    if block.lifter.gym.assumed:
        yield Reason(code="sheet_gym_assumed")
    planned = {entry.order: entry for entry in chosen.session.entries}
    for entry in entries:
        if (note := _note_of(planned[entry.entry.order], entry, unit, build, held)) is not None:
            yield note
    ranges = ((one.sets[0].planned, one.sets[-1].planned) for one in entries if one.sets)
    if any(last.reps_low < first.reps_low and last.reps_high == first.reps_high
           for first, last in ranges):  # fmt: skip
        yield Reason(code="sheet_later_lower", policy=("load.later_lower",))
    found = [one for one in entries if one.finding is not None]
    minutes = math.ceil(sum(finding_s(one.lift, one.find_load, policy) for one in found) / 60)
    if minutes:
        facts: dict[str, FactValue] = {"loads": len(found), "minutes": minutes}
        yield Reason(code="sheet_finding_minutes", facts=facts, policy=("finding.rest_s",))
    logged = [done for done in sets if done.is_logged]
    if logged:
        last = max(done.moment.day for done in logged)
        yield Reason(code="sheet_facts", facts={"last_day": str(last)})


def _note_of(
    planned: Entry, entry: SheetEntry, unit: Unit, build: bool, held: Collection[str]
) -> Reason | None:
    """How a lift's sets differ from the block's."""
    lift = entry.lift.name
    for before, after in zip(planned.sets, entry.sets, strict=True):
        load_kg, before_kg, now = after.planned.load_kg, before.load_kg, after.planned
        facts: dict[str, FactValue] = {"lift": lift}
        if before_kg is not None:
            facts["before"] = load_text(before_kg, unit)
        if load_kg is None and before_kg is not None and entry.finding is not None:
            facts = {"lift": lift, "load": load_text(before_kg, unit)}
            keys = ("load.find_after", "load.most_up")
            return Reason(code="sheet_find_again", facts=facts, policy=keys)
        if load_kg is None:
            continue
        facts |= {"load": load_text(load_kg, unit), "load_kg": load_kg}
        if before_kg is None:
            policy = (*LANDING_POLICY, "load.most_up")
            return Reason(code="sheet_load_from_facts", facts=facts, policy=policy)
        if after.setting is None or abs(after.setting.load_kg - load_kg) > SAME_LOAD_KG:
            facts["nearest"] = after.setting.says if after.setting else "nothing as light"
            return Reason(code="sheet_load_not_made", facts=facts)
        facts |= _ranges(before, now)
        if before.reps_high != now.reps_high and not build:
            facts["rir"] = now.rir
            return Reason(code="sheet_deload_less", facts=facts, policy=("deload.rir",))
        if abs(before_kg - load_kg) > SAME_LOAD_KG and lift not in held:
            return Reason(code="sheet_load_eased", facts=facts, policy=LANDING_POLICY)
        if before.reps_high != now.reps_high:
            code = "sheet_range_moved" if load_kg else "sheet_range_unloaded"
            return Reason(code=code, facts=facts, policy=("load.range_off",))
    return None


def _ranges(before: SetPlan, now: SetPlan) -> dict[str, FactValue]:
    """The block's range, and the one printed in its place."""
    return {
        "composed": str(before.reps),
        "reps": str(now.reps),
    }
