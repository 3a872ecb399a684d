"""The block at the desk: seen, changed, shown before it is kept, gone back on."""

import html
import json
import re
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

import composed_world
from blockwright.accounts.models import User
from blockwright.engine.reasons import Reason
from blockwright.engine.training import Block, BlockDecision
from blockwright.files.block_json import block_from_json, block_to_json
from blockwright.files.catalogue import catalogue_for
from blockwright.files.json_text import plain
from blockwright.files.policy_files import block_policy
from blockwright.sheets.report_shapes import day_words
from blockwright.store.blocks import add_revision, add_search, end_search
from blockwright.store.models import BlockRevision, Lifter, Proposals, Share
from blockwright.verbs import search_block
from blockwright.verbs.block_page import block_page
from blockwright.verbs.stored_case import stored_block
from plan_checker import Checker

pytestmark = pytest.mark.django_db

PASSWORD = "a long word for tests"


class Desk:
    """A coach at the block of a lifter, two weeks into it or before it."""

    def __init__(
        self, weeks_in: int = 0, *, logged: bool = True, made: date | None = None, **lifter: Any
    ) -> None:
        self.coach = User.objects.create_user("cato", PASSWORD, name="Cato", role="coach")
        today = date.today()
        self.start = composed_world.monday_of(today) - timedelta(days=7 * weeks_in)
        if not weeks_in:
            self.start += timedelta(days=7)
        self.planned = composed_world.block_from(self.start)
        self.planned = replace(self.planned, **lifter)
        self.row = composed_world.store(self.planned, self.coach, made)
        if weeks_in and logged:
            composed_world.log(self.row, self.planned, today - timedelta(days=1))
        self.client = Client()
        self.client.force_login(self.coach)
        self.at = f"/lifters/{self.row.key}/block/{self.start}/"

    def page(self, path: str = "", status: int = 200) -> str:
        answer = self.client.get(self.at + path)
        assert answer.status_code == status, answer.content[:2000]
        return text_of(answer)

    def post(self, path: str, status: int = 200, **fields: Any) -> str:
        answer = self.client.post(self.at + path, {"revision": self.latest.revision} | fields)
        assert answer.status_code == status, (answer.status_code, text_of(answer)[:3000])
        return text_of(answer)

    @property
    def latest(self) -> BlockRevision:
        found = BlockRevision.objects.filter(lifter=self.row, start=self.start)
        return found.order_by("-revision")[0]

    @property
    def block(self) -> Block:
        return block_from_json(self.latest.document, "stored")


def text_of(answer: Any) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", answer.content.decode())))


@pytest.fixture(autouse=True)
def _no_search_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)


@pytest.fixture
def desk() -> Desk:
    return Desk()


@pytest.fixture
def later() -> Desk:
    """Two weeks of the block are done as planned."""
    return Desk(weeks_in=2)


def recounted(block: Block) -> None:
    """Sets of muscles are what the entries add up to, by the independent checker."""
    checker = Checker(block, catalogue_for(block.lifter), block_policy(block))
    for week in block.weeks:
        assert [says for says in checker.sums(week) if "ceiling" not in says] == []


# ------------------------------------------------------------------------------------- seeing


def test_done_stands_beside_planned(later: Desk) -> None:
    page = later.page()
    assert "this week" in page
    assert "forecast" in page
    first = later.planned.weeks[0].sessions[0].entries[0]
    load = first.sets[0].load_kg
    assert load is not None
    assert f"{load:g} kg × {first.sets[0].reps_high - 1}, {first.sets[0].reps_high}" in page
    assert "planned: " in page
    muscles = page[page.index("Weekly sets and the band") :]
    assert re.search(r"8 done of 8|\d+(\.\d+)? done of \d", muscles)


