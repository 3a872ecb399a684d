"""Strength over time as one picture for paper and README: the report's panels, side by side."""

from collections.abc import Sequence
from xml.sax.saxutils import escape

from blockwright.engine.units import Unit
from blockwright.sheets.report_plots import PAPER, WIDTH, Document, strength_svg, strength_title

ACROSS, GAP, MARGIN, HEAD, CAPTION_HEIGHT = 2, 18, 12, 34, 30
CAPTION = (
    "Line: 1RM as believed after each session; band: its 80 % interval. Dot: what one set alone "
    "speaks for; cross: a set left out as out of line."
)
NOTHING = "No sets to go by yet"


def strength_picture(histories: Sequence[Document], unit: Unit) -> str:
    """An SVG with one panel a lift, each under its finding; one that says so where there is none.

    `histories`: as `verbs.estimate_strength` makes them.
    """
    across = min(ACROSS, max(len(histories), 1))
    rows = -(-len(histories) // across)
    width = 2 * MARGIN + across * WIDTH + (across - 1) * GAP
    height = 2 * MARGIN + CAPTION_HEIGHT + rows * (HEAD + PAPER.height + GAP)
    parts = [f'<rect width="{width}" height="{height}" fill="{PAPER.paper}"/>']
    for number, history in enumerate(histories):
        x = MARGIN + number % across * (WIDTH + GAP)
        y = MARGIN + CAPTION_HEIGHT + number // across * (HEAD + PAPER.height + GAP)
        parts += _panel(history, unit, x, y)
    half = len(CAPTION) // 2
    cut = CAPTION.index(" ", half) if across == 1 else len(CAPTION)
    said = (CAPTION[:cut], CAPTION[cut:].strip()) if histories else (NOTHING, "")
    parts += [_words(MARGIN, MARGIN + 9 + 12 * at, line, 10) for at, line in enumerate(said)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}" font-family="{PAPER.font}, sans-serif" role="img">'
        f"<title>{escape(CAPTION if histories else NOTHING)}</title>{''.join(parts)}</svg>\n"
    )


def _panel(history: Document, unit: Unit, x: float, y: float) -> list[str]:
    finding, _, heading = strength_title(history, unit).partition("), ")
    who = f"{history['lifter']}, " if history.get("lifter") else ""
    panel = strength_svg({**history, "sessions": len(history["points"])}, None, unit, PAPER)
    placed = f'<svg x="{x}" y="{y + HEAD}" width="{WIDTH}" height="{PAPER.height}"'
    return [
        _words(x, y + 11, f"{who}{finding})", 12),
        _words(x, y + 26, heading, 11),
        panel.replace("<svg", placed, 1),
    ]


def _words(x: float, y: float, text: str, size: int) -> str:
    return f'<text x="{x}" y="{y}" font-size="{size}" fill="{PAPER.ink}">{escape(text)}</text>'
