"""A fine thread between larger diameters: the reason names both, and what would do is no other end.

That a die has to pass over all that lies between it and the thread is common practice, no source.
"""

from __future__ import annotations

from handwheel.drawing.size import size_job
from handwheel.job.read import read_job
from handwheel.job.records import Unit
from handwheel.plan.records import PartPlan
from handwheel.plan.route import plan_job
from handwheel.workshop.read import built_in_workshop

JOB = """handwheel: 1
job: Shut in
units: mm
parts:
  stud:
    material: brass
    outside: [{{cylinder: near, diameter: {near}, length: 10}}, {{cylinder: screw, thread: {thread}, length: 8}},
      {{cylinder: far, diameter: {far}, length: 10}}]
"""


def planned(near: float, thread: str, far: float) -> PartPlan:
    job, faults = read_job(JOB.format(near=near, thread=thread, far=far).encode(), "job.yaml")
    assert job is not None, faults
    return plan_job(size_job(job), built_in_workshop(Unit.MM)).parts[0]


def test_a_fine_thread_between_two_larger_diameters_names_both_and_offers_no_other_end() -> None:
    refused = planned(9, "M4", 12)
    assert not refused.stages
    for word in ("shut in between", "near, Ø 9.000 mm", "far, Ø 12.000 mm", "neither end"):
        assert word in refused.refused
    assert "two pieces" in refused.would_do
    assert "other end" not in refused.would_do


def test_with_one_side_slimmer_than_its_root_the_thread_is_cut_from_there() -> None:
    for near, far in ((3, 12), (9, 3)):  # M4's root is 3.14 mm (ISO 68-1: d - 1.2269 P = 4 - 0.859)
        plan = planned(near, "M4", far)
        assert "shut in" not in plan.refused
        if not plan.refused:
            (thread,) = (s.operation for s in plan.stages if s.operation.kind == "thread")
            assert thread.cutter.kind == "die"
