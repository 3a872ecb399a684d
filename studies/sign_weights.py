"""Fits the weights of words in the warning-sign grammar; prints what it finds in notes held out.

`python -m studies.sign_weights` fits to the invented notes of tests/files/signs (fifteen authors
and the notes the rules were made with) and writes `weights.txt` and `meant.txt` in
`files/data/signs`. Each author is held out in turn; those of one line of `AUTHORS` together, as
they are one person's. The notes of `notes_held_out*.tsv` are only counted.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt
from pathlib import Path
from textwrap import fill

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.sparse import csr_matrix

from blockwright.engine import signs as names
from blockwright.files.signs.evidence import (
    BUCKETS,
    EVEN,
    NONE_WEIGHS,
    SKIPPED,
    bucket,
    features,
    meant_words,
)
from blockwright.files.signs.grammar import signs_by_rule
from blockwright.files.signs.reading import NoteReading
from blockwright.files.signs.tables import OF_A_RULE, OF_A_SURE_RULE

ROOT = Path(__file__).resolve().parent.parent
NOTES = ROOT / "tests/files/signs"
DATA = ROOT / "src/blockwright/files/data/signs"
AUTHORS = (
    ("a",), ("b",), ("c",), ("d",), ("e", "e2"), ("f", "f2"), ("g", "h"), ("i",), ("j",), ("l",),
    ("m",), ("n",), ("o",), ("q",), ("t",),
)  # fmt: skip
HELD_OUT = ("held_out", "held_out_p", "held_out_q", "held_out_r", "held_out_s", "held_out_t")
SMOOTHING = 1.0
"""Ridge on the weights: chosen on the authors held out in turn; 1 to 4 change little."""
UNITS, MOST = 20, 42
"""Weights are kept in twentieths, so that the phone adds whole numbers; no weight is larger, so
that each is a character of its own."""
THRESHOLD = 10
"""Chosen on the authors held out in turn, for 95 % raised and at most a tenth of the harmless on
average; that a sure rule may be spoken against costs one sign in a thousand and spares one harmless
note in a hundred. The held-out notes had no say."""
WIDTH = 96


@dataclass(frozen=True)
class Notes:
    """Notes as what is weighed of them, whether a rule speaks, and whether there is a sign."""

    buckets: list[list[int]]
    by_rule: NDArray[np.bool_]
    by_sure_rule: NDArray[np.bool_]
    has_sign: NDArray[np.bool_]

    def with_others(self, others: Iterable["Notes"]) -> "Notes":
        every = [self, *others]
        return Notes(
            [one for notes in every for one in notes.buckets],
            np.concatenate([notes.by_rule for notes in every]),
            np.concatenate([notes.by_sure_rule for notes in every]),
            np.concatenate([notes.has_sign for notes in every]),
        )


def read(lines: Sequence[tuple[str, bool]]) -> Notes:
    """Weighs each note once."""
    readings = [NoteReading(note) for note, _ in lines]
    found = [signs_by_rule(reading) for reading in readings]
    return Notes(
        [sorted({bucket(one) for one in features(reading)}) for reading in readings],
        np.array([bool(signs) for signs in found]),
        np.array([any(signs.values()) for signs in found]),
        np.array([sign for _, sign in lines]),
    )


def rows_of(author: str) -> list[tuple[str, str]]:
    """The notes of one author, each after the family of its sign or none."""
    text = (NOTES / f"notes_{author}.tsv").read_text(encoding="utf-8")
    rows = [line.split("\t", 1) for line in text.splitlines() if not line.startswith("#")]
    return [(family, note) for family, note in rows]


def lines_of(author: str) -> list[tuple[str, bool]]:
    """The notes of one author and whether each holds a sign."""
    return [(note, family != "none") for family, note in rows_of(author)]


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


@dataclass(frozen=True)
class Table:
    """Weights by bucket in `UNITS`, and where the sum starts."""

    weights: NDArray[np.int64]
    start: int


def fit(notes: Notes) -> Table:
    """The weights of all words (logistic, ridge), the threshold taken off the start."""
    found = _logistic(_matrix(notes), notes.has_sign)
    rounded = np.round(UNITS * found).astype(int)
    return Table(np.clip(rounded[:-1], -MOST, MOST), int(rounded[-1]) - THRESHOLD)


def raised(notes: Notes, table: Table) -> NDArray[np.bool_]:
    """Whether each note is raised."""
    totals = _matrix(notes) @ table.weights + table.start
    by_rule = OF_A_RULE * notes.by_rule + OF_A_SURE_RULE * notes.by_sure_rule
    likely: NDArray[np.bool_] = totals + by_rule > 0
    return likely


def _matrix(notes: Notes) -> csr_matrix:
    rows = [row for row, here in enumerate(notes.buckets) for _ in here]
    columns = [one for here in notes.buckets for one in here]
    shape = (len(notes.buckets), BUCKETS)
    shares = [EVEN / sqrt(max(len(here), 1)) for here in notes.buckets for _ in here]
    return csr_matrix((shares, (rows, columns)), shape=shape)


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


# ------------------------------------------------------------------- which sign is asked about

FAMILIES = {
    "chest": names.CHEST, "breath": names.BREATH, "faint": names.FAINT, "heart": names.HEART,
    "arm": names.ARM, "head": names.HEAD, "sudden": names.HEAD, "urine": names.URINE,
    "dark": names.URINE, "numb": names.NUMB, "calf": names.CALF, "sharp": names.SHARP,
}  # fmt: skip
"""The sign of a family, by how the authors' names for it begin."""
LEAST_SEEN, LEAST_SAYS, SAYS_UNITS = 3, 0.5, 4
"""Words seen in fewer notes, or that say less of a sign, are left out; kept in quarters."""


