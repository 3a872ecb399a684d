"""The lifter's page: what comes next, for whom, and what each may see of the rest."""

import re
from datetime import UTC, date, datetime, timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client

import people
from blockwright.store.access import rights_for
from blockwright.store.convert import sets_done
from blockwright.store.facts import facts_of
from blockwright.store.models import BlockRevision, Decision, Lifter, Proposals, Share
from blockwright.verbs.letter_questions import letter_questions
from blockwright.verbs.lifter_page import lifter_page
from blockwright.verbs.roster import roster, roster_line
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db

MONDAY, DAY = people.MONDAY, timedelta(days=1)


def page_on(world: people.World, who: str, day: date) -> dict[str, Any]:
    lifter = Lifter.objects.get(key=world.lifter.key)
    return lifter_page(lifter, rights_for(getattr(world, who), lifter), day)


def logged(world: people.World, *events: Any) -> None:
    answer = people.client_of(world.mara).post(
        "/api/sync", people.message(*events), content_type="application/json"
    )
    assert {one["state"] for one in answer.json()["answers"]} == {"stored"}


def html(world: people.World, who: str) -> str:
    answer = people.client_of(getattr(world, who)).get(f"/lifters/{world.lifter.key}/")
    assert answer.status_code == 200
    return unescape(answer.content.decode())


def nav_of(page: str) -> list[str]:
    nav = re.search(r'<nav class="lifter_nav".*?</nav>', page, re.S)
    assert nav is not None
    return re.findall(r">([^<]+)</a>", nav[0])


# -------------------------------------------------------------------------------- what is next


def test_the_next_session_is_the_first_that_has_not_been_ended(world: people.World) -> None:
    def session(day: date) -> tuple[int, int] | None:
        planned = page_on(world, "mara", day)["next_session"]
        return planned and (planned.week.week, planned.session.session)

    assert session(MONDAY - 3 * DAY) == (1, 1)
    assert session(MONDAY) == (1, 1)
    logged(world, people.session_event(world.lifter, {"what": "ended"}))
    assert session(MONDAY) == (1, 2)
    assert session(MONDAY + 4 * DAY) == (2, 1)
    assert session(MONDAY + 8 * DAY) is None


def steps(world: people.World, who: str, day: date) -> list[tuple[str, str]]:
    return [(one.says, one.page) for one in page_on(world, who, day)["next"]]


def letter_of_two(world: people.World, through: date = MONDAY + 6 * DAY) -> Proposals:
    document = {"proposals": [{"id": "one"}, {"id": "other"}]}
    letter = Proposals(lifter=world.lifter, block=world.block, through=through, document=document)
    letter.save()
    return letter


def another_revision(world: people.World, **changes: Any) -> BlockRevision:
    made = BlockRevision(
        lifter=world.lifter, start=MONDAY, revision=2, ends=MONDAY + 13 * DAY,
        status=changes.get("status", "ready"), document=people.block_document(2) | changes,
    )  # fmt: skip
    made.save()
    return made


def test_what_waits_for_the_coach_comes_before_the_next_session(world: people.World) -> None:
    assert steps(world, "cato", MONDAY) == [("Today at 18:30: train", "sheet")]
    logged(world, people.set_event(world.lifter))
    over = ("Week 1 is over since 11 January 2026; its letter is not written yet", "review")
    assert steps(world, "cato", MONDAY + 7 * DAY)[0] == over
    assert [page for _, page in steps(world, "mara", MONDAY + 7 * DAY)] == ["sheet"]
    letter = letter_of_two(world)
    assert page_on(world, "cato", MONDAY + 7 * DAY)["open_lines"] == 2
    waits = "The letter through 11 January 2026 has"
    assert steps(world, "cato", MONDAY + 7 * DAY)[0] == (f"{waits} 2 changes to decide", "review")
    Decision(proposals=letter, proposal="one", verdict="declined", by=world.cato).save()
    assert steps(world, "cato", MONDAY + 7 * DAY)[0] == (f"{waits} 1 change to decide", "review")
    Decision(proposals=letter, proposal="other", verdict="accepted", by=world.cato).save()
    assert "review" not in [page for _, page in steps(world, "cato", MONDAY + 7 * DAY)]


