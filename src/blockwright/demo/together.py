"""The whole cast: everyone played, the index of their files, the site with them in it."""

import json
import multiprocessing
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from datetime import date
from importlib.metadata import version
from pathlib import Path

from blockwright.engine.errors import BadInput
from blockwright.engine.planning import QUICK
from blockwright.engine.training import Block
from blockwright.files.block_json import read_block
from blockwright.files.json_text import dumps
from .cast import CAST, NEWCOMER, ROOM
from .folder import Folder
from .play import play
from .site import made_site

WORKERS = 2
SITE, PLAYED = "site", "played.json"
_SPAWN = multiprocessing.get_context("spawn")
MARK = "# What is here"
"""The first line of the index: a folder whose README begins so was made by the demo."""
HEAD = f"""{MARK}

Made by `blockwright demo`: one block in {ROOM}, played by simulated lifters. The room and everyone
in it are invented. Sets were done under a law the engine does not know, with mistyped rows left in.

In the folder of each: the lifter file, every set and check-in up to the last day, `blocks` with
each revision, `sheets` of some weeks, `reviews` as letters and as data; once the block is over also
its report, workbook and calendar, and the next block.

"""


def prepared(root: Path) -> None:
    """An empty folder for the demo; one it made before is emptied. BadInput for any other."""
    if root.exists() and not root.is_dir():
        raise BadInput.of("is no folder", "name a new folder", file=str(root))
    index = root / "README.md"
    made_here = index.is_file() and index.read_text(encoding="utf-8").startswith(MARK)
    if root.exists() and any(root.iterdir()) and not made_here:
        mend = "name a new or an empty folder with --dir"
        raise BadInput.of("holds files the demo has not made", mend, file=str(root))
    (root / PLAYED).unlink(missing_ok=True)
    for name in (*(person.key for person in CAST), NEWCOMER, SITE):
        shutil.rmtree(root / name, ignore_errors=True)
    root.mkdir(parents=True, exist_ok=True)
    index.write_text(f"{MARK}\n\nThe demo is still running, or was stopped.\n", encoding="utf-8")


def played_by_all(root: Path, today: date) -> Iterator[str]:
    """Everyone played, two at a time; their names in the order of the cast. Progress goes to
    stderr."""
    # one thread each: two processes share the machine's cores, and sums keep their order
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    keys, count = [person.key for person in CAST], len(CAST)
    with ProcessPoolExecutor(max_workers=WORKERS, mp_context=_SPAWN) as pool:
        yield from pool.map(play_one, keys, [root] * count, [today] * count)


def play_one(key: str, root: Path, today: date) -> str:
    """Plays one of the cast up to the day; runs in a process of its own."""
    person = next(person for person in CAST if person.key == key)
    return play(person, root, tell=_progress, today=today, budget=QUICK).last.lifter.name


def _progress(text: str) -> None:
    sys.stderr.write(f"demo: {text}\n")
    sys.stderr.flush()


def write_index(root: Path, names: Sequence[str]) -> list[tuple[str, str, list[str]]]:
    """Writes what is where; of each person the name, who they are and their files."""
    people, text = [], HEAD
    for name, person in zip(names, CAST, strict=True):
        about = f"{name} {person.about}"
        people.append((name, about, files_of(root, person.key)))
        text += f"- [{person.key}]({person.key}): {about}.\n"
    (root / "README.md").write_text(text, encoding="utf-8")
    return people


def site_made(root: Path) -> Path:
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
    return sorted(
        path.relative_to(root).as_posix() for path in (root / key).rglob("*") if path.is_file()
    )


def _block_in_hand(folder: Folder) -> Block:
    if folder.next_block.exists():
        return read_block(folder.next_block)
    return read_block(max((folder.root / "blocks").glob("block-*.json")))
