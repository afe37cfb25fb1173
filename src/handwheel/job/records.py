"""What a job file says, as frozen records: nothing solved, nothing looked up, every record with its place.

Lengths are exact `Fraction`s of millimetres, angles of degrees, tapers of diameter per length.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from handwheel.base.faults import Notice, Span

ZERO = Fraction(0)


class Unit(StrEnum):
    """How a bare number is read."""

    MM = "mm"
    INCH = "inch"


class Measure(StrEnum):
    """What sort of quantity a number is."""

    LENGTH = "length"
    ANGLE = "angle"
    RATIO = "ratio"
    AREA = "area"
    VOLUME = "volume"
    MASS = "mass"


class Side(StrEnum):
    """A side of a feature, an end of a part; left and right as drawn."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> Side:
        """The opposite side."""
        return Side.RIGHT if self is Side.LEFT else Side.LEFT


class Size(StrEnum):
    """The sizes a phrase can name; the value is the phrase's own word."""

    OVERALL_LENGTH = "overall length"
    DISTANCE = "to"
    DIAMETER = "diameter"
    RADIUS = "radius"
    LENGTH = "length"
    WIDTH = "width"
    DEPTH = "depth"
    ACROSS_FLATS = "across flats"
    FROM_AXIS = "from axis"
    PITCH = "pitch"
    PITCH_CIRCLE = "pitch circle diameter"
    INCLUDED_ANGLE = "included angle"
    ANGLE_TO_AXIS = "angle to axis"
    TAPER = "taper"
    LEFT_DIAMETER = "left diameter"
    RIGHT_DIAMETER = "right diameter"
    DIAMETER_AT = "diameter at"

    @property
    def measure(self) -> Measure:
        """What sort of quantity this size is."""
        if self in (Size.INCLUDED_ANGLE, Size.ANGLE_TO_AXIS):
            return Measure.ANGLE
        return Measure.RATIO if self is Size.TAPER else Measure.LENGTH


class Where(StrEnum):
    """Points of a feature, of a pair of features, and of a part."""

    LEFT_END = "left end"
    RIGHT_END = "right end"
    LEFT = "left"
    RIGHT = "right"
    CENTRE = "centre"
    MIDDLE = "middle"
    MOUTH = "mouth"
    BOTTOM = "bottom"
    POINT = "point"
    APEX = "apex"
    MEETS = "meets"


@dataclass(frozen=True, slots=True)
class Point:
    """A point on a part's axis: `shank right`, `left end`, `shank meets hub`, each with `+ 1/4 in`."""

    where: Where
    feature: str = ""
    meets: str = ""
    offset_mm: Fraction = ZERO
    part: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Phrase:
    """A dimension phrase. `start` and `end` for DISTANCE, `at` for DIAMETER_AT, else `feature`.

    `part` is "" where the phrase names none (it is then the part it stands in). `text` is the phrase
    in plain spelling, single blanks, without `of PART` where it names none.
    """

    size: Size
    text: str
    span: Span
    feature: str = ""
    at: Point | None = None
    start: Point | None = None
    end: Point | None = None
    part: str = ""


@dataclass(frozen=True, slots=True)
class Number:
    """An exact quantity as typed.

    `value`: mm, degrees, or diameter per length. `place`: one unit of the last decimal typed, in the same
    unit as value; 0 for a fraction or whole number (those are exact).
    """

    value: Fraction
    measure: Measure
    place: Fraction = ZERO


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Signed deviations from the size, mm or degrees, lower <= upper; or an ISO 286 class to be looked up."""

    lower: Fraction
    upper: Fraction
    iso286: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Follow:
    """`same as`, `half of`, `twice` (factor 1, 1/2, 2) or `to suit` another size."""

    phrase: Phrase
    factor: Fraction = Fraction(1)
    to_suit: bool = False


@dataclass(frozen=True, slots=True)
class DrawnValue:
    """What stands after a dimension's colon.

    `number` is the size, or with `follow` what is added to the size followed (0 when nothing is).
    """

    text: str
    span: Span
    number: Number
    follow: Follow | None = None
    tolerance: Tolerance | None = None
    auxiliary: bool = False


@dataclass(frozen=True, slots=True)
class DrawnDimension:
    """One dimension of the drawing. A size written at the feature is one too, with the phrase it stands for."""

    phrase: Phrase
    value: DrawnValue

    @property
    def span(self) -> Span:
        """The place of the phrase."""
        return self.phrase.span


class OutsideKind(StrEnum):
    """Links of the outside chain."""

    CYLINDER = "cylinder"
    CONE = "cone"
    BALL = "ball"
    HOLLOW = "hollow"
    ROUND = "round"
    CHAMFER = "chamfer"
    FILLET = "fillet"


class InsideKind(StrEnum):
    """Holes on the axis."""

    HOLE = "hole"
    COUNTERBORE = "counterbore"
    BORE = "bore"
    COUNTERSINK = "countersink"


class AcrossKind(StrEnum):
    """What is not round about the axis."""

    HOLE = "hole"
    HOLES = "holes"
    FLAT = "flat"
    SLOT = "slot"
    SQUARE = "square"
    HEXAGON = "hexagon"


class CutInKind(StrEnum):
    """What is cut into a feature."""

    GROOVE = "groove"
    KNURL = "knurl"
    THREAD = "thread"


@dataclass(frozen=True, slots=True)
class ThreadCall:
    """A thread's designation as typed, already known to the tables."""

    designation: str
    span: Span


