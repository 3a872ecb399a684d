"""What a training partner reads, everywhere: every page and call is walked and its content read.

The lifter is planted with marks that stand nowhere else: a year of birth, a bodyweight, a
reading of blood pressure, notes, a coach's words on a clearance. None of them, and nothing of the
screening they answered, may reach a partner; coach and lifter read what is theirs.
"""

import json
import re
from dataclasses import replace
from datetime import date, timedelta
from io import BytesIO
from typing import Any

import pytest
from django.test import Client
from pypdf import PdfReader
from test_access import TABLE, address, ended_search

import desk_people
import people
from blockwright.accounts.models import Invitation
from blockwright.engine.signs import Warning, sign_caution
from blockwright.files.words import sentences
from blockwright.store.blocks import add_revision, block_of
from blockwright.store.facts import facts_of
from blockwright.store.models import Fact, Lifter, Share
from blockwright.store.partner import facts_to_think_with, for_partner
from blockwright.verbs import search_block
from blockwright.verbs.decide_letter import decide_letter
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.save_lifter import change_lifter
from blockwright.verbs.stored_values import block_value, keep_block
from blockwright.verbs.write_letter import write_letter
from when import noon_of

pytestmark = pytest.mark.django_db

ASK = "Do not start this session before the lifter and the coach have spoken about it"
ZEBRA, HERON = "zebra in the left shoe", "heron words of the coach"
ZEBRA_ID = ZEBRA.replace(" ", "-")
MARKS = (
    ZEBRA, HERON, "1957", "87.83", "193.6", "88.77", "169/103", "2025-02-03", "3 February 2025",
)  # fmt: skip
PRIVATE = (
    r"screen(?!shot)(ing|ed)\b", "blood pressure", "clearance", r"has cleared", "medical",
    "symptom", "kidney",
    "pregnan", "heart_", r"systolic", r"diastolic", r'"born"', r'"sex"', "licensed professional "
    "before this block", "not active", "cleared_", r"bodyweight_kg\": [\d]", "not screened",
    "professional has had", "bodyweight (down|moves)", "add up to",
    r"pain \d", r"soreness \d", r"\d of 10(?! sets)", "said how sore", "would hurt",
    r"knee hurts?\b", "painful_set", r": painful", "sore on",
    "replan[_ -](sore|hurts)", "rule_pain",
    r'"about": ?"elbow',
)  # fmt: skip
"""Words that would name an answer, or that there was a question."""
SHARED_PAGES = ("api/openapi.json", "api/policy", "api/lifts", "lifts/", "account/", "password/")
"""The same for everybody: they speak of the program, of no lifter."""

HURTS = {"what": "hurts", "entry": 1, "lift": "barbell back squat", "region": "hip", "pain": 4}
SCREENING = {k: v for k, v in people.SCREENED.items() if k != "kidney_disease"} | {
    "symptoms_at_effort": True,
    "high_blood_pressure": True,
    "currently_active": False,
    "surgery_or_injury_last_year": True,
    "systolic": 169,
    "diastolic": 103,
    "cleared_on": "2025-02-03",
    "cleared_for": ["surgery_or_injury_last_year"],
}


_AT = {"week": 3, "session": 1, "day": "Saturday"}
BY_HAND = [
    {"proposal": name, "kind": kind, "decision": verdict, "words": HERON, "change": _AT | more}
    for name, kind, verdict, more in (
        ("r3-coach-replan-sore", "coach_replan_sore", "changed", {"muscles": "hamstrings"}),
        ("r3-coach-replan-hurts", "coach_replan_hurts", "changed",
         {"lifts": "leg curl", "region": "lower_back"}),
        ("w3-lower-load-leg-curl", "lower_load", "accepted",
         {"lift": "leg curl", "load_kg": 20.0, "about": "elbow"}),
        ("r3-coach-sets", "coach_sets", "changed",
         {"lift": "leg curl", "sets": 2, "before": 3, "weeks": "from", "insisted": "rule_pain"}),
    )
]  # fmt: skip
"""Changes by hand, and one of a letter, whose kind, words or facts are of the body."""


