"""The lifter file as a form: there and back, judged by the file's reader, guarded by a version."""

import dataclasses
import re
from datetime import timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone
from hypothesis import given, settings
from hypothesis import strategies as st

import people
from blockwright.engine.training import Allow, Screening
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.json_text import plain
from blockwright.files.lift_table import lift_fields
from blockwright.files.lifter_file import lifter_from_table, lifter_to_table
from blockwright.store.models import Lifter
from blockwright.web.lifter_form.fields import fields, rows
from blockwright.web.lifter_form.shown import plain_mend
from blockwright.web.lifter_form.typed import compacted, filled, typed_from
from studies.made_up_lifters import made_up_lifter

Typed = dict[str, list[str]]


def document_of(table: dict[str, Any]) -> dict[str, Any]:
    return dict(plain(lifter_to_table(lifter_from_table(table, None).value)))


def there_and_back(document: dict[str, Any]) -> dict[str, Any]:
    made = filled(compacted(typed_from(document)), document)
    assert made.problems == ()
    return document_of(made.table)


def page_form(page: str) -> Typed:
    """What a browser would send back of the lifter form on a page, as it was drawn."""
    form = page[page.index('class="lifter_file"') :]
    said: Typed = {}
    for tag in re.findall(r"<input[^>]*>", form):
        named = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        if named.get("type") != "checkbox" or tag.endswith(" checked>") or " checked " in tag:
            said.setdefault(unescape(named["name"]), []).append(unescape(named.get("value", "")))
    for name, options in re.findall(
        r'<select id="[^"]*" name="([^"]*)"[^>]*>(.*?)</select>', form, re.S
    ):
        chosen = re.search(r'value="([^"]*)" selected', options)
        first = re.search(r'value="([^"]*)"', options)
        picked = chosen or first
        assert picked is not None
        said[name] = [unescape(picked[1])]
    for name, text in re.findall(r'name="([^"]*)" rows=[^>]*>\n(.*?)</textarea>', form, re.S):
        said[name] = [unescape(text)]
    return said


def opened(client: Client, lifter: Lifter) -> Typed:
    answer = client.get(f"/lifters/{lifter.key}/file/")
    assert answer.status_code == 200
    return page_form(answer.content.decode())


def problems_in(page: str) -> dict[str, str]:
    """Field id to what is said beside it."""
    found = re.findall(r'<span class="wrong" id="([^"]+)_wrong">(.*?)</span>', page)
    return {name: unescape(says).strip() for name, says in found}


def test_medicine_is_asked_about_where_an_answer_hides_without_it(world: people.World) -> None:
    """Somebody whose pressure or heart reads well on medicine says no to a plain question."""
    page = unescape(
        people.client_of(world.cato).get(f"/lifters/{world.lifter.key}/file/").content.decode()
    )
    for answer, asked in (
        ("high_blood_pressure", "medicine against it"),
        ("heart_or_metabolic_condition", "medicine for the heart"),
        ("heart_or_metabolic_condition", "diabetes"),
    ):
        about = page.split(f'name="screening.{answer}"')[0].rsplit("<label", 1)[-1]
        assert asked in about, about


# ----------------------------------------------------------------------------- there and back


@settings(deadline=None, derandomize=True, max_examples=60)
@given(st.integers(0, 100_000))
def test_a_made_up_file_is_unchanged_by_the_form(seed: int) -> None:
    document = plain(lifter_to_table(made_up_lifter(seed, builtin_catalogue())))
    assert there_and_back(document) == document


