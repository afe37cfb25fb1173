"""Where on a part a dimension belongs: from its phrase to stations and radii of the solved part."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from handwheel.drawing.records import SolvedAcross, SolvedCut, SolvedFeature, SolvedHole, SolvedPart
from handwheel.job.records import AcrossKind

_OFFSET = re.compile(r"\s[+−-]\s.*$")
_SIZES = re.compile(
    r" (left diameter|pitch circle diameter|across flats|from axis|right diameter|diameter|radius|length|width|depth|taper"
    r"|included angle|angle to axis)( at .+)?$"
)
Known = SolvedFeature | SolvedHole | SolvedAcross | SolvedCut


@dataclass(frozen=True, slots=True)
class Place:
    """kind 'surface': a point (z0, r); 'span': along the axis from z0 to z1. sign stands before the figure."""

    kind: str
    z0: float
    z1: float = 0.0
    r: float = 0.0
    sign: str = ""


def _known(part: SolvedPart) -> dict[str, Known]:
    found: dict[str, Known] = {}
    everything: list[Known] = [*part.outside, *part.inside_left, *part.inside_right, *part.across, *part.cut_in]
    for known in everything:
        found[known.name] = known
    return found


def station(part: SolvedPart, text: str) -> float | None:
    """The station of a point such as `shank right`; None where it cannot be told from the words alone. [mm]"""
    text = text.strip()
    if text == "left end":
        return 0.0
    if text == "right end":
        return part.length
    name, _, word = text.rpartition(" ")
    known = _known(part).get(name)
    if known is None:
        return None
    if isinstance(known, SolvedAcross):
        return known.centre if word in ("centre", "middle") else known.sizes.get(word)
    if isinstance(known, SolvedHole):
        low, high = sorted((known.mouth, known.bottom))
        places = {"mouth": known.mouth, "bottom": known.bottom, "point": known.tip, "left": low, "right": high}
        return places.get(word)
    middle = (known.left + known.right) / 2
    centre = known.centre if isinstance(known, SolvedFeature) and known.centre is not None else middle
    return {"left": known.left, "right": known.right, "centre": centre, "middle": middle}.get(word)


def _of_feature(known: SolvedFeature, size: str) -> Place | None:
    middle = (known.left + known.right) / 2
    mean = (known.left_radius + known.right_radius) / 2
    if size == "left diameter":
        return Place("surface", known.left + 0.04 * known.length, 0.0, known.left_radius, "Ø ")
    if size == "right diameter":
        return Place("surface", known.right - 0.04 * known.length, 0.0, known.right_radius, "Ø ")
    if size in ("diameter", "radius") and known.arc_radius is not None and known.centre is not None:
        at = min(max(known.centre, known.left), known.right)
        r0, big = known.centre_radius or 0.0, known.arc_radius
        top = (big * big - (at - known.centre) ** 2) ** 0.5 if abs(at - known.centre) < big else 0.0
        bulges = bool(known.surface) and getattr(known.surface[0], "bulges", True)
        ball = "ball Ø " if known.centre_radius in (None, 0.0) else "Ø "
        return Place("surface", at, 0.0, r0 + top if bulges else r0 - top, "R " if size == "radius" else ball)
    if size in ("diameter", "radius"):
        return Place("surface", middle, 0.0, mean, "R " if size == "radius" else "Ø ")
    if size in ("length", "width"):
        return Place("span", known.left, known.right)
    if size in ("taper", "included angle", "angle to axis"):
        words = {"taper": "", "included angle": "included ", "angle to axis": "to axis "}[size]
        return Place("surface", middle + 0.1 * known.length, 0.0, mean, words)
    return None


def _of_hole(part: SolvedPart, known: SolvedHole, size: str) -> Place | None:
    if size in ("diameter", "radius"):
        at = 0.65 * known.mouth + 0.35 * known.bottom
        r = 0.65 * known.mouth_radius + 0.35 * known.bottom_radius
        return Place("surface", at, 0.0, r, "hole R " if size == "radius" else "hole Ø ")
    if size == "depth":
        entered = 0.0 if known in part.inside_left else part.length
        return Place("span", entered, known.bottom)
    if size == "length":
        return Place("span", known.mouth, known.bottom)
    return None


def _of_cut(known: SolvedCut, size: str) -> Place | None:
    middle = (known.left + known.right) / 2
    if size in ("diameter", "depth"):
        return Place("surface", middle, 0.0, known.floor_radius, "Ø " if size == "diameter" else "deep ")
    return Place("span", known.left, known.right) if size in ("width", "length") else None


def _of_across(part: SolvedPart, known: SolvedAcross, size: str) -> Place | None:
    """Of a hole its mouth, of a flat or slot its floor."""
    kind = known.source.kind
    if size == "length" and {"left", "right"} <= set(known.sizes):
        return Place("span", known.sizes["left"], known.sizes["right"])
    is_hole = kind in (AcrossKind.HOLE, AcrossKind.HOLES)
    sign = {"diameter": "Ø ", "pitch circle diameter": "on a circle of Ø "}.get(size, f"{size} ")
    named = f"{'cross' if is_hole and known.source.face is None else str(kind)} {sign}"
    named = f"{known.source.count} {named}" if kind is AcrossKind.HOLES else named
    if known.source.face is not None:
        z = 0.0 if known.source.face == "left" else part.length
        return Place("surface", z, 0.0, known.sizes.get("pitch circle diameter", 0.0) / 2, named)
    host = next((f for f in part.outside if f.left <= known.centre <= f.right), None)
    if is_hole:
        return Place("surface", known.centre, 0.0, 0.0 if host is None else host.greatest_radius, named)
    lean, height = math.radians(float(known.source.leaning_deg)), known.sizes.get("from axis", 0.0)
    return Place("surface", known.centre + height * math.sin(lean), 0.0, height * math.cos(lean), named)


def locate(part: SolvedPart, phrase: str) -> Place | None:
    """Where the dimension goes on the drawing of its part; None: only in the table."""
    if phrase == "overall length":
        return Place("span", 0.0, part.length)
    found = _SIZES.search(phrase)
    known = _known(part).get(phrase[: found.start()]) if found else None
    if found and known is not None:
        if found[2]:
            at = station(part, found[2][4:])
            return None if at is None or not isinstance(known, SolvedFeature) else _carried_on(known, at)
        if isinstance(known, SolvedFeature):
            return _of_feature(known, found[1])
        if isinstance(known, SolvedHole):
            return _of_hole(part, known, found[1])
        return _of_cut(known, found[1]) if isinstance(known, SolvedCut) else _of_across(part, known, found[1])
    first, _, second = phrase.partition(" to ")
    if not second or _OFFSET.search(first) or _OFFSET.search(second):
        return None
    z0, z1 = station(part, first), station(part, second)
    return None if z0 is None or z1 is None else Place("span", z0, z1)


def _carried_on(known: SolvedFeature, at: float) -> Place:
    """A diameter where the feature is carried on to, by straight lines from its ends."""
    slope = (known.right_radius - known.left_radius) / known.length if known.length else 0.0
    return Place("surface", at, 0.0, known.left_radius + slope * (at - known.left), "Ø ")
