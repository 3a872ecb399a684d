"""Body weight at the desk: a finding by the block, a plot under it, nothing for a partner."""

import re
from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.test import Client
from test_block_pages import Desk, text_of

from blockwright.accounts.models import User
from blockwright.engine.training import CheckIn, Measure, Moment
from blockwright.store.convert import checkin_body
from blockwright.store.facts import append_all
from blockwright.store.models import Fact, Share

pytestmark = pytest.mark.django_db


def weigh(desk: Desk, rate: float, measure: Measure = "bodyweight", every: int = 3) -> None:
    """Nine weigh-ins in four weeks, 0.1 kg off the line to either side."""
    facts = []
    for number in range(9):
        day = date.today() - timedelta(days=every * number)
        value = 80 - rate * every * number / 7 + (0.1 if number % 2 else -0.1)
        said = CheckIn(moment=Moment(day=day), measure=measure, about=None, value=round(value, 2))
        key = uuid4()
        body = checkin_body(said)
        facts.append(
            Fact(id=key, kind="checkin", day=day, at=None, body=body, digest=key.hex, n=number)
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
    panels = r'<div class="panels">\s*<section aria-labelledby="weight">'
    assert re.search(panels, text), "drawn as large as a girth or a lift"


def test_each_girth_is_a_plot_under_its_finding() -> None:
    desk = Desk(weeks_in=2)
    weigh(desk, -0.4, "waist", every=7)
    weigh(desk, 0.1, "arm", every=2)
    text = desk.client.get(f"/lifters/{desk.row.key}/strength/").content.decode()
    heading = text[text.index('<h2 id="girth-1">') :]
    says = "Waist 80 cm, shrinking by 0.4 cm a week ("
    assert says in heading.split("</h2>")[0]
    assert "measured 9 times in 12 weeks" in heading.split("</h2>")[0]
    assert heading.index("<svg") < heading.index("</section>")
    assert "girth-2" not in text, "an arm over two weeks tells no trend"


def test_a_partner_who_sees_the_block_sees_no_weight() -> None:
    desk = Desk(weeks_in=2)
    weigh(desk, -0.5)
    weigh(desk, -0.5, "waist", every=7)
    partner = User.objects.create_user("pim", "a long word for tests", name="Pim", role="partner")
    Share.objects.create(person=partner, lifter=desk.row, kind=Share.PARTNER, sees=Share.HISTORY)
    client = Client()
    client.force_login(partner)
    for path in ("strength/", f"block/{desk.start}/"):
        answer = client.get(f"/lifters/{desk.row.key}/{path}")
        assert answer.status_code == 200
        assert "Body weight" not in text_of(answer)
        assert "Waist" not in text_of(answer)
