"""What every answer tells the browser: a strict policy, no strangers, careful cookies."""

import re
from pathlib import Path

import pytest
from django.test import Client, override_settings

import blockwright.web
import people

pytestmark = pytest.mark.django_db
WEB = Path(str(blockwright.web.__file__)).parent


def pages(world: people.World) -> list[str]:
    lifter = f"/lifters/{world.lifter.key}"
    return [
        "/", "/phone/", "/phones/", "/lifters/new/", f"{lifter}/", f"{lifter}/erase/",
        f"{lifter}/sheet/2026-01-05/1/1/", "/nowhere/",
    ]  # fmt: skip


def test_every_page_has_a_strict_policy_and_keeps_to_it(world: people.World) -> None:
    client = Client()
    client.force_login(world.orla)
    for page in pages(world):
        answer = client.get(page)
        policy = answer["Content-Security-Policy"]
        assert "unsafe" not in policy
        assert "default-src 'none'" in policy
        assert answer["X-Frame-Options"] == "DENY"
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Referrer-Policy"] == "same-origin"
        text = answer.content.decode()
        assert not re.search(r"\sstyle=|\son\w+=|<style|javascript:", text), page
        assert not re.search(r"<script(?![^>]*\ssrc=)", text), page
        assert not re.search(r"""(?:src|href|action)=["']?(?:https?:)?//""", text), page


def test_no_file_of_ours_names_another_site() -> None:
    for file in WEB.rglob("*"):
        if file.suffix in (".html", ".css", ".js"):
            found = re.findall(r"https?://[\w.-]+", file.read_text(encoding="utf-8"))
            assert set(found) <= {"http://www.w3.org"}, file.name


@override_settings(SESSION_COOKIE_SECURE=True, CSRF_COOKIE_SECURE=True)
def test_cookies_are_careful(world: people.World) -> None:
    client = Client()
    form = {"username": "cato", "password": people.PASSWORD}
    cookies = client.post("/sign-in/", form, secure=True).cookies
    assert cookies["sessionid"]["httponly"]
    assert cookies["sessionid"]["samesite"] == "Lax"
    assert cookies["sessionid"]["secure"]
    assert cookies["csrftoken"]["secure"]


def test_the_sheet_page_says_what_the_document_says(world: people.World) -> None:
    client = Client()
    client.force_login(world.pim)
    text = client.get(f"/lifters/{world.lifter.key}/sheet/2026-01-05/1/1/").content.decode()
    for words in (
        "Barbell back squat",
        "Bench press",
        "Pull-up",
        "Tries: 6 repetitions",
        "Warm-up",
    ):
        assert words in text
    main = text[text.index("<main") :]
    assert "Monday 5 January 2026, " in main
    # On paper the ways are left out, but not whose they are.
    assert '<span class="who">Mara Invented</span>' in main
    assert ">2026-01-05" not in main
    assert "After a first set with " in main
    said = " ".join(re.sub(r"<[^>]*>", "", main).split())
    assert ".." not in said
    assert "3 × 6–10, keep 2 in reserve, 80 kg: 20 kg bar, " in said
    assert "2 × 6–10, keep 2 in reserve, load to be found." in said
    assert "Rest 3:00." in said
    assert said.index("rest until fresh") < said.index("Barbell back squat"), "once, for all lifts"


def test_a_name_cannot_become_markup(world: people.World) -> None:
    world.lifter.name = "<script>alert(1)</script>"
    world.lifter.save()
    client = Client()
    client.force_login(world.orla)
    assert b"<script>alert" not in client.get("/").content


def test_the_worker_lists_what_the_page_needs() -> None:
    answer = Client().get("/sw.js")
    assert answer["Content-Type"].startswith("text/javascript")
    text = answer.content.decode()
    listed = {name: f"/static/blockwright/{name}" in text for name in (
        "paper.css", "text-regular.woff2", "phone.js", "signs.js", "dom.js", "sign_words.js",
        "beyond",
    )}  # fmt: skip
    # Two scripts hold all modules; letters beyond English ones come where a page has one.
    assert [name for name, is_listed in listed.items() if not is_listed] == [
        "dom.js", "sign_words.js", "beyond"
    ]  # fmt: skip


def test_a_browser_gets_shell_and_worker_once(world: people.World) -> None:
    client = Client()
    client.force_login(world.orla)
    for address in ("/phone/", "/sw.js"):
        tag = client.get(address)["ETag"]
        assert client.get(address, headers={"If-None-Match": tag}).status_code == 304


def test_pages_for_trouble_say_the_mend(world: people.World) -> None:
    client = Client()
    client.force_login(world.orla)
    missing = client.get("/nowhere/")
    assert missing.status_code == 404
    assert b"nothing here" in missing.content
    assert b'<a class="alone" href="/">' in missing.content
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(world.orla)
    assert b"too old" in strict.post("/lifters/new/").content
