"""Arguments and options that several commands share."""

from enum import StrEnum
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
CheckinsOption = Annotated[
    Path | None,
    typer.Option("--checkins", metavar="CHECKINS", help="Check-ins so far (CSV): weigh-ins count."),
]
PlainCheckinsOption = Annotated[
    Path | None,
    typer.Option("--checkins", metavar="CHECKINS", help="Check-ins so far (CSV)."),
]
BlockArgument = Annotated[
    Path, typer.Argument(metavar="BLOCK", help="A block file, from plan or a change of it (JSON).")
]
DataOption = Annotated[
    Path | None, typer.Option(metavar="DIR", help="Data folder; else the user's own.")
]
BlockOutput = Annotated[
    Path | None, typer.Option("-o", "--output", metavar="BLOCK", help="Where to write it.")
]


class PaperChoice(StrEnum):
    """`pocket` is A4 with two sheets side by side, to fold."""

    A4 = "a4"
    LETTER = "letter"
    POCKET = "pocket"


PaperOption = Annotated[PaperChoice, typer.Option(help="Paper of the PDF.")]
