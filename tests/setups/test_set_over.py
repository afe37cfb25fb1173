"""Tailstock set over: a wrong setting is cut, measured with the gauge's error, corrected, and the taper comes right."""

from __future__ import annotations

import math

import pytest

from handwheel.job.records import Unit
from handwheel.setups.setover import correction_mm, set_over_figures
from handwheel.workshop.read import built_in_workshop

METRIC = built_in_workshop(Unit.MM)


def cut_deg(over: float, between: float) -> float:
    """The angle that work between centres is turned to: its axis is the hypotenuse."""
    return math.degrees(math.asin(over / between))


@pytest.mark.parametrize("wrong", [-0.8, -0.05, 0.05, 0.8])
@pytest.mark.parametrize("gauge", [-0.004, 0.0, 0.004])
def test_a_wrong_set_over_is_recovered(wrong: float, gauge: float) -> None:
    """Wanted 1.431° on 160 between centres; two diameters 60 apart measured, each 4 µm out one way at the worst."""
    between, wanted, apart = 160.0, 1.431, 60.0
    over = between * math.sin(math.radians(wanted)) + wrong
    measured = 2.0 * apart * math.tan(math.radians(cut_deg(over, between)))
    over += correction_mm(between, wanted, 20.0 + gauge, 20.0 - measured - gauge, apart)
    left = abs(cut_deg(over, between) - wanted)
    assert left <= math.degrees(2.0 * abs(gauge) / (2.0 * apart)) * 1.001 + 1e-9
    assert left < METRIC.habit("capability angle")


def test_nothing_is_corrected_on_a_right_taper() -> None:
    """Ø 20 to Ø 16 over 40: atan(2 / 40)."""
    wanted = math.degrees(math.atan(2 / 40))
    assert correction_mm(150.0, wanted, 20.0, 16.0, 40.0) == pytest.approx(0.0, abs=1e-12)


def test_which_way() -> None:
    """Too small a difference: farther over."""
    assert correction_mm(150.0, 2.0, 20.0, 18.0, 60.0) > 0.0
    assert correction_mm(150.0, 0.5, 20.0, 18.0, 60.0) < 0.0


def test_the_figures_on_the_sheet() -> None:
    """102.5 between centres, 2.559 over: asin 1.4306°; 50 mm apart 2·50·tan = 2.4974. 0.02 off is 0.02/100·102.5·cos³ =
    0.0205."""
    told = {f.head: f.value for f in set_over_figures(2.559, 102.5, METRIC)}
    assert "1.431°" in told["set over"]
    assert "2.497 mm" in told["correct"]
    assert "0.02 mm (0.0008 in) off: tailstock by 0.02 mm (0.0008 in)" in told["correct"]
    # a piece 1 mm longer: 100·(tan(asin(2.559 / 102.5)) - tan(asin(2.559 / 103.5))) = 0.024
    assert told["length of the piece"].startswith("1.00 mm (0.0394 in) longer")
    assert "differ by 0.024 mm" in told["length of the piece"]
