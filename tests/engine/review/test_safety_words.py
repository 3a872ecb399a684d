"""What the review says of safety is whole: no sentence lacks a fact, every caution has its source,
and nothing progresses while somebody licensed is waited for."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest
from small_block import (
    CATALOGUE,
    Truth,
    checkin,
    grows,
    log_of,
    monday,
    small_block,
    small_lifter,
    sunday,
)

from blockwright.engine.review import Review, review
from blockwright.engine.review.case import waits_for_a_sign
from blockwright.engine.training import Block, BlockDecision, CheckIn, Screening, catalogue_of
from blockwright.files.policy_files import default_policy
from blockwright.files.words import caution_says, reason_says
from studies.cases import case_of

POLICY = default_policy()
FRIDAY = monday(2) + timedelta(days=4)
UP = {"raise_load", "add_set"}
UNSAID = re.compile(r"(?<!\w)\?|\{|\?(?=[\w%])")
"""What a sentence shows where a fact is missing (`files.words`)."""


def seen(
    *said: CheckIn, pain: float | None = None, days: int = 1, note: str = "",
    block: Block | None = None, week: int = 2,
) -> Review:  # fmt: skip
    bench = [FRIDAY, monday(2)][:days]
    truth = Truth(
        level=grows(2),
        pain=lambda day, lift: pain if lift == "bench press" and day in bench else None,
        extra={f"{FRIDAY} bench press": note} if note else {},
    )
    block = small_block() if block is None else block
    end = sunday(week)
    return review(case_of(block, log_of(block, truth, end), said, CATALOGUE, POLICY), end)


def pain_in(about: str, value: float = 4) -> CheckIn:
    return checkin(FRIDAY, "pain", value, about)


WAITING = replace(small_block(), status="refer")
UNSCREENED = small_block(small_lifter(screening=Screening()))
SCENARIOS = {
    "pain that stops progress": (lambda: seen(pain=4), False),
    "pain that stops the lift": (lambda: seen(pain=6), False),
    "pain twice": (lambda: seen(pain=4, days=2), False),
    "pain of a joint": (lambda: seen(pain_in("left shoulder")), False),
    "strong pain of a joint": (lambda: seen(pain_in("left shoulder", 7)), False),
    "pain nobody can place": (lambda: seen(pain_in("the usual spot", 7)), True),
    "a sign in a note": (lambda: seen(note="felt faint, dizzy"), True),
    "a sign of one lift": (lambda: seen(note="sharp pain in the elbow"), False),
    "a sign in a check-in": (lambda: seen(pain_in("chest")), True),
    "a block that waits": (lambda: seen(block=WAITING), True),
}  # fmt: skip
"""By name: the review, and whether everything has to wait."""


@pytest.mark.parametrize("name", SCENARIOS)
def test_every_sentence_is_whole_and_every_caution_has_a_source(name: str) -> None:
    make, _ = SCENARIOS[name]
    found = make()
    safety = [p for p in found.proposals if p.kind in ("refer", "stop_lift", "swap_lift")]
    assert safety or found.cautions, "nothing was said"
    for proposal in safety:
        for says in sentences(proposal):
            assert not UNSAID.search(says), says
        assert all(c.source for c in proposal.cautions if c.code != "pain_swap"), proposal.id
        assert any(reason.source or reason.policy for reason in proposal.reasons), proposal.id
    for caution in found.cautions:
        assert not UNSAID.search(caution_says(caution)), caution_says(caution)
        assert caution.source or caution.code == "pain_swap"


def sentences(proposal: object) -> Iterator[str]:
    yield from map(reason_says, (proposal.says, proposal.claim, *proposal.reasons))  # type: ignore[attr-defined]
    yield from map(caution_says, proposal.cautions)  # type: ignore[attr-defined]
    if proposal.runner_up is not None:  # type: ignore[attr-defined]
        yield reason_says(proposal.runner_up.why)  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", SCENARIOS)
def test_nothing_progresses_while_everything_waits(name: str) -> None:
    make, everything = SCENARIOS[name]
    found = make()
    ups = {(p.kind, p.lift) for p in found.proposals if p.kind in UP}
    assert not any(lift == "bench press" for _, lift in ups) or name == "a sign of one lift"
    assert bool(ups) is not everything
    assert (found.case.awaits_clearance is not None) is everything


def decided(about: str, verdict: str = "accepted", kind: str = "refer", **more: str) -> Block:
    decision = BlockDecision(
        proposal="p", kind=kind, verdict=verdict, change={"about": about, **more}  # type: ignore[arg-type]
    )  # fmt: skip
    return replace(WAITING, decisions=(decision,))


def test_a_block_waits_for_an_accepted_sign_of_the_whole_body_until_it_is_cleared() -> None:
    assert waits_for_a_sign(decided("chest pain"))
    assert not waits_for_a_sign(decided("chest pain", "declined"))
    assert not waits_for_a_sign(decided("chest pain", cleared_on="2027-01-20"))
    assert not waits_for_a_sign(decided("left knee"))
    assert not waits_for_a_sign(decided("chest pain", kind="stop_lift"))
    assert not waits_for_a_sign(replace(decided("chest pain"), status="ready"))
    again = decided("chest pain").decisions
    cleared = decided("chest pain", cleared_on="2027-01-20").decisions
    assert waits_for_a_sign(replace(WAITING, decisions=(*cleared, *again)))
    assert not waits_for_a_sign(replace(WAITING, decisions=(*again, *cleared)))


def test_no_stand_in_brings_more_for_a_muscle_on_hold() -> None:
    """The only stand-in trains the front delts a little more than the lift it stands in for."""
    fly = replace(CATALOGUE.lifts["cable fly"], muscles={"chest": 1.0, "front_delts": 0.75})
    others = tuple(lift for lift in CATALOGUE.lifts.values() if lift.name != "cable fly")
    catalogue = catalogue_of((*others, fly))

    def offered(emphasis: dict[str, str]) -> bool:
        block = small_block(small_lifter(emphasis=emphasis))
        truth = Truth(pain=lambda d, lift: 4 if lift == "bench press" and d == FRIDAY else None)
        log = log_of(block, truth, sunday(2))
        found = review(case_of(block, log, (), catalogue, POLICY), sunday(2))
        return "swap_lift" in {p.kind for p in found.proposals if p.lift == "bench press"}

    assert offered({"chest": "lead"})
    assert not offered({"chest": "lead", "front_delts": "hold"})


def test_after_the_last_week_a_painful_lift_is_still_spoken_of() -> None:
    block = small_block()
    last = len(block.weeks)
    days = {d.moment.day for d in log_of(block, Truth(), sunday(last)) if d.lift == "bench press"}
    hurt = checkin(max(days), "pain", 6, "bench press")
    again = checkin(sunday(last), "pain", 6, "bench press")
    found = seen(hurt, again, week=last)
    assert found.week is None
    assert "refer" in {p.kind for p in found.proposals}
