"""The route: operations in order, each with its reason, holding, tool and datum; and the set-ups all parts share."""

from __future__ import annotations

from dataclasses import dataclass, field

from handwheel.stages.offaxis import OffAxis
from handwheel.stages.records import CheckResult, Cut, Cutter, Holding, Section


@dataclass(frozen=True, slots=True)
class Makes:
    """A size an operation makes. `phrase` in the job file's words or the maker's ('blank diameter').

    value_mm is aimed at; working limits are what to cut to (None: not a drawing's size, no limits).
    `is_diameter`: measured over the diameter; `gauge`: which gauge, over what.
    """

    phrase: str
    value_mm: float
    working_low_mm: float | None
    working_high_mm: float | None
    is_diameter: bool
    gauge: str = ""
    limits_from: str = ""


@dataclass(frozen=True, slots=True)
class Pass:
    """One cut of a list. travel_mm: of the slide from the move's own zero; leaves_mm: the diameter it leaves. [mm]

    kind: 'rough', 'measure' (stop and measure after it), 'last', or 'spring' (again at the same line).
    """

    travel_mm: float
    leaves_mm: float
    kind: str


@dataclass(frozen=True, slots=True)
class Share:
    """Last cuts that bending makes lighter. may_mm: its share of the limits; reached_mm: off the diameter at a cut where it
    passes that, at worst and at best; last_mm: off the diameter at each last cut, and bends_mm: least and greatest that
    bending then puts there. `has_chuck`: the chuck's own give is in it. [mm]"""

    may_mm: float
    reached_mm: tuple[float, float]
    last_mm: float
    bends_mm: tuple[float, float]
    has_chuck: bool


@dataclass(frozen=True, slots=True)
class CutList:
    """How a size is come to. deepest_mm: most off the diameter at one cut, `limited_by` what; bends_mm: least and
    greatest that bending puts on the diameter in a last cut of the habit's depth; None: not known. `share`: where that is
    more than its share of the limits. [mm], [mm a turn]"""

    passes: tuple[Pass, ...]
    deepest_mm: float
    limited_by: str
    rough_feed_mm: float
    last_feed_mm: float
    bends_mm: tuple[float, float] | None = None
    share: Share | None = None


@dataclass(frozen=True, slots=True)
class Place:
    """Where the tool's setting point stands for one line of a chart: from the zero along, and its radius. [mm]"""

    along_mm: float
    radius_mm: float


@dataclass(frozen=True, slots=True)
class Chart:
    """A curve by steps. The arc: its centre from the zero along and off the axis, its radius; `is_hollow`: the metal
    lies outside it. nose_mm: the tool's nose radius, 0 square; `falls`: it falls toward the tailstock. zero_along, zero_in:
    what is touched; start_mm: the radius touched. end_along_mm: where the last line ends. touch_mm: what is added along for
    the side that touches. cusp_mm: metal left above the arc by exact steps. [mm]"""

    feature: str
    places: tuple[Place, ...]
    centre_along_mm: float
    centre_radius_mm: float
    arc_mm: float
    is_hollow: bool
    falls: bool
    nose_mm: float
    zero_along: str
    zero_in: str
    start_mm: float
    cusp_mm: float
    end_along_mm: float
    touch_mm: float = 0.0
    note: str = ""
    side_deg: float | None = None
    """Of a cone's straight side, its angle to the axis; it goes through what else is the arc's centre. None: an arc."""


@dataclass(frozen=True, slots=True)
class Move:
    """One act of the hand, not yet in turns.

    wheel: 'cross slide', 'top slide', 'carriage', 'tailstock', 'ball tool'. way: 'in', 'out', 'toward the headstock',
    'toward the tailstock'. zero: from which touch. exact_mm: travel of the slide from that zero (on the radius for the
    cross slide and ball tool). cuts: how the travel is divided; None: in one.
    """

    wheel: str
    way: str
    zero: str
    exact_mm: float
    makes: Makes | None = None
    note: str = ""
    cuts: CutList | None = None
    is_far: bool = False
    """In a bore cut on the side away from the operator, where in makes it larger."""

    @property
    def grows(self) -> bool:
        """Whether it makes a diameter larger."""
        return (self.way == "out") is not self.is_far


@dataclass(frozen=True, slots=True)
class Sum:
    """A sum to fill in at the machine: 'measured ☐ − wanted 1.985 = take off ☐' with the wheel that takes it off.

    wanted_mm: taken away; below nought it is added. `carried`: in its place stands what the sum above came to.
    """

    measured: str
    wanted_mm: float
    result: str
    wheel: str
    per_side: bool
    limits_mm: tuple[float, float] | None = None
    carried: bool = False


