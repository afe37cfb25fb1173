"""What is taller than a page goes on over the next ones: nothing lost, doubled or cut through."""

from __future__ import annotations

from collections import Counter

from handwheel.sheets.collide import collisions
from handwheel.sheets.moving import Picture, split
from handwheel.sheets.paper import Composer, SheetMeta, table
from handwheel.sheets.primitives import Line, LineType, Text


def tall_picture() -> Picture:
    rows = table([("row", "what")] + [(f"row {k}", f"line {k}") for k in range(150)], [40.0, 60.0])
    rule = Line(38.0, 0.0, 38.0, rows.height, LineType.RULE)
    return Picture((*rows.items, rule), rows.width, rows.height)


def test_every_row_once_and_nothing_meets() -> None:
    paper = Composer("Tall", SheetMeta("tall.yaml", "2026-11-25", "1", "Letter"), False)
    paper.start("A long table")
    paper.put(tall_picture())
    pages = paper.finished()
    assert len(pages) >= 4
    said = Counter(i.text for page in pages for i in page.items if isinstance(i, Text) and i.text.startswith(("row ", "line ")))
    assert said == Counter(f"{what} {k}" for what in ("row", "line") for k in range(150))
    for page in pages:
        assert collisions(page) == []


def test_an_upright_rule_is_cut_where_the_rows_are() -> None:
    whole = tall_picture()
    parts = split(whole, 100.0)
    assert parts is not None
    assert 90.0 < parts[0].height <= 100.5
    lengths = [max(abs(i.y1 - i.y0) for i in p.items if isinstance(i, Line)) for p in parts]
    assert lengths[0] + lengths[1] <= whole.height
    assert lengths[0] + lengths[1] > whole.height - 5.0
    for part, length in zip(parts, lengths, strict=True):
        assert length <= part.height


def test_what_has_no_gap_is_not_cut() -> None:
    slanted = Line(0.0, 0.0, 5.0, 200.0)
    assert split(Picture((slanted,), 5.0, 200.0), 100.0) is None
