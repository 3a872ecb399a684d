"""The whole cast: everyone played, then what they share, the pictures and the index."""

import multiprocessing
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.demo.cast import CAST, PARTNERS, ROOM
from blockwright.demo.folder import MARK, Folder, readme
from blockwright.demo.pictures import write_pictures
from blockwright.demo.play import play
from blockwright.demo.tell import filled, story
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Block
from blockwright.files.block_json import read_block
from blockwright.verbs.print_sheet import SheetQuestion, print_sheet

WORKERS = 2
HEAD = (
    f"Made by `blockwright demo`: one block in {ROOM}, played by simulated lifters. The room and "
    "everyone in it are invented. Sets were done under a law the engine does not know, with "
    "mistyped rows left in."
)


@dataclass(frozen=True, slots=True)
class Told:
    """One person's story and where their files are."""

    key: str
    name: str
    about: str
    paragraphs: tuple[str, ...]


def prepared(root: Path) -> None:
    """An empty folder for the demo; one it made before is emptied. BadInput for any other."""
    if root.exists() and not root.is_dir():
        raise BadInput(Problem(file=str(root), says="is no folder", mend="name a new folder"))
    index = root / "README.md"
    made_here = index.is_file() and index.read_text(encoding="utf-8").startswith(MARK)
    if root.exists() and any(root.iterdir()) and not made_here:
        raise BadInput(
            Problem(
                file=str(root),
                says="holds files the demo has not made",
                mend="name a new or an empty folder with --dir",
            )
        )
    for name in (*(person.key for person in CAST), "pictures"):
        shutil.rmtree(root / name, ignore_errors=True)
    root.mkdir(parents=True, exist_ok=True)
    index.write_text(f"{MARK}\n\nThe demo is still running, or was stopped.\n", encoding="utf-8")


def played_by_all(root: Path) -> Iterator[Told]:
    """Everyone's story in the order of the cast, two at a time; progress goes to stderr."""
    # one thread each: two processes share the machine's cores, and sums keep their order
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    spawn = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(max_workers=WORKERS, mp_context=spawn) as pool:
        yield from pool.map(play_one, [person.key for person in CAST], [root] * len(CAST))


def play_one(key: str, root: Path) -> Told:
    """Plays one of the cast in full; runs in a process of its own."""
    person = next(person for person in CAST if person.key == key)
    played = play(person, root, tell=_progress)
    return Told(key, played.first.lifter.name, person.about, tuple(story(played)))


def _progress(text: str) -> None:
    sys.stderr.write(f"demo: {text}\n")
    sys.stderr.flush()


def finished(root: Path, told: Sequence[Told]) -> list[str]:
    """Sheets of partners who share a rack, pictures, and the index; paragraphs for the story."""
    paragraphs = [line for pair in PARTNERS for line in _shared_rack(root, *pair)]
    write_pictures(root)
    people = [(one.name, f"{one.name} {one.about}", files_of(root, one.key)) for one in told]
    people.append(
        ("Pictures", "A sheet and a strength plot for a page", files_of(root, "pictures"))
    )
    (root / "README.md").write_text(readme(people, HEAD), encoding="utf-8")
    return paragraphs


def files_of(root: Path, key: str) -> list[str]:
    """Everything in a person's folder, as paths below `root`."""
    return sorted(
        path.relative_to(root).as_posix() for path in (root / key).rglob("*") if path.is_file()
    )


def _shared_rack(root: Path, one: str, other: str) -> list[str]:
    """The first session both do on one day with a bar to share, on paper for the first of them."""
    from blockwright.sheets.pdf import sheets_pdf

    folders = Folder(root / one), Folder(root / other)
    blocks = tuple(_last_block(folder) for folder in folders)
    for day in _common_days(*blocks):
        document = print_sheet(
            SheetQuestion(
                block_file=folders[0].block(blocks[0].revision),
                day=day,
                facts_file=folders[0].sets,
                checkins_file=folders[0].checkins,
                partner_file=folders[1].block(blocks[1].revision),
            )
        ).document
        shared = [entry for entry in document["entries"] if entry["shared_bar"]]
        if shared:
            path = folders[0].root / "sheets" / f"with-{other}-{day}.pdf"
            folders[0].write(path, sheets_pdf([document]))
            return [_shared_words(blocks, day, shared)]
    return []


def _last_block(folder: Folder) -> Block:
    return read_block(sorted((folder.root / "blocks").glob("block-*.json"))[-1])


def _common_days(one: Block, other: Block) -> list[date]:
    days = [{s.day for w in b.weeks for s in w.sessions if s.entries} for b in (one, other)]
    return [d for d in sorted(days[0] & days[1]) if _sessions_on(one, d) == 1]


def _sessions_on(block: Block, day: date) -> int:
    return sum(s.day == day for w in block.weeks for s in w.sessions)


def _shared_words(blocks: Sequence[Block], day: date, shared: Sequence[dict[str, Any]]) -> str:
    from blockwright.sheets.phrases import shared_bar_sentence

    entry = shared[0]
    said = shared_bar_sentence(entry["shared_bar"], blocks[0].lifter.units)
    return filled(
        f"{blocks[0].lifter.name} and {blocks[1].lifter.name} share the rack on {day:%A} "
        f"{day.day} {day:%B} for the {entry['lift']}. {said}."
    )
