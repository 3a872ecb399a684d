"""What a training partner may be told is decided by code, and what is not decided is not told."""

import json
import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

import pytest
from small_block import (
    CATALOGUE,
    SCREENED,
    START,
    Truth,
    checkin,
    log_of,
    monday,
    small_block,
    small_lifter,
    sunday,
)

from blockwright.engine.review import review
from blockwright.engine.training import CheckIn
from blockwright.files.block_json import block_to_json
from blockwright.files.json_text import plain
from blockwright.files.policy_files import default_policy
from blockwright.files.proposals_json import proposals_to_json
from blockwright.files.reading import shipped
from blockwright.files.words import entries
from blockwright.store.models import BlockRevision, Lifter, Proposals
from blockwright.store.partner import as_seen, for_partner
from studies.cases import case_of

OF_THE_BODY = (
    r"weight|energy|pain|hurt|sore|sleep|night|stress|fatigue|tired|screen|kidney|professional"
)


def test_every_sentence_is_decided_once() -> None:
    decided = shipped("partner.toml")
    codes = [*decided["tell"], *decided["untold"], *decided["instead"]]
    assert sorted(codes) == sorted(entries())
    assert set(decided["instead"].values()) <= set(decided["tell"])


def weak(day: object, lift: str) -> float:
    return 0.97 if day >= monday(2) and lift in ("bench press", "squat") else 1.0  # type: ignore[operator]


FALLING = [
    checkin(START + timedelta(days=day), "bodyweight", 80 - 0.11 * day) for day in range(0, 14, 2)
]
SLEPT_BADLY = [checkin(monday(2) + timedelta(days=day), "sleep", 9) for day in range(6)]
HURTS = Truth(pain=lambda day, lift: 4.0 if lift == "bench press" and day >= monday(2) else None)


@pytest.mark.parametrize(
    ("truth", "checkins", "kidneys", "word"),
    [
        (Truth(level=weak), FALLING, False, "losing weight"),
        (HURTS, [], False, "pain 4"),
        (Truth(level=weak), SLEPT_BADLY, False, "bad sleep"),
        (Truth(), [], True, "professional"),
    ],
    ids=["weight", "pain", "sleep", "answer"],
)
def test_a_letter_tells_a_partner_nothing_of_the_body(
    truth: Truth, checkins: Sequence[CheckIn], kidneys: bool, word: str
) -> None:
    lifter = small_lifter(screening=replace(SCREENED, kidney_disease=kidneys))
    block = replace(small_block(lifter), status="refer" if kidneys else "ready")
    case = case_of(block, log_of(block, truth, sunday(2)), checkins, CATALOGUE, default_policy())
    document = plain(proposals_to_json(review(case, sunday(2))))
    assert word in json.dumps(document)
    row = Proposals(document=document, block=BlockRevision(document=plain(block_to_json(block))))
    seen = as_seen(for_partner(Lifter(document={}), 1), row).document
    assert re.findall(OF_THE_BODY, json.dumps(seen)) == []
    assert seen["verdict"]
    ids = {one["id"] for one in document["proposals"] if one["kind"] != "refer"}
    assert {one["id"] for one in seen["proposals"]} == ids
