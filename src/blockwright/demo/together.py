"""The whole cast: everyone played, then what they share, the pictures and the index."""

import json
import multiprocessing
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import Any

from blockwright.demo.cast import CAST, NEWCOMER, PARTNERS, ROOM
from blockwright.demo.folder import MARK, Folder, readme
from blockwright.demo.play import play
from blockwright.demo.site import made_site
from blockwright.demo.tell import filled, story
from blockwright.engine.errors import BadInput
from blockwright.engine.planning import QUICK
from blockwright.engine.training import Block
from blockwright.files.block_json import read_block
from blockwright.files.json_text import dumps
from blockwright.verbs.print_sheet import SheetQuestion, print_sheet

WORKERS = 2
SITE, PLAYED = "site", "played.json"
_SPAWN = multiprocessing.get_context("spawn")
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
        raise BadInput.of("is no folder", "name a new folder", file=str(root))
    index = root / "README.md"
    made_here = index.is_file() and index.read_text(encoding="utf-8").startswith(MARK)
    if root.exists() and any(root.iterdir()) and not made_here:
        raise BadInput.of(
            "holds files the demo has not made",
            "name a new or an empty folder with --dir",
            file=str(root),
        )
    (root / PLAYED).unlink(missing_ok=True)
    for name in (*(person.key for person in CAST), NEWCOMER, SITE):
        shutil.rmtree(root / name, ignore_errors=True)
    root.mkdir(parents=True, exist_ok=True)
    index.write_text(f"{MARK}\n\nThe demo is still running, or was stopped.\n", encoding="utf-8")


def played_by_all(root: Path, today: date) -> Iterator[Told]:
    """Everyone's story in the order of the cast, two at a time; progress goes to stderr."""
    # one thread each: two processes share the machine's cores, and sums keep their order
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    keys, count = [person.key for person in CAST], len(CAST)
    with ProcessPoolExecutor(max_workers=WORKERS, mp_context=_SPAWN) as pool:
        yield from pool.map(play_one, keys, [root] * count, [today] * count)


def play_one(key: str, root: Path, today: date) -> Told:
    """Plays one of the cast up to the day; runs in a process of its own."""
    person = next(person for person in CAST if person.key == key)
    played = play(person, root, tell=_progress, today=today, budget=QUICK)
    return Told(key, played.first.lifter.name, person.about, tuple(story(played)))


def _progress(text: str) -> None:
    sys.stderr.write(f"demo: {text}\n")
    sys.stderr.flush()


def finished(root: Path, told: Sequence[Told]) -> list[str]:
    """Sheets of partners who share a rack, pictures, and the index; paragraphs for the story."""
    paragraphs = [line for pair in PARTNERS for line in _shared_rack(root, *pair)]
    people = [(one.name, f"{one.name} {one.about}", files_of(root, one.key)) for one in told]
    (root / "README.md").write_text(readme(people, HEAD), encoding="utf-8")
    return paragraphs


def site_made(root: Path) -> Path:
    """The folder of a new site with everyone in it."""
    data = root / SITE
    shutil.rmtree(data, ignore_errors=True)
    with ProcessPoolExecutor(max_workers=1, mp_context=_SPAWN) as pool:
        pool.submit(made_site, root, data).result()
    return data


def note_played(root: Path, today: date, *, site: bool) -> None:
    """Writes down for which day all is there, and whether in a site: it is then only started."""
    (root / PLAYED).write_text(dumps(_played_for(today) | {"site": site}), encoding="utf-8")


def is_played(root: Path, today: date, *, site: bool) -> bool:
    """Whether this version has played for that day here, to the end; with `site`, into one."""
    try:
        found = json.loads((root / PLAYED).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    return found in [_played_for(today) | {"site": there} for there in {True, site}]


def _played_for(today: date) -> dict[str, str | bool]:
    return {"today": today.isoformat(), "version": version("blockwright")}


def trains(root: Path, today: date) -> list[tuple[str, str]]:
    """Who has a session on the day, with the time it begins at: the earliest first."""
    found = [
        (session.start_time, block.lifter.name)
        for block in (_block_in_hand(Folder(root / person.key)) for person in CAST)
        for week in block.weeks
        for session in week.sessions
        if session.day == today and session.entries
    ]
    return sorted(found)


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


def _block_in_hand(folder: Folder) -> Block:
    return read_block(folder.next_block) if folder.next_block.exists() else _last_block(folder)


def _common_days(one: Block, other: Block) -> list[date]:
    days = [{s.day for w in b.weeks for s in w.sessions if s.entries} for b in (one, other)]
    return [d for d in sorted(days[0] & days[1]) if _sessions_on(one, d) == 1]


def _sessions_on(block: Block, day: date) -> int:
    return sum(s.day == day for w in block.weeks for s in w.sessions)


def _shared_words(blocks: Sequence[Block], day: date, shared: Sequence[dict[str, Any]]) -> str:
    from blockwright.sheets.sheet_words import shared_bar_sentence

    entry = shared[0]
    said = shared_bar_sentence(entry["shared_bar"], blocks[0].lifter.units)
    return filled(
        f"{blocks[0].lifter.name} and {blocks[1].lifter.name} share the rack on {day:%A} "
        f"{day.day} {day:%B} for the {entry['lift']}. {said}."
    )
