"""The review's page and the ledger: what a coach reads and sends, without script."""

import re
from copy import deepcopy
from datetime import timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client

import desk_people
import people
from blockwright.sheets.letter import letter_of
from blockwright.sheets.letter_text import letter_text
from blockwright.store.blocks import block_of
from blockwright.store.models import Decision, Lifter, Proposals, Share
from blockwright.verbs.decide_letter import all_open, decide_letter
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db

MONDAY = desk_people.sunday(1) + timedelta(days=1)
SQUAT = "barbell back squat"


@pytest.fixture(scope="module")
def written(rows_kept: None) -> tuple[people.World, Lifter, Proposals]:
    """The gym, a lifter with a week done, and a letter, made once for the file."""
    world = people.make_world()
    row = desk_people.desk_lifter(world.cato, 1)
    Share.objects.create(lifter=row, person=world.mara, kind=Share.SELF)
    return world, row, write_letter(row, MONDAY).letter


@pytest.fixture
def world(db: Any, written: tuple[people.World, Lifter, Proposals]) -> people.World:
    return deepcopy(written[0])


@pytest.fixture
def row(db: Any, written: tuple[people.World, Lifter, Proposals]) -> Lifter:
    return Lifter.objects.get(pk=written[1].pk)


@pytest.fixture
def unread(world: people.World) -> Lifter:
    """Somebody before their first letter."""
    return desk_people.desk_lifter(world.cato, 1)


@pytest.fixture
def letter(db: Any, written: tuple[people.World, Lifter, Proposals]) -> Proposals:
    return Proposals.objects.get(pk=written[2].pk)


@pytest.fixture
def coach(world: people.World) -> Client:
    return signed_in(world.cato)


def signed_in(person: Any) -> Client:
    client = Client()
    client.force_login(person)
    return client


def at(row: Lifter, letter: Proposals | None = None) -> str:
    return f"/lifters/{row.key}/review/" + (f"{letter.pk}/" if letter is not None else "")


def text_of(answer: Any) -> str:
    return " ".join(unescape(answer.content.decode()).split())


def first_of(letter: Proposals, kind: str) -> dict[str, Any]:
    return next(dict(p) for p in letter.document["proposals"] if p["kind"] == kind)


# --------------------------------------------------------------------------------------- read


def test_before_the_first_letter_the_page_offers_to_write_one(
    coach: Client, unread: Lifter
) -> None:
    row = unread
    page = coach.get(at(row))
    assert "No letter has been written yet" in text_of(page)
    assert 'value="2026-01-11"' in page.content.decode()
    answer = coach.post(at(row), {"through": "2026-01-11"})
    stored = Proposals.objects.get(lifter=row)
    assert answer["Location"] == at(row, stored)


def test_the_page_says_the_sentences_of_the_command(
    coach: Client, row: Lifter, letter: Proposals
) -> None:
    page = text_of(coach.get(at(row)))
    shown = letter_of(letter.document)
    command = " ".join(letter_text(shown, full=True).split())
    for line in shown.lines:
        for said in (line.says, line.claim, *(one.says for one in line.because)):
            assert said in page
        assert line.says in command
        assert f"{line.figure} that {line.claim}." in page
        if line.runner_up:
            assert f"Next best: {line.runner_up}" in page
    for said in (*shown.settle, *shown.stays, *shown.happened, *shown.sources, shown.message):
        assert said in page
        assert said in command
    assert shown.verdict in page


