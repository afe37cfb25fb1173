"""A part as it is held: a view along u, which grows toward the tailstock.

The planner thinks in u so that no rule is written twice for the two ways of holding; everything that leaves this
package is turned back to the part's own z. u is 0 at the finished end nearest the headstock.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from handwheel.drawing.records import SolvedFeature, SolvedHole, SolvedPart
from handwheel.job.records import OutsideKind, Side
from handwheel.stages.finished import flatten
from handwheel.stages.records import Polyline

UPoint = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Link:
    """An outside feature seen along u: u0 < u1, radii there, centre in u. [mm]"""

    feature: SolvedFeature
    u0: float
    u1: float
    r0: float
    r1: float
    centre: float | None
    surface: tuple[UPoint, ...]

    @property
    def kind(self) -> OutsideKind:
        """The feature's kind."""
        return self.feature.source.kind

    @property
    def name(self) -> str:
        """The feature's name."""
        return self.feature.name

    @property
    def greatest(self) -> float:
        """Greatest radius of its surface. [mm]"""
        return max(r for _, r in self.surface)

    @property
    def least(self) -> float:
        """Least radius of its surface. [mm]"""
        return min(r for _, r in self.surface)


@dataclass(frozen=True, slots=True)
class Drilling:
    """An inside feature seen along u, entered from the tailstock end: mouth > bottom >= tip. [mm]"""

    hole: SolvedHole
    mouth: float
    bottom: float
    tip: float


@dataclass(frozen=True, slots=True)
class View:
    """A part held with its `toward` end to the tailstock; `links` from the headstock outward."""

    part: SolvedPart
    toward: Side
    links: tuple[Link, ...]

    @property
    def length(self) -> float:
        """Finished length. [mm]"""
        return self.part.length

    @property
    def sign(self) -> float:
        """+1 where u is z, -1 where the part is turned round."""
        return 1.0 if self.toward is Side.RIGHT else -1.0

    def z(self, u: float) -> float:
        """The part's own z of a place u. [mm]"""
        return u if self.toward is Side.RIGHT else self.length - u

    def u(self, z: float) -> float:
        """The place u of the part's own z. [mm]"""
        return z if self.toward is Side.RIGHT else self.length - z

    def path(self, points: Iterable[UPoint]) -> Polyline:
        """A tool path in u as (n, 2) in the part's z and r, in the same order. [mm]"""
        return np.array([(self.z(u), r) for u, r in points], dtype=np.float64)

    def profile(self, points: Sequence[UPoint]) -> Polyline:
        """A profile in u as (n, 2) in the part's z and r, z never decreasing. [mm]"""
        turned = self.path(points)
        return turned if self.toward is Side.RIGHT else turned[::-1].copy()

    def outline(self, points: Iterable[UPoint]) -> Polyline:
        """A cutter's outline about its setting point, turned to the part's frame. [mm]"""
        return np.array([(self.sign * u, r) for u, r in points], dtype=np.float64)

    def span(self, u_low: float, u_high: float) -> tuple[float, float]:
        """An interval in u as (least z, greatest z). [mm]"""
        return min(self.z(u_low), self.z(u_high)), max(self.z(u_low), self.z(u_high))

    def drillings(self, from_tailstock: bool) -> tuple[Drilling, ...]:
        """The inside features entered from one end, seen with that end at the tailstock only when it is there."""
        side = self.toward if from_tailstock else self.toward.other
        holes = self.part.inside_right if side is Side.RIGHT else self.part.inside_left
        return tuple(Drilling(h, self.u(h.mouth), self.u(h.bottom), self.u(h.tip)) for h in holes)

    def greatest_between(self, u_low: float, u_high: float) -> float:
        """Greatest finished radius between two places; 0 where there is no part. [mm]"""
        found = 0.0
        for link in self.links:
            if link.u1 <= u_low + 1e-9 or link.u0 >= u_high - 1e-9:
                continue
            points = [r for u, r in link.surface if u_low - 1e-9 <= u <= u_high + 1e-9]
            found = max([found, *points, *(self._edge(link, u) for u in (u_low, u_high) if link.u0 < u < link.u1)])
        return found

    @staticmethod
    def _edge(link: Link, u: float) -> float:
        us = [p[0] for p in link.surface]
        rs = [p[1] for p in link.surface]
        return float(np.interp(u, us, rs))


def _turn(feature: SolvedFeature, toward: Side, length: float) -> Link:
    points = flatten(feature.surface)
    if toward is Side.RIGHT:
        surface = tuple((float(z), float(r)) for z, r in points)
        return Link(
            feature, feature.left, feature.right, feature.left_radius, feature.right_radius, feature.centre, surface
        )
    surface = tuple((length - float(z), float(r)) for z, r in points[::-1])
    centre = None if feature.centre is None else length - feature.centre
    return Link(
        feature,
        length - feature.right,
        length - feature.left,
        feature.right_radius,
        feature.left_radius,
        centre,
        surface,
    )


def view(part: SolvedPart, toward: Side) -> View:
    """The part as held with that end to the tailstock."""
    links = [_turn(f, toward, part.length) for f in part.outside]
    return View(part, toward, tuple(links if toward is Side.RIGHT else links[::-1]))
