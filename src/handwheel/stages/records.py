"""What an operation is to the metal: how the work is held, what tool cuts it, and the section left after it.

All z and r are in the part's own frame (z from the finished part's left end, whichever way the work is held).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Polyline = NDArray[np.float64]
"""(n, 2), one row per point, z then r, z never decreasing. [mm]"""


@dataclass(frozen=True, slots=True)
class Section:
    """Half the section of metal: between `inner` and `outer`, both (n, 2), z never decreasing. [mm]

    `inner` runs from z of the left end to z of the right end too, r 0 where the metal is solid.
    """

    outer: Polyline
    inner: Polyline


@dataclass(frozen=True, slots=True)
class Cutter:
    """A tool as it stands in the cut: outline (n, 2) convex polygon, z then r from its setting point, already turned
    to the part's frame. [mm]"""

    name: str
    kind: str
    outline: Polyline
    owned: bool = True


@dataclass(frozen=True, slots=True)
class Sweep:
    """The cutter's setting point moved along `path` (n, 2). `inside`: it cuts a bore, from the axis outward. [mm]"""

    path: Polyline
    inside: bool = False


@dataclass(frozen=True, slots=True)
class Swing:
    """A ball tool's tip swung about (centre, 0) at radius; from `from_deg` to `to_deg`, 0 toward the right end. [mm]"""

    centre: float
    radius: float
    from_deg: float
    to_deg: float


@dataclass(frozen=True, slots=True)
class Truncate:
    """Everything left of `left` and right of `right` goes (facing, sawing, parting). [mm]"""

    left: float
    right: float


@dataclass(frozen=True, slots=True)
class Bore:
    """Everything inside this profile goes: (n, 2), the hole's own section, z never decreasing. [mm]"""

    profile: Polyline


@dataclass(frozen=True, slots=True)
class NoCut:
    """Nothing is cut off the section (knurl, thread on its blank, cross work, bonding, polishing)."""


Cut = Sweep | Swing | Truncate | Bore | NoCut


STEADY_HALF_MM = 6.0
"""Half the width of a fixed steady's fingers along the work: common practice, no source. [mm]"""


@dataclass(frozen=True, slots=True)
class Holding:
    """How the work is held. `toward_tailstock`: 'left' or 'right' end of the part. from_mm..to_mm: the gripped length.

    `surface`: 'stock' or the feature gripped. face_mm: z of the front of jaws or collet. `device_radius_mm`: what
    swings. centre_mm: z of a centre hole in use, else None. has_steady: a travelling steady follows the tool.
    headstock_centre_mm: z of the headstock's centre where the work turns between two; the grip is then the driving dog's.
    steady_mm: z at which a fixed steady carries the work, else None. lip_mm: a ball collet's mouth past the ball's centre,
    where that is not where its face stands.
    """

    device: str
    kind: str
    from_mm: float
    to_mm: float
    surface: str
    toward_tailstock: str
    face_mm: float
    device_radius_mm: float | None = None
    grip_radius_mm: float = 0.0
    centre_mm: float | None = None
    has_steady: bool = False
    headstock_centre_mm: float | None = None
    steady_mm: float | None = None
    lip_mm: float | None = None

    @property
    def front_mm(self) -> float:
        """z of what stands nearest to the cut: the face of jaws or collet, or of a fixed steady."""
        if self.steady_mm is None:
            return self.face_mm
        return self.steady_mm + (STEADY_HALF_MM if self.toward_tailstock == "right" else -STEADY_HALF_MM)


@dataclass(frozen=True, slots=True)
class CheckResult:
    """One line of the list of checks. `found`: 'no fault', what is wrong, or with `is_warning` what to bear in mind or
    what is not known; `do`: the ways on."""

    check: str
    found: str
    part: str
    operation: int
    do: str = ""
    is_warning: bool = False

    @property
    def is_fault(self) -> bool:
        """Whether something was found that refuses the operation."""
        return self.found != "no fault" and not self.is_warning
