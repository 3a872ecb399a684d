"""`blockwright review`: reads the week, proposes the next."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import (
    BlockArgument,
    CoachOfBlockOption,
    JsonFlag,
    PlainCheckinsOption,
    app,
    day,
    flag,
    option,
)
from blockwright.cli.output import save_document, show, warn


@app.command(
    epilog="Example: blockwright review block.json --facts log.csv --checkins checkins.csv "
    "--through 2027-01-17 -o proposals.json"
)
def review(
    block: BlockArgument,
    facts: Annotated[Path, option("Sets done so far (CSV).", "SETS")],
    through: Annotated[
        datetime, day("The last day to look at; the week after it is proposed for.")
    ],
    checkins: PlainCheckinsOption = None,
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", metavar="PROPOSALS", help="Where to write them (JSON)."),
    ] = None,
    full: Annotated[
        bool, flag("--full", "Print figures, sources, runners-up and the message too.")
    ] = False,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """A letter of one screen about the week: what changes, what to settle, what stays."""
    from blockwright.engine.review import review as reviewed
    from blockwright.files.case_files import read_case
    from blockwright.sheets.letter import letter_of
    from blockwright.sheets.letter_text import letter_text
    from blockwright.verbs.letter_document import letter_document

    reading = read_case(block, facts, checkins, coach)
    found = reviewed(reading.value, through.date())
    warn(reading.warnings)
    document = letter_document(found)
    save_document(output, document)
    show(document, letter_text(letter_of(document), full=full), json)
