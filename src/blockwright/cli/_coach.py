"""The option that lays a coach's policy file over the shipped values."""

from pathlib import Path
from typing import Annotated

import typer

CoachOption = Annotated[
    Path | None,
    typer.Option("--coach", metavar="FILE", help="A coach's policy file laid over the defaults."),
]
CoachOfBlockOption = Annotated[
    Path | None,
    typer.Option(
        "--coach",
        metavar="FILE",
        help="A coach's policy file, in place of the coach's values the block carries.",
    ),
]
