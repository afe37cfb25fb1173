"""Across features in the groups that one set-up serves: those of one axis are made without letting go of the work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from handwheel.drawing.records import SolvedAcross, SolvedFeature, SolvedPart
from handwheel.job.records import AcrossKind, Side
from handwheel.stages.axis import Axis

BORED = (AcrossKind.HOLE, AcrossKind.HOLES)
FACES = {AcrossKind.FLAT: 1, AcrossKind.SQUARE: 4, AcrossKind.HEXAGON: 6}


@dataclass(frozen=True, slots=True)
class Group:
    """Features about one axis, flats first, then holes from the widest. `face`: they stand on that end, no axis."""

    axis: Axis
    items: tuple[SolvedAcross, ...]
    face: Side | None = None

    @property
    def flat(self) -> SolvedAcross | None:
        """The flat that the group's holes are entered through."""
        return next((i for i in self.items if i.source.kind is AcrossKind.FLAT and face_count(i) == 1), None)

    @property
    def host(self) -> str:
        """The outside feature it is on, or ""."""
        return next((i.source.on for i in self.items if i.source.on), "")


def face_count(across: SolvedAcross) -> int:
    """How many flat faces it has about the part's axis; 0 for a hole or slot. A flat said to be two is a pair."""
    faces = FACES.get(across.source.kind, 0)
    return faces * across.source.count


def axis_of(across: SolvedAcross, part: SolvedPart) -> Axis:
    """Its axis; one that is `square to` another takes that one's."""
    by_name = {a.name: a for a in part.across}
    found, seen = across, {across.name}
    while found.source.square_to in by_name and found.source.square_to not in seen:
        found = by_name[found.source.square_to]
        seen.add(found.name)
    return Axis(found.centre, float(found.source.leaning_deg), float(found.source.around_deg))


def groups_of(part: SolvedPart) -> tuple[Group, ...]:
    """The groups in the order of work: what others are drilled into first, flats before holes, small holes last."""
    found: dict[tuple[float, ...] | Side, list[SolvedAcross]] = {}
    for across in part.across:
        axis, face = axis_of(across, part), across.source.face
        key: tuple[float, ...] | Side = face or (round(axis.centre, 6), axis.lean_deg, axis.around_deg)
        found.setdefault(key, []).append(across)
    made = []
    for key, items in found.items():
        ordered = tuple(sorted(items, key=lambda a: (a.source.kind in BORED, -a.sizes.get("diameter", 0.0))))
        made.append(Group(axis_of(items[0], part), ordered, key if isinstance(key, Side) else None))
    return tuple(_in_order(made))


def _in_order(groups: Sequence[Group]) -> list[Group]:
    """Stable: a group drilled `into` another's feature waits for it; else groups with flat faces go first."""
    left = sorted(groups, key=lambda g: all(i.source.kind in BORED for i in g.items))
    ordered: list[Group] = []
    while left:
        waiting = {i.name for g in left for i in g.items}
        ready = [g for g in left if not any(i.source.into in waiting - {k.name for k in g.items} for i in g.items)]
        taken = (ready or left)[0]
        ordered.append(taken)
        left.remove(taken)
    return ordered


def host_of(group: Group, part: SolvedPart) -> SolvedFeature | None:
    """The outside feature the group is on: as said, else the one its axis crosses."""
    named = [f for f in part.outside if f.name == group.host]
    crossed = [f for f in part.outside if f.left - 1e-9 <= group.axis.centre <= f.right + 1e-9]
    return next(iter(named or crossed), None)
