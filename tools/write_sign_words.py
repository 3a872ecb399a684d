"""Writes the phone's copy of the warning-sign tables: `static/blockwright/sign_words.js`.

`make docs` runs it; a test fails when the copy lags behind `files/signs`.
"""

import json
import re
from pathlib import Path

from blockwright.engine import signs
from blockwright.files.signs import denial, evidence, patterns, reading, spelling, tables

FILE = (
    Path(__file__).resolve().parent.parent / "src/blockwright/web/static/blockwright/sign_words.js"
)
_TABLES = {
    signs: ("QUESTIONS", "POSSIBLE", "BLOOD"),
    tables: (
        "CLASSES", "MERGED", "BREAKERS", "JOINERS", "HARD", "HARMLESS", "NOT_DENIALS", "NOT_SLIPS",
        "RULES", "CONTEXTS", "ALWAYS",
        "START", "OF_A_RULE", "OF_A_SURE_RULE", "WEIGHTS", "MEANT",
    ),
    denial: (
        "SIGN_CLASSES", "PLAIN_PAIN", "MORE", "PRONOUNS", "OWNERS", "UNSURE", "CAME", "NO_ANSWER",
        "YES", "NOT_ME", "PINCHES", "MOVES",
    ),
    reading: ("MOST_WORDS",),
    evidence: ("LEAD", "BUCKETS", "NONE_WEIGHS", "SKIPPED", "EVEN", "RUNS"),
    spelling: ("LEAST_LETTERS", "TWO_SLIPS_FROM", "FUZZY_CLASSES", "FUZZY_WORDS"),
}  # fmt: skip
_IN_LINES = ("CLASSES", "HARMLESS", "NOT_DENIALS", "RULES", "CONTEXTS", "PLAIN_PAIN")
"""Tables that come without what only a reader of the source needs: comments, breaks in a line."""
_ANY_OF = re.compile(r"[^\s|?]+(?:\|[^\s|?]+)+")


def script() -> str:
    """The tables as a module of the phone page."""
    found = {name: getattr(module, name) for module, names in _TABLES.items() for name in names}
    found |= {name: _alike_together("\n".join(patterns.lines(found[name]))) for name in _IN_LINES}
    # A word of a class is known by that.
    in_classes = set(re.split(r"[\s_]+", found["CLASSES"]))
    found["NOT_SLIPS"] = " ".join(sorted({*found["NOT_SLIPS"].split()} - in_classes))
    # Last, and without breaks: letters by chance, among which words pack worse.
    found["WEIGHTS"] = "".join(found.pop("WEIGHTS").split())
    lines = [f"  {json.dumps(key)}: {json.dumps(value)}," for key, value in found.items()]
    head = "// Written by tools/write_sign_words.py from files/signs; change the tables there."
    return "\n".join([head, "", "export const TABLES = {", *lines, "};", ""])


def _alike_together(table: str) -> str:
    """Words of which any one will do by the alphabet, which packs better."""
    return _ANY_OF.sub(lambda found: "|".join(sorted(found[0].split("|"))), table)


if __name__ == "__main__":
    FILE.write_text(script(), encoding="utf-8")
    print(f"wrote {FILE.name}")
