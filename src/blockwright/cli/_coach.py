"""Options that several commands share: a coach's policy file, the check-ins."""

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