@pytest.fixture
def world(monkeypatch: pytest.MonkeyPatch) -> people.World:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    golden = desk_people.GOLDEN
    planted = re.sub(r'"bodyweight": [0-9.]+', '"bodyweight": 87.83', golden)
    assert planted != golden
    planted = planted.replace('"reasons": [', f'"reasons": [{naming_an_answer()},')
    monkeypatch.setattr(desk_people, "GOLDEN", planted)
    made = people.make_world()
    row = desk_people.desk_lifter(made.cato, 1, notes={"barbell back squat": ZEBRA})
    Share.objects.filter(lifter=row).delete()
    Share.objects.filter(lifter=made.lifter).update(lifter=row)
    made.lifter = row
    _plant(made)
    return made


def naming_an_answer() -> str:
    """Every reason without facts that names an answer; roster and sheet say theirs by right."""
    made = [
        {"code": code, "says": says, "facts": {}, "source": None}
        for code, says in sentences().items()
        if "{" not in says and not code.startswith(("roster_", "sheet_"))
        if any(re.search(word, says, re.IGNORECASE) for word in PRIVATE)
    ]
    assert "no_low_pressure" in {one["code"] for one in made}
    return json.dumps(made)[1:-1]


def _plant(world: people.World) -> None:
    row, coach = world.lifter, world.cato
    table = row.document | {
        "screening": SCREENING,
        "born": 1957,
        "sex": "female",
        "bodyweight": 87.83,
        "policy": {"screening.inactive_rir": 5},
    }
    change_lifter(coach, row, row.version, table, people.MONDAY + timedelta(days=1))
    events = [
        people.set_event(row, 1, note=ZEBRA),
        people.checkin_event(row, 2, measure="bodyweight", about="", value="88.77", unit="kg"),
        people.session_event(row, {"what": "note", "text": ZEBRA}, 3),
        people.session_event(row, HURTS | {"where": ZEBRA}, 4),
        people.checkin_event(row, 5, measure="pain", about=ZEBRA, value="6", unit=""),
        people.checkin_event(row, 6, measure="pain", about="knee", value="7", unit=""),
        people.set_event(row, 8, set=2, pain=5),
        people.checkin_event(row, 7, measure="sore", about="quads", value="7", unit=""),
    ]
    answer = people.client_of(world.mara).post(
        "/api/sync", people.message(*events), content_type="application/json"
    )
    assert {one["state"] for one in answer.json()["answers"]} == {"stored"}
    row.refresh_from_db()
    letter = write_letter(row, people.MONDAY + timedelta(days=7)).letter
    offered = [one["id"] for one in letter.document["proposals"]]
    refers = [one for one in offered if one.endswith(("refer-screening", "refer-" + ZEBRA_ID))]
    assert len(refers) == 2, offered
    current = block_of(row, people.MONDAY)
    assert current is not None
    assert current.status == "refer"
    said = [CoachAnswer(proposal=one, verdict="accepted", words=HERON) for one in refers]
    other = next(one for one in offered if one not in refers)
    said += [CoachAnswer(proposal=other, verdict="declined", words=HERON)]
    made = decide_letter(coach, row, letter.pk, said, current.revision).revision
    add_revision(row, made.document | {
        "revision": made.revision + 1,
        "decisions": [*made.document["decisions"], *BY_HAND],
    }, coach)  # fmt: skip
    row.refresh_from_db()


def read(answer: Any) -> str:
    """What somebody reads in an answer, a PDF's text too."""
    if answer["Content-Type"].startswith("application/pdf"):
        pages = PdfReader(BytesIO(answer.content)).pages
        return "\n".join(page.extract_text() for page in pages)
    if not answer["Content-Type"].startswith(("text/", "application/json", "image/svg")):
        return str(answer.content)
    return str(answer.content.decode())


