"""Holding tackle that the plan wants made: ball-holding collets, hollow centres, stub mandrels, split bushes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from handwheel.drawing.records import Drawing, SolvedFeature, SolvedPart
from handwheel.plan.candidate import HOLLOW_CENTRE
from handwheel.plan.grips import BUSH_WALL_MM, MANDREL, SOFT_JAWS, SPLIT_BUSH
from handwheel.plan.records import Operation, PartPlan, Plan
from handwheel.setups.records import Figure, Step
from handwheel.setups.tackle import (
    PIECES,
    ball_collet_for,
    bush_steps,
    collet_readings,
    collet_steps,
    split_bush_for,
)
from handwheel.stages.metal import tube
from handwheel.stages.records import Holding, Section
from handwheel.workshop.records import Workshop

CUP_DEG = 45.0
"""Half angle of a hollow centre's cup: a ball touches it at 0.707 of its diameter. Common practice, no source. [deg]"""
CUP_RIM = 0.85
"""The cup's rim by the ball's diameter: a little outside the circle it touches on. Common practice, no source."""
NOWHERE = (math.nan, math.nan)
"""Of a size that does not show on the picture."""
HALVES = " in halves"
MANDREL_TAPER = 2000.0
"""Length by the difference of diameters of a mandrel: the habit of the trade, no source."""
WALL_MM = 5.0
"""Metal behind a collet's seat. Common practice, no source. [mm]"""


@dataclass(frozen=True, slots=True)
class Size:
    """A size of a piece of tackle. `at`: where it shows on the picture, (z, r) of a diameter, (z0, z1) of a length. [mm]"""

    name: str
    value_mm: float
    at: tuple[float, float]
    is_diameter: bool
    high_mm: float | None = None
    """The greatest, where value_mm is the least."""


@dataclass(frozen=True, slots=True)
class Tackle:
    """A thing to make. `serves`: the parts; `section`: its shape, mouth to the right; `notes`: what no size says."""

    name: str
    serves: tuple[str, ...]
    section: Section
    sizes: tuple[Size, ...]
    notes: tuple[str, ...]
    steps: tuple[Step, ...] = ()
    readings: tuple[Figure, ...] = ()
    ball: tuple[float, float] | None = None
    """Centre and radius of the ball it holds. [mm]"""
    cuts: int = 0
    """Saw cuts along it, seen from its mouth."""


def tackle_of(plan: Plan, drawing: Drawing, shop: Workshop) -> tuple[Tackle, ...]:
    """Everything to make, each once with all the parts it serves, in order of need."""
    found: dict[str, Tackle] = {}
    for planned in plan.parts:
        part = drawing.part(planned.part)
        for stage in planned.stages:
            for one in _wanted(stage.operation, part, shop, _as_made(planned, stage.operation.holding)):
                key = f"{one.name}|{'|'.join(one.notes)}|{[round(s.value_mm, 4) for s in one.sizes]}"
                old = found.get(key, replace(one, serves=()))
                found[key] = replace(old, serves=tuple(dict.fromkeys((*old.serves, part.name))))
    return tuple(found.values())


def _as_made(planned: PartPlan, holding: Holding) -> tuple[float, float] | None:
    """Working limits of the diameter that is held, where the route has some. [mm]"""
    made = [m.makes for s in planned.stages for m in s.operation.moves if m.makes and m.makes.is_diameter]
    limits = [(m.working_low_mm, m.working_high_mm) for m in made if m.phrase == f"{holding.surface} diameter"]
    return next(((low, high) for low, high in reversed(limits) if low is not None and high is not None), None)


def _held_within(radius: float, shop: Workshop) -> tuple[float, float]:
    half = shop.habit("ball collet limit") / 2.0
    return 2.0 * radius - half, 2.0 * radius + half


