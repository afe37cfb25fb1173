"""Edits of names: a feature, a part or an assembly called otherwise, everywhere it is meant."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from handwheel.base.faults import Span
from handwheel.job.names import check_name
from handwheel.job.renamed import with_feature_called, with_part_called
from handwheel.job.splice import Splice
from handwheel.job.splicecheck import is_same
from handwheel.job.written import Mention, Opened, mentions
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Scalar


@dataclass(frozen=True, slots=True)
class RenameFeature:
    """A feature called otherwise: in its part, in what is made like it or what it is made like, and wherever meant."""

    part: Scalar
    old: Scalar
    new: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.new.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """Each place that names it."""
        if not _is_known(self.part, "part", opened.parts, complaints):
            return ()
        features = opened.reader.known[self.part.text]
        if self.old.text not in features:
            what = f"there is no feature {quoted(self.old.text)} in {quoted(self.part.text)}"
            complaints.add("feature-unknown", self.old.span, what, did_you_mean(self.old.text, features))
            return ()
        family = _family(opened, self.part.text, self.old.text)
        taken = next((part for part in sorted(family) if self.new.text in opened.reader.known[part]), None)
        if not check_name(self.new, "feature", complaints) or self.new.text == self.old.text:
            return ()
        if taken is not None:
            what = f"{quoted(taken)} has a feature {quoted(self.new.text)} already"
            complaints.add("name-taken", self.new.span, what, "choose another name", (self.new.text,))
            return ()
        found = (m for m in mentions(opened) if (m.what, m.name) == ("feature", self.old.text) and m.part in family)
        return _called(opened, found, self.new.text)

    def holds(self, old: Opened, new: Opened) -> bool:
        """The old job with that feature called so, whatever its values that follow a size spell."""
        family = _family(old, self.part.text, self.old.text)
        return is_same(with_feature_called(old.job, family, self.old.text, self.new.text), new.job, with_texts=False)


@dataclass(frozen=True, slots=True)
class RenamePart:
    """A part called otherwise: at its entry, after `like` and `of`, and in the copies as made."""

    old: Scalar
    new: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.new.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """Each place that names it."""
        if not _may_be_called("part", self.old, self.new, opened.parts, complaints):
            return ()
        found = (m for m in mentions(opened) if (m.what, m.name) == ("part", self.old.text))
        return _called(opened, found, self.new.text)

    def holds(self, old: Opened, new: Opened) -> bool:
        """The old job with that part called so."""
        return is_same(with_part_called(old.job, self.old.text, self.new.text), new.job, with_texts=False)


@dataclass(frozen=True, slots=True)
class RenameAssembly:
    """An assembly called otherwise; nothing refers to one."""

    old: Scalar
    new: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.new.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """The place of its name."""
        names = [assembly.name for assembly in opened.job.assemblies]
        if not _may_be_called("assembly", self.old, self.new, names, complaints):
            return ()
        found = (m for m in mentions(opened) if (m.what, m.name) == ("assembly", self.old.text))
        return _called(opened, found, self.new.text)

    def holds(self, old: Opened, new: Opened) -> bool:
        """The old job with that assembly called so."""
        called = (replace(a, name=self.new.text) if a.name == self.old.text else a for a in old.job.assemblies)
        return is_same(replace(old.job, assemblies=tuple(called)), new.job)


def _is_known(name: Scalar, what: str, known: Iterable[str], complaints: Complaints) -> bool:
    names = list(known)
    if name.text not in names:
        told = f"there is no {what} {quoted(name.text)}"
        complaints.add(f"{what}-unknown", name.span, told, did_you_mean(name.text, names))
    return name.text in names


def _may_be_called(what: str, old: Scalar, new: Scalar, known: Iterable[str], complaints: Complaints) -> bool:
    """Whether `old` is there and `new` is an allowed name that is free; a fault each where not."""
    names = list(known)
    is_known = _is_known(old, what, names, complaints)
    is_allowed = check_name(new, what, complaints)
    if new.text in names and new.text != old.text:
        told = f"there is {'an' if what == 'assembly' else 'a'} {what} {quoted(new.text)} already"
        complaints.add("name-taken", new.span, told, "choose another name", (new.text,))
        return False
    return is_known and is_allowed and new.text != old.text


def _family(opened: Opened, part: str, feature: str) -> frozenset[str]:
    """The parts made like one another in which that name is one and the same feature's."""
    having = {name for name in opened.parts if feature in opened.reader.known[name]}
    pairs = opened.like.items()
    found, waiting = set[str](), [part]
    while waiting:
        one = waiting.pop()
        if one in found or one not in having:
            continue
        found.add(one)
        waiting += [b for a, b in pairs if a == one] + [a for a, b in pairs if b == one]
    return frozenset(found)


def _called(opened: Opened, found: Iterable[Mention], name: str) -> tuple[Splice, ...]:
    source = opened.source
    return tuple(Splice(source.offset(m.start), source.offset(m.end), name) for m in found)
