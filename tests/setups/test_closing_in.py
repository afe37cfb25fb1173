"""A taper crept up to: where a locked micrometer stops on it, cut by a polygon library, and the first cut steep and short."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.optimize import brentq
from shapely.geometry import LineString

from handwheel.job.records import Unit
from handwheel.setups.closingin import begin_figures, gauge_figures, mark_mm, preset_mm
from handwheel.setups.tapers import Taper, seat_travel_mm
from handwheel.workshop.read import built_in_workshop

METRIC, INCH = built_in_workshop(Unit.MM), built_in_workshop(Unit.INCH)
PLUG = Taper(20.0, 18.0, 40.0)
SOCKET = Taper(20.0, 18.0, 40.0, is_inside=True)


def goes_on_mm(over: float, opening: float) -> float:
    """How far from the small end two jaws that far apart come on a plug 1 in 20, Ø 18 and `over` at its small end."""
    side = LineString([(0.0, 9.0 + over / 2), (100.0, 9.0 + over / 2 + 2.5)])
    where = side.intersection(LineString([(-1.0, opening / 2), (101.0, opening / 2)]))
    return float(where.x)


@pytest.mark.parametrize("over", [0.0, 0.02, 0.05, 0.2])
def test_a_locked_micrometer_stands_off_by_the_amount_told(over: float) -> None:
    """Set for 10 mm in from the small end it stops there when to size, and off / (2 tan) short of it before."""
    opening = preset_mm(PLUG, Unit.MM)
    assert opening == pytest.approx(18.5)
    assert mark_mm(PLUG, Unit.MM) == pytest.approx(10.0)
    assert goes_on_mm(over, opening) == pytest.approx(10.0 - seat_travel_mm(over, PLUG.half_angle_deg))


def test_on_a_short_taper_the_mark_lies_on_it() -> None:
    short = Taper(12.0, 10.0, 8.0)
    assert mark_mm(short, Unit.MM) == 4.0
    assert preset_mm(short, Unit.MM) == pytest.approx(11.0)


def test_the_table_is_of_the_cross_slide_s_own_lines() -> None:
    """100 lines of 2 mm, half a line worth dialling: half a line takes 0.02 off the diameter, at 1 in 20 that is 0.40 along."""
    told = {f.head: f.value for f in gauge_figures(PLUG, METRIC)}
    assert "Ø 18.50 mm (0.7283 in)" in told["gauge set over size"]
    assert told["it stands off by"] == (
        "0.40 along for 0.02 on Ø, 1/2 division; 0.80 along for 0.04 on Ø, 1 division; 1.60 along for 0.08 on Ø, 2 divisions; "
        "4.00 along for 0.20 on Ø, 5 divisions (mm)")


def test_without_lines_it_is_told_for_plain_amounts() -> None:
    wheel = replace(METRIC.lathe.wheels["cross slide"], divisions=1)
    bare = replace(METRIC, lathe=replace(METRIC.lathe, wheels={**METRIC.lathe.wheels, "cross slide": wheel}))
    told = gauge_figures(PLUG, bare)[1].value
    assert told.startswith("0.20 along for 0.01 on Ø; 0.40 along for 0.02 on Ø")
    assert "division" not in told


def test_a_bore_is_tried_with_a_plug() -> None:
    told = {f.head: f.value for f in gauge_figures(SOCKET, METRIC)}
    assert "a line where it measures Ø 20.00 mm" in told["gauge set over size"]


def test_steep_and_short_leaves_metal_all_along_and_runs_out_where_it_is_said() -> None:
    """0.1° too steep and 0.5 over at the small end in a Ø 20.2 blank; the cut by its own straight line."""
    angle = math.atan(1.0 / 40.0) + math.radians(0.1)
    told = {f.head: f.value for f in begin_figures(PLUG, METRIC, 20.2, 50.0)}
    assert told["begin"].startswith(f"at {math.degrees(angle):.3f}°: {50.0 * math.tan(angle):.3f} mm")
    assert "12 1/2 divisions of the cross slide short of the last line" in told["begin"]  # 0.25 on the radius, lines of 0.02
    out = brentq(lambda z: 9.25 + z * math.tan(angle) - 10.1, 0.0, 100.0)
    text = told["first cut runs out before the large end by"]
    assert text.startswith(f"{40.0 - out:.2f}")
    turns, rest = divmod(out / math.cos(angle), 2.0)
    assert f"after {int(turns)} turns and {round(rest / 0.02 * 2) // 2}" in text
    assert all(9.25 + z * math.tan(angle) > 9.0 + z / 40.0 for z in range(41))
    assert "first cut runs out before the large end by" not in {f.head for f in begin_figures(PLUG, METRIC, 22.0, 50.0)}


def test_a_bore_is_begun_under_size_at_its_mouth() -> None:
    told = {f.head: f.value for f in begin_figures(SOCKET, INCH, None, 50.8)}
    assert "mouth left 0.0197 in (0.50 mm) under" in told["begin"]
    shallow = math.degrees(math.atan(1.0 / 40.0) - math.atan(0.75 / 40.0))
    assert told["over at the bottom if too shallow by"] == f"{shallow:.3f}°"
