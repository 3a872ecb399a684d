"""The letter as text: the face on one screen, or in full with figures, sources, runners-up; and as
a message to the lifter, ready to copy: what changes next week and why, in two to five sentences.

In the message safety comes first: what is to be left out or looked at is said before anything that
climbs, and a warning sign leaves no room for anything else."""

import re
from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from blockwright.engine.reasons import and_listed
from blockwright.engine.review.proposals import in_words
from blockwright.engine.review.week_answer import WEAK
from blockwright.engine.signs import WHOLE_BODY_SIGNS
from blockwright.engine.units import number_text
from .letter import MOST_ASKED, Letter
from .letter_changes import Change, Cited, Line
from .report_shapes import Document

WIDTH = 100
_BETWEEN_LIFTS = re.compile(r"; (?![^()]*\))")
"""Between the lifts of a day, and not within what is told of one."""
_HEAD = 9  # Columns of "Change "


def letter_text(letter: Letter, *, full: bool = False) -> str:
    """The face; with `full` also each line's figures and the names that decide on it."""
    parts = [letter.heading, *wrap(letter.verdict, WIDTH)]
    parts += _under("Change", [*_changes(letter.changes), *_climb(letter)])
    parts += _under("Settle", _wrapped(letter.settle))
    parts += _under("Stays", _wrapped(letter.stays))
    if full:
        parts += ["", *_full(letter)]
    elif letter.changes:
        parts.append("More, and names: --full")
    return "\n".join(parts)


def _changes(changes: Sequence[Change]) -> Iterator[list[str]]:
    alone = [change for change in changes if change.change]
    for change in changes:
        if change.change:
            alike = [_cells(one) for one in alone if bool(one.day) == bool(change.day)]
            widths = [max(map(len, column)) for column in zip(*alike, strict=True)]
            pad = (cell.ljust(width) for cell, width in zip(_cells(change), widths, strict=True))
            yield _hanging("  ".join(cell for cell in pad if cell), change.why)
        else:
            sure = f", {change.certainty}" if change.certainty else ""
            first, *more = _BETWEEN_LIFTS.split(change.why)
            yield _hanging("", f"{change.about}{sure}: {first}")
            yield from (wrap(f"  {one}", WIDTH - _HEAD, subsequent_indent="    ",
                             break_on_hyphens=False) for one in more)  # fmt: skip


def _cells(change: Change) -> tuple[str, ...]:
    return (change.day, change.about, change.change, change.certainty)


def _hanging(head: str, rest: str) -> list[str]:
    """A line with its reason, which goes on below where it is too long."""
    room = WIDTH - _HEAD
    if len(head) + 2 + len(rest) <= room:
        return [f"{head}  {rest}".strip()]
    if not head:
        return wrap(rest, room, subsequent_indent="  ", break_on_hyphens=False)
    if len(head.rstrip()) > room:
        return wrap(f"{' '.join(head.split())}: {rest}", room, subsequent_indent="    ")
    return [head.rstrip(), *wrap(rest, room, initial_indent="    ", subsequent_indent="    ")]


def _climb(letter: Letter) -> Iterator[list[str]]:
    if letter.nothing:
        yield [letter.nothing]
    if letter.climb:
        yield [letter.climb[:1].upper() + letter.climb[1:]]


def _wrapped(sentences: Iterable[str]) -> Iterator[list[str]]:
    for sentence in sentences:
        yield wrap(sentence, WIDTH - _HEAD, subsequent_indent="  ", break_on_hyphens=False)


def _under(head: str, items: Iterable[list[str]]) -> list[str]:
    lines = [line for item in items for line in item]
    return [f"{head if n == 0 else '':{_HEAD}}{line}" for n, line in enumerate(lines)]


# --------------------------------------------------------------------------------------- in full


def _full(letter: Letter) -> Iterator[str]:
    if letter.message:
        yield from ("To the lifter", *_filled(letter.message), "")
    yield from ["What happened"] if letter.happened else []
    for note in letter.happened:
        yield from _filled(note)
    for line in letter.lines:
        yield ""
        yield from _line(line)
    if more := letter.asked[MOST_ASKED:]:
        yield from ("", "Also to settle")
        for question in more:
            yield from _filled(question)
    if letter.climbs:
        yield from ("", "Up as printed")
        for day in letter.climbs:
            yield from _filled(day)
    if letter.all_stays:
        yield from ("", "What stays")
        for stay in letter.all_stays:
            yield from _filled(stay)
    if letter.cautions:
        yield from ("", "Cautions, whatever is decided")
        for caution in letter.cautions:
            yield from _filled(_numbered(caution))
    if letter.sources:
        yield from ("", "Sources")
        for number, source in enumerate(letter.sources, 1):
            yield from _filled(f"[{number}] {source}")
    if letter.lines:
        yield ""
        yield "Accept, change or decline each line by the name in brackets: `blockwright revise`."


