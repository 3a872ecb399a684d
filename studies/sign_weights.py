"""Fits the weights of words in the warning-sign grammar; prints what it finds in notes held out.

`python -m studies.sign_weights` fits to the invented notes of tests/engine/signs (four authors and
the notes the rules were made with) and writes `engine/signs/weights.py`. Two further
authors' notes (`notes_held_out*.tsv`) are only counted, each other author's held out in turn.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.sparse import csr_matrix

from blockwright.engine.signs.evidence import features
from blockwright.engine.signs.grammar import signs_by_rule
from blockwright.engine.signs.reading import Reading

ROOT = Path(__file__).resolve().parent.parent
NOTES = ROOT / "tests/engine/signs"
FILE = ROOT / "src/blockwright/engine/signs/weights.py"
AUTHORS = ("a", "b", "c", "d", "held_out", "held_out_2")
LEAST_NOTES, MOST_FEATURES = 3, 2600
SMOOTHING = 3.0
"""Ridge on the weights: chosen on the authors held out in turn; 1.5 to 10 change little."""
UNITS = 20
"""Weights are kept in twentieths, so that the phone adds whole numbers."""
OF_A_RULE = 40
THRESHOLD = 25
"""Chosen on the authors held out in turn for about a tenth of harmless notes raised."""


@dataclass(frozen=True)
class Notes:
    """Notes as what is weighed of them, whether a rule speaks, and whether there is a sign."""

    features: list[frozenset[str]]
    by_rule: NDArray[np.bool_]
    by_sure_rule: NDArray[np.bool_]
    has_sign: NDArray[np.bool_]

    def with_others(self, others: Iterable["Notes"]) -> "Notes":
        every = [self, *others]
        return Notes(
            [one for notes in every for one in notes.features],
            np.concatenate([notes.by_rule for notes in every]),
            np.concatenate([notes.by_sure_rule for notes in every]),
            np.concatenate([notes.has_sign for notes in every]),
        )


def read(lines: Sequence[tuple[str, bool]]) -> Notes:
    """Weighs each note once."""
    readings = [Reading(note) for note, _ in lines]
    found = [signs_by_rule(reading) for reading in readings]
    return Notes(
        [frozenset(features(reading)) for reading in readings],
        np.array([bool(signs) for signs in found]),
        np.array([any(signs.values()) for signs in found]),
        np.array([sign for _, sign in lines]),
    )


def lines_of(author: str) -> list[tuple[str, bool]]:
    """The notes of one author and whether each holds a sign."""
    text = (NOTES / f"notes_{author}.tsv").read_text(encoding="utf-8")
    rows = [line.split("\t", 1) for line in text.splitlines() if not line.startswith("#")]
    return [(note, family != "none") for family, note in rows]


def lines_of_the_rules() -> list[tuple[str, bool]]:
    """The notes that the rules were made with."""
    found: list[tuple[str, bool]] = []
    for name in ("more", "signs", "harmless"):
        for line in (NOTES / f"invented_{name}.txt").read_text(encoding="utf-8").splitlines():
            if line and not line.startswith("#"):
                sign = line.startswith("+ ") if name == "more" else name == "signs"
                note = line[2:] if name == "more" else line.rsplit(" | ", 1)[-1]
                found.append((note, sign))
    return found


def fit(notes: Notes) -> dict[str, int]:
    """Weights by feature in `UNITS`, the constant under the empty name (logistic, ridge)."""
    counts = Counter(one for here in notes.features for one in here)
    names = sorted(name for name, count in counts.items() if count >= LEAST_NOTES)
    weights = _logistic(_matrix(notes, names), notes.has_sign)
    worth = np.abs(weights[:-1]) * np.sqrt([counts[name] for name in names])
    kept = [names[at] for at in sorted(np.argsort(-worth, kind="stable")[:MOST_FEATURES])]
    weights = np.round(UNITS * _logistic(_matrix(notes, kept), notes.has_sign)).astype(int)
    table = {name: int(weight) for name, weight in zip(kept, weights[:-1], strict=True) if weight}
    return {**table, "": int(weights[-1]) - THRESHOLD}


def raised(notes: Notes, table: dict[str, int]) -> NDArray[np.bool_]:
    """Whether each note is raised."""
    totals = [table[""] + sum(table.get(one, 0) for one in here) for here in notes.features]
    likely: NDArray[np.bool_] = np.array(totals) + OF_A_RULE * notes.by_rule > 0
    return likely | notes.by_sure_rule


def _matrix(notes: Notes, names: Sequence[str]) -> csr_matrix:
    at = {name: place for place, name in enumerate(names)}
    rows = [row for row, here in enumerate(notes.features) for one in here if one in at]
    columns = [at[one] for here in notes.features for one in here if one in at]
    shape = (len(notes.features), len(names))
    return csr_matrix((np.ones(len(rows)), (rows, columns)), shape=shape)


def _logistic(matrix: csr_matrix, has_sign: NDArray[np.bool_]) -> NDArray[np.float64]:
    truth = has_sign.astype(float)

    def loss(weights: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        level = matrix @ weights[:-1] + weights[-1]
        error = 1 / (1 + np.exp(-level)) - truth
        value = np.sum(np.logaddexp(0, level) - truth * level)
        slope = np.append(matrix.T @ error + SMOOTHING * weights[:-1], error.sum())
        return float(value + SMOOTHING * np.sum(weights[:-1] ** 2) / 2), slope

    start = np.zeros(matrix.shape[1] + 1)
    options = {"maxiter": 500}
    return np.asarray(minimize(loss, start, jac=True, method="L-BFGS-B", options=options).x)


def script(table: dict[str, int]) -> str:
    """The table as the engine's module."""
    head = '"""Weights of words in notes, in twentieths; written by studies/sign_weights.py."""\n\n'
    lines, line = [], ""
    for name in sorted(name for name in table if name):
        entry = f"{name}={table[name]}"
        if len(line) + len(entry) > 98:
            lines.append(line.rstrip())
            line = ""
        line += f"{entry} "
    body = "\n".join([*lines, line.rstrip()])
    return f'{head}START = {table[""]}\nOF_A_RULE = {OF_A_RULE}\nWEIGHTS = """\n{body}\n"""\n'


def main() -> None:
    rules = read(lines_of_the_rules())
    authors = {name: read(lines_of(name)) for name in AUTHORS}
    fitted = [name for name in authors if not name.startswith("held_out")]
    for held in authors:
        table = fit(rules.with_others(authors[name] for name in fitted if name != held))
        notes = authors[held]
        for words, found in (
            ("rules alone", notes.by_rule),
            ("with weights", raised(notes, table)),
        ):
            signs, harmless = found[notes.has_sign], found[~notes.has_sign]
            print(f"author {held}, {words}: raised {signs.mean():.3f} of {len(signs)} signs, "
                  f"{harmless.mean():.3f} of {len(harmless)} harmless")  # fmt: skip
    table = fit(rules.with_others(authors[name] for name in fitted))
    FILE.write_text(script(table), encoding="utf-8")
    print(f"wrote {FILE.name}: {len(table) - 1} weights")


if __name__ == "__main__":
    main()
