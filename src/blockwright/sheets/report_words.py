"""A block report as it reads: parts with headings that state the finding, tables, pictures.

Works on a `blockwright/report/1` document as plain JSON; paper and page lay out what stands here,
so they cannot differ."""

from collections.abc import Sequence
from datetime import date

from blockwright.engine.units import Unit, load_text, number_text
from . import report_plots as plots
from .letter import change_text
from .report_first_page import first_page, missed_notes
from .report_shapes import (
    Document,
    Figure,
    Page,
    Part,
    Table,
    day_words,
    finding,
    is_over,
    sentence,
    span_text,
)
from .sheet_words import load_beside

VERDICTS = {
    "accepted": "accepted", "changed": "changed", "declined": "declined", "open": "not answered",
}  # fmt: skip


def report_page(document: Document, ink: plots.Ink) -> Page:
    """Everything a report shows, in order, drawn in `ink`."""
    days = f"{day_words(document['start'])} to {day_words(document['through'])}"
    builds = sum(week["kind"] == "build" for week in document["weeks"])
    deload = " and a deload" if len(document["weeks"]) > builds else ""
    so_far = "" if document["is_over"] else ", not over yet"
    return Page(
        title=f"Block report, {document['lifter']}, {document['start']}",
        lifter=document["lifter"],
        line=f"{builds} build weeks{deload}{so_far}, {days}",
        opening=_opening(document),
        cautions=_cautions(document["cautions"]),
        first=first_page(document),
        behind=_BEHIND,
        parts=(
            _done(document),
            _sets(document, ink),
            _strength(document, ink),
            _proposals(document),
            _predictions(document),
            _load(document),
            _next(document),
        ),
        foot=f"{document['lifter']}, block of {day_words(document['start'])}, "
        f"revision {document['block_revision']}",
    )


def _opening(document: Document) -> str:
    if document["status"] == "refer":
        return "This block waits until the coach has written down that it may go on."
    return ""


def _cautions(cautions: Sequence[Document]) -> tuple[str, ...]:
    """Every caution; those of one kind in one paragraph."""
    by_code: dict[str, list[str]] = {}
    for caution in cautions:
        by_code.setdefault(caution["code"], []).append(sentence(caution["says"]))
    return tuple(" ".join(dict.fromkeys(said)) for said in by_code.values())


_BEHIND = (
    "Behind this page. Each heading says what we found; under it stands what it rests on. Bands "
    "and brackets hold the truth eight times in ten, if our model is right."
)


# ---------------------------------------------------------------------------------- the parts


def _done(document: Document) -> Part:
    weeks = document["weeks"]
    return Part(
        name="Planned and done",
        title=finding(document, "done"),
        lead="Work sets, warm-ups left out. A cell with two numbers is sets done of sets planned.",
        tables=(_week_table(weeks), _lift_table(document)),
        notes=missed_notes(document),
    )


def _week_table(weeks: Sequence[Document]) -> Table:
    rows = tuple(
        (
            _week_name(week),
            span_text(date.fromisoformat(week["start"])),
            _of(week["sessions_done"], week["sessions_planned"]),
            _of(week["sets_done"], week["sets_planned"]),
            number_text(week["rir_asked"], 1),
            "" if week["rir_said"] is None else f"{week['rir_said']:.1f}",
        )
        for week in weeks
    )
    head = ("Week", "Days", "Sessions", "Sets", "RIR asked", "RIR said, mean")
    return Table("Sessions, sets and effort by week", head, rows, (2, 3, 4, 5))


def _week_name(week: Document) -> str:
    return f"{week['week']}, deload" if week["kind"] == "deload" else str(week["week"])


def _of(done: int | None, planned: int | None) -> str:
    if not planned and not done:
        return ""
    return str(done or 0) if done == planned else f"{done or 0} of {planned or 0}"


def _lift_table(document: Document) -> Table:
    unit: Unit = document["units"]
    rows = tuple(
        (
            lift["lift"],
            *(_of(*pair) for pair in zip(lift["sets_done"], lift["sets_planned"], strict=True)),
            _loads(lift, unit),
        )
        for lift in document["lifts"]
    )
    weeks = [_week_name(week) for week in document["weeks"]]
    head = ("Lift, sets by week", *weeks, "Load, first and last build week")
    return Table("Sets of each lift by week", head, rows, tuple(range(1, len(head))))


def _loads(lift: Document, unit: Unit) -> str:
    first, last = lift["first_load_kg"], lift["last_load_kg"]
    if first is None or last is None:
        return ""
    said = (
        load_beside(lift["load_kind"], load_text(kg, unit), zero=kg == 0) for kg in (first, last)
    )
    return " to ".join(dict.fromkeys(said))