@dataclass(frozen=True, slots=True)
class Why:
    """Why an operation stands where it does: the rule, the features, and the numbers in words."""

    rule: str
    features: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Setting:
    """One layer of a set-up: machine, holding, tool, 'square', 'height', 'cross centre', 'slide angle', 'radius', 'stop'.

    `text`: what to do; `disturbed_by`: what undoes it; `keep`: a dial value to be written down, or ""; `side`: which way a
    slide or an attachment's bar is swung, "" where either does.
    """

    layer: str
    text: str
    disturbed_by: str
    value: float | None = None
    unit: str = ""
    keep: str = ""
    side: str = ""


@dataclass(frozen=True, slots=True)
class AcrossCut:
    """What a feature across takes away, along its axis from where that crosses the part's: from `entry` in to `end`.

    half_width: a hole's radius, None for a flat (everything beyond `end` goes). point: length of the drill's point. [mm]
    """

    entry: float
    end: float
    half_width: float | None = None
    point: float = 0.0


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation on one part. `refused`: why it cannot be done here, else ""; then it has no moves.
    `after_parts`: parts that must be finished before it."""

    number: int
    part: str
    kind: str
    set_up: str
    holding: Holding
    cutter: Cutter
    cut: Cut
    datum_point: str
    datum_mm: float
    why: Why
    caution: str
    moves: tuple[Move, ...] = ()
    sums: tuple[Sum, ...] = ()
    settings: tuple[Setting, ...] = ()
    features: tuple[str, ...] = ()
    speed_text: str = ""
    axis_through: str = ""
    axis_lean_deg: float = 0.0
    axis_around_deg: float = 0.0
    axis_centre_mm: float = 0.0
    across_cuts: tuple[AcrossCut, ...] = ()
    """All that is cut in this holding up to here."""
    across_made: tuple[str, ...] = ()
    refused: str = ""
    note: str = ""
    after_parts: tuple[str, ...] = ()
    after_sizes: tuple[tuple[str, int], ...] = ()
    """Operations, by part and number, whose size as made is wanted before it."""
    figures: tuple[tuple[str, str], ...] = ()
    """What its set-up is made by, each with its name: of threads and joints."""
    chart: Chart | None = None
    drilled_on_mm: float = 0.0
    """How far past its drawn depth a blind tapped hole is drilled, by a reading of its own, for the tap's lead. [mm]"""


@dataclass(frozen=True, slots=True)
class Stage:
    """An operation with the metal before and after it; `off_axis`: what is off it that is not round about the axis."""

    operation: Operation
    before: Section
    after: Section
    off_axis: tuple[OffAxis, ...] = ()


@dataclass(frozen=True, slots=True)
class Stock:
    """What a part is cut from. [mm] diameter_mm: of the round about it; across_mm: over its flats, of what is round the
    diameter; bore_mm: of a tube, 0 of solid bar. `leaves`: features across that are the bar's own faces."""

    form: str
    diameter_mm: float
    length_mm: float
    as_named: str
    is_owned: bool
    from_mm: float
    """z of the stock's left end in the part's frame."""
    across_mm: float = 0.0
    bore_mm: float = 0.0
    leaves: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tight:
    """A drawing dimension made through several working ones that gets them less than is held.

    `half_mm`: what the least of `through` gets, plus or minus; `held_mm`: what the workshop holds of it. `datum`: where
    lengths would get more, its share being `datum_share` times what is held; "" where nowhere.
    """

    dimension: str
    through: tuple[str, ...]
    half_mm: float
    held_mm: float
    datum: str = ""
    datum_share: float = 0.0


@dataclass(frozen=True, slots=True)
class PartPlan:
    """A part's whole route: the stock, then its stages. `refused`: the reason the workshop cannot make it, or "".

    `tight`: drawing dimensions that leave their working ones less than the workshop holds.
    """

    part: str
    quantity: int
    stock: Stock
    finished: Section
    stages: tuple[Stage, ...]
    refused: str = ""
    would_do: str = ""
    tight: tuple[Tight, ...] = ()


@dataclass(frozen=True, slots=True)
class SetUp:
    """A set-up shared by parts. `key` as printed (A1, B2: letter = holding of the machine, figure = setting in it)."""

    key: str
    title: str
    settings: tuple[Setting, ...]
    serves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the running order: this operation, on these copies of this part, in this set-up."""

    part: str
    copies: tuple[int, ...]
    number: int
    set_up: str


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole job's plan."""

    parts: tuple[PartPlan, ...]
    set_ups: tuple[SetUp, ...]
    order: tuple[Step, ...]
    to_get: tuple[str, ...]
    checks: tuple[CheckResult, ...]
    checked: tuple[str, ...] = field(default=())
    not_checked: tuple[str, ...] = field(default=())
    order_said: str = ""
    """Whether another running order would have less setting up, in words."""
