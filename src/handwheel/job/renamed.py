"""A job with a feature or a part called otherwise, in its records: what a file must say once a name was changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from handwheel.job.records import (
    AcrossFeature,
    Assembly,
    CutIn,
    DrawnDimension,
    Job,
    Part,
    Phrase,
    Point,
    RouteStep,
    Seat,
)
from handwheel.job.routeread import ENDS, HOLD, STOCK


def with_feature_called(job: Job, owners: frozenset[str], old: str, new: str) -> Job:
    """The job with a feature of those parts called otherwise, wherever it is meant."""

    def name(part: str, feature: str) -> str:
        return new if feature == old and part in owners else feature

    return _Names(name, lambda part: part).job(job)


def with_part_called(job: Job, old: str, new: str) -> Job:
    """The job with a part called otherwise, wherever it is meant."""
    return _Names(lambda _, feature: feature, lambda part: new if part == old else part).job(job)


@dataclass(frozen=True, slots=True)
class _Names:
    """The new name of a feature, asked with its part, and of a part; `own` is the part in which something stands."""

    feature: Callable[[str, str], str]
    named: Callable[[str], str]

    def job(self, job: Job) -> Job:
        """Everything with its new names."""
        made = (
            replace(m, part=self.named(m.part), dimension=self.size(m.dimension, m.part)) for m in job.as_made
        )
        return replace(
            job,
            parts=tuple(map(self.part, job.parts)),
            assemblies=tuple(map(self.assembly, job.assemblies)),
            as_made=tuple(made),
        )

    def part(self, one: Part) -> Part:
        own = one.name
        return replace(
            one,
            name=self.named(own),
            outside=tuple(replace(f, name=self.feature(own, f.name)) for f in one.outside),
            inside_left=tuple(replace(f, name=self.feature(own, f.name)) for f in one.inside_left),
            inside_right=tuple(replace(f, name=self.feature(own, f.name)) for f in one.inside_right),
            cut_in=tuple(self.cut(f, own) for f in one.cut_in),
            across=tuple(self.across(f, own) for f in one.across),
            dimensions=tuple(self.size(d, own) for d in one.dimensions),
            route=tuple(self.step(s, own) for s in one.route),
        )

    def assembly(self, one: Assembly) -> Assembly:
        return replace(
            one,
            seats=tuple(self.seat(s) for s in one.seats),
            dimensions=tuple(self.size(d, "") for d in one.dimensions),
        )

    def seat(self, one: Seat) -> Seat:
        return replace(one, moving=self.point(one.moving, ""), fixed=self.point(one.fixed, ""))

    def size(self, one: DrawnDimension, own: str) -> DrawnDimension:
        follow = one.value.follow
        if follow is not None:
            follow = replace(follow, phrase=self.phrase(follow.phrase, own))
        return replace(one, phrase=self.phrase(one.phrase, own), value=replace(one.value, follow=follow))

    def phrase(self, one: Phrase, own: str) -> Phrase:
        start, end, at = (p and self.point(p, own) for p in (one.start, one.end, one.at))
        name = self.feature(one.part or own, one.feature)
        return replace(one, feature=name, at=at, start=start, end=end, part=self.named(one.part))

    def point(self, one: Point, own: str) -> Point:
        home = one.part or own
        first, other = self.feature(home, one.feature), self.feature(home, one.meets)
        return replace(one, feature=first, meets=other, part=self.named(one.part))

    def across(self, one: AcrossFeature, own: str) -> AcrossFeature:
        on, into, to, name = (self.feature(own, f) for f in (one.on, one.into, one.square_to, one.name))
        return replace(one, name=name, on=on, into=into, square_to=to, at=one.at and self.point(one.at, own))

    def cut(self, one: CutIn, own: str) -> CutIn:
        return replace(one, name=self.feature(own, one.name), host=self.feature(own, one.host))

    def step(self, one: RouteStep, own: str) -> RouteStep:
        is_feature = one.verb not in (HOLD, "support") and one.what not in ENDS
        surface = one.surface if one.surface == STOCK else self.feature(own, one.surface)
        # Called like the bar itself, a surface would be read as the bar: no job is the one with that name.
        is_mixed_up = surface == STOCK != one.surface
        what = self.feature(own, one.what) if is_feature else one.what
        return replace(one, what=what, surface="" if is_mixed_up else surface)