def face_of(page: str) -> str:
    """What stands on the face of a letter: nothing that is folded, no markup."""
    article = page[page.index("<article") : page.index("</article>")]
    article = re.sub(r"<summary.*?</summary>", " ", article, flags=re.S)
    while "<details" in article:
        article = re.sub(r"<details(?:(?!<details).)*?</details>", " ", article, flags=re.S)
    article = re.sub(r'<span class="unseen">.*?</span>', "", article, flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", article)).split())


def test_the_face_is_short_and_says_a_caution_and_no_figure_of_the_model(
    world: people.World, coach: Client
) -> None:
    row = desk_people.desk_lifter(world.cato, 1, pain={"leg curl": 4})
    letter = write_letter(row, MONDAY).letter
    face = face_of(coach.get(at(row, letter)).content.decode())
    assert len(face.split()) <= 450
    assert "leg curl (pain 4 of 10" in face
    for word in ("%", "SMD", "probability", "monotony", "performance held"):
        assert word not in face


def test_the_lifter_reads_it_and_finds_no_button(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    page = signed_in(world.mara).get(at(row, letter)).content.decode()
    assert ">Change</h3>" in page
    main = page[page.index("<main") :]
    assert "<button" not in main.replace('<button type="button" class="plain" data-copy', "")
    assert "<input" not in main


def test_a_bad_day_is_told_beside_the_field(coach: Client, unread: Lifter) -> None:
    row = unread
    for day, words in (("2099-01-01", "is yet to come"), ("soon", "is no date")):
        answer = coach.post(at(row), {"through": day})
        assert answer.status_code == 422
        assert words in text_of(answer)


# ------------------------------------------------------------------------------------- decide


def test_all_is_accepted_with_one_button(coach: Client, row: Lifter, letter: Proposals) -> None:
    answer = coach.post(at(row, letter), {"revision": 1, "accept_all": "yes"})
    assert answer["Location"] == f"{at(row, letter)}#decided"
    page = text_of(coach.get(at(row, letter)))
    assert "Every line is decided" in page
    assert "The next sheet" not in page, "the block lies in the past"
    raised = first_of(letter, "raise_load")
    assert f"{raised['lift']}, " in page
    assert "What changed on the sheets of week 2" in page


def test_the_answer_to_the_script_holds_what_was_decided(
    coach: Client, row: Lifter, letter: Proposals
) -> None:
    form = {"revision": 1, "accept_all": "yes"}
    part = coach.post(at(row, letter), form, headers={"X-Letter": "alone"})
    assert 'id="decided"' in part.content.decode()
    assert "<h1" not in part.content.decode()
    again = coach.post(
        at(row, letter),
        {"revision": 2, "undo": first_of(letter, "raise_load")["id"], "back": "evening"},
        headers={"X-Letter": "alone"},
    )
    assert 'id="decided"' not in again.content.decode(), "the evening page has letters only"


def test_lines_are_accepted_changed_and_declined(
    coach: Client, row: Lifter, letter: Proposals
) -> None:
    raised = [p for p in letter.document["proposals"] if p["kind"] == "raise_load"]
    one, two, three = (p["id"] for p in raised[:3])
    before = f"{raised[1]['before']['load_kg']:g}".replace(".", ",")
    form = {
        "revision": 1,
        f"verdict-{one}": "accepted",
        f"verdict-{two}": "changed",
        f"value-{two}": before,
        f"unit-{two}": "kg",
        f"words-{two}": "once  more",
        f"verdict-{three}": "declined",
        f"words-{three}": "elbow <b>first</b>",
    }
    assert coach.post(at(row, letter), form).status_code == 302
    verdicts = {one.proposal: one.verdict for one in Decision.objects.all()}
    assert verdicts == {one: "accepted", two: "changed", three: "declined"}
    page = coach.get(at(row, letter))
    assert "“once more”" in text_of(page)
    assert "elbow &lt;b&gt;first" in page.content.decode()
    assert "still open" in text_of(page)


@pytest.mark.parametrize("way", ["page", "API"])
def test_words_stay_with_the_line_they_were_given_with(
    coach: Client, row: Lifter, letter: Proposals, way: str
) -> None:
    one = first_of(letter, "raise_load")["id"]
    if way == "page":
        form = {"revision": 1, f"verdict-{one}": "declined", f"words-{one}": "knee first"}
        assert coach.post(at(row, letter), form | {"accept_all": "yes"}).status_code == 302
    else:
        said = {"proposal": one, "verdict": "declined", "words": "knee first"}
        body = {"seen_revision": 1, "decisions": [said], "accept_open": True}
        where = f"/api/lifters/{row.key}/letters/{letter.pk}/decisions"
        assert coach.post(where, body, content_type="application/json").status_code == 201
    block = coach.get(f"/api/lifters/{row.key}/blocks/{letter.block.start}").json()
    told = {each["proposal"]: each["words"] for each in block["decisions"]}
    assert len(told) == len(letter.document["proposals"])
    assert {name: words for name, words in told.items() if words} == {one: "knee first"}


def test_pounds_typed_are_pounds(coach: Client, row: Lifter, letter: Proposals) -> None:
    raised = first_of(letter, "raise_load")
    form = {
        "revision": 1,
        f"verdict-{raised['id']}": "changed",
        f"value-{raised['id']}": "155",
        f"unit-{raised['id']}": "lb",
    }
    answer = coach.post(at(row, letter), form)
    assert answer.status_code == 422
    assert "The gym cannot make 155 lb" in text_of(answer)


@pytest.mark.parametrize(
    ("verdict", "value", "words"),
    [
        ("changed", "", "write the load"),
        ("accepted", "60", "choose change, or empty the field"),
        ("", "60", "nothing is chosen"),
        ("changed", "heavy", "cannot be read"),
        ("changed", "190", "at most 10 % at once"),
    ],
)
def test_what_cannot_be_done_is_said_on_its_line_and_kept_in_the_form(
    coach: Client, row: Lifter, letter: Proposals, verdict: str, value: str, words: str
) -> None:
    name = first_of(letter, "raise_load")["id"]
    form = {"revision": 1, f"verdict-{name}": verdict, f"value-{name}": value}
    answer = coach.post(at(row, letter), form)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert words in unescape(page)
    assert f'id="wrong-{letter.pk}-{name}"' in page
    assert f'value="{value}"' in page
    assert Decision.objects.count() == 0


def test_a_form_of_an_older_revision_is_refused_with_a_way_on(
    world: people.World, coach: Client, row: Lifter, letter: Proposals
) -> None:
    raised = first_of(letter, "raise_load")
    decide_letter(world.orla, row, letter.pk, all_open(row, letter.pk), 1)
    form = {"revision": 1, f"verdict-{raised['id']}": "declined"}
    answer = coach.post(at(row, letter), form)
    assert answer.status_code == 409
    assert "Nothing was stored: Orla decided on this letter meanwhile" in text_of(answer)
    assert coach.post(at(row, letter), form | {"revision": 2}).status_code == 302


def test_what_was_typed_meanwhile_stays_but_where_somebody_else_decided(
    world: people.World, coach: Client, row: Lifter, letter: Proposals
) -> None:
    theirs, open_one, *_ = letter.document["proposals"]
    said = [one for one in all_open(row, letter.pk) if one.proposal == theirs["id"]]
    decide_letter(world.orla, row, letter.pk, said, 1)
    form = {"revision": 1}
    for one, words in ((theirs, "over yours"), (open_one, "she slept badly")):
        form |= {f"verdict-{one['id']}": "declined", f"words-{one['id']}": words}
    answer = coach.post(at(row, letter), form)
    assert answer.status_code == 409
    assert 'value="she slept badly"' in answer.content.decode()
    assert "over yours" not in answer.content.decode()


def test_a_letter_that_is_overtaken_shows_no_form_but_what_to_do_instead(
    world: people.World, coach: Client, row: Lifter, letter: Proposals
) -> None:
    from dataclasses import replace

    from blockwright.files.block_json import block_to_json
    from blockwright.files.json_text import plain
    from blockwright.store.blocks import add_revision
    from blockwright.verbs.stored_values import block_value

    edited = replace(block_value(letter.block), revision=2)
    add_revision(row, dict(plain(block_to_json(edited))), world.cato)
    page = coach.get(at(row, letter))
    assert "cannot be decided on any more" in text_of(page)
    assert "Write the letter anew" in text_of(page)
    assert "verdict-" not in page.content.decode()
    answer = coach.post(at(row), {"through": "2026-01-11"}, follow=True)
    assert "verdict-" in answer.content.decode()
    before = text_of(coach.get(at(row, letter)))
    assert "written, through 11 January 2026" in before
    assert "Open the latest letter" in before
    assert "Write the letter anew" not in before


def test_facts_that_came_in_later_are_told(
    world: people.World, coach: Client, row: Lifter, letter: Proposals
) -> None:
    block = desk_people.block_from()
    block["weeks"][0]["sessions"] = block["weeks"][0]["sessions"][:1]
    block["weeks"][0]["sessions"][0]["date"] = "2026-01-09"
    desk_people.train(row, world.cato, block, range(1, 2))
    assert "entries of its weeks came in after it was written" in text_of(coach.get(at(row)))


def test_a_referral_stays_on_the_page_though_it_was_declined(
    world: people.World, coach: Client
) -> None:
    row = desk_people.desk_lifter(world.cato, 1, notes={SQUAT: "felt faint after the last"})
    letter = write_letter(row, MONDAY).letter
    refer = first_of(letter, "refer")
    form = {"revision": 1, f"verdict-{refer['id']}": "declined", f"words-{refer['id']}": "no"}
    assert coach.post(at(row, letter), form).status_code == 302
    page = text_of(coach.get(at(row, letter)))
    for caution in letter.document["cautions"]:
        assert caution["says"] in page
    block = block_of(row, desk_people.START)
    assert block is not None
    assert [c["code"] for c in letter.document["cautions"]] == [
        c["code"] for c in block.document["cautions"] if c in letter.document["cautions"]
    ]


# ------------------------------------------------------------------------------------- ledger


@pytest.fixture
def decided(world: people.World, coach: Client, row: Lifter, letter: Proposals) -> Proposals:
    raised = [p["id"] for p in letter.document["proposals"] if p["kind"] == "raise_load"]
    form = {
        "revision": 1,
        f"verdict-{raised[0]}": "declined",
        f"words-{raised[0]}": "elbow first",
        f"verdict-{raised[1]}": "accepted",
    }
    coach.post(at(row, letter), form)
    return letter


def lines(client: Client, row: Lifter, **asked: Any) -> tuple[int, str]:
    answer = client.get(f"/lifters/{row.key}/ledger/", asked)
    assert answer.status_code == 200
    return answer.context["page"].found, text_of(answer)


def test_the_ledger_holds_every_proposal_with_its_word(
    coach: Client, row: Lifter, decided: Proposals
) -> None:
    found, page = lines(coach, row)
    assert found == len(decided.document["proposals"])
    assert "Declined. “elbow first”" in page
    assert "Open: nothing was decided." in page
    assert "Cato" in page


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ({"text": "elbow FIRST"}, 1),
        ({"verdict": "declined"}, 1),
        ({"verdict": "accepted"}, 1),
        ({"text": "nothing like this"}, 0),
        ({"verdict": "declined", "kind": "add_set"}, 0),
        ({"last": "2020-01-01"}, 0),
        ({"first": "2020-01-01", "verdict": "declined"}, 1),
    ],
)
def test_the_ledger_is_searched_by_a_plain_form(
    coach: Client, row: Lifter, decided: Proposals, asked: dict[str, str], expected: int
) -> None:
    assert lines(coach, row, **asked)[0] == expected


