"""The block typed into, as the server answers it: judged, chosen from, solved, kept."""

import json
from typing import Any

import pytest
from django.template.loader import render_to_string
from django.utils.html import strip_tags
from test_block_pages import Desk

from blockwright.engine.training import Entry

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Desk:
    return Desk(weeks_in=2)


def entry_at(desk: Desk, week: int, session: int, lift: str) -> Entry:
    found = desk.block.weeks[week - 1].sessions[session - 1]
    return next(entry for entry in found.entries if entry.lift == lift)


def send(desk: Desk, *steps: dict[str, Any], status: int = 200, path: str = "", **more: Any) -> Any:
    fields = {"revision": desk.latest.revision, "steps": json.dumps(steps), **more}
    answer = desk.client.post(f"{desk.at}typed/{path}", fields)
    assert answer.status_code == status, answer.content[:2000]
    return answer


CURL = {"week": 5, "session": 1, "lift": "leg curl"}


def test_a_change_is_shown_in_the_grid_and_not_kept(desk: Desk) -> None:
    text = send(
        desk, {"kind": "set_range", **CURL, "reps_low": 9, "reps_high": 13}
    ).content.decode()
    assert "9–13" in text
    assert "1 change typed, not kept yet" in text
    assert "Leg curl on Monday: 9–13 repetitions" in text
    margin = text[text.index('data-lift="leg curl"') :].split("</tr>")[0].partition('"margin"')[2]
    assert "Week 5: 9–13 repetitions where there were" in strip_tags(margin), "its row names it"
    # Changed from week 5 on: two build weeks and no other cell are told apart.
    assert text.count('class="typed"') == 2
    assert desk.latest.revision == 1


def test_the_rows_of_a_day_stand_in_the_order_that_was_typed(desk: Desk) -> None:
    step = {"kind": "order_lift", **CURL, "earlier": True}
    text = send(desk, step).content.decode()
    assert "leg curl comes at place " in text
    before = [e.lift for e in desk.block.weeks[4].sessions[0].entries]
    rows = text[text.index('data-title="Monday') :].split("</tbody>")[0]
    places = [rows.index(f'data-lift="{lift}"') for lift in before]
    at = before.index("leg curl")
    assert places[at] < places[at - 1]
    assert sorted(places[: at - 1] + places[at + 1 :]) == places[: at - 1] + places[at + 1 :]


def test_what_clashes_stands_in_the_margin_and_cannot_be_kept(desk: Desk) -> None:
    step = {"kind": "set_reserve", **CURL, "rir": 0}
    text = send(desk, step).content.decode()
    row = text[text.index('data-lift="leg curl"') :].split("</tr>")[0]
    assert '<span class="clash">Week 5: leg curl would go to failure' in row
    assert 'data-act="keep"' not in text
    said = text.partition("not kept yet; cannot stand: ")[2].partition("</summary>")[0]
    assert "leg curl would go to failure" in said
    assert "to failure" in send(desk, step, status=422, step="keep").json()["problems"][0]
    assert desk.latest.revision == 1


def test_of_many_clashes_the_first_stand_in_the_margin_and_the_rest_is_folded() -> None:
    text = render_to_string(
        "web/block_clashes.html", {"clashes": ["ez bar curl is heavy", *"abcd"]}
    )
    at_once, folded = text.split("<details>")
    assert at_once.count('class="clash"') == 3
    assert folded.startswith("<summary>2 more clashes</summary>")
    assert "EZ bar curl is heavy" in at_once


def test_the_rule_of_a_muscle_is_said_where_it_was_typed(desk: Desk) -> None:
    lift = "dumbbell lateral raise"
    place = {"week": 5, "session": 3, "lift": lift}
    step = {"kind": "set_count", **place, "sets": len(entry_at(desk, 5, 3, lift).sets) + 1}
    text = send(desk, step).content.decode()
    thursday = text[text.index('data-title="Thursday') :]
    row = thursday[thursday.index(f'data-lift="{lift}"') :].split("</tr>")[0]
    assert "side delts would climb by" in row


