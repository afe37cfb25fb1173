"""Lathe tools with their outlines, the swinging ball tool, and tools known by size, from a workshop file."""

from __future__ import annotations

from handwheel.base.tolerance import EQUAL_MM
from handwheel.job.records import Measure
from handwheel.job.wrong import did_you_mean, quoted
from handwheel.job.yamltext import Node, Scalar, Sequence
from handwheel.tables.threads import find_thread
from handwheel.workshop.fields import Fields, signed_mm
from handwheel.workshop.machine import first_key
from handwheel.workshop.records import BallTool, RoundTool, Tool
from handwheel.workshop.sizes import read_sizes

TOOL_KINDS = ("knife", "left-hand knife", "pointed", "round-nose", "parting", "relief", "chamfer", "boring", "form",
              "inside groove")
HANDS = ("right", "left", "neutral")
Points = tuple[tuple[float, float], ...]
TAPS = ("taper", "second", "bottoming")
"""The taps of a set."""


def read_tools(fields: Fields) -> tuple[Tool, ...]:
    """Every lathe tool: a list whose items open with their kind."""
    found = []
    for item in fields.items("tools"):
        kind = first_key(item)
        if kind not in TOOL_KINDS:
            fields.complaints.add("workshop-word-unknown", item.span, f"{quoted(kind)} is no kind of lathe tool",
                                  did_you_mean(kind, TOOL_KINDS))  # fmt: skip
            continue
        found.append(_tool(kind, Fields(item, fields.complaints, fields.units, f"this {kind} tool")))
    return tuple(found)


def _tool(kind: str, fields: Fields) -> Tool:
    outline = tuple(_point(item, fields) for item in fields.items("outline"))
    owned = fields.yes_or_none("owned")
    tool = Tool(
        name=fields.text(kind),
        kind=kind,
        hand=fields.choice("hand", HANDS),
        nose_radius_mm=fields.length("nose radius", is_zero_good=True),
        width_mm=fields.length_or_none("width", is_zero_good=False),
        reach_mm=fields.length_or_none("reach", is_zero_good=False),
        outline_mm=outline,
        owned=owned is not False,
    )
    _check_outline(outline, fields)
    fields.close()
    return tool


def _point(item: Node, fields: Fields) -> tuple[float, float]:
    if isinstance(item, Sequence) and len(item.items) == 2:
        z, r = item.items
        if isinstance(z, Scalar) and isinstance(r, Scalar):
            return signed_mm(z, fields.units, fields.complaints), signed_mm(r, fields.units, fields.complaints)
    fields.complaints.add("workshop-outline", item.span, f"a point of {fields.what}'s outline is not two lengths",
                          "write [along, away from the axis]")  # fmt: skip
    return 0.0, 0.0


def _check_outline(outline: Points, fields: Fields) -> None:
    """Three points or more, convex, nothing nearer the axis than the point that is touched off."""
    entry = fields.mapping.get("outline")
    if entry is None:
        return
    span = entry.value.span
    if len(outline) < 3:
        fields.complaints.add("workshop-outline", span, f"the outline of {fields.what} has fewer than three points",
                              "go round the cutting end point by point")  # fmt: skip
    elif not _is_convex(outline):
        fields.complaints.add("workshop-outline", span, f"the outline of {fields.what} is not convex",
                              "go round it in one direction, without hollows")  # fmt: skip
    elif abs(min(r for _, r in outline)) > EQUAL_MM:
        fields.complaints.add("workshop-outline", span,
                              f"the outline of {fields.what} does not touch r = 0 with its cutting edge",
                              "measure r from the point or edge that is touched off")  # fmt: skip


def _is_convex(points: Points) -> bool:
    """Whether going round turns one way only, and once: all turns have one sign and do not wind twice."""
    turns = []
    count = len(points)
    for i in range(count):
        (az, ar), (bz, br), (cz, cr) = points[i], points[(i + 1) % count], points[(i + 2) % count]
        turns.append((bz - az) * (cr - br) - (br - ar) * (cz - bz))
    one_way = all(t >= -EQUAL_MM for t in turns) or all(t <= EQUAL_MM for t in turns)
    falls = sum(1 for i in range(count) if points[i - 1][0] > points[i][0] <= points[(i + 1) % count][0])
    return one_way and any(abs(t) > EQUAL_MM for t in turns) and falls <= 1


def read_ball_tool(fields: Fields) -> BallTool | None:
    """The swinging ball tool; None where the file says `none` or leaves it out."""
    entry = fields.entry("ball tool", False)
    if entry is None or (isinstance(entry.value, Scalar) and entry.value.text == "none"):
        return None
    inner = Fields(entry.value, fields.complaints, fields.units, "the ball tool")
    tool = BallTool(
        name=inner.text("name"),
        screw_lead_mm=inner.length("screw lead"),
        worked_by=inner.choice("worked by", ("divisions", "flats")),
        divisions=inner.whole("divisions"),
        smallest_part=inner.plain("smallest part"),
        ranges_mm=tuple(_range(item, inner) for item in inner.items("ranges")),
        bit_width_mm=inner.length("bit width"),
        bit_half_angle_deg=inner.angle("bit half angle"),
        swing_beyond_tip_mm=inner.length("swing beyond tip", is_zero_good=True),
    )
    inner.close()
    return tool


