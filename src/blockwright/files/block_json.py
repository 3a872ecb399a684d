"""Blocks to JSON and back. A block stands alone: the whole lifter goes in and comes out."""

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, BadPolicy, Problem
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.training import (
    Block,
    BlockDecision,
    Entry,
    MuscleSets,
    Session,
    SetPlan,
    SolverReport,
    Week,
)
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import finite, whole
from blockwright.files.lifter_file import lifter_from_table, lifter_to_table
from blockwright.files.limits import read_limited
from blockwright.files.policy_files import default_policy
from blockwright.files.schemas import problems_against
from blockwright.files.words import caution_json, reason_json

FORMAT = "blockwright/block/1"


def block_to_json(block: Block) -> dict[str, Any]:
    """The `blockwright/block/1` document of a block."""
    return {
        "format": FORMAT,
        "revision": block.revision,
        "status": block.status,
        "lifter": lifter_to_table(block.lifter),
        **({"coach_policy": dict(block.coach_policy)} if block.coach_policy else {}),
        "start": block.start.isoformat(),
        "weeks": [_week(week) for week in block.weeks],
        "solver": {
            "status": block.solver.status,
            "objective": block.solver.objective,
            "bound": block.solver.bound,
            "gap": block.solver.gap,
        },
        "reasons": [reason_json(reason) for reason in block.reasons],
        "cautions": [caution_json(caution) for caution in block.cautions],
        "decisions": [_decision(decision) for decision in block.decisions],
    }


def _week(week: Week) -> dict[str, Any]:
    return {
        "week": week.week,
        "kind": week.kind,
        "rir": week.rir,
        "sessions": [session_to_json(session) for session in week.sessions],
        "muscle_sets": {
            muscle: {
                "direct": sets.direct,
                "indirect": sets.indirect,
                "fractional": sets.fractional,
                "floor": sets.floor,
                "ceiling": sets.ceiling,
            }
            for muscle, sets in week.muscle_sets.items()
        },
    }


def session_to_json(session: Session) -> dict[str, Any]:
    """One session as it stands in a block (and, with more beside it, in a sheet)."""
    return {
        "session": session.session,
        "date": session.day.isoformat(),
        "start_time": session.start_time,
        "minutes_available": session.minutes_available,
        "minutes_planned": session.minutes_planned,
        "missed": session.missed,
        "entries": [_entry(entry) for entry in session.entries],
    }


def _entry(entry: Entry) -> dict[str, Any]:
    return {
        "order": entry.order,
        "lift": entry.lift,
        "method": entry.method,
        "zone": entry.zone,
        "pair": entry.pair,
        "rest_s": entry.rest_s,
        "sets": [_set(planned) for planned in entry.sets],
    }


def _set(planned: SetPlan) -> dict[str, Any]:
    document: dict[str, Any] = {
        "load_kg": planned.load_kg,
        "reps_low": planned.reps_low,
        "reps_high": planned.reps_high,
        "rir": planned.rir,
        "counts_as": planned.counts_as,
    }
    if planned.forecast_kg is not None:
        document["forecast_kg"] = list(planned.forecast_kg)
    return document


def _decision(decision: BlockDecision) -> dict[str, Any]:
    return {
        "proposal": decision.proposal,
        "kind": decision.kind,
        "decision": decision.verdict,
        "words": decision.words,
        "change": dict(decision.change),
    }


def read_block(path: Path) -> Block:
    """The block in a JSON file; BadInput names file and place when it is not one."""
    return block_from_json(read_document(path), path.name)


def read_document(path: Path) -> dict[str, Any]:
    """Any JSON object in a file; BadInput when it cannot be read."""
    try:
        loaded = json.loads(
            read_limited(path).decode("utf-8-sig"),
            parse_constant=_refuse,
            parse_float=finite,
            parse_int=whole,
        )
    except (UnicodeDecodeError, ValueError, RecursionError) as error:
        says, mend = f"is not JSON: {error}", "give a file made by blockwright"
    else:
        if isinstance(loaded, dict):
            return loaded
        says, mend = "is JSON but not a document", "give a file made by blockwright"
    raise BadInput(Problem(file=path.name, says=says, mend=mend))


def unknown_lifts(block: Block, file: str) -> list[Problem]:
    """A problem for each lift of the block that neither the catalogue nor its lifter knows."""
    catalogue = catalogue_for(block.lifter)
    named = dict.fromkeys(e.lift for w in block.weeks for s in w.sessions for e in s.entries)
    mend = "add it to the lifter file as a [[lift]] and plan again"
    return [
        Problem(file=file, says=f'names a lift nobody knows: "{name}"', mend=mend)
        for name in named
        if catalogue.find(name) is None
    ]


