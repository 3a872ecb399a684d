"""The rack and the lifts for somebody signed in: in the usual gym, or that of a lifter they see."""

from typing import Any
from uuid import UUID

from blockwright.accounts.models import User
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.store.access import lifter_for, lifters_for
from .list_lifts import Narrowing, narrowed
from .rack_load import RackQuestion, rack_document
from .stored_values import KnownLifter, load_lifter


def gyms_for(person: User) -> list[tuple[UUID, str]]:
    """Key and name of every lifter whose gym this person may ask about."""
    return [(row.key, row.name) for row in lifters_for(person)]


def rack_in_gym(person: User, lifter: UUID | None, question: RackQuestion) -> dict[str, Any]:
    """The `blockwright/rack/1` document in a lifter's gym, or with the usual bar and plates.
    Http404 for a lifter this person may not see; BadInput as `rack_load`."""
    known = _known(person, lifter)
    if known is None:
        return rack_document(question, None, default_policy())
    return rack_document(question, known.value, known.policy)


def lifts_in_gym(person: User, lifter: UUID | None, narrowing: Narrowing) -> dict[str, Any]:
    """The `blockwright/lifts/1` document: the shipped catalogue, or what a lifter's gym has the
    kit for, their own lifts among it. Http404 and BadInput as above."""
    known = _known(person, lifter)
    if known is None:
        return narrowed(narrowing, builtin_catalogue(), None)
    return narrowed(narrowing, known.catalogue, known.value.gym.kit)


def _known(person: User, lifter: UUID | None) -> KnownLifter | None:
    return None if lifter is None else load_lifter(lifter_for(person, lifter, "see"))
