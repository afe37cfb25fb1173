"""What an edit may change of a job, and nothing else: two jobs compared with their places left out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, cast

from handwheel.job.phrases import features_of, phrase_key
from handwheel.job.records import (
    AsMade,
    Assembly,
    DrawnDimension,
    DrawnStock,
    DrawnValue,
    Job,
    Number,
    Part,
    Phrase,
)

Key = tuple[object, ...]


def is_same(old: object, new: object, with_texts: bool = True) -> bool:
    """Whether two jobs say the same, whatever stands where and however their phrases are spelled.

    Without `with_texts` the spelling of values is left out too: a value that follows a size spells its phrase.
    """
    if old is new:
        return True
    if type(old) is not type(new):
        return False
    if isinstance(old, tuple) and isinstance(new, tuple):
        return len(old) == len(new) and all(is_same(a, b, with_texts) for a, b in zip(old, new, strict=True))
    if not is_dataclass(old) or isinstance(old, (Number, DrawnStock)):
        return old == new
    return all(
        is_same(getattr(old, name), getattr(new, name), with_texts) for name in _compared(cast(Any, type(old)), with_texts)
    )


@cache
def _compared(kind: type, with_texts: bool) -> tuple[str, ...]:
    """The fields of a record that say something: not its places, not how it is spelled, not what was noticed."""
    left_out = {"span", "stock_span", "workshop_span"}
    if kind is Phrase or (kind is DrawnValue and not with_texts):
        left_out.add("text")
    if kind is Job:
        left_out.add("notices")
    return tuple(f.name for f in fields(kind) if f.name not in left_out)


def without_size(job: Job, owners: frozenset[str], key: Key) -> Job:
    """The job without that size of those parts or that assembly."""
    return _each_owner(job, owners, lambda found: tuple(d for d in found if phrase_key(d.phrase) != key))


def _each_owner(
    job: Job, owners: frozenset[str], keep: Callable[[tuple[DrawnDimension, ...]], tuple[DrawnDimension, ...]]
) -> Job:
    def kept(one: Part) -> Part:
        return replace(one, dimensions=keep(one.dimensions)) if one.name in owners else one

    def kept_over(one: Assembly) -> Assembly:
        return replace(one, dimensions=keep(one.dimensions)) if one.name in owners else one

    return replace(job, parts=tuple(map(kept, job.parts)), assemblies=tuple(map(kept_over, job.assemblies)))


def without_made(job: Job, part: str, copy: int, key: Key) -> Job:
    """The job without that measured size."""

    def is_it(made: AsMade) -> bool:
        return (made.part, made.copy) == (part, copy) and phrase_key(made.dimension.phrase) == key

    return replace(job, as_made=tuple(made for made in job.as_made if not is_it(made)))


def without_word(job: Job, owners: frozenset[str], key: str) -> Job:
    """The job without what one of its words, or of those parts' words, says."""
    if not owners:
        blank: dict[str, dict[str, object]] = {
            "job": {"name": ""},
            "workshop": {"workshop": "", "workshop_span": None},
            "general tolerance": {"general_tolerance": None},
        }
        return replace(job, **blank.get(key, {}))  # type: ignore[arg-type]
    gone: dict[str, dict[str, object]] = {
        "quantity": {"quantity": 1},
        "material": {"material": ""},
        "stock": {"stock": "", "stock_span": None, "drawn_stock": None},
        "note": {"note": ""},
        "general tolerance": {"general_tolerance": None},
    }
    parts = (replace(p, **gone.get(key, {})) if p.name in owners else p for p in job.parts)  # type: ignore[arg-type]
    return replace(job, parts=tuple(parts))


def without_feature(job: Job, owners: frozenset[str], feature: str, with_sizes: bool = True) -> Job:
    """The job without that feature of those parts and, where `with_sizes`, without the sizes that name it."""

    def kept(part: Part) -> Part:
        if part.name not in owners:
            return part
        sizes = tuple(d for d in part.dimensions if not with_sizes or feature not in features_of(d.phrase))
        return replace(
            part,
            outside=tuple(f for f in part.outside if f.name != feature),
            inside_left=tuple(f for f in part.inside_left if f.name != feature),
            inside_right=tuple(f for f in part.inside_right if f.name != feature),
            cut_in=tuple(f for f in part.cut_in if f.name != feature),
            across=tuple(f for f in part.across if f.name != feature),
            dimensions=sizes,
        )

    return replace(job, parts=tuple(map(kept, job.parts)))


def feature_names(part: Part) -> list[list[str]]:
    """The names of a part's features in each of its lists, in order."""
    lists = (part.outside, part.inside_left, part.inside_right, part.cut_in, part.across)
    return [[feature.name for feature in one] for one in lists]
