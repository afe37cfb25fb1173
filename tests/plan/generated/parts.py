"""Parts drawn at random as a maker would draw them, each with its half section worked out here from the same figures."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from random import Random

from shapely import affinity
from shapely.geometry import Polygon

from tests.variants import VARIANTS, read, write

DIAMETERS = (4, 5, 6, 8, 9, 10, 12, 14, 16, 18, 20, 22, 25)
LENGTHS = (3, 4, 5, 6, 8, 10, 12, 15, 18, 22, 28, 40)
PITCHES = {3: 0.5, 4: 0.7, 5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75}
"""ISO 261, coarse: nominal diameter to pitch. [mm]"""
DRILLS = (1, 1.5, 2, 2.5, 3, 3.3, 4, 4.2, 5, 5.5, 6, 6.5, 8, 8.5, 10, 12)
MATERIALS = ("brass", "free-cutting mild steel", "mild steel", "silver steel", "aluminium alloy", "bronze", "cast iron")
POINT_DEG = 59.0
"""Half of an ordinary drill's point."""
CHORDS = 720

Points = list[tuple[float, float]]


@dataclass
class Made:
    """A part being drawn. `outside`, `left`, `right` and `across` are items of the job file, `sizes` its dimensions;
    `top` is the outside so far, `floors` what is taken out from within."""

    outside: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    right: list[str] = field(default_factory=list)
    across: list[str] = field(default_factory=list)
    sizes: list[str] = field(default_factory=list)
    material: str = "brass"
    quantity: int = 1
    top: Points = field(default_factory=list)
    cuts: list[Points] = field(default_factory=list)
    plain: list[tuple[str, float, float, float]] = field(default_factory=list)
    """Cylinders with nothing on them yet: name, radius, from, to. [mm]"""

    @property
    def end(self) -> float:
        """Where the outside ends so far. [mm]"""
        return self.top[-1][0] if self.top else 0.0

    def name(self, kind: str) -> str:
        """A name not used yet."""
        return f"{kind}-{len(self.outside) + len(self.left) + len(self.right) + len(self.across) + 1}x"

    def text(self) -> str:
        """The job file."""
        lines = ["handwheel: 1", "job: Drawn at random", "units: mm", "parts:", "  it:"]
        lines += [f"    quantity: {self.quantity}", f"    material: {self.material}", "    outside:"]
        lines += [f"      - {{{item}}}" for item in self.outside]
        sides = [(side, items) for side, items in (("left", self.left), ("right", self.right)) if items]
        lines += ["    inside:"] if sides else []
        for side, items in sides:
            lines += [f"      from {side}:", *(f"        - {{{item}}}" for item in items)]
        lines += ["    across:", *(f"      - {{{item}}}" for item in self.across)] if self.across else []
        lines += ["    dimensions:", *(f"      {line}" for line in self.sizes)] if self.sizes else []
        return "\n".join(lines) + "\n"

    def section(self) -> Polygon:
        """Half the finished section."""
        body = Polygon([(0.0, 0.0), *self.top, (self.end, 0.0)]).buffer(0.0)  # an arc's end off by rounding
        for cut in self.cuts:
            body = body.difference(Polygon(cut))
        return body.buffer(0.0)


@dataclass(frozen=True)
class Case:
    """A job file of one part `it`, its section by the figures drawn from, and what is across."""

    text: str
    section: Polygon
    across: tuple[str, ...]


def case(seed: int) -> Case:
    """The part of a seed; every other one as it looks from behind."""
    rng = Random(seed)
    part = Made(material=rng.choice(MATERIALS), quantity=rng.choice((1, 1, 1, 2)))
    for _ in range(rng.choice((1, 1, 2, 2, 3, 3, 4, 5))):
        _link(part, rng)
    _right_end(part, rng)
    _hole(part, rng)
    _cut_in(part, rng)
    _across(part, rng)
    text, section = part.text(), part.section()
    names = tuple(item.split(",")[0].split(": ")[1] for item in part.across)
    if rng.random() < 0.5:
        text = write(VARIANTS["mirrored"](read(text)))
        text = text if part.sizes else re.sub(r"\n *dimensions:.*", "", text)
        section = affinity.translate(affinity.scale(section, xfact=-1.0, origin=(0.0, 0.0)), xoff=part.end)
    return Case(text, section, names)


