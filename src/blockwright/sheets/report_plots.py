"""The pictures of a block report and the desk, drawn as SVG by hand: weekly sets, strength, weight.

One drawing serves paper and page: `Ink` says the colours (a page lets them follow the reader's
light or dark). Status never rests on colour: what was done is a solid line with full dots, what was
planned a dashed one with open dots, the floor is dotted, the ceiling hatched."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from xml.sax.saxutils import escape

from blockwright.engine.report import Trend
from blockwright.engine.units import Unit, capital, in_unit, number_text
from .report_shapes import Document, interval_words

WIDTH = 300
LEFT, RIGHT, TOP, BOTTOM = 34, 8, 10, 22


@dataclass(frozen=True, slots=True)
class Ink:
    """Colours of a drawing, the type it is set in, and how tall a panel is beside its width."""

    ink: str
    soft: str
    rule: str
    band: str
    paper: str
    font: str
    height: int


# Low on paper, so that a sheet is filled row by row with little left over at its foot.
PAPER = Ink(ink="#1c1a17", soft="#5b564e", rule="#d8d2c6", band="#e6e0d4", paper="#ffffff",
            font="Source Sans Pro", height=112)  # fmt: skip
DESK = Ink(ink="var(--ink)", soft="var(--grey)", rule="var(--rule)", band="var(--band)",
           paper="var(--paper)", font="inherit", height=150)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Frame:
    """A panel's scales: data to points of the drawing."""

    x_low: float
    x_high: float
    y_low: float
    y_high: float
    ink: Ink

    def x(self, value: float) -> float:
        span = self.x_high - self.x_low or 1.0
        return LEFT + (value - self.x_low) / span * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        span = self.y_high - self.y_low or 1.0
        share = (min(max(value, self.y_low), self.y_high) - self.y_low) / span
        return self.foot - share * (self.foot - TOP)

    @property
    def foot(self) -> float:
        """Where the panel's drawing ends and its words about days begin."""
        return self.ink.height - BOTTOM

    def line(self, points: Sequence[tuple[float, float]], width: float, dash: str = "") -> str:
        path = " ".join(f"{self.x(x):.1f},{self.y(y):.1f}" for x, y in points)
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        return (
            f'<polyline points="{path}" fill="none" stroke="{self.ink.ink}" '
            f'stroke-width="{width}"{dashed}/>'
        )

    def across(self, value: float, dash: str, width: float = 1.0) -> str:
        y = self.y(value)
        return (
            f'<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{y:.1f}" y2="{y:.1f}" '
            f'stroke="{self.ink.soft}" stroke-width="{width}" stroke-dasharray="{dash}"/>'
        )

    def rule(self, value: float) -> tuple[str, str]:
        """A faint line across, and its number beside it."""
        y = self.y(value)
        line = (
            f'<line x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{y:.1f}" y2="{y:.1f}" '
            f'stroke="{self.ink.rule}" stroke-width="0.6"/>'
        )
        return line, self.words(LEFT - 5, y + 3.5, number_text(value), "end")

    def dot(self, x: float, y: float, radius: float, *, full: bool) -> str:
        fill = self.ink.ink if full else self.ink.paper
        return (
            f'<circle cx="{self.x(x):.1f}" cy="{self.y(y):.1f}" r="{radius}" fill="{fill}" '
            f'stroke="{self.ink.ink}" stroke-width="1"/>'
        )

    def words(self, x: float, y: float, text: str, anchor: str = "start") -> str:
        return (
            f'<text x="{x:.1f}" y="{y:.1f}" font-size="10.5" fill="{self.ink.soft}" '
            f'text-anchor="{anchor}">{escape(text)}</text>'
        )


def _svg(parts: Sequence[str], ink: Ink, alt: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {ink.height}" role="img" '
        f'font-family="{ink.font}"><title>{escape(alt)}</title>{"".join(parts)}</svg>'
    )


# ------------------------------------------------------------------------------ weekly sets


def muscle_svg(muscle: Document, weeks: Sequence[Document], ink: Ink) -> str:
    """One muscle's weekly sets, planned and done (so far), with its floor and its ceiling."""
    planned, done = muscle["sets_planned"], muscle["sets_done"]
    ceiling = muscle["ceiling"]
    shown_to = ceiling["low80"] if ceiling["at_least"] is not None else ceiling["high80"]
    top = 1.04 * max([*planned, *done, muscle["floor"], shown_to])
    frame = _Frame(0.7, len(weeks) + 0.3, 0.0, top, ink)
    parts = [*_grid(frame, top), *_ceiling(frame, ceiling)]
    parts.append(frame.across(muscle["floor"], "1.5 3", 1.4))
    numbered = range(1, len(weeks) + 1)
    plan = list(zip(numbered, planned, strict=False))
    parts.append(frame.line(plan, 1.0, "4 3"))
    parts += [frame.dot(x, y, 2.6, full=False) for x, y in plan]
    # A week that is not over is no fall: its dot stands alone, and only once something was done.
    counted = [
        (x, y, over)
        for x, y, over in zip(numbered, done, (w.get("is_over", True) for w in weeks), strict=False)
        if over or y
    ]
    parts.append(frame.line([(x, y) for x, y, over in counted if over], 1.8))
    parts += [frame.dot(x, y, 3.0, full=True) for x, y, _ in counted]
    for number, week in zip(numbered, weeks, strict=True):
        parts.append(_week_words(frame, number, week, last=number == len(weeks)))
    return _svg(parts, ink, muscle_alt(muscle))


