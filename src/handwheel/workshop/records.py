"""What is at hand: machines with their handwheels, holding, tools, gauges, bars, materials and habits.

A value that is not known is None; nothing here has a default that stands for an unknown. Millimetres, degrees, rpm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from handwheel.job.records import Unit


@dataclass(frozen=True, slots=True)
class Handwheel:
    """A slide's wheel. `lead_mm` a turn; `divisions` a turn; `reads` 'radius', 'diameter' or 'travel' (length slides).

    `smallest_part`: the smallest part of a division worth dialling (1 a whole line, 0.5 half). `sense`:
    'clockwise in' or 'clockwise out'. travel, backlash, crank_room: mm or None when not known.
    """

    slide: str
    lead_mm: float
    divisions: int
    reads: str
    smallest_part: float
    sense: str
    travel_mm: float | None = None
    backlash_mm: float | None = None
    crank_room_mm: float | None = None
    division_name: str = ""

    @property
    def step_mm(self) -> float:
        """Travel of the slide for the smallest part of a division worth dialling; a whole turn without lines. [mm]"""
        return self.lead_mm / max(1, self.divisions) * self.smallest_part


@dataclass(frozen=True, slots=True)
class TailstockRoom:
    """What tool and post have to pass where a centre is in use. [mm]; None: not known.

    barrel_mm: the barrel's diameter. centre_mm: from the centre's point to the barrel's end. post_mm: from the tool's point to
    the tool post's side toward the tailstock, along the slide. shank_mm: the tool shank's width and height.
    """

    barrel_mm: float | None
    centre_mm: float | None
    post_mm: float | None
    shank_mm: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class TaperAttachment:
    """A bar behind the bed, set at an angle, that leads the cross slide as the carriage goes along. None: not known.

    greatest_angle_deg: of the bar to the bed, so of the taper's side to the axis. length_mm: of taper at one setting.
    reads: what its scale counts, a word of `ATTACHMENT_READS`; line: from line to line, in what it reads. play_mm: lost
    motion across, between bar and cross slide. `cut_by`: the slide that puts on the cut, 'cross slide' or 'top slide' (turned
    across the bed, the cross slide's screw being freed).
    """

    greatest_angle_deg: float | None
    length_mm: float | None
    reads: str
    line: float | None
    play_mm: float | None
    cut_by: str


@dataclass(frozen=True, slots=True)
class Lathe:
    """A manual lathe. `wheels` by slide: 'cross slide', 'top slide', 'carriage', 'tailstock'."""

    name: str
    centre_height_mm: float
    between_centres_mm: float
    spindle_bore_mm: float | None
    speeds_rpm: tuple[float, ...]
    power_w: float | None
    wheels: Mapping[str, Handwheel]
    top_slide_swivel_deg: float | None
    tailstock_taper: str
    has_screwed_chuck: bool | None
    leadscrew_pitch_mm: float | None
    swing_over_cross_slide_mm: float | None = None
    tailstock_set_over_mm: float | None = None
    """How far the tailstock sets over to either side."""
    attachment: TaperAttachment | None = None
    """The taper attachment, None where there is none."""
    tailstock_room: TailstockRoom | None = None
    """What stands in the way of tool and post beside a centre, None where nothing of it is known."""


@dataclass(frozen=True, slots=True)
class Chuck:
    """A chuck or a set of collets. `kind`: 'three-jaw', 'four-jaw', 'soft jaws', 'collet', 'ball collet',
    'drill chuck'.

    least_mm, greatest_mm: diameters it holds. grip_mm: jaw length. through_mm: what passes through behind the jaws.
    body_radius_mm: what swings. sizes_mm: collet sizes, () when continuous. jaw_height_mm: of a jaw, from the work outward.
    give_mm_per_n: how far a stout stub in it moves against the tool post, pushed crosswise next to the jaws. [mm/N]
    """

    name: str
    kind: str
    least_mm: float
    greatest_mm: float
    grip_mm: float
    run_out_mm: float | None
    greatest_rpm: float | None
    through_mm: float | None
    body_radius_mm: float | None
    sizes_mm: tuple[float, ...] = ()
    jaw_height_mm: float | None = None
    give_mm_per_n: float | None = None


@dataclass(frozen=True, slots=True)
class Tool:
    """A lathe tool. `kind`: 'knife', 'left-hand knife', 'pointed', 'round-nose', 'parting', 'chamfer', 'boring',
    'relief', 'form'. outline_mm: (n, 2) polygon of the cutting end, z then r from the tool's setting point (the
    corner or nose that is touched off), z toward the tailstock, r away from the axis; it ends where the shank
    begins. `owned` False: to get.
    """

    name: str
    kind: str
    hand: str
    nose_radius_mm: float
    width_mm: float | None
    reach_mm: float | None
    outline_mm: tuple[tuple[float, float], ...]
    owned: bool = True


@dataclass(frozen=True, slots=True)
class BallTool:
    """A swinging ball tool. screw_lead_mm: tip advance on the radius per turn. `worked_by`: 'divisions' or 'flats'.

    divisions: lines (or flats) a turn. ranges_mm: (least, greatest) tip radius of each range of the head.
    bit_width_mm; bit_point_deg: half its point angle; body_width_mm; swing_beyond_tip_mm: what swings beyond the tip
    radius, measured from the tip outward, nearer the chuck than the ball.
    """

    name: str
    screw_lead_mm: float
    worked_by: str
    divisions: int
    smallest_part: float
    ranges_mm: tuple[tuple[float, float], ...]
    bit_width_mm: float
    bit_half_angle_deg: float
    swing_beyond_tip_mm: float


@dataclass(frozen=True, slots=True)
class RoundTool:
    """A drill, centre drill, reamer, tap or die by size. `kind` says which; designation as printed on it.

    cuts_mm: a reamer's diameter as measured over its lands; None where not measured. leads: of a set of taps, `taper`, `second`
    or `bottoming` and the threads of its lead, as far as the workshop has them.
    """

    kind: str
    designation: str
    diameter_mm: float
    point_deg: float | None = None
    lead_mm: float | None = None
    cuts_mm: float | None = None
    leads: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Gauge:
    """What sizes are measured with. error_mm: its real error, plus or minus."""

    name: str
    measures: tuple[str, ...]
    least_mm: float
    greatest_mm: float
    error_mm: float
    resolution_mm: float
    unit: Unit


@dataclass(frozen=True, slots=True)
class Bar:
    """Bar or tube at hand. `form`: round, hexagon, square, tube; size across (diameter, A/F, side, outside)."""

    form: str
    size_mm: float
    material: str
    as_named: str
    bore_mm: float | None = None
    tolerance_mm: float | None = None
    length_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Material:
    """None where not known: then no speed is given."""

    name: str
    surface_speed_m_min: float | None
    source: str


@dataclass(frozen=True, slots=True)
class Habit:
    """One of the maker's habits: an allowance, a cut, a clearance; printed with whose it is."""

    name: str
    value: float
    unit: str
    whose: str


