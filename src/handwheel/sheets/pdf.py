"""The pages as one PDF: each page's SVG placed full size, with the vendored font alone."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import cast

from handwheel.sheets.fonts import FAMILY, font_folder
from handwheel.sheets.primitives import Page
from handwheel.sheets.svg import page_svg

FIXED_TIME = datetime(2000, 1, 1, tzinfo=UTC)
"""The same pages give the same bytes; the sheets carry the job file's date in their frames."""


def _source(pages: Sequence[Page], title: str) -> dict[str, bytes]:
    plain = title.replace("\\", " ").replace('"', "'")
    lines = [f'#set document(title: "{plain}")', f'#set text(font: "{FAMILY}")']
    files: dict[str, bytes] = {}
    for k, page in enumerate(pages):
        name = f"page{k + 1}.svg"
        files[name] = page_svg(page).encode("utf-8")
        size = f"width: {page.width}mm, height: {page.height}mm"
        lines.append(f"#page({size}, margin: 0mm)[#image(\"{name}\", width: {page.width}mm)]")
    files["main.typ"] = "\n".join(lines).encode("utf-8")
    return files


def _compile() -> Callable[..., bytes | list[bytes]]:
    """typst's compile, imported late; its stub does not say that it takes a dict of files."""
    import typst

    return cast("Callable[..., bytes | list[bytes]]", typst.compile)


def pages_pdf(pages: Sequence[Page], title: str) -> bytes:
    """The PDF of all pages."""
    options = {"font_paths": [font_folder()], "ignore_system_fonts": True, "timestamp": FIXED_TIME}
    made = _compile()(_source(pages, title), format="pdf", **options)
    assert isinstance(made, bytes)
    return made


def pages_png(pages: Sequence[Page], ppi: float = 100.0) -> list[bytes]:
    """Every page as a PNG, for looking at."""
    options = {"font_paths": [font_folder()], "ignore_system_fonts": True, "ppi": ppi}
    made = _compile()(_source(pages, "pages"), format="png", **options)
    return [made] if isinstance(made, bytes) else list(made)