def _link(part: Made, rng: Random) -> None:
    roll, z = rng.random(), part.end
    if roll < 0.12 and part.top:
        _cone(part, rng)
        return
    if roll < 0.19 and part.plain and part.plain[-1][3] == z:
        _hollow(part, rng)
        return
    length = float(rng.choice(LENGTHS))
    if roll < 0.34:
        size = rng.choice(tuple(PITCHES))
        part.outside.append(f"cylinder: {part.name('screw')}, thread: M{size}, length: {length:g}")
        part.top += [(z, size / 2.0), (z + length, size / 2.0)]
        return
    diameter = float(rng.choice(DIAMETERS))
    name = part.name("cyl")
    fit = rng.choice(("", "", "", " h7", " h6", " f7", " ± 0.02"))
    part.outside.append(f"cylinder: {name}, diameter: {diameter:g}{fit}, length: {length:g}")
    part.top += [(z, diameter / 2.0), (z + length, diameter / 2.0)]
    part.plain.append((name, diameter / 2.0, z, z + length))


def _cone(part: Made, rng: Random) -> None:
    """A cone from the last diameter's own or another, smaller to its right or to its left."""
    z, length = part.end, float(rng.choice((6, 10, 16, 25)))
    one, two = float(rng.choice(DIAMETERS)), 0.0
    two = one - rng.choice((1.0, 2.0, 3.0, 0.05 * length, 0.1 * length))
    if rng.random() < 0.5:
        one, two = two, one
    name = part.name("cone")
    part.outside.append(f"cone: {name}, left diameter: {one:g}, right diameter: {two:g}, length: {length:g}")
    part.top += [(z, one / 2.0), (z + length, two / 2.0)]


def _arc(centre: tuple[float, float], radius: float, start: float, end: float) -> Points:
    steps = [start + (end - start) * k / CHORDS for k in range(CHORDS + 1)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in steps]


def _hollow(part: Made, rng: Random) -> None:
    """An arc let in between two cylinders of one diameter, its centre outside."""
    _, radius, _, z = part.plain[-1]
    length = float(rng.choice((6, 8, 10)))
    arc = float(rng.choice((8, 12, 20)))
    out = radius + math.sqrt(arc * arc - length * length / 4.0)
    if out - arc < 1.2:
        return
    name, after = part.name("hollow"), float(rng.choice((4, 8)))
    part.outside.append(f"hollow: {name}, radius: {arc:g}, length: {length:g}")
    half = math.asin(length / 2.0 / arc)
    part.top += _arc((z + length / 2.0, out), arc, -math.pi / 2.0 - half, -math.pi / 2.0 + half)
    beside = part.name("cyl")
    part.outside.append(f"cylinder: {beside}, diameter: {2 * radius:g}, length: {after:g}")
    part.top += [(z + length, radius), (z + length + after, radius)]
    part.plain.append((beside, radius, z + length, z + length + after))


def _right_end(part: Made, rng: Random) -> None:
    """A chamfer, a rounded edge, a ball or nothing at the right end."""
    roll, (z, radius) = rng.random(), part.top[-1]
    if roll < 0.25:
        size, angle = rng.choice(((0.5, 45.0), (1.0, 45.0), (1.0, 30.0)))
        small = radius - size * math.tan(math.radians(angle))
        if small > 0.5:
            part.outside.append(f"chamfer: {part.name('lead')}, size: {size:g} mm x {angle:g} deg")
            part.top.append((z + size, small))
    elif roll < 0.35 and radius > 1.5 and part.top[-2][1] == radius:
        size = rng.choice((0.5, 1.0))
        part.outside.append(f"round: {part.name('edge')}, size: R {size:g} mm")
        part.top += _arc((z, radius - size), size, math.pi / 2.0, 0.0)
    elif roll < 0.55 and 2.0 < radius < 9.0:
        _end_ball(part, rng, z, radius)


def _end_ball(part: Made, rng: Random, z: float, radius: float) -> None:
    ball = math.ceil(radius * rng.uniform(1.15, 1.9) * 2.0) / 2.0
    name, centre = part.name("ball"), z + math.sqrt(ball * ball - radius * radius)
    start = math.atan2(radius, z - centre)
    if rng.random() < 0.3:
        flat = round(ball * rng.uniform(0.3, 0.7), 1)
        part.outside.append(f"ball: {name}, diameter: {2 * ball:g}, flat: right")
        part.sizes.append(f"{name} right diameter: {2 * flat:g}")
        part.top += _arc((centre, 0.0), ball, start, math.asin(flat / ball))
    else:
        part.outside.append(f"ball: {name}, diameter: {2 * ball:g}")
        part.top += _arc((centre, 0.0), ball, start, 0.0)


