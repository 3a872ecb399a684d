"""One load of a sound week typed wrong: it is asked about first, and nothing is made of it."""

from dataclasses import replace

import pytest
from small_block import CATALOGUE, Truth, grows, log_of, monday, small_block, sunday, with_lift

from blockwright.engine.review import Review, review
from blockwright.engine.training import Block, SetDone, catalogue_of
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from studies.cases import case_of

ASSISTED = builtin_catalogue().lifts["assisted pull-up"]
ALL = catalogue_of((*CATALOGUE.lifts.values(), ASSISTED))
HELP_KG = 15.0
EASIER = {"lower_load", "trim_sets", "light_week", "deload_now"}


def read(block: Block, log: list[SetDone]) -> Review:
    return review(case_of(block, log, (), ALL, default_policy()), sunday(3))


@pytest.mark.parametrize("last", [False, True], ids=["first set", "last set"])
@pytest.mark.parametrize(
    ("lift", "times"),
    [("squat", 10.0), ("chest press", 2.2046), ("dumbbell curl", 10.0), (ASSISTED.name, 10.0)],
)
def test_a_mistyped_load_is_asked_about_first_and_eases_nothing(
    lift: str, times: float, last: bool
) -> None:
    block = with_lift(small_block(), "row", ASSISTED.name, HELP_KG)
    log = log_of(block, Truth(level=grows(1)), sunday(3))
    here = [at for at, one in enumerate(log) if one.lift == lift and one.moment.day >= monday(3)]
    at = here[-1 if last else 0]
    load = round(times * log[at].load_kg, 1)
    wrong = replace(log[at], loads_kg=(load,), entered_load=f"{load:g}")
    found, sound = read(block, [*log[:at], wrong, *log[at + 1 :]]), read(block, log)
    asked = found.settle[0].asks
    assert (asked.facts["lift"], asked.facts["load"]) == (lift, f"{load:g}")
    assert asked.code == ("ask_set" if lift == ASSISTED.name else "ask_slip"), "what was meant?"
    assert not [one for one in sound.settle if one.asks.code in ("ask_set", "ask_slip")]
    eased = {(p.kind, p.lift) for p in found.proposals if p.kind in EASIER}
    assert eased <= {(p.kind, p.lift) for p in sound.proposals}


@pytest.mark.parametrize(("last", "confirmed"), [(False, False), (True, False), (False, True)])
def test_repetitions_that_nobody_does_are_asked_about_and_raise_nothing(
    last: bool, confirmed: bool
) -> None:
    """Ninety of squat for nine."""
    block = small_block()
    log = log_of(block, Truth(level=grows(1)), sunday(3))
    here = [at for at, one in enumerate(log) if one.lift == "squat" and one.moment.day >= monday(3)]
    at = here[-1 if last else 0]
    wrong = replace(log[at], reps=(90,), confirmed=confirmed)
    found = read(block, [*log[:at], wrong, *log[at + 1 :]])
    asked = [one.asks for one in found.settle if one.asks.facts.get("reps") == 90]
    assert [one.code for one in asked] == ([] if confirmed else ["ask_set"])
    raised = [p for p in found.proposals if p.kind == "raise_load" and p.lift == "squat"]
    assert confirmed or not raised
