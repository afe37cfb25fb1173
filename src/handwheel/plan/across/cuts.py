"""The operations of one group across: what is cut, by what, from which zero, and what metal is left beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from handwheel.base.tolerance import CHORD_MM, EQUAL_MM
from handwheel.drawing.records import SolvedAcross, SolvedPart
from handwheel.job.records import AcrossKind, OutsideKind
from handwheel.plan.across.groups import Group, axis_of, face_count, host_of
from handwheel.plan.across.holding import Hold
from handwheel.plan.bench import length_makes
from handwheel.plan.names import said
from handwheel.plan.records import AcrossCut, Move
from handwheel.plan.roundtools import drill_before_reamer, tapping_drill, tool_name
from handwheel.plan.threadwords import lead_words, tap_note
from handwheel.stages.axis import Axis, between_axes, leaves_at, metal_between, outside_outline, to_bore
from handwheel.stages.records import Section
from handwheel.tables.threads import is_same_thread, plain_designation
from handwheel.workshop.records import Workshop

DRILL_POINT_DEG = 118.0
HEXAGON_CORNERS = 2.0 / math.sqrt(3.0)
SQUARE_CORNERS = math.sqrt(2.0)


@dataclass(frozen=True, slots=True)
class Act:
    """One operation: its kind, tool, moves and words. `made`: the feature is finished by it."""

    kind: str
    tool: str
    is_owned: bool
    item: SolvedAcross
    words: str
    moves: tuple[Move, ...] = ()
    note: str = ""
    made: bool = False
    cut: AcrossCut | None = None


@dataclass(frozen=True, slots=True)
class Place:
    """Where a group's cuts begin. `entry`: surface or flat, along the axis from the part's own; `crown`: without the flat."""

    crown: float
    entry: float
    through: float


def place_of(group: Group, part: SolvedPart, section: Section) -> Place:
    """Where the axis leaves the metal, and the flat it is entered through. [mm] Through a ball's centre: its radius."""
    outline = outside_outline(section)
    crown, through = leaves_at(outline, group.axis), leaves_at(outline, group.axis, -1.0)
    ball = host_of(group, part)
    is_ball = ball is not None and ball.source.kind is OutsideKind.BALL and ball.arc_radius is not None
    if ball is not None and is_ball and abs((ball.centre or 0.0) - group.axis.centre) < EQUAL_MM:
        radius = ball.arc_radius or 0.0  # the outline's chords lie a little within the arc
        crown, through = (radius if abs(d - radius) < 2 * CHORD_MM else d for d in (crown, through))
    flat = group.flat
    entry = crown if flat is None else flat.sizes.get("from axis", crown)
    return Place(crown, min(entry, crown), through)


def acts(group: Group, part: SolvedPart, section: Section, held: Hold, shop: Workshop) -> Iterator[Act]:
    """The group's operations in order: flats, then each hole centred, drilled, reamed or tapped."""
    place = place_of(group, part, section)
    for item in group.items:
        if item.source.kind is AcrossKind.SLOT:
            yield _slot(item, place, shop)
        elif item.source.kind is AcrossKind.HOLES:
            yield from _on_circle(item, shop)
        elif item.source.kind is AcrossKind.HOLE:
            yield from _hole(item, group, part, section, place, held, shop)
        elif held.is_lathe:
            yield _faced(item, place, shop)
        else:
            yield _flats(item, place, section, shop)


def _along(item: SolvedAcross, z: float, what: str) -> Move:
    return Move("mill table, along", "away from the end", "edge found on the left end", z,
                length_makes(f"left end to {item.name} {what}", z), "finder's half diameter taken off")  # fmt: skip


def _faced(item: SolvedAcross, place: Place, shop: Workshop) -> Act:
    height = item.sizes.get("from axis", 0.0)
    move = Move("carriage", "toward the headstock", "touched on the crown of the ball", place.crown - height,
                length_makes(f"{item.name} from axis", height))  # fmt: skip
    cut = AcrossCut(place.crown, height)
    words = f"{item.name}: faced {said(shop.units, place.crown - height)} off the crown"
    return Act("face", "knife tool, set in from the tailstock side", True, item, words, (move,), made=True, cut=cut)


