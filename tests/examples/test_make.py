"""Every example, and every other spelling of it, goes from the job file to sheets that hold.

Looked at from outside, in job.json alone: outlines are compared with shapely, wheels with a fit of their own moves.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.examples.runs import CASES, EXAMPLES, SLACK_MM, made, polygon

FAR_MM = 1000.0
EDGE_MM = 0.01
"""A cut may end at the jaws' face: this near the edge of the grip nothing is asked."""


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_is_made(example: str) -> None:
    run = made(example, "as drawn")
    assert run.status == 0, run.said
    assert {"index.html", "sheets.pdf", "job.json"} <= set(run.files)
    assert any(name.endswith(".svg") for name in run.files)


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_a_variant_is_made_or_refused_with_a_reason(example: str, variant: str) -> None:
    run = made(example, variant)
    assert run.status in (0, 1), run.said
    refused = [entry for part in run.job["parts"].values() for entry in part["route"] if entry.get("refused")]
    assert bool(refused) == (run.status == 1)
    for entry in refused:
        assert len(entry["refused"].split()) > 3
        assert not entry.get("readings")


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_metal_never_grows(example: str, variant: str) -> None:
    compared = 0
    for name, _, route in made(example, variant).routes():
        for before, after in zip(route, route[1:], strict=False):
            grown = polygon(after["outline_mm"]).difference(polygon(before["outline_mm"]).buffer(SLACK_MM))
            assert grown.area == 0.0, f"{name}, operation {after['number']}"
            compared += 1
    assert compared > 0 or made(example, variant).status == 1


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_the_finished_part_is_inside_every_stage(example: str, variant: str) -> None:
    for name, part, route in made(example, variant).routes():
        finished = polygon(part["outline_mm"])
        assert finished.is_valid
        for entry in route:
            stage = polygon(entry["outline_mm"])
            assert stage.is_valid, f"{name}, operation {entry['number']}"
            lost = finished.difference(stage.buffer(SLACK_MM))
            assert lost.area == 0.0, f"{name}, operation {entry['number']} ({entry['kind']})"


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_the_last_stage_is_the_finished_part(example: str, variant: str) -> None:
    for name, part, route in made(example, variant).routes():
        if len(route) < len(part["route"]):
            continue
        finished, last = polygon(part["outline_mm"]), polygon(route[-1]["outline_mm"])
        left = last.difference(finished.buffer(SLACK_MM))
        assert left.area < 1e-6, f"{name}: {left.area} mm² left"


