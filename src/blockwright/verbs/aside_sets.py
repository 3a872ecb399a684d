"""Sets that the estimate set aside as far from everything known: asked about on the lifter's page
until somebody says that they are true, or corrects them."""

from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.db import transaction

from blockwright.accounts.models import User
from blockwright.engine.reasons import Reason
from blockwright.engine.review.exposures import is_doubted
from blockwright.files.words import reason_says
from blockwright.store.facts import facts_of, lock_lifters
from blockwright.store.models import Fact, Lifter
from blockwright.store.standing import in_done_order, standing
from blockwright.verbs.amend_fact import amend, gone
from blockwright.verbs.stored_case import stored_case
from blockwright.verbs.take_log import fact_json


@dataclass(frozen=True, slots=True)
class AsideSet:
    """One set that counts for nothing until it is confirmed."""

    id: UUID
    day: date
    says: str


def aside_sets(row: Lifter) -> tuple[AsideSet, ...]:
    """What was set aside and nobody confirmed, the latest first."""
    beliefs = stored_case(row).beliefs()
    found = [
        (flag.day, lift, flag)
        for whose, lift in beliefs.series
        for flag in beliefs.flags(lift, whose)
        if is_doubted(flag)
    ]
    facts = _sets(row) if found else []
    found = [one for one in found if not fact_json(facts[one[2].row - 1])["set"]["confirmed"]]
    return tuple(
        AsideSet(
            facts[flag.row - 1].id,
            day,
            f"{lift}, {reason_says(Reason(code=flag.code, facts=flag.facts))}",
        )
        for day, lift, flag in sorted(found, key=lambda one: (one[0], one[2].row), reverse=True)
    )


def confirm_set(person: User, row: Lifter, word: UUID, now: datetime) -> str:
    """Stores that a set is true, as an amendment; says it in words. BadInput where it does not
    stand any more."""
    with transaction.atomic():
        lock_lifters([row.key])
        fact = next((one for one in _sets(row) if one.id == word), None)
        if fact is None:
            raise gone("this set was corrected or taken back meanwhile")
        amend(person, row, fact, now, said={"confirmed": True}, body={"confirmed": True})
    said = fact_json(fact)["set"]
    return f"{said['lift']}, {said['load']} {said['unit']} × {said['reps']}: written down as true"


def _sets(row: Lifter) -> list[Fact]:
    """In the order in which `sets_done` numbers them."""
    return in_done_order([one for one in standing(facts_of(row)) if one.kind == Fact.SET])
