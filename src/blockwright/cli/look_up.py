"""What is looked up: `lifts`, `policy`, `rack`, `schema`; what is wrong in a file: `check`."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.engine.units import Unit
from .app import CoachOption, JsonFlag, app, flag, option
from .output import say, show, warn


@app.command(epilog="Example: blockwright check examples/lifter.toml examples/log.csv")
def check(
    files: Annotated[
        list[Path],
        typer.Argument(help="Lifter or policy TOML, sets or check-ins CSV, block or other JSON."),
    ],
    json: JsonFlag = False,
) -> None:
    """What is wrong in any input file, where, and the mend; all of it at once."""
    from blockwright.verbs.check_files import check_files, check_text, files_with_errors

    document = check_files(files)
    show(document, check_text(document), json)
    if wrong := ", ".join(files_with_errors(document)):
        say(check_text(document) if json else f"blockwright: not usable as it is: {wrong}")
        raise typer.Exit(2)


@app.command(epilog="Example: blockwright lifts --muscle chest --kit dumbbells --kit bench")
def lifts(
    muscle: Annotated[str, option("Only lifts that train this directly.")] = "",
    pattern: Annotated[str, option('Only this pattern, such as "row".')] = "",
    kit: Annotated[
        list[str] | None,
        option("Only lifts for which this kit is enough; give it once for each word."),
    ] = None,
    find: Annotated[str, option("Only names that contain this.")] = "",
    lifter: Annotated[
        Path | None, option("A lifter file: only what its gym has the kit for, own lifts included.")
    ] = None,
    json: JsonFlag = False,
) -> None:
    """The lifts: muscles, kit, standard and caution of each."""
    from blockwright.verbs.list_lifts import Narrowing, lifts_document, lifts_text

    document, warnings = lifts_document(
        Narrowing(muscle=muscle, pattern=pattern, kit=tuple(kit or ()), find=find, lifter=lifter)
    )
    warn(warnings)
    show(document, lifts_text(document), json)


@app.command(epilog="Example: blockwright policy --find ramp --json")
def policy(
    coach: Annotated[
        Path | None, flag("--coach", "A coach's policy file laid over the defaults.")
    ] = None,
    find: Annotated[str, option("Only keys and reasons that contain this.")] = "",
    json: JsonFlag = False,
) -> None:
    """Every number a coach may change: value, bounds, why, and the source."""
    from blockwright.verbs.list_lifts import policy_document, policy_text

    document = policy_document(coach, find)
    show(document, policy_text(document), json)


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

    question = RackQuestion(
        load=load, unit=unit, lifter_file=lifter, bar=bar, partner=partner, lift=lift, coach=coach
    )
    answer = rack_load(question)
    warn(answer.warnings)
    show(answer.document, answer.text, json)


@app.command(epilog="Example: blockwright schema block > block.schema.json")
def schema(
    name: Annotated[str, typer.Argument(help="lifts, policy, check, rack, block, sheet, ...")],
    _json: JsonFlag = False,
) -> None:
    """The JSON Schema of one kind of document; JSON with or without --json."""
    from blockwright.files.schemas import schema_of

    show(schema_of(name), "", as_json=True)
