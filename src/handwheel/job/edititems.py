"""Edits of the items of a part's lists: one put in, one taken out, an option of one."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.base.faults import Span
from handwheel.job.phrasewords import starts_size
from handwheel.job.splice import FIRST, Splice, added, in_flow, item_added, pair_added, replaced, taken_out
from handwheel.job.splicecheck import feature_names, is_same, without_feature
from handwheel.job.written import Opened, items_written
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Entry, Mapping, Scalar, Sequence, parse_tree

ENDS = ("left end", "right end")


@dataclass(frozen=True, slots=True)
class AddItem:
    """A feature put behind another in that one's list, or at the outside's `left end` or `right end`."""

    part: Scalar
    after: Scalar
    item: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.item.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """One new item."""
        if not self._name():
            complaints.add(
                "item-form",
                self.item.span,
                f"{quoted(self.item.text)} is not one item",
                "write it like 'cylinder: NAME' or '{cone: NAME, flush: left}'",
            )
        if self.after.text not in ENDS:
            found = _item(opened, self.part, self.after, complaints)
            if found is None or complaints.found:
                return ()
            holder, items, number = found
            return (item_added(opened.source, holder, items, number, self.item.text),)
        if not _is_part(opened, self.part, complaints) or complaints.found:
            return ()
        outside = opened.entry("parts", self.part.text, "outside")
        if outside is None or not isinstance(outside.value, Sequence):
            what = f"the outside of {quoted(self.part.text)} is that of {quoted(opened.like[self.part.text])}"
            complaints.add("item-elsewhere", self.part.span, what, "change it there")
            return ()
        at = FIRST if self.after.text == ENDS[0] else -1
        return (item_added(opened.source, outside, outside.value, at, self.item.text),)

    def _name(self) -> str:
        """The name of the feature that the item is."""
        tree, faults = parse_tree(f"- {self.item.text}".encode(), "")
        one = tree.items[0] if not faults and isinstance(tree, Sequence) and len(tree.items) == 1 else None
        first = one.entries[0].value if isinstance(one, Mapping) and one.entries else None
        return first.text if isinstance(first, Scalar) else ""

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that feature is new, with the sizes written at it."""
        name, owners = self._name(), old.likes(self.part.text)
        is_new = name in new.reader.known[self.part.text] and name not in old.reader.known[self.part.text]
        return is_new and is_same(old.job, without_feature(new.job, owners, name))


@dataclass(frozen=True, slots=True)
class DropItem:
    """A feature taken out of its list, with the sizes written at it; those under `dimensions` are taken out before."""

    part: Scalar
    feature: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.feature.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """Its lines, or its place between brackets."""
        found = _item(opened, self.part, self.feature, complaints)
        if found is None:
            return ()
        holder, items, number = found
        return taken_out(opened.source, holder, items, items.items[number])

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that feature is gone."""
        owners = old.likes(self.part.text)
        is_gone = self.feature.text not in new.reader.known[self.part.text]
        return is_gone and is_same(without_feature(old.job, owners, self.feature.text), new.job)


@dataclass(frozen=True, slots=True)
class SetOption:
    """An option of a feature, such as `finish: reamed`: changed where it is written, else added."""

    part: Scalar
    feature: Scalar
    key: Scalar
    value: Scalar

    @property
    def place(self) -> Span:
        """Where it was said."""
        return self.key.span

    def pieces(self, opened: Opened, complaints: Complaints) -> tuple[Splice, ...]:
        """The value's text, or a new entry of the item."""
        found = _item(opened, self.part, self.feature, complaints)
        if starts_size(self.key.text) or self.key.text == "size":
            what = f"{quoted(self.key.text)} is a size of {quoted(self.feature.text)}, not an option"
            complaints.add("size-not-option", self.key.span, what, "change it as a size")
        if not self.value.text:
            complaints.add("value-missing", self.value.span, f"{quoted(self.key.text)} has no value", "write one")
        if found is None or complaints.found:
            return ()
        holder, items, number = found
        item, source = items.items[number], opened.source
        assert isinstance(item, Mapping)
        entry = item.get(self.key.text)
        if entry is item.entries[0]:
            what = f"{quoted(self.key.text)} is what {quoted(self.feature.text)} is"
            complaints.add("kind-not-option", self.key.span, what, "rename it, or write it into the file by hand")
            return ()
        if entry is not None and isinstance(entry.value, Scalar):
            return (replaced(source, entry.value, self.value.text, in_flow(source, opened.tree, entry.value)),)
        if not source.is_flow(item) and in_flow(source, opened.tree, item):
            return (pair_added(source, item, self.key.text, self.value.text),)
        return (added(source, holder, item, (self.key.text,), self.value.text, opened.step),)

    def holds(self, old: Opened, new: Opened) -> bool:
        """Only that feature is another, under the same name at the same place."""
        owners, name = old.likes(self.part.text), self.feature.text
        before, after = (without_feature(o.job, owners, name, with_sizes=False) for o in (old, new))
        names = [[feature_names(part) for part in opened.job.parts] for opened in (old, new)]
        found = _item(new, self.part, self.feature, Complaints())
        item = found[1].items[found[2]] if found else None
        entry = item.get(self.key.text) if isinstance(item, Mapping) else None
        is_there = entry is not None and isinstance(entry.value, Scalar) and entry.value.text.strip() == self.value.text
        return is_there and names[0] == names[1] and is_same(before, after)


def _is_part(opened: Opened, part: Scalar, complaints: Complaints) -> bool:
    if part.text not in opened.parts:
        what = f"there is no part {quoted(part.text)}"
        complaints.add("part-unknown", part.span, what, did_you_mean(part.text, opened.parts))
    return part.text in opened.parts


def _item(
    opened: Opened, part: Scalar, feature: Scalar, complaints: Complaints
) -> tuple[Entry, Sequence, int] | None:
    """The list's entry, the list and the item's number in it; None, with a fault, where the part itself has none."""
    if not _is_part(opened, part, complaints):
        return None
    items = items_written(opened, part.text)
    for holder, home, number, name in items:
        if name == feature.text:
            return holder, home, number
    if feature.text in opened.reader.known[part.text]:
        what = f"{quoted(feature.text)} of {quoted(part.text)} is that of {quoted(opened.like[part.text])}"
        complaints.add("item-elsewhere", feature.span, what, "change it there")
    else:
        what = f"there is no item {quoted(feature.text)} in {quoted(part.text)}"
        known = (*(name for _, _, _, name in items), *ENDS)
        complaints.add("feature-unknown", feature.span, what, did_you_mean(feature.text, known))
    return None
