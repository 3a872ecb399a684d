"""`blockwright review`: reads the week, proposes the next."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli._coach import CoachOfBlockOption
from blockwright.cli.app import JsonFlag, app
from blockwright.cli.output import save, show, warn


@app.command(
    epilog="Example: blockwright review block.json --facts log.csv --checkins checkins.csv "
    "--through 2027-01-17 -o proposals.json"
)
def review(
    block: Annotated[Path, typer.Argument(metavar="BLOCK", help="A block file from plan.")],
    facts: Annotated[Path, typer.Option(metavar="SETS", help="Sets done so far (CSV).")],
    through: Annotated[
        datetime,
        typer.Option(
            formats=["%Y-%m-%d"], help="The last day to look at; the week after it is proposed for."
        ),
    ],
    checkins: Annotated[
        Path | None, typer.Option(metavar="CHECKINS", help="Check-ins so far (CSV).")
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", metavar="PROPOSALS", help="Where to write them (JSON)."),
    ] = None,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """A letter about the week: what happened, what we propose for the next, why, how sure."""
    from blockwright.engine.review import review as reviewed
    from blockwright.files.case_files import read_case
    from blockwright.files.json_text import dumps
    from blockwright.files.proposals_json import proposals_to_json
    from blockwright.verbs.review_text import review_text

    reading = read_case(block, facts, checkins, coach)
    found = reviewed(reading.value, through.date())
    warn(reading.warnings)
    document = proposals_to_json(found)
    if output is not None:
        save(output, dumps(document))
    show(document, review_text(document), json)
