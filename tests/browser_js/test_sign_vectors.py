"""The phone finds the same warning signs as the engine, in every invented note and in odd ones."""

import json
import runpy
from pathlib import Path
from random import Random

from run_node import HERE, node

from blockwright.engine.signs import QUESTIONS
from blockwright.files.signs.grammar import signs_found

ROOT = Path(__file__).resolve().parents[2]
NOTES = ROOT / "tests/files/signs"


def notes() -> list[str]:
    found = []
    for name, start in (("signs", " | "), ("harmless", ""), ("more", " ")):
        for line in (NOTES / f"invented_{name}.txt").read_text(encoding="utf-8").splitlines():
            if line and not line.startswith("#"):
                found.append(line.split(start, 1)[1] if start else line)
    for author in ("a", "b", "c", "d", "e", "f", "g", "h", "i", "j", "q", "held_out_w"):
        for line in (NOTES / f"notes_{author}.tsv").read_text(encoding="utf-8").splitlines()[1::4]:
            found.append(line.split("\t", 1)[1])
    return found


def odd_ones(known: list[str]) -> list[str]:
    """Halves of notes joined, letters exchanged, marks strewn in."""
    chance = Random(20270104)
    made = ["", " ", "?!?", "\u00e9\ud83d\ude00 chest", "no " * 400 + "dizzy", "chest-pain 2.5/10"]
    made += ["asked about palpitations: yes", "asked about chest pain and i said yes"]
    made += ["left shoulder a bit of a pinch on the way down", "hip a bit sore then it popped"]
    made += ["knee aches going down", "back pain 3, going down my leg", "elbow hurts coming up"]
    for _ in range(400):
        one, other = chance.choice(known).split(), chance.choice(known).split()
        words = [*one[: len(one) // 2 + 1], chance.choice([",", "but", "no", "or", ""]), *other]
        text = " ".join(words)
        at = chance.randrange(len(text))
        made.append(text[:at] + text[at + 1 : at + 2] + text[at : at + 1] + text[at + 2 :])
    return made


def test_phone_and_engine_agree() -> None:
    asked = notes()
    asked += odd_ones(asked)
    ran = node(str(HERE / "answer_signs.mjs"), said=json.dumps(asked))
    assert ran.returncode == 0, ran.stderr
    wanted = [
        [
            {"sign": s.sign, "sure": s.sure, "asks": None if s.sure else QUESTIONS[s.sign]}
            for s in signs_found(note)
        ]
        for note in asked
    ]
    wrong = [
        (note, phone, engine)
        for note, phone, engine in zip(asked, json.loads(ran.stdout), wanted, strict=True)
        if phone != engine
    ]
    assert not wrong, wrong[:5]
    assert sum(bool(one) for one in wanted) > 400


def test_the_phones_tables_are_the_engines() -> None:
    made = runpy.run_path(str(ROOT / "tools/write_sign_words.py"))
    assert made["FILE"].read_text(encoding="utf-8") == made["script"]()
