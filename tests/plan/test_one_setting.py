"""Male and female at one setting of the slide: the side, the cut's direction, the order, and what it should stay for."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from handwheel.job.records import Unit
from handwheel.plan.oneslide import FAR
from handwheel.plan.records import Operation, Plan
from handwheel.plan.taperways import AWAY, TOWARD
from handwheel.readings.of import readings_of
from handwheel.setups.sketches import narrow_end, swung_for
from handwheel.workshop.read import built_in_workshop

from .test_route_rules import planned

METRIC = built_in_workshop(Unit.MM)
MATES = """handwheel: 1
job: Mates
units: mm
general tolerance: ± 0.1
parts:
  plug:
    material: free-cutting mild steel
    outside: [{cylinder: shank}, {cone: nose, narrow: %s}]
    dimensions:
      shank diameter: 22
      shank length: 25
      nose %s diameter: 20 ± 0.02
      nose taper: 1:%s
      nose length: 40
  socket:
    material: free-cutting mild steel
    outside: [{cylinder: body}]
    inside:
      from right: [{bore: seat, cone: yes}, {hole: way, through: yes}]
    dimensions:
      body diameter: 35
      overall length: 45
      seat right diameter: 20 ± 0.02
      seat taper: 1:20
      seat depth: 38
      way diameter: 10
"""


def job(narrow: str = "right", ratio: str = "20") -> Plan:
    return planned(MATES % (narrow, "left" if narrow == "right" else "right", ratio))


def of(plan: Plan, part: str, feature: str) -> Operation:
    stages = next(p for p in plan.parts if p.part == part).stages
    return next(s.operation for s in stages if feature in s.operation.features and s.operation.kind in ("taper", "bore"))


def swung(operation: Operation) -> str:
    text = next(s.text for s in operation.settings if s.layer == "slide angle")
    return TOWARD if TOWARD in text else AWAY


def test_plug_and_socket_share_one_setting_and_one_visit() -> None:
    plan = job()
    plug, socket = of(plan, "plug", "nose"), of(plan, "socket", "seat")
    assert (swung(plug), swung(socket)) == (TOWARD, TOWARD)
    assert plug.set_up == socket.set_up
    setting = [s for s in plug.settings if s.layer == "slide angle"]
    assert setting == [s for s in socket.settings if s.layer == "slide angle"]
    page = next(s for s in plan.set_ups if s.key == plug.set_up)
    assert [s.text for s in page.settings if s.layer == "stays for"] == ["plug nose and socket seat, one setting for all"]
    assert FAR in socket.note
    assert "never with the spindle backward in a screwed chuck" in socket.caution


def test_on_the_far_side_in_makes_it_larger() -> None:
    """Each line of the cut list leaves more than the one before, up to the size wanted; and the rounded line is told right."""
    plan = job()
    socket = of(plan, "socket", "seat")
    move = next(m for m in socket.moves if m.wheel == "cross slide")
    assert (move.way, move.is_far, move.grows) == ("in", True, True)
    assert "far side" in move.zero
    reading = next(r for r in readings_of(plan, METRIC)["socket", socket.number] if r.wheel == "cross slide")
    leaves = [row.leaves_mm for row in reading.cuts]
    assert leaves == sorted(leaves)
    assert leaves[-1] == pytest.approx(20.0, abs=0.02)
    assert "Cross slide in" in reading.text


@pytest.mark.parametrize(("side", "edge", "turns"), [(1.0, 1.0, "forward"), (-1.0, -1.0, "forward"), (-1.0, 1.0, "backward")])
def test_why_the_tool_is_upside_down(side: float, edge: float, turns: str) -> None:
    """Seen from the tailstock, x toward the operator, y up: forward, the top of the work comes toward the operator. The work
    must come down on an edge that faces up, and up to one that faces down."""
    omega = np.array([0.0, 0.0, -1.0 if turns == "forward" else 1.0])  # z toward the tailstock
    moves = np.cross(omega, np.array([side, 0.0, 0.0]))
    top = np.cross(np.array([0.0, 0.0, -1.0]), np.array([0.0, 1.0, 0.0]))
    assert top[0] > 0.0
    assert moves[1] * edge < 0.0


def test_the_picture_shows_the_slide_as_it_is_set() -> None:
    """The socket narrows toward the headstock; turned to its far side the slide is drawn as for the plug."""
    plan, alone = job(), job(ratio="18")
    plug, socket = of(plan, "plug", "nose"), of(plan, "socket", "seat")
    assert (narrow_end(plug), swung_for(plug)) == ("tailstock", "tailstock")
    assert (narrow_end(socket), swung_for(socket)) == ("headstock", "tailstock")
    assert swung_for(of(alone, "socket", "seat")) == "headstock"


def test_a_bore_alone_is_cut_on_the_near_side() -> None:
    socket = of(job(ratio="18"), "socket", "seat")
    assert swung(socket) == AWAY
    assert FAR not in socket.note
    assert next(m.way for m in socket.moves if m.wheel == "cross slide") == "out"


def test_a_plug_whose_large_end_is_at_the_tailstock_shares_with_the_near_side() -> None:
    """Both want the headstock end away from the operator then: nothing is turned over."""
    plan = job()
    turned = [p for p in plan.parts if p.part == "plug"][0].stages
    end = next(s.operation.holding.toward_tailstock for s in turned if s.operation.kind == "taper")
    back = planned((MATES % ("left", "right", "20")).replace("[{cylinder: shank}, {cone: nose, narrow: left}]",
                                                               "[{cone: nose, narrow: left}, {cylinder: shank}]"))  # fmt: skip
    plug = of(back, "plug", "nose")
    grows = plug.holding.toward_tailstock != "right"
    assert swung(plug) == (TOWARD if grows else AWAY)
    assert end == "right"


def test_a_setting_that_is_wanted_again_is_named_with_what_swings_it_before() -> None:
    """Two plugs at one angle, held differently, and another angle between them: named by what the order makes of it."""
    text = (MATES % ("right", "left", "20")).replace("  socket:", """  other:
    like: plug
    stock: round 40
  steep:
    material: brass
    outside: [{cylinder: foot}, {cone: tip, narrow: right}]
    dimensions:
      foot diameter: 22
      foot length: 25
      tip left diameter: 20
      tip included angle: 40 deg
      tip length: 10
  socket:""")  # fmt: skip
    plan = planned(text)
    said = {s.key: next((t.text for t in s.settings if t.layer == "stays for"), "") for s in plan.set_ups}
    key = of(plan, "plug", "nose").set_up
    assert "socket seat" in said[key]
    assert "other nose" in said[key]
    assert said[of(plan, "steep", "tip").set_up] == ""


def test_angles_that_differ_by_a_minute_are_not_one() -> None:
    plan = job(ratio="19.8")
    assert of(plan, "plug", "nose").set_up != of(plan, "socket", "seat").set_up
    assert not [s for u in plan.set_ups for s in u.settings if s.layer == "stays for"]


DOUBLE = """  %s:
    material: free-cutting mild steel
    outside: [{cone: tail, narrow: left}, {cylinder: shank}, {cone: nose, narrow: right}]
    dimensions:
      shank diameter: 22
      shank length: 30
      tail right diameter: 20
      tail %s
      tail length: 12
      nose left diameter: 20
      nose %s
      nose length: 12
