"""Erasing leaves nothing of a person on the site's disk: database, journal, sign-in counts, log."""

import sqlite3
import time
from contextlib import closing
from pathlib import Path
from types import SimpleNamespace

import pytest

import people
from blockwright.files.json_text import dumps
from blockwright.files.lifter_file import toml_text
from blockwright.server.database import sqlite_settings
from blockwright.verbs import erase_lifter
from site_process import PASSWORD, Client, Site, begun

NAME, SIGN_IN, NOTE = "Zora Invented", "zora-signs-in", "her left hip whispers"


@pytest.mark.slow
def test_nothing_of_an_erased_lifter_is_left_on_disk(tmp_path: Path) -> None:
    data = tmp_path / "data"
    with Site(begun(data)) as site:
        assert site.owner_link is not None
        coach = Client(site.address)
        coach.make_owner(site.owner_link)
        block = people.block_document()
        block["lifter"]["name"] = NAME
        lifter = coach.make_lifter(
            {
                "lifter.toml": toml_text(people.MARA_TABLE | {"name": NAME}).encode(),
                "block.json": dumps(block).encode(),
                "sets.csv": "when,lift,load,unit,reps,note\n"
                f"2026-01-05,bench press,50,kg,8,{NOTE}\n".encode(),
            }
        )
        asked = coach.post_form(f"/lifters/{lifter}/invite/", {"role": "lifter"})
        token = asked.body.decode().split("/join/")[1].split("/")[0]
        zora = Client(site.address)
        form = {"name": NAME, "sign_in_name": SIGN_IN, "password": PASSWORD, "zone": ""}
        assert zora.post_form(f"/join/{token}/", form).status == 200
        assert Client(site.address).sign_in(SIGN_IN.upper(), "wrong").status == 200
        assert Client(site.address).get(f"/join/{token}/").status == 404
        assert {NAME, SIGN_IN, NOTE} <= set(found(data, NAME, SIGN_IN, NOTE)), "it was there"
        erased = coach.post_form(f"/lifters/{lifter}/erase/", {"name": NAME})
        assert erased.url.rstrip("/") == site.address
        assert found(data, NAME, SIGN_IN, NOTE, "127.0.0.1") == []
        log = site.log.read_text()
        assert "/join/..." in log
        assert token not in log
    with closing(sqlite3.connect(data / "site.sqlite3")) as opened:
        for table in ("axes_accesslog", "axes_accessattempt", "axes_accessfailurelog"):
            assert opened.execute(f"SELECT count(*) FROM {table}").fetchone() == (0,), table


def found(data: Path, *words: str) -> list[str]:
    """Which of the words stand in the database's files, in whatever case."""
    files = [file for file in data.iterdir() if file.name.startswith("site.sqlite3")]
    held = b"".join(file.read_bytes() for file in files).lower()
    return [word for word in words if word.lower().encode() in held]


def test_the_site_overwrites_what_it_deletes_whatever_the_build_does(tmp_path: Path) -> None:
    file = tmp_path / "site.sqlite3"
    with closing(sqlite3.connect(file)) as opened:
        opened.execute("PRAGMA secure_delete=OFF")
        opened.executescript(sqlite_settings(file)["OPTIONS"]["init_command"])
        opened.execute("CREATE TABLE fact (body TEXT)")
        opened.executemany("INSERT INTO fact VALUES (?)", [(NOTE,), ("kept",)])
        opened.commit()
        opened.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        assert found(tmp_path, NOTE) == [NOTE], "it was there"
        opened.execute("DELETE FROM fact WHERE body = ?", (NOTE,))
        opened.commit()
        opened.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        assert found(tmp_path, NOTE, "kept") == ["kept"]


def test_a_journal_that_somebody_reads_is_emptied_once_they_have_gone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "site.sqlite3"
    site = sqlite3.connect(file, timeout=0, check_same_thread=False)
    reader = sqlite3.connect(file, isolation_level=None)
    with closing(site), closing(reader):
        site.executescript("PRAGMA journal_mode=WAL; PRAGMA secure_delete=ON")
        site.execute("CREATE TABLE fact (body TEXT)")
        site.execute("INSERT INTO fact VALUES (?)", (NOTE,))
        site.commit()
        reader.execute("BEGIN")
        assert reader.execute("SELECT count(*) FROM fact").fetchone() == (1,)
        site.execute("DELETE FROM fact")
        site.commit()
        django = SimpleNamespace(
            vendor="sqlite", cursor=lambda: closing(site.cursor()), close=lambda: None
        )
        monkeypatch.setattr(erase_lifter, "connection", django)
        monkeypatch.setattr(erase_lifter, "AGAIN_S", 0.02)
        erase_lifter._empty_journal()
        assert found(tmp_path, NOTE) == [NOTE], "the reader may still want it"
        reader.execute("COMMIT")
        ends = time.monotonic() + 5
        while found(tmp_path, NOTE) and time.monotonic() < ends:
            time.sleep(0.02)
        assert found(tmp_path, NOTE) == []
