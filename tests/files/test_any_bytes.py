"""Whatever bytes a reader is given, it gives facts or a problem a person can mend."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from blockwright.engine.errors import BadInput
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.checkins_file import read_checkins
from blockwright.files.json_text import dumps
from blockwright.files.lifter_file import read_lifter
from blockwright.files.sets_file import read_sets
from blockwright.verbs.check_files import check_files

FIXED = settings(
    deadline=None,
    derandomize=True,
    max_examples=400,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)

READERS: dict[str, Callable[[Path], object]] = {
    "lifter.toml": read_lifter,
    "log.csv": lambda path: read_sets(path, builtin_catalogue()),
    "checkins.csv": read_checkins,
}

CELLS = st.one_of(
    st.sampled_from(
        ["2027-01-04", "46391", "03/04/2027", "squat", "leg press", "pull-up", "1", "82,5", "1,250",
         "-3", "nan", "kg", "lb", "8", "15+4+4", "+", "1-2", "-", "–", "yes", "drop", "warmup",
         "sleep", "sore", "quads", "bodyweight", "", " ", '"', "999999999999999999999", "1e400"]
    ),
    st.text(max_size=12),
)  # fmt: skip
HEADERS = st.sampled_from(
    ["when,lift,set,load,unit,reps,rir,rest_s,method,full_range,pain,note",
     "when;lift;load;unit;reps;lifter;extra", "when,measure,about,value,unit",
     "When\tLift\tLoad\tUnit\tReps\tconfirmed", "reps,unit,load,lift,when"]
)  # fmt: skip
TABLES = st.builds(
    lambda header, separator, rows: "\n".join(
        [header, *(separator.join(row) for row in rows)]
    ).encode("utf-8", "surrogatepass"),
    HEADERS, st.sampled_from([",", ";", "\t"]),
    st.lists(st.lists(CELLS, max_size=14), max_size=6),
)  # fmt: skip
TOML_LINES = st.sampled_from(
    ["[gym]", "[[gym.bar]]", "[gym.plates]", "[gym.dumbbells]", "[[gym.stack]]", "[[slot]]",
     "[[pin]]", "[[lift]]", "[policy]", "[emphasis]", "[limits]", "[screening]", "[[gym]]"]
)  # fmt: skip
TOML_KEYS = st.sampled_from(
    ["name", "units", "bodyweight", "born", "weeks", "start", "slot", "day", "minutes", "gym",
     "kit", "mass", '"20"', "2.5", "from", "to", "step", "add_on", "lift", "days", "reps",
     "muscles", "pattern", "quads", '"suspect.many_reps"', "avoid_lifts", "cleared_on"]
)  # fmt: skip
TOML_VALUES = st.sampled_from(
    ['"Ana"', "1", "-1", "1e400", "nan", "-inf", "2027-01-04", "2027-01-04T06:30:00", "06:30:00",
     "true", "[]", "[1]", '["a"]', "{}", "{ a = 1 }", '""', '"lb"', '"mon"', '"06:30"', "[[1]]",
     "99999999999999999999999999", '"5-10"', "[{}]", '"20 kg"']
)  # fmt: skip
TOMLS = st.lists(
    st.one_of(TOML_LINES, st.builds("{} = {}".format, TOML_KEYS, TOML_VALUES)), max_size=14
).map(lambda lines: "\n".join(lines).encode())


EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
GOOD = {
    "lifter.toml": (EXAMPLES / "lifter.toml").read_bytes(),
    "log.csv": (EXAMPLES / "log.csv").read_bytes()[:1500],
    "checkins.csv": (EXAMPLES / "checkins.csv").read_bytes()[:1000],
}
EDITS = st.lists(
    st.tuples(
        st.floats(0, 1), st.integers(0, 8), st.one_of(CELLS, TOML_VALUES, st.text(max_size=3))
    ),
    min_size=1, max_size=4,
)  # fmt: skip


def edited(content: bytes, edits: list[tuple[float, int, str]]) -> bytes:
    """`content` with stretches of bytes replaced: at a share of its length, so many bytes."""
    for where, length, text in edits:
        at = int(where * len(content))
        content = content[:at] + text.encode("utf-8", "replace") + content[at + length :]
    return content


def _reads_or_says(reader: Callable[[Path], object], file: Path) -> None:
    try:
        reader(file)
    except BadInput as error:
        for problem in error.problems:
            assert problem.says
            assert problem.mend
            assert problem.file == file.name


@pytest.mark.parametrize("name", READERS)
@FIXED
@given(data=st.one_of(st.binary(max_size=300), TABLES, TOMLS))
def test_any_bytes_give_facts_or_problems(name: str, data: bytes, tmp_path: Path) -> None:
    file = tmp_path / name
    file.write_bytes(data)
    _reads_or_says(READERS[name], file)


@pytest.mark.parametrize("name", READERS)
@FIXED
@given(edits=EDITS)
def test_an_edited_good_file_gives_facts_or_problems(
    name: str, edits: list[tuple[float, int, str]], tmp_path: Path
) -> None:
    file = tmp_path / name
    file.write_bytes(edited(GOOD[name], edits))
    _reads_or_says(READERS[name], file)


@FIXED
@given(data=st.one_of(TOMLS, st.binary(max_size=60)))
def test_any_toml_lines_give_a_lifter_or_problems(data: bytes, tmp_path: Path) -> None:
    file = tmp_path / "lifter.toml"
    file.write_bytes(b'name = "Ana"\n' + data)
    _reads_or_says(read_lifter, file)


@FIXED
@given(
    ending=st.sampled_from(["toml", "csv", "json", "txt", "xlsx", ""]),
    data=st.one_of(st.binary(max_size=200), TABLES, TOMLS, st.text(max_size=60).map(str.encode)),
)
def test_check_answers_for_any_file(ending: str, data: bytes, tmp_path: Path) -> None:
    file = tmp_path / f"file.{ending}"
    file.write_bytes(data)
    document = check_files([file])
    assert dumps(document)