def outer_radius(outline: list[list[float]], stations: np.ndarray) -> np.ndarray:
    """The outside's radius at each station, 0 where there is no metal."""
    one = np.array(outline)
    two = np.roll(one, -1, axis=0)
    low, high = np.minimum(one[:, 0], two[:, 0]), np.maximum(one[:, 0], two[:, 0])
    crosses = (low[:, None] <= stations) & (stations <= high[:, None]) & (high > low)[:, None]
    along = (stations - one[:, :1]) / np.where(high > low, two[:, 0] - one[:, 0], 1.0)[:, None]
    radius = one[:, 1:] + along * (two[:, 1:] - one[:, 1:])
    return np.where(crosses, radius, 0.0).max(axis=0)


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_nothing_held_is_cut(example: str, variant: str) -> None:
    """The surface inside the grip is there, and is the same after the operation. (A hole may run in beneath it.)"""
    gripped = 0
    for name, _, route in made(example, variant).routes():
        for before, after in zip(route, route[1:], strict=False):
            grips = after.get("grips")
            if not grips:
                continue
            low, high = sorted((grips["from_mm"], grips["to_mm"]))
            if high - low < 3 * EDGE_MM:
                continue
            gripped += 1
            stations = np.linspace(low + EDGE_MM, high - EDGE_MM, 101)
            held, left = (outer_radius(entry["outline_mm"], stations) for entry in (before, after))
            where = f"{name}, operation {after['number']} ({after['kind']})"
            if after["kind"] in ("saw", "part off") and left.max() == 0.0:
                continue  # the part comes away whole and the rest of the bar stays in the grip
            assert held.min() > 0.0, f"{where}: nothing in part of the grip"
            assert np.abs(held - left).max() < SLACK_MM, f"{where}: cut in the grip {low:.2f} to {high:.2f}"
    assert gripped > 0 or made(example, variant).status == 1


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_sizes_to_cut_to_are_inside_the_drawing(example: str, variant: str) -> None:
    """Working limits hold the size aimed at, and are never wider than the drawing where it gives that very size."""
    for name, part, route in made(example, variant).routes():
        drawn = {d["phrase"]: d for d in part["dimensions"] if d["given"] and "value_mm" in d}
        for reading in (r for entry in route for r in entry.get("readings", [])):
            makes = reading.get("makes")
            if not makes or makes.get("working_low_mm") is None:
                continue
            where = f"{name}: {makes['phrase']}"
            assert makes["working_low_mm"] <= makes["value_mm"] <= makes["working_high_mm"], where
            if makes["phrase"] in drawn:
                given = drawn[makes["phrase"]]
                assert makes["working_low_mm"] >= given["low_mm"] - 1e-6, where
                assert makes["working_high_mm"] <= given["high_mm"] + 1e-6, where


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_wheels_move_what_they_say(example: str, variant: str) -> None:
    """One wheel has one lead and one division: all its moves fit them, and none is half a division out."""
    moves: dict[tuple[str, str], list[tuple[float, float, float, float]]] = {}
    for _, _, route in made(example, variant).routes():
        for reading in (r for entry in route for r in entry.get("readings", [])):
            row = (reading["turns"], reading["divisions"], reading["moves_mm"], reading["exact_mm"])
            moves.setdefault((reading["wheel"], reading["unit"]), []).append(row)
    assert moves or made(example, variant).status == 1
    for wheel, rows in moves.items():
        table = np.array(rows)
        fit, *_ = np.linalg.lstsq(table[:, :2], table[:, 2], rcond=None)
        # moves_mm may be written to four decimals
        assert np.abs(table[:, :2] @ fit - table[:, 2]).max() < 2e-4, wheel
        division = fit[1] if np.ptp(table[:, 1]) > 0 else FAR_MM
        assert np.abs(table[:, 2] - table[:, 3]).max() <= abs(division) / 2 + 2e-4, wheel


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_turned_diameters_are_in_the_metal(example: str, variant: str) -> None:
    """Where turning makes a diameter of the drawing, it aims inside its limits, and the metal has it somewhere."""
    for name, part, route in made(example, variant).routes():
        drawn = {d["phrase"]: d for d in part["dimensions"] if d["phrase"].endswith(" diameter")}
        for entry in (e for e in route if e["kind"] == "turn"):
            radii = np.array(entry["outline_mm"])[:, 1]
            for makes in (r["makes"] for r in entry["readings"] if r.get("makes")):
                size = drawn.get(makes["phrase"])
                if size is not None:
                    where = f"{name}, operation {entry['number']}: {makes['phrase']}"
                    assert size["low_mm"] <= makes["value_mm"] <= size["high_mm"], where
                    assert np.abs(radii - size["value_mm"] / 2).min() < SLACK_MM, where


@pytest.mark.parametrize(("example", "variant"), CASES)
def test_every_operation_of_every_copy_is_in_the_running_order_once(example: str, variant: str) -> None:
    run = made(example, variant)
    done: dict[tuple[str, int], list[int]] = {}
    for step in run.job["order_of_work"]:
        for copy in step["copies"]:
            done.setdefault((step["part"], copy), []).append(step["number"])
    for name, part, route in run.routes():
        numbers = [entry["number"] for entry in route if entry["kind"] != "stock"]
        if len(route) < len(part["route"]):
            continue
        for copy in range(1, part["quantity"] + 1):
            assert done[name, copy] == numbers, f"{name}, copy {copy}"


@pytest.mark.parametrize("example", EXAMPLES)
def test_mirrored_and_renamed_are_made_as_well(example: str) -> None:
    """What can be made can be made whichever way round it was drawn and whatever it is called."""
    assert made(example, "mirrored").status == made(example, "renamed").status == made(example, "as drawn").status


@pytest.mark.parametrize("example", EXAMPLES)
def test_names_and_direction_do_not_change_the_work(example: str) -> None:
    """The renamed job has the same route; the mirrored one as many operations of each kind."""
    drawn, renamed, mirrored = (made(example, v).routes() for v in ("as drawn", "renamed", "mirrored"))
    for first, second, third in zip(drawn, renamed, mirrored, strict=True):
        kinds = [entry["kind"] for entry in first[2]]
        assert [entry["kind"] for entry in second[2]] == kinds
        assert sorted(entry["kind"] for entry in third[2]) == sorted(kinds)
