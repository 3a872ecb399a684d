"""The codec: what types and tables say is what is written, read back and published."""

import json
from dataclasses import fields, replace
from pathlib import Path

import pytest

from blockwright.engine.errors import BadInput
from blockwright.engine.training import BlockDecision, Entry, Session, SetPlan
from blockwright.files.block_json import block_from_json, block_to_json
from blockwright.files.codec import from_json, to_json
from blockwright.files.json_text import dumps
from blockwright.files.schemas import schema_of

GOLDEN = Path(__file__).resolve().parents[1] / "goldens" / "block.json"


def test_a_block_is_written_as_it_was_read_to_the_byte() -> None:
    text = GOLDEN.read_text(encoding="utf-8")
    block = block_from_json(json.loads(text), "block.json")
    assert dumps(block_to_json(block)) == text
    assert isinstance(block.weeks, tuple)
    assert isinstance(block.weeks[0].sessions[0].entries[0].sets, tuple)
    assert block.weeks[0].sessions[0].day.isoformat() == "2027-01-04"


def test_what_has_its_default_is_left_out_where_the_contract_says_so() -> None:
    plain = SetPlan(load_kg=None, reps_low=5, reps_high=8, rir=2)
    assert "forecast_kg" not in to_json(plain)
    later = replace(plain, forecast_kg=(60.0, 65.0))
    assert to_json(later)["forecast_kg"] == [60.0, 65.0]
    assert from_json(SetPlan, to_json(later)) == later
    assert from_json(SetPlan, to_json(plain)) == plain


def test_keys_are_the_contracts() -> None:
    decision = BlockDecision(proposal="p", kind="refer", verdict="declined")
    assert to_json(decision) == {
        "proposal": "p", "kind": "refer", "decision": "declined", "words": "", "change": {},
    }  # fmt: skip
    assert from_json(BlockDecision, to_json(decision)) == decision


@pytest.mark.parametrize(
    ("kind", "name"), [(Session, "session"), (Entry, "entry"), (SetPlan, "set")]
)
def test_every_field_is_in_the_schema_and_no_other_key(kind: type, name: str) -> None:
    defined = schema_of("block")["$defs"][name]
    keys = {"date" if f.name == "day" else f.name for f in fields(kind)}
    assert set(defined["properties"]) == keys
    assert set(defined["required"]) == keys - {"forecast_kg", "aim_low", "aim_high", "waits"}
    assert defined["additionalProperties"] is False


@pytest.mark.parametrize(
    ("place", "value", "key"),
    [("load_kg", -1, "load_kg"), ("load_kg", 2501, "load_kg"), ("reps_low", 0, "reps_low"),
     ("rir", 11, "rir"), ("reps_high", "8", "reps_high"), ("counts_as", None, "counts_as")],
)  # fmt: skip
def test_a_value_out_of_bounds_is_named_by_its_place(place: str, value: object, key: str) -> None:
    document = json.loads(GOLDEN.read_text(encoding="utf-8"))
    document["weeks"][0]["sessions"][0]["entries"][0]["sets"][1][place] = value
    with pytest.raises(BadInput) as caught:
        block_from_json(document, "block.json")
    assert [p.key for p in caught.value.problems] == [f"weeks.1.sessions.1.entries.1.sets.2.{key}"]