def test_the_ledger_finds_a_lift_and_a_kind(coach: Client, row: Lifter, decided: Proposals) -> None:
    raised = first_of(decided, "raise_load")
    same = [p for p in decided.document["proposals"] if p["lift"] == raised["lift"]]
    assert lines(coach, row, lift=raised["lift"])[0] == len(same)
    kinds = [p for p in decided.document["proposals"] if p["kind"] == "raise_load"]
    assert lines(coach, row, kind="raise_load")[0] == len(kinds)


def test_the_coachs_own_decisions_lead_the_ledger(
    coach: Client, row: Lifter, decided: Proposals
) -> None:
    answer = coach.get(f"/lifters/{row.key}/ledger/")
    verdicts = [line.verdict for line in answer.context["page"].lines]
    assert verdicts[:2] == ["declined", "accepted"]
    assert set(verdicts[2:]) == {"open"}


def test_a_decision_is_undone_and_all_letters_are_written_through_the_api(
    world: people.World, coach: Client, unread: Lifter
) -> None:
    row = unread
    waits = coach.get("/api/evening").json()
    assert str(row.key) in waits["due"]
    written = coach.post("/api/evening", {}, content_type="application/json").json()
    assert written["failed"] == []
    letter = Proposals.objects.get(lifter=row)
    assert letter.pk in [one["id"] for one in written["written"]]
    where = f"/api/lifters/{row.key}/letters/{letter.pk}/decisions"
    name = letter.document["proposals"][0]["id"]
    for seen, verdict in enumerate(("accepted", "undone"), start=1):
        body = {
            "seen_revision": seen,
            "decisions": [{"proposal": name, "verdict": verdict}],
        }
        assert coach.post(where, body, content_type="application/json").status_code == 201
    assert [one["verdict"] for one in coach.get(where).json()] == ["accepted", "undone"]
    found = coach.get("/api/evening").json()
    (mine,) = [one for one in found["letters"] if one["letter"] == letter.pk]
    assert mine["open_lines"] == len(letter.document["proposals"])