def test_each_set_stands_in_its_own_week_and_what_nobody_did_is_said() -> None:
    """Two weeks are done as planned: each cell tells its own sets once, and no other day's."""
    later = Desk(weeks_in=2, logged=False)
    start = later.start
    composed_world.log(later.row, later.planned, start + timedelta(days=13))
    today = start + timedelta(days=16)
    page = block_page(stored_block(later.row, later.latest, today))
    for week in later.planned.weeks[:4]:
        for session in week.sessions:
            over = week.week < 3
            for entry in session.entries:
                rows = [g.rows[entry.lift] for g in page.groups if entry.lift in g.rows]
                cells = [row.cells[week.week - 1] for row in rows]
                (cell,) = (one for one in cells if one.session == session.session)
                assert bool(cell.done) == over, (week.week, entry.lift)
                assert not any(" on " in f" {line}" for line in cell.done), cell.done
                assert "planned" not in " ".join(cell.done)
                missed = week.week == 3 and session.day < today
                assert cell.left == ("not done" if missed else ""), (session.day, cell.left)
                assert cell.open == (session.day >= today), session.day
                if cell.open:
                    load = entry.sets[0].load_kg
                    assert cell.load == ("" if load is None else f"{load:g}")
    heads = {head.day: head for g in page.groups for head in g.heads if head.day is not None}
    for day, head in heads.items():
        week, _ = divmod((day - start).days, 7)
        assert head.week == week + 1
        assert head.unsaid == (start + timedelta(days=14) <= day < today)


def test_a_session_nobody_said_anything_about_is_asked_after() -> None:
    desk = Desk(weeks_in=2, logged=False)
    today = date.today()
    past = [s for w in desk.block.weeks for s in w.sessions if 0 < (today - s.day).days <= 7]
    assert desk.page().count("Was it missed?") == len(past)
    week = 1 + (past[-1].day - desk.start).days // 7
    path = f"session/{week}/{past[-1].session}/"
    desk.post(path, 302, edit="missed", step="keep")
    page = desk.page()
    assert page.count("Was it missed?") == len(past) - 1
    assert "was missed" in page


def test_a_session_from_before_the_block_was_made_is_not_asked_after() -> None:
    desk = Desk(weeks_in=2, logged=False, made=date.today())
    assert "Was it missed?" not in desk.page()


def test_what_a_block_needs_is_asked_for_before_compose_is_offered() -> None:
    desk = Desk()
    address = f"/lifters/{desk.row.key}/compose/"
    assert "<button>Compose</button>" in desk.client.get(address).content.decode()
    for needed in ("bodyweight", "slot"):
        Lifter.objects.filter(pk=desk.row.pk).update(
            document={k: v for k, v in desk.row.document.items() if k != needed}
        )
        page = desk.client.get(address).content.decode()
        assert "A block needs the bodyweight and one training day first." in page
        assert "<button>Compose</button>" not in page


def test_a_start_that_has_passed_is_answered_with_the_next_monday() -> None:
    desk = Desk()
    today = date.today()
    passed = composed_world.monday_of(today - timedelta(days=1))
    address = f"/lifters/{desk.row.key}/compose/"
    answer = desk.client.post(address, {"start": passed.isoformat()})
    assert answer.status_code == 422
    coming = day_words(composed_world.monday_of(today + timedelta(days=6)).isoformat())
    assert f"First Monday: {day_words(passed.isoformat())} has passed" in text_of(answer)
    assert f"begin on the next Monday, {coming}" in text_of(answer)
    offered = re.search(r'name="start"[^>]* value="([^"]*)"', answer.content.decode())
    assert offered is not None
    assert date.fromisoformat(offered[1]) >= today
    assert date.fromisoformat(offered[1]).weekday() == 0
    call = desk.client.post(
        f"/api/lifters/{desk.row.key}/composings",
        {"start": passed.isoformat()},
        content_type="application/json",
    )
    assert call.status_code == 409
    assert f"the next Monday, {coming}" in call.json()["error"]["mend"]


def ended(desk: Desk, kind: str, state: str, says: dict[str, Any]) -> str:
    asked = {"previous": None, "revision": 1}
    search = add_search(desk.row, kind, desk.start, asked, desk.coach, timezone.now())
    end_search(search.pk, state, says)
    page = desk.client.get(f"/lifters/{desk.row.key}/compose/{search.pk}/")
    return page.content.decode()


