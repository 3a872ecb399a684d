"""A block in three lines: its days, its leads, and what the coach should know."""

from collections import Counter

from blockwright.engine.reasons import FactValue, Reason, and_listed
from blockwright.engine.training import DAY_NAMES
from blockwright.engine.units import spoken
from .candidates import usable_lifts
from .composed import Composed, kept_out_by_pain
from .patterns import basic_of
from .standing import days_text, leads_text


def three_lines(made: Composed) -> list[Reason]:
    """Patterns and main lifts by day; leads and where they go; what the coach should know."""
    return [
        Reason(
            code="block_days", facts={"days": days_text(made.builds[-1].sessions, made.catalogue)}
        ),
        Reason(code="block_leads", facts={"leads": leads_text(made.lifter, made.builds)}),
        Reason(code="block_note", facts={"note": _note_text(made)}),
    ]


def _note_text(made: Composed) -> str:
    notes = _pain_texts(made)
    free = len(made.problem.slots) - len(made.filled.frame.visits)
    if free:
        notes.append(f"{free} of {len(made.problem.slots)} slots stay free")
    if made.problem.gentle:
        notes.append("week one is kept easy")
    missing = [_missing_text(made, code, facts) for code, facts in missing_aims(made)]
    notes += [text for text in dict.fromkeys(missing) if text]
    style = "half the sets on the usual days"
    if made.lifter.deload_style == "two-part":
        style = "in two parts"
    notes.append(f"deload: {style}")
    return "; ".join(notes)


def _pain_texts(made: Composed) -> list[str]:
    """What hurts, and the lifts the lifter does that stay out for it."""
    spared = made.problem.carried.spared
    placed = {option.lift.name for _, option in made.placed()}
    texts = [
        f"the {spoken(region)} hurts, so nothing new loads it much"
        for region in sorted(spared.regions)
    ]
    stays = sorted(placed & spared.borne)
    if stays:
        texts.append(f"{and_listed(stays)} loads it and is done now: ask how it feels")
    done = made.catalogue.known(
        [*made.problem.log.lifts, *(known.lift for known in made.lifter.known)]
    )
    out = {x.name for x in done if made.problem.keeps_out(x)} | spared.lifts
    names = and_listed(sorted(out - placed))
    return [*texts, f"{names} left out for pain"] if names else texts


_TOLD = {
    "main_missing": "no {basic} on {day}",
    "no_main": "no main lift on {day}",
    "basic_missing": "no {basic} lift: {why}",
    "heavy_missing": "no heavy {basic}",
    "own_lift": "no lift of its own for {muscle}",
    "lead_days": "{muscle} on one day only",
    "lead_lifts": "one lift only for {muscle}",
    "few_lifts": "few lifts on {day}",
    "short_visit": "{day} is short in week one",
    "curl_sets": "few leg curls",
    "heavy_share": "{much} heavy sets",
    "hip_sets": "few sets for the hip",
    "knee_sets": "few sets for the knee",
    "two_days": "{side} on one day only",
}
"""What a missed aim is called in the note."""


def missing_aims(made: Composed) -> list[tuple[str, dict[str, FactValue]]]:
    """Missed aims a coach should hear of."""
    broken = made.filled.week.broken(_climbed(made))
    return [(rule.code, dict(rule.facts)) for rule, _ in broken if rule.code in _TOLD]


def _climbed(made: Composed) -> list[int]:
    """The week's values with the sets that the climb reached in the last build week: it may end
    below what was composed."""
    values, week = list(made.filled.solution.values), made.filled.week
    left: Counter[tuple[str, str]] = Counter()
    for session in made.builds[-1].sessions:
        for entry in session.entries:
            left[entry.lift, entry.zone] += len(entry.sets)
    for place in made.filled.sets:
        name = week.options[place].lift.name, week.options[place].zone
        values[week.last[place]] = min(values[week.last[place]], left[name])
        left[name] -= values[week.last[place]]
    return values


def _missing_text(made: Composed, code: str, facts: dict[str, FactValue]) -> str:
    words = {"day": "any day", **{key: spoken(str(value)) for key, value in facts.items()}}
    if "slot" in facts:
        words["day"] = DAY_NAMES[made.problem.slots[int(str(facts["slot"]))].day]
    if code == "basic_missing":
        hurt = kept_out_by_pain(made, lambda lift: basic_of(lift) == facts["basic"])
        usable = usable_lifts(made.lifter, made.catalogue)
        there = any(basic_of(lift) == facts["basic"] for lift in usable)
        why = "none is light enough and suits" if there else "neither kit nor limits leave one"
        words["why"] = f"{hurt} hurts" if hurt else why
    return _TOLD[code].format(**words)


def missing_reasons(made: Composed) -> list[Reason]:
    return [
        Reason(code="aim_missed", facts={"what": text})
        for text in dict.fromkeys(_missing_text(made, c, f) for c, f in missing_aims(made))
    ]