def _sets(document: Document, ink: plots.Ink) -> Part:
    weeks = [week | {"is_over": is_over(week, document)} for week in document["weeks"]]
    figures = tuple(
        Figure(
            title=plots.muscle_title(muscle),
            svg=plots.muscle_svg(muscle, weeks, ink),
            alt=plots.muscle_alt(muscle),
        )
        for muscle in document["muscles"]
    )
    floor = document["muscles"][0]["floor"] if document["muscles"] else 4
    return Part(
        name="Weekly sets",
        title=finding(document, "muscles"),
        lead="A set counts in full for the muscle a lift trains directly and by its share for the "
        "others. The floor comes from literature; the ceiling is learnt from the weeks that were "
        "recovered from, and reads “at least” until one was not.",
        figures=figures,
        figure_note="Full dots and line: sets done; a week not over stands off the line. Open "
        "dots, dashed: planned. Dotted: the floor, "
        f"{number_text(floor)}. Hatched: where the ceiling lies eight times in ten. A done set "
        "counts only when it ended near failure, so a deload's easy sets do not.",
    )


def _strength(document: Document, ink: plots.Ink) -> Part:
    unit: Unit = document["units"]
    lifts = document["strength"]
    figures = tuple(
        Figure(
            title=plots.strength_title(lift, unit),
            svg=plots.strength_svg(lift, document["start"], unit, ink),
            alt=plots.strength_alt(lift, unit),
        )
        for lift in lifts
    )
    return Part(
        name="Strength",
        title=finding(document, "strength"),
        lead="1RM as estimated from the sets, never tested; bodyweight lifts include the share of "
        "bodyweight moved, a dumbbell pair is one hand. “Surely” means nine chances in ten.",
        figures=figures,
        figure_note="Line: 1RM as believed after each session; band: its 80 % interval. Circle: "
        "what one set alone speaks for; cross: a set left out as out of line.",
    )


def _proposals(document: Document) -> Part:
    fates = document["proposals"]
    rows = tuple(_fate_row(fate, document["units"]) for fate in fates)
    head = ("Week", "Proposal", "How sure", "The coach", "Came true")
    return Part(
        name="Proposals and their fate",
        title=finding(document, "proposals"),
        lead="What a load proposal claims is that its first set reaches the range with the reps in "
        "reserve that were asked; only that can be told from a log.",
        tables=(Table("What was proposed and decided", head, rows, (2,)),) if rows else (),
        notes=(sentence(finding(document, "claims")),),
    )


def _fate_row(fate: Document, unit: Unit) -> tuple[str, ...]:
    verdict = VERDICTS[fate["decision"]]
    if fate["decision"] == "changed":
        day = fate["change"].get("cleared_on")
        verdict += f", cleared on {day}" if day else f" to {change_text(fate['change'], unit)}"
    words = f": “{fate['words']}”" if fate["words"] else ""
    sure = "" if fate["confidence"] is None else f"{100 * fate['confidence']:.0f} %"
    true = {True: "yes", False: "no", None: ""}[fate["came_true"]]
    week = "" if fate["week"] is None else str(fate["week"])
    says = fate["says"].replace(" -> ", " to ") if fate["says"] else _without_letter(fate)
    return (week, says, sure, verdict + words, true)


def _without_letter(fate: Document) -> str:
    about = fate["change"].get("lift") or fate["change"].get("muscle") or ""
    return f"{fate['kind'].replace('_', ' ')} {about}".strip()


def _predictions(document: Document) -> Part:
    found = document["predictions"]
    notes = []
    if found is not None:
        notes.append(
            f"An honest 80 % interval holds eight sets in ten, and nearer nine where repetitions "
            f"are whole numbers; here it held {found['inside80']} of {found['sets']}. The best of "
            f"the simple rules on the same sets: {found['rule'].replace('_', ' ')}, corrected by "
            "Epley's formula."
        )
        if found["flagged"]:
            sets = "set" if found["flagged"] == 1 else "sets"
            notes.append(
                f"{found['flagged']} {sets} out of line and not confirmed: counted all the same."
            )
    return Part(
        name="How good our predictions were",
        title=finding(document, "predictions"),
        lead="Each set of the build weeks was predicted from the sets before it only.",
        notes=tuple(notes),
    )


def _load(document: Document) -> Part:
    rows = tuple(
        (
            _week_name(week),
            str(load["days"]),
            number_text(load["total_au"], 0),
            "" if load["monotony"] is None else f"{load['monotony']:.2f}",
            "" if load["strain_au"] is None else number_text(load["strain_au"], 0),
        )
        for week in document["weeks"]
        if (load := week["session_load"]) is not None
    )
    head = ("Week", "Days with both", "Load", "Monotony", "Strain")
    return Part(
        name="Session load",
        title=finding(document, "load"),
        lead="Effort of the whole session, 0 to 10, times its minutes, over seven days; monotony "
        "is the mean day over the SD of the days (population SD), strain is load times monotony "
        "(Foster 1998). Shown, never decisive alone.",
        tables=(Table("Session load by week", head, rows, (1, 2, 3, 4)),) if rows else (),
    )


def _next(document: Document) -> Part:
    following = document["next_block"]
    return Part(
        name="The next block",
        title=finding(document, "next"),
        lead="What a block composed after this one will do, unless the lifter file says otherwise.",
        notes=tuple(sentence(reason["says"]) for reason in following["reasons"]),
    )