def test_a_search_that_ended_without_a_block_leads_on_to_the_next_thing_to_do(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    rule = {"rules": [{"says": "three visits"}], "give_up": []}
    clash = ended(desk, "block", "clash", rule)
    assert "Give one of these up in the lifter file, then compose again." in clash
    silent = ended(desk, "block", "failed", {"problems": ["The search fell silent."]})
    again = silent[silent.index("<main") :]
    fields = dict(re.findall(r'type="hidden" name="(start|previous)" value="([^"]*)"', again))
    assert fields == {"start": desk.start.isoformat(), "previous": ""}
    assert "<button>Compose again</button>" in again
    answer = desk.client.post(f"/lifters/{desk.row.key}/compose/", fields)
    assert answer.status_code == 302
    assert re.search(r"/compose/\d+/$", answer["Location"])


def test_a_search_for_the_rest_that_ended_leads_back_to_the_rest(desk: Desk) -> None:
    page = ended(desk, "rest", "failed", {"problems": ["The search was stopped."]})
    assert f'href="{desk.at}rest/"' in page
    assert "Compose again" not in page


def test_what_the_block_is_stands_above_its_weeks() -> None:
    says = {"block_days": ("days", "Monday row"), "frame_lost": ("what", "heavy row on Monday")}
    reasons = tuple(Reason(code=code, facts={key: it}) for code, (key, it) in says.items())
    face, _, folded = Desk(reasons=reasons).page().partition("Weeks and lifts")
    for _, words in says.values():
        assert words in face
        assert words not in folded


def test_the_table_has_its_headers(desk: Desk) -> None:
    page = desk.client.get(desk.at).content.decode()
    assert page.count('scope="col"') >= 16
    assert page.count('scope="rowgroup"') == 4
    assert page.count('scope="row"') > 20
    assert "style=" not in page
    assert '"line mark">below</span> <span class="planned">' in page, "figures end in one line"


def test_a_lifter_sees_the_block_and_changes_nothing(desk: Desk) -> None:
    mara = User.objects.create_user("mara", PASSWORD, name="Mara", role="lifter")
    Share.objects.create(person=mara, lifter=desk.row, kind=Share.SELF)
    desk.client.force_login(mara)
    page = desk.page()
    assert "Something came up" not in page
    assert "Solve the rest" not in page
    desk.page("change/1/1/1/", status=403)
    desk.post("change/1/1/1/", status=403, edit="sets", sets=3)


def test_waiting_for_clearance_stands_at_the_top() -> None:
    refer = Desk(status="refer")
    page = refer.page()
    assert "Not before a professional has cleared it" in page
    assert page.index("Not before a professional") < page.index("Weeks and lifts")


def test_no_edit_lifts_a_referral_or_a_caution() -> None:
    refer = Desk(status="refer")
    before = {caution.code for caution in refer.block.cautions}
    path = path_of(refer, "leg curl", 1, 1)
    for fields in (
        {"edit": "sets", "lift": "leg curl", "sets": 3, "weeks": "rest"},
        {"edit": "pin", "lift": "leg curl"},
    ):
        refer.post(path, 302, **fields, step="keep", insist="yes")
    refer.post("session/2/1/", 302, edit="missed", step="keep")
    refer.post("revisions/1/", 302, step="keep")
    assert refer.latest.revision == 5
    assert refer.block.status == refer.latest.status == "refer"
    assert before <= {caution.code for caution in refer.block.cautions}


def test_a_day_that_is_none_and_a_block_that_is_none(desk: Desk) -> None:
    for path in ("2026-13-45", "2026-01-05"):
        answer = desk.client.get(f"/lifters/{desk.row.key}/block/{path}/")
        assert answer.status_code == 404
    for path in ("change/1/9/1/", "change/99/1/1/", "session/1/9/", f"revisions/{10**30}/"):
        desk.page(path, status=404)


# ------------------------------------------------------------------------------------ changing


def path_of(desk: Desk, lift: str, week: int, session: int) -> str:
    found = next(w for w in desk.block.weeks if w.week == week).sessions[session - 1]
    order = next(e.order for e in found.entries if e.lift == lift)
    return f"change/{week}/{session}/{order}/"


def test_a_set_count_is_shown_first_and_then_kept(desk: Desk) -> None:
    path = path_of(desk, "leg curl", 1, 1)
    fields = {"edit": "sets", "lift": "leg curl", "sets": 3, "weeks": "rest"}
    shown = desk.post(path, **fields)
    assert "Leg curl, Monday, sets: 2 → 3" in shown
    assert "Minutes on Monday, of 75:" in shown
    assert "Hamstrings, weekly sets (floor 4, ceiling" in shown
    assert desk.latest.revision == 1
    desk.post(path, 302, **fields, step="keep", words="hamstrings lag behind")
    assert desk.latest.revision == 2
    assert desk.latest.made_by == desk.coach
    recounted(desk.block)
    page = desk.page("?kept=2")
    assert "Kept as revision 2" in page
    assert "leg curl on Monday: 3 sets where there were 2, from week 1 on" in page
    assert "hamstrings lag behind" in page


def test_every_kind_of_edit_makes_a_revision(desk: Desk) -> None:
    first = {e.lift for e in desk.block.weeks[0].sessions[0].entries}
    assert "leg curl" in first
    move = {"edit": "move", "lift": "leg curl", "to_session": 2, "weeks": "only"}
    desk.post(path_of(desk, "leg curl", 1, 1), 302, **move, step="keep", insist="yes")
    swap = {"edit": "swap", "lift": "leg curl", "other": "lying leg curl", "weeks": "rest"}
    others = desk.page(path_of(desk, "leg curl", 2, 1))
    swap["other"] = next(
        name for name in ("lying leg curl", "stiff-leg deadlift") if name in others
    )
    desk.post(path_of(desk, "leg curl", 2, 1), 302, **swap, step="keep", insist="yes")
    pin = {"edit": "pin", "lift": "cable curl"}
    desk.post(path_of(desk, "cable curl", 1, 2), 302, **pin, step="keep")
    assert "cable curl" in {pin.lift for pin in desk.block.lifter.pins}
    unpin = {"edit": "unpin", "lift": "cable curl"}
    desk.post(path_of(desk, "cable curl", 1, 2), 302, **unpin, step="keep")
    assert "cable curl" not in {pin.lift for pin in desk.block.lifter.pins}
    assert [d.kind for d in desk.block.decisions] == [
        "coach_move", "coach_swap", "coach_pin", "coach_unpin",
    ]  # fmt: skip
    assert desk.latest.revision == 5
    recounted(desk.block)


def test_a_swapped_lift_gets_its_load_from_the_log(later: Desk) -> None:
    """What the lifter has logged has a load; what they have not is left to be found."""
    path = path_of(later, "leg extension", 4, 2)
    fields = {"edit": "swap", "lift": "leg extension", "other": "leg curl", "weeks": "only"}
    later.post(path, 302, **fields, step="keep", insist="yes")
    week = later.block.weeks[3]
    entry = next(e for e in week.sessions[1].entries if e.lift == "leg curl")
    assert entry.sets[0].load_kg is not None


def test_a_rule_that_refuses_refuses(desk: Desk) -> None:
    path = path_of(desk, "barbell back squat", 1, 1)
    fields = {"edit": "move", "lift": "barbell back squat", "to_session": 2, "weeks": "rest"}
    shown = desk.post(path, 422, **fields)
    assert "This cannot be kept" in shown
    assert "barbell back squat is locked to Monday: unlock it first" in shown
    assert "Keep this" not in shown
    again = desk.post(path, 422, **fields, step="keep", insist="yes")
    assert "This cannot be kept" in again
    assert desk.latest.revision == 1


def test_a_rule_of_the_house_wants_the_coach_to_insist(desk: Desk) -> None:
    path = path_of(desk, "lat pulldown", 3, 1)
    fields = {"edit": "sets", "lift": "lat pulldown", "sets": 1, "weeks": "only"}
    assert "I insist" in desk.post(path, 200, **fields)
    assert "would climb by" in desk.post(path, 422, **fields, step="keep")
    assert desk.latest.revision == 1
    desk.post(path, 302, **fields, step="keep", insist="yes")
    assert "insisted" in desk.block.decisions[-1].change
    assert "The coach insisted" in desk.page()


def test_a_stale_form_is_refused_and_told_what_changed(desk: Desk) -> None:
    path = path_of(desk, "leg curl", 1, 1)
    fields = {"edit": "sets", "lift": "leg curl", "sets": 3, "weeks": "rest"}
    desk.post(path, 302, **fields, step="keep")
    for step in ("show", "keep"):
        stale = desk.post(path, 409, **(fields | {"sets": 4, "revision": 1, "step": step}))
        assert "you saw revision 1, it is at 2" in stale
        assert "leg curl, Monday, sets: 2 → 3" in stale
    assert desk.latest.revision == 2


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"edit": "sets", "sets": "many"}, "no lift has 0 sets"),
        ({"edit": "sets", "sets": 99}, "no lift has 99 sets"),
        ({"edit": "sets", "sets": 2}, "leg curl has 2 sets already"),
        ({"edit": "move", "to_session": 9}, "the block has no session 9"),
        ({"edit": "move", "to_session": 1}, "is in the session on"),
        ({"edit": "swap", "other": "a lift nobody knows"}, "no lift is called"),
        ({"edit": "unpin"}, "nothing would change"),
        ({"edit": "sets", "sets": 3, "words": "w" * 1001}, "your words are too long"),
    ],
)
def test_what_cannot_be_done_is_said(desk: Desk, fields: dict[str, Any], words: str) -> None:
    path = path_of(desk, "leg curl", 1, 1)
    assert words in desk.post(path, 422, **({"lift": "leg curl", "weeks": "rest"} | fields))