def _range(item: Node, fields: Fields) -> tuple[float, float]:
    if isinstance(item, Sequence) and len(item.items) == 2:
        low, high = item.items
        if isinstance(low, Scalar) and isinstance(high, Scalar):
            least = fields.read(low, Measure.LENGTH, True) or 0.0
            greatest = fields.read(high, Measure.LENGTH, False) or 0.0
            if least >= greatest:
                fields.complaints.add("workshop-out-of-range", item.span, "this range of radius holds nothing",
                                      "write [least, greatest]")  # fmt: skip
            return least, greatest
    fields.complaints.add("workshop-shape", item.span, "a range of the ball tool is not two lengths",
                          "write [least, greatest], the tip's radius")  # fmt: skip
    return 0.0, 0.0


def read_round_tools(fields: Fields) -> tuple[RoundTool, ...]:
    """Drills, centre drills, reamers, taps and dies; a sort left out is not owned."""
    return (
        *_by_size("drill", "drills", fields),
        *_by_size("centre drill", "centre drills", fields),
        *_by_size("reamer", "reamers", fields),
        *_by_thread("tap", "taps", fields),
        *_by_thread("die", "dies", fields),
    )


def _by_size(kind: str, key: str, fields: Fields) -> tuple[RoundTool, ...]:
    entry = fields.entry(key, False)
    if entry is None:
        return ()
    inner = Fields(entry.value, fields.complaints, fields.units, f"the {key}")
    point = inner.angle("point") if kind != "reamer" else None
    lead = inner.length_or_none("lead") if kind == "reamer" else None
    sizes = [size for scalar in inner.scalars("sizes")
             for size in read_sizes(scalar, fields.units, fields.complaints)]  # fmt: skip
    measured = _measured(inner, [size.mm for size in sizes]) if kind == "reamer" else {}
    inner.close()
    return tuple(RoundTool(kind, size.name, size.mm, point, lead, measured.get(size.mm)) for size in sizes)


MEASURED_OFF_MM = 0.1
"""A reamer measures within this of the size on its shank, or it is another. [mm]"""


def _measured(reamers: Fields, sizes_mm: list[float]) -> dict[float, float]:
    """`measured: {3/16: 0.1878}`: what reamers of those sizes measure over their lands. [mm]"""
    entry = reamers.entry("measured", False)
    if entry is None:
        return {}
    listed = Fields(entry.value, reamers.complaints, reamers.units, "the reamers as measured")
    found = {}
    for each in listed.mapping.entries:
        named = read_sizes(each.key, reamers.units, reamers.complaints)
        scalar = listed.scalar(each)
        size = next((mm for mm in sizes_mm if named and abs(mm - named[0].mm) < 1e-6), None)
        if named and size is None:
            reamers.complaints.add("workshop-word-unknown", each.key.span, f"{quoted(each.key.text)} is none of the reamers",
                                   "write a size that stands in their 'sizes'")  # fmt: skip
        value = None if scalar is None else listed.read(scalar, Measure.LENGTH, False)
        if size is None or value is None or scalar is None:
            continue
        if abs(value - size) > MEASURED_OFF_MM:
            reamers.complaints.add("workshop-out-of-range", scalar.span, f"{quoted(scalar.text)} is no such reamer's size",
                                   f"measure it over its lands: within {MEASURED_OFF_MM:g} mm of its size")  # fmt: skip
        found[size] = value
    return found


def _by_thread(kind: str, key: str, fields: Fields) -> tuple[RoundTool, ...]:
    entry = fields.entry(key, False)
    if entry is None:
        return ()
    inner = Fields(entry.value, fields.complaints, fields.units, f"the {key}")
    lead_threads = inner.plain("lead in threads")
    given = [(name, inner.plain_or_none(f"{name} lead in threads")) for name in TAPS] if kind == "tap" else []
    leads = tuple((name, lead) for name, lead in given if lead is not None)
    found = []
    for scalar in inner.scalars("threads"):
        thread = find_thread(scalar.text)
        if thread is None:
            fields.complaints.add("workshop-thread-unknown", scalar.span,
                                  f"{quoted(scalar.text)} is not a thread the tables hold",
                                  "write it like M6, 1/4-20 UNC, 2 BA, 1/4 BSF or 1/4 x 40 ME")  # fmt: skip
        else:
            found.append(RoundTool(kind, thread.designation, thread.major_mm, None, lead_threads * thread.pitch_mm,
                                   leads=leads))  # fmt: skip
    inner.close()
    return tuple(found)
