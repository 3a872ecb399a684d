"""Whatever is logged, a review answers: legal proposals, none against another, none unsafe."""

from datetime import timedelta
from itertools import combinations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_block import CATALOGUE, START, gym, small_block, small_lifter

from blockwright.engine.rack import rack_for
from blockwright.engine.review import Review, Verdict, review, revised
from blockwright.engine.training import CheckIn, Moment, SetDone, effective_load_kg
from blockwright.files.block_json import block_from_json, block_to_json
from blockwright.files.json_text import dumps
from blockwright.files.policy_files import default_policy
from blockwright.files.proposals_json import proposals_from_json, proposals_to_json
from blockwright.files.schemas import problems_against
from blockwright.files.words import why_json
from studies.cases import case_of

POLICY = default_policy()
BLOCK = small_block()
LIFTS = [*CATALOGUE.lifts, "a lift nobody knows"]
OPPOSED = [
    {"raise_load", "lower_load"},
    {"raise_load", "stop_lift"},
    {"add_set", "trim_sets"},
    {"add_set", "stop_lift"},
    {"add_set", "lower_load"},
    {"swap_lift", "stop_lift"},
    {"raise_load", "swap_lift"},
    {"add_set", "swap_lift"},
]
"""Kinds that may not stand side by side for one lift."""


@st.composite
def set_done(draw: st.DrawFn) -> SetDone:
    day = START + timedelta(days=draw(st.integers(-60, 60)))
    rir = draw(st.none() | st.sampled_from([0.0, 0.5, 1.0, 2.0, 3.0, 5.0]))
    load = draw(st.sampled_from([0.0, 2.5, 14.0, 60.0, 62.5, 70.0, 80.0, 90.0, 140.0, 300.0]))
    return SetDone(
        moment=Moment(day=day),
        lift=draw(st.sampled_from(LIFTS)),
        set_number=draw(st.integers(1, 6)),
        loads_kg=(load,),
        entered_load=str(load),
        entered_unit="kg",
        reps=(draw(st.integers(0, 40)),),
        rir_low=rir,
        rir_high=rir,
        rest_s=draw(st.none() | st.floats(10, 600)),
        method=draw(st.sampled_from(["straight", "straight", "warmup", "rest-pause", "drop"])),
        full_range=draw(st.booleans() | st.just(True)),
        pain=draw(st.none() | st.none() | st.floats(0, 10)),
        note=draw(st.sampled_from(["", "", "", "easy", "dizzy", "no chest pain"])),
        row=draw(st.integers(2, 5000)),
    )


@st.composite
def check_in(draw: st.DrawFn) -> CheckIn:
    measure = draw(
        st.sampled_from(
            ["sleep", "fatigue", "stress", "soreness", "sore", "pain", "session_rpe",
             "session_minutes", "bodyweight"]
        )
    )  # fmt: skip
    value, about = {
        "sore": (st.floats(0, 10), st.sampled_from(["chest", "quads", "lats"])),
        "pain": (st.floats(0, 10), st.sampled_from(["knee", "squat", "left shoulder", "toe"])),
        "session_rpe": (st.floats(0, 10), st.none()),
        "session_minutes": (st.floats(1, 180), st.none()),
        "bodyweight": (st.floats(40, 150), st.none()),
    }.get(measure, (st.integers(1, 7), st.none()))
    return CheckIn(
        moment=Moment(day=START + timedelta(days=draw(st.integers(-30, 60)))),
        measure=measure,
        about=draw(about),
        value=float(draw(value)),
    )


@settings(max_examples=60, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(
    sets=st.lists(set_done(), max_size=60),
    checkins=st.lists(check_in(), max_size=30),
    days=st.integers(0, 60),
)
def test_any_legal_facts_give_a_legal_review(
    sets: list[SetDone], checkins: list[CheckIn], days: int
) -> None:
    through = START + timedelta(days=days + 6)
    found = review(case_of(BLOCK, sets, checkins, CATALOGUE, POLICY), through)
    document = proposals_to_json(found)
    assert problems_against("proposals", document, "here") == []
    if days % 4 == 0:  # the same facts, the same letter
        again = review(case_of(BLOCK, sets, checkins, CATALOGUE, POLICY), through)
        assert dumps(document) == dumps(proposals_to_json(again))
    _no_two_against_each_other(found)
    _raises_are_small_and_can_be_made(found)
    _accepted_block_is_legal(found, document)


def _no_two_against_each_other(found: Review) -> None:
    ids = [proposal.id for proposal in found.proposals]
    assert len(ids) == len(set(ids))
    kinds: dict[str, set[str]] = {}
    for proposal in found.proposals:
        if proposal.lift is not None:
            kinds.setdefault(proposal.lift, set()).add(proposal.kind)
    for lift, said in kinds.items():
        assert not any(pair <= said for pair in OPPOSED), f"{lift}: {said}"
    places = [
        (p.session, p.lift, p.kind.split("_")[1]) for p in found.proposals if p.session is not None
    ]
    assert all(one != other for one, other in combinations(places, 2))
    for proposal in found.proposals:
        assert proposal.before is None or proposal.before != proposal.after
    if any(p.kind in ("deload_now", "light_week") for p in found.proposals):
        away = any(why.code == "back_from_a_week_off" for p in found.proposals for why in p.reasons)
        assert {p.kind for p in found.proposals} <= {
            "deload_now", "light_week", "refer", "stop_lift", "swap_lift",
            *(["lower_load"] if away else []),
        }  # fmt: skip


def _raises_are_small_and_can_be_made(found: Review) -> None:
    for proposal in found.proposals:
        if proposal.kind not in ("raise_load", "lower_load") or proposal.after is None:
            continue
        lift = CATALOGUE.lifts[proposal.lift or ""]
        after = float(proposal.after.value or 0)
        before = float(proposal.before.value or 0) if proposal.before else 0.0
        rack = rack_for(lift, BLOCK.lifter.gym, POLICY)
        assert rack.exactly(after) is not None
        weight = found.case.bodyweight_kg
        was, is_now = (effective_load_kg(lift, kg, weight) or 0.0 for kg in (before, after))
        if proposal.kind == "raise_load":
            if proposal.before is not None and proposal.before.value is None:
                continue
            used = found.case.evidence.lifts[lift.name].latest
            most = max(was * 1.1, 0.0 if used is None else used.work_load_kg)
            small = was < is_now <= most * (1 + 1e-9)
            assert small or "smallest_step" in {r.code for r in proposal.reasons}
        else:
            assert is_now < was


def _accepted_block_is_legal(found: Review, document: dict[str, object]) -> None:
    file = proposals_from_json(document, "here")
    verdicts = [
        Verdict(offered=each, verdict="accepted", to=each.after) for each in file.offered.values()
    ]
    new = revised(BLOCK, verdicts, file.cautions, CATALOGUE, POLICY)
    assert problems_against("block", block_to_json(new), "here") == []
    # As stored; a pain of six decimals may be rounded twice in its sentence, never in its facts.
    kept, said = ([why_json(c) | {"says": ""} for c in x.cautions] for x in (new, found))
    assert all(caution in kept for caution in said)
    for week in new.weeks:
        for session in week.sessions:
            assert session.minutes_planned <= session.minutes_available


def test_a_block_survives_its_own_file() -> None:
    lifter = small_lifter(gym=gym("lb", {"45": 3, "25": 1, "10": 2, "5": 1, "2.5": 1}, 45))
    block = small_block(lifter)
    document = block_to_json(block)
    assert block_to_json(block_from_json(document, "here")) == document
