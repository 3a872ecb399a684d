"""A new revision of a block from what the coach decided. The block given is never changed.

What is accepted changes the next week and carries into the build weeks after it, whose numbers are
forecasts; minutes, sets per muscle and the deload follow. What is declined leaves the block's
numbers as they are, except that a lift that hurts does not climb: its caution stays."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from blockwright.engine.errors import BadInput
from blockwright.engine.pain import grade_in
from blockwright.engine.planning.standing import told_anew
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution, FactValue, Reason, each_once
from blockwright.engine.screening import When, causes_of, status_of
from blockwright.engine.signs import WHOLE_BODY_SIGNS, still_said
from blockwright.engine.training import Block, BlockDecision, Catalogue
from .block_weeks import BlockWeeks, no_more, remade
from .case import waits_for_a_sign
from .decisions import PAIN_CODES, SCREENING, Checker, Verdict
from .lift_and_week_changes import ease_week, extend_block, stop_lift, swap_lift
from .proposals import Kind
from .set_and_load_changes import entry_of, no_climb, set_load, set_sets

CARRIED_OUT: Mapping[Kind, Callable[[BlockWeeks, Verdict], Reason | None]] = {
    "raise_load": set_load,
    "lower_load": set_load,
    "trim_sets": set_sets,
    "add_set": set_sets,
    "swap_lift": swap_lift,
    "stop_lift": stop_lift,
    "extend_block": extend_block,
    "light_week": ease_week,
    "deload_now": ease_week,
}
"""By kind, in the order in which verdicts are carried out, whatever order they came in."""

LEAST_WEEKS, MOST_WEEKS = 3, 8  # Build weeks a lifter file may ask for
ORDER = (*CARRIED_OUT, "refer")


def revised(
    block: Block,
    verdicts: Sequence[Verdict],
    cautions: Iterable[Caution],
    catalogue: Catalogue,
    policy: Policy,
) -> Block:
    """The next revision. `cautions` are all of the review's: they join the block's whatever was
    decided. Raises BadInput with every verdict that cannot be carried out."""
    problems = Checker(block, catalogue, policy).problems(verdicts)
    if problems:
        raise BadInput(problems)
    weeks = BlockWeeks(block, catalogue, policy)
    cautions = tuple(cautions)
    asked = [v.offered.week for v in verdicts if v.offered.week is not None]
    if asked:
        _hold_what_hurts(weeks, verdicts, cautions, min(asked))
    told = [_carry_out(weeks, v) for v in sorted(verdicts, key=_rank)]
    if asked:
        _keep_referred(weeks, verdicts, cautions, min(asked))
    new = replace(
        block,
        revision=block.revision + 1,
        weeks=weeks.finished(max(asked, default=10**6)),  # every later one is a forecast
        cautions=each_once((*block.cautions, *cautions)),
        decisions=(*block.decisions, *(_decision(verdict) for verdict in verdicts)),
        reasons=(*block.reasons, *(reason for reason in told if reason is not None)),
    )
    new = replace(new, reasons=(*new.reasons, *below_floor(block, new)))
    for verdict in verdicts:
        new = _cleared_or_stopped(new, verdict, policy)
    return told_anew(_with_weeks(new), catalogue, policy)


def _with_weeks(block: Block) -> Block:
    """The lifter's number of build weeks follows the block's, where a lifter file may say it."""
    builds = len(block.builds)
    if builds == block.lifter.weeks or not LEAST_WEEKS <= builds <= MOST_WEEKS:
        return block
    return replace(block, lifter=replace(block.lifter, weeks=builds))


def below_floor(old: Block, new: Block) -> list[Reason]:
    """A reason for every muscle that the changes have put below the floor in some build week."""
    told = {str(r.facts.get("muscle")) for r in old.reasons if r.code.startswith("below_floor")}
    found: dict[str, Reason] = {}
    for week in new.weeks:
        for muscle, sets in week.muscle_sets.items():
            name = muscle.replace("_", " ")
            skipped = new.lifter.emphasis_of(muscle) == "skip"
            if week.kind != "build" or skipped or name in told or sets.fractional >= sets.floor:
                continue
            facts: dict[str, FactValue] = {
                "muscle": name,
                "week": week.week,
                "sets": sets.fractional,
                "floor_sets": sets.floor,
            }
            found.setdefault(name, Reason(code="below_floor_as_decided", facts=facts))
    return list(found.values())


def _rank(verdict: Verdict) -> int:
    return ORDER.index(verdict.offered.kind)


def _hold_what_hurts(
    weeks: BlockWeeks, verdicts: Sequence[Verdict], cautions: Sequence[Caution], week: int
) -> None:
    """The printed climb comes off every lift that the review says hurts, and off everything under
    a sign of the whole body or without a clearance, whatever was decided and whether or not a
    proposal names it, until that was cleared. What waited for this letter waits no more, but what
    loads a place that hurts and nobody decided about."""
    cleared = {v.offered.about for v in verdicts if v.cleared_on is not None}
    hurt = {str(c.facts.get("about")) for c in cautions if c.code in PAIN_CODES} - cleared
    decided = {v.offered.lift for v in verdicts}
    near = {
        name for name in _everything(weeks, week)
        if name not in decided and any(grade_in(weeks.lift(name), place) for place in hurt)
    }  # fmt: skip
    weeks.weeks = [
        remade(w, lambda _, e: [replace(e, waits=e.waits and e.lift in near)]) for w in weeks.weeks
    ]
    for caution in cautions:
        lift = weeks.catalogue.find(str(caution.facts.get("lift")))
        if caution.code in PAIN_CODES and caution.facts.get("about") not in cleared:
            held = [lift.name] if lift is not None else _everything(weeks, week)
        elif _stops_all(caution) not in (None, *cleared):
            held = _everything(weeks, week)
        else:
            continue
        for name in held:
            no_climb(weeks, name, week)


def _keep_referred(
    weeks: BlockWeeks, verdicts: Sequence[Verdict], cautions: Iterable[Caution], week: int
) -> None:
    """A lift that hurts where a professional is to look waits with no climb: its later weeks have
    no more than the held one, until somebody says that it was seen, or it is quiet."""
    cleared = {v.offered.about for v in verdicts if v.cleared_on is not None}
    sent = {str(c.facts.get("about")) for c in cautions if c.code == "pain_refer"} - cleared
    held = (str(c.facts.get("lift")) for c in cautions if c.code in PAIN_CODES)
    for lift in weeks.catalogue.known(dict.fromkeys(held)):
        now = weeks.week(week)
        if now is None or not (lift.name in sent or any(grade_in(lift, place) for place in sent)):
            continue
        for number, planned, entry in weeks.entries(week + 1, None, lift.name):
            if (was := entry_of(now, planned.session, lift.name)) is not None and was.sets:
                weeks.put(number, planned.session, no_more(entry, was, lift))


def _stops_all(caution: Caution) -> str | None:
    """What has to be cleared before anything may progress; None where others may."""
    if caution.code == "screening_not_cleared":
        return SCREENING
    sign = str(caution.facts.get("sign"))
    return sign if sign in WHOLE_BODY_SIGNS else None


def _everything(weeks: BlockWeeks, number: int) -> list[str]:
    """Every lift of a week."""
    week = weeks.week(number)
    return [] if week is None else list(dict.fromkeys(entry.lift for entry in week.entries))


def _carry_out(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """Applies one verdict; the reason to keep with the block, if any."""
    offered = verdict.offered
    if verdict.verdict != "declined" and offered.kind in CARRIED_OUT:
        return CARRIED_OUT[offered.kind](weeks, verdict)
    kinds = ("stop_lift", "refer", *(["swap_lift"] if offered.about else []))  # else too heavy
    hurts = offered.kind in kinds or offered.holds
    if not hurts or verdict.cleared_on is not None or not offered.lift or not offered.week:
        return None
    # a lift that hurts and stays in the block does not climb, whatever was declined
    no_climb(weeks, offered.lift, offered.week)
    if verdict.verdict != "declined":
        return None
    return Reason(code="pain_declined", facts={"lift": offered.lift})


def _cleared_or_stopped(block: Block, verdict: Verdict, policy: Policy) -> Block:
    """Clearance written down makes a block ready that waits for nothing else; an accepted
    referral for a sign of the whole body makes it wait. A clearance of a sign is not one of the
    screening, nor the other way round."""
    about, day = verdict.offered.about, verdict.cleared_on
    if about is not None and day is not None:
        block = replace(block, cautions=still_said(block.cautions, {about: day}))
    if verdict.offered.kind != "refer" or not (about in WHOLE_BODY_SIGNS or about == SCREENING):
        return block
    if day is None:
        return replace(block, status="refer") if verdict.verdict != "declined" else block
    lifter = block.lifter
    when = When(max(block.start, day), max(day, lifter.screening.cleared_on or day))
    if about == SCREENING:
        causes = causes_of(lifter, when, policy)
        screening = replace(lifter.screening, cleared_on=day, cleared_for=causes)
        lifter = replace(lifter, screening=screening)
    waits = status_of(lifter, when, policy) == "refer" or waits_for_a_sign(block)
    return replace(block, status="refer" if waits else "ready", lifter=lifter)


def _decision(verdict: Verdict) -> BlockDecision:
    offered = verdict.offered
    change: dict[str, float | str] = {}
    for name in ("week", "session", "lift", "muscle", "about"):
        value = getattr(offered, name)
        if value is not None:
            change[name] = value
    if verdict.to is not None and verdict.to.value is not None:
        if verdict.to.key == "lift" and offered.lift is not None:
            change["lift_was"] = offered.lift
        change[verdict.to.key] = verdict.to.value
        if verdict.to.then is not None:
            change["then"] = verdict.to.then
    if verdict.cleared_on is not None:
        change["cleared_on"] = verdict.cleared_on.isoformat()
    return BlockDecision(
        proposal=offered.id,
        kind=offered.kind,
        verdict=verdict.verdict,
        words=verdict.words,
        change=change,
    )