def test_a_letter_that_was_overtaken_is_to_be_written_anew(world: people.World) -> None:
    letter = letter_of_two(world)
    another_revision(world)
    says, page = steps(world, "cato", MONDAY + 7 * DAY)[0]
    assert says.startswith("The block was changed since the letter through 11 January 2026")
    assert page == "review"
    # Some of it was answered before: the coach has read it, and went on by hand.
    Decision(proposals=letter, proposal="one", verdict="declined", by=world.cato).save()
    assert "review" not in [page for _, page in steps(world, "cato", MONDAY + 7 * DAY)]


def test_what_deciding_made_does_not_overtake_the_letter(world: people.World) -> None:
    letter = letter_of_two(world)
    made = another_revision(world)
    Decision(
        proposals=letter, proposal="one", verdict="accepted", by=world.cato, led_to=made
    ).save()
    assert "has 1 change to decide" in steps(world, "cato", MONDAY + 7 * DAY)[0][0]


def test_sets_after_the_letters_last_day_want_another(world: people.World) -> None:
    """The roster and the lifter's page once disagreed about a letter in the middle of a week."""
    for day, n in ((MONDAY, 1), (MONDAY + 4 * DAY, 2)):
        began, at = f"{day}T18:00:00+01:00", f"{day}T18:40:00+01:00"
        logged(world, people.set_event(world.lifter, n, began=began, at=at))
    letter = letter_of_two(world, MONDAY + DAY)
    for name in ("one", "other"):
        Decision(proposals=letter, proposal=name, verdict="declined", by=world.cato).save()
    assert steps(world, "cato", MONDAY + 7 * DAY)[0][1] == "review"


def test_the_page_and_the_roster_never_disagree(world: people.World) -> None:
    logged(
        world,
        people.set_event(world.lifter),
        people.session_event(world.lifter, {"what": "note", "text": "chest pain"}, n=2),
    )
    letter_of_two(world)
    for day in range(0, 40, 3):
        today = MONDAY + day * DAY
        line = next(
            one for one in roster(world.cato, today).lines if one.lifter.key == world.lifter.key
        )
        wanted = [(one.says, one.page) for one in line.reasons if one.need != "nothing"]
        assert steps(world, "cato", today)[: len(wanted)] == wanted
        assert len(steps(world, "cato", today)) <= len(wanted) + 1


def test_a_warning_sign_stands_before_any_session(world: people.World) -> None:
    said = {"what": "note", "text": "chest pain on the last set"}
    logged(world, people.session_event(world.lifter, said))
    for who in ("cato", "mara"):
        found = [says for says, _ in steps(world, who, MONDAY)]
        assert found[0].startswith("chest pain was written down on 5 January 2026")
        assert not any(says.endswith(": train") for says in found)
    assert not any("chest pain" in says for says, _ in steps(world, "pim", MONDAY))


def test_a_block_that_ended_asks_for_the_next(world: people.World) -> None:
    after = MONDAY + 14 * DAY
    assert "compose" in [page for _, page in steps(world, "cato", after)]
    for who, page in (("mara", "report"), ("pim", "")):
        assert steps(world, who, after) == [
            ("The block has ended: the coach composes the next", page)
        ]


def test_a_block_that_follows_already_is_not_asked_for(world: people.World) -> None:
    BlockRevision(
        lifter=world.lifter, start=MONDAY + 21 * DAY, revision=1, ends=MONDAY + 34 * DAY,
        status="ready", document=people.block_document(1),
    ).save()  # fmt: skip
    assert "compose" not in [page for _, page in steps(world, "cato", MONDAY + 15 * DAY)]


def test_no_block_yet_says_what_is_missing_first(world: people.World) -> None:
    world.stig.shares.update(lifter=world.other)
    lifter = world.other
    rights = rights_for(world.stig, lifter)
    assert lifter_page(lifter, rights, MONDAY)["next"][0].page == "compose"
    document = {key: lifter.document[key] for key in ("name", "units", "gym", "screening", "born")}
    Lifter.objects.filter(key=lifter.key).update(document=document, version=2)
    lifter.refresh_from_db()
    (step,) = lifter_page(lifter, rights, MONDAY)["next"]
    assert step.page == "lifter_file"
    missing = "the bodyweight and a training time"
    assert step.says == f"There is no block yet. It still needs {missing}"


def test_a_referral_stands_before_any_session(world: people.World) -> None:
    another_revision(world, status="refer")
    waits = "The block waits for medical clearance; no session before that"
    assert steps(world, "mara", MONDAY) == [(waits, "sheet")]
    assert steps(world, "cato", MONDAY)[0] == ("Waits for medical clearance", "lifter_file")
    for who in ("cato", "mara"):
        assert "waits for medical clearance" in html(world, who)
    assert "waits for the coach" in html(world, "pim")
    assert steps(world, "pim", MONDAY) == [
        ("The block waits; no session before the coach says so", "sheet")
    ]