@dataclass(frozen=True, slots=True)
class Workshop:
    """A whole workshop. `is_example`: one of the two built in; every sheet then says so."""

    name: str
    units: Unit
    is_example: bool
    lathe: Lathe
    mill: str | None
    chucks: tuple[Chuck, ...]
    tools: tuple[Tool, ...]
    ball_tool: BallTool | None
    round_tools: tuple[RoundTool, ...]
    gauges: tuple[Gauge, ...]
    bars: tuple[Bar, ...]
    materials: tuple[Material, ...]
    habits: Mapping[str, Habit]
    centres: tuple[str, ...] = ()
    """Tailstock centres at hand: 'fixed', 'running', 'hollow' (a cup that carries a ball)."""
    steadies: tuple[str, ...] = ()
    """Steadies at hand: 'fixed', 'travelling'."""
    gauge_blocks_mm: tuple[float, ...] = ()
    """Gauge blocks owned, () where there are none."""
    sine_bar_mm: float | None = None
    """Distance between a sine bar's rollers, None where there is none."""
    compounds: tuple[str, ...] | None = None
    """Kinds of bonding compound at hand, as in the table of joints; None where nothing is said of them."""

    def habit(self, name: str) -> float:
        """The habit's value, in mm (or its own unit). KeyError for a name that docs/workshop.md does not list."""
        return self.habits[name].value