def test_a_later_decision_is_a_line_of_its_own(
    world: people.World, coach: Client, row: Lifter, decided: Proposals
) -> None:
    before, _ = lines(coach, row)
    decide_letter(world.orla, row, decided.pk, all_open(row, decided.pk), 2)
    assert lines(coach, row)[0] == before
    raised = first_of(decided, "raise_load")["id"]
    decide_letter(
        world.orla, row, decided.pk, [CoachAnswer(proposal=raised, verdict="accepted")], 3
    )
    assert lines(coach, row)[0] == before + 1
    found, page = lines(coach, row, text="elbow first")
    assert found == 1
    assert "Declined. “elbow first”" in page


def test_a_change_by_hand_stands_in_the_ledger(
    world: people.World, coach: Client, unread: Lifter
) -> None:
    row = unread
    from blockwright.store.blocks import add_revision

    document = desk_people.block_from() | {"revision": 2}
    document["decisions"] = [
        {
            "proposal": "r2-coach-rest", "kind": "coach_rest", "decision": "changed",
            "words": "new plan", "change": {"week": 3},
        }
    ]  # fmt: skip
    add_revision(row, document, world.orla)
    found, page = lines(coach, row, verdict="by hand")
    assert found == 1
    assert "By hand. “new plan”" in page
    assert "Orla" in page


