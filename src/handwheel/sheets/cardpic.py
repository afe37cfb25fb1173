"""A part's own drawing: its dimensions as given, those worked out told apart, the finished shape inside its blank."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.records import SolvedDimension, SolvedPart
from handwheel.job.records import Measure, Unit
from handwheel.plan.across.shapes import shapes_of
from handwheel.plan.records import PartPlan
from handwheel.sheets.acrossbody import body_across, needs_section
from handwheel.sheets.callouts import Callout, Placer, Span, place_callouts, place_spans
from handwheel.sheets.detail import belongs, detail_picture, details_of, mark
from handwheel.sheets.moving import Picture, as_picture, box_of
from handwheel.sheets.numbers import measure_text
from handwheel.sheets.paper import beside, under
from handwheel.sheets.places import Place, locate
from handwheel.sheets.primitives import Item, LineType, Polyline
from handwheel.sheets.view import View, centre_line, has_hole, hatch_spacing, radius_at
from handwheel.stages.finished import finished_section
from handwheel.stages.records import Section

LONGEST_TYPED = 17
GREATEST_SCALE = 5.0


def given_text(dimension: SolvedDimension, place: Place | None, unit: Unit) -> str:
    """A given size as it was typed, where that is a figure short enough to stand on a drawing; else its value."""
    typed = dimension.typed.strip()
    sign = place.sign if place else ""
    if typed and typed[0] in "0123456789.(" and len(typed) <= LONGEST_TYPED:
        return f"{sign}{typed}"
    return f"{sign}{measure_text(dimension.value, dimension.measure, unit)}"


def _texts(part: SolvedPart, dimension: SolvedDimension, unit: Unit) -> tuple[Place | None, str]:
    place = locate(part, dimension.phrase)
    if dimension.given:
        return place, given_text(dimension, place, unit)
    return place, f"{place.sign if place else ''}{measure_text(dimension.value, dimension.measure, unit)}"


def _blank(plan: PartPlan, view: View) -> list[Item]:
    low, high = plan.stock.from_mm, plan.stock.from_mm + plan.stock.length_mm
    radius = plan.stock.diameter_mm / 2 * view.scale
    a, b = view.x(max(low, view.z_low)), view.x(min(high, view.z_high))
    return [Polyline(((a, -radius), (b, -radius), (b, radius), (a, radius)), LineType.PHANTOM, True)]


def part_view(part: SolvedPart, plan: PartPlan | None, width: float, height: float) -> tuple[View, Section, list[Item]]:
    """The part with its blank round it, no dimensions yet."""
    section = plan.finished if plan else finished_section(part)
    low, high = 0.0, part.length
    radius = float(section.outer[:, 1].max())
    has_blank = plan is not None and plan.stock.length_mm > 0
    if plan is not None and has_blank:
        over = 0.25 * part.length + 4.0
        low = max(min(low, plan.stock.from_mm), -over)
        high = min(max(high, plan.stock.from_mm + plan.stock.length_mm), part.length + over)
        radius = max(radius, plan.stock.diameter_mm / 2)
    scale = min(width / max(high - low, 1e-6), height / (2 * max(radius, 1e-6)), GREATEST_SCALE)
    view = View(low, high, scale)
    items = _blank(plan, view) if plan is not None and has_blank else []
    shapes = shapes_of(part, section)
    is_cut = has_hole(section) or needs_section(shapes)
    items += body_across(section, shapes, view, is_cut, hatch_spacing(view, section))
    items.append(centre_line(view, 3.0))
    return view, section, items


def _sorted_out(
    part: SolvedPart, section: Section, view: View, dimensions: Sequence[SolvedDimension], unit: Unit
) -> tuple[list[Callout], list[Span], list[SolvedDimension]]:
    callouts: list[Callout] = []
    spans: list[Span] = []
    rest: list[SolvedDimension] = []
    for dimension in dimensions:
        place, text = _texts(part, dimension, unit)
        named = f"{dimension.phrase}: {text}"
        boxed = not dimension.given
        if place is None:
            rest.append(dimension)
        elif place.kind == "surface":
            x, y = view.point(place.z0, place.r)
            callouts.append(Callout(text, x, y, False, boxed, named))
        else:
            y0, y1 = (radius_at(section.outer, z) * view.scale for z in (place.z0, place.z1))
            spans.append(Span(text, view.x(place.z0), view.x(place.z1), y0, y1, False, boxed, named))
    return callouts, spans, rest


def shown_dimensions(part: SolvedPart) -> list[SolvedDimension]:
    """The sizes on the drawing: all given ones, and worked-out lengths and diameters that no given one already says."""
    given = [d for d in part.dimensions if d.given]
    said = {_key(part, d) for d in given}
    shown = list(given)
    for dimension in part.dimensions:
        key = _key(part, dimension)
        if not dimension.given and dimension.measure is Measure.LENGTH and key is not None and key not in said:
            said.add(key)
            shown.append(dimension)
    return shown


def _key(part: SolvedPart, dimension: SolvedDimension) -> tuple[str, float, float] | None:
    """What is measured, so that two phrases for one size show once."""
    place = locate(part, dimension.phrase)
    if place is None or dimension.measure is not Measure.LENGTH:
        return None
    if place.kind == "span":
        low, high = sorted((round(place.z0, 3), round(place.z1, 3)))
        return ("span", low, high) if high - low > 1e-3 else None
    return ("surface", round(place.z0 / part.length * 12), round(place.r, 3)) if place.r > 1e-3 else None


def card_picture(
    part: SolvedPart, plan: PartPlan | None, unit: Unit, width: float, height: float
) -> tuple[Picture, list[SolvedDimension]]:
    """The drawing, with what is too small on it drawn again below, and the given sizes that could not stand on it. [mm]"""
    rows, rest = card_pictures(part, plan, unit, width, height)
    stacked = under(rows, 2.5)
    return Picture(stacked.items, stacked.width, stacked.height, rows[0].balloons, rows[0].untold), rest


def card_pictures(
    part: SolvedPart, plan: PartPlan | None, unit: Unit, width: float, height: float
) -> tuple[list[Picture], list[SolvedDimension]]:
    """The drawing, which lists all balloons, then its details in rows; and the given sizes that have no place. [mm]"""
    view, section, items = part_view(part, plan, width - 36.0, height)
    callouts, spans, rest = _sorted_out(part, section, view, shown_dimensions(part), unit)
    details = details_of(part, view, _measured(part), width)
    marks = [mark(detail, section, view) for detail in details]
    items += [item for ring, _ in marks for item in ring]
    _, top, _, bottom = box_of(items)
    placer = Placer(view.width / 2 - width / 2, view.width / 2 + width / 2, top, bottom)
    inside: list[tuple[list[Span], list[Callout]]] = []
    for detail in details:
        own = ([s for s in spans if belongs(detail, view, (s.xa, s.xb))], [c for c in callouts if belongs(detail, view, (c.x,))])
        inside.append(own)
        spans = [s for s in spans if s not in own[0]]
        callouts = [c for c in callouts if c not in own[1]]
    place_callouts(placer, [letter for _, letter in marks])
    place_spans(placer, [s for s in spans if not s.boxed])
    place_callouts(placer, [c for c in callouts if not c.boxed])
    place_spans(placer, [s for s in spans if s.boxed])
    place_callouts(placer, [c for c in callouts if c.boxed])
    shown = [detail_picture(d, section, view, *own, placer.balloons) for d, own in zip(details, inside, strict=True)]
    untold = [*placer.untold, *(text for picture in shown for text in picture.untold)]
    whole = as_picture([*items, *placer.items])
    first = Picture(whole.items, whole.width, whole.height, tuple(placer.balloons), tuple(untold))
    return [first, *_in_rows(shown, width)], [d for d in rest if d.given]


def _measured(part: SolvedPart) -> list[tuple[float, float]]:
    """Where the given sizes lie along the axis. [mm]"""
    places = [locate(part, d.phrase) for d in part.dimensions if d.given]
    return [(min(p.z0, p.z1), max(p.z0, p.z1)) if p.kind == "span" else (p.z0, p.z0) for p in places if p is not None]


def _in_rows(pictures: Sequence[Picture], width: float) -> list[Picture]:
    """Pictures beside each other as far as there is room. [mm]"""
    rows: list[list[tuple[float, Picture]]] = []
    x = 0.0
    for picture in pictures:
        if not rows or x + picture.width > width:
            rows.append([])
            x = 0.0
        rows[-1].append((x, picture))
        x += picture.width + 10.0
    return [beside(row) for row in rows]


def small_picture(part: SolvedPart, plan: PartPlan | None, width: float, height: float) -> Picture:
    """The part alone, for the front page. [mm]"""
    bare = None if plan is None else PartPlan(
        plan.part, plan.quantity, type(plan.stock)("", 0.0, 0.0, "", True, 0.0), plan.finished, ()
    )
    _, _, items = part_view(part, bare, width - 6.0, height)
    return as_picture(items)
