"""The route that handwheel finds for one part, as lines for the job file; all of planning is imported here alone."""

from __future__ import annotations

from dataclasses import replace

from handwheel.cli.load import is_good, size_with
from handwheel.cli.make import load_workshop
from handwheel.cli.wrong import InputWrong
from handwheel.job.read import read_job


def found_route(data: bytes, path: str, part: str) -> tuple[tuple[str, ...], str]:
    """The items of `route` for a part, as if none were written; or () and why it cannot be made.

    Raises InputWrong where the job or its drawing has faults.
    """
    from handwheel.plan.route import plan_job
    from handwheel.plan.writeout import route_lines

    job, faults = read_job(data, path)
    if job is None:
        raise InputWrong(faults)
    job = replace(job, parts=tuple(replace(p, route=()) if p.name == part else p for p in job.parts))
    drawing, _ = size_with(job, (), None)
    if not is_good(drawing):
        raise InputWrong(drawing.faults)
    alone = replace(drawing, parts=tuple(p for p in drawing.parts if p.name == part))
    workshop = load_workshop(job)
    for plan in plan_job(alone, workshop).parts:
        refused = next((s.operation.refused for s in plan.stages if s.operation.refused), plan.refused)
        if not refused:
            return route_lines(plan), ""
        ways = f"; {plan.would_do}" if plan.would_do else ""
        return (), f"{part}: cannot be made in {workshop.name}: {refused}{ways}"
    return (), ""
