"""The `lifts` document and its text."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from blockwright.engine.errors import BadInput
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.json_text import dumps
from blockwright.files.schemas import schema_of
from blockwright.verbs.list_lifts import Narrowing, lifts_document, lifts_text

GOLDEN = Path(__file__).resolve().parents[1] / "goldens" / "lifts.json"


def listed(narrowing: Narrowing) -> list[str]:
    return [lift["name"] for lift in lifts_document(narrowing)[0]["lifts"]]


def test_the_golden_file_is_what_the_code_writes() -> None:
    document, _ = lifts_document(Narrowing(pattern="vertical pull"))
    assert dumps(document) == GOLDEN.read_text(encoding="utf-8")


def test_the_whole_catalogue_keeps_its_schema() -> None:
    document = json.loads(dumps(lifts_document(Narrowing())[0]))
    Draft202012Validator(schema_of("lifts")).validate(document)
    assert {lift["name"] for lift in document["lifts"]} == set(builtin_catalogue().lifts)


def test_narrowing() -> None:
    assert "dumbbell bench press" in listed(Narrowing(muscle="chest", kit=("dumbbells", "bench")))
    assert "bench press" not in listed(Narrowing(muscle="chest", kit=("dumbbells", "bench")))
    assert "bench press" not in listed(Narrowing(muscle="triceps"))
    assert listed(Narrowing(muscle="Side Delts", pattern="upright row", kit=("cable",))) == [
        "cable upright row"
    ]
    assert listed(Narrowing(find="RDL")) == ["romanian deadlift", "single-leg romanian deadlift"]
    assert listed(Narrowing(find="no such lift")) == []


def test_unknown_words_are_told_at_once_with_the_nearest() -> None:
    with pytest.raises(BadInput) as caught:
        lifts_document(Narrowing(muscle="chets", pattern="rows", kit=("barr", "bench")))
    mends = [problem.mend for problem in caught.value.problems]
    assert len(mends) == 3
    assert all(word in " ".join(mends) for word in ("chest", "row", "bar"))


def test_a_lifter_sees_what_their_gym_allows_and_their_own(tmp_path: Path) -> None:
    file = tmp_path / "lifter.toml"
    file.write_text(
        'name = "Ada"\n[gym]\nkit = ["dumbbells", "my sled"]\n'
        '[[lift]]\nname = "my sled"\nmuscles = { quads = 1.0 }\npattern = "squat"\n'
        'kit = ["my sled"]\n',
        encoding="utf-8",
    )
    names = listed(Narrowing(lifter=file))
    assert "my sled" in names
    assert "dumbbell curl" in names
    assert "press-up" in names
    assert "bench press" not in names
    assert listed(Narrowing(lifter=file, kit=("my sled",), muscle="quads"))[:2] != []
    assert "dumbbell curl" not in listed(Narrowing(lifter=file, kit=("my sled",)))
    lines = lifts_text(lifts_document(Narrowing(lifter=file))[0]).splitlines()
    assert [line.split("  ")[1] for line in lines if "own lift" in line] == ["my sled"]


def test_text_groups_by_pattern() -> None:
    document, _ = lifts_document(Narrowing(kit=("bar", "bench"), pattern="horizontal press"))
    short = lifts_text(document)
    assert short.startswith("horizontal press: ")
    assert "chest (triceps, front delts); bar + bench" in short
    assert lifts_text({"lifts": []}) == "No lift matches."
