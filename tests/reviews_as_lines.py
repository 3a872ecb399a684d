"""What the review finds in invented weeks (`letter_weeks`), without its sentences: each proposal
and note as the change, its reasons' codes and facts, how sure, what it loses."""

from collections.abc import Iterator, Mapping
from typing import Any

from blockwright.files.proposals_json import proposals_to_json
from letter_weeks import told

NAMES = (
    "bad night", "two bad weeks", "shoulder pain", "two regions", "back from a cold", "too easy",
    "half done", "no log", "a sign", "a lift's own sign", "last build week", "after the deload",
)  # fmt: skip
WHERE = ("kind", "week", "session", "lift", "muscle")


def reviews() -> str:
    return "\n\n".join("\n".join(review_lines(name)) for name in NAMES) + "\n"


def review_lines(name: str) -> Iterator[str]:
    found = proposals_to_json(told(name))
    yield f"== {name}: week {found['week']}"
    for one in found["proposals"]:
        where = " ".join(str(one[key]) for key in WHERE if one[key] is not None)
        yield f"{where}: {_facts(one['before'])} to {_facts(one['after'])}"
        more = " or else" * (one["runner_up"] is not None)
        yield f"  sure {one['confidence']:.3f}, loses {_facts(one['loses'])}{more}"
        yield from (f"  {_coded(said)}" for said in (*one["reasons"], *one["cautions"]))
    for key in ("stays", "notes", "cautions"):
        yield from (f"{key}: {_coded(said)}" for said in found[key])
    yield f"climb {_facts(found['climb'])}; asked {found['settle']}"


def _coded(said: Any) -> str:
    if not isinstance(said, Mapping):
        return str(said)
    return f"{said.get('code', said.get('kind'))} {_facts(said.get('facts', said))}"


def _facts(facts: Any) -> str:
    """Numbers to three places: enough to notice, not so many that machines differ."""
    if isinstance(facts, Mapping):
        return ", ".join(f"{k} {_facts(v)}" for k, v in facts.items() if k not in ("says", "mend"))
    return f"{facts:.3f}" if isinstance(facts, float) else str(facts)
