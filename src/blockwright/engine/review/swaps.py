"""Another lift in place of one: same muscles, other movement, usable, and not in the way."""

from collections.abc import Collection

from blockwright.engine.planning.make_request import usable_lifts
from blockwright.engine.review.safety import JOINT_MUSCLES, loads_joint
from blockwright.engine.training import Block, Catalogue, Entry, Lift, Week


def swap_for(
    lift: Lift,
    entry: Entry | None,
    week: Week | None,
    block: Block,
    catalogue: Catalogue,
    *,
    avoid: Collection[str] = (),
    spare_joint: str | None = None,
) -> Lift | None:
    """The lift that covers the muscles of `lift` best, or None.

    It trains every direct muscle of `lift` directly, suits the entry's repetitions, is of another
    family, is not in `avoid` or in the week already, and, where a joint hurts, does not load it
    unless every such lift does. Steadier lifts come first among equals.
    """
    in_week = {e.lift for s in week.sessions for e in s.entries} if week is not None else set()
    families = {
        known.family
        for s in (week.sessions if week is not None else ())
        if entry is not None and entry in s.entries
        for e in s.entries
        if e.lift != lift.name and (known := catalogue.find(e.lift)) is not None
    }
    fit = [
        other
        for other in usable_lifts(block.lifter, catalogue)
        if other.name not in in_week
        and other.name not in avoid
        and other.family != lift.family
        and other.family not in families
        and set(lift.direct) <= set(other.direct)
        and (entry is None or entry.zone in other.reps)
    ]
    joint = spare_joint or ""
    sparing = [o for o in fit if joint not in JOINT_MUSCLES or not loads_joint(o, joint)]
    names = [other.name for other in fit]
    ranked = sorted(
        sparing or fit,
        key=lambda o: (
            _uncovered(lift, o),
            o.pattern == lift.pattern,
            ("machine", "supported", "free").index(o.stability),
            o.axial,
            names.index(o.name),
        ),
    )
    return ranked[0] if ranked else None


def _uncovered(lift: Lift, other: Lift) -> float:
    """How far the shares of two lifts lie apart, in quarter steps so that near equals tie."""
    muscles = set(lift.muscles) | set(other.muscles)
    apart = sum(abs(lift.muscles.get(m, 0.0) - other.muscles.get(m, 0.0)) for m in muscles)
    return round(apart * 4) / 4
