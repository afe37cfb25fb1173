"""What the checks are told of workshop and drawing: each planted fault against the same part without it."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import Plan
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.sheets.jobjson import job_json
from handwheel.stages.checks import CHECKED
from handwheel.stages.records import CheckResult
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Workshop

METRIC = built_in_workshop(Unit.MM)
SEATED = """handwheel: 1
job: Seated
units: mm
parts:
  shaft:
    material: free-cutting mild steel
    outside:
      - cylinder: head
      - cylinder: spigot
    dimensions:
      head diameter: 20
      head length: 16
      spigot diameter: 12
      spigot length: 16
  ring:
    material: brass
    outside:
      - cylinder: rim
    inside:
      from left:
        - {countersink: flare, included angle: 90 deg}
        - {hole: eye, through: yes, finish: reamed}
    dimensions:
      rim diameter: 20
      rim length: 12
      eye diameter: 12
      flare diameter: 12.8
assemblies:
  both:
    seats:
      - rim left of ring on head right of shaft
"""
SOCKET = """handwheel: 1
job: Socket
units: mm
parts:
  knob:
    material: free-cutting mild steel
    outside:
      - cylinder: body
    inside:
      from right:
        - {hole: socket, finish: reamed}
    dimensions:
      body diameter: 20
      body length: 40
      socket diameter: 8
      socket depth: 15
"""


def planned(text: str, shop: Workshop = METRIC) -> Plan:
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    return plan_job(size_job(job), shop)


def with_noses(radius: float) -> Workshop:
    return replace(METRIC, tools=tuple(replace(t, nose_radius_mm=radius) for t in METRIC.tools))


def with_lead(lead: float | None) -> Workshop:
    tools = tuple(replace(t, lead_mm=lead) if t.kind == "reamer" else t for t in METRIC.round_tools)
    return replace(METRIC, round_tools=tools)


def lines(plan: Plan, check: str) -> list[CheckResult]:
    return [c for c in plan.checks if c.check == check]


def test_a_corner_against_the_chamfer_of_what_goes_over_it() -> None:
    """A chamfer of 0.4: a nose of 0.4 clears it, one of 0.6 does not; sharp tools leave nothing."""
    for nose, is_warned in ((0.0, False), (0.4, False), (0.6, True)):
        plan = planned(SEATED, with_noses(nose))
        assert all(p.stages for p in plan.parts)
        found = lines(plan, "corner at a seat")
        assert [c.is_warning for c in found] == [is_warned]
        assert found[0].part == "shaft"
        # the op that cuts the corner says what it leaves in it
        corner = [c.operation for c in lines(plan, "nose in a corner") if c.part == "shaft" and c.is_warning]
        assert corner == ([found[0].operation] if nose else [])
    # 0.6 in the corner against a chamfer of 0.4: at the face 0.6 of it against 0.4
    assert "R 0.600 mm in the corner stands 0.200 mm into the mouth of ring" in found[0].found


def test_a_drawn_fillet_against_a_sharp_mouth() -> None:
    text = SEATED.replace("      - cylinder: spigot\n", "      - {fillet: root, size: R 1 mm}\n      - cylinder: spigot\n")
    text = text.replace("        - {countersink: flare, included angle: 90 deg}\n", "")
    text = text.replace("      flare diameter: 12.8\n", "")
    found = lines(planned(text), "corner at a seat")
    assert [c.is_warning for c in found] == [True]
    assert "R 1.000 mm in the corner stands 1.000 mm" in found[0].found
    chamfered = planned(text.replace("    inside:\n      from left:\n", """    inside:
      from left:
        - {countersink: flare, included angle: 90 deg}
""").replace("      eye diameter: 12\n", "      eye diameter: 12\n      flare diameter: 14\n"))
    assert [c.found for c in lines(chamfered, "corner at a seat")] == ["no fault"]


def test_a_reamer_s_lead_from_the_workshop() -> None:
    """The example's reamers have a lead of 3. The drill before leaves 0.2, its point from the same tip: 0.06 deeper."""
    drilled = 15.0 + 4.0 / math.tan(math.radians(59.0)) * (1.0 - 7.8 / 8.0)
    plan = planned(SOCKET)
    found = [c for c in lines(plan, "tool on the bottom") if "reamer" in c.found]
    assert len(found) == 1
    assert found[0].is_warning
    drill = next(s.operation for s in plan.parts[0].stages if s.operation.kind == "drill")
    low, high = drilled - 3.0 - 0.1, drilled - 3.0 + 0.1
    said = float(found[0].found.split("only ")[1].split(" mm")[0])
    assert low < said < high, drill.cutter.name
    unknown = with_lead(None)
    assert any("not known" in c.found and c.is_warning for c in lines(planned(SOCKET, unknown), "tool on the bottom"))
    through = planned(SOCKET.replace("finish: reamed", "finish: reamed, through: yes").replace("      socket depth: 15\n", ""))
    assert not lines(through, "tool on the bottom")


