"""What one check looks at: an operation's metal, holding, tool and cut, with the maker's figures as plain numbers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from handwheel.stages.athand import Drilled, Room, Root, Threaded
from handwheel.stages.records import CheckResult, Cut, Cutter, Holding, Section

NO_FAULT = "no fault"
MM_PER_INCH = 25.4

Range = tuple[float, float, str]
"""From z to z, and what is there. [mm]"""


@dataclass(frozen=True, slots=True)
class LightCut:
    """Light cuts in a known material. push_n: least and greatest force apart in a last cut; plunged_n_per_mm: the same
    for each mm of a square tool's width; per_mm: greatest for each mm of depth at a roughing feed [N]. e_gpa: elastic
    modulus. may_err_mm, rough_err_mm: most that bending may put on a diameter in a last cut, in roughing. farthest,
    farthest_with_centre: unsupported length, in diameters, beyond which no cut is light enough. roughest_mm: the
    greatest cut, on the diameter; last_mm: a last cut, 0: not said. chuck_mm_per_n: the chuck's own give, 0: not known."""

    push_n: tuple[float, float]
    plunged_n_per_mm: tuple[float, float]
    per_mm: float
    e_gpa: float
    may_err_mm: float
    rough_err_mm: float
    roughest_mm: float
    farthest: float
    farthest_with_centre: float
    chuck_mm_per_n: float = 0.0
    last_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class CheckContext:
    """The maker's figures and the tool's own that the checks compare with. [mm]; None: not known.

    least_grip_mm and least_grip_share (times the diameter gripped): the longer one is wanted. free_overhang,
    greatest_overhang, greatest_with_centre: unsupported length in diameters. not_to_grip: threads, knurls, tapers.
    left_over: what is meant to be left after the last operation. revolves: False at bench, vice or drill.
    may_bore_in_grip: a hole may run in behind the jaws. swing_width_mm: width of what swings with a ball tool.
    light: what is known for light last cuts on work that stands out farther; None: nothing is allowed beyond the habit.
    nose_radius_mm: of the tool. hollows_mm: radius and name of the hollow arcs cut here. room: of the lathe and what
    holds; None at the bench. hole, threaded: what of that sort is made here, else None. least_wall_mm: None: not looked at.
    roots: of the part's threads, which the section shows as cylinders.
    """

    part: str
    operation: int
    chuck_clearance_mm: float
    least_grip_mm: float
    least_grip_share: float
    free_overhang: float
    greatest_overhang: float
    greatest_with_centre: float | None = None
    not_to_grip: tuple[Range, ...] = ()
    left_over: tuple[Range, ...] = ()
    tool_reach_mm: float | None = None
    swing_beyond_tip_mm: float | None = None
    swing_width_mm: float | None = None
    ball_ranges_mm: tuple[tuple[float, float], ...] = ()
    is_last: bool = False
    revolves: bool = True
    may_bore_in_grip: bool = False
    in_inches: bool = False
    light: LightCut | None = None
    nose_radius_mm: float | None = None
    hollows_mm: tuple[tuple[float, str], ...] = ()
    room: Room | None = None
    hole: Drilled | None = None
    threaded: Threaded | None = None
    least_wall_mm: float | None = None
    roots: tuple[Root, ...] = ()

    def length(self, amount_mm: float) -> str:
        """A length as the sheets of this workshop say it."""
        return f"{amount_mm / MM_PER_INCH:.4f} in" if self.in_inches else f"{amount_mm:.3f} mm"

    def station(self, z_mm: float) -> str:
        """Where along the part."""
        if z_mm < 0.0:
            return f"{self.length(-z_mm)} beyond the part's left end"
        return f"{self.length(z_mm)} from the part's left end"


@dataclass(frozen=True, slots=True)
class Case:
    """One operation as the checks see it."""

    before: Section
    after: Section
    finished: Section
    holding: Holding
    cutter: Cutter
    cut: Cut
    context: CheckContext


@dataclass(frozen=True, slots=True)
class Finding:
    """What a check found: the fault, "" when there is none; what to do; whether it only warns (the plan goes on)."""

    fault: str = ""
    do: str = ""
    is_warning: bool = False


@dataclass(frozen=True, slots=True)
class Check:
    """A check by name, what it says of itself on the sheet, and its function (None: it does not apply here)."""

    name: str
    says: str
    look: Callable[[Case], Finding | None]

    def result(self, case: Case) -> CheckResult | None:
        """The line for the list of checks; None where the check does not apply."""
        finding = self.look(case)
        if finding is None:
            return None
        context = case.context
        return CheckResult(self.name, finding.fault or NO_FAULT, context.part, context.operation, finding.do,
                           finding.is_warning and bool(finding.fault))
