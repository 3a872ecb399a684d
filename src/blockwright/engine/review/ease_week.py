"""Carries out a lighter week, a week done again, and a deload that goes on or ends the block.

An eased week takes the place of a build week, and the print after it is one week late: what was
meant for the eased week comes in the next one, and the last build week falls out.
"""

from dataclasses import replace
from datetime import timedelta

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.block_weeks import BlockWeeks, remade, trim, with_sets
from blockwright.engine.review.decisions import Verdict
from blockwright.engine.review.derived import deload_after
from blockwright.engine.review.proposals import To
from blockwright.engine.review.set_and_load_changes import entry_of
from blockwright.engine.tolerated_load import easier
from blockwright.engine.training import Entry, Lift, Session, SetPlan, Week


def ease_week(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """The decided week as the coach wants it: `repeat`, `light`, or `deload` and on or the end."""
    number, to = verdict.offered.week, verdict.to
    return None if number is None or to is None else eased(weeks, number, to)


def eased(weeks: BlockWeeks, number: int, to: To) -> Reason | None:
    """Week `number` as `to` says; None where it is no build week."""
    week = weeks.week(number)
    if week is None or week.kind != "build":
        return None
    facts: dict[str, FactValue] = {"week": number}
    if to.value == "deload" and to.then == "end":
        kept = [found for found in weeks.block.weeks if found.week < number]
        weeks.weeks = [*kept, replace(week, kind="deload")]
        return Reason(code="deload_early", facts=facts)
    before = weeks.week(number - 1)
    if before is None:
        return None
    if to.value == "deload":
        made = deload_after(weeks.block, before, week, weeks.catalogue, weeks.policy)
    elif to.value == "repeat":
        made = repeated(week, before)
    elif to.value == "light":
        made = lighter(weeks, week, before)
    else:
        return None
    _put_in_place(weeks, number, made)
    return Reason(code=f"week_{to.value}", facts=facts)


def repeated(week: Week, before: Week) -> Week:
    """The week with the numbers of the week before; lifts that are new in it keep their own."""

    def again(session: Session, entry: Entry) -> list[Entry]:
        was = entry_of(before, session.session, entry.lift)
        same = entry if was is None else replace(
            entry, method=was.method, rest_s=was.rest_s, sets=was.sets
        )  # fmt: skip
        return [same]

    return replace(remade(week, again), rir=before.rir, ease="repeat")


def lighter(weeks: BlockWeeks, week: Week, before: Week) -> Week:
    """`review.ease.sets` of the week's sets, `review.ease.rir` more in reserve, and no load above
    last week's."""
    share = weeks.policy.number("review.ease.sets")
    counts = {
        (session.session, entry.order): (len(entry.sets), len(entry.sets))
        for session in week.sessions
        for entry in session.entries
        if entry.sets
    }
    left = trim(counts, round(share * sum(now for now, _ in counts.values())))
    more = weeks.policy.number("review.ease.rir")

    def lightened(session: Session, entry: Entry) -> list[Entry]:
        if not entry.sets:
            return [entry]
        was = entry_of(before, session.session, entry.lift)
        last = was.sets[0].load_kg if was is not None and was.sets else None
        made = with_sets(entry, left[session.session, entry.order])
        lift = weeks.lift(entry.lift)
        rows = (
            replace(one, rir=one.rir + more, load_kg=_easier(lift, one, last), forecast_kg=None)
            for one in made.sets
        )
        return [replace(made, sets=tuple(rows))]

    return replace(remade(week, lightened), rir=week.rir + more, ease="light")


def _easier(lift: Lift, planned: SetPlan, last_kg: float | None) -> float | None:
    """The printed load or last week's, whichever is easier."""
    if planned.load_kg is None or last_kg is None:
        return planned.load_kg
    return easier(lift, (planned.load_kg, last_kg))


def _put_in_place(weeks: BlockWeeks, number: int, made: Week) -> None:
    """The eased week in its place, and every later build week with the print of the one before."""
    places = weeks.builds_from(number)
    for (index, target), (_, source) in zip(places[1:], places, strict=False):
        days = timedelta(days=7 * (target.week - source.week))
        weeks.weeks[index] = replace(
            source,
            week=target.week,
            sessions=tuple(replace(s, day=s.day + days) for s in source.sessions),
        )
    weeks.weeks[places[0][0]] = made
