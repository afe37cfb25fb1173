"""Collets for balls and split bushes to be made: their sizes, what they take, how they are made, in readings.

A ball collet is a plain bore c with a recess of width w in it: the ball, wider than the bore, rests on the recess's two corners,
on circles w / 2 from its centre, so that c^2 + w^2 is the ball's diameter squared. No seat has to be bored to a ball's radius.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handwheel.readings.dial import dial, unit_of
from handwheel.readings.words import figure, length_text, turns_text, unit_name
from handwheel.setups.collets import opening_mm
from handwheel.setups.records import Figure, Step
from handwheel.workshop.records import Workshop

CONTACT_DEG = 20.0
"""Latitude of the circles a ball rests on: common practice, no source. [deg]"""
LEAST_LIP_MM = 0.5
"""The lip before the recess is this thick at the least: common practice, no source. [mm]"""
ROOM_MM = 0.5
"""Between the ball and the floor of the recess, all round: common practice, no source. [mm]"""
CUT_MM = 1.0
"""Width of a saw cut: common practice, no source. [mm]"""
PIECES = 3
"""A piece under each jaw of a three-jaw chuck."""
SPRUNG_SLOTS = 6
SPRUNG_WALL_MM = 2.0
"""Wall of a collet that springs, along its slots: common practice, no source. [mm]"""
STRAIN = (0.001, 0.002)
"""Least and greatest that mild steel bears before it stays bent: common practice, no source."""
CLOSES_SHARE = 0.5
"""Of what its cuts let it close, what is used: common practice, no source."""


@dataclass(frozen=True, slots=True)
class BallCollet:
    """A collet for one ball. Pairs are least and greatest. [mm]

    ball_mm: diameters it is made for. mouth_mm: its mouth from the ball's centre. lip_mm: of metal before the recess.
    bore_mm: the bore and the mouth. recess_mm: width; recess_bore_mm: diameter. deep_mm: of the bore. takes_mm: balls it holds.
    opens_mm: each of `SPRUNG_SLOTS` segments has to move out where it springs; slots_mm: how long those slots are.
    """

    ball_mm: tuple[float, float]
    mouth_mm: float
    lip_mm: float
    bore_mm: tuple[float, float]
    recess_mm: tuple[float, float]
    recess_bore_mm: float
    deep_mm: float
    takes_mm: tuple[float, float]
    opens_mm: float
    slots_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class SplitBush:
    """A bush bored to what it holds. bore_mm: least and greatest; takes_mm: work it closes on; outside_mm; long_mm. [mm]"""

    bore_mm: tuple[float, float]
    takes_mm: tuple[float, float]
    outside_mm: float
    long_mm: float
    pieces: int


def ball_collet_for(ball_mm: tuple[float, float], mouth_mm: float, shop: Workshop) -> BallCollet:
    """The collet whose mouth lies so far past the ball's centre.

    Parameters
        ball_mm: least and greatest diameter of the ball. [mm]
        mouth_mm: the mouth from the ball's centre, more than the least lip. [mm]
    Raises
        ValueError: the mouth lies no farther out than the lip is thick: nothing is left to hold by.
    """
    radius = ball_mm[1] / 2.0
    off = min(radius * math.sin(math.radians(CONTACT_DEG)), mouth_mm - LEAST_LIP_MM)
    if off <= 0.0:
        raise ValueError(f"a mouth {mouth_mm:g} mm past the centre leaves no lip; {LEAST_LIP_MM:g} mm at the least")
    held = 2.0 * shop.habit("capability diameter")
    bore = 2.0 * math.sqrt(radius * radius - off * off)
    bores = (bore, bore + held)
    widths = (2.0 * off, 2.0 * off + shop.habit("capability length"))
    closes = CLOSES_SHARE * PIECES * CUT_MM / math.pi
    takes = (math.hypot(bores[1] - closes, widths[1]), math.hypot(bores[0], widths[0]))
    opens = opening_mm(radius, off, SPRUNG_SLOTS)
    return BallCollet(ball_mm, mouth_mm, mouth_mm - off, bores, widths, ball_mm[1] + 2.0 * ROOM_MM, mouth_mm + radius + ROOM_MM,
                      takes, opens, slots_mm(bore / 2.0, opens))  # fmt: skip


def slots_mm(bore_radius_mm: float, opens_mm: float) -> tuple[float, float]:
    """Least and greatest length of slots whose segments bend out so far without staying bent: a range, not a promise.

    A segment is a beam whose section is part of a ring of half angle a = pi / n: its strain is 3 c y / L^2 at the slots' ends, c
    the farthest of the section from its centre of area, at 2/3 (ro^3 - ri^3) / (ro^2 - ri^2) sin a / a. [mm]
    """
    inner, outer, half = bore_radius_mm, bore_radius_mm + SPRUNG_WALL_MM, math.pi / SPRUNG_SLOTS
    middle = 2.0 / 3.0 * (outer**3 - inner**3) / (outer**2 - inner**2) * math.sin(half) / half
    far = max(outer - middle, middle - inner * math.cos(half))
    return math.sqrt(3.0 * far * opens_mm / STRAIN[1]), math.sqrt(3.0 * far * opens_mm / STRAIN[0])


def split_bush_for(work_mm: tuple[float, float], outside_mm: float, long_mm: float, pieces: int, shop: Workshop) -> SplitBush:
    """The bush for work between two diameters; pieces: 1 slit on one side, 2 in halves. [mm]"""
    bores = (work_mm[1], work_mm[1] + 2.0 * shop.habit("capability diameter"))
    closes = CLOSES_SHARE * pieces * CUT_MM / math.pi
    return SplitBush(bores, (bores[1] - closes, bores[0]), outside_mm, long_mm, pieces)


def _line(shop: Workshop, slide: str, travel_mm: float) -> str:
    """A travel on one of the shop's wheels; the length itself where it has none. [mm]"""
    wheel = shop.lathe.wheels.get(slide)
    if wheel is None:
        return f"{figure(travel_mm, shop.units)} {unit_name(shop.units)}, no {slide}"
    turns, divisions, _ = dial(travel_mm, wheel)
    return turns_text(turns, divisions, unit_of(wheel))


