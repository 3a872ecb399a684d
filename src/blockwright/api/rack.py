"""What is looked up: plates, nearest loads, warm-up and a partner's changes; the lift catalogue;
every number a coach may change."""

from typing import Annotated, Literal

from django.http import HttpRequest, HttpResponse
from pydantic import Field

from blockwright.engine.training import MUSCLES
from blockwright.engine.units import Unit
from blockwright.files.vocabulary import vocabulary
from blockwright.store.access import person_of
from blockwright.verbs.desk_gyms import lifts_in_gym, rack_in_gym
from blockwright.verbs.list_lifts import Narrowing, policy_document
from blockwright.verbs.rack_load import RackQuestion
from . import calls
from .calls import Calls
from .documents import json_answer
from .values import Find, LeftOut, MaybeKey

router = Calls("Rack")

_TYPED = r"^[0-9]{1,4}(\.[0-9]{1,3})?$"
Load = Annotated[str, Field(pattern=_TYPED, description="As typed: 82.5, in `unit`.")]
PartnersLoad = Annotated[str, Field(pattern=_TYPED)] | LeftOut
MaybeUnit = Annotated[Unit | LeftOut, Field(description="The lifter's own where it is left out.")]


@router.document("/rack", "rack", calls.ANYONE, refuses=True)
def rack(
    request: HttpRequest,
    load: Load,
    unit: MaybeUnit = None,
    lifter: MaybeKey = None,
    lift: Find = None,
    bar: Find = None,
    partner: PartnersLoad = None,
) -> HttpResponse:
    """What a load needs. In the gym of a `lifter` I may see; without one on a 20 kg bar (45 lb)
    with enough standard plates."""
    question = RackQuestion(load=load, unit=unit, lift=lift, bar=bar, partner=partner)
    return json_answer(request, rack_in_gym(person_of(request), lifter, question))


lift_calls = Calls("Lifts")

_PATTERNS = tuple(vocabulary().patterns)
Muscle = Literal[MUSCLES] | LeftOut  # type: ignore[valid-type]
Pattern = Literal[_PATTERNS] | LeftOut  # type: ignore[valid-type]


@lift_calls.document("/lifts", "lifts", calls.ANYONE)
def lifts(
    request: HttpRequest,
    muscle: Muscle = None,
    pattern: Pattern = None,
    find: Find = None,
    lifter: MaybeKey = None,
) -> HttpResponse:
    """The lift catalogue. `muscle`: lifts that train it directly; `find`: part of a name; `lifter`:
    what the gym of one I may see has the kit for, their own lifts among it."""
    narrowing = Narrowing(muscle=muscle or "", pattern=pattern or "", find=find or "")
    return json_answer(request, lifts_in_gym(person_of(request), lifter, narrowing))


policy_calls = Calls("Policy")


@policy_calls.document("/policy", "policy", calls.ANYONE)
def policy(request: HttpRequest, find: Find = None) -> HttpResponse:
    """Every adjustable number. `find`: part of a key or of its reason. A lifter's own values stand
    in their document."""
    return json_answer(request, policy_document(None, find or ""))
