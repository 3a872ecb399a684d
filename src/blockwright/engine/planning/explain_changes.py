"""A reason for every lift that goes or comes, against what the lifter does now, and for every main
lift that stays; small ones that go for one reason are named together."""

from collections import defaultdict

from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.training import Lift
from blockwright.engine.units import spoken
from .candidates import rules_against
from .composed import Composed, binding
from .problem import Option


def change_reasons(made: Composed) -> list[Reason]:
    """What changes against the log and the lifts said to be known; nothing without either."""
    log, problem = made.problem.log, made.problem
    placed = {option.lift.name: option for _, option in made.placed()}
    before = sorted(problem.carried.kept & problem.known)  # of who comes back after a while
    said_known = [known.lift for known in made.lifter.known]
    done = made.catalogue.known([*log.lifts, *said_known, *([] if log else before)])
    reasons: list[Reason] = []
    gone: dict[tuple[str, str], list[Lift]] = defaultdict(list)
    for name, lift in {lift.name: lift for lift in done}.items():
        if name not in placed:
            if problem.keeps_out(lift) or name not in problem.carried.left_out:
                gone[_goes(made, lift, placed)].append(lift)  # the others are told as making way
        elif lift.compound and name in log.lifts:
            code = "lift_stays_hurts" if problem.hurts(placed[name]) else "lift_stays"
            sets, visits = log.lifts[name].sets, log.lifts[name].visits
            reasons.append(Reason(code=code, facts={"lift": name, "sets": sets, "visits": visits}))
    for (code, why), lifts in gone.items():
        names = and_listed([lift.name for lift in lifts])
        facts: dict[str, FactValue] = {"lift": names, "why": why, "lifts": len(placed)}
        reasons.append(Reason(code=code, facts=facts))
    asked = {*log.lifts, *problem.liked, *problem.pinned} if log else {*placed}
    out = [lift for lifts in gone.values() for lift in lifts]
    return [*reasons, *(_comes(made, o, out) for name, o in placed.items() if name not in asked)]


def _goes(made: Composed, lift: Lift, placed: dict[str, Option]) -> tuple[str, str]:
    """The reason's code, and what stands in for the lift or forbids it."""
    against = rules_against(lift, made.lifter, made.catalogue)
    if against:
        return "lift_goes_rule", against[0].replace(":", " ")
    if made.problem.keeps_out(lift):
        return "lift_goes_hurts", ""
    option = next((o for o in made.problem.options if o.lift.name == lift.name), None)
    if option is None:
        return "lift_goes_load", ""
    places = made.filled.week.where(lambda o: o.lift.name == lift.name)
    code = f"lift_goes_{binding(made, places)[0]}"
    others = [n for n, o in placed.items() if option.basic and o.basic == option.basic]
    if not others and not any(option.muscle in o.direct for o in placed.values()):
        return code, f"nothing that is aimed at the {spoken(option.muscle)}"
    return code, and_listed(others) or "what stays trains the same muscles"


def _comes(made: Composed, option: Option, gone: list[Lift]) -> Reason:
    """Why a lift comes: known though not usual, or new: for a lead, in place of one that goes, for
    what the log lacks, or for more of what it has."""
    leads, lift = made.problem.leads_of(option), option.lift
    before = [x.name for x in gone if x.pattern == lift.pattern]
    lacks = option.basic and option.basic not in {x.basic for x in made.problem.log.lifts.values()}
    code = "lift_new" if lacks or made.problem.fills_hole(option) else "lift_new_more"
    kind = lift.pattern if option.is_main else spoken(option.muscle)
    if lift.name in made.problem.known:
        code = "lift_back"
    elif leads:
        code, kind = "lift_new_lead", spoken(leads[0])
    elif before:
        code, kind = "lift_new_instead", and_listed(before)
    return Reason(code=code, facts={"lift": lift.name, "muscle": kind})
