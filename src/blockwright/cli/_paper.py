"""The papers a command may print on."""

from enum import StrEnum
from typing import Annotated

import typer


class PaperChoice(StrEnum):
    """`pocket` is A4 with two sheets side by side, to fold."""

    A4 = "a4"
    LETTER = "letter"
    POCKET = "pocket"


PaperOption = Annotated[PaperChoice, typer.Option(help="Paper of the PDF.")]
