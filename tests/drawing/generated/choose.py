"""Dimension sets drawn at random that fix a known part, and the job file that says them."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Any

import numpy as np

from tests.drawing.generated.phrases import Phrase, pool
from tests.drawing.generated.shape import STEP, Made, Part, plain, stepped

FREE = 0.03
"""How far a phrase must point out of what is fixed already to be drawn (sine)."""
WEAK = 2e-3
"""Least singular value of a set, rows of length 1."""


def slopes(part: Part, phrases: list[Phrase], values: Any = None) -> Any:
    """Exact derivatives of the phrases to the free numbers, rows not yet scaled."""
    made = Made(part, stepped(part, values))
    with np.errstate(all="ignore"):
        return np.array([np.broadcast_to(np.imag(p.fn(made)) / STEP, (len(part.values),)) for p in phrases])


def _unit(row: Any) -> Any:
    size = np.linalg.norm(row)
    return row / size if size > 1e-9 and np.isfinite(size) else np.zeros_like(row)


@dataclass
class Drawn:
    """A known part, the phrases drawn to fix it, those left over, and its true values."""

    part: Part
    chosen: list[Phrase]
    spare: list[Phrase]
    rows: Any
    """Rows of length 1 of `chosen`."""

    @property
    def made(self) -> Made:
        """The part itself."""
        return Made(self.part, plain(self.part))


def drawn(part: Part, random: Random) -> Drawn | None:
    """Phrases that just fix the part; None where those drawn do not, or barely."""
    offered = pool(part, Made(part, plain(part)), random)
    random.shuffle(offered)
    offered.sort(key=lambda p: (not p.text.startswith("e"), 0) if _is_edge(part, p) else (True, _wish(p, random)))
    rows = slopes(part, offered)
    want = len(part.values) - 1
    basis: list[Any] = []
    chosen: list[Phrase] = []
    spare: list[Phrase] = []
    angled: set[str] = set()
    for phrase, row in zip(offered, rows, strict=True):
        unit = _unit(row)
        rest = unit - sum((b @ unit) * b for b in basis) if basis else unit
        long = float(np.linalg.norm(rest))
        if len(chosen) < want and (long > FREE or (_is_edge(part, phrase) and long > 1e-6)):
            chosen.append(phrase)
            basis.append(rest / long)
            angled |= {phrase.angled} if phrase.angled else set()
        elif np.any(unit):
            spare.append(phrase)
    if len(chosen) < want:
        return None
    units = np.array([_unit(r) for r in slopes(part, chosen)])
    if np.linalg.svd(units, compute_uv=False)[-1] < WEAK:
        return None
    return Drawn(part, chosen, spare, units)


def _is_edge(part: Part, phrase: Phrase) -> bool:
    """Whether it is a rounded edge's radius, which is always written at the edge."""
    return any(k.kind == "edge" and phrase.text == f"{k.name} radius" for k in part.links)


def _wish(phrase: Phrase, random: Random) -> float:
    return random.random() - (0.35 if phrase.plain else 0.0)




def written(value: float, unit: str, scale: float = 1.0, places: int = 12) -> str:
    """A number as typed."""
    if unit == "deg":
        return f"{value:.{places}f} deg"
    if unit == "ratio":
        return f"1 in {1 / value:.{places}f}"
    return f"{value / scale:.{places}f}"


def job_text(part: Part, dimensions: list[tuple[Phrase, str]], units: str = "mm", tolerance: str = "± 0") -> str:
    """The job file of a part with the given dimensions."""
    sizes = {p.text.removesuffix(" radius"): v for p, v in dimensions if _is_edge(part, p)}
    made = Made(part, plain(part))
    lines = ["handwheel: 1", "job: drawn at random", f"units: {units}", f"general tolerance: {tolerance}"]
    lines += ["parts:", "  it:", "    outside:"]
    angled = {p.angled for p, _ in dimensions if p.angled}
    for i, link in enumerate(part.links):
        words = [f"{'round' if link.kind == 'edge' else link.kind}: {link.name}"]
        words += _sides("flush", i, part, lambda k, i: part.joins[k] == "flush" and k == i)
        words += _sides("tangent", i, part, lambda k, i: part.joins[k] == "tangent" and _says(part, i, k))
        words += _sides("flat", i, part, lambda k, i: part.joins[k] == "flat" and part.links[i].kind == "ball")
        if link.name in sizes:
            words.append(f"size: R {sizes[link.name]}")
        if link.kind == "cone" and link.name in angled and not ruled(part, made, i):
            words.append(f"narrow: {'right' if float(np.real(made.slope(i)).flat[0]) < 0 else 'left'}")
        lines.append(f"      - {{{', '.join(words)}}}" if len(words) > 1 else f"      - {words[0]}")
    for groove in part.grooves:
        lines.append(f"      - {{groove: {groove.name}, in: {part.links[groove.host].name}}}")
    if part.holes:
        lines.append("    inside:")
    for way, word in ((1, "left"), (-1, "right")):
        found = [h for h in part.holes if h.way == way]
        lines += [f"      from {word}:"] if found else []
        for hole in found:
            item = f"{hole.kind}: {hole.name}"
            lines.append(f"        - {{{item}, cone: yes}}" if "rb" in hole.numbers else f"        - {item}")
    lines.append("    dimensions:")
    lines += [f"      {p.text}: {v}" for p, v in dimensions if not _is_edge(part, p)]
    return "\n".join(lines) + "\n"


def _says(part: Part, i: int, k: int) -> bool:
    """Whether link i is the one to say that join k is tangent: corners need not."""
    kinds = {part.links[j].kind for j in (k - 1, k) if 0 <= j < len(part.links)}
    return part.links[i].kind in ("ball", "hollow", "round") and not kinds & {"fillet", "edge"}


def _sides(word: str, i: int, part: Part, holds: Any) -> list[str]:
    sides = [side for side, k in (("left", i), ("right", i + 1)) if holds(k, i)]
    if word == "flush" and part.links[i].kind == "chamfer":
        return []
    if word == "flush" and sides and i and part.links[i - 1].kind == "chamfer":
        return []
    return [f"{word}: {'both' if len(sides) == 2 else sides[0]}"] if sides else []


def ruled(part: Part, made: Made, i: int, near: float = 0.3) -> bool:
    """Whether the contract's ruling alone narrows the cone as it is: toward its smaller neighbour, or a free end."""
    ends = []
    for side in (-1, 1):
        j = i + side
        while 0 <= j < len(part.links) and part.links[j].kind in ("chamfer", "fillet", "edge"):
            j += side
        if not 0 <= j < len(part.links):
            ends.append(None)
            continue
        is_ball = part.links[j].kind == "ball"
        ends.append(float(np.real(made.circle(j)[2] if is_ball else made.end(j, -side)).flat[0]))
    narrows_right = float(np.real(made.slope(i)).flat[0]) < 0
    one, two = ends
    if one is None or two is None:
        return (one is None) != (two is None) and narrows_right is (two is None)
    return abs(one - two) > near and narrows_right is (one > two)
