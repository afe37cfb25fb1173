"""Sizing again after an edit: what an edit does not touch is taken over as it was.

An edit reaches the parts that are tied to the one edited, and no others. Same result as sizing from nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from handwheel.drawing.group import spoken_of_in, tied_groups
from handwheel.drawing.records import Drawing, Question
from handwheel.drawing.size import GroupSizes, gather, size_group
from handwheel.job.records import Assembly, Job, Part

Key = tuple[tuple[str, ...], tuple[str, ...]]
"""The names of tied parts and of their assemblies."""


@dataclass(frozen=True)
class Sized:
    """A drawing with what it was gathered from: each group's records and sizes, and whom each part speaks of."""

    drawing: Drawing
    groups: dict[Key, tuple[list[Part], list[Assembly], GroupSizes]] = field(default_factory=dict)
    spoken: dict[str, tuple[Part, Sequence[str]]] = field(default_factory=dict)
    sized_anew: tuple[str, ...] = ()


def size_again(before: Sized | None, job: Job, questions: Sequence[Question] = ()) -> Sized:
    """Size the job, taking over groups that are as they were.

    Parameters
        before: what came of sizing it last; None the first time.
        job: as read, or the former with records replaced; records that are the same objects cost nothing to compare.
    Returns
        The drawing, the same as from `size_job`; `sized_anew` names the parts that had to be solved.
    """
    spoken: dict[str, tuple[Part, Sequence[str]]] = {}

    def speaks_of(part: Part) -> Sequence[str]:
        known = before.spoken.get(part.name) if before else None
        names = known[1] if known and known[0] is part else spoken_of_in(part)
        spoken[part.name] = (part, names)
        return names

    is_same_job = before is not None and _setting(before.drawing.job) == _setting(job)
    groups: dict[Key, tuple[list[Part], list[Assembly], GroupSizes]] = {}
    anew: list[str] = []
    for members, placed in tied_groups(job, speaks_of):
        key = (tuple(p.name for p in members), tuple(a.name for a in placed))
        known = before.groups.get(key) if before and is_same_job else None
        if known and known[0] == members and known[1] == placed:
            groups[key] = known
            continue
        groups[key] = (members, placed, size_group(job, members, placed))
        anew += key[0]
    drawing = gather(job, [sizes for _, _, sizes in groups.values()], questions)
    return Sized(drawing, groups, spoken, tuple(anew))


def _setting(job: Job) -> tuple[object, ...]:
    """What of a job its parts' sizes hang on besides the parts."""
    return (job.file, job.units, job.general_tolerance)