def _wanted(
    operation: Operation, part: SolvedPart, shop: Workshop, made: tuple[float, float] | None
) -> Iterable[Tackle]:
    holding = operation.holding
    feature = next((f for f in part.outside if f.name == holding.surface), None)
    if holding.kind == "ball collet" and feature is not None and feature.arc_radius and feature.centre is not None:
        yield ball_collet(holding, feature.arc_radius, feature.centre, made or _held_within(feature.arc_radius, shop), shop)
    if HOLLOW_CENTRE in holding.device and "hollow" not in shop.centres:
        ball = _ball_at(part, holding)
        if ball is not None and ball.arc_radius:
            yield hollow_centre(ball.arc_radius)
    if holding.kind == "stub mandrel" and holding.grip_radius_mm > 0:
        yield stub_mandrel(holding)
    if holding.kind == SPLIT_BUSH and holding.grip_radius_mm > 0:
        passes = max(f.greatest_radius for f in part.outside) if HALVES in holding.device else 0.0
        yield split_bush(holding, shop, made, passes)
    if holding.kind == SOFT_JAWS and holding.grip_radius_mm > 0:
        yield soft_jaws(holding)
    if holding.kind == MANDREL and holding.grip_radius_mm > 0:
        yield centred_mandrel(holding)


def _ball_at(part: SolvedPart, holding: Holding) -> SolvedFeature | None:
    """The ball that the tailstock's hollow centre carries."""
    named = holding.device.rpartition(f"{HOLLOW_CENTRE} on ")[2].split(";")[0].strip()
    return next((f for f in part.outside if f.name == named), None)


def ball_collet(holding: Holding, radius: float, centre: float, ball_mm: tuple[float, float], shop: Workshop) -> Tackle:
    """A collet that holds a ball on the two corners of a recess in its bore; its mouth lies past the ball's centre. [mm]"""
    slots = tuple(t for t in holding.device.split(", ", 1)[1:] if "slot" in t)
    one = ball_collet_for(ball_mm, _lip(holding, radius, centre), shop)
    body = max(holding.device_radius_mm or 0.0, one.recess_bore_mm / 2.0 + WALL_MM / 2.0)
    bore, floor, first = one.bore_mm[0] / 2.0, one.recess_bore_mm / 2.0, -one.lip_mm
    last, back = first - one.recess_mm[0], -one.deep_mm - WALL_MM
    outer = np.array([[back, body], [0.0, body]])
    inner = np.array([[back, 0.0], [-one.deep_mm, 0.0], [-one.deep_mm, bore], [last, bore], [last, floor], [first, floor],
                      [first, bore], [0.0, bore]])  # fmt: skip
    sizes: tuple[Size, ...] = (
        Size("bore and mouth", one.bore_mm[0], (0.0, bore), True, one.bore_mm[1]),
        Size("lip, face to recess", one.lip_mm, (first, 0.0), False),
        Size("recess, width", one.recess_mm[0], (last, first), False, one.recess_mm[1]),
        Size("recess", one.recess_bore_mm, ((first + last) / 2.0, floor), True),
        Size("bore deep, at the least", one.deep_mm, (-one.deep_mm, 0.0), False),
        Size("body, to suit its holder", 2 * body, (0.7 * back, body), True),
        Size("takes a ball", one.takes_mm[0], NOWHERE, True, one.takes_mm[1]),
        Size("if sprung: each segment out", one.opens_mm, NOWHERE, False),
        Size("if sprung: slots long", one.slots_mm[0], NOWHERE, False, one.slots_mm[1]),
    )
    return Tackle("Ball-holding collet", (), Section(outer, inner), sizes, slots, collet_steps(shop), collet_readings(one, shop),
                  (-one.mouth_mm, radius), PIECES)  # fmt: skip


def _lip(holding: Holding, radius: float, centre: float) -> float:
    """How far the mouth lies past the ball's centre. [mm]"""
    if holding.lip_mm is not None:
        return holding.lip_mm
    lip = abs(holding.face_mm - centre)
    return lip if lip < radius * 0.98 else 0.5 * radius


def hollow_centre(radius: float) -> Tackle:
    """A cup in the tailstock that carries a ball on a circle. [mm]"""
    rim, touch = CUP_RIM * radius, radius * math.cos(math.radians(CUP_DEG))
    deep = rim / math.tan(math.radians(CUP_DEG))
    body, back = rim + 2.0, deep + 2.0 * radius
    outer = np.array([[-back, body], [0.0, body]])
    inner = np.array([[-back, 0.0], [-deep, 0.0], [0.0, rim]])
    sizes = (Size("rim of the cup", 2 * rim, (0.0, rim), True),
             Size("the ball touches on", 2 * touch, (-deep + touch, touch), True),
             Size("depth of the cup", deep, (-deep, 0.0), False))  # fmt: skip
    note = f"cup of {2 * CUP_DEG:g}° included, polished and greased; shank to the tailstock's taper"
    return Tackle("Hollow centre", (), Section(outer, inner), sizes, (note,))


