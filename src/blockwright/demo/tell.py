"""The story in sentences. Every number in them comes from the run."""

from collections import Counter
from collections.abc import Mapping
from datetime import date, timedelta
from textwrap import fill
from typing import Any

from blockwright.demo.coach import Word, answered
from blockwright.demo.folder import monday
from blockwright.demo.play import Played, WeekPlayed
from blockwright.engine.reasons import and_listed
from blockwright.engine.training import Block

WIDTH = 92
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
           "eleven", "twelve")  # fmt: skip
COUNTED = {
    "raise_load": ("load raised", "loads raised"),
    "lower_load": ("load lowered", "loads lowered"),
    "add_set": ("set added", "sets added"),
    "trim_sets": ("set taken off", "sets taken off"),
    "swap_lift": ("lift swapped", "lifts swapped"),
    "stop_lift": ("lift stopped", "lifts stopped"),
    "refer": ("referral", "referrals"),
    "deload_now": ("early deload", "early deloads"),
    "extend_block": ("longer block", "longer blocks"),
}
"""Kinds that change something; the others stay as they were."""


def story(played: Played) -> list[str]:
    """One person's story, a paragraph an item."""
    first = played.first
    name = first.lifter.name
    builds = sum(week.kind == "build" for week in first.weeks)
    parts = [
        f"{name} {played.person.about}.",
        f"The log before the block holds {played.history_sets} sets. The plan, from "
        f"{_day(first.start)}: {number(builds)} build weeks and a deload, "
        f"{number(len(first.lifter.slots))} sessions a week; no week can be more than "
        f"{100 * first.solver.gap:.1f} % better for these rules.",
    ]
    parts += [_week(played, week) for week in played.weeks]
    parts += [*_report(played), _next(played)]
    return [filled(part) for part in parts]


def filled(paragraph: str) -> str:
    """A paragraph broken for a terminal, names left whole."""
    return fill(paragraph, WIDTH, subsequent_indent="  ", break_on_hyphens=False)


def number(count: int) -> str:
    """Small numbers as words."""
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


def _week(played: Played, week: WeekPlayed) -> str:
    start = monday(played.first, week.week.week)
    end = start + timedelta(days=6)
    planned = (
        sum(bool(session.entries) for session in week.week.sessions)
        if week.running
        else week.sessions + len(week.missed)
    )
    kind = ", the deload" if week.week.kind == "deload" else ""
    head = f"Week {week.week.week}{kind} ({start.day} {start:%b} to {end.day} {end:%b}): "
    head += f"{week.sessions} of {planned} sessions, {week.sets} sets"
    head += " until today" if week.running else ""
    head += f" ({'; '.join(week.missed)})" if week.missed else ""
    trouble = played.person.trouble
    if trouble is not None and week.week.week == trouble.first_week:
        head += f"; {trouble.says}"
    return f"{head}. {_answers(played, week)}".rstrip()


def _answers(played: Played, week: WeekPlayed) -> str:
    if not week.proposals:
        return ""
    by_kind = Counter(proposal["kind"] for proposal in week.proposals)
    changes = [
        f"{number(by_kind[kind])} {words[by_kind[kind] > 1]}"
        for kind, words in COUNTED.items()
        if by_kind[kind]
    ]
    stays = sum(count for kind, count in by_kind.items() if kind not in COUNTED)
    said = and_listed(changes) if changes else "no change"
    rest = f"; the other {stays} stay" if stays else ""
    told = {proposal["id"]: proposal for proposal in week.proposals}
    deload = [p for p in week.proposals if p["kind"] == "deload_now"]
    why = f" Why: {deload[0]['reasons'][0]['says']}." if deload else ""
    return f"Proposed: {said}{rest}.{why} {_decided(played.person.coach, week, told)}"


def _decided(coach: str, week: WeekPlayed, told: Mapping[str, Mapping[str, Any]]) -> str:
    if week.letter_waits:
        return f"The letter waits for {coach}."
    every = list(week.words)
    changed, declined = answered(every, "changed"), answered(every, "declined")
    if not changed and not declined:
        return f"{coach} accepts all."
    parts = []
    if declined:
        parts.append(f"declines {_named(declined, told)}")
    if changed:
        parts.append(f"changes {_named(changed, told)}")
    rest = len(every) - len(changed) - len(declined)
    accepts = f", and accepts the other {rest}" if rest else ""
    return f"{coach} {' and '.join(parts)}{accepts}."


def _named(words: list[Word], told: Mapping[str, Mapping[str, Any]]) -> str:
    """By the coach's words: "two (“not on a night week”), leg press (“smaller”)"."""
    by_reason: dict[str, list[Word]] = {}
    for word in words:
        by_reason.setdefault(word.words, []).append(word)
    parts = []
    for reason, same in by_reason.items():
        kind = COUNTED.get(told[same[0].proposal]["kind"], ("proposal", "proposals"))
        about = told[same[0].proposal]["lift"] or kind[0]
        what = f"{about} ({kind[0]})" if len(same) == 1 else f"{number(len(same))} {kind[1]}"
        parts.append(f"{what}: “{reason}”")
    return "; ".join(parts)


def _report(played: Played) -> list[str]:
    if played.report is None:
        return []
    found = played.report.document["findings"]
    order = ("done", "muscles", "strength", "predictions", "claims")
    return ["The report: " + " ".join(f"{found[part]['says']}." for part in order)]


def _next(played: Played) -> str:
    following = played.following
    if following is None:
        return ""
    old, new = _lifts(played.last), _lifts(following)
    gone = sorted(old - new)
    came = sorted(new - old)
    text = (
        f"The next block starts on {_day(following.start)}: {len(old & new)} of {len(old)} lifts "
        "come back"
    )
    if gone and came:
        verb = "comes" if len(came) == 1 else "come"
        text += f"; {and_listed(came)} {verb} in the place of {and_listed(gone)}"
    return f"{text}."


def _lifts(block: Block) -> set[str]:
    return {e.lift for w in block.weeks if w.kind == "build" for s in w.sessions for e in s.entries}
