"""Working limits for every size that is cut to.

Not written yet.
"""

from __future__ import annotations

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import Job
from handwheel.plan.records import PartPlan
from handwheel.workshop.records import Workshop


def with_limits(plan: PartPlan, part: SolvedPart, job: Job, shop: Workshop) -> PartPlan:
    """The plan with working limits put in."""
    return plan
