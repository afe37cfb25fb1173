"""The stage drawing: metal after hatched, metal to come off stippled, jaws, centre and tool lightly, as it is held.

Dimensioned from the setting's datum: what is newly cut, in bold, nothing else.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from handwheel.job.records import Unit
from handwheel.plan.records import Makes, Stage
from handwheel.readings.words import figure, length_text
from handwheel.sheets.acrossbody import body_across
from handwheel.sheets.acrosspic import across_picture, is_across
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.moving import Picture, as_picture, box_of
from handwheel.sheets.paper import under
from handwheel.sheets.primitives import Item, Line, LineType, Polyline, Text
from handwheel.sheets.view import (
    View,
    centre_line,
    clipped,
    corners,
    hatch_spacing,
    least_radius_at,
    radius_at,
    to_come_off,
)
from handwheel.stages.records import Bore, Section, Swing
from handwheel.stages.records import Polyline as Profile

LABEL_PT = 7.5
SAME_MM = 0.005
NARROW_MM = 80.0
GREATEST_SCALE = 5.0
BEHIND_JAWS_MM = 8.0
LEAST_SHOWN_MM = 0.4
LEAST_ACROSS_MM = 44.0


def _window(stages: Sequence[Stage]) -> tuple[float, float]:
    """The stations to show: the metal from just behind the jaws to the free end. [mm]"""
    before, holding = stages[0].before, stages[0].operation.holding
    low, high = float(before.outer[0, 0]), float(before.outer[-1, 0])
    if holding.device and holding.to_mm > holding.from_mm:
        back = min(BEHIND_JAWS_MM, 0.4 * (holding.to_mm - holding.from_mm) + 2.0)
        long = holding.to_mm - holding.from_mm > 45.0
        if holding.toward_tailstock == "right":
            low = max(low, (holding.to_mm - 30.0 if long else holding.from_mm) - back)
        else:
            high = min(high, (holding.from_mm + 30.0 if long else holding.to_mm) + back)
    return low, high


def _view(stages: Sequence[Stage], width: float, height: float) -> View:
    low, high = _window(stages)
    radius = max(float(stages[0].before.outer[:, 1].max()), 1e-3)
    side = 42.0 if width > NARROW_MM else 25.0
    scale = min((width - side) / max(high - low, 1e-3), height / (2 * radius), GREATEST_SCALE)
    return View(low, high, scale, stages[0].operation.holding.toward_tailstock == "left")


def _jaws(stages: Sequence[Stage], view: View) -> list[Item]:
    holding = stages[0].operation.holding
    if not holding.device or holding.to_mm <= holding.from_mm:
        return []
    near = max(min(holding.from_mm, holding.to_mm), view.z_low)
    far = min(max(holding.from_mm, holding.to_mm), view.z_high)
    if far <= near:
        return []
    xa, xb = sorted((view.x(near), view.x(far)))
    inner = (holding.grip_radius_mm or float(stages[0].before.outer[:, 1].max())) * view.scale
    deep = 3.6
    items: list[Item] = []
    for sign in (-1.0, 1.0):
        step = xb - min(5.0, 0.4 * (xb - xa))
        shape = ((xa, inner), (xb, inner), (xb, inner + 0.45 * deep), (step, inner + deep), (xa, inner + deep))
        items.append(Polyline(tuple((x, sign * y) for x, y in shape), LineType.THIN, True))
    return items


def _centre(stages: Sequence[Stage], view: View) -> list[Item]:
    at = stages[0].operation.holding.centre_mm
    if at is None:
        return []
    x, reach = view.x(at), 7.0
    half = reach * math.tan(math.radians(30))
    points = ((x + reach + 5, -half), (x + reach, -half), (x, 0.0), (x + reach, half), (x + reach + 5, half))
    return [Polyline(points, LineType.THIN)]


def _tool(stages: Sequence[Stage], view: View) -> list[Item]:
    """The tool lightly, where its last cut ends; a swinging tool as the arc of its tip."""
    operation = stages[-1].operation
    if isinstance(operation.cut, Swing):
        cut = operation.cut
        sweep = np.radians(np.linspace(cut.from_deg, cut.to_deg, 25))
        points = [view.point(cut.centre + cut.radius * float(np.cos(a)), cut.radius * float(np.sin(a))) for a in sweep]
        x, _ = view.point(cut.centre, 0.0)
        return [Polyline(tuple(points), LineType.PHANTOM), Line(x - 2, 0, x + 2, 0), Line(x, -2, x, 2)]
    path = getattr(operation.cut, "path", None)
    if path is None or len(operation.cutter.outline) < 3 or not len(path):
        return []
    turned = -1.0 if getattr(operation.cut, "inside", False) else 1.0  # a boring tool's outline runs toward the axis
    outline = operation.cutter.outline * (1.0, turned) + path[-1]
    top = float(stages[0].before.outer[:, 1].max()) + 7.0 / view.scale
    margin = 9.0 / view.scale
    points = [
        view.point(float(np.clip(z, view.z_low - margin, view.z_high + margin)), float(min(r, top))) for z, r in outline
    ]
    return [Polyline(tuple(points), LineType.THIN, True)]


def _drilled_on(stages: Sequence[Stage], view: View) -> list[Item]:
    """A blind tapped hole as it is drilled on for the tap's lead, dashed behind the drawn one."""
    items: list[Item] = []
    for operation in (stage.operation for stage in stages):
        if operation.kind != "drill" or not operation.drilled_on_mm or not isinstance(operation.cut, Bore):
            continue
        profile = operation.cut.profile
        way = -1.0 if operation.holding.toward_tailstock == "right" else 1.0
        points = profile if way < 0.0 else profile[::-1]
        (tip, _), (full, radius), on = points[0], points[1], way * operation.drilled_on_mm
        for sign in (-1.0, 1.0):
            dashed = [(full, sign * radius), (full + on, sign * radius), (tip + on, 0.0)]
            items.append(Polyline(tuple(view.point(float(z), float(r)) for z, r in dashed), LineType.HIDDEN))
    return items


