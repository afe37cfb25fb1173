"""Parts that may hold pressure are said to be for someone competent, on every sheet they stand on."""

from __future__ import annotations

import pytest

from handwheel.sheets.whole.pressure import WORDS, pressure_words
from tests.sheets.whole.jobs import laid_out, planned, shaft_job, texts

CAUTION = "for someone competent"


@pytest.mark.parametrize("words", ["Boiler bush", "a steam pipe", "pressurised", "cylinder cover", "works at pressure"])
def test_words_that_speak_of_pressure(words: str) -> None:
    assert WORDS.search(words)


@pytest.mark.parametrize("words", ["cylinder", "pressure angle 20 deg", "steamer trunk", "a plain bush", "broiler"])
def test_words_that_do_not(words: str) -> None:
    assert not WORDS.search(words)


def test_every_sheet_of_the_part_says_so() -> None:
    text = shaft_job(note="cover of a steam cylinder")
    drawing, _, _ = planned(text)
    assert set(pressure_words(drawing)) == {"cap"}
    for page in laid_out(text):
        if page.subject.startswith(("Front", "Part")) or "Inspection" in page.subject:
            assert any(CAUTION in " ".join(texts(page)[k : k + 3]) for k in range(len(texts(page)))), page.subject
    first = {page.subject.split("·")[0]: page for page in reversed(laid_out(text)) if page.subject.startswith("Set-up")}
    serving = [page for page in first.values() if "cap" in page.subject]
    assert serving
    for page in serving:
        assert CAUTION in " ".join(texts(page)), page.subject


def test_the_job_s_name_counts_for_all_its_parts() -> None:
    drawing, _, _ = planned(shaft_job(job="Boiler fittings"))
    assert set(pressure_words(drawing)) == {"shaft", "cap"}


def test_a_plain_job_says_nothing_of_it() -> None:
    assert not [t for page in laid_out(shaft_job()) for t in texts(page) if CAUTION in t]