"""


def test_of_orders_alike_the_one_that_leaves_the_slide_where_it_is_wanted_again() -> None:
    """Two parts with two ends each, one slow and one steep: slow and slow come together over the change of holding, and the
    page of each says what wants it again."""
    slow, steep = "taper: 1:20", "included angle: 40 deg"
    head = "handwheel: 1\njob: Ends\nunits: mm\nparts:\n"
    plan = planned(head + DOUBLE % ("slow one", slow, slow) + DOUBLE % ("steep one", steep, steep))
    operations = {(p.part, s.operation.number): s.operation for p in plan.parts for s in p.stages}
    done = [operations[step.part, step.number] for step in plan.order]
    angles = [s.value for o in done for s in o.settings if s.layer == "slide angle" and o.kind == "taper"]
    assert sum(a != b for a, b in pairwise(angles)) == 2
    said = {s.key: t.text for s in plan.set_ups for t in s.settings if t.layer == "stays for"}
    kept = said[of(plan, "slow one", "nose").set_up]
    assert kept == f"leave it for {of(plan, 'slow one', 'tail').set_up}: slow one tail"
    again = said[of(plan, "steep one", "nose").set_up]
    assert again.startswith(f"{of(plan, 'steep one', 'tail').set_up} wants it again for steep one tail; ")
    assert "swing it before: write down what the indicator reads" in again
