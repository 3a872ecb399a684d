"""Which ranges the kit serves for what is logged: the others are not offered."""

from dataclasses import replace
from datetime import date

from .loads import LoadPaths
from .log_facts import MOST_MAIN_REPS
from .problem import Option, Problem


def with_loads_only(problem: Problem, paths: LoadPaths, on: date, rir: float) -> Problem:
    """Without ranges the kit does not serve for a logged lift: nothing light enough (ten pull-ups
    of someone who does six), or nothing heavy enough, where another logged lift serves or a longer
    range does. The coach's pins stay."""
    fits = [(option, paths.fit(option, rir, on)) for option in problem.options]
    served = {_role(o) for o, fit in fits if fit in ("fits", "end") and not _is_long(o)}
    free = {_role(o) for o, fit in fits if fit == "fits" and not _is_long(o)}
    by_length = sorted(problem.options, key=lambda option: option.reps.high)
    longest = {option.lift.name: option.reps.high for option in by_length}
    kept = []
    for option, fit in fits:
        if option.lift.name not in problem.pinned:
            beyond = fit == "light" or (fit != "unknown" and _is_long(option))
            shorter = fit == "light" and option.reps.high < longest[option.lift.name]
            ends = fit == "end" and option.is_main and option.lift.name not in problem.log.lifts
            if fit == "heavy" or shorter or (beyond and _role(option) in served):
                continue
            if ends and _role(option) in free:  # nothing to climb to
                continue
        find_s = paths.find_s(option, rir) if fit == "unknown" else 0
        kept.append(replace(option, at_the_end=fit in ("end", "light"), find_s=find_s))
    return replace(problem, options=tuple(kept))


def _role(option: Option) -> str:
    return option.basic or option.lift.name


def _is_long(option: Option) -> bool:
    return option.is_main and option.reps.high > MOST_MAIN_REPS