def found_in(text: str, *, shared: bool) -> list[str]:
    """The marks and the private words in a text."""
    text = re.sub(r"<symbol.*?</symbol>|<path[^>]*>|<svg.*?</svg>", "", text, flags=re.S)
    marks = [rf"(?<![\d.]){re.escape(mark)}(?![\d.])" for mark in (*MARKS, ZEBRA_ID)]
    marks = [mark for mark in marks if re.search(mark, text, re.IGNORECASE)]
    return marks + [w for w in PRIVATE if not shared and re.search(w, text, re.IGNORECASE)]


QUERIES = {
    "api/rack": ("?load=20&lifter={key}", "?load=20&lift=pull-up&lifter={key}"),
    "rack/": ("?load=20&lifter={key}", "?load=20&lift=pull-up&lifter={key}"),
    "api/lifts": ("?lifter={key}",),
    "lifts/": ("?lifter={key}",),
    "api/lifters/<lifter>/ledger": ("", "?text=screening"),
    "lifters/<uuid:key>/ledger/": ("", "?text=waits"),
}


def addresses(world: people.World) -> list[tuple[str, str]]:
    """Every address that is read, with its route; what a letter's or a block's asks for is the
    planted lifter's."""
    letter = write_letter(world.lifter, people.MONDAY + timedelta(days=7)).letter.pk
    search = ended_search(world)
    found = []
    for method, route in TABLE:
        if method != "GET":
            continue
        where = route
        for name, value in (("letter", letter), ("composing", search), ("search", search)):
            where = where.replace(f"<{name}>", str(value)).replace(f"<number:{name}>", str(value))
        for query in QUERIES.get(route, ("",)):
            Invitation.objects.all().delete()
            made = address(where, world) + query.format(key=world.lifter.key)
            found.append((route, made))
    start = f"{people.MONDAY}"
    key = world.lifter.key
    last = block_of(world.lifter, people.MONDAY)
    assert last is not None
    for number in range(1, last.revision + 1):
        route = "lifters/<uuid:key>/block/<day:start>/revisions/<number:revision>/"
        found.append((route, f"/lifters/{key}/block/{start}/revisions/{number}/"))
        route = "api/lifters/<lifter>/blocks/<start>/revisions/<revision>"
        found.append((route, f"/api/lifters/{key}/blocks/{start}/revisions/{number}"))
    return found


def walked(client: Client, world: people.World, places: list[tuple[str, str]]) -> dict[str, str]:
    """What somebody gets at each address."""
    texts = {where: read(client.get(where)) for _, where in places}
    sent = people.message(seen={str(world.lifter.key): 0})
    texts["/api/sync"] = read(client.post("/api/sync", sent, content_type="application/json"))
    return texts


def test_a_partner_reads_nothing_that_is_the_lifters_own(world: people.World) -> None:
    # The coach first: nothing that is remembered for the coach may be given to the partner.
    places = addresses(world)
    everything = walked(people.client_of(world.cato), world, places)
    shared = {where for route, where in places if route in SHARED_PAGES}
    for sees in (Share.SHEETS, Share.HISTORY):
        Share.objects.filter(person=world.pim).update(sees=sees)
        seen = walked(people.client_of(world.pim), world, places)
        told = {where: found_in(text, shared=where in shared) for where, text in seen.items()}
        assert {where: found for where, found in told.items() if found} == {}, sees
    assert any(found_in(text, shared=False) for text in everything.values())


