"""The command-line application every command registers itself on, and options several share."""

from pathlib import Path
from typing import Annotated, Any, Literal

import typer
from typer.core import TyperGroup


class ByName(TyperGroup):
    """Commands in the order of their names, whatever file they stand in."""

    def list_commands(self, ctx: Any) -> list[str]:
        return sorted(super().list_commands(ctx))


app = typer.Typer(
    name="blockwright",
    cls=ByName,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plans training blocks, writes today's sheet, reads the log and proposes the next week. "
    "The usual order: check, plan, sheet, review, revise.",
)


def option(says: str, metavar: str | None = None) -> Any:
    return typer.Option(metavar=metavar, help=says)


def flag(name: str, says: str) -> Any:
    return typer.Option(name, help=says)


def day(says: str, metavar: str | None = None) -> Any:
    return typer.Option(formats=["%Y-%m-%d"], metavar=metavar, help=says)


JsonFlag = Annotated[bool, flag("--json", "One JSON document on stdout; messages go to stderr.")]


def print_version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(f"blockwright {version('blockwright')}")
        raise typer.Exit


@app.callback()
def blockwright(
    _version: Annotated[
        bool,
        typer.Option("--version", callback=print_version, is_eager=True, help="Show the version."),
    ] = False,
) -> None:
    """The options before a command."""


CoachOption = Annotated[
    Path | None, option("A coach's policy file laid over the defaults.", "FILE")
]
CoachOfBlockOption = Annotated[
    Path | None,
    option("A coach's policy file, in place of the coach's values the block carries.", "FILE"),
]
CheckinsOption = Annotated[
    Path | None, option("Check-ins so far (CSV): weigh-ins count.", "CHECKINS")
]
PlainCheckinsOption = Annotated[Path | None, option("Check-ins so far (CSV).", "CHECKINS")]
BlockArgument = Annotated[
    Path, typer.Argument(metavar="BLOCK", help="A block file, from plan or a change of it (JSON).")
]
DataOption = Annotated[Path | None, option("Data folder; else the user's own.", "DIR")]
BlockOutput = Annotated[
    Path | None, typer.Option("-o", "--output", metavar="BLOCK", help="Where to write it.")
]


Paper = Literal["a4", "letter", "pocket"]  # `pocket` is A4 with two sheets side by side, to fold
PaperOption = Annotated[Paper, typer.Option(help="Paper of the PDF.")]