EVERYTHING: dict[str, Any] = people.MARA_TABLE | {
    "visits": 2,
    "known": [{"lift": "leg press", "load": 200.0, "reps": 10, "rir": 2.0, "on": "2025-12-30"}],
    "habits": {"weekly_sets": {"quads": 12.0}, "reps": {"lateral raise": "12-20"}},
    "deload": {"style": "two-part"},
    "signs": {"cleared": ["chest pain 2025-12-01", "a stop sign 2025-12-02"]},
    "units": "lb",
    "bodyweight": 150.5,
    "sex": "female",
    "energy": "deficit",
    "weeks": 4,
    "screening": {"kidney_disease": False, "high_blood_pressure": True, "cleared_on": "2025-12-01",
                  "cleared_for": ["high_blood_pressure"], "systolic": 150, "diastolic": 95},
    "emphasis": {"quads": "lead", "chest": "hold", "biceps": "normal", "abs": "skip"},
    "allow": {"supersets": False, "to_failure": True},
    "likes": {"lifts": ["leg press", "tyre drag"]},
    "policy": {"ramp.sets_per_week": 1},
    "limits": {
        "avoid_lifts": ["deadlift"],
        "avoid_patterns": ["upright row", "dip"],
        "max_lifts_per_session": 6,
    },
    "gym": {
        "kit": ["bar", "kettlebells", "leg press", "tyre drag"],
        "bar": [{"name": "long", "mass": "20 kg"}, {"name": "short", "mass": 35}],
        "plates": {"45": 3, "2.5": 1, "20 kg": 2},
        "dumbbells": [
            {"from": 5, "to": 50, "step": 5},
            {"from": 2, "to": 12, "step": 0.5, "unit": "kg", "add_on": [0.25]},
        ],
        "stack": [{"lift": "leg press", "from": 50, "to": 500, "step": 10, "add_on": [2.5, 5]}],
    },
    "pin": [
        {"lift": "leg press", "days": ["thu", "mon"], "reps": "5-10"},
        {"lift": "tyre drag", "reps": "high"},
    ],
    "lift": [
        {
            "name": "Tyre drag", "muscles": {"quads": 1.0, "glutes": 0.45}, "pattern": "squat",
            "kit": ["tyre drag"], "axial": 2, "aliases": ["drag"], "seconds_per_rep": 2.5,
            "reps": {"low": "5-8", "mid": "9-12"}, "safe_to_fail": False,
            "role": "second", "prefers": ["9-12", "5-8"], "plainness": 0, "skill": 3,
            "angle": "leg press", "regions": {"lower_back": 1, "knee": 2},
        },
        {
            "name": "ring dip", "muscles": {"chest": 1.0}, "pattern": "dip", "kit": ["rings"],
            "bodyweight_share": 0.95, "standard": "Down, and up again.",
        },
    ],
}  # fmt: skip


@pytest.mark.parametrize(
    "table",
    [
        EVERYTHING,
        people.MARA_TABLE,
        {"name": "Nobody Yet"},
        {"name": "No Kit", "gym": {"kit": []}},
        {"name": "Odd Kit", "gym": {"kit": ["moon boots"], "assumed": True}},
    ],
    ids=lambda table: str(table["name"]),
)
def test_everything_a_file_can_say_is_unchanged_by_the_form(table: dict[str, Any]) -> None:
    document = document_of(table)
    assert there_and_back(document) == document


def test_every_key_of_the_file_is_asked_for() -> None:
    asked = {one.key.partition(".")[0] for one in fields()}
    asked |= {one.key.partition(".")[0] for one in rows()}
    assert asked == set(document_of(EVERYTHING))


def test_every_question_every_permission_and_every_field_of_a_lift_is_asked_for() -> None:
    asked = {one.key for one in fields()}
    assert {f"screening.{one.name}" for one in dataclasses.fields(Screening)} <= asked
    assert {f"allow.{one.name}" for one in dataclasses.fields(Allow)} <= asked
    own = next(part for part in rows() if part.key == "lift")
    of_a_lift = {one.key.partition(".")[0] for one in own.fields}
    assert of_a_lift == set(lift_fields(next(iter(builtin_catalogue().lifts.values()))))


@pytest.mark.django_db
def test_the_page_sent_back_as_it_was_drawn_changes_nothing(world: people.World) -> None:
    document = document_of(EVERYTHING)
    Lifter.objects.filter(key=world.lifter.key).update(document=document)
    client = people.client_of(world.cato)
    answer = client.post(f"/lifters/{world.lifter.key}/file/", opened(client, world.lifter))
    assert answer.status_code == 302, problems_in(answer.content.decode())
    row = Lifter.objects.get(key=world.lifter.key)
    assert row.document == document
    assert row.version == 1


def test_the_rows_do_not_depend_on_the_order_in_which_a_database_keeps_keys() -> None:
    document = document_of(EVERYTHING | {"policy": {"ramp.sets_per_week": 1, "deload.rir": 6}})
    turned = {**document, "gym": {**document["gym"]}}
    for place in (turned, turned["gym"]):
        for key in ("plates", "policy"):
            if key in place:
                place[key] = dict(reversed(place[key].items()))
    assert typed_from(turned) == typed_from(document)
    typed = typed_from(document)
    assert [typed[f"gym.plates.{n}.mass"] for n in (1, 2, 3)] == [["45"], ["20 kg"], ["2.5"]]


