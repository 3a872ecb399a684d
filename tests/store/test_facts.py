"""Facts are written once, by code and by the database; amendments decide what stands."""

import random
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

import people
from blockwright.engine.training import CheckIn, Moment, SetDone
from blockwright.store import convert
from blockwright.store.facts import append, append_all, facts_after, facts_of
from blockwright.store.models import (
    BlockRevision,
    Decision,
    Fact,
    Lifter,
    Proposals,
)
from blockwright.store.roster import roster_rows
from blockwright.store.standing import in_done_order, standing, verdicts
from blockwright.verbs.desk_log import log_days

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)


def done(**changes: object) -> SetDone:
    facts = {
        "moment": Moment(day=people.MONDAY, at=datetime(2026, 1, 5, 18, 5)),
        "lift": "bench press",
        "set_number": 1,
        "loads_kg": (185 * 0.45359237,),
        "entered_load": "185",
        "entered_unit": "lb",
        "reps": (8,),
        "rir_low": 1.0,
        "rir_high": 2.0,
        "rest_s": 150.0,
        "method": "straight",
        "full_range": True,
        "pain": 2.0,
        "note": "elbow, a bit",
        "confirmed": True,
        "row": 1,
    }
    return SetDone(**(facts | changes))  # type: ignore[arg-type]


def stored(world: people.World, one: SetDone, **changes: object) -> Fact:
    facts = {
        "id": uuid4(),
        "kind": "set",
        "day": one.moment.day,
        "at": convert.stored_moment(one.moment),
        "body": convert.set_body(one),
        "digest": "",
        "n": one.row,
    }
    new = Fact(**(facts | changes))  # type: ignore[arg-type]
    return append(new, world.lifter, world.cato, NOW)


def test_a_set_comes_back_as_it_went_in(world: people.World) -> None:
    drop = done(
        set_number=2,
        method="drop",
        loads_kg=(60.0, 45.1, 30.05),
        entered_load="60+45.1+30.05",
        entered_unit="kg",
        reps=(12, 6, 5),
        rir_low=None,
        rir_high=None,
        rest_s=None,
        pain=None,
        row=2,
    )
    for one in (done(), drop):
        stored(world, one)
    assert convert.sets_done(facts_of(world.lifter)) == (done(), drop)


def test_a_set_of_an_older_version_has_what_is_usual_where_it_says_nothing(
    world: people.World,
) -> None:
    body = convert.set_body(done(full_range=True, confirmed=False, pain=None))
    for key in ("full_range", "confirmed", "pain"):
        del body[key]
    stored(world, done(), body=body)
    (read,) = convert.sets_done(facts_of(world.lifter))
    assert read == done(full_range=True, confirmed=False, pain=None)


def test_a_checkin_comes_back_as_it_went_in(world: people.World) -> None:
    weighed = CheckIn(
        moment=Moment(day=people.MONDAY),
        measure="bodyweight",
        about=None,
        value=151 * 0.45359237,
        entered_unit="lb",
        row=1,
    )
    new = Fact(
        id=uuid4(),
        kind="checkin",
        day=people.MONDAY,
        at=None,
        body=convert.checkin_body(weighed),
        digest="",
        n=1,
    )
    append(new, world.lifter, None, NOW)
    assert convert.checkins(facts_of(world.lifter)) == (weighed,)


@pytest.mark.parametrize(
    "change",
    [
        lambda fact: fact.save(),
        lambda fact: fact.delete(),
        lambda fact: Fact.objects.filter(pk=fact.pk).update(withdrawn=True),
        lambda fact: Fact.objects.all().delete(),
        lambda fact: Fact.objects.bulk_update([fact], ["withdrawn"]),
    ],
)
def test_code_cannot_change_or_delete_a_fact(
    world: people.World, change: Callable[[Fact], object]
) -> None:
    fact = stored(world, done())
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        change(fact)


