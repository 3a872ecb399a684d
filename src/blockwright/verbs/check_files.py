"""Checks any input file: what is wrong, where, and the mend; every problem of every file. Sets that
are possible but unlikely are asked about, in words: "did you mean 82.5 kg?"."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

from blockwright.engine.case import CoachCase
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy
from blockwright.engine.rack import listed_most_kg, rack_for
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.signs import Warning, signs_in_checkins, signs_in_sets
from blockwright.engine.strength.outliers import suspect_rows
from blockwright.engine.strength.slips import Suspicion
from blockwright.engine.training import Block, Catalogue, CheckIn, Lifter, SetDone
from blockwright.engine.units import load_text
from blockwright.files.answer_documents import CheckedFile, CheckedFiles
from blockwright.files.block_json import read_block, unknown_lifts
from blockwright.files.catalogue import catalogue_for, catalogue_with
from blockwright.files.checkins_file import read_checkins
from blockwright.files.codec import document
from blockwright.files.json_text import load_json
from blockwright.files.kinds import kind_of
from blockwright.files.lifter_file import read_lifter
from blockwright.files.policy_files import default_policy, policy_under
from blockwright.files.reading import collection_paused
from blockwright.files.schemas import NAMES, problems_against
from blockwright.files.sets_file import read_sets
from blockwright.files.signs.grammar import signs_found
from blockwright.files.words import reason_mend, reason_says

_MOST_SHOWN = 20


def check_files(paths: Sequence[Path]) -> dict[str, Any]:
    """The `blockwright/check/1` document of the files, in the order given.

    A lifter file among them lends its own lifts and its bodyweight to the logs beside it; a coach's
    policy, when there is one, stands under the lifters' own values."""
    checked = [CheckedFile(str(path)) for path in paths]
    for one in checked:
        try:
            one.kind = kind_of(one.path)
        except BadInput as error:
            one.errors += error.problems
    policy = _policy_beside(checked)
    lifters = [lifter for one in checked if (lifter := _check_lifter(one, policy)) is not None]
    catalogue = catalogue_with(lift for who in lifters for lift in who.lifts)
    lifter = lifters[0] if len(lifters) == 1 else None
    said: list[CheckIn] = []
    with collection_paused():
        for one in sorted(checked, key=lambda one: one.kind == "sets"):
            try:
                _check_other(one, catalogue, lifter, said)
            except BadInput as error:
                one.errors += error.problems
    return document("check", CheckedFiles(tuple(checked)))


def files_with_errors(answer: Mapping[str, Any]) -> list[str]:
    return [file["file"] for file in answer["files"] if file["errors"]]


def _policy_beside(checked: Sequence[CheckedFile]) -> Policy:
    """The one coach's policy among the files, over the default."""
    coaches = [one for one in checked if one.kind == "policy"]
    try:
        return policy_under(coaches[0].path if len(coaches) == 1 else None)
    except BadInput:
        return default_policy()  # `_check_other` says what is wrong with it


def _check_lifter(one: CheckedFile, policy: Policy) -> Lifter | None:
    if one.kind != "lifter":
        return None
    try:
        reading = read_lifter(one.path, policy)
    except BadInput as error:
        one.errors += error.problems
        return None
    one.warnings += reading.warnings
    return reading.value


def _check_other(
    one: CheckedFile, catalogue: Catalogue, lifter: Lifter | None, answers: list[CheckIn]
) -> None:
    """`answers`: the check-ins of the files before, to which this file's are added."""
    if one.kind == "policy":
        policy_under(one.path)
    elif one.kind == "sets":
        sets = read_sets(one.path, catalogue, lifter)
        is_of_one = len({done.lifter for done in sets.value}) <= 1
        whose = lifter if is_of_one else None
        asked = questions_about(sets.value, catalogue, one.path.name, whose, answers)
        signs = sign_warnings(signs_in_sets(sets.value, signs_found), one.path.name, "note")
        one.warnings += (*sets.warnings, *asked, *signs)
    elif one.kind == "checkins":
        said = read_checkins(one.path, catalogue=catalogue)
        answers += said.value
        found = signs_in_checkins(said.value, catalogue, default_policy(), signs_found)
        signs = sign_warnings(found, one.path.name, "note or about")
        one.warnings += (*said.warnings, *signs)
    elif one.kind == "json":
        _check_json(one)


