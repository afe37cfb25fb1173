"""The sheets' one type family: its files and how wide a text comes out, from the embedded font's own metrics."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache, lru_cache
from importlib.resources import files

FAMILY = "IBM Plex Sans"
MM_PER_PT = 25.4 / 72.0
LEAST_PT = 7.5
_JOINED = "\x01"
_KEPT = re.compile(r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=(?:in|mm|div|turns?)\b)|(?<=Ø) (?=\d)")
"""The blanks of '2 11/16 in' and 'Ø 0.5 mm'."""
_FILES = {"regular": "IBMPlexSans-Regular.ttf", "bold": "IBMPlexSans-Bold.ttf"}


@cache
def _metrics() -> dict[str, dict[str, list[int]]]:
    text = files("handwheel.sheets").joinpath("data/metrics.json").read_text("utf-8")
    found = json.loads(text)
    return {"regular": found["regular"], "bold": found["bold"]}


def font_bytes(weight: str) -> bytes:
    """The font file of a weight, 'regular' or 'bold'."""
    return files("handwheel.sheets").joinpath(f"data/fonts/{_FILES[weight]}").read_bytes()


def font_folder() -> str:
    """The folder of the font files, for a program that wants a path."""
    return str(files("handwheel.sheets").joinpath("data/fonts"))


def plain(text: str) -> str:
    """The text with every character the font lacks put into ones it has."""
    table = _metrics()["regular"]
    swaps = {"⌀": "Ø", "∅": "Ø", "\u00a0": " ", "\n": " ", "\t": " ", "☐": "[ ]"}
    return "".join(ch if ch in table else swaps.get(ch, "?") for ch in text)


@lru_cache(maxsize=16384)
def text_width_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """Width of a line of text set without kerning. [mm]"""
    table = _metrics()["bold" if bold else "regular"]
    return sum(table.get(ch, table["?"])[0] for ch in text) * size_pt * MM_PER_PT / 1000.0


def text_extent_mm(text: str, size_pt: float, bold: bool = False) -> tuple[float, float]:
    """How far a line of text goes below (positive down) and above its baseline. [mm]"""
    table = _metrics()["bold" if bold else "regular"]
    glyphs = [table.get(ch, table["?"]) for ch in text if ch != " "]
    scale = size_pt * MM_PER_PT / 1000.0
    if not glyphs:
        return 0.0, 0.0
    return -min(g[1] for g in glyphs) * scale, max(g[2] for g in glyphs) * scale


def wrapped(text: str, width_mm: float, size_pt: float, bold: bool = False) -> list[str]:
    """The text broken at blanks into lines no wider than `width_mm` (a longer word is broken where it must be)."""
    lines: list[str] = []
    line = ""
    for word in _words(plain(text), width_mm, size_pt, bold):
        while text_width_mm(word, size_pt, bold) > width_mm and len(word) > 1:
            keep = len(word)
            while keep > 1 and text_width_mm(word[:keep], size_pt, bold) > width_mm:
                keep -= 1
            if line:
                lines.append(line)
                line = ""
            lines.append(word[:keep])
            word = word[keep:]
        grown = f"{line} {word}" if line else word
        if line and text_width_mm(grown, size_pt, bold) > width_mm:
            lines.append(line)
            line = word
        else:
            line = grown
    if line:
        lines.append(line)
    return lines


def _words(text: str, width_mm: float, size_pt: float, bold: bool) -> Iterator[str]:
    """What is not parted at a line's end: a word, or a figure with its fraction and its unit where both go on one line."""
    for word in _KEPT.sub(_JOINED, text).split():
        whole = word.replace(_JOINED, " ")
        yield from (whole,) if text_width_mm(whole, size_pt, bold) <= width_mm else whole.split()