def _flats(item: SolvedAcross, place: Place, section: Section, shop: Workshop) -> Act:
    count = face_count(item)
    height = item.sizes.get("from axis", item.sizes.get("across flats", 0.0) / 2.0)
    low, high = item.sizes.get("left", 0.0), item.sizes.get("right", 0.0)
    middle = (low + high) / 2.0 if high > low else item.centre
    start = max(place.crown, leaves_at(outside_outline(section), Axis(middle)))
    moves = [Move("mill head, down", "in", "touched on the work", start - height,
                  length_makes(f"{item.name} from axis", height))]  # fmt: skip
    if high > low:
        moves.insert(0, _along(item, high if low < 1e-6 else low, "right" if low < 1e-6 else "left"))
    note = f"the same on each of {count} faces, turned {360 / count:g}° between them" if count > 1 else ""
    corners = {4: SQUARE_CORNERS, 6: HEXAGON_CORNERS}.get(count, 0.0) * 2.0 * height
    if corners > 2.0 * start + 1e-6:
        note += f"; corners stay round: sharp ones would take Ø {said(shop.units, corners)}"
    across = f", {said(shop.units, 2 * height)} across" if count in (2, 4, 6) else ""
    words = f"{item.name}: {said(shop.units, height)} from the axis{across}"
    return Act("mill", "end mill", True, item, words, tuple(moves), note, True, AcrossCut(start, height))


def _slot(item: SolvedAcross, place: Place, shop: Workshop) -> Act:
    width = item.sizes.get("width", 0.0)
    depth = item.sizes.get("depth", place.crown - item.sizes.get("from axis", place.crown))
    low, high = item.sizes.get("left", 0.0), item.sizes.get("right", 0.0)
    is_through = item.source.is_through or depth <= 0.0
    moves = []
    if high - low > width:
        moves += [_along(item, low + width / 2.0, "left, cutter's centre"),
                  _along(item, high - width / 2.0, "right, cutter's centre")]  # fmt: skip
    else:
        moves.append(_along(item, item.centre, "centre"))
    down = place.entry + place.through if is_through else depth
    moves.append(Move("mill head, down", "in", "touched on the work", down, length_makes(f"{item.name} depth", down)))
    words = f"{item.name}: {said(shop.units, width)} wide, {'right through' if is_through else said(shop.units, depth) + ' deep'}"
    note = f"ends are round, R {said(shop.units, width / 2)}, as the cutter leaves them"
    cut = AcrossCut(place.entry, place.entry - down, (high - low) / 2.0 if high - low > width else width / 2.0)
    return Act("mill", f"slot drill Ø {said(shop.units, width)}", False, item, words, tuple(moves), note, True, cut)


def _on_circle(item: SolvedAcross, shop: Workshop) -> Iterator[Act]:
    """Holes on a pitch circle of a face, each by its two places from the centre."""
    count, radius = item.source.count, item.sizes.get("pitch circle diameter", 0.0) / 2.0
    first = float(item.source.first_at_deg)
    moves = []
    for k in range(count):
        angle = math.radians(first + 360.0 * k / count)
        for wheel, place, word in (("mill table, along", radius * math.cos(angle), "x"),
                                   ("mill table, across", radius * math.sin(angle), "y")):  # fmt: skip
            way = "right of centre" if word == "x" and place >= 0 else "left of centre" if word == "x" else (
                "beyond centre" if place >= 0 else "before centre")
            moves.append(Move(wheel, way, "centre of the part", abs(place),
                              length_makes(f"{item.name}, hole {k + 1}, {word}", place)))  # fmt: skip
    pitch = 2.0 * radius * math.sin(math.pi / count) if count > 1 else 0.0
    check = f"; check: {said(shop.units, pitch)} between neighbours" if count > 1 else ""
    depth = item.sizes.get("depth", 0.0)
    yield from _bored(item, shop, tuple(moves), depth, f"{count} holes{check}", "drill", None)


def _hole(item: SolvedAcross, group: Group, part: SolvedPart, section: Section, place: Place, held: Hold,
          shop: Workshop) -> Iterator[Act]:
    depth = hole_depth(item, group, part, section, place)
    half = item.sizes.get("diameter", 0.0) / 2.0
    is_open = item.source.is_through or item.source.into or item.source.is_flat_bottomed
    point = 0.0 if is_open else half / math.tan(math.radians(DRILL_POINT_DEG / 2.0))
    cut = AcrossCut(place.entry, place.entry - depth, half, point)
    if held.is_lathe:
        zero = f"point touched on {group.flat.name}" if group.flat is not None else "point touched on the crown"
        moves: tuple[Move, ...] = ()
        if not item.source.is_through:
            moves = (Move("tailstock", "toward the headstock", zero, depth, length_makes(f"{item.name} depth", depth)),)
        yield Act("centre", "centre drill", True, item, "so that the drill starts true")
        yield from _bored(item, shop, moves, depth, "", "drill", cut)
        return
    moves = (_along(item, group.axis.centre, "centre"),)
    if not item.source.is_through:
        moves += (Move("mill head, down", "in", "point touched on the work", depth,
                       length_makes(f"{item.name} depth", depth)),)  # fmt: skip
    yield from _bored(item, shop, moves, depth, "", "cross-drill", cut)