@pytest.mark.parametrize("table", ["fact", "blockrevision", "proposals", "decision"])
@pytest.mark.parametrize("statement", ["UPDATE {} SET {}", "DELETE FROM {}"])
def test_the_database_refuses_too(world: people.World, table: str, statement: str) -> None:
    stored(world, done())
    letter = Proposals(lifter=world.lifter, block=world.block, through=people.MONDAY, document={})
    letter.save()
    Decision(proposals=letter, proposal="p1", verdict="accepted", by=world.cato).save()
    column = "proposal = 'p2'" if table == "decision" else "lifter_id = lifter_id"
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        connection.cursor().execute(statement.format(f"store_{table}", column))
    assert BlockRevision.objects.count() == Fact.objects.count() == Decision.objects.count() == 1


def test_an_id_names_one_fact_for_ever(world: people.World) -> None:
    fact = stored(world, done())
    with pytest.raises(IntegrityError), transaction.atomic():
        stored(world, done(row=2), id=fact.id)


def test_the_last_amendment_stands_and_the_first_moment_stays(world: people.World) -> None:
    first = stored(world, done())
    later = Moment(day=people.MONDAY, at=datetime(2026, 1, 5, 19, 0))
    second = stored(world, done(reps=(9,), moment=later), amends=first.id)
    stored(world, done(reps=(7,), moment=later), amends=second.id)
    (stands,) = convert.sets_done(facts_of(world.lifter))
    assert stands.reps == (7,)
    assert stands.moment == done().moment


def test_what_is_withdrawn_does_not_stand_until_it_is_amended_again(world: people.World) -> None:
    first = stored(world, done())
    stored(world, done(), amends=first.id, withdrawn=True)
    assert convert.sets_done(facts_of(world.lifter)) == ()
    stored(world, done(reps=(6,)), amends=first.id)
    assert [one.reps for one in convert.sets_done(facts_of(world.lifter))] == [(6,)]


def test_an_amendment_may_come_before_what_it_amends(world: people.World) -> None:
    unborn = uuid4()
    stored(world, done(reps=(3,)), amends=unborn)
    assert convert.sets_done(facts_of(world.lifter)) == ()
    stored(world, done(), id=unborn)
    # The amendment has the lower seq, and what amends it is still the later word on it.
    assert [one.reps for one in convert.sets_done(facts_of(world.lifter))] == [(3,)]


def test_a_ring_of_amendments_stands_nowhere_and_ends(world: people.World) -> None:
    one, two = uuid4(), uuid4()
    stored(world, done(), id=one, amends=two)
    stored(world, done(), id=two, amends=one)
    assert convert.sets_done(facts_of(world.lifter)) == ()


def test_one_devices_order_survives_a_clock_that_jumps_back(world: people.World) -> None:
    minutes = [0, 3, -120, -117]
    for n, minute in enumerate(minutes):
        at = datetime(2026, 1, 5, 18, 0, tzinfo=UTC) + timedelta(minutes=minute)
        one = done(set_number=n + 1)
        stored(world, one, at=at, zone="Europe/Berlin", device=people.PHONE, n=n)
    sets = convert.sets_done(facts_of(world.lifter))
    assert [one.set_number for one in sets] == [1, 2, 3, 4]
    assert {one.moment.at for one in sets} == {None}, "times that contradict themselves say nothing"


def test_two_devices_mix_by_time_and_keep_their_own_order(world: people.World) -> None:
    random.seed(7)
    wanted = []
    for n in range(12):
        device = random.choice([people.PHONE, people.OTHER_PHONE])
        at = datetime(2026, 1, 5, 18, n, tzinfo=UTC)
        wanted.append((device, n, at))
    for device, n, at in random.sample(wanted, len(wanted)):
        stored(world, done(set_number=n + 1), at=at, zone="UTC", device=device, n=n)
    sets = convert.sets_done(facts_of(world.lifter))
    assert [one.set_number for one in sets] == list(range(1, 13))


def test_a_set_with_its_day_alone_comes_before_the_days_timed_ones(world: people.World) -> None:
    timed = stored(world, done(row=1))
    plain = stored(world, done(moment=Moment(day=timed.day), row=2))
    assert [fact.id for fact in in_done_order([timed, plain])] == [plain.id, timed.id]


