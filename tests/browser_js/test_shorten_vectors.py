"""The phone leaves out the sets that a search of every way does: the same questions, to both."""

import json
from pathlib import Path
from random import Random
from typing import Any

from run_node import HERE, node

from blockwright.engine.planning.shorten import Shortening, shortening
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.codec import to_json
from blockwright.files.policy_files import default_policy
from shorten_search import left_out, seconds

GOLDEN = Path(__file__).parents[1] / "goldens" / "block.json"


def all_of_a_block() -> list[Shortening]:
    block = read_block(GOLDEN)
    catalogue = catalogue_for(block.lifter)
    policy = default_policy()
    return [
        shortening(block, week, session.session, catalogue, policy)
        for week in block.weeks
        for session in week.sessions
        if session.entries
    ]


def test_the_phone_leaves_out_what_the_engine_would() -> None:
    shorts = all_of_a_block()
    chance = Random(20270104)
    questions: list[dict[str, Any]] = []
    wanted = []
    for _ in range(200):
        at = chance.randrange(len(shorts))
        short = shorts[at]
        done = {
            order: chance.randint(0, entry.sets + 1)
            for order, entry in short.entries.items()
            if chance.random() < 0.3
        }
        without = [order for order in short.entries if chance.random() < 0.1]
        keep = {order: chance.randint(0, e.sets) for order, e in short.entries.items()}
        minutes = chance.randint(0, 75)
        questions.append(
            {"at": at, "minutes": minutes, "done": done, "without": without, "keep": keep}
        )
        out = left_out(short, minutes, done, without=without)
        wanted.append(
            {"out": {str(k): v for k, v in out.items()}, "seconds": seconds(short, keep, done)}
        )
    message = {"shorts": [to_json(one) for one in shorts], "questions": questions}
    ran = node(str(HERE / "answer_shorten.mjs"), said=json.dumps(message))
    assert ran.returncode == 0, ran.stderr
    assert json.loads(ran.stdout) == wanted
    assert sum(bool(one["out"]) for one in wanted) > 100