def test_a_partner_reads_no_sign_that_a_note_held(world: people.World) -> None:
    """They are told to ask first; the coach reads what was written."""
    row, key = world.lifter, world.lifter.key
    # Without the screening, so that a lift is held for its sign alone.
    sound = {k: v for k, v in row.document.items() if k != "screening"}
    change_lifter(world.cato, row, row.version, sound, people.MONDAY + timedelta(days=1))
    notes = ("chest pain on set 2", "heart galloping", "sharp pain in the knee")
    events = [
        people.set_event(row, 20 + n, note=note, at=f"2026-01-13T19:0{n}:00+01:00")
        for n, note in enumerate(notes)
    ]
    sent = people.message(*events)
    people.client_of(world.mara).post("/api/sync", sent, content_type="application/json")
    row.refresh_from_db()
    letter = write_letter(row, people.MONDAY + timedelta(days=14)).letter
    sign = next(one["id"] for one in letter.document["proposals"] if "refer-chest" in one["id"])
    current = block_of(row, people.MONDAY)
    assert current is not None
    said = [CoachAnswer(proposal=sign, verdict="accepted", words=HERON)]
    decide_letter(world.cato, row, letter.pk, said, current.revision)
    places = [
        f"/lifters/{key}/review/{letter.pk}/", f"/api/lifters/{key}/letters/{letter.pk}",
        f"/api/lifters/{key}/letters/{letter.pk}/decisions", f"/lifters/{key}/ledger/",
        f"/api/lifters/{key}/ledger", f"/lifters/{key}/report/2026-01-05/",
        f"/api/lifters/{key}/blocks/2026-01-05", f"/lifters/{key}/block/2026-01-05/",
        f"/lifters/{key}/", f"/lifters/{key}/sheet/2026-01-05/3/1/", "/",
    ]  # fmt: skip
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    signs = re.compile(r"chest.pain(?! stops)|irregular|racing|sharp.pain(?!,)|" + HERON)
    told = {where: read(people.client_of(world.pim).get(where)) for where in places}
    assert {where: found for where, text in told.items() if (found := signs.findall(text))} == {}
    own = {where: read(people.client_of(world.cato).get(where)) for where in places}
    assert sum(bool(signs.search(text)) for text in own.values()) > 5
    assert ASK in told[places[1]]


def test_a_block_tells_a_partner_nothing_of_the_sign_it_was_made_under(world: people.World) -> None:
    """Their sheet asks them to ask first while it is open, and no longer."""
    row, sign = world.lifter, Warning(sign="chest pain", day=date(2026, 1, 2), lift="bench press")
    stored = block_of(row, people.MONDAY)
    assert stored is not None
    made = replace(block_value(stored), cautions=(sign_caution(sign),), status="ready")
    keep_block(row, replace(made, revision=made.revision + 1), world.cato)
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    where = f"/api/lifters/{row.key}/blocks/2026-01-05"
    for client, codes in ((world.cato, {"sheet_sign"}), (world.pim, set())):
        read = people.client_of(client).get(where).json()["cautions"]
        assert {one["code"] for one in read} & {"sheet_sign", "sheet_ask_first"} == codes


def test_what_hurts_is_cut_from_prose_alone(world: people.World) -> None:
    """Words for a place may be words of our own documents, and a caution may name none at all."""
    row, key = world.lifter, world.lifter.key
    sore = {"at": "2026-01-13T19:00:00+01:00", "pain": 4, "lift": "seated cable row"}
    events = [people.set_event(row, 20, **sore)] + [
        people.checkin_event(row, 21 + n, measure="pain", about=word, value="4", unit="")
        for n, word in enumerate(("deload", "swap_lift", "set", ZEBRA))
    ]
    sent = people.message(*events)
    answer = people.client_of(world.mara).post("/api/sync", sent, content_type="application/json")
    assert {one["state"] for one in answer.json()["answers"]} == {"stored"}
    row.refresh_from_db()
    number = write_letter(row, people.MONDAY + timedelta(days=14)).letter.pk
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    where = f"/api/lifters/{key}/letters/{number}"
    whole, cut = (people.client_of(one).get(where).json() for one in (world.cato, world.pim))
    assert "pain_swap" in json.dumps(whole)
    named = [{k: one[k] for k in ("id", "kind", "before", "after")} for one in whole["proposals"]]
    kept = [{k: one[k] for k in ("id", "kind", "before", "after")} for one in cut["proposals"]]
    assert kept == [one for one in named if one["kind"] != "refer"]
    assert "hurt" in whole["verdict"]
    assert not re.search("hurt|pain|zebra", json.dumps(cut))