def test_facts_after_come_in_order_and_say_when_there_are_more(
    world: people.World, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("blockwright.store.facts.MOST_AT_ONCE", 3)
    news = [
        Fact(
            id=uuid4(), kind="set", day=people.MONDAY, at=None,
            body=convert.set_body(done(row=row)), digest="", n=row,
        )
        for row in range(5)
    ]  # fmt: skip
    assert append_all(news, world.lifter, None, NOW) == 5
    assert append_all(news, world.lifter, None, NOW) == 0
    first, more = facts_after(world.lifter, 0)
    rest, none = facts_after(world.lifter, first[-1].seq)
    assert more
    assert not none
    assert [fact.n for fact in (*first, *rest)] == [0, 1, 2, 3, 4]


def test_facts_from_a_day_on_leave_earlier_days_out(world: people.World) -> None:
    stored(world, done())
    stored(world, done(moment=Moment(day=date(2026, 1, 8))))
    assert [one.day.day for one in facts_of(world.lifter, first=date(2026, 1, 7))] == [8]


def at_minute(minute: int) -> datetime:
    return NOW + timedelta(minutes=minute)


def edit(world: people.World, of: Fact | None, minute: int, reps: int, **more: object) -> Fact:
    """A correction (of nothing: a set) on the other phone, unless told otherwise."""
    facts: dict[str, object] = {
        "amends": None if of is None else of.id, "at": at_minute(minute), "zone": "UTC",
        "device": people.OTHER_PHONE, "n": minute,
    }  # fmt: skip
    return stored(world, done(reps=(reps,)), **(facts | more))


def reps_standing(world: people.World) -> list[tuple[int, ...]]:
    return [one.reps for one in convert.sets_done(facts_of(world.lifter))]


def disputes(world: people.World) -> list[list[int]]:
    return [
        [one.last.body["reps"][0], *(other.body["reps"][0] for other in one.others)]
        for one in verdicts(facts_of(world.lifter))
        if one.others
    ]


def test_an_older_correction_that_comes_later_replaces_nothing_and_is_asked_about(
    world: people.World,
) -> None:
    first = edit(world, None, 0, 8)
    edit(world, first, 60, 10, device=people.PHONE)
    edit(world, first, 10, 9)
    assert reps_standing(world) == [(10,)]
    assert disputes(world) == [[10, 9]]


def test_of_two_words_of_one_moment_the_one_that_came_in_last_stands(world: people.World) -> None:
    first = edit(world, None, 0, 8)
    edit(world, first, 10, 10, device=people.PHONE)
    edit(world, first, 10, 9)
    assert reps_standing(world) == [(9,)]
    assert disputes(world) == [[9, 10]]


@pytest.mark.parametrize("minute", [-30, 1, 90])
def test_a_corrected_set_keeps_its_place_and_its_hour_whoever_corrects_it(
    world: people.World, minute: int
) -> None:
    """The phone's clock jumped back after the first: its numbers alone tell the order."""
    zone = {"zone": "Europe/Berlin", "device": people.PHONE}
    first, second, _ = (
        edit(world, None, at, reps, **zone, n=n)
        for n, (at, reps) in enumerate([(9, 8), (3, 9), (6, 10)])
    )
    edit(world, second, minute, 5, zone="Asia/Tokyo", n=40)
    assert reps_standing(world) == [(8,), (5,), (10,)]
    edit(world, first, minute, 4, zone="Asia/Tokyo", n=41)
    assert reps_standing(world) == [(4,), (5,), (10,)]
    now = standing(facts_of(world.lifter))
    assert {convert.local_time(fact) for fact in now} == {
        datetime(2026, 1, 5, 19, at) for at in (3, 6, 9)
    }


def test_who_knew_the_other_word_has_the_last_and_nothing_is_asked(world: people.World) -> None:
    first = edit(world, None, 0, 8)
    newer = edit(world, first, 60, 10, device=people.PHONE)
    edit(world, first, 10, 9, event={"knew": newer.seq})
    assert reps_standing(world) == [(9,)]
    assert disputes(world) == []


def test_who_had_seen_only_what_came_before_the_other_word_is_asked_about(
    world: people.World,
) -> None:
    first = edit(world, None, 0, 8)
    edit(world, first, 60, 10, device=people.PHONE)
    edit(world, first, 10, 9, event={"knew": first.seq})
    assert reps_standing(world) == [(10,)]
    assert len(disputes(world)) == 1


def test_of_two_words_with_one_number_of_one_phone_the_later_stands_and_is_asked(
    world: people.World,
) -> None:
    """A phone that was put back from a copy of itself counts anew: its numbers tell nothing."""
    first = edit(world, None, 0, 8)
    edit(world, first, 60, 10, n=5)
    edit(world, first, 10, 9, n=5)
    assert reps_standing(world) == [(10,)]
    assert disputes(world) == [[10, 9]]


def test_two_phones_that_say_the_same_are_not_asked(world: people.World) -> None:
    first = edit(world, None, 0, 8)
    edit(world, first, 60, 10, device=people.PHONE)
    edit(world, first, 10, 10)
    assert reps_standing(world) == [(10,)]
    assert disputes(world) == []
    edit(world, first, 20, 10, withdrawn=True)
    assert disputes(world) == [[10, 10]], "to take it back is not to say it"


def test_taking_a_correction_back_leaves_what_stood_before_it(world: people.World) -> None:
    first = edit(world, None, 0, 8)
    once = edit(world, first, 1, 9)
    twice = edit(world, once, 2, 10)
    edit(world, twice, 3, 10, withdrawn=True)
    assert reps_standing(world) == [(9,)]
    edit(world, once, 4, 9, withdrawn=True)
    assert reps_standing(world) == [(8,)]
    edit(world, first, 5, 8, withdrawn=True)
    assert reps_standing(world) == []
    assert disputes(world) == []


def test_a_set_taken_back_stays_so_whatever_became_of_its_corrections(
    world: people.World,
) -> None:
    first = edit(world, None, 0, 8)
    once = edit(world, first, 1, 9)
    edit(world, first, 2, 8, withdrawn=True)
    edit(world, once, 3, 9, withdrawn=True)
    assert reps_standing(world) == []


def test_a_taking_back_may_be_taken_back(world: people.World) -> None:
    first = edit(world, None, 0, 8)
    gone = edit(world, first, 1, 8, withdrawn=True)
    edit(world, gone, 2, 8, withdrawn=True)
    assert reps_standing(world) == [(8,)]


def test_a_thousand_corrections_of_corrections_are_read(world: people.World) -> None:
    last = edit(world, None, 0, 8)
    for minute in range(1, 1200):
        last = edit(world, last, minute, 9)
    assert reps_standing(world) == [(9,)]


def test_a_roster_row_counts_the_lines_that_wait_of_its_own_letter(world: people.World) -> None:
    (before,) = roster_rows(Lifter.objects.filter(pk=world.lifter.pk), people.MONDAY)
    assert (before.letter, before.letter_state) == (None, None)
    lines = {"proposals": [{"id": "p1"}, {"id": "p2"}, {"id": "p3"}]}
    letter = Proposals(
        lifter=world.lifter, block=world.block, through=people.MONDAY, document=lines
    )
    letter.save()
    Decision(proposals=letter, proposal="p1", verdict="accepted", by=world.cato).save()
    (row,) = roster_rows(Lifter.objects.filter(pk=world.lifter.pk), people.MONDAY)
    assert row.letter == letter
    assert row.letter_state is not None
    assert (row.letter_state.open_lines, row.letter_state.answered) == (2, True)


def test_a_page_of_a_long_log_reads_what_it_shows(
    world: people.World, monkeypatch: pytest.MonkeyPatch
) -> None:
    news = [
        Fact(
            id=uuid4(), kind="set", day=people.MONDAY - timedelta(days=n // 20), at=None, n=n,
            body=convert.set_body(done(row=n)), digest="",
        )
        for n in range(900)
    ]  # fmt: skip
    append_all(news, world.lifter, None, NOW)
    edit(world, news[0], 1, 9)
    gone = edit(world, news[899], 2, 9, withdrawn=True)
    read, made = [], Fact.from_db
    counted = classmethod(lambda _, *row: read.append(1) or made(*row))
    monkeypatch.setattr(Fact, "from_db", counted)
    pages = [log_days(world.lifter, page) for page in (1, 8)]
    assert len(read) < 300 + 900 + 20, "the first page, then the last"
    shown = [[line.id for day in days for line in day.lines] for days, _ in pages]
    assert [len(ids) for ids in shown] == [120, 899 - 7 * 120]
    assert [more for _, more in pages] == [True, False]
    assert not {news[899].id, gone.id} & set(shown[1])
