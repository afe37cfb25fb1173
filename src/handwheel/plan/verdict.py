"""The list of checks run over a finished route, with the workshop's habits put in."""

from __future__ import annotations

from handwheel.drawing.records import SolvedPart
from handwheel.plan.records import PartPlan
from handwheel.stages.checks import CheckContext, run_checks
from handwheel.stages.records import CheckResult
from handwheel.workshop.records import Workshop


def checks_of(plan: PartPlan, part: SolvedPart, shop: Workshop) -> tuple[CheckResult, ...]:
    """One line a check and operation; `is_fault` marks those that refuse the route."""
    raise NotImplementedError
