"""Joints and thin walls as procedures."""

from __future__ import annotations

import pytest

from handwheel.plan.records import Stage
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