def test_what_was_logged_is_counted_as_it_stands(world: people.World) -> None:
    """Each set and check-in once, however often it was put right, and none that was taken back."""
    lifter = world.lifter

    def counted() -> tuple[int, int, date | None]:
        found = page_on(world, "mara", MONDAY)["logged"]
        return found.sets, found.checkins, found.last_day

    assert counted() == (0, 0, None)
    logged(
        world, people.checkin_event(lifter, 1), people.session_event(lifter, {"what": "began"}, 2)
    )
    assert counted() == (0, 1, None), "a check-in is no set, and a turn of a session neither"
    first, second = people.set_event(lifter, 3), people.set_event(lifter, 4, set=2)
    logged(world, first, second)
    assert counted() == (2, 1, MONDAY)
    logged(world, people.set_event(lifter, 5, reps="8", amends=first["id"]))
    assert counted() == (2, 1, MONDAY)
    logged(world, people.set_event(lifter, 6, set=2, amends=second["id"], withdrawn=True))
    assert counted() == (1, 1, MONDAY)
    asked = people.checkin_event(lifter, 7, about="chest")
    logged(
        world, asked, people.checkin_event(lifter, 8, about="chest", value="2", amends=asked["id"])
    )
    assert counted() == (1, 2, MONDAY)


def test_past_weeks_are_folded_and_what_was_logged_is_said(world: people.World) -> None:
    logged(world, people.set_event(world.lifter))
    page = page_on(world, "cato", MONDAY + 7 * DAY)
    assert [(one.week.week, one.is_past) for one in page["weeks"]] == [(1, True), (2, False)]
    assert [one.is_open for one in page["weeks"]] == [False, True]
    assert page["logged_days"] == [MONDAY]
    assert page["logged"].last_day == MONDAY
    assert page["logged"].sets == 1


def test_this_week_and_the_next_stand_open(world: people.World) -> None:
    row = BlockRevision.objects.get(lifter=world.lifter)
    first = row.document["weeks"][0]
    later = [
        {**first, "week": n, "sessions": [
            {**one, "date": str(date.fromisoformat(one["date"]) + (n - 1) * 7 * DAY)}
            for one in first["sessions"]
        ]}
        for n in range(1, 5)
    ]  # fmt: skip
    BlockRevision(
        lifter=world.lifter, start=MONDAY, revision=2, ends=MONDAY + 27 * DAY, status="ready",
        document={**row.document, "revision": 2, "weeks": later}, made_by=world.cato,
    ).save()  # fmt: skip
    assert [one.is_open for one in page_on(world, "cato", MONDAY + 7 * DAY)["weeks"]] == [
        False, True, True, False,
    ]  # fmt: skip
    assert [one.is_open for one in page_on(world, "cato", MONDAY - DAY)["weeks"]] == [
        True, True, False, False,
    ]  # fmt: skip


def test_the_log_counts_what_stands(world: people.World) -> None:
    event = people.set_event(world.lifter)
    undo = people.set_event(world.lifter, 2, amends=event["id"], withdrawn=True)
    logged(world, event, undo, people.checkin_event(world.lifter, 3))
    found = page_on(world, "cato", MONDAY)["logged"]
    assert (found.sets, found.checkins, found.last_day) == (0, 1, None)


# ------------------------------------------------------------------------------- who sees what


def test_the_navigation_shows_what_a_person_may_open(world: people.World) -> None:
    everything = nav_of(html(world, "cato"))
    assert everything[0] == "Sheets"
    assert everything[-1] == "Lifter file"
    assert nav_of(html(world, "mara")) == everything
    assert nav_of(html(world, "pim")) == ["Sheets"]
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    assert nav_of(html(world, "pim")) == everything[:-1]


def test_every_link_of_the_navigation_opens(world: people.World) -> None:
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    for who in ("cato", "mara", "pim"):
        client = people.client_of(getattr(world, who))
        nav = re.search(r'<nav class="lifter_nav".*?</nav>', html(world, who), re.S)
        assert nav is not None
        for address in re.findall(r'href="([^"]+)"', nav[0]):
            page = client.get(address, follow=True)
            assert page.status_code == 200, (who, address)
            assert b'aria-current="page"' in page.content, (who, address)