def test_all_of_it_is_kept_as_one_revision(desk: Desk) -> None:
    steps = (
        {"kind": "set_load", **CURL, "load": 45},
        {"kind": "pin_lift", **CURL},
    )
    answer = send(desk, *steps, step="keep", words="as agreed", insist="yes", status=201)
    assert answer.json()["address"].endswith("?kept=2")
    assert desk.latest.revision == 2
    assert entry_at(desk, 5, 1, "leg curl").sets[0].load_kg == 45
    assert [one.words for one in desk.block.decisions] == ["", "as agreed"]
    # Another tab saw revision 1.
    stale = send(desk, *steps, status=409, revision=1)
    assert "changed meanwhile" in stale.json()["problems"][0]


def test_too_close_is_insisted_on_of_the_lift_that_is_too_close_only(desk: Desk) -> None:
    close = {"kind": "move_lift", "week": 5, "session": 3, "lift": "assisted pull-up"}
    steps = (
        {"kind": "set_load", **CURL, "load": 45},
        {**close, "to_session": 2},
    )
    before = desk.block.lifter.pins
    send(desk, *steps, step="keep", insist="yes", status=201)
    new = [pin.lift for pin in desk.block.lifter.pins if pin not in before]
    assert new == ["assisted pull-up"]


def test_lifts_by_part_of_a_name_with_what_each_costs(desk: Desk) -> None:
    asked = {"week": 5, "session": 1, "lift": "leg curl", "typed": "curl"}
    text = send(desk, path="lifts/", **asked).content.decode()
    assert text.count('class="choice"') == 3
    assert text.count("cost") == 3
    assert "kg" in text or "load to be found" in text
    assert 'class="cost">as long; hamstrings −2; biceps +2' in text
    legs = send(desk, path="lifts/", **(asked | {"typed": "leg"})).content.decode()
    assert 'class="cost">4 minutes longer; quads +2; hamstrings −2; glutes +1;' in legs
    none = send(desk, path="lifts/", **(asked | {"typed": "xyzzy"})).content.decode()
    assert "No lift the kit allows has “xyzzy” in its name" in none
    more = send(desk, path="lifts/", **(asked | {"lift": ""})).content.decode()
    assert text.count('class="choice"') == 3
    assert "cannot be used" not in more


def test_solving_goes_around_what_was_typed_and_is_kept_with_it(desk: Desk) -> None:
    steps: list[dict[str, Any]] = [
        {"kind": "set_range", **CURL, "reps_low": 9, "reps_high": 13},
        {"kind": "pin_lift", "week": 5, "session": 3, "lift": "cable crunch"},
    ]
    text = send(desk, *steps, step="solve").content.decode()
    made = int(text.split('data-made="')[1].split('"')[0])
    assert "3 changes typed" in text
    # Nobody is offered it on the page of the long search.
    assert "See what it would change" not in desk.page("rest/")
    steps += [{"kind": "take_rest", "composing": made}, {"kind": "set_load", **CURL, "load": 45}]
    send(desk, *steps, step="keep", insist="yes", status=201)
    typed = entry_at(desk, 5, 1, "leg curl")
    assert (typed.sets[0].reps_low, typed.sets[0].reps_high, typed.sets[0].load_kg) == (9, 13, 45)
    assert entry_at(desk, 5, 3, "cable crunch")
    kinds = [one.kind for one in desk.block.decisions]
    assert kinds == ["coach_range", "coach_pin", "coach_rest", "coach_load"]


@pytest.mark.parametrize(
    "steps",
    [
        "[", "{}", '"x"', "[1]", '[{"kind": "go_back", "revision": 1}]', '[{"kind": "set_count"}]',
        '[{"kind": "set_load", "week": 5, "session": 1, "lift": "leg curl", "load": NaN}]',
        '[{"kind": "set_count", "week": true, "session": 1, "lift": "leg curl", "sets": 2}]',
        '[{"kind": "hurts", "week": 5, "session": 1, "lifts": [3]}]',
        '[{"kind": "take_rest", "composing": 4}]',
    ],
)  # fmt: skip
def test_what_is_no_change_is_said_so(desk: Desk, steps: str) -> None:
    answer = desk.client.post(f"{desk.at}typed/", {"revision": 1, "steps": steps})
    if steps == "{}":
        assert answer.status_code == 200, "nothing typed is the block as it is"
    elif "take_rest" in steps:
        assert answer.status_code == 404
    else:
        assert answer.status_code == 422
        assert answer.json()["problems"]
    assert desk.latest.revision == 1
