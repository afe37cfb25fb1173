"""What the planner calls ends and places, in the job file's words."""

from __future__ import annotations

from handwheel.job.records import Side


def end_name(toward: Side, *, headstock: bool) -> str:
    """'left' or 'right': the side of a feature that lies toward the headstock, or the tailstock."""
    return str(toward.other if headstock else toward)
