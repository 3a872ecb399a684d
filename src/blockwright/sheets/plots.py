"""Pictures for paper: strength over time with its band, as SVG. Readable without colour."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from blockwright.engine.strength import Beliefs, Interval, StrengthPoint
from blockwright.engine.units import Unit, in_unit

INK, GREY, PALE = "#222222", "#777777", "#d9d6cf"
PANEL_WIDTH, PANEL_HEIGHT = 330, 210
ALONE_WIDTH, ALONE_HEIGHT = 640, 320


@dataclass(frozen=True, slots=True)
class Panel:
    """One lift of a picture."""

    name: str
    points: tuple[StrengthPoint, ...]
    one_rm_kg: Interval
    trend_pct_per_week: Interval


CAPTION = (
    "Line: 1RM as believed after each session; band: its 80 % interval. "
    "Circle: what one set alone speaks for; cross: a set left out as out of line."
)


def strength_svg(beliefs: Sequence[Beliefs], unit: Unit) -> str:
    """An SVG of the believed 1RM after each session of every lift, with its 80 % band.

    Small multiples for several lifts; each panel's title says its finding. A log without
    evidence gives a picture that says so.
    """
    import vl_convert

    svg: str = vl_convert.vegalite_to_svg(_page(_panels(beliefs), unit))
    return svg


def _panels(beliefs: Sequence[Beliefs]) -> list[Panel]:
    panels: list[Panel] = []
    for person in beliefs:
        for who, lift in person.series:
            belief, points = person.own(lift), person.history(lift)
            if belief is not None and points:
                name = f"{who or '(no name)'}, {lift}" if len(beliefs) > 1 else lift
                trend = person.trend_pct_per_week(lift)
                panels.append(Panel(name, points, belief.one_rm_kg, trend))
    return panels


def finding(panel: Panel, unit: Unit) -> tuple[str, str]:
    """Where the lift stands and where it is heading: title and second line."""
    at, trend = panel.one_rm_kg, panel.trend_pct_per_week
    low, middle, high = (in_unit(kg, unit) for kg in (at.low80, at.median, at.high80))
    heading = "rising" if trend.low80 > 0 else "falling" if trend.high80 < 0 else "no sure trend"
    rate = f"{trend.low80:+.1f} to {trend.high80:+.1f} % a week"
    return f"{panel.name}: {middle:.0f} {unit} ({low:.0f} to {high:.0f})", f"{heading}, {rate}"


def _page(panels: list[Panel], unit: Unit) -> dict[str, Any]:
    if not panels:
        return {
            **_frame(),
            "data": {"values": [{}]},
            "mark": {"type": "text", "text": "No sets to go by yet", "color": INK},
        }
    size = (ALONE_WIDTH, ALONE_HEIGHT) if len(panels) == 1 else (PANEL_WIDTH, PANEL_HEIGHT)
    days = [point.day for panel in panels for point in panel.points]
    drawn = [_panel(panel, unit, size, (min(days), max(days))) for panel in panels]
    rows = [{"hconcat": drawn[start : start + 2]} for start in range(0, len(drawn), 2)]
    title = {"text": CAPTION, "fontSize": 11, "fontWeight": "normal", "offset": 12}
    return {**_frame(), "title": title, "vconcat": rows}


def _frame() -> dict[str, Any]:
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "background": "white",
        "config": {
            "font": "sans-serif",
            "axis": {"labelColor": INK, "titleColor": INK, "gridColor": "#ececec",
                     "domainColor": GREY, "tickColor": GREY, "labelFontSize": 11},
            "title": {"color": INK, "subtitleColor": INK, "fontSize": 13, "subtitleFontSize": 12,
                      "anchor": "start"},
            "view": {"stroke": None},
        },
    }  # fmt: skip


def _panel(
    panel: Panel, unit: Unit, size: tuple[int, int], span: tuple[date, date]
) -> dict[str, Any]:
    title, subtitle = finding(panel, unit)
    days: dict[str, Any] = {"type": "temporal", "title": None}
    days["scale"] = {"domain": [d.isoformat() for d in span]}
    years = span[0].year != span[1].year
    days["axis"] = {"format": "%-d %b %Y" if years else "%-d %b", "labelOverlap": True}
    kg = {"type": "quantitative", "scale": {"zero": False}}
    when = {"field": "when", **days}
    return {
        "title": {"text": title, "subtitle": subtitle},
        "width": size[0],
        "height": size[1],
        "layer": [
            {
                "data": {"values": [_belief_row(point, unit) for point in panel.points]},
                "layer": [
                    {
                        "mark": {"type": "area", "color": PALE},
                        "encoding": {
                            "x": when,
                            "y": {"field": "low", "title": f"1RM, {unit}", **kg},
                            "y2": {"field": "high"},
                        },
                    },
                    {
                        "mark": {"type": "line", "color": INK, "strokeWidth": 2},
                        "encoding": {"x": when, "y": {"field": "middle", **kg}},
                    },
                ],
            },
            {
                "data": {
                    "values": [row for point in panel.points for row in _set_rows(point, unit)]
                },
                "mark": {"type": "point", "color": GREY, "size": 22, "strokeWidth": 1.2},
                "encoding": {
                    "x": when,
                    "y": {"field": "kg", **kg},
                    "shape": {
                        "field": "left_out",
                        "type": "nominal",
                        "scale": {"domain": ["no", "yes"], "range": ["circle", "cross"]},
                        "legend": None,
                    },
                },
            },
        ],
    }


def _belief_row(point: StrengthPoint, unit: Unit) -> dict[str, Any]:
    interval = point.one_rm_kg
    return {
        "when": point.day.isoformat(),
        "low": in_unit(interval.low80, unit),
        "middle": in_unit(interval.median, unit),
        "high": in_unit(interval.high80, unit),
    }


def _set_rows(point: StrengthPoint, unit: Unit) -> list[dict[str, Any]]:
    """One row a set; sets left out are drawn no further out than twice or half the belief."""
    middle = point.one_rm_kg.median
    rows = [(kg, "no") for kg in point.used_kg]
    rows += [(min(max(kg, middle / 1.5), middle * 1.5), "yes") for kg in point.flagged_kg]
    return [
        {"when": point.day.isoformat(), "kg": in_unit(kg, unit), "left_out": out}
        for kg, out in rows
    ]
