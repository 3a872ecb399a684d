"""Two pictures for the README, made from what the demo left: a sheet and a strength plot."""

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from blockwright.demo.folder import Folder
from blockwright.files.block_json import read_block
from blockwright.files.case_files import read_log
from blockwright.verbs.print_sheet import SheetQuestion, print_sheet

SHOWN = "tamsin"
PANELS = 4
PIXELS_PER_INCH = 60


def write_pictures(root: Path) -> None:
    """`pictures/sheet.png` and `pictures/strength.svg` in the demo's folder."""
    folder = Folder(root / SHOWN)
    target = root / "pictures"
    target.mkdir(exist_ok=True)
    folder.write(target / "sheet.png", _sheet(folder))
    folder.write(target / "strength.svg", _strength(folder))


def _sheet(folder: Folder) -> bytes:
    """The shortest session of the second week, printed as it stood that day."""
    from blockwright.sheets.pdf import sheet_png

    block_file = folder.block(2) if folder.block(2).exists() else folder.block(1)
    week = read_block(block_file).weeks[1]
    session = min((s for s in week.sessions if s.entries), key=lambda s: (len(s.entries), s.day))
    document = print_sheet(
        SheetQuestion(
            block_file=block_file,
            week=week.week,
            session=session.session,
            facts_file=folder.sets,
            checkins_file=folder.checkins,
        )
    ).document
    return sheet_png(document, PIXELS_PER_INCH)


def _strength(folder: Folder) -> str:
    """The lifts with most sessions in the block, from a quarter before it on."""
    from blockwright.sheets.strength_picture import strength_picture
    from blockwright.verbs.estimate_strength import estimate_strength

    report: dict[str, Any] = json.loads((folder.root / "report.json").read_text(encoding="utf-8"))
    most = sorted(report["strength"], key=lambda lift: (-lift["sets_used"], lift["lift"]))
    names = {lift["lift"] for lift in most[:PANELS]}
    (case,) = (log := read_log(folder.sets, folder.lifter, None, folder.checkins)).cases
    since = date.fromisoformat(report["start"]) - timedelta(days=91)
    shown = [s for s in case.sets if s.lift in names and s.moment.day >= since]
    found = estimate_strength([replace(case, sets=tuple(shown))], log.unit)
    return strength_picture(found.histories, log.unit)
