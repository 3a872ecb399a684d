"""Documents to a `Plan`: the block's JSON, the `lifts --json` document, the two CSV files."""

import csv
from collections.abc import Iterator, Mapping
from datetime import date
from io import StringIO

from coach_rules.plan import (
    Document,
    Entry,
    Lift,
    LogSet,
    Plan,
    Session,
    Week,
    range_of,
)


def read_plan(block: Document, lifts: Document, log: str = "", checkins: str = "") -> Plan:
    """A block's document with the `lifts --json` document and the texts of the two CSV files."""
    own = block["lifter"].get("lift", [])
    replaced = {fields["name"].lower() for fields in own}
    tables = [*own, *(each for each in lifts["lifts"] if each["name"] not in replaced)]
    catalogue = {fields["name"]: lift_of(fields) for fields in tables}
    names: dict[str, str] = {}
    for fields in tables:
        for alias in fields["aliases"]:
            names.setdefault(alias.lower(), fields["name"])
    names |= {name.lower(): name for name in catalogue}
    rows = list(csv.DictReader(StringIO(checkins)))
    return Plan(
        block=block,
        weeks=tuple(_week(week, catalogue, names) for week in block["weeks"]),
        catalogue=catalogue,
        names=names,
        log=tuple(_log_sets(log, names)),
        pains=tuple((_day(row), row["about"], float(row["value"]))
                    for row in rows if row["measure"] == "pain"),
        minutes_logged=tuple((_day(row), float(row["value"]))
                             for row in rows if row["measure"] == "session_minutes"),
    )  # fmt: skip


def lift_of(fields: Document) -> Lift:
    """A lift from its JSON, or from a table of a block's lifter."""
    reps = fields["reps"]
    if isinstance(reps, Mapping):
        ranges = [range_of(text) for text in reps.values()]
    else:
        ranges = [(item["reps_low"], item["reps_high"]) for item in reps]
    return Lift(
        name=fields["name"],
        muscles=fields["muscles"],
        pattern=fields["pattern"],
        kit=tuple(fields["kit"]),
        main=fields["compound"],
        axial=fields["axial"],
        stability=fields["stability"],
        family=fields["family"],
        angle=fields["angle"],
        plainness=fields["plainness"],
        load_kind=fields["load_kind"],
        share=fields["bodyweight_share"],
        reps=tuple(ranges),
        regions=fields["regions"],
    )


def _week(week: Document, catalogue: Mapping[str, Lift], names: Mapping[str, str]) -> Week:
    sessions = []
    for session in week["sessions"]:
        entries = tuple(
            Entry(
                lift=catalogue[names[entry["lift"].lower()]],
                sets=entry["sets"],
                method=entry["method"],
                rest_s=entry["rest_s"],
                order=entry["order"],
            )
            for entry in sorted(session["entries"], key=lambda e: e["order"])
        )
        sessions.append(
            Session(
                number=session["session"],
                day=date.fromisoformat(session["date"]),
                start=session["start_time"],
                available=session["minutes_available"],
                planned=session["minutes_planned"],
                entries=entries,
            )
        )
    return Week(week["week"], week["kind"], week["rir"], tuple(sessions), week["muscle_sets"])


def _day(row: Document) -> date:
    return date.fromisoformat(row["when"][:10])


def _log_sets(text: str, names: Mapping[str, str]) -> Iterator[LogSet]:
    for row in csv.DictReader(StringIO(text)):
        if row["method"] == "warmup" or not row["reps"]:
            continue
        factor = 0.45359237 if row["unit"] == "lb" else 1.0
        rir = [float(part) for part in (row["rir"] or "").split("-") if part]
        yield LogSet(
            day=_day(row),
            lift=names.get(row["lift"].strip().lower(), row["lift"]),
            load_kg=float(row["load"].split("+")[0] or 0) * factor,
            reps=float(row["reps"].split("+")[0]),
            rir=sum(rir) / len(rir) if rir else None,
            pain=float(row["pain"] or 0),
        )
