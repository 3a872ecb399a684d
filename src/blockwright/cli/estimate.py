"""`blockwright estimate` and `backtest`: strength per lift, and how good the estimate has been."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import CheckinsOption, CoachOption, JsonFlag, app, day, option
from blockwright.cli.output import progress, show, warn


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


@app.command(epilog="Example: blockwright backtest sets.csv --lifter ana.toml --json")
def backtest(
    sets: Annotated[Path, typer.Argument(metavar="SETS", help="The log of sets (CSV).")],
    lifter: Annotated[
        Path | None, option("Lifter file: bodyweight, own lifts, policy.", "LIFTER")
    ] = None,
    checkins: CheckinsOption = None,
    coach: CoachOption = None,
    json: JsonFlag = False,
) -> None:
    """How good the estimate has been on this log, beside simple rules."""
    from blockwright.files.case_files import read_log
    from blockwright.verbs.estimate_strength import backtest_log

    log = read_log(sets, lifter, coach, checkins)
    with progress("Predicting each set from the sets before it"):
        answer = backtest_log(log.cases)
    warn(log.warnings)
    show(answer.document, answer.text, json)
