"""A reason for every main lift that stays, goes or comes, against what the lifter does now; the
small ones that go are named together."""

from blockwright.engine.planning.candidates import rules_against
from blockwright.engine.planning.fill import Filled
from blockwright.engine.planning.log_facts import LogFacts
from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.training import Catalogue, Lift, Lifter


def change_reasons(
    filled: Filled, lifter: Lifter, catalogue: Catalogue, log: LogFacts
) -> list[Reason]:
    """What changes against the log; nothing without one."""
    if not log:
        return []
    week = filled.week
    placed = {week.options[i].lift.name: week.options[i] for i in filled.sets}
    reasons: list[Reason] = []
    small: list[Reason] = []
    for name, logged in log.lifts.items():
        lift = catalogue.find(name)
        if lift is None or (not lift.compound and name in placed):
            continue
        facts: dict[str, FactValue] = {"lift": name, "sets": logged.sets}
        if name in placed:
            facts = {**facts, "visits": logged.visits}
            hurts = week.problem.hurts(placed[name])
            reasons.append(Reason(code="lift_stays_hurts" if hurts else "lift_stays", facts=facts))
        else:
            goes = _goes(lift, filled, lifter, catalogue, facts)
            told = lift.compound or goes.code in ("lift_goes_rule", "lift_goes_hurts")
            (reasons if told else small).append(goes)
    if small:
        names = and_listed([str(reason.facts["lift"]) for reason in small])
        reasons.append(Reason(code="lifts_go_small", facts={"lifts": names, "count": len(small)}))
    for name, option in placed.items():
        if name in log.lifts:
            continue
        leads = [m.replace("_", " ") for m in week.problem.leads_of(option)]
        code = "lift_new_lead" if leads else "lift_new"
        if name in week.problem.liked or name in week.problem.pinned:
            continue
        for_what = leads[0] if leads else option.muscle.replace("_", " ")
        reasons.append(Reason(code=code, facts={"lift": name, "muscle": for_what}))
    return reasons


def _goes(
    lift: Lift, filled: Filled, lifter: Lifter, catalogue: Catalogue, facts: dict[str, FactValue]
) -> Reason:
    against = rules_against(lift, lifter, catalogue)
    if against:
        kind, _, name = against[0].partition(":")
        return Reason(code="lift_goes_rule", facts={**facts, "why": f"{kind} {name}".strip()})
    if lift.name in filled.week.problem.carried.spared.lifts:
        return Reason(code="lift_goes_hurts", facts=facts)
    option = next((o for o in filled.week.problem.options if o.lift.name == lift.name), None)
    if option is None:
        return Reason(code="lift_goes_load", facts=facts)
    stand_ins = [
        o.lift.name
        for i, o in enumerate(filled.week.options)
        if i in filled.sets and o.basic == option.basic and o.muscle == option.muscle
    ]
    if stand_ins:
        return Reason(code="lift_goes_other", facts={**facts, "other": stand_ins[0]})
    return Reason(code="lift_goes_time", facts=facts)
