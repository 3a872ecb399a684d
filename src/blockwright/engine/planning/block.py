"""`compose`: from a lifter to a whole block."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from blockwright.engine.errors import BadInput
from blockwright.engine.policy import Policy
from blockwright.engine.screening import (
    When,
    begins_gently,
    keeps_from_failure,
    least_rir,
    screening_cautions,
    status_of,
)
from blockwright.engine.strength import Beliefs
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    Entry,
    Lift,
    Lifter,
    MuscleSets,
    Session,
    SetDone,
    SolverReport,
    Week,
)
from blockwright.engine.volume import CeilingBelief, floor_sets, planned_sets
from .baseline import believed_ceiling
from .cautions import effort_cautions
from .clash import find_clash, week_exists
from .composed import Composed
from .deload import deload_after
from .draft import draft_sessions
from .explain import block_reasons
from .fill import USUAL, Budget, Filled, Tell, fill
from .frame import make_frame
from .given_frame import GivenFrame, laid_on
from .limits import QUARTERS, PlanningLimits
from .loads import LoadPaths, Step, paths_for
from .log_facts import log_facts
from .make_problem import make_problem
from .methods import SpecialSets
from .problem import Problem
from .served import with_loads_only
from .spared import NOTHING_CARRIED, Carried
from .visits import choose_visits
from .week_figures import option_of
from .weeks import effort_path, weeks_between


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

    `beliefs` and `facts` are the lifter's own log (loads, and what is trained now); `ceilings` what
    was learnt of muscles; `frame` patterns by day that are given. `tell` hears of progress. Raises
    Clash when no week can be made, BadInput when the lifter lacks a start or a slot. The same
    arguments give the same block, to the byte."""
    if lifter.start is None or not lifter.slots:
        raise BadInput.of("a plan needs a start and a slot", "add start = and [[slot]]")
    if frame is not None and frame.fixed:
        frame = laid_on(frame, lifter.slots)
    gentle = is_gentle(lifter, facts, policy)
    log = log_facts(lifter, facts, catalogue, PlanningLimits(policy))
    if not log:
        carried = replace(carried, kept=carried.kept | left_off(lifter, facts, catalogue, policy))

    def possible(waive: Sequence[str]) -> bool:
        asked = make_problem(
            lifter, catalogue, policy, ceilings=ceilings, gentle=gentle, waive=waive
        )
        return week_exists(asked)

    if (lifter.pins or lifter.leads) and not possible(()):
        raise find_clash(lifter, possible)
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
        raise find_clash(lifter, possible)
    if tell is not None:
        tell("weeks")
    return _block(filled, catalogue, frame, ceilings, paths)


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


def _block(
    filled: Filled,
    catalogue: Catalogue,
    given: GivenFrame | None,
    ceilings: Mapping[str, CeilingBelief] | None,
    paths: LoadPaths,
) -> Block:
    problem = filled.week.problem
    lifter, policy = problem.lifter, problem.limits.policy
    rirs = _reserves(problem)
    drafts = [
        draft_sessions(filled, lifter, catalogue, policy, (number, rir, sets))
        for number, (rir, sets) in enumerate(
            zip(rirs, weeks_between(filled, lifter.weeks), strict=True), start=1
        )
    ]
    special = SpecialSets(
        lifter, catalogue, policy, lambda e: problem.on_hold(option_of(e, catalogue, policy))
    )
    sessions = _with_loads(special.put_in(drafts), lifter, catalogue, paths)
    builds = [
        Week(
            week=number,
            kind="build",
            rir=rir,
            sessions=made,
            muscle_sets=_muscle_sets(problem, made, catalogue, ceilings),
        )
        for number, (made, rir) in enumerate(zip(sessions, rirs, strict=True), start=1)
    ]
    options = {(o.lift.name, o.zone): o for o in (filled.week.options[i] for i in filled.sets)}
    deload, left_out = deload_after(builds[0], builds[-1], lifter, catalogue, policy, options)
    weeks = (*builds, deload)
    assert lifter.start is not None
    when = When(lifter.start, lifter.start)
    made = Composed(
        catalogue=catalogue,
        filled=filled,
        given=given,
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
        solver=_report(filled),
        reasons=block_reasons(made),
        cautions=(
            *screening_cautions(lifter, when, policy),
            *effort_cautions(catalogue, weeks),
        ),
    )


