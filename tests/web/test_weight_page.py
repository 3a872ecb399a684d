"""Body weight at the desk: a finding by the block, a plot under it, nothing for a partner."""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.test import Client
from test_block_pages import Desk, text_of

from blockwright.accounts.models import User
from blockwright.engine.training import CheckIn, Moment
from blockwright.store.convert import checkin_body
from blockwright.store.facts import NewFact, append_all
from blockwright.store.models import Share

pytestmark = pytest.mark.django_db


def weigh(desk: Desk, rate: float) -> None:
    """Nine weigh-ins in four weeks, 0.1 kg off the line to either side."""
    facts = []
    for number in range(9):
        day = date.today() - timedelta(days=3 * number)
        kg = 80 - rate * 3 * number / 7 + (0.1 if number % 2 else -0.1)
        said = CheckIn(moment=Moment(day=day), measure="bodyweight", about=None, value=round(kg, 2))
        key = uuid4()
        body = checkin_body(said)
        facts.append(
            NewFact(id=key, kind="checkin", day=day, at=None, body=body, digest=key.hex, n=number)
        )
    append_all(facts, desk.row, None, datetime(2026, 1, 1, tzinfo=UTC))


def test_the_finding_stands_on_the_block_and_over_its_plot() -> None:
    desk = Desk(weeks_in=2)
    assert "Body weight" not in desk.page()
    weigh(desk, -0.5)
    assert "falling by 0.5 kg a week" in desk.page()
    page = desk.client.get(f"/lifters/{desk.row.key}/strength/")
    text = page.content.decode()
    heading = text[text.index('<h2 id="weight">') :]
    assert "9 weigh-ins in 28 days" in heading.split("</h2>")[0]
    assert heading.index("<svg") < heading.index("</section>")


def test_a_partner_who_sees_the_block_sees_no_weight() -> None:
    desk = Desk(weeks_in=2)
    weigh(desk, -0.5)
    partner = User.objects.create_user("pim", "a long word for tests", name="Pim", role="partner")
    Share.objects.create(person=partner, lifter=desk.row, kind=Share.PARTNER, sees=Share.HISTORY)
    client = Client()
    client.force_login(partner)
    for path in ("strength/", f"block/{desk.start}/"):
        answer = client.get(f"/lifters/{desk.row.key}/{path}")
        assert answer.status_code == 200
        assert "Body weight" not in text_of(answer)