def _line(line: Line) -> Iterator[str]:
    yield from _filled(f"{line.says}  [{line.id}]", indent="")
    for reason in line.because:
        yield from _filled(f"because {_numbered(reason)}", indent="    ")
    yield from _filled(f"{line.figure} that {line.claim}", indent="    ")
    if line.runner_up:
        yield from _filled(f"next best: {line.runner_up}", indent="    ")


def _numbered(said: Cited) -> str:
    return said.says + ("" if said.source is None else f" [{said.source}]")


def _filled(text: str, indent: str = "  ") -> list[str]:
    """Wrapped with a hanging indent; a proposal's name is never broken at its hyphens."""
    return wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "  ",
        break_on_hyphens=False,
        break_long_words=False,
    )


_NAMED = 3
"""Lifts named that are held for pain, and beyond, their number; that come down with the reason."""
_DOWN = ("lower_load", "trim_sets")
_SENTENCES = 5
_REPEATED = "repeat the week"
_STOPS = ("warning_sign", "warning_sign_in_doubt", "screening_not_cleared")
"""Cautions before which nothing is trained."""


def message_to_lifter(letter: Letter, document: Document) -> str:
    """The message of a `blockwright/proposals/1` document; "" when no week is left."""
    name = (document["lifter"].split() or ["You"])[0]
    opening = f"{name}: {_lower(letter.verdict)}"
    stops = [caution["says"] for caution in document["cautions"] if _stops(caution)]
    if stops:
        said = f"{name}, before anything else: {_lower(stops[0])}."
        return f"{said} Nothing on your sheet goes up before that. Tell me how it went."
    kinds: dict[str, list[Line]] = {}
    for line in letter.lines:
        kinds.setdefault(line.kind, []).append(line)
    if document["week"] is None:
        return " ".join([opening, *_safety(kinds),
                         "The block is over, and the next one follows from it."])  # fmt: skip
    held = _held(document, letter)
    safety = [*_safety(kinds), *held]
    changes = [*_week(kinds, _poor_week(document)), *_moves(kinds)]
    close = "All else is as on your sheet."
    if not safety and not changes:
        into = document.get("climb", {}).get("into")
        close = f"Next week is {'the deload' if into == 'deload' else 'all'} as on your sheet."
    elif kinds.keys() & {"light_week", "deload_now"}:
        close = "Your sheets show it."
    if safety:
        close = f"{close.removesuffix('.')}; stop whatever hurts and tell me."
    room = _SENTENCES - 2
    safety = _in_sentences(safety, room - bool(changes))
    return " ".join([opening, *safety, *_in_sentences(changes, room - len(safety)), close])


def _in_sentences(said: Sequence[str], most: int) -> list[str]:
    """At most so many sentences: the last ones become one."""
    if len(said) <= most:
        return list(said)
    first, *others = (one.removesuffix(".") for one in said[most - 1 :])
    return [*said[: most - 1], "; ".join([first, *map(_lower, others)]) + "."]


def _stops(caution: Document) -> bool:
    """Whether nothing is trained before it; a doubt about one lift stops that lift only."""
    in_doubt = caution["code"] == "warning_sign_in_doubt"
    return caution["code"] in _STOPS and not (
        in_doubt and caution["facts"].get("sign") not in WHOLE_BODY_SIGNS
    )


def _safety(kinds: dict[str, list[Line]]) -> list[str]:
    found = []
    if referred := kinds.get("refer"):
        about = and_listed([line.about for line in referred])
        found.append(f"Please have a professional look at this before you go on: {about}.")
    out = kinds.get("stop_lift", [])
    moved = kinds.get("swap_lift", [])
    swaps = [line for line in moved if line.way == "swap"]
    back = _in_place(moved, "back")
    parts = [f"leave out {and_listed([line.about for line in out])}"] if out else []
    parts += [f"do {swap}" for swap in _in_place(swaps, "swap")]
    if parts:
        why = {line.in_short for line in (*out, *swaps)}
        shared = f" ({why.pop()})" if len(why) == 1 else ""
        found.append(f"Until it is quiet, {and_listed(parts)}{shared}.")
    if back:
        found.append(f"Carefully, and from a light load, try {and_listed(back)} again.")
    return found