def _muscle_sets(
    problem: Problem,
    sessions: Sequence[Session],
    catalogue: Catalogue,
    ceilings: Mapping[str, CeilingBelief] | None,
) -> dict[str, MuscleSets]:
    """Sets of every muscle, beside the floor and the ceiling the block plans with: the log may
    have lifted it."""
    counts = planned_sets((e for s in sessions for e in s.entries), catalogue)
    policy = problem.limits.policy
    made = {}
    for muscle in MUSCLES:
        believed = believed_ceiling(problem.lifter, muscle, policy, ceilings)
        most = problem.aims[muscle].most / QUARTERS
        made[muscle] = MuscleSets(
            direct=counts[muscle].direct,
            indirect=counts[muscle].indirect,
            fractional=counts[muscle].fractional,
            floor=floor_sets(policy),
            ceiling=max(round(believed, 2), round(most, 2)),
        )
    return made


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


def _reserves(problem: Problem) -> tuple[float, ...]:
    """The reserve of each build week."""
    lifter, policy = problem.lifter, problem.limits.policy
    first, last = policy.number("ramp.first_rir"), policy.number("ramp.last_rir")
    path = effort_path(lifter.weeks, first, last)
    # the screening: stay away from failure, begin light to moderate
    rirs = [max(rir, least_rir(lifter, week, policy)) for week, rir in enumerate(path, 1)]
    if problem.gentle:
        rirs[0] = max(rirs[0], policy.number("first_week.rir"))
    return tuple(rirs)


def _with_loads(
    weeks: Sequence[tuple[Session, ...]], lifter: Lifter, catalogue: Catalogue, paths: LoadPaths
) -> list[tuple[Session, ...]]:
    """Sessions with loads: one path per session and lift over all build weeks."""
    places: dict[tuple[int, str], list[tuple[Session, Entry]]] = defaultdict(list)
    for sessions in weeks:
        for session in sessions:
            for entry in session.entries:
                places[session.session, entry.lift].append((session, entry))
    steps = {}
    for at, found in places.items():
        option = option_of(found[0][1], catalogue, paths.policy)
        asked = [(s.day, e.sets[0].rir, len(e.sets)) for s, e in found]
        steps[at] = paths.path(option.lift, option.reps, option.time.rest_s, asked)

    def loaded(session: Session, week: int) -> Session:
        may = week == len(weeks) - 1
        return replace(
            session,
            entries=tuple(
                _loaded(
                    e,
                    steps[session.session, e.lift][week],
                    fails=may and may_fail(lifter, catalogue.lifts[e.lift], paths.policy),
                )
                for e in session.entries
            ),
        )

    return [tuple(loaded(s, week) for s in sessions) for week, sessions in enumerate(weeks)]


def _loaded(entry: Entry, step: Step, *, fails: bool) -> Entry:
    asked = step.printed or entry.sets[0]
    to = {"reps_low": asked.reps_low, "reps_high": asked.reps_high}
    rows = [replace(row, **to, load_kg=step.load_kg, forecast_kg=step.forecast_kg, rir=step.rir)
            for row in entry.sets]  # fmt: skip
    if step.aim is not None:
        rows[0] = replace(rows[0], aim_low=step.aim[0], aim_high=step.aim[1])
    if fails and step.rir <= entry.sets[0].rir:
        rows[-1] = replace(rows[-1], rir=0.0)
    return replace(entry, sets=tuple(rows))


def may_fail(lifter: Lifter, lift: Lift, policy: Policy) -> bool:
    """Whether the last set of the last build week may be taken to failure."""
    allowed = lifter.allow.to_failure and not keeps_from_failure(lifter, policy)
    if lift.compound and (lifter.experience == "advanced" or lifter.energy == "deficit"):
        allowed = allowed and not policy.switch("method.fail_small_only")
    return allowed and lift.safe_to_fail and not lift.rir_least