def test_a_partner_sees_sheets_and_nothing_of_log_files_or_access(world: people.World) -> None:
    page = html(world, "pim")
    assert '<h2 id="sheets">Sheets</h2>' in page
    for word in ("Who has access", "<h2>Files</h2>", "check-ins", "Erase", "Invite"):
        assert word not in page


def test_the_lifter_reads_who_has_access_and_what_a_partner_sees(world: people.World) -> None:
    page = html(world, "mara")
    assert "Pim, training partner, sees sheets" in page
    for word in ("End Pim's access", "Let Pim see", "Invite", "Erase"):
        assert word not in page
    coach = html(world, "cato")
    assert "Let Pim see sheets and history" in coach
    assert "Let Cato see" not in coach


def test_which_answer_of_the_screening_refers_is_the_coachs_and_the_lifters(
    world: people.World,
) -> None:
    document = world.lifter.document | {"screening": {"pregnant_or_postpartum": True}}
    Lifter.objects.filter(key=world.lifter.key).update(document=document, version=2)
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    for who in ("cato", "mara"):
        assert "pregnancy or recent birth" in html(world, who)
    assert "pregnancy" not in html(world, "pim")


def test_today_is_the_persons_own(world: people.World, monkeypatch: pytest.MonkeyPatch) -> None:
    late = datetime(2026, 1, 5, 12, 30, tzinfo=UTC)
    monkeypatch.setattr("django.utils.timezone.now", lambda: late)
    for zone, says in (("Pacific/Auckland", "Thursday, 8 January"), ("Europe/Berlin", "Today")):
        world.mara.zone = zone
        world.mara.save()
        assert f"{says} at 18:30: train." in html(world, "mara")


def corrected_twice(world: people.World, **older: Any) -> dict[str, Any]:
    """A set that the coach corrected at 19:00, and Mara's phone at 18:30, sent later."""
    event = people.set_event(world.lifter, 1)
    told = {"amends": event["id"]}
    newer = people.set_event(world.lifter, 2, reps="9", device=str(people.OTHER_PHONE), **told)
    mine = people.set_event(world.lifter, 2, reps="7", **told)
    logged(world, event, newer | {"at": "2026-01-05T19:00:00+01:00"})
    logged(world, mine | {"at": "2026-01-05T18:30:00+01:00"} | older)
    return event


def standing_reps(world: people.World) -> list[tuple[int, ...]]:
    return [one.reps for one in sets_done(facts_of(world.lifter))]


def test_two_corrections_follow_a_sign_in_what_a_letter_settles_and_stand_on_the_roster(
    world: people.World,
) -> None:
    note = dict(people.set_event(world.lifter, 3)["set"], note="ache across the chest")
    logged(world, people.set_event(world.lifter, 3) | {"set": note})
    corrected_twice(world)
    day = date(2026, 1, 9)
    sign, dispute_asked, *_ = write_letter(world.lifter, day).letter.document["settle"]
    assert sign["id"].startswith("sign-"), "what keeps somebody safe comes first"
    assert "corrected in two ways: bench press" in dispute_asked["asks"]
    assert "50 kg × 9, 2 in reserve or bench press, 50 kg × 7" in dispute_asked["asks"]
    asked = [one for one in roster_line(world.lifter, day).reasons if one.need == "dispute"]
    assert [one.page for one in asked] == ["lifter"]
    page = people.client_of(world.cato).get("/").content.decode()
    assert "Corrected in two ways on " in unescape(page)
    (dispute,) = page_on(world, "cato", MONDAY)["disputes"]
    answer = {"word": str(dispute.words[0].id)}
    people.client_of(world.cato).post(f"/lifters/{world.lifter.key}/settle/", answer)
    assert "dispute" not in {one.need for one in roster_line(world.lifter, day).reasons}


def test_two_corrections_are_asked_about_and_the_answer_stands(world: people.World) -> None:
    corrected_twice(world)
    assert standing_reps(world) == [(9,)], "the newer stands, whichever came last"
    coach, address = people.client_of(world.cato), f"/lifters/{world.lifter.key}/"
    page = unescape(coach.get(address).content.decode())
    assert "Which is true?" in page
    assert "bench press, 50 kg × 10, 2 in reserve" in page
    (asked,) = page_on(world, "cato", MONDAY)["disputes"]
    assert [word.says[-20:] for word in asked.words] == [
        "kg × 9, 2 in reserve", "kg × 7, 2 in reserve",
    ]  # fmt: skip
    answer = {"word": str(asked.words[1].id)}
    done = coach.post(f"{address}settle/", answer, follow=True)
    assert "50 kg × 7, 2 in reserve: written down as true." in unescape(done.content.decode())
    assert standing_reps(world) == [(7,)]
    assert page_on(world, "cato", MONDAY)["disputes"] == ()
    assert coach.post(f"{address}settle/", answer).status_code == 409