def _is_new(before: Profile, z: float, r: float, inside: bool) -> bool:
    """Whether a point of the new surface lies in metal that was there before."""
    if z < before[0, 0] - SAME_MM or z > before[-1, 0] + SAME_MM:
        return False
    if inside:
        return r > radius_at(before, z) + SAME_MM
    return r < least_radius_at(before, z) - SAME_MM


def _made(stages: Sequence[Stage], value_mm: float, is_diameter: bool) -> Makes | None:
    """The size a reading makes that this is, if one is near."""
    for stage in stages:
        for move in stage.operation.moves:
            makes = move.makes
            if makes and makes.is_diameter == is_diameter and abs(makes.value_mm - value_mm) < 0.03:
                return makes
    return None


def _diameters(stages: Sequence[Stage], view: View, unit: Unit) -> list[Callout]:
    """The diameters newly cut that are still there after the last stage, each once. A centre's own are left out."""
    first, last = stages[0].before, stages[-1].after
    found: dict[tuple[int, int], Callout] = {}
    pairs: list[tuple[Profile, Profile, bool]] = [(first.outer, last.outer, False)]
    if any(s.operation.kind not in ("centre", "face", "turn") and s.after.inner is not s.before.inner for s in stages):
        pairs.append((first.inner, last.inner, True))
    for before, after, inside in pairs:
        seen = clipped(after, view.z_low, view.z_high)
        for a, b in zip(seen, seen[1:], strict=False):
            z, r = float(a[0] + b[0]) / 2, float(a[1])
            if abs(a[1] - b[1]) > 1e-6 or b[0] - a[0] < LEAST_SHOWN_MM or r < 0.05 or not _is_new(before, z, r, inside):
                continue
            makes = _made(stages, 2 * r, True)
            value = makes.value_mm if makes else 2 * r
            x, y = view.point(z, r)
            named = f"Ø {length_text(value, unit)}" + (f", {makes.phrase}" if makes else "")
            callout = Callout(f"Ø {figure(value, unit)}", x, y, True, False, named)
            found.setdefault((round(r * 500), int(inside)), callout)
    return [*found.values(), *_balls(stages, view, unit)]


def _balls(stages: Sequence[Stage], view: View, unit: Unit) -> list[Callout]:
    found = []
    for stage in stages:
        cut = stage.operation.cut
        if isinstance(cut, Swing) and view.z_low < cut.centre < view.z_high:
            makes = _made([stage], 2 * cut.radius, True)
            value = makes.value_mm if makes else 2 * cut.radius
            side = -0.5 if stage.operation.holding.toward_tailstock == "left" else 0.5
            x, y = view.point(cut.centre + side * cut.radius, math.sqrt(0.75) * cut.radius)
            named = f"ball Ø {length_text(value, unit)}"
            found.append(Callout(f"ball Ø {figure(value, unit)}", x, y, True, False, named))
    return found


