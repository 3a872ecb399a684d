"""`blockwright replan`: the smallest good change when life happens."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

from blockwright.cli._several import TakesSeveral
from blockwright.cli.app import (
    BlockArgument,
    BlockOutput,
    CoachOfBlockOption,
    JsonFlag,
    PlainCheckinsOption,
    app,
    day,
    flag,
    option,
)
from blockwright.cli.output import save_document, show, warn


class TakesWhatIsGone(TakesSeveral):
    """A command whose `--without`, `--sore` and `--hurts` name as many as there are."""

    several = frozenset({"--without", "--sore", "--hurts"})


@app.command(
    cls=TakesWhatIsGone,
    epilog="Example: blockwright replan block.json --date 2027-01-06 --minutes 35 -o block-2.json",
)
def replan(
    block: BlockArgument,
    date: Annotated[datetime, day("The day it happens.", "D")],
    session: Annotated[int | None, option("Which session, when a day has two.", "S")] = None,
    minutes: Annotated[int | None, option("Only so many minutes.", "N")] = None,
    missed: Annotated[bool, flag("--missed", "The session does not happen.")] = False,
    without: Annotated[
        list[str] | None, option("A lift that cannot be done, or several.", "LIFT")
    ] = None,
    sore: Annotated[list[str] | None, option("A sore muscle, or several.", "MUSCLE")] = None,
    hurts: Annotated[list[str] | None, option("A lift that hurts, or several.", "LIFT")] = None,
    region: Annotated[str, option("Where it hurts: shoulder, lower back, ...", "PLACE")] = "",
    output: BlockOutput = None,
    facts: Annotated[
        Path | None, option("The log so far: what hurts gains no set.", "SETS")
    ] = None,
    checkins: PlainCheckinsOption = None,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """Changes one session and what is left of its week, as little as keeps most of it."""
    from blockwright.files.block_json import block_to_json
    from blockwright.verbs.block_words import replan_text
    from blockwright.verbs.replan_block import replan_block

    reading = replan_block(
        block,
        date.date(),
        session,
        facts=facts,
        checkins=checkins,
        minutes=minutes,
        missed=missed,
        without=without or (),
        sore=sore or (),
        hurts=hurts or (),
        region=region,
        coach=coach,
    )
    warn(reading.warnings)
    made = reading.value
    document = block_to_json(made)
    save_document(output, document)
    show(document, replan_text(made, date.date()), json)