def test_a_lead_as_long_as_the_hole_refuses_the_part() -> None:
    plan = planned(SOCKET, with_lead(30.0))
    assert not plan.parts[0].stages
    assert "the reamer's lead of 30.000 mm" in plan.parts[0].refused
    assert plan.parts[0].would_do


def test_what_the_lathe_does_not_swing_is_refused() -> None:
    low = replace(METRIC, lathe=replace(METRIC.lathe, centre_height_mm=9.9))
    assert "does not swing over the bed" in planned(SOCKET, low).parts[0].refused
    tight = replace(METRIC, lathe=replace(METRIC.lathe, swing_over_cross_slide_mm=19.0))
    assert "does not swing over the cross slide" in planned(SOCKET, tight).parts[0].refused


def test_a_knurl_that_is_cut_is_not_gripped_a_plain_end_is() -> None:
    plan = planned("""handwheel: 1
job: Knob
units: mm
parts:
  knob:
    material: brass
    outside:
      - cylinder: grip
      - cylinder: neck
    dimensions:
      grip diameter: 16
      grip length: 14
      neck diameter: 12
      neck length: 24
""".replace("      - cylinder: grip\n", "      - cylinder: grip\n      - {knurl: rough, in: grip, kind: straight 0.8 mm}\n")
        .replace("      grip length: 14\n", "      grip length: 14\n      left end to rough left: 2\n      rough length: 10\n"))
    stages = plan.parts[0].stages
    assert stages, plan.parts[0].refused
    cut = next(k for k, s in enumerate(stages) if s.operation.kind == "knurl")
    for stage in stages[cut + 1:]:
        holding = stage.operation.holding
        if stage.operation.kind not in ("saw",) and holding.surface != "stock":
            assert min(holding.to_mm, 12.0) - max(holding.from_mm, 2.0) <= 1e-6


def test_what_a_check_warns_of_is_in_the_data_and_refuses_nothing() -> None:
    job, _ = read_job(SOCKET.encode(), "job.yaml")
    assert job is not None
    drawing = size_job(job)
    plan = plan_job(drawing, METRIC)
    data = json.loads(job_json(drawing, plan, readings_of(plan, METRIC), METRIC))
    warned = [c for c in data["checks"] if c.get("warns")]
    assert {c["check"] for c in warned} >= {"tool on the bottom", "room at the tailstock"}
    assert all(c["found"] != "no fault" and c["do"] for c in warned)
    assert all(c["found"] == "no fault" for c in data["checks"] if not c.get("warns"))
    assert plan.parts[0].stages


@pytest.mark.parametrize("text", [SEATED, SOCKET])
def test_every_check_that_speaks_is_listed_on_the_sheet(text: str) -> None:
    named = {line.partition(":")[0] for line in CHECKED}
    assert {c.check for c in planned(text).checks} <= named


def test_what_does_not_pass_behind_the_jaws_is_held_farther_out() -> None:
    """A nose of Ø 25 and 60 long, jaws 22, Ø 20 behind them: gripped by its last 22, from 63 of 85 on."""
    plan = planned("""handwheel: 1
job: Long
units: mm
parts:
  long:
    material: free-cutting mild steel
    outside:
      - cylinder: tail
      - cylinder: flange
      - cylinder: nose
    dimensions:
      tail diameter: 20
      tail length: 15
      flange diameter: 35
      flange length: 10
      nose diameter: 25
      nose length: 60
""")
    second = [s.operation.holding for s in plan.parts[0].stages if s.operation.holding.surface == "nose"]
    assert second
    assert {(h.from_mm, h.to_mm, h.face_mm) for h in second} == {(63.0, 85.0, 63.0)}
    assert all(c.found == "no fault" for c in lines(plan, "behind the jaws"))


@pytest.mark.parametrize(("size", "words"), [
    ("{hole: pin, on: body, thread: M5}", "full thread only"), ("{hole: pin, on: body, finish: reamed}", "full size only"),
])  # fmt: skip
def test_a_lead_in_a_blind_hole_across(size: str, words: str) -> None:
    """M5 with 4 threads of lead is 3.2 of 8; the example's reamers have 3."""
    text = SOCKET.replace("    inside:\n      from right:\n        - {hole: socket, finish: reamed}\n",
                          f"    across:\n      - {size}\n")  # fmt: skip
    text = text.replace("socket diameter: 8", "pin diameter: 5").replace("socket depth: 15", "pin depth: 8")
    text = text.replace("      pin diameter: 5\n", "" if "M5" in size else "      pin diameter: 5\n")
    text += "      left end to pin centre: 20\n"
    plan = planned(text)
    assert plan.parts[0].stages
    full = 8.0 - (4 * 0.8 if "M5" in size else 3.0)
    found = [c for c in lines(plan, "tool on the bottom") if c.found != "no fault"]
    assert [f"{words} {full:.3f} mm deep of 8.000 mm" in c.found for c in found] == [True]
    assert found[0].is_warning
    through = planned(text.replace("on: body,", "on: body, through: yes,").replace("      pin depth: 8\n", ""))
    assert not [c for c in lines(through, "tool on the bottom") if c.is_warning]
