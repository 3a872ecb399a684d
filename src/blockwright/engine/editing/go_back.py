"""An earlier revision's weeks again, as a new revision: only weeks that have not begun."""

from dataclasses import replace

from blockwright.engine.editing.apply_edit import revision_after
from blockwright.engine.editing.edits import Said, Setting, decision_of
from blockwright.engine.errors import BadInput
from blockwright.engine.review.revision import LEAST_WEEKS, MOST_WEEKS
from blockwright.engine.training import Block


def gone_back(block: Block, old: Block, setting: Setting, said: Said | None = None) -> Block:
    """The revision after `block`, with the weeks of `old` where none of them has begun.

    Weeks that have begun stay; so do cautions, decisions and what the coach recorded of the
    lifter since. Raises BadInput when no week is left, or the old weeks do not follow on.
    """
    last = setting.closed.last_begun(block)
    begun = [week for week in block.weeks if week.week <= last]
    weeks = [week for week in old.weeks if week.week > last]
    if not weeks:
        mend = "change the weeks to come by hand"
        raise BadInput.of("no week is left that has not begun", mend)
    if begun and (begun[-1].kind == "deload" or weeks[-1].kind != "deload"):
        says = f"week {begun[-1].week} does not lead to the weeks of revision {old.revision}"
        raise BadInput.of(says, "change the weeks to come by hand")
    change: dict[str, float | str] = {"revision": old.revision, "week": weeks[0].week}
    decision = decision_of(block, "coach_back", change, said or Said())
    builds = sum(week.kind == "build" for week in (*begun, *weeks))
    lifter = replace(
        block.lifter,
        pins=old.lifter.pins,
        weeks=builds if LEAST_WEEKS <= builds <= MOST_WEEKS else block.lifter.weeks,
    )
    return revision_after(block, (*begun, *weeks), decision, setting, lifter=lifter)
