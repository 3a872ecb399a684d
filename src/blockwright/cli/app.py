"""The command-line application every command registers itself on."""

from typing import Annotated

import typer

app = typer.Typer(
    name="blockwright",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plans training blocks, writes today's sheet, reads the log and proposes the next week. "
    "The usual order: check, plan, sheet, review, revise.",
)

JsonFlag = Annotated[
    bool, typer.Option("--json", help="One JSON document on stdout; messages go to stderr.")
]


def print_version(wanted: bool) -> None:
    """Prints the version and stops, when asked to."""
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