def _stations(stages: Sequence[Stage], view: View, unit: Unit) -> list[Span]:
    """Lengths from each operation's datum to what it newly cuts."""
    spans: dict[tuple[int, int], Span] = {}

    def reach(z: float) -> float:
        return radius_at(stages[-1].after.outer, z) * view.scale

    for stage in stages:
        datum = stage.operation.datum_mm
        if not view.z_low - 1e-6 <= datum <= view.z_high + 1e-6:
            continue
        for z in _new_stations(stage.before, stage.after):
            if abs(z - datum) < 0.05 or not view.z_low <= z <= view.z_high:
                continue
            makes = _made(stages, abs(z - datum), False)
            if makes is None and stage.operation.kind == "centre":
                continue
            value = makes.value_mm if makes else abs(z - datum)
            text, named = figure(value, unit), length_text(value, unit)
            named = f"{named} from {stage.operation.datum_point}" + (f", {makes.phrase}" if makes else "")
            span = Span(text, view.x(datum), view.x(z), reach(datum), reach(z), True, False, named, True)
            spans.setdefault((round(z * 50), round(datum * 50)), span)
    return list(spans.values())


def _new_stations(before: Section, after: Section) -> list[float]:
    """Stations of corners that were not there before. [mm]"""
    old = [z for z, _ in corners(before.outer)] + [z for z, _ in corners(before.inner)]
    found: list[float] = []
    for old_profile, profile, inside in ((before.outer, after.outer, False), (before.inner, after.inner, True)):
        for z, r in corners(profile):
            is_end = z in (float(after.outer[0, 0]), float(after.outer[-1, 0]))
            new = _is_new(old_profile, z, r, inside) or (is_end and not any(abs(z - o) < SAME_MM for o in old))
            if new and not any(abs(z - f) < 0.02 for f in found):
                found.append(z)
    return found


def _labels(view: View) -> list[Item]:
    """Which way the page is held."""
    return [
        Text(-6.0, 1.0, "headstock", LABEL_PT, False, "end", True),
        Text(view.width + 13.0, 1.0, "tailstock", LABEL_PT, False, "start", True),
    ]


def stage_picture(
    stages: Sequence[Stage], unit: Unit, width: float, height: float = 34.0, says_ends: bool = False
) -> Picture:
    """One drawing for stages that follow each other in one holding: metal before the first, after the last.

    `says_ends`: with the words headstock and tailstock at its sides. [mm] Cuts about another axis: acrosspic.
    """
    if is_across(stages):
        return across_picture(stages, unit, width, max(height, LEAST_ACROSS_MM))
    view = _view(stages, width, height)
    first, last = stages[0].before, stages[-1].after
    metal = body_across(last, stages[-1].off_axis, view, True, hatch_spacing(view, last))
    items: list[Item] = [*to_come_off(first, last, view), *metal]
    items += [*_jaws(stages, view), *_centre(stages, view), *_tool(stages, view), *_drilled_on(stages, view), centre_line(view)]
    _, top, _, bottom = box_of(items)
    placer = Placer(-width / 2 + view.width / 2, width / 2 + view.width / 2, top, bottom)
    labels = _labels(view) if says_ends else []
    placer.occupy(labels)  # the drawing itself lies between top and bottom, where nothing is placed
    place_spans(placer, _stations(stages, view, unit))
    place_callouts(placer, _diameters(stages, view, unit))
    return as_picture([*items, *labels, *placer.items], placer.balloons, placer.untold)


def with_half_section(
    stage: Stage, unit: Unit, width: float, height: float = 34.0, says_ends: bool = False
) -> Picture:
    """A stage's drawing; of one cut across, the part in half-section after it as well. [mm]"""
    picture = stage_picture([stage], unit, width, height, says_ends)
    if not is_across([stage]):
        return picture
    section = stage.after
    low, high, radius = float(section.outer[0, 0]), float(section.outer[-1, 0]), float(section.outer[:, 1].max())
    view = View(low, high, min((width - 25.0) / (high - low), height / (2.0 * radius), GREATEST_SCALE))
    items = body_across(section, stage.off_axis, view, True, hatch_spacing(view, section))
    return under([picture, as_picture([*items, centre_line(view)])], 4.0)
