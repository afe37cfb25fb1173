"""Routes written in the job file: those written out come back the same, and a beginner's that fail at the machine are
caught at the step that fails, with the reason and no readings from there on."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import PartPlan
from handwheel.plan.route import plan_job
from handwheel.plan.writeout import route_lines
from handwheel.readings.of import readings_of
from handwheel.workshop.read import built_in_workshop

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
METRIC = built_in_workshop(Unit.MM)
PIN = """handwheel: 1
job: Pin
units: mm
parts:
  pin:
    material: free-cutting mild steel
    outside:
      - cylinder: neck
      - cylinder: head
      - cylinder: tip
    dimensions:
      neck diameter: 5
      neck length: 12
      head diameter: 16
      head length: 20
      tip diameter: 10
      tip length: 25
"""
GOOD = """
      - {hold: three-jaw on stock, to tailstock: right}
      - face: right end
      - turn: tip
      - turn: head
      - saw: left end
      - {hold: collet on tip, to tailstock: left}
      - face: left end
      - turn: neck
"""


def planned(route: str, text: str = PIN) -> PartPlan:
    job, faults = read_job(f"{text}    route:{route.rstrip()}\n".encode(), "test.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    return plan_job(drawing, METRIC).parts[0]


def refused(plan: PartPlan) -> tuple[str, str]:
    """Kind and reason of the first refused operation."""
    return next(((s.operation.kind, s.operation.refused) for s in plan.stages if s.operation.refused), ("", ""))


@pytest.mark.parametrize("name", sorted(p.stem for p in EXAMPLES.glob("*.yaml")))
def test_an_automatic_route_written_out_gives_the_same_stages(name: str) -> None:
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    job, _ = read_job(text.encode(), "test.yaml")
    assert job is not None
    shop = built_in_workshop(job.units)
    first = plan_job(size_job(job), shop)
    lines = text.splitlines()
    for part in first.parts:
        at = next(i for i, line in enumerate(lines) if line.startswith(f"  {part.part}:"))
        lines[at + 1 : at + 1] = ["    route:", *(f"      {line}" for line in route_lines(part))]
    again, faults = read_job("\n".join(lines).encode(), "test.yaml")
    assert again is not None, faults
    second = plan_job(size_job(again), shop)
    for one, other in zip(first.parts, second.parts, strict=True):
        assert refused(other) == ("", "")
        assert [s.operation.kind for s in one.stages] == [s.operation.kind for s in other.stages]
        for a, b in zip(one.stages, other.stages, strict=True):
            assert np.allclose(a.after.outer, b.after.outer, atol=1e-5)
            assert np.allclose(a.after.inner, b.after.inner, atol=1e-5)


def test_a_good_route_is_carried_out_in_its_own_order() -> None:
    plan = planned(GOOD)
    assert refused(plan) == ("", "")
    assert [(s.operation.kind, s.operation.features) for s in plan.stages][1:4] == [
        ("face", ()), ("turn", ("tip",)), ("turn", ("head",))]  # fmt: skip


def test_nothing_left_to_hold() -> None:
    """The bar is sawn off behind the head, and then the head's own stock is to be held."""
    on_stock = "{hold: three-jaw on stock, to tailstock: left, out: 20 mm}"
    route = GOOD.replace("{hold: collet on tip, to tailstock: left}", on_stock)
    kind, why = refused(planned(route))
    assert kind == "saw"
    assert "nothing of the bar is left there" in why


def test_a_neck_turned_before_the_heavy_work_beyond_it() -> None:
    """All from one end, the Ø 5 neck first: 57 mm of bar then hang on it."""
    route = """
      - {hold: three-jaw on stock, to tailstock: right, out: 62 mm}
      - face: right end
      - groove: neck
      - turn: tip
      - turn: head
      - part off: left end
"""
    kind, why = refused(planned(route))
    assert kind in ("groove", "turn")
    assert "overhang" in why or "thin part last" in why or "cannot be turned" in why


def test_a_size_measured_from_a_face_that_comes_off_later() -> None:
    face, head = "      - face: right end\n", "      - turn: head\n"
    moved = GOOD.replace(face, "", 1).replace(head, head + face)
    kind, why = refused(planned(moved))
    assert kind == "turn"
    assert "still as sawn and comes off later" in why
    assert "face: right end" in why


def test_what_the_route_leaves_undone_is_named() -> None:
    _, why = refused(planned(GOOD.replace("      - turn: neck\n", "")))
    assert "'neck' is still to be made" in why


def test_a_thing_at_the_headstock_cannot_be_reached() -> None:
    _, why = refused(planned(GOOD.replace("- turn: head", "- face: left end")))
    assert "at the headstock" in why


def test_no_readings_from_the_refused_step_on() -> None:
    text = f"{PIN}    route:{GOOD.replace('collet on tip', 'collet on neck').rstrip()}\n"
    job, _ = read_job(text.encode(), "test.yaml")
    assert job is not None
    plan = plan_job(size_job(job), METRIC)
    number = next(s.operation.number for s in plan.parts[0].stages if s.operation.refused)
    read = {key for _, key in readings_of(plan, METRIC)}
    assert read
    assert max(read) < number


@pytest.mark.parametrize(
    ("item", "line"),
    [
        ("- trun: tip", "test.yaml:18:9: 'trun' is no operation of a route; did you mean 'turn'?"),
        ("- turn: tipp", "test.yaml:18:15: 'turn' is not done to 'tipp'; did you mean 'tip'?"),
        ("- face: tip", "test.yaml:18:15: 'face' is not done to 'tip'; "),
        ("- {hold: three-jaw, to tailstock: left}",
         "test.yaml:18:16: 'three-jaw' does not say what is held; write it like 'three-jaw on stock' or 'collet on tenon'"),
        ("- {hold: vice on stock, to tailstock: left}", "test.yaml:18:16: 'vice' is no way of holding; "),
        ("- {hold: collet on foot, to tailstock: left}", "test.yaml:18:26: there is no 'foot' to hold by; "),
        ("- {hold: collet on tip}", "test.yaml:18:16: it is not said which end stands toward the tailstock; "
         "add 'to tailstock: left' or 'to tailstock: right' to the item"),
    ],
)  # fmt: skip
def test_faults_of_the_words(item: str, line: str) -> None:
    text = f"{PIN}    route:\n      - {{hold: three-jaw on stock, to tailstock: right}}\n      {item}\n"
    lines = text.splitlines()
    assert lines[19].strip() == item
    _, faults = read_job(text.encode(), "test.yaml")
    assert len(faults) == 1
    assert faults[0].line().startswith(line.replace(":18:", ":20:")), faults[0].line()


def test_a_route_that_begins_before_the_work_is_held() -> None:
    _, faults = read_job(f"{PIN}    route:\n      - face: right end\n".encode(), "test.yaml")
    assert [f.id for f in faults] == ["route-holds-nothing"]
