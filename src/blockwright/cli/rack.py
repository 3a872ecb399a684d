"""`blockwright rack`: plates per side, nearest loads, warm-up, a partner's changes."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import CoachOption, JsonFlag, app, option
from blockwright.cli.output import show, warn
from blockwright.engine.units import Unit


@app.command(
    epilog="Example: blockwright rack 82.5 --lifter ana.toml --partner 60",
    # So that "-5" is read as a load and refused as one.
    context_settings={"ignore_unknown_options": True},
)
def rack(
    load: Annotated[str, typer.Argument(metavar="LOAD", help="The working load, bar included.")],
    unit: Annotated[Unit | None, option("Unit of LOAD; else the lifter's, else kg.")] = None,
    lifter: Annotated[Path | None, option("Lifter file: whose bars and plates.", "LIFTER")] = None,
    bar: Annotated[str | None, option("Which bar, by its name or kit word.", "NAME")] = None,
    partner: Annotated[str | None, option("The load of a partner on the same bar.", "LOAD")] = None,
    lift: Annotated[str | None, option("A lift, for its dumbbells or its stack.", "NAME")] = None,
    coach: CoachOption = None,
    json: JsonFlag = False,
) -> None:
    """Plates per side for a load, the nearest loads, a warm-up, and a partner's changes."""
    from blockwright.verbs.rack_load import RackQuestion, rack_load

    answer = rack_load(
        RackQuestion(
            load=load,
            unit=unit,
            lifter_file=lifter,
            bar=bar,
            partner=partner,
            lift=lift,
            coach=coach,
        )
    )
    warn(answer.warnings)
    show(answer.document, answer.text, json)
