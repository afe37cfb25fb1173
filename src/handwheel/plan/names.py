"""What the planner calls ends and places, in the job file's words."""

from __future__ import annotations

from handwheel.job.records import Side, Unit


def end_name(toward: Side, *, headstock: bool) -> str:
    """'left' or 'right': the side of a feature that lies toward the headstock, or the tailstock."""
    return str(toward.other if headstock else toward)


def said(units: Unit, length_mm: float) -> str:
    """A length as this workshop's sheets say it."""
    return f"{length_mm / 25.4:.4f} in" if units is Unit.INCH else f"{length_mm:.3f} mm"
