"""What a load needs, as a lifter reads it beside the bar. Works on a `blockwright/rack/1` document
as plain JSON; terminal and page say what stands here."""

from collections.abc import Mapping
from dataclasses import dataclass

from blockwright.engine.units import Unit, load_text, number_text
from .report_shapes import Document, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class RackWords:
    title: str  # The load and how it is made, or that it cannot be
    nearest: tuple[tuple[str, str], ...]  # Below and above, where the load cannot be made
    warmup: Table | None
    partner: tuple[str, ...]
    """The two loads on one bar and the moves between them; empty without a partner."""
    order: Table | None  # The order of loading for the two


def rack_words(document: Document) -> RackWords:
    unit: Unit = document["unit"]
    asked = load_text(document["load_kg"], unit)
    exact = document["exact"]
    partner = document["partner"]
    return RackWords(
        title=f"{asked}: {document['below']['says']}" if exact else f"{asked} cannot be made here.",
        nearest=()
        if exact
        else tuple(
            (side, _line(document[side], unit) if document[side] else "nothing")
            for side in ("below", "above")
        ),
        warmup=_warmup(document, unit),
        partner=() if partner is None else tuple(_partner_lines(partner, unit)),
        order=None if partner is None else _order(partner, unit),
    )


def rack_text(document: Document) -> str:
    unit: Unit = document["unit"]
    words = rack_words(document)
    lines = [words.title, *(f"  {side}: {says}" for side, says in words.nearest)]
    if document["warmup"]:
        lines += ["", "Warm-up"]
        lines += [f"  {each['reps']:>2} × {_line(each, unit)}" for each in document["warmup"]]
    if words.partner:
        head, *moves = words.partner
        lines += ["", f"Partner: {head}", *(f"  {move}" for move in moves)]
    return "\n".join(lines)


def _warmup(document: Document, unit: Unit) -> Table | None:
    rows = tuple(
        (str(each["reps"]), load_text(each["load_kg"], unit), each["says"])
        for each in document["warmup"]
    )
    head = ("Repetitions", "Load", "How")
    return Table("Warm-up, in this order", head, rows, (0, 1)) if rows else None


def _order(partner: Document, unit: Unit) -> Table:
    rows = tuple(
        (
            "The lifter" if who == "lifter" else "The partner",
            load_text(partner[who]["load_kg"], unit),
            " + ".join(partner[who]["order"]) or "the bar alone",
        )
        for who in ("lifter", "partner")
    )
    return Table("Each side, from the collar outwards", ("Who", "Load", "Plates"), rows, (1,))


def _line(made: Document, unit: Unit) -> str:
    return f"{load_text(made['load_kg'], unit)}  ({made['says']})"


def _partner_lines(partner: Document, unit: Unit) -> list[str]:
    own, other = (load_text(partner[who]["load_kg"], unit) for who in ("lifter", "partner"))
    there, back = partner["moves"]
    asked = load_text(partner["load_kg"], unit)
    is_above = partner["partner"]["load_kg"] > partner["load_kg"]
    nearest = "the lightest, more than asked" if is_above else "the next below"
    return [
        f"{own} and {other} on one bar, each side",
        *([] if partner["exact"] else [f"{asked} cannot be made here: {other} is {nearest}"]),
        f"put on first and leave on: {plates_text(partner['stays_on'])}",
        f"for {own} then add: {plates_text(back['on'])}",
        f"to {other}: off {plates_text(there['off'])}, on {plates_text(there['on'])}",
        f"back to {own}: off {plates_text(back['off'])}, on {plates_text(back['on'])}",
        f"plates moved at each change: {number_text(partner['moves_per_side'])} a side",
    ]


def plates_text(counts: Mapping[str, int]) -> str:
    """ "20 + 10 + 2.5", or "nothing"."""
    return " + ".join(label for label, n in counts.items() for _ in range(n)) or "nothing"
