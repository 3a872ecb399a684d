"""The door of the command line: runs a command and turns errors into words and exit codes.

0 done; 2 bad input (the message names place and mend); 1 our fault."""

import importlib
import os
import pkgutil
import sys
from collections.abc import Sequence
from contextlib import nullcontext
from errno import ENAMETOOLONG

from typer import Abort, Exit
from typer.exceptions import TyperException

from blockwright import cli
from blockwright.engine.errors import BlockwrightError, Clash
from blockwright.store.folder import database_trouble
from .app import app
from .output import progress, say, say_error

_NOT_COMMANDS = {"app", "main", "output"}


def load_commands() -> None:
    """Imports every command file; each registers itself on the app."""
    for module in sorted(pkgutil.iter_modules(cli.__path__), key=lambda found: found.name):
        if module.name not in _NOT_COMMANDS and not module.name.startswith("_"):
            importlib.import_module(f"{cli.__name__}.{module.name}")


def run(arguments: Sequence[str] | None = None) -> None:
    """Runs a command and ends the process; says what takes its time. Stdout may be closed."""
    given = sys.argv[1:] if arguments is None else arguments
    sys.stdout, sys.stderr = (one or open(os.devnull, "w") for one in (sys.stdout, sys.stderr))  # noqa: PTH123, SIM115
    with nullcontext() if {*given} & {"serve", "demo", "plan"} else progress(" ".join(given[:1])):
        code = exit_code(given)
    sys.exit(code)


def exit_code(arguments: Sequence[str]) -> int:
    """Runs one command; never lets an exception out."""
    load_commands()
    try:
        result = app(list(arguments), standalone_mode=False)
    except Exit as stop:
        return stop.exit_code
    except TyperException as error:
        say(
            _in_plain_words(error.format_message())
            + "\nSee `blockwright --help` or `blockwright COMMAND --help`."
        )
        return 2
    except Clash as error:
        return _clash(error, "--json" in arguments)
    except BlockwrightError as error:
        say_error(error)
        return 2
    except BrokenPipeError:
        # The reader of a pipe went away (`| head`): nobody is left to tell.
        sys.stdout = open(os.devnull, "w")  # noqa: PTH123, SIM115
        return 0
    except (KeyboardInterrupt, Abort):
        say("stopped")
        return 130
    except Exception as error:
        if os.environ.get("BLOCKWRIGHT_DEBUG"):
            raise
        if (trouble := database_trouble(error)) is not None:
            say(f"blockwright: {trouble[0]}; {trouble[1]}")
            return 2
        if isinstance(error, OSError) and error.errno == ENAMETOOLONG:
            say(f"blockwright: {error.filename}: the name is too long; give a shorter one")
            return 2
        say(f"blockwright: our fault, not yours: {type(error).__name__}: {error}")
        say("Set BLOCKWRIGHT_DEBUG=1 and run it again to see where; nothing was changed.")
        return 1
    return result if isinstance(result, int) else 0


def _in_plain_words(message: str) -> str:
    """What the argument parser says of a value, in words that name the mend."""
    for theirs, ours in (
        ("Value error, ", ""),
        (
            "does not match the formats '%Y-%m-%d'.",
            "is not a date; write year-month-day: 2027-01-31",
        ),
        ("embedded null byte", "no file can have such a name; check it"),
        (
            "Input should be a valid integer, unable to parse string as an integer",
            "write a whole number",
        ),
    ):
        message = message.replace(theirs, ours)
    return message


def _clash(error: Clash, as_json: bool) -> int:
    say(f"blockwright: {error}")
    if as_json:
        from blockwright.files.answer_documents import clash_to_json
        from blockwright.files.json_text import dumps

        sys.stdout.write(dumps(clash_to_json(error)))
    return 2


if __name__ == "__main__":
    run()