def _crossed_ranges(document: Mapping[str, Any], file: str) -> list[Problem]:
    """A problem for each set whose repetitions end below where they begin: no schema says it."""
    return [
        Problem(
            file=file,
            key=f"weeks.{week_at}.sessions.{session_at}.entries.{entry_at}.sets.{set_at}",
            says=f"reps_low {planned['reps_low']} is above reps_high {planned['reps_high']}",
            mend="swap the two, or make the file anew",
        )
        for week_at, week in enumerate(document["weeks"], 1)
        for session_at, session in enumerate(week["sessions"], 1)
        for entry_at, entry in enumerate(session["entries"], 1)
        for set_at, planned in enumerate(entry["sets"], 1)
        if planned["reps_low"] > planned["reps_high"]
    ]


def _refuse(constant: str) -> float:
    raise ValueError(f"{constant} is not a number")


def block_from_json(document: Mapping[str, Any], file: str, *, checked: bool = False) -> Block:
    """The block of a document; checked against its schema first, then converted. `checked` says
    that this was done when the document came in: the check takes most of the time."""
    problems = [] if checked else problems_against("block", document, file)
    problems = problems or ([] if checked else _crossed_ranges(document, file))
    if problems:
        raise BadInput(problems)
    solver = document["solver"]
    coach, policy = _read_coach(document, file)
    return Block(
        revision=document["revision"],
        status=document["status"],
        lifter=lifter_from_table(document["lifter"], file, policy).value,
        start=date.fromisoformat(document["start"]),
        weeks=tuple(_read_week(week) for week in document["weeks"]),
        solver=SolverReport(
            status=solver["status"],
            objective=solver["objective"],
            bound=solver["bound"],
            gap=solver["gap"],
        ),
        reasons=tuple(_read_reason(reason) for reason in document["reasons"]),
        cautions=tuple(
            Caution(code=item["code"], facts=item["facts"], source=item["source"])
            for item in document["cautions"]
        ),
        decisions=tuple(_read_decision(item) for item in document["decisions"]),
        coach_policy=coach,
    )


def _read_coach(
    document: Mapping[str, Any], file: str
) -> tuple[Mapping[str, float | str | bool], Policy]:
    """The coach's values a block carries, and the policy they make."""
    coach = document.get("coach_policy", {})
    try:
        return coach, default_policy().overridden(coach, "coach")
    except BadPolicy as error:
        raise BadPolicy(
            [replace(p, file=file, key=f"coach_policy.{p.key}") for p in error.problems]
        ) from error


def _read_reason(item: Mapping[str, Any]) -> Reason:
    return Reason(
        code=item["code"],
        facts=item["facts"],
        policy=tuple(item.get("policy", ())),
        source=item["source"],
    )


def _read_decision(item: Mapping[str, Any]) -> BlockDecision:
    return BlockDecision(
        proposal=item["proposal"],
        kind=item["kind"],
        verdict=item["decision"],
        words=item["words"],
        change=item["change"],
    )


def _read_week(item: Mapping[str, Any]) -> Week:
    return Week(
        week=item["week"],
        kind=item["kind"],
        rir=item["rir"],
        sessions=tuple(_read_session(session) for session in item["sessions"]),
        muscle_sets={
            muscle: MuscleSets(
                direct=sets["direct"],
                indirect=sets["indirect"],
                fractional=sets["fractional"],
                floor=sets["floor"],
                ceiling=sets["ceiling"],
            )
            for muscle, sets in item["muscle_sets"].items()
        },
    )


def _read_session(item: Mapping[str, Any]) -> Session:
    return Session(
        session=item["session"],
        day=date.fromisoformat(item["date"]),
        start_time=item["start_time"],
        minutes_available=item["minutes_available"],
        minutes_planned=item["minutes_planned"],
        entries=tuple(_read_entry(entry) for entry in item["entries"]),
        missed=item["missed"],
    )


def _read_entry(item: Mapping[str, Any]) -> Entry:
    return Entry(
        order=item["order"],
        lift=item["lift"],
        method=item["method"],
        rest_s=item["rest_s"],
        sets=tuple(_read_set(planned) for planned in item["sets"]),
        pair=item["pair"],
        zone=item["zone"],
    )


def _read_set(item: Mapping[str, Any]) -> SetPlan:
    forecast = item.get("forecast_kg")
    return SetPlan(
        load_kg=item["load_kg"],
        reps_low=item["reps_low"],
        reps_high=item["reps_high"],
        rir=item["rir"],
        counts_as=item["counts_as"],
        forecast_kg=(forecast[0], forecast[1]) if forecast is not None else None,
    )
