"""What a week has too much of, by the composer's own rules, in reasons.

`overfull` looks at one session and is strict: minutes, and sets of a muscle. `week_broken` asks the
composer's rules about the week (`planning.judged_week`). A change is judged by what it newly breaks
or breaks worse, because the coach's pins may have broken a rule on purpose."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from blockwright.engine.planning.constraints import Constraint
from blockwright.engine.planning.judged_week import rules_broken
from blockwright.engine.planning.limits import QUARTERS
from blockwright.engine.planning.problem import round_the_week
from blockwright.engine.planning.week_figures import session_minutes, slot_of
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.training import Catalogue, Lifter, Session, Week
from blockwright.engine.volume import planned_sets, planned_week
from .exposures import day_and_time

TINY = 1e-9

Key = tuple[str | int, ...]  # A broken rule and where it is broken
_SPINE = ("planning.axial_session", "planning.axial_two_days", "planning.axial_week")
_SAID: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "spacing": ("too_close", ("planning.hours_between",)),
    "two_day_sets": ("two_days_full", ("planning.two_day_sets",)),
    "day_sets": ("day_full", ("planning.session_sets",)),
    "axial_session": ("spine_full", _SPINE),
    "axial_two_days": ("spine_full", _SPINE),
    "axial_week": ("spine_full", _SPINE),
    "heavy_share": ("heavy_share", ("planning.low_share_least", "planning.low_share_most")),
    "ceiling": ("at_the_ceiling", ()),
    "hinges": ("rule_hinges", ()),
    "axial_lifts": ("rule_axial_lifts", ()),
    "lifts": ("rule_lifts", ()),
    "family_session": ("rule_twins", ()),
    "family_week": ("rule_family", ("planning.family_week",)),
    "repeat": ("rule_repeat", ()),
    "one_range": ("rule_one_range", ()),
    "exposures": ("rule_exposures", ()),
    "muscle_lifts": ("rule_muscle_lifts", ("planning.lifts_per_muscle",)),
    "abs_most": ("rule_enough", ("compose.abs_most",)),
    "calves_most": ("rule_enough", ("compose.calves_most",)),
    "small_neighbours": ("rule_small_neighbours", ()),
    "lead_direct": ("rule_lead_direct", ("planning.lead_direct_share",)),
    "lead_days": ("rule_lead_days", ()),
    "gentle_muscle": ("rule_gentle_muscle", ("first_week.sets_per_muscle",)),
    "gentle_lift": ("rule_gentle_lift", ("first_week.sets_per_lift",)),
}
"""By code of a constraint: how it is said, and the policy behind it."""
_REVIEWED = frozenset({
    "spacing", "two_day_sets", "day_sets", "axial_session", "axial_two_days", "axial_week",
    "heavy_share", "ceiling", "hinges", "axial_lifts",
})  # fmt: skip
"""What the review's own proposals are held to; a coach's hand is held to all."""
_IN_QUARTERS = ("two_day_sets", "day_sets", "ceiling", "gentle_muscle")


@dataclass(frozen=True, slots=True)
class BrokenRule:
    """A rule of the week: the composer's code, by how much it is missed, and what to say."""

    code: str
    much: int
    reason: Reason


def overfull(session: Session, catalogue: Catalogue, policy: Policy) -> Reason | None:
    """A session beyond its minutes or beyond the sets one muscle may have in it, or None."""
    return next((reason for _, _, reason in session_limits(session, catalogue, policy)), None)


def session_limits(
    session: Session, catalogue: Catalogue, policy: Policy
) -> Iterator[tuple[Key, float, Reason]]:
    """What a session has too much of: where, how much of it, and the reason."""
    where: dict[str, FactValue] = {"session": session.session, "day": day_and_time(session)}
    minutes = session_minutes(session, catalogue, policy)
    if minutes > session.minutes_available:
        whole = {"minutes": math.ceil(minutes), "minutes_available": session.minutes_available}
        facts = {**where, **whole}
        reason = Reason(code="no_minutes", facts=facts, policy=("time.session_start",))
        yield ("minutes", session.session), minutes, reason
    limit = policy.number("review.sets.session_limit")
    for muscle, counted in planned_sets(session.entries, catalogue).items():
        sets = counted.fractional
        if sets > limit + TINY:
            named = {**where, "muscle": muscle.replace("_", " "), "sets": round(sets, 2)}
            reason = because("session_full", "review.sets.session_limit", **named, limit=limit)
            yield ("sets", session.session, muscle), sets, reason


def week_broken(
    week: Week, lifter: Lifter, catalogue: Catalogue, policy: Policy, *, gentle: bool = False
) -> dict[Key, BrokenRule]:
    """Every rule of the week that is broken, by where."""
    found: dict[Key, BrokenRule] = {}
    for rule, much in rules_broken(week, lifter, catalogue, policy, gentle=gentle):
        key = (rule.code, *(f"{name} {value}" for name, value in rule.facts.items()))
        code, policies = _SAID[rule.code]
        if key not in found or found[key].much < much:
            facts = _facts(rule, much, week, catalogue)
            reason = Reason(code=code, facts=facts, policy=policies)
            found[key] = BrokenRule(rule.code, much, reason)
    return found


def newly_broken(
    before: Week, after: Week, lifter: Lifter, catalogue: Catalogue, policy: Policy
) -> Reason | None:
    """The first rule that the week breaks newly, of those the review keeps to, or the ceiling that
    it passes by more; None where there is none."""
    old = week_broken(before, lifter, catalogue, policy)
    for key, found in week_broken(after, lifter, catalogue, policy).items():
        worse = key not in old or (found.code == "ceiling" and found.much > old[key].much)
        if found.code in _REVIEWED and worse:
            return found.reason
    return None


def _facts(rule: Constraint, much: int, week: Week, catalogue: Catalogue) -> dict[str, FactValue]:
    facts = {name: value for name, value in rule.facts.items() if name not in ("slot", "other")}
    if "muscle" in facts:
        facts["muscle"] = str(facts["muscle"]).replace("_", " ")
    here, other = (
        None if at is None else week.sessions[int(at)]
        for at in (rule.facts.get("slot"), rule.facts.get("other"))
    )
    if here is not None:
        facts |= {"session": here.session, "day": day_and_time(here)}
    if here is not None and other is not None:
        facts |= {"other_session": other.session, "other_day": day_and_time(other)}
        one, two = (slot_of(session).start_hour_of_week for session in (here, other))
        facts["hours"] = round(round_the_week(one, two), 1)
    if rule.high is not None:
        unit = QUARTERS if rule.code in _IN_QUARTERS else 1
        facts["most"] = round(rule.high / unit, 1)
        facts["sets" if unit > 1 else "times"] = round((rule.high + much) / unit, 2)
    if rule.code == "family_session" and here is not None:
        twins = (e.lift for e in here.entries if catalogue.lifts[e.lift].family == facts["family"])
        facts["lifts"] = " and ".join(sorted(twins))
    if rule.code == "heavy_share":
        facts["share_pct"] = round(100 * _heavy_share(week, catalogue))
    return facts


def _heavy_share(week: Week, catalogue: Catalogue) -> float:
    mains = [e for e in week.entries if catalogue.lifts[e.lift].compound]
    counts = [(e.counted, e.zone == "low") for e in mains]
    return sum(sets for sets, heavy in counts if heavy) / (sum(sets for sets, _ in counts) or 1)


def week_sets(week: Week, catalogue: Catalogue) -> dict[str, float]:
    """Fractional sets by muscle of a whole week."""
    return {muscle: sets.fractional for muscle, sets in planned_week(week, catalogue).items()}