def collet_readings(one: BallCollet, shop: Workshop) -> tuple[Figure, ...]:
    """Where the recess is cut, from the touch on the mouth's face and on the bore."""
    first, last = one.lip_mm, one.lip_mm + one.recess_mm[0]
    deep = (one.recess_bore_mm - one.bore_mm[0]) / 2.0
    return (
        Figure("recess begins, top slide from the face", _line(shop, "top slide", first)),
        Figure("recess ends, top slide from the face", _line(shop, "top slide", last)),
        Figure("recess, cross slide out from the bore", _line(shop, "cross slide", deep)),
    )


def collet_steps(shop: Workshop) -> tuple[Step, ...]:
    """How a ball collet is made, the same for every ball."""
    cut = length_text(CUT_MM, shop.units)
    return (
        Step("blank", "outside turned to suit its holder, faced, drilled well under the bore"),
        Step("witness", f"{PIECES} cuts marked between the jaws, the jaws' numbers on the face, before it is let go"),
        Step("saw", f"right through in {PIECES}, a piece under each jaw; burrs off. So nothing has to spring"),
        Step("pack", f"back in the chuck, each piece under its jaw, with {cut} of packing (what the saw took) in every cut"),
        Step("bore", "to its limits, past the bottom; the mouth is the bore itself"),
        Step("recess", "square-cornered boring tool, top slide at 0°, between its two lines. The ball rests on the corners"),
        Step("corners", "stoned, not chamfered. Measured: bore² + width² is the largest ball² it seats"),
        Step("use", "packing out; pieces round the ball, under their own jaws; marked to the work before it is let go"),
        Step("or sprung", f"one piece, {SPRUNG_SLOTS} slots, {length_text(SPRUNG_WALL_MM, shop.units)} of wall along "
             "them: where the holder has room for slots that long; shorter ones stay bent"),
    )  # fmt: skip


def collet_limits(one: BallCollet, shop: Workshop) -> tuple[Figure, ...]:
    """The collet in figures, for someone who only asks."""
    units = shop.units
    bore, recess, takes, slots = ((figure(a, units), length_text(b, units)) for a, b in
                                  (one.bore_mm, one.recess_mm, one.takes_mm, one.slots_mm))  # fmt: skip
    return (
        Figure("bore and mouth", f"Ø {bore[0]} to {bore[1]}"),
        Figure("lip, face to recess", length_text(one.lip_mm, units)),
        Figure("recess", f"{recess[0]} to {recess[1]} wide, Ø {length_text(one.recess_bore_mm, units)}"),
        Figure("mouth to ball's centre", length_text(one.mouth_mm, units)),
        Figure("bore deep", f"{length_text(one.deep_mm, units)} at the least"),
        Figure("takes a ball", f"Ø {takes[0]} to {takes[1]}"),
        *collet_readings(one, shop),
        Figure("if it springs", f"each of {SPRUNG_SLOTS} segments out by {length_text(one.opens_mm, units)}: slots "
               f"{slots[0]} to {slots[1]} long"),
    )  # fmt: skip


def bush_steps(pieces: int, shop: Workshop) -> tuple[Step, ...]:
    """How a split bush is made; pieces: 1 slit on one side, 2 in halves."""
    cut = length_text(CUT_MM, shop.units)
    sawn = "sawn in halves" if pieces > 1 else "slit through on one side, away from the jaws"
    return (
        Step("blank", "outside turned, faced, drilled under the bore; jaw 1 marked on its face before it is let go"),
        Step("saw", f"{sawn}; burrs off"),
        Step("pack", f"back in the chuck at its mark, with {cut} of packing (what the saw took) in the cut"),
        Step("bore", "to its limits; the work as measured goes in by hand. Mouth's edge broken"),
        Step("use", "packing out, at its mark; how well it runs again nobody knows: clock the work"),
    )


def bush_limits(one: SplitBush, shop: Workshop) -> tuple[Figure, ...]:
    """The bush in figures, for someone who only asks."""
    units = shop.units
    bore, takes = ((figure(a, units), length_text(b, units)) for a, b in (one.bore_mm, one.takes_mm))
    return (
        Figure("bore", f"Ø {bore[0]} to {bore[1]}"),
        Figure("outside", length_text(one.outside_mm, units, "Ø")),
        Figure("length", length_text(one.long_mm, units)),
        Figure("takes work", f"Ø {takes[0]} to {takes[1]}"),
    )