def _in_place(lines: Sequence[Line], way: str) -> list[str]:
    """ "cable curl in place of dumbbell curl", of the swaps of one way."""
    return [f"{one.to}{one.tries} in place of {one.about}" for one in lines if one.way == way]


def _held(document: Document, letter: Letter) -> list[str]:
    """Lifts that hurt, or load what hurts, and stay on the sheet: those that the face names, or
    counts."""
    out = {line.about for line in letter.lines if line.kind in ("stop_lift", "swap_lift")}
    held = [c["facts"] for c in document["cautions"] if c["code"] == "pain_no_progress"]
    lifts = [str(facts["lift"]) for facts in held]
    lines = [line for line in document["caution_lines"] if "until pain is" in line]
    kept = [lift for lift in dict.fromkeys(lifts) if lift not in out]
    if not kept or not lines:
        return []
    kept = [lift for lift in kept if lift in lines[0]] or kept
    named = and_listed(kept[:_NAMED]) if len(kept) <= _NAMED else f"{len(kept)} lifts"
    most = number_text(held[0].get("carry_on", 2.0))  # an older letter's was the usual line
    return [f"Nothing goes up on {named} until the pain is {most} of 10 or less."]


def _poor_week(document: Document) -> bool:
    """Whether the week's answer is to a weak one, not to a muscle that had too much."""
    return any(reason["code"] in WEAK
               for one in document["proposals"] for reason in one["reasons"])  # fmt: skip


def _week(kinds: dict[str, list[Line]], poor: bool) -> list[str]:
    if lines := kinds.get("deload_now"):
        return [f"Next week is a deload: {lines[0].in_short}."]
    if lines := kinds.get("light_week"):
        if lines[0].change == _REPEATED and poor:
            return ["Such weeks happen and cost no strength: next week is this one once more, "
                    "rest and sleep first."]  # fmt: skip
        if lines[0].change == _REPEATED:
            return [f"Next week is this week once more: {lines[0].in_short}."]
        return [f"Next week is lighter ({lines[0].change}): {lines[0].in_short}."]
    if lines := kinds.get("extend_block"):
        return [f"We add a week before the deload: {lines[0].why}."]
    return []


def _moves(kinds: dict[str, list[Line]]) -> list[str]:
    """Every load and set that leaves the print, down before up, each with where it goes."""
    first = [line for line in kinds.get("raise_load", []) if line.way == "first"]
    down = [line for line in (*kinds.get("lower_load", []), *kinds.get("trim_sets", []))
            if not (line.last or line.way == "stays")]  # fmt: skip
    same = [line for line in (*kinds.get("lower_load", []), *kinds.get("trim_sets", []))
            if line not in down]  # fmt: skip
    rises = [line for line in kinds.get("raise_load", []) if line not in first]
    up = [*rises, *kinds.get("add_set", [])]
    found = []
    if first:
        n = len({line.about for line in first})
        what = f"{n} lifts" if n > 1 else first[0].about
        found.append(f"Your sheet has loads for {what} now, found from what you did.")
    if lighter := _in_place(kinds.get("swap_lift", []), "lighter"):
        found.append(f"Do {and_listed(lighter)}: that goes lighter.")
    told = (("Down next week", down), ("Not as far up as planned", same), ("Up next week", up))
    ways = [way for way, _ in {(f"{one.about} {one.unit}", _where(one))
                               for _, each in told for one in each}]  # fmt: skip
    return found + [f"{what}: {_list(lines, ways)}." for what, lines in told if lines]


def _list(lines: Sequence[Line], ways: Sequence[str]) -> str:
    """Lifts with where they go, and why where few come down, once where all do for one reason; the
    day where one of `ways` goes several."""
    where = {(line.about, _where(line)): line for line in reversed(lines)}
    told = len(where) <= _NAMED
    why = [line.in_short if told and line.kind in _DOWN else "" for line in where.values()]
    shared = why[0] if len(why) > 1 and len(set(why)) == 1 else ""
    named: dict[str, str] = {}
    for (about, to), line in reversed(where.items()):
        day = f"{line.day}'s " if line.day and ways.count(f"{about} {line.unit}") > 1 else ""
        own = line.in_short if told and line.kind in _DOWN and not shared else ""
        name, goes = f"{day}{about}", to + (f" ({own})" if own else "")
        named[name] = f"{named[name]} and {goes}" if name in named else f"{name} {goes}"
    return and_listed([*named.values()]) + (f" ({shared})" if shared else "")


def _where(line: Line) -> str:
    """ "to 90 kg", "to 20 kg of help", "stays at bodyweight"."""
    to = in_words(line.to, line.unit)
    return f"{'to' if line.was else 'stays at'} {to}" if to else line.change


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]
