from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
from functools import cache
from html import unescape

import pytest
from pypdf import PdfReader

from handwheel.sheets.collide import collisions
from handwheel.sheets.make import make_pages, make_sheets
from handwheel.sheets.paper import EXAMPLE_TEXT, SheetMeta
from handwheel.sheets.primitives import Reversed, Text
from tests.sheets.made import META, SHOP, job

FIGURE = re.compile(r"\d+(?:\.\d+)?(?:/\d+)?")


@cache
def sheets(paper: str = "A4", refused: str = "") -> dict[str, bytes]:
    return make_sheets(*job(refused), SHOP, SheetMeta(META.job_file, META.job_date, META.revision, paper))


def pdf(paper: str = "A4") -> PdfReader:
    return PdfReader(io.BytesIO(sheets(paper)["sheets.pdf"]))


def svg_texts(html: str) -> list[str]:
    return [unescape(t) for t in re.findall(r"<text[^>]*>([^<]*)</text>", html)]


def test_the_files_are_flat_names() -> None:
    assert set(sheets()) == {"index.html", "sheets.pdf", "pin-10-face.svg", "pin-20-turn.svg", "lever-30-ball.svg"}


def test_every_figure_of_the_pages_is_in_the_pdf_text() -> None:
    words = " ".join(page.extract_text() for page in pdf().pages)
    html = sheets()["index.html"].decode()
    shown = sorted({f for t in svg_texts(html) for f in FIGURE.findall(t)})
    printed = set(FIGURE.findall(words))
    assert len(shown) > 30
    assert [f for f in shown if f not in printed] == []


def test_known_sizes_and_readings_are_said() -> None:
    # 1/2 in and 9/16 in as typed; 6.33 mm is 0.24921 in, 6.37 mm 0.25079 in: printed limits lie inside those
    words = " ".join(" ".join(page.extract_text() for page in pdf().pages).split())
    for said in ("9/16 ± 0.001", "0.250 ± 0.001", "1 1/2", "cut 0.2493 to 0.2507 in", "tenon diameter", "Ø 0.250 in",
                 "cross slide", "toward the headstock", "Eyes covered.", "wanted 1.500 in", "keep cross slide line"):
        assert said in words, said


def test_the_narrow_screen_has_the_same_readings() -> None:
    html = sheets()["index.html"].decode()
    acts = html[html.index('<div id="acts">') :]
    for said in ("1 turn and 25 divisions", "4 turns and 12 1/2 divisions", "1 turn and 43 divisions", "Ø 0.5625 in"):
        assert said in acts, said


def test_only_the_vendored_font_is_in_the_pdf() -> None:
    names = set()
    for page in pdf().pages:
        stack = [page["/Resources"]]
        while stack:
            resources = stack.pop().get_object()
            for font in resources.get("/Font", {}).values():
                names.add(str(font.get_object()["/BaseFont"]).split("+")[-1])
            stack += [x.get_object()["/Resources"] for x in resources.get("/XObject", {}).values()
                      if "/Resources" in x.get_object()]
    assert names
    assert all(name.startswith(("IBMPlexSans", "/IBMPlexSans")) for name in names), names


@pytest.mark.parametrize(("paper", "size_mm"), [("A4", (210.0, 297.0)), ("Letter", (215.9, 279.4))])
def test_the_paper_is_true_to_size(paper: str, size_mm: tuple[float, float]) -> None:
    box = pdf(paper).pages[0].mediabox
    assert float(box.width) == pytest.approx(size_mm[0] / 25.4 * 72, abs=0.05)
    assert float(box.height) == pytest.approx(size_mm[1] / 25.4 * 72, abs=0.05)


def test_pages_are_front_cards_and_set_ups() -> None:
    pages = make_pages(*job(), SHOP, META)
    assert len(pdf().pages) == len(pages)
    assert pages[0].subject.startswith("Front page")
    assert len({key for p in pages for key in re.findall(r"Set-up (\S+)", p.subject)}) == 2
    texts = [i.text for i in pages[-1].items if isinstance(i, Text)]
    assert f"page {len(pages)} of {len(pages)}" in texts
    assert any("3f9a2c1" in t and "2026-11-25" in t for t in texts)


def test_the_example_workshop_is_said_on_every_page() -> None:
    assert SHOP.is_example
    for page in pdf().pages:
        assert EXAMPLE_TEXT in page.extract_text()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_text_meets_anything(paper: str) -> None:
    for page in make_pages(*job(), SHOP, SheetMeta("made.yaml", "2026-11-25", "1", paper)):
        assert collisions(page) == []


def test_no_text_is_smaller_than_seven_and_a_half_points() -> None:
    sizes = [i.text.size_pt if isinstance(i, Reversed) else i.size_pt
             for page in make_pages(*job(), SHOP, META) for i in page.items if isinstance(i, (Text, Reversed))]
    assert min(sizes) == 7.5
    assert max(sizes) >= 30.0
    assert 16.0 in sizes


def test_there_is_a_tick_box_for_every_copy_and_act() -> None:
    html = sheets()["index.html"].decode()
    ticks = set(re.findall(r'<rect class="s tick" data-tick="([^"]*)"', html))
    assert {f"lever 30 act 1 copy {n}" for n in range(1, 8)} <= ticks
    assert {f"pin 20 act {a} copy {n}" for a in (1, 2) for n in (1, 2, 3)} <= ticks


def test_a_refused_part_says_why_and_has_no_readings() -> None:
    words = " ".join(svg_texts(sheets(refused="no ball tool reaches this radius")["index.html"].decode()))
    assert "no ball tool reaches this radius" in words
    assert "ball tool touched" not in words
    assert "lever-30-ball.svg" not in sheets(refused="no ball tool reaches this radius")


def test_the_html_fetches_nothing() -> None:
    html = sheets()["index.html"].decode()
    assert re.findall(r"""(?:src|href)\s*=\s*["'](?!#)""", html) == []
    assert re.findall(r"url\((?!data:)", html) == []
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", html)


def test_every_stage_svg_is_well_formed_and_names_its_font() -> None:
    for name, data in sheets().items():
        if name.endswith(".svg"):
            root = ET.fromstring(data)
            assert root.attrib["width"].endswith("mm")
            assert b"IBM Plex Sans" in data
            assert b"<marker" not in data
            assert b"<pattern" not in data


def test_the_same_job_gives_the_same_bytes() -> None:
    again = make_sheets(*job(), SHOP, META)
    assert again == sheets()