@dataclass(frozen=True, slots=True)
class OutsideFeature:
    """A link of the outside chain, left to right as drawn.

    `is_edge` marks a `round` whose size was written at the feature: a rounded edge, tangent to both.
    """

    kind: OutsideKind
    name: str
    span: Span
    flush: frozenset[Side] = frozenset()
    tangent: frozenset[Side] = frozenset()
    flat: frozenset[Side] = frozenset()
    is_dome: bool = False
    narrow: Side | None = None
    thread: ThreadCall | None = None
    knurl: str = ""
    is_edge: bool = False


@dataclass(frozen=True, slots=True)
class InsideFeature:
    """A hole on the axis, `entered` from that end of the part. `point_deg` is the drill point's included angle."""

    kind: InsideKind
    name: str
    span: Span
    entered: Side
    finish: str = ""
    is_flat_bottomed: bool = False
    point_deg: Fraction = Fraction(118)
    is_through: bool = False
    is_cone: bool = False
    flush: frozenset[Side] = frozenset()
    narrow: Side | None = None
    thread: ThreadCall | None = None


@dataclass(frozen=True, slots=True)
class CutIn:
    """A groove, knurl or thread cut into a feature instead of linking the chain."""

    kind: CutInKind
    name: str
    span: Span
    host: str
    is_inside: bool = False
    what: str = ""
    thread: ThreadCall | None = None


@dataclass(frozen=True, slots=True)
class AcrossFeature:
    """What is not round about the axis."""

    kind: AcrossKind
    name: str
    span: Span
    on: str = ""
    at: Point | None = None
    is_through: bool = False
    into: str = ""
    leaning_deg: Fraction = ZERO
    around_deg: Fraction = ZERO
    square_to: str = ""
    face: Side | None = None
    count: int = 1
    first_at_deg: Fraction = ZERO
    thread: ThreadCall | None = None
    finish: str = ""
    is_flat_bottomed: bool = False


@dataclass(frozen=True, slots=True)
class GeneralTolerance:
    """`± 0.005` (plus_minus_mm) or `ISO 2768-1 m` (iso2768 is the letter)."""

    plus_minus_mm: Fraction | None
    iso2768: str
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class DrawnStock:
    """The stock as written. `form` is round, hexagon, square or tube; `across_mm` diameter, across flats or outside."""

    form: str
    across_mm: Fraction
    bore_mm: Fraction | None = None


@dataclass(frozen=True, slots=True)
class RouteStep:
    """An item of `route`: what is done (`verb`) and to what. Of a hold: `what` is the device, `surface` what it grips,
    `toward` the end at the tailstock, `out_mm` how far that end stands out of the jaws. Else `toward`: the end meant."""

    verb: str
    what: str
    span: Span
    toward: Side | None = None
    surface: str = ""
    out_mm: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A part as drawn; `like:` already carried out, so dimensions and features are complete."""

    name: str
    span: Span
    outside: tuple[OutsideFeature, ...]
    dimensions: tuple[DrawnDimension, ...]
    quantity: int = 1
    material: str = ""
    stock: str = ""
    stock_span: Span | None = None
    note: str = ""
    general_tolerance: GeneralTolerance | None = None
    inside_left: tuple[InsideFeature, ...] = ()
    inside_right: tuple[InsideFeature, ...] = ()
    cut_in: tuple[CutIn, ...] = ()
    across: tuple[AcrossFeature, ...] = ()
    drawn_stock: DrawnStock | None = None
    route: tuple[RouteStep, ...] = ()


@dataclass(frozen=True, slots=True)
class Seat:
    """`grip left of knob on shank right of lever`: two points of two parts that coincide in the assembly."""

    moving: Point
    fixed: Point
    span: Span


@dataclass(frozen=True, slots=True)
class Assembly:
    """Parts put together: how they sit, and the dimensions over them."""

    name: str
    span: Span
    seats: tuple[Seat, ...]
    dimensions: tuple[DrawnDimension, ...]


@dataclass(frozen=True, slots=True)
class AsMade:
    """A measured size of one copy of a part."""

    part: str
    copy: int
    dimension: DrawnDimension


@dataclass(frozen=True, slots=True)
class Job:
    """A whole job file, read and free of faults of writing."""

    name: str
    file: str
    units: Unit
    parts: tuple[Part, ...]
    assemblies: tuple[Assembly, ...] = ()
    workshop: str = ""
    workshop_span: Span | None = None
    general_tolerance: GeneralTolerance = field(default_factory=lambda: GeneralTolerance(None, "m"))
    as_made: tuple[AsMade, ...] = ()
    notices: tuple[Notice, ...] = ()
