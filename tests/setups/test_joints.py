"""Joints as procedures, and what is answered to one who only asks."""

from __future__ import annotations

import re

import pytest

from handwheel.job.records import Unit
from handwheel.plan.records import Stage
from handwheel.setups.asking import fit_asked, press_asked, spigot_asked
from handwheel.setups.joints import joint_procedure
from handwheel.setups.of import procedure_of
from tests.plan.test_route_rules import METRIC, planned
from tests.plan.test_threads_and_joints import KNOB, PAIR


def stages(text: str) -> list[Stage]:
    return [stage for part in planned(text, METRIC).parts for stage in part.stages]


@pytest.mark.parametrize(
    ("text", "subject"),
    [(PAIR.replace("SHAFT", "h7"), "bonded joint"), (PAIR.replace("SHAFT", "s6"), "pressed joint"),
     (KNOB.replace("DEEP", "8.5"), "thin wall behind a hole")],
)  # fmt: skip
def test_each_has_its_procedure_with_the_operations_own_figures(text: str, subject: str) -> None:
    found = [(s, p) for s in stages(text) if (p := joint_procedure(s)) is not None]
    assert [p.subject for _, p in found] == [subject]
    stage, procedure = found[0]
    assert [(f.head, f.value) for f in procedure.figures] == list(stage.operation.figures)
    assert len({step.head for step in procedure.steps}) == len(procedure.steps) >= 2
    assert procedure_of(stage, METRIC) == procedure


def test_fits_asked_of_keep_the_amateur_classes_apart() -> None:
    told = {f.head: f.value for f in fit_asked(25.4, METRIC)}
    # thou: 0.5 + 1.5, -0.3 - 0.45
    assert told["shrink"] == f"spigot {2.0 * 0.0254:.3f} mm larger than the hole"
    assert told["slide"] == f"spigot {0.75 * 0.0254:.3f} mm smaller than the hole"
    assert "common practice, no source" in told["whose"]
    # ISO 286-2 at 25.4 mm: H7 +21 0; g6 -7 -20; p6 +35 +22
    assert told["ISO 286 H7/g6"] == "sliding: 0.007 mm of room to 0.041 mm of room"
    assert told["ISO 286 H7/p6"] == "pressed: 0.035 mm tight to 0.001 mm tight"


def test_spigot_for_a_hole_as_measured() -> None:
    lines = spigot_asked(8.013, 0.004, METRIC, Unit.MM)
    slide = next(line for line in lines if line.startswith("slide"))
    assert f"{8.013 - (0.3 + 0.45 * 8.013 / 25.4) * 0.0254:.3f} mm" in slide
    bonded = next(line for line in lines if line.startswith("bonded"))
    # gap 0.02 to 0.04, the hole's 0.004 taken off both sides
    assert re.findall(r"\d+\.\d+", bonded)[:2] == ["7.977", "7.989"]
    assert "takes up the whole gap" in " ".join(spigot_asked(8.013, 0.02, METRIC, Unit.MM))


def test_press_asked_of() -> None:
    first, second, third = press_asked(8.013, 8.03, 20.0, 10.0, ("brass", "silver steel"), Unit.MM)
    wide = (400.0 + 8.013**2) / (400.0 - 8.013**2)
    pressure = 0.017 / 8.013 / ((wide + 0.34) / 97000.0 + 0.71 / 205000.0)
    assert f"{pressure:.0f} N/mm², {pressure * wide:.0f} N/mm²" in first
    force = pressure * 3.14159265 * 8.013 * 10.0 / 1000.0
    assert f"{0.07 * force:.2g} to {0.2 * force:.2g} kN" in second
    assert f"hub {0.025013 / (2.05e-5 * 8.013):.0f} K" in third
    assert "not known" in press_asked(8.0, 8.01, 20.0, 10.0, ("", "silver steel"), Unit.MM)[0]
    assert "no larger" in press_asked(8.0, 7.99, 20.0, 10.0, ("brass", "silver steel"), Unit.MM)[0]
