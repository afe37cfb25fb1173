"""Checks on the lathe's room, each with a planted fault, a clean case, and what is not known; the figures by hand."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from handwheel.stages.athand import Room, Travel
from handwheel.stages.case import Case, CheckContext, Finding
from handwheel.stages.check_room import behind_the_jaws, jaws_out, set_over, slides, swing, tailstock_hand, thin_tube
from handwheel.stages.metal import apply, round_bar, tube
from handwheel.stages.records import Bore, Cut, Cutter, Holding, NoCut, Section, Sweep

KNIFE = Cutter("knife tool", "knife", np.array([[0, 0], [8, 4.6], [8, 12], [0, 12]], dtype=float))
JAWS = Holding("three-jaw", "three-jaw", 0.0, 22.0, "stock", "right", 22.0, 50.0, 10.0)
ROOM = Room(90.0, 55.0, 20.0, 20.0, 22.0, 42.0, 50.0, has_jaws=True, tail_crank_mm=60.0)
BAR = round_bar(20, 0, 70)
Look = Callable[[Case], Finding | None]


def found(look: Look, room: Room | None = ROOM, before: Section = BAR, holding: Holding = JAWS, cut: Cut | None = None,
          revolves: bool = True) -> Finding | None:
    context = CheckContext("pin", 20, 2.0, 10.0, 1.0, 3.0, 4.0, room=room, revolves=revolves)
    done = cut or NoCut()
    after = apply(before, done, KNIFE)
    return look(Case(before, after, after, holding, KNIFE, done, context))


def fault(*args: object, **case: object) -> str:
    finding = found(*args, **case)  # type: ignore[arg-type]
    assert finding is not None
    assert not finding.is_warning
    return finding.fault


def warning(*args: object, **case: object) -> str:
    finding = found(*args, **case)  # type: ignore[arg-type]
    assert finding is not None
    assert finding.is_warning
    assert finding.do
    return finding.fault


@pytest.mark.parametrize("look", [swing, behind_the_jaws, jaws_out, thin_tube, slides, set_over, tailstock_hand])
def test_nothing_is_said_without_a_room(look: Look) -> None:
    assert found(look, None) is None


def facing(radius: float) -> Sweep:
    return Sweep(np.array([[60.0, radius + 1.0], [60.0, 2.0]]))


def test_swing_over_the_bed_at_every_stage() -> None:
    assert "centre height 90.000 mm" in fault(swing, before=round_bar(180.2, 0, 70))
    assert fault(swing, before=round_bar(179.8, 0, 70)) == ""
    assert found(swing, before=round_bar(300, 0, 70), revolves=False) is None


def test_swing_over_the_cross_slide_where_it_is_cut_and_beside() -> None:
    turned = Sweep(np.array([[72.0, 27.0], [40.0, 27.0]]))
    assert "∅ 55.200 mm does not swing" in fault(swing, before=round_bar(55.2, 0, 70), cut=turned)
    assert fault(swing, before=round_bar(54.8, 0, 70), cut=turned) == ""
    flange = Section(np.array([[0.0, 40.0], [22.0, 40.0], [22.0, 10.0], [70.0, 10.0]]), np.array([[0.0, 0.0], [70.0, 0.0]]))
    thin = Sweep(np.array([[72.0, 9.0], [40.0, 9.0]]))
    assert "∅ 80.000 mm beside the cut" in warning(swing, before=flange, cut=thin)
    unknown = replace(ROOM, over_cross_slide_mm=None)
    assert "not known" in warning(swing, unknown, before=round_bar(91, 0, 70), cut=Sweep(np.array([[72.0, 45.0], [40.0, 45.0]])))
    assert fault(swing, unknown, before=BAR, cut=thin) == ""


def test_what_reaches_in_behind_the_jaws() -> None:
    long = round_bar(20, -40, 70)
    assert fault(behind_the_jaws, before=BAR) == ""  # ends within the jaws
    assert fault(behind_the_jaws, before=long) == ""
    stout = fault(behind_the_jaws, before=round_bar(20.2, -40, 70))
    assert "∅ 20.200 mm reaches 40.000 mm in" in stout
    assert "spindle" in warning(behind_the_jaws, replace(ROOM, spindle_bore_mm=15.0), before=long)
    assert "not known" in warning(behind_the_jaws, replace(ROOM, spindle_bore_mm=None), before=long)
    assert "not known" in warning(behind_the_jaws, replace(ROOM, through_mm=None), before=long)
    turned_round = replace(JAWS, from_mm=48.0, to_mm=70.0, face_mm=48.0, toward_tailstock="left")
    assert fault(behind_the_jaws, before=round_bar(20.2, 0, 110), holding=turned_round)
    assert fault(behind_the_jaws, before=round_bar(20.2, 0, 70), holding=turned_round) == ""


@pytest.mark.parametrize(("diameter", "out"), [(43.9, ""), (44.1, "14.050 mm")])
def test_jaws_out_of_the_body_by_a_third(diameter: float, out: str) -> None:
    """A jaw 42 high in a body of 50: 14 out of it where its foot stands at 22."""
    held = replace(JAWS, grip_radius_mm=diameter / 2)
    if not out:
        assert fault(jaws_out, holding=held) == ""
    else:
        assert f"stand {out} out of the chuck's body" in warning(jaws_out, holding=held)


def test_jaws_of_unknown_height() -> None:
    unknown = replace(ROOM, jaw_height_mm=None)
    assert "not known" in warning(jaws_out, unknown, holding=replace(JAWS, grip_radius_mm=34.0))
    assert fault(jaws_out, unknown, holding=replace(JAWS, grip_radius_mm=33.0)) == ""
    assert found(jaws_out, replace(ROOM, has_jaws=False)) is None


def test_a_thin_tube_in_the_jaws() -> None:
    """A twentieth of Ø 20 is 1 mm."""
    assert "wall of 0.900 mm" in warning(thin_tube, before=tube(20, 18.2, 0, 70))
    assert fault(thin_tube, before=tube(20, 17.8, 0, 70)) == ""
    assert found(thin_tube) is None
    assert found(thin_tube, replace(ROOM, has_jaws=False), before=tube(20, 18.2, 0, 70)) is None
    # bored beyond the jaws only
    beyond = apply(BAR, Bore(np.array([[23.0, 9.5], [70.0, 9.5]])), KNIFE)
    assert found(thin_tube, before=beyond) is None


def test_travel_of_the_slides() -> None:
    assert found(slides) is None
    fits = replace(ROOM, travels=(Travel("top slide", 59.9, 60.0), Travel("tailstock", 40.0, 60.0)))
    assert fault(slides, fits) == ""
    short = replace(ROOM, travels=(Travel("top slide", 61.0, 60.0),))
    assert "60.000 mm of travel, 61.000 mm wanted" in fault(slides, short)
    deep = replace(ROOM, travels=(Travel("tailstock", 61.0, 60.0),))
    assert "tailstock has 60.000 mm" in warning(slides, deep)
    unknown = replace(ROOM, travels=(Travel("top slide", 5.0, None),))
    assert "not known how far the top slide travels" in warning(slides, unknown)


def test_a_top_slide_set_over_is_tried_by_hand() -> None:
    assert found(set_over) is None
    over = replace(ROOM, slide_angle_deg=30.0, swivel_deg=60.0)
    assert "60°, 60.010° wanted" in fault(set_over, replace(over, slide_angle_deg=60.01))
    assert "sets over to 30.000°" in warning(set_over, replace(over, swivel_deg=None))
    assert "not known" in warning(set_over, over)
    assert "tailstock" not in warning(set_over, over)
    assert "clear the chuck and tailstock" in warning(set_over, over, holding=replace(JAWS, centre_mm=70.0))
    assert "which wants 50.000 mm," in warning(set_over, replace(over, top_crank_mm=50.0))


def test_the_hand_at_the_tailstock() -> None:
    assert found(tailstock_hand) is None
    assert fault(tailstock_hand, replace(ROOM, is_pushed=True)) == ""
    assert "not known" in warning(tailstock_hand, replace(ROOM, is_pushed=True, tail_crank_mm=None))