def _week_words(frame: _Frame, number: int, week: Document, *, last: bool) -> str:
    """The week's name (where it has one), "deload", or its number, under its dots. Of weeks with
    names every second is named, so that they do not touch."""
    name = str(week.get("name", number))
    if "name" in week and number % 2:
        name = ""
    if week["kind"] == "deload":
        name = "deload"
    if last and len(name) > 2:
        return frame.words(WIDTH - RIGHT, frame.ink.height - 7, name, "end")
    return frame.words(frame.x(number), frame.ink.height - 7, name, "middle")


def _steps(first: int) -> list[int]:
    """1, 2, 5, 10, 20 ... from `first` on: for any axis, however far a log reaches."""
    return [s * 10**power for power in range(12) for s in (1, 2, 5) if s * 10**power >= first]


def _grid(frame: _Frame, top: float) -> list[str]:
    step = next(s for s in _steps(2) if top / s <= 5)
    return [part for value in range(0, int(top) + 1, step) for part in frame.rule(value)]


def _ceiling(frame: _Frame, ceiling: Document) -> list[str]:
    """A hatched band where a failure was seen; else only the side we know, hatched upwards."""
    low = frame.y(ceiling["low80"])
    high = frame.y(frame.y_high if ceiling["at_least"] is not None else ceiling["high80"])
    parts = [
        f'<rect x="{LEFT}" y="{high:.1f}" width="{WIDTH - LEFT - RIGHT}" '
        f'height="{low - high:.1f}" fill="{frame.ink.band}"/>'
    ]
    for x in range(LEFT, WIDTH - RIGHT, 9):
        run = min(low - high, WIDTH - RIGHT - x)
        parts.append(
            f'<line x1="{x}" y1="{low:.1f}" x2="{x + run:.1f}" y2="{low - run:.1f}" '
            f'stroke="{frame.ink.rule}" stroke-width="0.8"/>'
        )
    return parts


def muscle_title(muscle: Document) -> str:
    """ "Quads: 6 to 13.5 sets; ceiling at least 11"."""
    done = [sets for sets in muscle["sets_done"] if sets]
    name = muscle["muscle"].replace("_", " ").capitalize()
    if not muscle["sets_done"]:
        said = f"{_sets_words(muscle['sets_planned'])} planned"
    else:
        said = _sets_words(done) if done else "no hard set"
    return f"{name}: {said}; {ceiling_words(muscle['ceiling'])}"


def _sets_words(weeks: Sequence[float]) -> str:
    """From the first week to the fullest."""
    first, most = number_text(weeks[0], 1), number_text(max(weeks), 1)
    return f"{most} sets a week" if first == most else f"{first} to {most} sets a week"


def ceiling_words(ceiling: Document) -> str:
    """ "ceiling at least 11" until a week was too much, then "ceiling about 14 (11 to 18)"."""
    if ceiling["at_least"] is not None:
        return f"ceiling at least {number_text(ceiling['at_least'], 0)}"
    low, middle, high = (number_text(ceiling[key], 0) for key in ("low80", "median", "high80"))
    return f"ceiling about {middle} ({low} to {high})"


def muscle_alt(muscle: Document) -> str:
    """The picture in words."""
    done = ", ".join(number_text(sets, 1) for sets in muscle["sets_done"])
    planned = ", ".join(number_text(sets, 1) for sets in muscle["sets_planned"])
    return (
        f"{muscle_title(muscle)}. Done by week: {done}. Planned: {planned}. "
        f"Floor {number_text(muscle['floor'], 1)}."
    )


# --------------------------------------------------------------------------------- strength


def strength_svg(lift: Document, start: str | None, unit: Unit, ink: Ink) -> str:
    """One lift's 1RM as believed after each session, with its 80 % band and the sets behind.

    `start`: where a block begins, marked when it lies within."""
    points = lift["points"]
    days = [date.fromisoformat(point["date"]).toordinal() for point in points]
    low, high = _strength_span(points, unit)
    frame = _Frame(min(days) - 1, max(days) + 1, low, high, ink)
    band = [(day, _shown(p, "low80", unit)) for day, p in zip(days, points, strict=True)]
    back = [(day, _shown(p, "high80", unit)) for day, p in zip(days, points, strict=True)]
    outline = " ".join(f"{frame.x(x):.1f},{frame.y(y):.1f}" for x, y in [*band, *back[::-1]])
    middle = [(day, _shown(p, "median", unit)) for day, p in zip(days, points, strict=True)]
    parts = [
        *_strength_grid(frame),
        f'<polygon points="{outline}" fill="{ink.band}" stroke="{ink.rule}" stroke-width="0.8"/>',
        *([] if start is None else _block_begins(frame, date.fromisoformat(start))),
        frame.line(middle, 1.8),
    ]
    for day, point in zip(days, points, strict=True):
        for kg in point["sets_kg"]:
            parts.append(frame.dot(day, in_unit(kg, unit), 1.8, full=False))
        parts += [_cross(frame, day, in_unit(kg, unit)) for kg in point["left_out_kg"]]
    parts += _first_and_last(frame, points)
    return _svg(parts, ink, strength_alt(lift, unit))