def stub_mandrel(holding: Holding) -> Tackle:
    """A stub turned in place to the work's bore. [mm]"""
    radius, long = holding.grip_radius_mm, abs(holding.to_mm - holding.from_mm)
    body, back = radius + 4.0, 8.0
    outer = np.array([[-back, body], [0.0, body], [0.0, radius], [long, radius]])
    inner = np.array([[-back, 0.0], [long, 0.0]])
    sizes = (Size("to the bore as measured", 2 * radius, (0.5 * long, radius), True),
             Size("carries the work", long, (0.0, long), False))  # fmt: skip
    notes = ("turned in place to a push fit, a faint lead at its end; not let go of until the last piece is done",)
    return Tackle("Stub mandrel", (), Section(outer, inner), sizes, notes)


def centred_mandrel(holding: Holding) -> Tackle:
    """A mandrel that runs between centres, faintly tapered so that the work stays where it is pressed on. [mm]"""
    radius, long = holding.grip_radius_mm, abs(holding.to_mm - holding.from_mm)
    past = max(2.0 * radius, 10.0)
    outer = np.array([[-past, 0.8 * radius], [0.0, 0.8 * radius], [0.0, radius], [long, radius], [long, 0.8 * radius],
                      [long + past, 0.8 * radius]])  # fmt: skip
    inner = np.array([[-past, 0.0], [long + past, 0.0]])
    sizes = (Size("to the bore as measured, amid", 2 * radius, (0.5 * long, radius), True),
             Size("carries the work", long, (0.0, long), False),
             Size("larger end by", long / MANDREL_TAPER, NOWHERE, False))  # fmt: skip
    note = f"centred at both ends first, then turned between centres; tapered 1 in {MANDREL_TAPER:g} on the diameter"
    return Tackle("Mandrel between centres", (), Section(outer, inner), sizes, (note,))


def soft_jaws(holding: Holding) -> Tackle:
    """Jaws of soft metal bored in place to the diameter they hold. [mm]"""
    radius, long = holding.grip_radius_mm, abs(holding.to_mm - holding.from_mm)
    body = radius + 2.0 * WALL_MM
    sizes = (Size("bored in place to the work as measured", 2 * radius, (-0.5 * long, radius), True),
             Size("deep", long, (-long, 0.0), False))  # fmt: skip
    notes = ("bored while closed on a plug behind; jaws marked to their slots; not let go of before the last piece",)
    return Tackle("Soft jaws", (), tube(2 * body, 2 * radius, -long, 0.0), sizes, notes)


def split_bush(
    holding: Holding, shop: Workshop, made: tuple[float, float] | None = None, passes_mm: float = 0.0
) -> Tackle:
    """A bush slit along one side, bored to the finished diameter it holds; in halves where something of radius
    `passes_mm` has to go in with it. made: limits of that diameter, None: as measured. [mm]"""
    radius, long = holding.grip_radius_mm, abs(holding.to_mm - holding.from_mm)
    body = max(radius, passes_mm) + BUSH_WALL_MM
    pieces = 2 if passes_mm else 1
    one = split_bush_for(made or (2 * radius, 2 * radius), 2 * body, long, pieces, shop)
    sizes = (Size("bored to the work as measured", one.bore_mm[0], (-0.6 * long, radius), True, one.bore_mm[1]),
             Size("outside", 2 * body, (-0.4 * long, body), True), Size("length", long, (-long, 0.0), False),
             Size("takes work", one.takes_mm[0], NOWHERE, True, one.takes_mm[1]))  # fmt: skip
    return Tackle("Split bush", (), tube(2 * body, 2 * radius, -long, 0.0), sizes, (), bush_steps(pieces, shop), cuts=pieces)
