"""`blockwright backtest`: each set predicted from the sets before it only."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import CheckinsOption, CoachOption, JsonFlag, app, option
from blockwright.cli.output import progress, show, warn


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