def _check_json(one: CheckedFile) -> None:
    """A document of ours against its schema; a block also against what its lifter says."""
    loaded = load_json(one.path)
    named = str(loaded.get("format")).split("/")
    if len(named) != 3 or named[0] != "blockwright" or named[1] not in NAMES:
        says = "does not say which blockwright document this is"
        mend = 'give a file that begins with "format": "blockwright/block/1" or the like'
        raise BadInput.of(says, mend, file=one.path.name, key="format")
    one.kind = named[1]
    one.errors = tuple(problems_against(one.kind, loaded, one.path.name))
    if one.kind == "block" and not one.errors:
        block = read_block(one.path)
        one.errors = tuple(unknown_lifts(block, one.path.name))
        one.warnings = tuple(_beyond_kit(block, one.path.name))


def _beyond_kit(block: Block, file: str) -> Iterator[Problem]:
    """A warning for each load of a lift that the gym cannot make."""
    catalogue, lifter = catalogue_for(block.lifter), block.lifter
    entries = (e for week in block.weeks for e in week.entries)
    for lift, kg in dict.fromkeys((e.lift, row.load_kg) for e in entries for row in e.sets):
        known = catalogue.find(lift)
        if known is None or kg is None:
            continue
        rack = rack_for(known, lifter.gym, default_policy())
        if rack.exactly(kg) is None:
            near = (made for made in (rack.at_most(kg), rack.at_least(kg)) if made is not None)
            mend = " or ".join(load_text(made.load_kg, lifter.units) for made in near)
            says = f"{lift}: the gym cannot make {load_text(kg, lifter.units)}"
            yield Problem(file=file, says=says, mend=f"nearest: {mend}")


def check_text(answer: Mapping[str, Any]) -> str:
    return "\n".join(line for file in answer["files"] for line in _file_lines(file))


def _file_lines(file: Mapping[str, Any]) -> list[str]:
    errors, warnings = file["errors"], file["warnings"]
    counts = [
        f"{len(found)} {word if len(found) == 1 else plural}"
        for found, word, plural in ((errors, "error", "errors"), (warnings, "warning", "warnings"))
        if found
    ]
    kind = "" if file["kind"] == "unknown" else f" ({file['kind']})"
    lines = [f"{file['file']}{kind}: {', '.join(counts) or 'nothing to mend'}"]
    for label, found in (("error", errors), ("warning", warnings)):
        for problem in found[:_MOST_SHOWN]:
            lines += _problem_lines(label, problem)
        if len(found) > _MOST_SHOWN:
            lines.append(f"  and {len(found) - _MOST_SHOWN} more of these; --json lists them all")
    return lines


def _problem_lines(label: str, problem: Mapping[str, Any]) -> list[str]:
    row = None if problem["row"] is None else f"row {problem['row']}"
    place = ", ".join(part for part in (row, problem["column"], problem["key"]) if part)
    head = f"  {label:<8} {place}: " if place else f"  {label:<8} "
    lines = [head + problem["says"]]
    if problem["mend"]:
        lines.append(f"           {problem['mend']}")
    return lines


_SEE = "no further training before a doctor has looked at it; at once if it is there now"


def sign_warnings(found: Iterable[Warning], file: str, column: str) -> list[Problem]:
    """A warning for each sign, in order; a doubtful one asks."""
    return [
        Problem(
            file=file,
            row=one.row,
            column=column,
            says=f"{one.day}: {one.sign} was written down ({one.lift})"
            if one.asks is None
            else f"{one.day}: this may be {one.sign} ({one.lift})",
            mend=_SEE if one.asks is None else f"ask: {one.asks} In doubt, {_SEE}",
        )
        for one in found
    ]


# ---------------------------------------------------------------------------- questions about sets


def questions_about(
    sets: Sequence[SetDone],
    catalogue: Catalogue,
    file: str,
    lifter: Lifter | None = None,
    answers: Sequence[CheckIn] = (),
) -> list[Problem]:
    """A warning for each set of a log (in time order) that a coach should look at.

    `lifter`: the one whose log it is, where it is one person's; bodyweight and kit count then.
    `answers`: check-ins; what they answer is not asked."""
    known = (None, "advanced") if lifter is None else (lifter.bodyweight_kg, lifter.experience)
    suspicions = suspect_rows(sets, catalogue, default_policy(), *known)
    found = [_question(sets[index], asked, file) for index, asked in suspicions.items()]
    found += _two_levels(sets, catalogue, file, lifter, answers)
    found += _far_days(sets, file)
    rows = {problem.row for problem in found}
    if lifter is not None:
        found += [
            one for one in _beyond_the_kit(sets, catalogue, file, lifter) if one.row not in rows
        ]
    return sorted(found, key=lambda problem: problem.row or 0)