def test_a_set_that_was_set_aside_is_asked_about_and_counts_once_it_is_true(
    world: people.World,
) -> None:
    logged(world, people.set_event(world.lifter, 1, lift="leg press", load="2000", reps="12"))
    coach, address = people.client_of(world.cato), f"/lifters/{world.lifter.key}/"
    page = unescape(coach.get(address).content.decode())
    assert "Is it true?" in page
    (asked,) = page_on(world, "cato", MONDAY)["aside"]
    assert "leg press, set 1: 2000 kg × 12" in asked.says
    done = coach.post(f"{address}settle/", {"true": str(asked.id)}, follow=True)
    assert "2000 kg × 12: written down as true." in unescape(done.content.decode())
    assert [one.confirmed for one in sets_done(facts_of(world.lifter))] == [True]
    assert page_on(world, "cato", MONDAY)["aside"] == ()
    assert coach.post(f"{address}settle/", {"true": str(asked.id)}).status_code == 409


def test_a_slip_of_the_pen_is_mended_by_one_answer(world: people.World) -> None:
    loads = ("70", "70", "70", "700")
    for n, load in enumerate(loads, 1):
        when = f"2026-01-0{n}T18:00:05+01:00"
        logged(world, people.set_event(world.lifter, n, load=load, at=when, began=when, set=n))
    coach, address = people.client_of(world.cato), f"/lifters/{world.lifter.key}/"
    (asked,) = page_on(world, "cato", MONDAY)["aside"]
    assert "It was 70 kg" in unescape(coach.get(address).content.decode())
    coach.post(f"{address}settle/", {"was": f"{asked.id} {asked.meant}"})
    assert [one.load_kg for one in sets_done(facts_of(world.lifter))] == [70.0] * 4
    assert page_on(world, "cato", MONDAY)["aside"] == ()
    again = {"was": f"{asked.id} {asked.meant}"}
    assert coach.post(f"{address}settle/", again).status_code == 409


def test_a_letter_is_answered_where_it_asks(world: people.World) -> None:
    loads = ("70", "70", "70", "700")
    for n, load in enumerate(loads, 1):
        when = f"2026-01-0{n + 4}T18:00:05+01:00"
        logged(world, people.set_event(world.lifter, n, load=load, at=when, began=when, set=n))
    letter = write_letter(world.lifter, date(2026, 1, 12)).letter
    coach, address = people.client_of(world.cato), f"/lifters/{world.lifter.key}/"
    page = coach.get(f"{address}review/{letter.pk}/").content.decode()
    line = next(one for one in letter_questions(letter) if one.sets)
    assert "700 kg × 10: 70 kg meant?" in line.says
    (asked,) = line.sets
    assert (asked.load, asked.meant, asked.answer) == ("700", "70", "")
    button = f'name="was" value="{asked.id} 70" form="settles-{letter.pk}">It was 70 kg<'
    assert button in page
    typed = {"was": str(asked.id), f"load-{asked.id}": "72.5", f"reps-{asked.id}": "9"}
    done = coach.post(f"{address}settle/", {**typed, "letter": letter.pk})
    assert done["Location"] == f"{address}review/{letter.pk}/#settle-{letter.pk}"
    assert [one.load_kg for one in sets_done(facts_of(world.lifter))] == [70.0] * 3 + [72.5]
    answered = unescape(coach.get(f"{address}review/{letter.pk}/").content.decode())
    assert "Corrected: 72.5 kg × 9." in answered
    assert "Write the letter anew" in answered, "what it proposes was read from the slip"


def test_more_help_than_the_lifter_weighs_is_asked_about(world: people.World) -> None:
    """The door refuses it; a later weigh-in can still show it."""
    weigh_in = {"measure": "bodyweight", "about": None, "value": "60", "unit": "kg"}
    helped = people.set_event(world.lifter, 2, lift="assisted pull-up", load="66", reps="8")
    logged(world, helped)
    logged(world, people.checkin_event(world.lifter, 1, **weigh_in))
    (asked,) = page_on(world, "cato", MONDAY)["aside"]
    assert asked.says.startswith("assisted pull-up, set 1: 66 kg leaves nothing to lift")
    answer = {"true": str(asked.id)}
    people.client_of(world.cato).post(f"/lifters/{world.lifter.key}/settle/", answer)
    assert page_on(world, "cato", MONDAY)["aside"] == (), "said once, asked no more"


