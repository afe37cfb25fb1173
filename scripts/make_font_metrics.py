"""Writes sheets/data/metrics.json: advance width and height of every glyph the sheets may use, from the vendored fonts.

Run after the font files change: `python scripts/make_font_metrics.py` (needs fonttools, of the test extra).
"""

from __future__ import annotations

import json
from pathlib import Path

from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

DATA = Path(__file__).resolve().parent.parent / "src" / "handwheel" / "sheets" / "data"
GREATEST_CODE = 0x2300


def table(name: str) -> dict[str, list[int]]:
    font = TTFont(DATA / "fonts" / name)
    glyphs = font.getGlyphSet()
    found = {}
    for code, glyph in sorted(font.getBestCmap().items()):
        if 0x20 <= code < GREATEST_CODE:
            pen = BoundsPen(glyphs)
            glyphs[glyph].draw(pen)
            low, high = (pen.bounds[1], pen.bounds[3]) if pen.bounds else (0, 0)
            found[chr(code)] = [round(glyphs[glyph].width), round(low), round(high)]
    return found


def main() -> None:
    metrics = {
        "what": "per character: advance width, lowest and highest point, in thousandths of the type size",
        "regular": table("IBMPlexSans-Regular.ttf"),
        "bold": table("IBMPlexSans-Bold.ttf"),
    }
    (DATA / "metrics.json").write_text(json.dumps(metrics, ensure_ascii=True, separators=(",", ":")) + "\n")


if __name__ == "__main__":
    main()
