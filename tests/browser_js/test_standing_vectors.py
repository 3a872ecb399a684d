"""Phone and server read the same rule of what stands, and the same order (docs/sync.md)."""

import json
from datetime import UTC, date, datetime, timedelta
from random import Random
from typing import Any
from uuid import UUID

from run_node import HERE, node

from blockwright.store.models import Fact
from blockwright.store.standing import in_done_order, standing, verdicts

MORNING = datetime(2027, 1, 4, 7, 0, tzinfo=UTC)
DEVICES = (UUID(int=1), UUID(int=2))


def some_facts(chance: Random) -> list[dict[str, Any]]:
    """Sets of two phones with clocks that jump, amended, taken back, some amendments orphaned,
    some of another kind, some written with, some without what the other phone had written."""
    facts: list[dict[str, Any]] = []
    numbers = dict.fromkeys(DEVICES, 0)
    for seq in range(1, chance.randint(2, 14)):
        device = chance.choice(DEVICES)
        numbers[device] += chance.randint(1, 2)
        jump = timedelta(minutes=chance.choice([0, 0, 0, -90]))
        amends = chance.choice([None, None, *[one["id"] for one in facts], str(UUID(int=999))])
        kind = chance.choice(["set", "set", "set", "session"])
        facts.append(
            {
                "id": str(UUID(int=100 + seq)),
                "seq": seq,
                "kind": kind,
                kind: {
                    "reps": chance.choice(["8", "9"]),
                    "note": chance.choice(["", "", "dizzy", "fine"]),
                    "pain": chance.choice([None, None, 3, 7]),
                },
                "by": chance.choice(["Mara", "Mara", "Pim"]),
                "knew": chance.choice([None, None, chance.randint(0, seq), 2**53]),
                "amends": amends,
                "withdrawn": amends is not None and chance.random() < 0.3,
                "device": str(device),
                "n": numbers[device],
                "at": (MORNING + timedelta(minutes=3 * seq) + jump).isoformat(),
            }
        )
    chance.shuffle(facts)
    return facts


def row(fact: dict[str, Any]) -> Fact:
    return Fact(
        id=UUID(fact["id"]),
        seq=fact["seq"],
        kind=fact["kind"],
        amends=None if fact["amends"] is None else UUID(fact["amends"]),
        withdrawn=fact["withdrawn"],
        device=UUID(fact["device"]),
        n=fact["n"],
        at=datetime.fromisoformat(fact["at"]),
        day=date(2027, 1, 4),
        zone="UTC",
        body=fact[fact["kind"]],
        by_id=len(fact["by"]),
        event={name: fact[name] for name in ("knew", fact["kind"])},
    )


def test_both_sides_agree_on_random_histories() -> None:
    chance = Random(5)
    histories = [some_facts(chance) for _ in range(1200)]
    ran = node(str(HERE / "standing_answers.mjs"), said=json.dumps(histories))
    assert ran.returncode == 0, ran.stderr
    answers = json.loads(ran.stdout)
    gone = disputed = 0
    for facts, answer in zip(histories, answers, strict=True):
        rows = [row(fact) for fact in facts]
        ordered = in_done_order(standing(rows))
        assert [one[0] for one in answer["stand"]] == [str(fact.id) for fact in ordered], facts
        assert [one[3] for one in answer["stand"]] == [fact.n for fact in ordered]
        assert [one[4] for one in answer["stand"]] == [fact.body for fact in ordered], facts
        found = [
            [str(one.first.id), str(one.last.id), [str(other.id) for other in one.others]]
            for one in verdicts(rows)
        ]
        assert answer["verdicts"] == found, facts
        gone += len(facts) - len(ordered)
        disputed += sum(bool(one.others) for one in verdicts(rows))
    assert gone > 1200
    assert disputed > 40
