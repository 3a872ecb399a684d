"""`compose`: from a lifter to a whole block."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.errors import BadInput
from blockwright.engine.errors import Problem as BadPlace
from blockwright.engine.planning.cautions import effort_cautions
from blockwright.engine.planning.clash import Asked, find_clash
from blockwright.engine.planning.composed import Composed
from blockwright.engine.planning.deload import deload_week
from blockwright.engine.planning.deload_rules import DeloadRules
from blockwright.engine.planning.draft import DraftSession, draft_sessions, lead_names
from blockwright.engine.planning.explain import block_reasons
from blockwright.engine.planning.fill import USUAL, Budget, Filled, Tell, fill
from blockwright.engine.planning.frame import make_frame
from blockwright.engine.planning.given_frame import GivenFrame, laid_on
from blockwright.engine.planning.limits import QUARTERS, PlanningLimits
from blockwright.engine.planning.loads import LoadPaths, Step, paths_for, with_loads_only
from blockwright.engine.planning.log_facts import log_facts
from blockwright.engine.planning.make_problem import make_problem
from blockwright.engine.planning.methods import with_methods
from blockwright.engine.planning.problem import Option
from blockwright.engine.planning.spared import NOTHING_CARRIED, Carried
from blockwright.engine.planning.time_model import minutes_of
from blockwright.engine.planning.visits import choose_visits
from blockwright.engine.planning.weeks import effort_path, muscle_sets, weeks_between
from blockwright.engine.policy import Policy
from blockwright.engine.screening import (
    When,
    begins_gently,
    keeps_from_failure,
    least_rir,
    screening_cautions,
    status_of,
)
from blockwright.engine.strength import Beliefs, moved
from blockwright.engine.training import (
    Block,
    Catalogue,
    Entry,
    Lift,
    Lifter,
    MuscleSets,
    Session,
    SetDone,
    SetPlan,
    SolverReport,
    Week,
)
from blockwright.engine.volume import CeilingBelief


def compose(
    lifter: Lifter,
    catalogue: Catalogue,
    policy: Policy,
    *,
    beliefs: Beliefs | None = None,
    ceilings: Mapping[str, CeilingBelief] | None = None,
    facts: Sequence[SetDone] = (),
    frame: GivenFrame | None = None,
    carried: Carried = NOTHING_CARRIED,
    budget: Budget = USUAL,
    tell: Tell | None = None,
) -> Block:
    """A block for `lifter`, revision 1.

    `beliefs` and `facts` are the lifter's own log (loads, and what is trained now); `ceilings`
    what was learnt of muscles; `frame` patterns by day that are given. `tell` hears of progress.
    Raises Clash when no week can be made, BadInput when the lifter lacks a start or a slot. The
    same arguments give the same block, to the byte.
    """
    if lifter.start is None or not lifter.slots:
        raise BadInput(
            BadPlace(says="a plan needs a start and a slot", mend="add start = and [[slot]]")
        )
    if frame is not None and frame.fixed:
        frame = laid_on(frame, lifter.slots)
    gentle = is_gentle(lifter, facts, policy)
    log = log_facts(lifter, facts, catalogue, PlanningLimits(policy))
    if not log:
        carried = replace(carried, kept=carried.kept | left_off(lifter, facts, catalogue, policy))
    asked = Asked(
        lifter=lifter, catalogue=catalogue, policy=policy, ceilings=ceilings, gentle=gentle
    )
    if (lifter.pins or lead_names(lifter)) and not asked.possible(()):
        raise find_clash(asked)
    paths = replace(
        paths_for(lifter, policy, catalogue, beliefs, facts),
        hurt=carried.spared.lifts | carried.spared.borne | carried.steady,
        cleared=carried.spared.cleared,
    )
    problem = make_problem(
        lifter,
        catalogue,
        policy,
        log=log,
        ceilings=ceilings,
        gentle=gentle,
        known=known_lifts(lifter.start, facts, policy),
        carried=carried,
    )
    problem = with_loads_only(problem, paths, lifter.start, policy.number("ramp.first_rir"))
    filled = fill(problem, make_frame(problem, choose_visits(problem, frame), frame), budget, tell)
    if filled is None or not filled.sets:
        raise find_clash(asked)
    return _block(_Work(lifter, catalogue, policy, filled, frame), ceilings, paths, tell)


def known_lifts(start: date, facts: Sequence[SetDone], policy: Policy) -> frozenset[str]:
    """Lifts the lifter did lately: known to the body, and their load known to us."""
    days = policy.number("planning.known_days")
    return frozenset(
        done.lift for done in facts if 0 < (start - done.moment.day).days <= days and done.is_work
    )


def left_off(
    lifter: Lifter, facts: Sequence[SetDone], catalogue: Catalogue, policy: Policy
) -> frozenset[str]:
    """Lifts that were usual when a lifter who comes back last trained."""
    start = lifter.start
    known = known_lifts(start, facts, policy) if start else ()
    days = [x.moment.day for x in facts if x.lift in known and start and x.moment.day < start]
    if not days:
        return frozenset()
    then = replace(lifter, start=max(days) + timedelta(days=1))
    return frozenset(log_facts(then, facts, catalogue, PlanningLimits(policy)).lifts)


def is_gentle(lifter: Lifter, facts: Sequence[SetDone], policy: Policy) -> bool:
    """Whether week one is a novice's or a returner's: not active, or no session of late logged or
    known. What somebody active is said to lift now is known: two lifts, or one and the week's
    sets."""
    if lifter.experience == "novice" or begins_gently(lifter) or lifter.start is None:
        return True
    start = lifter.start
    since = start - timedelta(days=policy.whole("first_week.days_without_log"))
    known = {known.lift for known in lifter.known if (known.on or start) >= since}
    if len(known) + bool(lifter.habits.weekly_sets) > 1 and lifter.screening.currently_active:
        return False
    return not any(since <= done.moment.day < start for done in facts)


@dataclass(frozen=True, slots=True)
class _Work:
    """What every part of a block is made from."""

    lifter: Lifter
    catalogue: Catalogue
    policy: Policy
    filled: Filled
    given: GivenFrame | None


def _block(
    work: _Work,
    ceilings: Mapping[str, CeilingBelief] | None,
    paths: LoadPaths,
    tell: Tell | None,
) -> Block:
    lifter, policy = work.lifter, work.policy
    if tell is not None:
        tell("weeks")
    drafts, rirs = _drafts(work)
    sessions = _with_loads(work, drafts, rirs, paths)
    builds = [
        Week(
            week=number,
            kind="build",
            rir=rir,
            sessions=made,
            muscle_sets=_counted(work, made, ceilings),
        )
        for number, (made, rir) in enumerate(zip(sessions, rirs, strict=True), start=1)
    ]
    deload, left_out = _deload(work, builds[0], builds[-1])
    weeks = (
        *builds,
        replace(deload, muscle_sets=_counted(work, deload.sessions, ceilings)),
    )
    if lifter.start is None:
        raise ValueError("a block needs a start")
    when = When(lifter.start, lifter.start)
    made = Composed(
        lifter=lifter,
        catalogue=work.catalogue,
        filled=work.filled,
        given=work.given,
        weeks=weeks,
        deload_left_out=left_out,
        load_reasons=tuple(paths.reasons),
    )
    return Block(
        revision=1,
        status=status_of(lifter, when, policy),
        lifter=lifter,
        start=lifter.start,
        weeks=weeks,
        solver=_report(work.filled),
        reasons=block_reasons(made),
        cautions=(
            *screening_cautions(lifter, when, policy),
            *effort_cautions(work.catalogue, weeks),
        ),
    )


def _counted(
    work: _Work, sessions: Sequence[Session], ceilings: Mapping[str, CeilingBelief] | None
) -> dict[str, MuscleSets]:
    """Sets of every muscle, beside the ceiling the block plans with: the log may have lifted it."""
    counted = muscle_sets(sessions, work.lifter, work.catalogue, work.policy, ceilings)
    aims = work.filled.week.problem.aims
    return {
        muscle: replace(sets, ceiling=max(sets.ceiling, round(aims[muscle].most / QUARTERS, 2)))
        for muscle, sets in counted.items()
    }


def _report(filled: Filled) -> SolverReport:
    """What the search came to: points lost in the last tier, and no week loses fewer than the
    bound with the tiers above it as they are."""
    cost, bound = float(filled.solution.cost), float(max(filled.solution.bound, 0))
    gap = (cost - bound) / cost if cost else 0.0
    return SolverReport(
        status="optimal" if filled.solution.proven else "feasible",
        objective=-cost,
        bound=-min(bound, cost),
        gap=round(max(gap, 0.0), 6),
    )


def _drafts(work: _Work) -> tuple[list[tuple[DraftSession, ...]], tuple[float, ...]]:
    lifter, policy, problem = work.lifter, work.policy, work.filled.week.problem
    rirs = effort_path(
        lifter.weeks, policy.number("ramp.first_rir"), policy.number("ramp.last_rir")
    )
    # the screening: stay away from failure, begin light to moderate
    rirs = tuple(max(rir, least_rir(lifter, week, policy)) for week, rir in enumerate(rirs, 1))
    if problem.gentle:
        rirs = (max(rirs[0], policy.number("first_week.rir")), *rirs[1:])
    drafts = [
        draft_sessions(work.filled, lifter, sets, policy, week)
        for week, sets in enumerate(weeks_between(work.filled, lifter.weeks), start=1)
    ]
    return with_methods(drafts, lifter, policy, problem.on_hold), rirs


def _with_loads(
    work: _Work,
    drafts: list[tuple[DraftSession, ...]],
    rirs: tuple[float, ...],
    paths: LoadPaths,
) -> list[tuple[Session, ...]]:
    """Sessions with loads: one path per slot and lift over all build weeks."""
    steps: dict[tuple[int, str], list[Step]] = {}
    for session in drafts[0]:
        for entry in session.entries:
            option = entry.option
            weeks = [
                (same.day, option.lift.rir_for(rir), max(1, found.sets))
                for draft, rir in zip(drafts, rirs, strict=True)
                for same in draft
                for found in same.entries
                if same.slot == session.slot and found.option is option
            ]
            steps[session.slot, option.lift.name] = paths.path(
                option.lift, option.reps, option.time.rest_s, weeks
            )
    last = len(drafts) - 1
    return [
        tuple(
            _session(work, draft, number, week, rir, steps, last=week == last)
            for number, draft in enumerate(sessions, start=1)
        )
        for week, (sessions, rir) in enumerate(zip(drafts, rirs, strict=True))
    ]


def _session(
    work: _Work,
    draft: DraftSession,
    number: int,
    week: int,
    rir: float,
    steps: Mapping[tuple[int, str], list[Step]],
    *,
    last: bool,
) -> Session:
    slot = work.filled.week.problem.slots[draft.slot]
    entries = []
    for order, entry in enumerate(draft.entries, start=1):
        option = entry.option
        step = steps[draft.slot, option.lift.name][week]
        row = moved(SetPlan.of(option.reps, step.rir), step.moved)
        row = replace(row, load_kg=step.load_kg, forecast_kg=step.forecast_kg)
        rows = [row] * entry.sets
        if step.aim is not None:
            rows[0] = replace(rows[0], aim_low=step.aim[0], aim_high=step.aim[1])
        rows[-1] = replace(rows[-1], counts_as=entry.last_counts_as)
        if last and step.rir <= rir and may_fail(work.lifter, option.lift, work.policy):
            rows[-1] = replace(rows[-1], rir=0.0)
        entries.append(
            Entry(
                order=order,
                lift=option.lift.name,
                method=entry.method,
                rest_s=entry.rest_s,
                sets=tuple(rows),
                pair=entry.pair,
                zone=option.zone,
            )
        )
    return Session(
        session=number,
        day=draft.day,
        start_time=slot.start_time,
        minutes_available=slot.minutes,
        minutes_planned=minutes_of(draft.seconds),
        entries=tuple(entries),
    )


def may_fail(lifter: Lifter, lift: Lift, policy: Policy) -> bool:
    """Whether the last set of the last build week may be taken to failure."""
    allowed = lifter.allow.to_failure and not keeps_from_failure(lifter, policy)
    return allowed and lift.safe_to_fail and not lift.rir_least


def _deload(work: _Work, first: Week, last: Week) -> tuple[Week, tuple[str, ...]]:
    by_lift: dict[tuple[str, str], Option] = {
        (option.lift.name, option.zone): option
        for option in (work.filled.week.options[i] for i in work.filled.sets)
    }
    rules = DeloadRules(
        option_of=lambda entry: by_lift[entry.lift, entry.zone],
        leads=lead_names(work.lifter),
        gym=work.lifter.gym,
        bodyweight_kg=work.lifter.bodyweight_kg,
        policy=work.policy,
        most_lifts=work.filled.week.problem.most_lifts,
        first=first.sessions,
        last=last.sessions,
    )
    sessions, left_out = deload_week(last.sessions, rules, work.lifter.deload_style)
    week = Week(
        week=last.week + 1,
        kind="deload",
        rir=work.policy.number("deload.rir"),
        sessions=sessions,
        muscle_sets={},
    )
    return week, left_out
