"""Questions about sets that are possible but unlikely, in words: "did you mean 82.5 kg?"."""

from collections.abc import Iterator, Sequence

from blockwright.engine.case import CoachCase
from blockwright.engine.errors import Problem
from blockwright.engine.rack import listed_most_kg
from blockwright.engine.reasons import Reason
from blockwright.engine.strength.flags import TWO_LEVELS
from blockwright.engine.strength.outliers import Suspicion, suspect_rows
from blockwright.engine.training import Catalogue, Lifter, SetDone
from blockwright.engine.units import load_text
from blockwright.files.policy_files import default_policy
from blockwright.files.words import reason_says

_CONFIRM = (
    "correct it, or write yes in a confirmed column; until then it is kept out of the estimate"
)


def questions_about(
    sets: Sequence[SetDone], catalogue: Catalogue, file: str, lifter: Lifter | None = None
) -> list[Problem]:
    """A warning for each set of a log (in time order) that a coach should look at.

    `lifter`: the one whose log it is, where it is one person's; bodyweight and kit count then.
    """
    bodyweight_kg = lifter.bodyweight_kg if lifter else None
    suspicions = suspect_rows(sets, catalogue, default_policy(), bodyweight_kg)
    found = [_question(sets[index], asked, file) for index, asked in suspicions.items()]
    found += _two_levels(sets, catalogue, file, lifter)
    rows = {problem.row for problem in found}
    if lifter is not None:
        found += [
            one for one in _beyond_the_kit(sets, catalogue, file, lifter) if one.row not in rows
        ]
    return sorted(found, key=lambda problem: problem.row or 0)


def _two_levels(
    sets: Sequence[SetDone], catalogue: Catalogue, file: str, lifter: Lifter | None
) -> Iterator[Problem]:
    """One question for each lift whose loads belong to two levels in turn."""
    for who in dict.fromkeys(done.lifter for done in sets):
        own = tuple(done for done in sets if done.lifter == who)
        case = CoachCase(lifter=lifter, catalogue=catalogue, policy=default_policy(), sets=own)
        beliefs = case.beliefs()
        for _, lift in beliefs.series:
            for flag in beliefs.flags(lift):
                if flag.code == TWO_LEVELS:
                    asks = reason_says(Reason(code=flag.code, facts=flag.facts))
                    says, mend = asks.rsplit(". ", 1)
                    says = f"{lift}: {says}"
                    yield Problem(file=file, row=flag.row, column="lift", says=says, mend=mend)


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
            says = (
                f"{done.entered_load} {done.entered_unit} is more than this gym's kit makes, "
                f"{load_text(most, done.entered_unit)}; is it true?"
            )
            mend = "correct it, list the kit, or write yes in a confirmed column"
            yield Problem(file=file, row=done.row, column="load", says=says, mend=mend)


def _question(done: SetDone, asked: Suspicion, file: str) -> Problem:
    column, says, mend = _words(done, asked)
    return Problem(file=file, row=done.row, column=column, says=says, mend=mend)


def _words(done: SetDone, asked: Suspicion) -> tuple[str | None, str, str]:
    """Column, question and mend of one suspicion."""
    unit = done.entered_unit
    load = f"{done.entered_load} {unit}"
    usual = load_text(asked.usual_kg, unit) if asked.usual_kg is not None else ""
    other_unit = "lb" if unit == "kg" else "kg"
    if asked.kind == "many_reps":
        says = f"{done.first_reps} repetitions are more than anyone plans"
        return "reps", says, "correct them if mistyped; so long a set never counts for strength"
    if asked.kind == "few_reps":
        says = f"{load} x {done.first_reps} is far fewer than other sets of this load have"
        return "reps", says, "correct it if a digit is missing, or write yes in a confirmed column"
    if asked.kind == "session_again":
        says = f"this session equals the one that begins in row {asked.like_row}, set for set"
        return None, says, "delete it if it was written down twice; it counts as it stands"
    if asked.kind == "unit_switch":
        says = f"from here on {done.lift} moves by the ratio of kg and lb, and stays there"
        return "unit", says, "correct the unit of these rows, or of those before"
    if asked.kind == "beyond_anyone":
        meant = (
            "" if asked.meant_kg is None else f"; did you mean {load_text(asked.meant_kg, unit)}?"
        )
        return "load", f"{load} x {done.first_reps} is more than anyone lifts here{meant}", _CONFIRM
    if asked.kind == "unlikely":
        says = (
            f"{load} x {done.first_reps} is far more than is usual at this bodyweight; is it true?"
        )
        return "load", says, _CONFIRM
    if asked.kind == "one_of_two":
        meant = load_text(asked.meant_kg or 0.0, unit)
        says = (
            f"{load} and the load of row {asked.like_row}, the only other set of {done.lift}, are "
            f"ten times apart: one is mistyped; did you mean {meant} here?"
        )
        return "load", says, "correct one of the two; until then the lighter one counts"
    if asked.kind == "far_above":
        return "load", f"{load} is far above the usual, near {usual} for such a set", _CONFIRM
    share = "ten times" if asked.kind == "ten_times" else "a tenth of"
    if asked.kind in ("ten_times", "a_tenth"):
        meant = load_text(asked.meant_kg or 0.0, unit)
        says = f"{load} is about {share} the usual; did you mean {meant}?"
        return "load", says, _CONFIRM
    # What reads as the other unit: the number stays, the unit changes, where that fits.
    fits = (asked.kind == "pounds_as_kg") == (unit == "kg")
    guess = f"{done.entered_load} {other_unit}" if fits else load_text(asked.meant_kg or 0.0, unit)
    return "load", f"{load} is far from the usual, near {usual}; did you mean {guess}?", _CONFIRM