def test_what_is_over_cannot_be_changed(later: Desk) -> None:
    path = path_of(later, "leg curl", 1, 1)
    fields = {"edit": "sets", "lift": "leg curl", "sets": 3, "weeks": "rest"}
    assert "is over" in later.post(path, 422, **fields)


# ----------------------------------------------------------------------------- what comes up


@pytest.mark.parametrize(
    ("fields", "note"),
    [
        ({"edit": "missed"}, "was missed"),
        ({"edit": "minutes", "minutes": 25}, "Only 25 minutes on Monday"),
        ({"edit": "without", "without": ["leg curl"]}, "Without leg curl on Monday"),
        ({"edit": "hurts", "hurts": ["leg curl"]}, "leg curl left out from Monday on in the week"),
        ({"edit": "sore", "sore": ["quads"]}, "Sore on Monday: quads"),
    ],
)
def test_what_comes_up_is_met(desk: Desk, fields: dict[str, Any], note: str) -> None:
    shown = desk.post("session/2/1/", **fields)
    assert "What would change" in shown
    assert desk.latest.revision == 1
    desk.post("session/2/1/", 302, **fields, step="keep", words="life")
    assert desk.latest.revision == 2
    before, after = desk.planned.weeks, desk.block.weeks
    cut = {reason.facts["week"] for reason in desk.block.reasons if reason.code == "replan_ramp"}
    kept = [week.week for week in before if week.week not in {2, *cut}]
    assert [week for week in after if week.week in kept] == [w for w in before if w.week in kept]
    page = desk.page()
    assert note in page
    assert "life" in page
    recounted(desk.block)


