"""A taper attachment: what its scale shows, how far its play is taken up, and its correction, by plane geometry."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from handwheel.job.records import Unit
from handwheel.plan.attachment import scale_text, scale_value
from handwheel.plan.taperways import run_up_mm
from handwheel.setups.attachment import attachment_figures, scale_change
from handwheel.setups.tapers import Taper
from handwheel.workshop.read import built_in_workshop
from handwheel.workshop.records import TaperAttachment, Workshop

OWNED = TaperAttachment(8.0, 250.0, "mm in 100 mm", 0.5, 0.05, "cross slide")
PLUG = Taper(20.0, 16.0, 80.0)  # 1 in 20


def shop_with(owned: TaperAttachment, units: Unit = Unit.MM) -> Workshop:
    shop = built_in_workshop(units)
    return replace(shop, lathe=replace(shop.lathe, attachment=owned))


@pytest.mark.parametrize(("reads", "shows"), [
    ("angle to axis", 1.432096), ("included angle", 2.864192), ("inches per foot", 0.6), ("mm in 100 mm", 5.0)])  # fmt: skip
def test_what_the_scale_shows_at_one_in_twenty(reads: str, shows: float) -> None:
    """1 in 20 is 0.600 in per foot and 2 × 1° 25' 55.5" (handbook tables of tapers per foot)."""
    assert scale_value(math.degrees(math.atan(0.025)), reads) == pytest.approx(shows, abs=1e-6)


def test_no_scale_says_so() -> None:
    assert scale_value(2.0, "nothing") is None
    assert scale_text(2.0, replace(OWNED, reads="nothing")) == "no scale: by the indicator alone"


def test_in_lines_of_its_scale() -> None:
    assert scale_text(math.degrees(math.atan(0.025)), OWNED) == "5.000 mm in 100 mm on its scale: 10.00 lines of 0.5"


def followed(angle_deg: float, play: float, start: float) -> list[tuple[float, float]]:
    """Carriage and tool as the bar pushes it through play: the slide stays until the bar's face comes up to it."""
    tool, places = 0.0, []
    for k in range(2001):
        carriage = start + 0.01 * k
        bar = (carriage - start) * math.tan(math.radians(angle_deg))
        tool = max(tool, bar - play)
        places.append((carriage, tool))
    return places


@pytest.mark.parametrize("angle", [0.6, 1.432, 5.0])
@pytest.mark.parametrize("play", [0.02, 0.05])
def test_play_is_taken_up_after_so_much_of_the_carriage(angle: float, play: float) -> None:
    begun = next(carriage for carriage, tool in followed(angle, play, 0.0) if tool > 1e-9)
    assert run_up_mm(angle, play) == pytest.approx(begun, abs=0.011)


def test_figures_on_the_sheet() -> None:
    """Play 0.05 at 1 in 20 takes 2 mm; 1.25 mm in 50 on a bar; 0.02 on the difference over 80 is 0.025 in 100: a twentieth of
    a line of 0.5, and 50 × 0.02 / 160 = 0.00625 on the indicator."""
    told = {f.head: f.value for f in attachment_figures(PLUG, shop_with(OWNED), OWNED, 22.0)}
    assert "start 2.00 mm (0.0787 in) or more beyond the work" in told["play"]
    assert told["indicator on a true bar (tangent)"].startswith("1.25 mm (0.0492 in) in 50.00 mm")
    correct = next(v for k, v in told.items() if k.startswith("difference of the diameters"))
    assert correct.startswith("0.025 mm in 100 mm (0.05 of a line) on the scale, 0.006 mm")


def test_play_that_is_not_known_is_found_and_never_taken_as_none() -> None:
    told = {f.head: f.value for f in attachment_figures(PLUG, shop_with(OWNED), replace(OWNED, play_mm=None), 22.0)}
    assert told["play"].startswith("not known: an indicator on the cross slide")
    assert "each 0.02 mm (0.0008 in) across takes 0.80 mm" in told["play"]


def test_the_correction_as_change_on_a_scale() -> None:
    """1 in 20 wanted, 1 in 19 turned: 0.6 less 12/19 in per foot, 5 less 100/19 mm in 100."""
    wanted, turned = (math.degrees(math.atan(0.5 / n)) for n in (20.0, 19.0))
    assert scale_change(wanted, turned, "inches per foot") == f"{round(12 / 19 - 0.6, 4):.4f} in per foot less"
    assert scale_change(turned, wanted, "mm in 100 mm") == f"{round(100 / 19 - 5.0, 4):.4f} mm in 100 mm more"
    assert scale_change(wanted, turned, "nothing") == ""
