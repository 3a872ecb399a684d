"""Writes the pages of docs/ that the program itself knows best. `make docs` runs it.

Pages: commands.md (from --help), lifter_file.md (from the table its reader checks by), policy.md,
reasons.md (every code and its sentence), api.md (from the OpenAPI document). A house test fails
when a page lags behind.
"""

import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import typer.main

from blockwright.cli.app import app
from blockwright.cli.main import load_commands
from blockwright.engine.training import Allow
from blockwright.files.lifter_fields import PARTS, Field
from blockwright.files.policy_files import default_policy
from blockwright.files.words import sentences

DOCS = Path(__file__).resolve().parent.parent / "docs"
MADE = "Written by `make docs`; change the program, not this page.\n"


FILES = """What stands in the files: [the lifter file](lifter_file.md), [the sets file and the
check-ins file](log_files.md), [other people's spreadsheets](import.md).
"""


def commands_page() -> str:
    """Every command's help, as the program prints it."""
    load_commands()
    group = typer.main.get_command(app)
    parts = ["# Commands\n", MADE, FILES]
    for name in sorted(group.commands):  # type: ignore[attr-defined]
        command = group.commands[name]  # type: ignore[attr-defined]
        context = typer.Context(command, info_name=f"blockwright {name}", terminal_width=96)
        context.max_content_width = 96
        parts += [f"## {name}\n", "```text", command.get_help(context).rstrip(), "```\n"]
    return "\n".join(parts)


def policy_page() -> str:
    """Every adjustable value with its bounds, reason and source."""
    parts = [
        "# Policy\n",
        MADE,
        "A coach's file may hold any of these keys (`review.load.lower_gain = 0.1`), a lifter's",
        "file too, under `[policy]`. A caution's threshold may be made stricter, never looser.\n",
    ]
    area = ""
    for value in sorted(default_policy().values.values(), key=lambda value: value.key):
        head = value.key.split(".")[0]
        if head != area:
            area = head
            parts += [
                f"\n## {area}\n",
                "| key | value | may be | why | source |",
                "|---|---|---|---|---|",
            ]
        bounds = (
            f"{value.low:g} to {value.high:g}"
            if value.low is not None and value.high is not None
            else ", ".join(value.choices) or "true, false"
        )
        if value.stricter:
            bounds += f"; {value.stricter} only"
        shown = str(value.value).lower() if isinstance(value.value, bool) else value.value
        parts.append(
            f"| `{value.key}` | {shown} {value.unit} | {bounds} | {_cell(value.why)} "
            f"| {_cell(value.source)} |"
        )
    return "\n".join(parts) + "\n"


def lifter_file_page() -> str:
    """Every field of a lifter file, from the table that its reader and the form go by."""
    parts = [
        "# The lifter file\n",
        MADE,
        "TOML; `slot.day` stands in a `[[slot]]`, of which there may be several, `deload.style` in",
        "`[deload]`. `[gym]` is shown in `examples/lifter.toml`, `[[lift]]` in [lifts](lifts.md),",
        "`[policy]` in [policy](policy.md). `blockwright check` says what is wrong with a file.",
    ]
    for title, names in _TITLES.items():
        parts += [f"\n## {title}\n", "| key | what | may be | usual |", "|---|---|---|---|"]
        parts += [_field_row(each) for name in names for each in PARTS[name]]
    return "\n".join(parts) + "\n"


_TITLES = {
    "The lifter": ("person",), "The block": ("block",), "Emphasis": ("emphasis",),
    "Allowed": ("allow",), "Wishes and limits": ("wishes",),
    "What they do now": ("now", "habits"), "Screening": ("screening", "clearance"),
}  # fmt: skip
_KINDS = {"day": "a date", "time": "hours:minutes", "answer": "true, false",
          "switch": "true, false", "checks": "a list", "lines": "a list of text"}  # fmt: skip