def _bored(item: SolvedAcross, shop: Workshop, moves: tuple[Move, ...], depth: float, words: str, kind: str,
           cut: AcrossCut | None) -> Iterator[Act]:
    """Drilled, then reamed or tapped where that is drawn."""
    source, size = item.source, item.sizes.get("diameter", 0.0)
    note = "right through; ease off at breakthrough" if source.is_through else ""
    if source.into:
        note = f"{said(shop.units, depth)} deep, into {source.into}: ease off where it breaks in; take the burr off inside"
    reamed = source.finish == "reamed"
    if source.thread is not None:
        lead, lead_owned = tapping_drill(shop, source.thread.designation)
        if not source.is_through and not source.into:
            note = lead_words(shop, source.thread.designation, depth)
    elif reamed:
        radius = drill_before_reamer(shop, size / 2.0 - shop.habit("reaming allowance") / 2.0)
        lead, lead_owned = tool_name(shop, "drill", radius)
    else:
        lead, lead_owned = tool_name(shop, "drill", size / 2.0)
    is_last = not reamed and source.thread is None
    what = "; ".join(filter(None, (f"{item.name}: {lead}", words)))
    yield Act(kind, lead, lead_owned, item, what, moves, note, is_last, cut)
    if reamed:
        name, owned = tool_name(shop, "reamer", size / 2.0)
        makes = f"makes {item.name} diameter {said(shop.units, size)}"
        yield Act("ream", name, owned, item, f"{item.name}: reamed to size", (), makes, True)
    if source.thread is not None:
        designation = source.thread.designation
        owned = any(t.kind == "tap" and is_same_thread(t.designation, designation) for t in shop.round_tools)
        tap, note = f"tap {plain_designation(designation)}", tap_note(shop, designation)
        yield Act("tap", tap, owned, item, f"{item.name}: {designation}", (), note, True)


def hole_depth(item: SolvedAcross, group: Group, part: SolvedPart, section: Section, place: Place) -> float:
    """From where it is entered to the end of its full diameter, or to what it goes into. [mm]"""
    if item.source.is_through:
        return place.entry + place.through
    if item.source.into:
        bored = float(section.inner[:, 1].max())
        hit = leaves_at(section.inner, group.axis) if bored > 1e-9 else 0.0
        other = next((a for a in part.across if a.name == item.source.into), None)
        hit = other.sizes.get("diameter", 0.0) / 2.0 if other is not None else hit
        return place.entry - hit
    return item.sizes.get("depth", 0.0)


def walls(group: Group, part: SolvedPart, section: Section, place: Place) -> Iterator[tuple[SolvedAcross, float, str]]:
    """The least metal left beside each hole and where. [mm] Negative: it breaks out.

    Looked at: round the mouth in a flat, round the bottom's corner, behind the point, and for what goes right through,
    beside it at the part's axis. Against the outside, against holes on the axis and other holes across.
    """
    for item in group.items:
        if item.source.kind is not AcrossKind.HOLE:
            continue
        radius = item.sizes.get("diameter", 0.0) / 2.0
        found: list[tuple[float, str]] = []
        if group.flat is not None:
            found.append((metal_between(group.axis.circle(place.entry - 1e-6, radius), section), "at the mouth"))
        if item.source.is_through or item.source.into:
            beside = group.axis.circle(0.0 if item.source.is_through else place.entry / 2.0, radius)
            found.append((metal_between(beside, section), "beside it"))
        else:
            bottom = place.entry - hole_depth(item, group, part, section, place)
            tip = 0.0 if item.source.is_flat_bottomed else radius / math.tan(math.radians(DRILL_POINT_DEG / 2.0))
            for along, r, where in ((bottom, radius, "at the bottom's corner"), (bottom - tip, 0.0, "behind the point")):
                points = group.axis.circle(along, r)
                found.append((metal_between(points, section), where))
                found.append((to_bore(points, section), f"{where}, to the hole on the axis"))
        found += list(_to_others(item, group, part, radius))
        least, where = min(found, key=lambda f: f[0])
        yield item, least, where


def _to_others(item: SolvedAcross, group: Group, part: SolvedPart, radius: float) -> Iterator[tuple[float, str]]:
    """To other holes across that it neither goes into nor meets at the axis."""
    for other in part.across:
        if other.name == item.name or other.source.kind is not AcrossKind.HOLE or item.source.into == other.name:
            continue
        apart = between_axes(group.axis, axis_of(other, part)) - radius - other.sizes.get("diameter", 0.0) / 2.0
        if other.source.into != item.name and abs(other.centre - group.axis.centre) > 1e-6:
            yield apart, f"to {other.name}"