def test_what_follows_from_the_rest_follows_again_when_the_rest_is_changed() -> None:
    """A bar in place of a machine brings back the caution and takes away the safe failure."""
    lift = {"name": "box squat", "muscles": {"quads": 1.0}, "pattern": "squat"}
    document = document_of({"name": "A", "lift": [lift | {"kit": ["leg press"]}]})
    assert document["lift"][0]["safe_to_fail"] is True
    typed = typed_from(document)
    typed["lift.1.kit"] = ["bar"]
    after = document_of(filled(compacted(typed), document).table)["lift"][0]
    assert after["safe_to_fail"] is False
    assert after["stability"] == "free"
    assert after["caution"]


def test_a_key_the_form_does_not_know_stays_and_its_reader_judges_it() -> None:
    document = document_of(people.MARA_TABLE)
    document["shoe_size"] = 43
    document["slot"][1]["room"] = "north"
    typed = typed_from(document)
    typed["slot.1.day"] = [""]
    typed["slot.1.start"] = [""]
    typed["slot.1.minutes"] = [""]
    table = filled(compacted(typed), document).table
    assert table["shoe_size"] == 43
    assert table["slot"] == [document["slot"][1]]


def test_numbers_are_read_as_people_write_them() -> None:
    document = document_of(people.MARA_TABLE)
    typed = typed_from(document) | {"bodyweight": ["68,5 "], "gym.stack.1.add_on": ["1,25, 2.5;5"]}
    table = filled(compacted(typed), document).table
    assert table["bodyweight"] == 68.5
    assert table["gym"]["stack"][0]["add_on"] == [1.25, 2.5, 5]


@pytest.mark.parametrize(
    ("mend", "says"),
    [
        ('write the lifter\'s name: name = "Ana"', "write the lifter's name"),
        ('write it as low = "8-15", from 1 to 60', 'write it as "8-15", from 1 to 60'),
        ('check the number, and that the file is in kg (units = "kg")',
         "check the number, and that the file is in kg"),
        ("add a [[slot]] on tue, or name one of: mon",
         "add a training time on tue, or name one of: mon"),
        ("say what there is under [gym]: kit, bars",
         'say what there is under "The gym": kit, bars'),
        ("answer under_18 = true or false", 'answer "Under 18?"'),
        ("write 2027-01-04 or 2027-01-11", "write 2027-01-04 or 2027-01-11"),
    ],
)  # fmt: skip
def test_a_mend_loses_the_files_notation(mend: str, says: str) -> None:
    assert plain_mend(mend) == says


