"""The report on paper and in a terminal, opened with somebody else's readers."""

import json
import re
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from blockwright.sheets.report_pdf import ReportPaper, report_pdf
from blockwright.sheets.report_plots import PAPER, muscle_svg, strength_svg, strength_title
from blockwright.sheets.report_text import report_text
from blockwright.sheets.report_words import report_page

GOLDEN = Path(__file__).resolve().parents[1] / "goldens" / "report.json"


@pytest.fixture(scope="module")
def document() -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(GOLDEN.read_text(encoding="utf-8"))
    return loaded


@pytest.mark.parametrize(("paper", "size"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_it_is_tagged_titled_and_equal_twice(
    document: dict[str, Any], paper: ReportPaper, size: tuple[int, int]
) -> None:
    data = report_pdf(document, paper)
    assert data == report_pdf(document, paper)
    reader = PdfReader(BytesIO(data))
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert reader.metadata is not None
    assert document["lifter"] in str(reader.metadata.title)
    box = reader.pages[0].mediabox
    assert (round(float(box.width)), round(float(box.height))) == size
    fonts = {
        font["/BaseFont"]
        for page in reader.pages
        for font in (each.get_object() for each in page["/Resources"].get("/Font", {}).values())
    }
    assert fonts
    assert all("SourceSansPro" in str(name) for name in fonts)


def test_paper_and_terminal_say_every_finding(document: dict[str, Any]) -> None:
    pdf = " ".join(page.extract_text() for page in PdfReader(BytesIO(report_pdf(document))).pages)
    for said in (pdf, report_text(document, full=True)):
        flat = " ".join(said.split())
        for part in ("done", "muscles", "strength", "proposals", "predictions", "load", "next"):
            words = document["findings"][part]["says"]
            assert words[:40] in flat, part


def test_the_first_page_is_the_lifters(document: dict[str, Any]) -> None:
    parts = ["What was done", "What strength did", "What recovered", "Pain and body weight",
             "What next"]  # fmt: skip
    first = PdfReader(BytesIO(report_pdf(document))).pages[0].extract_text()
    text = report_text(document)
    places = [text.index(part.upper()) for part in parts]
    assert places == sorted(places)
    for part in parts:
        assert part in first
    assert "Behind this page" not in first
    for word in (" SD", "interval", "monotony", "PROPOSALS", "1RM"):
        assert word not in text
    strength = document["findings"]["strength"]["facts"]
    told = [lift for lift in document["strength"] if lift["gain"] is not None]
    if told:
        certainty = strength["certainty"]
        assert ("No clear change" if certainty == "even" else certainty) in text
        assert re.search(r"kg × \d+, \d(\.5)? left", text), "loads, repetitions and what was left"
        assert all(lift["lift"] in text for lift in told)


def test_lifts_stand_in_the_order_of_what_is_said_of_them(document: dict[str, Any]) -> None:
    gains = ((1.2, "sure"), (2.4, "likely"), (-2.4, "sure"))
    one = {**document["strength"][0], "sessions": 9}
    lifts = [{**one, "gain": {"pct": pct, "certainty": sure}} for pct, sure in gains]
    same = {"first_load_kg": 80.0, "last_load_kg": 80.0, "first_reps": 8, "last_reps": 8}
    done = next(lift for lift in document["lifts"] if lift["lift"] == one["lift"]) | same
    text = report_text({**document, "strength": lifts, "lifts": [done]})
    said = ("about 2 % stronger, likely", "held", "about 2 % weaker, sure")
    places = [text.index(words) for words in said]
    assert places == sorted(places), "what is not clear is no gain"
    more = done | {"last_load_kg": 82.5, "last_reps": 9}
    text = report_text({**document, "strength": lifts, "lifts": [more]})
    assert "weaker" not in text, "a heavier set of more repetitions is no loss"
    assert text.count("up, not sure yet") == 2


def test_what_was_done_comes_first_and_every_caution_behind_it(document: dict[str, Any]) -> None:
    caution = {"code": "x", "says": "stop when it hurts", "facts": {}, "source": None}
    other = {**caution, "says": "and when it tingles"}
    text = report_text({**document, "cautions": [caution, other]})
    assert "Caution. Stop when it hurts. And when it tingles." in text
    assert text.index("Stop when it hurts.") > text.index(document["findings"]["done"]["says"])
    assert text.index("Stop when it hurts.") > text.index("WHAT NEXT")


def test_names_and_words_cannot_become_markup(document: dict[str, Any]) -> None:
    rude = json.loads(json.dumps(document))
    rude["lifter"] = "<script>Bo</script> #panic() $x"
    assert "#panic() $x" in " ".join(
        PdfReader(BytesIO(report_pdf(rude))).pages[0].extract_text().split()
    )


def test_pictures_are_sound_and_say_themselves_in_words(document: dict[str, Any]) -> None:
    svgs = [muscle_svg(m, document["weeks"], PAPER) for m in document["muscles"]]
    svgs += [strength_svg(s, document["start"], "lb", PAPER) for s in document["strength"]]
    assert svgs
    for svg in svgs:
        root = ElementTree.fromstring(svg)
        title = root.find("{http://www.w3.org/2000/svg}title")
        assert title is not None
        assert len(title.text or "") > 30
        numbers = re.findall(r"-?\d+\.\d+", svg)
        assert all(-60 <= float(number) <= 400 for number in numbers)


def test_a_week_that_is_not_over_is_drawn_as_no_fall(document: dict[str, Any]) -> None:
    muscle = document["muscles"][0]
    count = 4

    def dots_and_points(last: float, *, over: bool) -> tuple[int, int]:
        told = muscle | {"sets_done": [*[6.0] * (count - 1), last]}
        weeks: list[dict[str, Any]] = [{"kind": "build"} for _ in range(count)]
        weeks[count - 1]["is_over"] = over
        svg = muscle_svg(told, weeks, PAPER)
        line = re.search(r'points="([^"]+)" fill="none" stroke="[^"]+" stroke-width="1.8"', svg)
        assert line is not None
        return svg.count('r="3.0"'), len(line.group(1).split())

    assert dots_and_points(0.0, over=True) == (count, count)
    assert dots_and_points(0.0, over=False) == (count - 1, count - 1)
    assert dots_and_points(4.0, over=False) == (count, count - 1)


def test_a_change_is_told_in_the_lifters_own_unit(document: dict[str, Any]) -> None:
    change = {"id": "w2-x", "kind": "raise_load", "week": 2, "says": "row to 62.5 kg",
              "confidence": 0.9, "decision": "changed", "words": "less",
              "change": {"load_kg": 61.0}, "came_true": None}  # fmt: skip
    page = report_page({**document, "proposals": [change]}, PAPER)
    part = next(part for part in page.parts if part.name.startswith("Proposals"))
    (row,) = part.tables[0].rows
    assert row[:4] == ("2", "row to 62.5 kg", "90 %", "changed to 61 kg: “less”")
    pounds = {**document, "units": "lb", "proposals": [change]}
    part = next(p for p in report_page(pounds, PAPER).parts if p.name.startswith("Proposals"))
    assert "134.48 lb" in part.tables[0].rows[0][3]


def test_a_rate_that_rounds_to_nothing_has_no_minus(document: dict[str, Any]) -> None:
    lift = document["strength"][0]
    slow = lift | {"trend_pct_per_week": {"low80": -0.01, "median": -0.01, "high80": 0.4}}
    assert ", +0.0 to +0.4 % a week" in strength_title(slow, "kg")
