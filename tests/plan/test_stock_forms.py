"""Hexagon, square and tube: the round about the corners by closed form, what is left as bought, what holds it, what is said."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from handwheel.cli.main import main
from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import PartPlan
from handwheel.plan.route import plan_job
from handwheel.plan.writeout import route_lines
from handwheel.stages.metal import volume_mm3
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import Bar, Workshop

METRIC = built_in_workshop(Unit.MM)
SCREW = """handwheel: 1
job: Screw
units: mm
parts:
  screw:
    material: free-cutting mild steel
    STOCK
    outside:
      - cylinder: head
      - cylinder: shank
    across:
      - {hexagon: hex, on: head}
    dimensions:
      head diameter: HEAD
      head length: 6
      shank diameter: SHANK
      shank length: 20
      hex across flats: 10
"""
BUSH = """handwheel: 1
job: Bush
units: mm
parts:
  bush:
    material: bronze
    STOCK
    outside:
      - cylinder: body
    inside:
      from right:
        - {hole: eye, through: yes, finish: FINISH}
    dimensions:
      body diameter: 18
      overall length: 16
      eye diameter: EYE
"""
CORNERS = 10.0 / math.cos(math.radians(30.0))


def planned(text: str, shop: Workshop = METRIC, **words: str) -> PartPlan:
    for word, value in {"STOCK": "note: none", "HEAD": "11.55", "SHANK": "7", "FINISH": "bored", **words}.items():
        text = text.replace(word, value)
    job, faults = read_job(text.encode(), "job.yaml")
    assert job is not None, faults
    drawing = size_job(job)
    assert not drawing.faults, drawing.faults
    return plan_job(drawing, shop).parts[0]


def test_a_hexagon_drawn_takes_hexagon_bar_and_is_left_as_it_is() -> None:
    plan = planned(SCREW)
    assert (plan.stock.form, plan.stock.as_named, plan.stock.is_owned) == ("hexagon", "hexagon 10 mm", True)
    assert plan.stock.diameter_mm == pytest.approx(CORNERS)
    assert plan.stock.across_mm == pytest.approx(10.0)
    assert not plan.refused
    assert [s.operation.kind for s in plan.stages if {"head", "hex"} & set(s.operation.features)] == ["saw"]
    assert {s.operation.holding.kind for s in plan.stages} <= {"vice", "three-jaw", "collet"}
    first = plan.stages[0]
    assert f"Ø {CORNERS:.3f} mm" in first.operation.note
    assert "hex left as the bar is" in first.operation.note
    assert float(first.before.outer[:, 1].max()) == pytest.approx(CORNERS / 2.0)


def test_what_is_left_is_the_round_about_the_corners_and_the_shank() -> None:
    plan = planned(SCREW)
    wanted = math.pi * (CORNERS**2 / 4.0 * 6.0 + 3.5**2 * 20.0)
    assert volume_mm3(plan.stages[-1].after) == pytest.approx(wanted, rel=1e-9)


def test_a_head_drawn_beyond_the_corners_ends_at_them() -> None:
    plan = planned(SCREW, HEAD="14")
    assert plan.stock.form == "hexagon"
    assert float(plan.finished.outer[:, 1].max()) == pytest.approx(CORNERS / 2.0)


def test_corners_written_short_are_the_bars() -> None:
    plan = planned(SCREW, HEAD="11.5")  # 11.547 to two figures fewer
    assert not [s for s in plan.stages if "head" in s.operation.features]
    assert float(plan.stages[-1].after.outer[:, 1].max()) == pytest.approx(CORNERS / 2.0)


def test_corners_turned_down_are_turned() -> None:
    plan = planned(SCREW, HEAD="11")
    assert plan.stock.form == "hexagon"
    (turned,) = [s for s in plan.stages if "head" in s.operation.features]
    assert "interrupted" in turned.operation.note
    assert float(plan.stages[-1].after.outer[:, 1].max()) == pytest.approx(5.5)


def test_cuts_on_the_corners_are_said_to_be_interrupted_and_no_others() -> None:
    plan = planned(SCREW, HEAD="11")
    for stage in plan.stages[1:]:
        removed = stage.before.outer[:, 1].max() - stage.after.outer[:, 1].max()
        said = "interrupted" in stage.operation.note
        assert said == ("knock" in stage.operation.caution)
        if removed > 0.01 and stage.operation.kind == "turn":
            assert said, stage.operation.number
    round_one = planned(SCREW, replace(METRIC, bars=tuple(b for b in METRIC.bars if b.form == "round")))
    assert round_one.stock.form == "round"
    assert not any("interrupted" in s.operation.note for s in round_one.stages)
    assert any(s.operation.across_made == ("hex",) for s in round_one.stages)


def test_a_shank_wider_than_the_flats_is_not_turned_from_hexagon() -> None:
    assert planned(SCREW, SHANK="10.4").stock.form == "round"
    refused = planned(SCREW, STOCK="stock: hexagon 10", SHANK="10.4")
    assert "thinner than the part's 10.400 mm" in refused.refused


def test_square_is_held_in_the_four_jaw() -> None:
    plan = planned(SCREW.replace("hexagon", "square"), STOCK="stock: square 10", HEAD="14.2")
    assert not plan.refused
    assert plan.stock.diameter_mm == pytest.approx(10.0 * math.sqrt(2.0))
    grips = {s.operation.holding.kind for s in plan.stages if s.operation.holding.surface == "stock"}
    assert grips == {"vice", "four-jaw"}


def test_tube_is_bored_from_its_own_bore_without_a_drill() -> None:
    plan = planned(BUSH, STOCK="stock: tube 20 x 12", EYE="14")
    assert (plan.stock.form, plan.stock.bore_mm) == ("tube", 12.0)
    kinds = [s.operation.kind for s in plan.stages]
    assert "drill" not in kinds
    assert "centre" not in kinds
    assert kinds.count("bore") == 1
    length = plan.stock.length_mm
    assert volume_mm3(plan.stages[0].before) == pytest.approx(math.pi * (100.0 - 36.0) * length, rel=1e-9)
    assert volume_mm3(plan.stages[-1].after) == pytest.approx(math.pi * (81.0 - 49.0) * 16.0, rel=1e-9)


def test_a_tubes_own_bore_is_left() -> None:
    plan = planned(BUSH, STOCK="stock: tube 20 x 12", EYE="12", FINISH="drilled")
    assert not plan.refused
    assert not {"drill", "centre", "bore"} & {s.operation.kind for s in plan.stages}


def test_tube_is_chosen_where_it_is_at_hand_and_refused_where_its_bore_is_too_wide() -> None:
    tubes = (Bar("tube", 20.0, "bronze", "tube 20 x 12 mm", 12.0), Bar("tube", 20.0, "bronze", "tube 20 x 15 mm", 15.0))
    shop = replace(METRIC, bars=(*METRIC.bars, *tubes))
    assert planned(BUSH, shop, EYE="14").stock.as_named == "tube 20 x 12 mm"
    assert planned(BUSH, shop, EYE="6").stock.form == "round"
    refused = planned(BUSH, STOCK="stock: tube 20 x 15", EYE="14")
    assert "15.000 mm is wider than the part lets it be: 14.000 mm" in refused.refused


def test_job_json_says_the_form(tmp_path: Path) -> None:
    job = tmp_path / "screw.yaml"
    job.write_text(SCREW.replace("STOCK", "note: none").replace("HEAD", "11.55").replace("SHANK", "7"))
    assert main(["make", str(job), "--out", str(tmp_path / "out")]) == 0
    part = json.loads((tmp_path / "out" / "job.json").read_text())["parts"]["screw"]
    assert part["stock"]["form"] == "hexagon"
    assert part["stock"]["across_mm"] == pytest.approx(10.0)
    assert part["stock"]["diameter_mm"] == pytest.approx(CORNERS, abs=1e-6)
    assert all(entry["across"] == ["hex"] for entry in part["route"])
    assert np.array(part["route"][0]["outline_mm"])[:, 1].max() == pytest.approx(CORNERS / 2.0, abs=1e-6)


def routed(lines: str) -> PartPlan:
    return planned(SCREW.rstrip() + "\n    route:\n" + lines + "\n")


def test_a_route_written_out_from_hexagon_comes_back_the_same() -> None:
    found = planned(SCREW)
    again = routed("\n".join(f"      {line.strip()}" for line in route_lines(found) if line.strip().startswith("-")))
    assert again.stock.form == "hexagon"
    assert [s.operation.refused for s in again.stages if s.operation.refused] == []
    assert [s.operation.kind for s in again.stages] == [s.operation.kind for s in found.stages]
    assert [s.operation.note for s in again.stages] == [s.operation.note for s in found.stages]


def test_turning_what_is_left_as_bought_is_refused_at_its_step() -> None:
    plan = routed("      - {hold: three-jaw on stock, to tailstock: right}\n      - face: right end\n      - turn: shank\n"
                  "      - turn: head")  # fmt: skip
    assert "'head' is left as the bar is" in plan.stages[-1].operation.refused