def test_coach_and_lifter_read_what_is_theirs(world: people.World) -> None:
    key = world.lifter.key
    start = f"/api/lifters/{key}/blocks/2026-01-05"
    for person in (world.cato, world.mara):
        client = people.client_of(person)
        lifter = client.get(start).json()["lifter"]
        assert lifter["screening"]["systolic"] == 169
        assert (lifter["born"], lifter["bodyweight"]) == (1957, 87.83)
        page = client.get(f"/lifters/{key}/block/2026-01-05/").content.decode()
        assert "blood pressure of 169/103" in page
        sheet = client.get(f"/api/lifters/{key}/sheets/2026-01-05/1/1").json()
        assert sheet["lifter"]["bodyweight_kg"] == 87.83
        facts = json.dumps(client.get(f"/api/lifters/{key}/facts").json())
        assert facts.count(ZEBRA) > 2
        assert "88.77" in facts
        ledger = client.get(f"/api/lifters/{key}/ledger").json()["lines"]
        assert any(line["words"] == HERON for line in ledger)


def test_a_partner_is_told_what_to_do_and_not_why(world: people.World) -> None:
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    client, key = people.client_of(world.pim), world.lifter.key
    block = client.get(f"/api/lifters/{key}/blocks/2026-01-05").json()
    assert block["status"] == "refer"
    said = [caution["says"] for caution in block["cautions"]]
    assert said[0] == ASK
    assert "Breathe through every repetition and stay away from failure" in said
    sheet = client.get(f"/api/lifters/{key}/sheets/2026-01-05/1/1").json()["sheet"]
    assert sheet["status"] == "refer"
    assert ASK in [one["says"] for one in sheet["cautions"]]
    own = client.get("/").content.decode()
    assert "No session before the coach says so" in own
    facts = client.get(f"/api/lifters/{key}/facts").json()["facts"]
    assert facts
    assert {fact["kind"] for fact in facts} == {"set", "session"}
    said = [fact["session"] for fact in facts if fact["kind"] == "session"]
    hurts = next(one for one in said if one["what"] == "hurts")
    assert (hurts["lift"], hurts["pain"], hurts["region"]) == ("barbell back squat", 4, "")


def test_a_partners_own_notes_come_back_and_the_lifters_stay(
    world: people.World,
) -> None:
    row = world.lifter
    client = people.client_of(world.pim)
    theirs = Fact.objects.get(lifter=row, kind="set", event__set__note=ZEBRA)
    amends = people.set_event(row, 7, reps="9", amends=str(theirs.id))
    own = people.set_event(row, 8, set=2, note="an own note")
    with noon_of(people.MONDAY + timedelta(days=1)):
        sent = people.message(amends, own, seen={str(row.key): 0})
        answer = client.post("/api/sync", sent, content_type="application/json").json()
    assert [one["state"] for one in answer["answers"]] == ["parked", "stored"]
    told = json.dumps(answer["facts"])
    assert "an own note" in told
    assert ZEBRA not in told
    assert not Fact.objects.filter(id=amends["id"]).exists()


def test_a_row_that_was_cut_holds_no_weigh_in_and_is_never_written(world: people.World) -> None:
    row = for_partner(Lifter.objects.get(key=world.lifter.key), world.pim.pk)
    thought = facts_to_think_with(row, facts_of(world.lifter))
    measures = {fact.body.get("measure") for fact in thought}
    assert measures == {None, "pain", "sore"}, "a bodyweight could be read off the numbers"
    for change in (row.save, row.refresh_from_db):
        with pytest.raises(TypeError, match="cut for a training partner"):
            change()
