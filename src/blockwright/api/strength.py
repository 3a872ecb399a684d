"""How strong a lifter is on each lift, how good that estimate has been, what a block came
to, and its weekly sets per muscle."""

from typing import Any

from django.http import HttpRequest, HttpResponse

from blockwright.store.partner import told
from blockwright.verbs.estimate_strength import backtest_log
from blockwright.verbs.report_lifter import count_sets, estimate_lifter, report_lifter
from blockwright.verbs.stored_case import stored_case
from . import calls
from .calls import Calls
from .documents import json_answer
from .errors import ApiError
from .signed_in import lifter_of, today_for
from .values import Day, Key

router = Calls("Strength")


@router.document("/lifters/{lifter}/estimate", "estimate", calls.READ)
def estimate(request: HttpRequest, lifter: Key) -> HttpResponse:
    """Strength per lift, with its uncertainty. From every set the site knows."""
    row = lifter_of(request, lifter, "read")
    return json_answer(request, estimate_lifter(row).document)


@router.document("/lifters/{lifter}/backtest", "backtest", calls.READ)
def backtest(request: HttpRequest, lifter: Key) -> HttpResponse:
    """Each set predicted from the sets before it only."""
    row = lifter_of(request, lifter, "read")
    return json_answer(request, told(row, backtest_log([stored_case(row)]).document))


@router.document("/lifters/{lifter}/blocks/{start}/report", "report", calls.READ, refuses=True)
def report(request: HttpRequest, lifter: Key, start: Day) -> HttpResponse:
    """What a block came to. 409 while nothing of it is done."""
    row = lifter_of(request, lifter, "read")
    document = report_lifter(row, start, today_for(request))
    if document is None:
        says = "nothing of this block is done yet"
        raise ApiError(409, "not_possible", says, "ask again after its first session")
    return json_answer(request, document)


@router.reads("/lifters/{lifter}/blocks/{start}/sets", dict[str, Any], calls.READ)
def sets(request: HttpRequest, lifter: Key, start: Day) -> HttpResponse:
    """Weekly sets per muscle, done and planned. The blockwright/sets/1 document."""
    row = lifter_of(request, lifter, "read")
    return json_answer(request, count_sets(row, start, today_for(request)))
