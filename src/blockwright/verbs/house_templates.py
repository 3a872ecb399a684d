"""A block's frame kept under a name as the house's template, and used for the next lifter.

Days differ between lifters: a visit of the template goes to the lifter's slot on the same day, and
those left over to the slots left over, in the order of the week."""

from collections.abc import Mapping, Sequence
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput
from blockwright.engine.planning import GivenFrame, frame_of
from blockwright.engine.training import DAY_NAMES, DAYS
from blockwright.store.models import HouseFrame
from .stored_case import StoredBlock

MOST_NAME = 100
Visit = Mapping[str, Any]


def save_template(person: User, stored: StoredBlock, name: str) -> HouseFrame:
    """The block's frame under that name. BadInput without a name, or where it is taken."""
    name = " ".join(name.split())
    if not 1 <= len(name) <= MOST_NAME:
        mend = f"give it a name of up to {MOST_NAME} characters"
        raise BadInput.of("the template has no name", mend, column="name")
    visits = visits_of(frame_of(stored.block, stored.case.catalogue))
    try:
        with transaction.atomic():
            return HouseFrame.objects.create(name=name, visits=visits, by=person)
    except IntegrityError as error:
        says = f'there is a template called "{name}"'
        raise BadInput.of(says, "choose another name", column="name") from error


def visits_of(frame: GivenFrame) -> list[dict[str, Any]]:
    """The frame as it is stored, in the order of the week."""
    return [
        {
            "day": day,
            "start": start,
            "patterns": sorted(patterns),
            "heavy": sorted(b for d, s, b in frame.heavy if (d, s) == (day, start)),
        }
        for (day, start), patterns in sorted(
            frame.roles.items(), key=lambda pair: (DAYS.index(pair[0][0]), pair[0][1] or "")
        )
        if patterns
    ]


def template_called(name: str) -> list[dict[str, Any]]:
    """The visits of the house's template. BadInput where there is none of that name."""
    found = HouseFrame.objects.filter(name=name).first()
    if found is None:
        says = f'no template is called "{name}"'
        raise BadInput.of(says, "choose one of the list", column="template")
    return list(found.visits)


def frame_of_visits(visits: Sequence[Visit]) -> GivenFrame:
    return GivenFrame(
        roles={(v["day"], v["start"]): frozenset(v["patterns"]) for v in visits},
        heavy=frozenset((v["day"], v["start"], basic) for v in visits for basic in v["heavy"]),
        fixed=True,
    )


def templates_told(person: User) -> list[dict[str, Any]]:
    """Every template with what it holds, in words ("Monday: knee heavy, press, row"), and whether
    this person may drop it."""
    return [
        {"frame": frame, "says": _says(frame.visits), "may_drop": _may_drop(person, frame)}
        for frame in HouseFrame.objects.all()
    ]


def drop_template(person: User, pk: int) -> None:
    """Takes a template off the house's list; blocks made from it stay. PermissionDenied for another
    coach's."""
    frame = HouseFrame.objects.filter(pk=pk).first()
    if frame is None:
        return
    if not _may_drop(person, frame):
        raise PermissionDenied
    frame.delete()


def _may_drop(person: User, frame: HouseFrame) -> bool:
    return person.is_owner or frame.by_id == person.pk


def _says(visits: Sequence[Visit]) -> str:
    return "; ".join(
        f"{DAY_NAMES[visit['day']]}: "
        + ", ".join(f"{one} heavy" if one in visit["heavy"] else one for one in visit["patterns"])
        for visit in visits
    )
