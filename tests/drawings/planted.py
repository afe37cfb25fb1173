"""A drawing with one dimension taken out, or one put in: the text is cut and joined here, nothing is worked out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent


class Line(NamedTuple):
    """One dimension of a drawing: its line (from 0), its part and its phrase."""

    number: int
    part: str
    phrase: str


def text_of(name: str) -> list[str]:
    """The drawing's lines."""
    return (HERE / f"{name}.yaml").read_text(encoding="utf-8").splitlines()


def dimensions(name: str) -> Iterator[Line]:
    """The dimensions written of single parts, auxiliary ones left out."""
    part, inside, assemblies = "", False, False
    for number, line in enumerate(text_of(name)):
        assemblies = assemblies or line == "assemblies:"
        if re.match(r"  \w", line):
            part = line.strip()[:-1]
        if line.strip() == "dimensions:":
            inside = True
        elif not line.startswith("      "):
            inside = False
        elif inside and not assemblies and "(" not in line:
            yield Line(number, part, line.strip().split(":")[0])


def without(name: str, line: Line) -> str:
    """The drawing less one dimension."""
    lines = text_of(name)
    return "\n".join(lines[: line.number] + lines[line.number + 1 :]) + "\n"


def with_one_more(name: str, part: str, entry: str) -> str:
    """The drawing with one dimension more, written first in its part."""
    lines = text_of(name)
    start = lines.index(f"  {part}:")
    place = next(i for i in range(start, len(lines)) if lines[i].strip() == "dimensions:")
    return "\n".join([*lines[: place + 1], f"      {entry}", *lines[place + 1 :]]) + "\n"
