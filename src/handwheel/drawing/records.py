"""What a job's drawing comes to when it is solved: every size a float, with where it came from.

Frame of a part: z along its axis from its own left end, to the right; r outward from the axis. Millimetres and
degrees; tapers as diameter per length.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from handwheel.base.faults import Fault, Notice, Span
from handwheel.drawing.asmaderecords import AsMadeOutcome
from handwheel.job.questions import Asked
from handwheel.job.records import AcrossFeature, CutIn, InsideFeature, Job, Measure, OutsideFeature


class State(StrEnum):
    """How well a part, or a job, is dimensioned; a job's state is its worst part's (worst first)."""

    CONTRADICTORY = "contradictory"
    UNDER_DIMENSIONED = "under-dimensioned"
    AMBIGUOUS = "ambiguous"
    OVER_DIMENSIONED = "over-dimensioned"
    FULLY_DIMENSIONED = "fully dimensioned"


@dataclass(frozen=True, slots=True)
class Coordinate:
    """One number the shape of a part is made of, with its value: what `gradient` in a SolvedDimension refers to.

    `kind`: 'station' (z of junction or end `index`, counted from the left end, index 0 always at z 0),
    'left radius', 'right radius' (of `feature`; a cylinder or hole has both equal under 'radius'),
    'centre' (z), 'centre radius', 'arc radius' (of a ball, hollow, round, fillet), 'mouth', 'bottom' (z, inside).
    """

    kind: str
    feature: str
    index: int
    value_mm: float


@dataclass(frozen=True, slots=True)
class SolvedDimension:
    """A size of a part: drawn (`given`) or worked out.

    value, low, high: mm, degrees or ratio by `measure`; low and high are the worst case over every combination
    of limits, solved. They are not limits to cut to. `sources`: the given phrases it depends on. `gradient`: (n,)
    derivative to each of the part's coordinates, in their order. `mid` is the value with every given size at its
    mid-limit; `tolerance` is (lower, upper) deviation drawn for a given size.
    """

    part: str
    phrase: str
    measure: Measure
    value: float
    low: float
    high: float
    given: bool
    span: Span | None = None
    typed: str = ""
    mid: float = 0.0
    tolerance: tuple[float, float] = (0.0, 0.0)
    tolerance_from: str = ""
    gradient: tuple[float, ...] = ()
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """A straight piece of a section's edge. [mm]"""

    z0: float
    r0: float
    z1: float
    r1: float


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular piece from (z0, r0) to (z1, r1) about (zc, rc); `bulges` when its middle lies away from the axis."""

    z0: float
    r0: float
    z1: float
    r1: float
    zc: float
    rc: float
    radius: float
    bulges: bool


Piece = Line | Arc


@dataclass(frozen=True, slots=True)
class SolvedFeature:
    """One outside link with its numbers. [mm]

    left, right: stations z. left_radius, right_radius: surface radius there. centre, centre_radius, arc_radius:
    of a ball (centre_radius 0), hollow, round or fillet, else None. `surface`: the edge from left to right,
    without the shoulders beside it. `thread`: designation or "". `mid_*`: the same at mid-limits.
    """

    source: OutsideFeature
    left: float
    right: float
    left_radius: float
    right_radius: float
    surface: tuple[Piece, ...]
    centre: float | None = None
    centre_radius: float | None = None
    arc_radius: float | None = None
    half_angle_deg: float = 0.0
    thread: str = ""

    @property
    def name(self) -> str:
        """Its name in the drawing."""
        return self.source.name

    @property
    def length(self) -> float:
        """Left to right. [mm]"""
        return self.right - self.left

    @property
    def greatest_radius(self) -> float:
        """Greatest radius reached between left and right."""
        is_bulge = bool(self.surface) and isinstance(self.surface[0], Arc) and self.surface[0].bulges
        if is_bulge and self.centre is not None and self.left <= self.centre <= self.right:
            return (self.centre_radius or 0.0) + (self.arc_radius or 0.0)
        return max(self.left_radius, self.right_radius)


@dataclass(frozen=True, slots=True)
class SolvedHole:
    """One inside feature with its numbers. [mm]

    mouth, bottom: stations z (bottom: end of the full diameter); tip: z of the drill point's tip (= bottom when
    flat or through). mouth_radius and bottom_radius are equal but for a cone or countersink.
    """

    source: InsideFeature
    mouth: float
    bottom: float
    tip: float
    mouth_radius: float
    bottom_radius: float
    thread: str = ""

    @property
    def name(self) -> str:
        """Its name in the drawing."""
        return self.source.name


@dataclass(frozen=True, slots=True)
class SolvedAcross:
    """A feature across the axis with its numbers. [mm], [deg]

    `centre`: z where its axis crosses the part's. `sizes`: phrase size word (diameter, depth, across flats, from
    axis, length, width, ...) to millimetres.
    """

    source: AcrossFeature
    centre: float
    sizes: Mapping[str, float]

    @property
    def name(self) -> str:
        """Its name in the drawing."""
        return self.source.name


@dataclass(frozen=True, slots=True)
class SolvedCut:
    """A groove, knurl or thread cut into `source.host`. [mm]

    floor_radius: a groove's floor; for a knurl or thread the radius of the surface it is on. `thread`: designation.
    """

    source: CutIn
    left: float
    right: float
    floor_radius: float
    thread: str = ""

    @property
    def name(self) -> str:
        """Its name in the drawing."""
        return self.source.name


@dataclass(frozen=True, slots=True)
class SolvedPart:
    """A part with every size known.

    `outside` left to right; `inside_left`, `inside_right` in the order in which they are entered. `dimensions`:
    the given ones first, in drawing order, then the usual worked-out ones. `coordinates` is what the gradients
    of the dimensions refer to, at nominal sizes.
    """

    name: str
    span: Span
    quantity: int
    material: str
    stock: str
    note: str
    length: float
    outside: tuple[SolvedFeature, ...]
    inside_left: tuple[SolvedHole, ...]
    inside_right: tuple[SolvedHole, ...]
    across: tuple[SolvedAcross, ...]
    dimensions: tuple[SolvedDimension, ...]
    coordinates: tuple[Coordinate, ...]
    state: State = State.FULLY_DIMENSIONED
    cut_in: tuple[SolvedCut, ...] = ()

    def feature(self, name: str) -> SolvedFeature:
        """The outside feature of that name; KeyError when there is none."""
        for found in self.outside:
            if found.name == name:
                return found
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class SolvedAssembly:
    """Where each part's left end lies in the assembly, and which way round it is. `direction` is +1 or -1. [mm]"""

    name: str
    left_end: Mapping[str, float]
    direction: Mapping[str, int]
    dimensions: tuple[SolvedDimension, ...]


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one given size's tolerance adds to the spread of an answer, in the answer's unit; `percent` of the whole."""

    part: str
    phrase: str
    share: float
    percent: float


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to a question put with --ask.

    `low`, `high`: the worst case. `statistical_low`, `statistical_high`: root sum of squares, each size's limits
    taken as three standard deviations to either side of its mid-limit. `contributors`: the most first. `shares`:
    how it moves with each toleranced given size, by (part, phrase); part "" for an assembly's. `side`: of a section
    at a step, the side it is taken on. `present`: of a size sought, what it is in the drawing. `details`: further
    sizes of the same answer, `ask` their names. Unit by `measure`: mm, degrees, ratio, mm2, mm3, g.
    """

    ask: str
    part: str
    measure: Measure
    value: float
    low: float
    high: float
    sources: tuple[str, ...] = ()
    shares: tuple[tuple[tuple[str, str], float], ...] = ()
    statistical_low: float | None = None
    statistical_high: float | None = None
    contributors: tuple[Contribution, ...] = ()
    notes: tuple[str, ...] = ()
    details: tuple[Answer, ...] = ()
    side: str = ""
    present: float | None = None


@dataclass(frozen=True, slots=True)
class Drawing:
    """The job with its sizes solved."""

    job: Job
    state: State
    parts: tuple[SolvedPart, ...]
    assemblies: tuple[SolvedAssembly, ...]
    faults: tuple[Fault, ...]
    notices: tuple[Notice, ...]
    answers: tuple[Answer, ...] = ()
    questions_unanswered: tuple[Fault, ...] = ()
    as_made: tuple[AsMadeOutcome, ...] = ()

    def part(self, name: str) -> SolvedPart:
        """The part of that name; KeyError when there is none."""
        for found in self.parts:
            if found.name == name:
                return found
        raise KeyError(name)


Question = tuple[str, Asked]
"""A question as typed and as read."""
