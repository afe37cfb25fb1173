"""What the checks on room and holes know of the lathe, what holds the work, and the tools for a hole. Plain numbers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Travel:
    """A move of a slide in this operation, with what its wheel can do: travel_mm. [mm]; None: not known."""

    wheel: str
    exact_mm: float
    travel_mm: float | None


@dataclass(frozen=True, slots=True)
class Room:
    """Of the lathe and of the chuck or collet in use. [mm], [deg]; None: not known.

    over_cross_slide_mm: diameter that swings over the cross slide. through_mm: diameter that passes behind the jaws,
    jaws_mm: their length along the work (behind it the bore begins), jaw_height_mm: their length outward. has_jaws:
    three or four jaws press on the work. slide_angle_deg: the top slide's set-over, None where it stands straight;
    swivel_deg: the most it can be set.
    top_crank_mm, tail_crank_mm: room that the handles of top slide and tailstock want. is_pushed: the tailstock is at work.
    """

    centre_height_mm: float
    over_cross_slide_mm: float | None = None
    spindle_bore_mm: float | None = None
    through_mm: float | None = None
    jaws_mm: float | None = None
    jaw_height_mm: float | None = None
    body_radius_mm: float | None = None
    has_jaws: bool = False
    slide_angle_deg: float | None = None
    swivel_deg: float | None = None
    top_crank_mm: float | None = None
    tail_crank_mm: float | None = None
    is_pushed: bool = False
    travels: tuple[Travel, ...] = ()


@dataclass(frozen=True, slots=True)
class BoringBar:
    """A boring tool: from its cutting point to its back, the bar's own thickness, and how far it reaches. [mm]"""

    name: str
    width_mm: float
    thickness_mm: float
    reach_mm: float


@dataclass(frozen=True, slots=True)
class Drilled:
    """A hole on the axis that is drilled, reamed, bored or tapped here. [mm], [deg]; None: not known.

    mouth_mm, bottom_mm: z of its mouth and of the end of its full diameter as drawn. tool: 'drill', 'reamer', 'tap',
    'boring bar' or another word. lead_mm: tapered end of a reamer or tap. point_deg: of the drill in hand; drawn_point_deg:
    of the hole. bars: boring bars at hand. drilled_on_mm: how far past that its drill's readings go on for a tap's lead.
    """

    name: str
    tool: str
    mouth_mm: float
    bottom_mm: float
    is_blind: bool
    lead_mm: float | None = None
    point_deg: float | None = None
    drawn_point_deg: float = 118.0
    bars: tuple[BoringBar, ...] = ()
    drilled_on_mm: float = 0.0

    @property
    def depth_mm(self) -> float:
        """From its mouth to the end of its full diameter. [mm]"""
        return abs(self.mouth_mm - self.bottom_mm)

    @property
    def way(self) -> float:
        """+1 where z grows on the way in, else -1."""
        return 1.0 if self.bottom_mm > self.mouth_mm else -1.0


@dataclass(frozen=True, slots=True)
class Threaded:
    """An outside thread cut here, from z to z at that radius; lead_mm: tapered end of the die. [mm]; None: not known."""

    name: str
    left_mm: float
    right_mm: float
    radius_mm: float
    lead_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Root:
    """How deep a thread of the part goes, from z to z: to that radius, of a screw's root or a nut's. [mm]"""

    left_mm: float
    right_mm: float
    radius_mm: float
    is_inside: bool = False