def _two_levels(
    sets: Sequence[SetDone],
    catalogue: Catalogue,
    file: str,
    lifter: Lifter | None,
    answers: Sequence[CheckIn],
) -> Iterator[Problem]:
    """One question for each lift whose loads belong to two levels in turn."""
    for who in dict.fromkeys(done.lifter for done in sets):
        own = tuple(done for done in sets if done.lifter == who)
        said = tuple(one for one in answers if one.lifter in (None, who))
        case = CoachCase(lifter=lifter, catalogue=catalogue, policy=default_policy(),
                         read_note=signs_found, sets=own, checkins=said)  # fmt: skip
        for lift, flag in case.two_levels.items():
            says, mend = reason_says(Reason(code=flag.code, facts=flag.facts)).rsplit(". ", 1)
            says = f"{lift}: {says}"
            yield Problem(file=file, row=flag.row, column="lift", says=says, mend=mend)


FAR_DAYS = 300  # Between a day and all others: a slip of the year rather than a break (judgement)


def _far_days(sets: Sequence[SetDone], file: str) -> Iterator[Problem]:
    """One or two days that lie far from the rest of a log, at the first set of each."""
    first_on = {done.moment.day: done for done in reversed(sets)}
    days = sorted(first_on)
    gaps = [i for i, (a, b) in enumerate(pairwise(days), 1) if (b - a).days > FAR_DAYS]
    runs = [days[a:b] for a, b in pairwise((0, *gaps, len(days)))]
    most = max(map(len, runs), default=0)
    for day in (day for run in runs for day in run if len(run) <= 2 < most > len(days) / 2):
        near = min(abs((day - other).days) for run in runs if day not in run for other in run)
        why = Reason(code="suspect_year", facts={"date": day.isoformat(), "days": near})
        yield _asked(why, first_on[day], "when", file)


def _beyond_the_kit(
    sets: Sequence[SetDone], catalogue: Catalogue, file: str, lifter: Lifter
) -> Iterator[Problem]:
    """The heaviest set of each lift that is far beyond what the listed kit makes."""
    policy = default_policy()
    heaviest: dict[str, SetDone] = {}
    for done in sets:
        if not done.confirmed and done.load_kg > 0:
            known = heaviest.setdefault(done.lift, done)
            heaviest[done.lift] = done if done.load_kg > known.load_kg else known
    for name, done in heaviest.items():
        lift = catalogue.find(name)
        most = None if lift is None else listed_most_kg(lift, lifter.gym, policy)
        if most is not None and done.load_kg > most * policy.number("suspect.kit_ratio"):
            load, unit = f"{done.entered_load} {done.entered_unit}", done.entered_unit
            facts: dict[str, FactValue] = {"load": load, "most": load_text(most, unit)}
            yield _asked(Reason(code="suspect_beyond_the_kit", facts=facts), done, "load", file)


def _question(done: SetDone, asked: Suspicion, file: str) -> Problem:
    unit, kind = done.entered_unit, _KIND.get(asked.kind, asked.kind)
    meant_kg, meant = asked.meant_kg, ""
    if kind == "other_unit" and (asked.kind == "pounds_as_kg") == (unit == "kg"):
        # The number stays, the unit changes, where that fits.
        meant = f"{done.entered_load} {'lb' if unit == 'kg' else 'kg'}"
    elif meant_kg is not None:
        meant = load_text(meant_kg, unit)
        kind = "beyond_anyone_mistyped" if kind == "beyond_anyone" else kind
    code = f"suspect_{kind}"
    facts: dict[str, FactValue] = {
        "load": f"{done.entered_load} {unit}",
        "reps": done.first_reps,
        "lift": done.lift,
        "row": asked.like_row or 0,
        "usual": "" if asked.usual_kg is None else load_text(asked.usual_kg, unit),
        "meant": meant,
    }
    return _asked(Reason(code=code, facts=facts), done, _COLUMN.get(asked.kind, "load"), file)


def _asked(why: Reason, done: SetDone, column: str | None, file: str) -> Problem:
    says, mend = reason_says(why), reason_mend(why) or _CONFIRM
    return Problem(file=file, row=done.row, column=column, says=says, mend=mend)


_CONFIRM = (
    "correct it, or write yes in a confirmed column; until then it is kept out of the estimate"
)
_KIND = {"pounds_as_kg": "other_unit", "kg_as_pounds": "other_unit"}
"""What is asked in the same words."""
_COLUMN = {"many_reps": "reps", "few_reps": "reps", "session_again": None, "unit_switch": "unit"}
"""Of a question that is not about the load."""