@pytest.mark.parametrize(("pains", "left"), [((4.0, 7.0), [3, 0]), ((0.0, 0.0), [5, 5])])
def test_a_missed_day_carries_nothing_into_what_hurts_by_the_log(
    desk: Desk, pains: tuple[float, float], left: list[int]
) -> None:
    lifts = ("dumbbell bench press", "lat pulldown")
    composed_world.hurt(desk.row, date.today(), dict(zip(lifts, pains, strict=True)))
    desk.post("session/2/1/", 302, edit="missed", step="keep")
    entries = [e for s in desk.block.weeks[1].sessions for e in s.entries]
    assert [sum(len(e.sets) for e in entries if e.lift == lift) for lift in lifts] == left
    held = "No set more, until what was reported of them is quiet or cleared: dumbbell bench press"
    assert (held in desk.page()) is (pains[0] > 0)


def test_a_missed_day_carries_nothing_into_days_that_are_over() -> None:
    desk = Desk(weeks_in=2)
    week = desk.block.weeks[2]
    today = date.today()
    for session in week.sessions:
        if session.day < today:
            desk.client.post(f"{desk.at}session/3/{session.session}/", {
                "revision": desk.latest.revision, "edit": "missed", "step": "keep",
            })  # fmt: skip
    for was, now in zip(week.sessions, desk.block.weeks[2].sessions, strict=True):
        if was.day < today:
            assert now.entries in (was.entries, ())


