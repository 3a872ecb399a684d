"""`blockwright schema`: the JSON Schema of every document."""

from typing import Annotated

import typer

from blockwright.cli.app import JsonFlag, app
from blockwright.cli.output import show


@app.command(epilog="Example: blockwright schema block > block.schema.json")
def schema(
    name: Annotated[str, typer.Argument(help="lifts, policy, check, rack, block, sheet, ...")],
    _json: JsonFlag = False,
) -> None:
    """The JSON Schema of one kind of document; JSON with or without --json."""
    from blockwright.files.schemas import schema_of

    show(schema_of(name), "", as_json=True)
