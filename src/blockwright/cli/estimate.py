"""`blockwright estimate`: strength per lift, with its uncertainty."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import CheckinsOption, CoachOption, JsonFlag, app, day, option
from blockwright.cli.output import show, warn


@app.command(epilog="Example: blockwright estimate sets.csv --lifter ana.toml --through 2027-02-14")
def estimate(
    sets: Annotated[Path, typer.Argument(metavar="SETS", help="The log of sets (CSV).")],
    lifter: Annotated[
        Path | None, option("Lifter file: bodyweight, own lifts, policy, units.", "LIFTER")
    ] = None,
    through: Annotated[datetime | None, day("Leave out what came later.", "DATE")] = None,
    checkins: CheckinsOption = None,
    coach: CoachOption = None,
    json: JsonFlag = False,
) -> None:
    """How strong on each lift, how sure, where it is heading, and whether it is falling."""
    from blockwright.files.case_files import read_log
    from blockwright.verbs.estimate_strength import estimate_strength

    log = read_log(sets, lifter, coach, checkins)
    answer = estimate_strength(log.cases, log.unit, through.date() if through else None)
    warn(log.warnings)
    show(answer.document, answer.text, json)
