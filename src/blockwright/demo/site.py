"""The demo's people in a site: their files, taken as anybody's would be."""

from collections.abc import Iterator
from pathlib import Path

from blockwright.demo.cast import CAST
from blockwright.demo.folder import Folder
from blockwright.engine.errors import BadInput
from blockwright.verbs.take_files import TakeQuestion, take_files


def site_filled(root: Path, data: Path) -> Iterator[str]:
    """Takes everyone played in `root` into the site of `data`, a sentence for each. What is
    there from a demo before stays, and is not taken twice; where another version made it, that
    is said and the person stays as they were."""
    for person in CAST:
        question = TakeQuestion(files=files_to_take(Folder(root / person.key)), data=data)
        try:
            yield take_files(question).text
        except BadInput as error:
            yield f"{person.key.capitalize()} stays as the site has them: {error}"


def files_to_take(folder: Folder) -> list[Path]:
    """The lifter as they begin the next block, both logs, every block and every letter."""
    blocks = sorted((folder.root / "blocks").glob("*.json"))
    return [folder.next_lifter, folder.sets, folder.checkins, *blocks, *folder.all_proposals()]
