"""Strength as a person reads it: a finding, a table, and for each lift a plot beside its numbers.

Works on a `blockwright/estimate/1` document of one lifter and the histories beside it, as plain
JSON; a page lays out what stands here."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple

from blockwright.engine.units import Unit, capital, in_unit, load_text, number_text
from . import report_plots as plots
from .report_shapes import Document, Table, day_words, interval_words, sentence

MOST_SESSIONS = 60  # Sessions one panel draws: more cannot be told apart at its width

NOTE = (
    "Line: 1RM as believed after each session; band: where it lies eight times in ten, if our "
    "model is right. Circle: what one set alone speaks for; cross: a set left out as out of line. "
    "A 1RM is estimated from the sets, never tested; bodyweight lifts include the share of "
    "bodyweight moved, a dumbbell pair is one hand."
)


class WatchWords(NamedTuple):
    """Whether performance has fallen: a sentence, and the figure behind it."""

    says: str
    level: str
    sounds: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftPanel:
    """One lift: its finding, its plot (None without a session in the period), its numbers."""

    lift: str
    title: str
    svg: str | None
    reps: Table | None  # Repetitions to failure at loads
    watch: WatchWords
    flags: tuple[str, ...]
    drawn: str  # Which sessions the plot shows, where it does not show all


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthWords:
    """A lifter's strength. Empty `panels`: nothing to go by yet."""

    table: Table | None
    panels: tuple[LiftPanel, ...]
    pooled: WatchWords | None
    nothing_yet: tuple[str, ...]  # Lifts in the log that no set speaks for yet


def strength_words(
    document: Document,
    history: Mapping[str, Document],
    unit: Unit,
    since: date | None,
    block_start: date | None,
) -> StrengthWords:
    """Everything the page says, lifts that fell or moved for sure first, then those trained last;
    plots from `since` on."""
    known = [one for one in document["lifts"] if one["lift"] in history]
    known.sort(key=_news, reverse=True)
    pooled = document["lifters"][0]["pooled_watch"] if document["lifters"] else None
    start = None if block_start is None else block_start.isoformat()
    return StrengthWords(
        table=_table(known, history, unit) if known else None,
        panels=tuple(
            _panel(one, history[one["lift"]], unit, since, start) for one in known
        ),
        pooled=None if pooled is None else _watch_words(pooled, "All lifts together, lately"),
        nothing_yet=tuple(
            one["lift"] for one in document["lifts"] if one["lift"] not in history
        ),
    )  # fmt: skip


def _news(one: Document) -> tuple[bool, bool, str, int]:
    trend = one["trend_pct_per_week"]
    is_sure = trend["low80"] * trend["high80"] > 0
    return one["watch"]["alarm"], is_sure, one["as_of"], one["sets_used"]


def _table(known: Sequence[Document], history: Mapping[str, Document], unit: Unit) -> Table:
    rows = tuple(
        (
            one["lift"],
            _load(one["one_rm_kg"]["median"], unit),
            " to ".join(_load(one["one_rm_kg"][key], unit) for key in ("low80", "high80")),
            *_trend(one, history[one["lift"]]),
            str(one["sets_used"]),
            _day(one["as_of"]),
            "lower" if one["watch"]["alarm"] else "as expected",
        )
        for one in known
    )
    head = ("Lift", f"1RM, {unit}", f"80 % sure, {unit}", "Trend, % a week", "80 % sure",
            "Sets", "As of", "Lately")  # fmt: skip
    return Table("Strength, lift by lift", head, rows, (1, 2, 3, 4, 5, 6))


def _has_trend(history: Document) -> bool:
    return len(history["points"]) > 1


def _title(history: Document, unit: Unit) -> str:
    if _has_trend(history):
        return plots.strength_title(history, unit)
    return f"{capital(history['lift'])}: {interval_words(history['after_kg'], unit)}, one session"


def _trend(one: Document, history: Document) -> tuple[str, str]:
    """The trend and where it lies eight times in ten; of one session nothing."""
    if not _has_trend(history):
        return "", ""
    median, low, high = (
        f"{one['trend_pct_per_week'][key]:+z.1f}".replace("-", "−")
        for key in ("median", "low80", "high80")
    )
    return median, f"{low} to {high}"


def _panel(
    one: Document, history: Document, unit: Unit, since: date | None, block_start: str | None
) -> LiftPanel:
    points = [p for p in history["points"] if since is None or p["date"] >= since.isoformat()]
    drawn = evenly(points)
    shown = {**history, "points": drawn, "sessions": len(drawn)}
    return LiftPanel(
        lift=one["lift"],
        title=_title(history, unit),
        svg=plots.strength_svg(shown, block_start, unit, plots.DESK) if len(drawn) > 1 else None,
        reps=_reps(one["reps_at_load"], unit),
        watch=_watch_words(one["watch"], "Lately"),
        flags=tuple(
            f"{day_words(flag['when'])}, set {flag['set']}: {sentence(flag['says'])}"
            for flag in one["flags"]
            if since is None or flag["when"] >= since.isoformat()
        ),
        drawn=_drawn(len(history["points"]), len(points), len(drawn)),
    )


def evenly(points: Sequence[Any]) -> list[Any]:
    """At most `MOST_SESSIONS` of the points, evenly, the last always among them."""
    step = -(-len(points) // MOST_SESSIONS) or 1
    return list(points[::-1][::step][::-1])


def _drawn(every: int, within: int, drawn: int) -> str:
    if within < min(every, 2):
        return f"{'One' if within else 'No'} session in the time shown."
    if drawn < within:
        return f"Drawn: {drawn} of {within} sessions, evenly spaced."
    return "" if within == every else f"Drawn: the last {within} of {every} sessions."


def _reps(rows: Sequence[Document], unit: Unit) -> Table | None:
    cells = tuple(
        (
            load_text(row["load_kg"], unit),
            number_text(row["reps"]["median"], 0),
            " to ".join(number_text(row["reps"][key], 0) for key in ("low80", "high80")),
        )
        for row in rows
    )
    head = ("Load", "Repetitions", "80 % sure")
    return Table("Repetitions to failure", head, cells, (0, 1, 2)) if rows else None


def _watch_words(watch: Document, which: str) -> WatchWords:
    level = f"The fall adds up to {watch['statistic']:.1f}; from {watch['limit']:.1f} on it counts."
    if watch["alarm"]:
        return WatchWords(f"{which}: lower than expected. See the review.", level, True)
    before = f"; last lower on {day_words(watch['alarms'][-1])}" if watch["alarms"] else ""
    return WatchWords(f"{which}: as expected{before}.", level, False)


def _day(iso: str) -> str:
    """ "21 Nov 2026": short enough for a column."""
    day = date.fromisoformat(iso)
    return f"{day.day} {day:%b %Y}"


def _load(load_kg: float, unit: Unit) -> str:
    return number_text(in_unit(load_kg, unit), 0)