def test_nothing_ticked_is_said(desk: Desk) -> None:
    assert "tick one or more" in desk.post("session/2/1/", 422, edit="without")
    assert "tick one or more" in desk.post("session/2/1/", 422, edit="sore", sore=["elbows"])
    assert "give a number" in desk.post("session/2/1/", 422, edit="minutes", minutes="few")
    assert "not in the session" in desk.post("session/2/1/", 422, edit="without",
                                             without=["no such lift"])  # fmt: skip


# ------------------------------------------------------------------------------ in the margin


def test_an_accepted_proposal_stands_in_the_margin_in_its_letters_words(desk: Desk) -> None:
    says = "leg curl, Monday: 42.5 kg → 45 kg"
    letter = {"proposals": [{"id": "w2-raise-load-leg-curl", "says": says}]}
    Proposals(
        lifter=desk.row, block=desk.latest, through=desk.start, document=letter
    ).save()  # fmt: skip
    about = {"week": 2, "session": 1, "lift": "leg curl", "load_kg": 42.5}
    decisions = tuple(
        BlockDecision(
            proposal="w2-raise-load-leg-curl", kind="raise_load", verdict=verdict, change=about
        )
        for verdict in ("accepted", "changed", "declined")
    )  # fmt: skip
    block = replace(desk.block, revision=2, decisions=decisions)
    add_revision(desk.row, dict(plain(block_to_json(block))), desk.coach)
    page = desk.page()
    # In the row of leg curl on Monday neither is said again.
    assert "Proposed and accepted: 42.5 kg → 45 kg" in page
    assert "Proposed: 42.5 kg → 45 kg. Changed by the coach to 42.5 kg" in page
    assert says not in page
    assert "2 notes" not in page


def test_more_than_two_notes_fold_beside_their_lift(desk: Desk) -> None:
    about = {"week": 2, "session": 1, "lift": "leg curl", "load_kg": 42.5}
    decisions = tuple(
        BlockDecision(proposal=f"p{n}", kind="raise_load", verdict="accepted", change=about)
        for n in range(3)
    )
    block = replace(desk.block, revision=2, decisions=decisions)
    add_revision(desk.row, dict(plain(block_to_json(block))), desk.coach)
    page = desk.client.get(desk.at).content.decode()
    folded = page.split('<summary>3 notes<span class="unseen"> on leg curl</span>')[1]
    assert folded.split("</details>")[0].count("Proposed and accepted") == 3


# --------------------------------------------------------------------------------- revisions


def test_revisions_are_listed_looked_at_and_gone_back_to(desk: Desk) -> None:
    path = path_of(desk, "leg curl", 1, 1)
    desk.post(path, 302, edit="sets", lift="leg curl", sets=3, weeks="rest", step="keep")
    listed = desk.page("revisions/")
    assert "Revision 2 , as it is now" in listed
    assert "leg curl on Monday: 3 sets where there were 2" in listed
    old = desk.page("revisions/1/")
    assert "nothing can be changed here" in old
    assert "Something came up" not in old
    shown = desk.post("revisions/1/")
    assert "Leg curl, Monday, sets: 3 → 2" in shown
    desk.post("revisions/1/", 302, step="keep", words="too much after all")
    assert desk.latest.revision == 3
    assert desk.block.weeks == desk.planned.weeks
    page = desk.page()
    assert "Back to revision 1 from week 1 on" in page
    assert "too much after all" in page
    assert "nothing would change" in desk.post("revisions/1/", 422)


def test_an_earlier_revision_is_never_touched(desk: Desk) -> None:
    first = json.dumps(desk.latest.document, sort_keys=True)
    path = path_of(desk, "leg curl", 1, 1)
    desk.post(path, 302, edit="sets", lift="leg curl", sets=3, weeks="rest", step="keep")
    row = BlockRevision.objects.get(lifter=desk.row, revision=1)
    assert json.dumps(row.document, sort_keys=True) == first


def test_a_lifter_without_a_block_is_told_how_to_get_one() -> None:
    coach = User.objects.create_user("cato", PASSWORD, name="Cato", role="coach")
    row = Lifter.objects.create(name="New Invented", document={"name": "New Invented"})
    Share.objects.create(person=coach, lifter=row, kind=Share.COACH)
    client = Client()
    client.force_login(coach)
    page = text_of(client.get(f"/lifters/{row.key}/block/"))
    assert "No block yet" in page
    assert "Compose a block" in page
