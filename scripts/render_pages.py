"""Renders every page of a made `sheets.pdf` to PNG, to be looked at: `python scripts/render_pages.py PDF DIR [PPI]`.

The PDF itself is not parsed again: each of its pages is placed in a page of the same size and drawn.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import typst


def page_sizes(pdf: Path) -> list[tuple[float, float]]:
    """Width and height of each page. [pt]"""
    from pypdf import PdfReader

    return [(float(p.mediabox.width), float(p.mediabox.height)) for p in PdfReader(pdf).pages]


def render(pdf: Path, folder: Path, ppi: float) -> list[Path]:
    folder.mkdir(parents=True, exist_ok=True)
    lines = [
        f'#page(width: {w}pt, height: {h}pt, margin: 0pt)[#image("sheets.pdf", page: {k + 1}, width: {w}pt)]'
        for k, (w, h) in enumerate(page_sizes(pdf))
    ]
    with tempfile.TemporaryDirectory() as work:
        (Path(work) / "main.typ").write_text("\n".join(lines))
        (Path(work) / "sheets.pdf").write_bytes(pdf.read_bytes())
        made = typst.compile(Path(work) / "main.typ", format="png", ppi=ppi)
    written = []
    for k, png in enumerate([made] if isinstance(made, bytes) else made):
        written.append(folder / f"page-{k + 1:02}.png")
        written[-1].write_bytes(png)
    return written


if __name__ == "__main__":
    for path in render(Path(sys.argv[1]), Path(sys.argv[2]), float(sys.argv[3]) if len(sys.argv) > 3 else 100.0):
        print(path)
