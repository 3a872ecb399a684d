"""The one invented gym: named people with different rights, for the site's tests. No such people.

Orla   owns the site
Cato   coaches Mara
Mara   trains, and has an account of her own
Pim    trains with Mara
Stig   coaches somebody else: a stranger to Mara
"""

from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any
from uuid import UUID, uuid4

from django.test import Client

from blockwright.accounts.models import User
from blockwright.engine.training import (
    Block,
    Entry,
    Lifter,
    MuscleSets,
    Session,
    SetPlan,
    SolverReport,
    Week,
)
from blockwright.files.block_json import block_to_json
from blockwright.files.json_text import plain
from blockwright.files.lifter_file import lifter_from_table, lifter_to_table
from blockwright.store.models import BlockRevision, Share
from blockwright.store.models import Lifter as LifterRow
from when import noon_of

PASSWORD = "a long word for tests"
MONDAY = date(2026, 1, 5)
ZONE = "Europe/Berlin"
PHONE = UUID("5b0c9d1e-0000-4000-8000-00000000000a")
OTHER_PHONE = UUID("5b0c9d1e-0000-4000-8000-00000000000b")

SCREENED: dict[str, Any] = {
    "heart_or_metabolic_condition": False,
    "symptoms_at_effort": False,
    "pregnant_or_postpartum": False,
    "kidney_disease": False,
    "high_blood_pressure": False,
    "currently_active": True,
    "surgery_or_injury_last_year": False,
}
"""Every question of the lifter file answered, and nothing wrong."""

MARA_TABLE: dict[str, Any] = {
    "name": "Mara Invented",
    "units": "kg",
    "bodyweight": 68.5,
    "born": 1991,
    "experience": "intermediate",
    "start": "2026-01-05",
    "screening": SCREENED,
    "slot": [
        {"day": "mon", "start": "18:30", "minutes": 75},
        {"day": "thu", "start": "18:30", "minutes": 60},
    ],
    "emphasis": {"quads": "lead", "forearms": "skip"},
    "limits": {"avoid_patterns": ["upright row"]},
    "gym": {
        "kit": [
            "bar", "squat rack", "bench", "plates", "dumbbells", "cable", "pull-up bar",
            "leg press", "leg curl", "leg extension",
        ],
        "bar": [{"name": "20 kg bar", "mass": 20}],
        "plates": {"20": 3, "10": 1, "5": 1, "2.5": 1, "1.25": 1, "45 lb": 1},
        "dumbbells": {"from": 4, "to": 34, "step": 2},
        "stack": [{"lift": "leg curl", "from": 5, "to": 100, "step": 5, "add_on": [2.5]}],
    },
    "pin": [{"lift": "barbell back squat", "days": ["mon"], "reps": "low"}],
    "lift": [
        {"name": "tyre drag", "muscles": {"quads": 1.0, "glutes": 0.5}, "pattern": "squat"}
    ],
}  # fmt: skip


def mara(**changes: Any) -> Lifter:
    """Mara as a value, her file's keys changed."""
    return lifter_from_table(MARA_TABLE | changes, None).value


def _sets(count: int, load_kg: float | None, low: int, high: int) -> tuple[SetPlan, ...]:
    return (SetPlan(load_kg=load_kg, reps_low=low, reps_high=high, rir=2),) * count


def _entries(load_kg: float | None) -> tuple[Entry, ...]:
    return (
        Entry(
            order=1, lift="barbell back squat", method="straight", rest_s=180,
            sets=_sets(3, load_kg, 6, 10),
        ),
        Entry(
            order=2, lift="bench press", method="straight", rest_s=150,
            sets=_sets(3, 50.0, 8, 12),
        ),
        Entry(
            order=3, lift="pull-up", method="straight", rest_s=120, sets=_sets(2, None, 6, 10)
        ),
    )  # fmt: skip


def block(lifter: Lifter, revision: int = 1, load_kg: float | None = 80.0) -> Block:
    """One build week of two sessions and a deload week of one."""

    def session(number: int, day: date) -> Session:
        return Session(
            session=number,
            day=day,
            start_time="18:30",
            minutes_available=75,
            minutes_planned=61.5,
            entries=_entries(load_kg),
        )

    counted = MuscleSets(direct=6, indirect=1, fractional=6.5, floor=4, ceiling=16)
    thursday, deload = MONDAY + timedelta(days=3), MONDAY + timedelta(days=7)
    return Block(
        revision=revision,
        status="ready",
        lifter=lifter,
        start=MONDAY,
        weeks=(
            Week(
                week=1,
                kind="build",
                rir=2,
                sessions=(session(1, MONDAY), session(2, thursday)),
                muscle_sets={"quads": counted},
            ),
            Week(
                week=2,
                kind="deload",
                rir=5,
                sessions=(session(1, deload),),
                muscle_sets={"quads": counted},
            ),
        ),
        solver=SolverReport(status="feasible", objective=100, bound=103, gap=0.029),
    )


