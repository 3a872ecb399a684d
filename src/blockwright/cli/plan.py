"""`blockwright plan`: composes a block."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from blockwright.cli.app import (
    BlockOutput,
    CoachOption,
    JsonFlag,
    PaperOption,
    PlainCheckinsOption,
    app,
    flag,
    option,
)
from blockwright.cli.output import progress, save, save_document, say, show, warn


@app.command(epilog="Example: blockwright plan ana.toml --facts ana-sets.csv -o block.json")
def plan(
    lifter: Annotated[Path, typer.Argument(metavar="LIFTER", help="The lifter file (TOML).")],
    facts: Annotated[Path | None, option("Sets done so far (CSV), for the loads.", "SETS")] = None,
    checkins: PlainCheckinsOption = None,
    previous: Annotated[
        Path | None, option("The block before: its lifts come back.", "BLOCK")
    ] = None,
    frame: Annotated[
        Path | None, option("Keep this block's patterns, days and heavy lifts.", "BLOCK")
    ] = None,
    output: BlockOutput = None,
    pdf: Annotated[Path | None, option("Write the first week's sheets as PDF.", "FILE")] = None,
    paper: PaperOption = "a4",
    search: Annotated[
        Literal["quick", "usual", "long"],
        option("How long to look for a better week; the same answer every time."),
    ] = "usual",
    solver: Annotated[bool, flag("--solver", "Say what the search came to, tier by tier.")] = False,
    coach: CoachOption = None,
    json: JsonFlag = False,
) -> None:
    """Composes a block: lifts, days, sets, effort and loads of every week, and the deload."""
    from blockwright.files.block_json import block_to_json
    from blockwright.verbs.block_words import block_text, solver_text
    from blockwright.verbs.compose_block import budget_called, plan_block

    with progress("plan"):
        reading = plan_block(
            lifter,
            facts,
            checkins,
            previous=previous,
            frame=frame,
            coach=coach,
            budget=budget_called(search),
            tell=say,
        )
    warn(reading.warnings)
    document = block_to_json(reading.value)
    save_document(output, document)
    if pdf is not None:
        from blockwright.files.case_files import case_of_block, with_facts
        from blockwright.verbs.print_sheet import first_week_pdf

        known = with_facts(case_of_block(reading.value), facts, checkins).value
        save(pdf, first_week_pdf(known, paper))
    text = block_text(reading.value)
    show(document, f"{text}\n\n{solver_text(reading.value)}" if solver else text, json)
