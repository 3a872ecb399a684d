"""`blockwright schema`: the JSON Schema of every document."""

from typing import Annotated

import typer

from blockwright.cli.app import app
from blockwright.cli.output import show


@app.command(epilog="Example: blockwright schema block > block.schema.json")
def schema(
    name: Annotated[str, typer.Argument(help="lifts, policy, check, rack, block, sheet, ...")],
    json: Annotated[bool, typer.Option("--json", help="The same; a schema is JSON.")] = True,
) -> None:
    """The JSON Schema of one kind of document."""
    from blockwright.files.schemas import schema_of

    show(schema_of(name), "", json or True)