def _hole(part: Made, rng: Random) -> None:
    """A hole on the axis from the left, perhaps led into, perhaps right through."""
    roll, length = rng.random(), part.end
    room = min(r for z, r in part.top if z < length - 1e-9 or r > 1.0) * 2.0 - 1.5
    through = rng.random() < 0.5
    mouth = part.top[0][1] * 2.0 - 1.5
    fits = [d for d in DRILLS if d <= (room if through else mouth)]
    if roll < 0.35 or not fits or (through and part.top[-1][1] < 1e-6):
        return
    diameter, name = float(rng.choice(fits)), part.name("hole")
    depth = min(round(rng.uniform(0.2, 0.7) * length), 60)
    if not through and (depth < 2 or not _has_wall(part, diameter / 2.0, depth + diameter)):
        return
    finish = rng.choice(("", "", ", finish: reamed", ", finish: bored"))
    shown = f"{diameter:g}{' H7' if finish else ''}"
    screw = next((s for s, p in PITCHES.items() if abs(s - p - diameter) < 0.06), None)
    if screw is not None and rng.random() < 0.5:
        diameter = screw - 1.25 * math.sqrt(3.0) / 2.0 * PITCHES[screw]
        item = f"hole: {name}, thread: M{screw}"
    else:
        item = f"hole: {name}, diameter: {shown}{finish}"
    _led_into(part, rng, diameter, mouth)
    half = diameter / 2.0
    if through:
        part.left.append(f"{item}, through: yes")
        part.cuts.append([(-1.0, -1.0), (-1.0, half), (length + 1.0, half), (length + 1.0, -1.0)])
    else:
        part.left.append(f"{item}, depth: {depth}")
        tip = depth + half / math.tan(math.radians(POINT_DEG))
        part.cuts.append([(-1.0, 0.0), (-1.0, half), (float(depth), half), (tip, 0.0)])


def _has_wall(part: Made, radius: float, depth: float) -> bool:
    return depth < part.end - 1.0 and all(r > radius + 0.75 for z, r in part.top if z <= depth)


def _led_into(part: Made, rng: Random, diameter: float, mouth: float) -> None:
    """A countersink or a counterbore before the hole."""
    roll, wide = rng.random(), round(diameter + rng.choice((1.0, 2.0, 4.0)))
    if roll < 0.6 or wide > mouth or wide <= diameter + 0.5:
        return
    if roll < 0.8:
        depth = (wide - diameter) / 2.0
        part.left.append(f"countersink: {part.name('sink')}, diameter: {wide}, included angle: 90 deg")
        part.cuts.append([(0.0, 0.0), (0.0, wide / 2.0), (depth, diameter / 2.0), (depth, 0.0)])
    else:
        depth = float(rng.choice((2, 3, 4)))
        if _has_wall(part, wide / 2.0, depth + 1.0):
            part.left.append(f"counterbore: {part.name('cup')}, diameter: {wide}, depth: {depth:g}")
            part.cuts.append([(-1.0, -1.0), (-1.0, wide / 2.0), (depth, wide / 2.0), (depth, -1.0)])


def _cut_in(part: Made, rng: Random) -> None:
    """A groove in a plain cylinder."""
    name, radius, low, high = rng.choice(part.plain) if part.plain else ("", 0.0, 0.0, 0.0)
    if rng.random() < 0.7 or high - low < 6.0 or radius < 3.0:
        return
    width, depth = rng.choice((2.0, 2.5, 3.0)), rng.choice((0.5, 1.0))
    at, groove = low + rng.choice((1.0, 1.5, 2.0)), part.name("groove")
    part.outside.append(f"groove: {groove}, in: {name}, width: {width:g}, depth: {depth:g}")
    part.sizes.append(f"{name} left to {groove} left: {at - low:g}")
    part.cuts.append([(at, radius - depth), (at, radius + 1.0), (at + width, radius + 1.0), (at + width, radius - depth)])


def _across(part: Made, rng: Random) -> None:
    """A hole, a flat, a square or a hexagon on a plain cylinder."""
    name, radius, low, high = rng.choice(part.plain) if part.plain else ("", 0.0, 0.0, 0.0)
    if rng.random() < 0.7 or high - low < 6.0 or radius < 3.0 or any(f"in: {name}," in o for o in part.outside):
        return
    kind = rng.choice(("hole", "hole", "flat", "square", "hexagon"))
    made = part.name(kind)
    if kind == "hole":
        part.across.append(f"hole: {made}, on: {name}, at: {name} middle, diameter: {rng.choice((2, 2.5, 3))}, through: yes")
    elif kind == "flat":
        part.across.append(f"flat: {made}, on: {name}, from axis: {radius * 0.8:g}")
    else:
        flats = 2.0 * radius * (0.75 if kind == "square" else 0.9)
        part.across.append(f"{kind}: {made}, on: {name}, across flats: {flats:g}")