# ------------------------------------------------------------------------------ what is wrong


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("changes", "field", "says"),
    [
        ({"name": [" "]}, "id_name", "Is missing"),
        ({"bodyweight": ["heavy"]}, "id_bodyweight", "is not a number"),
        ({"bodyweight": ["6850"]}, "id_bodyweight", "is not a bodyweight"),
        ({"start": ["2026-01-06"]}, "id_start", "a block starts on a Monday"),
        ({"slot.2.minutes": ["5"]}, "id_slot-2-minutes", "outside 10 to 300"),
        ({"slot.9.day": ["tue"]}, "id_slot-3-start", "Is missing"),
        ({"pin.1.lift": ["leg pres"]}, "id_pin-1-lift", 'did you mean "leg press"'),
        ({"pin.1.reps": ["some"]}, "id_pin-1-reps", "is not a range of repetitions"),
        ({"limits.avoid_lifts": ["deadlift\nnonsense"]}, "id_limits-avoid_lifts", "nonsense"),
        ({"gym.plates.1.mass": ["wide"]}, "id_gym-plates-1-mass", "is not a mass"),
        ({"gym.plates.3.mass": ["20"]}, "id_gym-plates-3-mass", "stands twice"),
        ({"gym.plates.3.pairs": [""]}, "id_gym-plates-3-pairs", "Is missing"),
        ({"gym.stack.1.to": ["1"]}, "id_gym-stack-1-to", "is below from"),
        ({"gym.bar.1.mass": [""]}, "id_gym-bar-1-mass", "Is missing"),
        ({"gym.assumed": ["yes"]}, "id_gym-assumed", "nothing is known"),
        ({"lift.1.muscles.quads": ["2"]}, "id_lift-1-muscles-quads", "outside 0 to 1"),
        ({"lift.1.name": [""]}, "id_lift-1-name", "Is missing"),
        ({"policy.1.key": ["ramp.sets_per_weak"], "policy.1.value": ["1"]}, "id_policy-1-value",
         "ramp.sets_per_week"),
        ({"policy.1.key": ["ramp.sets_per_week"], "policy.1.value": ["99"]}, "id_policy-1-value",
         "outside"),
        ({"policy.1.key": ["ramp.sets_per_week"]}, "id_policy-1-value", "Is missing"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_beside_its_field_and_kept_as_typed(
    world: people.World, changes: Typed, field: str, says: str
) -> None:
    client = people.client_of(world.cato)
    typed = opened(client, world.lifter) | changes
    answer = client.post(f"/lifters/{world.lifter.key}/file/", typed)
    page = answer.content.decode()
    assert answer.status_code == 422
    found = problems_in(page)
    assert says in found[field], found
    assert " = " not in found[field]
    assert f'href="#{field}"' in page, "the list at the top leads to the field"
    assert re.search(r'<a href="#[^"]+" autofocus>', page), "and the keyboard begins there"
    assert f'id="{field}"' in page
    said = {text.strip() for texts in changes.values() for text in texts}
    assert said <= {text for texts in page_form(page).values() for text in texts}
    assert Lifter.objects.get(key=world.lifter.key).version == 1


@pytest.mark.django_db
def test_the_screening_says_the_safety_words_and_a_referral_stands_at_the_top(
    world: people.World,
) -> None:
    client = people.client_of(world.cato)
    typed = opened(client, world.lifter) | {"screening.symptoms_at_effort": ["yes"]}
    assert client.post(f"/lifters/{world.lifter.key}/file/", typed).status_code == 302
    for where in ("file/", ""):
        page = client.get(f"/lifters/{world.lifter.key}/{where}").content.decode()
        assert "Waits for medical clearance." in page
        assert page.index("Waits for medical") < page.index("See a licensed professional")
    page = client.get(f"/lifters/{world.lifter.key}/file/").content.decode()
    assert page.index("Waits for medical") < page.index('id="part-person"')
    assert "Nothing here diagnoses." in page
    day = (timezone.now() - timedelta(days=3)).date().isoformat()
    typed = opened(client, world.lifter) | {"screening.cleared_on": [day]}
    client.post(f"/lifters/{world.lifter.key}/file/", typed)
    page = client.get(f"/lifters/{world.lifter.key}/file/").content.decode()
    assert "Waits for medical clearance." not in page
    assert "keep to what the professional allowed" in page, "the caution stays"


# ---------------------------------------------------------------------------- rows and desks


@pytest.mark.django_db
def test_rows_come_and_go_without_script_and_nothing_typed_is_lost(world: people.World) -> None:
    client = people.client_of(world.cato)
    where = f"/lifters/{world.lifter.key}/file/"
    typed = opened(client, world.lifter) | {"name": ["Typed Half"], "slot.3.day": ["sat"]}
    answer = client.post(where, typed | {"add": ["slot"], "hurts-knee": ["4"]})
    assert answer.status_code == 200
    page = answer.content.decode()
    again = page_form(page)
    assert again["name"] == ["Typed Half"]
    assert again["slot.3.day"] == ["sat"]
    assert again["hurts-knee"] == ["4"]
    assert "slot.7.day" in again
    assert re.search(r'<select id="id_slot-4-day"[^>]* autofocus>', page)
    answer = client.post(where, again | {"remove": ["slot.1"]})
    after = page_form(answer.content.decode())
    assert after["slot.1.day"] == ["thu"]
    assert after["slot.2.day"] == ["sat"]
    row = Lifter.objects.get(key=world.lifter.key)
    assert (row.name, row.version) == ("Mara Invented", 1)


@pytest.mark.django_db
@pytest.mark.parametrize("button", [{"add": ["nothing"]}, {"remove": ["x"]}, {"remove": ["."]}])
def test_a_button_nobody_made_does_no_harm(world: people.World, button: Typed) -> None:
    client = people.client_of(world.cato)
    typed = opened(client, world.lifter)
    answer = client.post(f"/lifters/{world.lifter.key}/file/", typed | button)
    assert answer.status_code == 200
    assert page_form(answer.content.decode())["slot.2.day"] == ["thu"]


@pytest.mark.django_db
def test_of_two_desks_the_second_is_told_what_differs(world: people.World) -> None:
    one, other = people.client_of(world.cato), people.client_of(world.orla)
    where = f"/lifters/{world.lifter.key}/file/"
    first, second = opened(one, world.lifter), opened(other, world.lifter)
    assert one.post(where, first | {"weeks": ["5"]}).status_code == 302
    answer = other.post(where, second | {"bodyweight": ["70"]})
    page = unescape(answer.content.decode())
    assert answer.status_code == 409
    assert "Build weeks before the deload: stored is “5”, typed here is “6”" in page
    assert "Bodyweight: stored is “68.5”, typed here is “70”" in page
    row = Lifter.objects.get(key=world.lifter.key)
    assert (row.document["weeks"], row.document["bodyweight"]) == (5, 68.5)
    assert other.post(where, page_form(page)).status_code == 302
    row.refresh_from_db()
    assert (row.document["weeks"], row.document["bodyweight"], row.version) == (6, 70, 3)


@pytest.mark.django_db
@pytest.mark.parametrize("version", ["", "x", "9" * 30, "-1", "2"])
def test_a_version_that_is_none_saves_nothing(world: people.World, version: str) -> None:
    client = people.client_of(world.cato)
    typed = opened(client, world.lifter) | {"version": [version], "weeks": ["5"]}
    assert client.post(f"/lifters/{world.lifter.key}/file/", typed).status_code == 409


# -------------------------------------------------------------------------------------- rights


@pytest.mark.django_db
def test_the_lifter_reads_their_own_file_and_cannot_write_it(world: people.World) -> None:
    client = people.client_of(world.mara)
    page = client.get(f"/lifters/{world.lifter.key}/file/").content.decode()
    assert "To read only" in page
    assert "<button>Save</button>" not in page
    assert '<fieldset class="shut" disabled>' in page
    answer = client.post(f"/lifters/{world.lifter.key}/file/", page_form(page))
    assert answer.status_code == 403


@pytest.mark.django_db
def test_a_lifter_by_the_form(world: people.World) -> None:
    client = people.client_of(world.stig)
    typed = page_form(client.get("/lifters/new/").content.decode())
    assert typed["gym.assumed"] == ["yes"]
    hurts = {"hurts-knee": ["4"], "hurts-words": ["the stairs down"]}
    answer = client.post("/lifters/new/", typed | hurts | {"name": ["Nia Invented"]})
    row = Lifter.objects.get(name="Nia Invented")
    assert answer["Location"] == f"/lifters/{row.key}/"
    page = unescape(client.get(answer["Location"]).content.decode())
    assert "The lifter file is saved." in page
    assert "The gym: nothing is said of the gym" in page
    assert "knee: pain 4 of 10" in unescape(client.get("/").content.decode()).lower()
    assert "There is no block yet. It still needs the bodyweight and a training time." in page
    assert "The lifter file is saved." not in client.get(answer["Location"]).content.decode()


@pytest.mark.django_db
def test_the_form_starts_in_the_coachs_units(world: people.World) -> None:
    world.stig.units = "lb"
    world.stig.save()
    page = people.client_of(world.stig).get("/lifters/new/").content.decode()
    assert page_form(page)["units"] == ["lb"]


@pytest.mark.django_db
def test_an_empty_form_makes_nobody_and_says_so(world: people.World) -> None:
    before = Lifter.objects.count()
    answer = people.client_of(world.stig).post("/lifters/new/", {})
    assert answer.status_code == 422
    assert problems_in(answer.content.decode())["id_name"].startswith("Is missing")
    assert Lifter.objects.count() == before


def test_several_rows_of_a_kind_have_their_plural() -> None:
    kinds = {part.key: part for part in rows()}
    assert kinds["gym.bar"].called(1) == "1 bar"
    assert kinds["gym.bar"].called(2) == "2 bars"
    assert kinds["gym.stack"].called(6) == "6 machines' weights"
    assert kinds["gym.dumbbells"].called(2) == "2 runs of dumbbells"