def _field_row(each: Field) -> str:
    may_be = _KINDS.get(each.kind, f"a {each.kind}" if each.kind == "number" else each.kind)
    if each.choices and each.kind != "answer":
        listed = ", ".join(f"`{word}`" for word in each.words)
        may_be = listed if each.kind == "choice" else f"{may_be} of {listed}"
    if each.low is not None and each.high is not None:
        may_be = f"{each.low:g} to {each.high:g} {each.unit}".strip()
    what = f"{each.label}. {each.hint}" if each.hint else each.label
    usual = each.usual or ("needed" if each.need else "")
    part, _, name = each.key.partition(".")
    if part == "allow":
        usual = str(getattr(Allow(), name)).lower()
    return f"| `{each.key}` | {_cell(what)} | {may_be} | {usual} |"


def reasons_page() -> str:
    """Every reason and caution code with its sentence."""
    parts = [
        "# Reasons and cautions\n",
        MADE,
        "Codes are stable; `facts` in JSON hold what stands in braces here.\n",
        "| code | says |",
        "|---|---|",
    ]
    parts += [f"| `{code}` | {_cell(says)} |" for code, says in sorted(sentences().items())]
    return "\n".join(parts) + "\n"


def api_page() -> str:
    """Every call of the site's API, from its OpenAPI document."""
    document = _openapi()
    parts = [
        "# The API\n",
        MADE,
        "The whole of it, bodies and answers with their bounds, is the OpenAPI document that a",
        "running site gives at `/api/openapi.json`.\n",
        document["info"]["description"],
        "",
    ]
    for area, calls in _by_area(document["paths"]).items():
        parts += [f"\n## {area}\n", "| call | does | answers |", "|---|---|---|"]
        parts += [_call_row(*call) for call in calls]
    return "\n".join(parts) + "\n"


def _openapi() -> dict[str, Any]:
    # The settings want a data folder's name; nothing is read from it or written to it.
    os.environ["BLOCKWRIGHT_DATA"] = str(Path(tempfile.gettempdir()) / "blockwright-docs")
    os.environ["DJANGO_SETTINGS_MODULE"] = "blockwright.server.settings"
    import django

    django.setup()
    from blockwright.api.site_api import api

    return dict(api.get_openapi_schema())


def _by_area(paths: dict[str, Any]) -> dict[str, list[tuple[str, str, dict[str, Any]]]]:
    areas: dict[str, list[tuple[str, str, dict[str, Any]]]] = {}
    for path, calls in paths.items():
        for method, call in calls.items():
            areas.setdefault(call["tags"][0], []).append((method.upper(), path, call))
    return areas


def _call_row(method: str, path: str, call: dict[str, Any]) -> str:
    queries = [each["name"] for each in call["parameters"] if each["in"] == "query"]
    asked = f"?{'&'.join(queries)}" if queries else ""
    does = f"{call['summary']}. {call['description']}"
    statuses = ", ".join(str(status) for status in sorted(map(int, call["responses"])))
    return f"| `{method} {path}{asked}` | {_cell(does)} | {statuses} |"


def _cell(text: str) -> str:
    return " ".join(text.replace("|", "\\|").split())


PAGES: dict[str, Callable[[], str]] = {
    "commands.md": commands_page,
    "policy.md": policy_page,
    "lifter_file.md": lifter_file_page,
    "reasons.md": reasons_page,
    "api.md": api_page,
}


def main() -> None:
    """Writes every page, or with --check only says which lag behind (exit 1)."""
    stale = [
        name
        for name, page in PAGES.items()
        if not (DOCS / name).exists() or (DOCS / name).read_text(encoding="utf-8") != page()
    ]
    if "--check" in sys.argv:
        sys.exit(f"stale: {', '.join(stale)}; run make docs" if stale else 0)
    for name in stale:
        (DOCS / name).write_text(PAGES[name](), encoding="utf-8")
        sys.stdout.write(f"wrote docs/{name}\n")


if __name__ == "__main__":
    main()
