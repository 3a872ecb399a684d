"""What a played person leaves on the disk, and under which names."""

import re
from datetime import date, timedelta
from importlib import resources
from pathlib import Path

from blockwright.engine.training import Block, Lifter
from blockwright.files.block_json import block_to_json
from blockwright.files.facts_csv import checkins_csv, sets_csv
from blockwright.files.json_text import dumps
from blockwright.files.lifter_file import read_lifter
from .training import DayLog, numbered


class Folder:
    def __init__(self, root: Path) -> None:
        self.root = root
        self.lifter, self.next_lifter = root / "lifter.toml", root / "lifter-next.toml"
        self.sets, self.checkins = root / "sets.csv", root / "checkins.csv"
        self.next_block = root / "blocks" / "next-block.json"
        for name in ("blocks", "sheets", "reviews"):
            (root / name).mkdir(parents=True, exist_ok=True)

    def block(self, revision: int) -> Path:
        return self.root / "blocks" / f"block-{revision:02d}.json"

    def sheets(self, week: int) -> Path:
        return self.root / "sheets" / f"week-{week}.pdf"

    def proposals(self, week: int) -> Path:
        """What was proposed for the week after `week`."""
        return self.root / "reviews" / f"after-week-{week}.json"

    def letter(self, week: int) -> Path:
        return self.root / "reviews" / f"after-week-{week}.txt"

    def all_proposals(self) -> list[Path]:
        return sorted((self.root / "reviews").glob("*.json"))

    def write(self, path: Path, content: str | bytes) -> None:
        """Writes a file, UTF-8 with plain newlines."""
        path.write_bytes(content.encode() if isinstance(content, str) else content)

    def write_block(self, path: Path, block: Block) -> None:
        self.write(path, dumps(block_to_json(block)))

    def write_facts(self, typed: DayLog) -> None:
        self.write(self.sets, sets_csv(numbered(typed.sets)))
        self.write(self.checkins, checkins_csv(typed.checkins))


def copy_lifter(
    key: str, folder: Folder, weeks: int | None = None, start: date | None = None
) -> Lifter:
    """The person's lifter file into their folder: fewer build weeks for a short play, another
    first Monday for one that is to end today."""
    text = lifter_text(key)
    for name, value in (("weeks", weeks), ("start", start)):
        if value is not None:
            text = re.sub(rf"^{name} = .*$", f"{name} = {value}", text, count=1, flags=re.MULTILINE)
    folder.write(folder.lifter, text)
    return read_lifter(folder.lifter).value


def write_next_lifter(folder: Folder, lifter: Lifter, start: date) -> None:
    """The lifter file with the next block's first Monday; nothing else has changed."""
    text = folder.lifter.read_text(encoding="utf-8")
    folder.write(folder.next_lifter, text.replace(f"start = {lifter.start}", f"start = {start}"))


def lifter_text(key: str) -> str:
    file = resources.files("blockwright.demo") / "people" / f"{key}.toml"
    return file.read_text(encoding="utf-8")


def monday(block: Block, week: int) -> date:
    return block.start + timedelta(days=7 * (week - 1))