def sign_of(family: str, reading: NoteReading) -> str | None:
    """The sign that a note of a family is of; None where its author named no family."""
    sign = next((one for name, one in FAMILIES.items() if family.startswith(name)), None)
    if sign == names.URINE and reading.named.isdisjoint(("pee_only", "brown")):
        return names.SWELLING
    return names.BLOOD if sign == names.BREATH and "cough" in reading.named else sign


def meant_table(authors: Iterable[str]) -> dict[str, dict[int, int]]:
    """By word or class of words: how much it speaks for each sign, by number in `QUESTIONS`."""
    signs = list(names.QUESTIONS)[:-1]
    seen: list[tuple[frozenset[str], int]] = []
    for author in authors:
        for family, note in rows_of(author):
            reading = NoteReading(note)
            if (sign := sign_of(family, reading)) is not None:
                seen.append((meant_words(reading), signs.index(sign)))
    counted = Counter(word for words, _ in seen for word in words)
    place = {word: at for at, word in enumerate(sorted(w for w in counted
                                                       if counted[w] >= LEAST_SEEN))}  # fmt: skip
    spots = [(row, place[word]) for row, (words, _) in enumerate(seen) for word in words
             if word in place]  # fmt: skip
    matrix = csr_matrix((np.ones(len(spots)), tuple(zip(*spots, strict=True))),
                        shape=(len(seen), len(place)))  # fmt: skip
    says = _multinomial(matrix, np.array([sign for _, sign in seen]), len(signs))
    return {
        word: {sign: round(SAYS_UNITS * says[at, sign]) for sign in range(len(signs))
               if says[at, sign] >= LEAST_SAYS}
        for word, at in place.items()
    }  # fmt: skip


def _multinomial(matrix: csr_matrix, sign: NDArray[np.int64], signs: int) -> NDArray[np.float64]:
    truth = np.eye(signs)[sign]

    def loss(flat: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        weights = flat.reshape(-1, signs)
        level = matrix @ weights
        level -= level.max(axis=1, keepdims=True)
        share = np.exp(level) / np.exp(level).sum(axis=1, keepdims=True)
        slope = matrix.T @ (share - truth) + SMOOTHING * weights
        value = -np.sum(np.log(share[truth > 0])) + SMOOTHING * np.sum(weights**2) / 2
        return float(value), slope.ravel()

    start = np.zeros(matrix.shape[1] * signs)
    found = minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": 100}).x
    return np.asarray(found).reshape(-1, signs)


def meant_lines(table: dict[str, dict[int, int]]) -> str:
    """Each word with a letter for each sign and its weight."""
    entries = [
        " ".join([word, *(f"{chr(ord('a') + sign)}{says}" for sign, says in sorted(of.items()))])
        for word, of in sorted(table.items())
        if of
    ]
    return fill("; ".join(entries), WIDTH, break_on_hyphens=False, break_long_words=False)


def weight_lines(table: Table) -> str:
    """The weight of every note, then a character for the weight of each bucket."""
    codes = NONE_WEIGHS + table.weights
    text = "".join(chr(code + (code >= SKIPPED)) for code in codes.tolist())
    body = "\n".join(text[at : at + WIDTH] for at in range(0, BUCKETS, WIDTH))
    return f"{table.start}\n{body}\n"


def main() -> None:
    first = read(lines_of_the_rules())
    fitted = {name: read(lines_of(name)) for group in AUTHORS for name in group}
    for group in AUTHORS:
        table = fit(first.with_others(one for name, one in fitted.items() if name not in group))
        for name in group:
            _tell(name, fitted[name], table)
    table = fit(first.with_others(fitted.values()))
    for name in HELD_OUT:
        _tell(name, read(lines_of(name)), table)
    meant = meant_lines(meant_table(fitted))
    for name, text in (("weights", weight_lines(table)), ("meant", f"{meant}\n")):
        (DATA / f"{name}.txt").write_text(text, encoding="utf-8")
    print(f"wrote the tables in {DATA.name}: {np.count_nonzero(table.weights)} weights")


def _tell(author: str, notes: Notes, table: Table) -> None:
    for words, found in (("rules alone", notes.by_rule), ("with weights", raised(notes, table))):
        signs, harmless = found[notes.has_sign], found[~notes.has_sign]
        print(f"author {author}, {words}: raised {signs.sum()} of {len(signs)} signs, "
              f"{harmless.sum()} of {len(harmless)} harmless")  # fmt: skip


if __name__ == "__main__":
    main()