def test_a_set_taken_back_and_corrected_elsewhere_is_asked_about(world: people.World) -> None:
    corrected_twice(world, withdrawn=True, at="2026-01-05T19:30:00+01:00")
    assert standing_reps(world) == []
    (asked,) = page_on(world, "mara", MONDAY)["disputes"]
    assert asked.words[0].says == "it was not done"
    people.client_of(world.mara).post(
        f"/lifters/{world.lifter.key}/settle/", {"word": str(asked.words[0].id)}
    )
    assert standing_reps(world) == []
    assert page_on(world, "mara", MONDAY)["disputes"] == ()


def test_a_partner_is_not_asked(world: people.World) -> None:
    corrected_twice(world)
    assert page_on(world, "pim", MONDAY)["disputes"] == ()


def test_a_correction_taken_back_counts_the_set_that_stands_again(world: people.World) -> None:
    event = people.set_event(world.lifter, 1)
    edit = people.set_event(world.lifter, 2, reps="9", amends=event["id"])
    back = people.set_event(world.lifter, 3, reps="9", amends=edit["id"], withdrawn=True)
    logged(world, event, edit, back, people.set_event(world.lifter, 4))
    assert page_on(world, "cato", MONDAY)["logged"].sets == 2


def test_every_sheet_opens_the_page_that_logs_and_has_its_paper(world: people.World) -> None:
    page = html(world, "mara")
    train = f'href="/phone/#{world.lifter.key}/2026-01-05/1/1"'
    assert train in page
    assert f'href="/lifters/{world.lifter.key}/sheet/2026-01-05/1/1/"' in page
    client = Client()
    client.force_login(world.mara)
    paper = client.get(f"/lifters/{world.lifter.key}/sheet/2026-01-05/1/1/").content.decode()
    assert train in paper


def test_pain_and_missed_days_are_answered_on_the_letter(world: people.World) -> None:
    hurt = people.set_event(world.lifter, 1, at="2026-01-05T18:00:05+01:00", pain=7)
    logged(world, hurt)
    letter = write_letter(world.lifter, date(2026, 1, 12)).letter
    coach, address = people.client_of(world.cato), f"/lifters/{world.lifter.key}/"
    told = {one.id.partition("-")[0]: one for line in letter_questions(letter) for one in line.told}
    assert set(told) == {"pain", "missed"}

    def needs() -> set[str]:
        return {one.need for one in roster_line(world.lifter, MONDAY + 7 * DAY).reasons}

    assert "missed" in needs()
    page = coach.get(f"{address}review/{letter.pk}/").content.decode()
    assert f'value="{told["missed"].id} Short of time"' in page
    file = coach.get(f"{address}file/").content.decode()
    assert 'id="part-screening"' in file, "where the letter leads to"
    assert 'id="part-wishes"' in file, "where the letter leads to"
    pain = told["pain"].id
    typed = {f"pain-{pain}": "11", f"about-{pain}": "shoulder", f"words-{pain}": "at the top"}
    asked = {"letter": letter.pk, "told": pain}
    assert coach.post(f"{address}settle/", {**asked, **typed}).status_code == 409
    for said in ({**asked, **typed, f"pain-{pain}": "3"},
                 {**asked, "told": f"{told['missed'].id} Ill"}):  # fmt: skip
        done = coach.post(f"{address}settle/", said)
        assert done["Location"] == f"{address}review/{letter.pk}/#settle-{letter.pk}"
    answers = {one.answer for line in letter_questions(letter) for one in line.told}
    assert answers == {"pain 3 of 10 in shoulder; at the top", "Ill"}
    assert coach.post(f"{address}settle/", {**asked, "told": "missed-x Ill"}).status_code == 409
    again = letter_questions(write_letter(world.lifter, date(2026, 1, 12)).letter)
    assert {one.answer for line in again for one in line.told} >= {"Ill"}, "not asked again"
    assert "missed" not in needs(), "the roster knows what the letter was told"
    said = [one.event["answers"] for one in facts_of(world.lifter) if "answers" in one.event]
    assert all(one.startswith(f"{letter.block.start} ") for one in said), "week 3 of this block"
    checkins = [one.body for one in facts_of(world.lifter) if one.kind == "checkin"]
    assert [(one["about"], one["value"]) for one in checkins] == [("shoulder", 3.0)]