def test_a_date_that_is_none_is_told(coach: Client, row: Lifter, decided: Proposals) -> None:
    answer = coach.get(f"/lifters/{row.key}/ledger/", {"first": "soon"})
    assert answer.status_code == 422
    assert "This is no date" in text_of(answer)


def test_the_rest_of_the_search_stands_open_where_it_asks_something(
    coach: Client, row: Lifter, decided: Proposals
) -> None:
    folded = "<details><summary>By decision, kind, lift and days"
    asked_for: list[tuple[dict[str, str], bool]] = [
        ({}, True), ({"text": "elbow"}, True), ({"verdict": "open"}, False),
        ({"first": "soon"}, False),
    ]  # fmt: skip
    for asked, is_folded in asked_for:
        page = text_of(coach.get(f"/lifters/{row.key}/ledger/", asked)).replace("> <", "><")
        assert (folded in page) == is_folded, asked


def test_the_ledger_comes_in_pages(
    world: people.World, coach: Client, row: Lifter, letter: Proposals
) -> None:
    block = letter.document
    for week in range(2, 5):
        desk_people.train(row, world.cato, desk_people.block_from(), range(week, week + 1))
        write_letter(row, desk_people.sunday(week) + timedelta(days=1))
    answer = coach.get(f"/lifters/{row.key}/ledger/", {"verdict": "open"})
    page = answer.context["page"]
    assert b'href="?verdict=open&amp;page=2" rel="next"' in answer.content
    assert page.pages > 1
    assert len(page.lines) == 30
    last = coach.get(
        f"/lifters/{row.key}/ledger/", {"verdict": "open", "page": page.pages}
    ).context["page"]
    assert len(last.lines) == page.found - 30 * (page.pages - 1)
    assert block["week"] == 2