def block_document(revision: int = 1, **more: Any) -> dict[str, Any]:
    return dict(plain(block_to_json(block(mara(), revision, **more))))


@dataclass
class World:
    """Everybody's account, and the two lifters."""

    orla: User
    cato: User
    mara: User
    pim: User
    stig: User
    lifter: LifterRow
    """Mara as a lifter."""
    other: LifterRow
    """Somebody Stig coaches."""
    block: BlockRevision = field(init=False)

    def everyone(self) -> dict[str, User]:
        return {name: getattr(self, name) for name in ("orla", "cato", "mara", "pim", "stig")}


def make_world() -> World:
    """Writes the gym into the database."""

    def person(name: str, role: Any) -> User:
        return User.objects.create_user(name.lower(), PASSWORD, name=name, role=role)

    document = dict(plain(lifter_to_table(mara())))
    world = World(
        orla=person("Orla", "owner"),
        cato=person("Cato", "coach"),
        mara=person("Mara", "lifter"),
        pim=person("Pim", "partner"),
        stig=person("Stig", "coach"),
        lifter=LifterRow.objects.create(name="Mara Invented", document=document),
        other=LifterRow.objects.create(
            name="Somebody Else", document=document | {"name": "Somebody Else"}
        ),
    )
    for user, lifter, kind in (
        (world.cato, world.lifter, Share.COACH),
        (world.mara, world.lifter, Share.SELF),
        (world.pim, world.lifter, Share.PARTNER),
        (world.stig, world.other, Share.COACH),
    ):
        Share.objects.create(person=user, lifter=lifter, kind=kind)
    block_row = BlockRevision(
        lifter=world.lifter,
        start=MONDAY,
        revision=1,
        ends=MONDAY + timedelta(days=13),
        status="ready",
        document=block_document(),
        made_by=world.cato,
    )
    with noon_of(MONDAY - timedelta(days=3)):
        block_row.save()
    world.block = block_row
    return world


# ------------------------------------------------------------------------------------- a phone


def set_event(lifter: LifterRow | UUID, n: int = 1, /, **changes: Any) -> dict[str, Any]:
    """A set as a phone queues it; keys of the event, and of `set`, may be changed."""
    key = lifter if isinstance(lifter, UUID) else lifter.key
    minute = n % 60
    said = {
        "lift": "bench press", "set": 1, "load": "50", "unit": "kg", "reps": "10", "rir": "2",
        "rest_s": 150, "method": "straight", "full_range": True, "pain": None, "note": "",
        "confirmed": False,
    }  # fmt: skip
    said |= {name: changes.pop(name) for name in list(changes) if name in said}
    return {
        "id": str(uuid4()),
        "kind": "set",
        "lifter": str(key),
        "device": str(PHONE),
        "n": n,
        "at": f"2026-01-05T18:{minute:02d}:05+01:00",
        "zone": ZONE,
        "began": "2026-01-05T18:00:00+01:00",
        "amends": None,
        "withdrawn": False,
        "plan": {
            "block": "2026-01-05", "revision": 1, "week": 1, "session": 1, "entry": 2, "set": 1,
        },
        "set": said,
    } | changes  # fmt: skip


def checkin_event(lifter: LifterRow, n: int = 1, /, **changes: Any) -> dict[str, Any]:
    """A check-in as a phone queues it."""
    said = {"measure": "sore", "about": "quads", "value": "3", "unit": ""}
    said |= {name: changes.pop(name) for name in list(changes) if name in said}
    event = set_event(lifter, n)
    del event["set"]
    return event | {"kind": "checkin", "checkin": said} | changes


def session_event(lifter: LifterRow, said: dict[str, Any], n: int = 1) -> dict[str, Any]:
    """A turn of a session as a phone queues it."""
    event = set_event(lifter, n)
    del event["set"]
    return event | {"kind": "session", "session": said}


def message(*events: object, **changes: Any) -> dict[str, Any]:
    """A sync request's document; its clock is right unless said otherwise."""
    from django.utils import timezone

    return {
        "format": "blockwright/sync/1",
        "sent_at": timezone.now().isoformat(),
        "events": list(events),
        "seen": {},
    } | changes


def client_of(person: User) -> Client:
    """A browser in which the person is signed in."""
    client = Client()
    client.force_login(person)
    return client