def trend_svg(trend: Trend, unit_size: float, alt: str) -> str:
    """The measurements as dots and the line through them, in units of `unit_size`."""
    days = [day.toordinal() for day, _ in trend.seen]
    seen = [value / unit_size for _, value in trend.seen]
    last = trend.value / unit_size
    first = last - trend.per_week / unit_size * (days[-1] - days[0]) / 7
    low, high = min([*seen, first, last]) - 0.5, max([*seen, first, last]) + 0.5
    frame = _Frame(days[0] - 1, days[-1] + 1, low, high, DESK)
    points = [{"date": day.isoformat()} for day, _ in trend.seen]
    parts = [
        *_strength_grid(frame),
        frame.line([(days[0], first), (days[-1], last)], 1.8),
        *(frame.dot(day, each, 2.0, full=False) for day, each in zip(days, seen, strict=True)),
        *_first_and_last(frame, points),
    ]
    return _svg(parts, DESK, alt)


def _first_and_last(frame: _Frame, points: Sequence[Document]) -> list[str]:
    """The days at the foot; with their year where they are of several."""
    first, last = (date.fromisoformat(points[at]["date"]) for at in (0, -1))
    if first == last:
        return [
            frame.words(frame.x(first.toordinal()), frame.ink.height - 7, _day(first), "middle")
        ]
    year = " %Y" if first.year != last.year else ""
    return [
        frame.words(frame.x(day.toordinal()), frame.ink.height - 7, _day(day, year), anchor)
        for day, anchor in ((first, "start"), (last, "end"))
    ]


def _day(day: date, year: str = "") -> str:
    return f"{day.day} {day:%b{year}}"


def _strength_span(points: Sequence[Document], unit: Unit) -> tuple[float, float]:
    """The bands and the sets, a set far off drawn at the edge."""
    low = min(_shown(point, "low80", unit) for point in points)
    high = max(_shown(point, "high80", unit) for point in points)
    room = 0.35 * (high - low)
    seen = [in_unit(kg, unit) for point in points for kg in point["sets_kg"]]
    return max(min([low, *seen]), low - room), min(max([high, *seen]), high + room)


def _strength_grid(frame: _Frame) -> list[str]:
    span = frame.y_high - frame.y_low
    step = next(s for s in (0.5, *_steps(1)) if span / s <= 4)
    parts: list[str] = []
    value = step * (int(frame.y_low / step) + 1)
    while value <= frame.y_high:
        parts += frame.rule(value)
        value += step
    return parts


def _block_begins(frame: _Frame, start: date) -> list[str]:
    x = frame.x(start.toordinal() - 0.5)
    if not LEFT < x < WIDTH - RIGHT - 40:
        return []
    return [
        f'<line x1="{x:.1f}" x2="{x:.1f}" y1="{TOP}" y2="{frame.foot}" '
        f'stroke="{frame.ink.soft}" stroke-width="1" stroke-dasharray="1.5 3"/>',
        frame.words(x + 3, TOP + 8, "block"),
    ]


def _cross(frame: _Frame, day: float, value: float) -> str:
    x, y = frame.x(day), frame.y(value)
    return (
        f'<path d="M{x - 3:.1f} {y - 3:.1f}l6 6m0 -6l-6 6" stroke="{frame.ink.ink}" '
        f'stroke-width="1.2"/>'
    )


def _shown(point: Document, key: str, unit: Unit) -> float:
    return in_unit(point["one_rm_kg"][key], unit)


def strength_title(lift: Document, unit: Unit) -> str:
    """ "Leg press: 182 kg (171 to 194), rising 0.8 to 1.9 % a week"."""
    trend = lift["trend_pct_per_week"]
    rate = f"{trend['low80']:+z.1f} to {trend['high80']:+z.1f} % a week".replace("-", "−")
    heading = {"rising": "rising", "falling": "falling", "unsure": "no sure trend"}
    name, said = capital(lift["lift"]), heading[lift["heading"]]
    return f"{name}: {interval_words(lift['after_kg'], unit)}, {said}, {rate}"


def strength_alt(lift: Document, unit: Unit) -> str:
    """The picture in words."""
    said = f"1RM: {strength_title(lift, unit)}"
    if "before_kg" not in lift:
        return f"{said}; {lift['sessions']} sessions drawn."
    before = lift["before_kg"]
    was = (
        f"before the block {number_text(in_unit(before['median'], unit), 0)} {unit}"
        if before
        else "not logged before the block"
    )
    return f"{said}; {was}; {lift['sessions']} sessions in the block."
