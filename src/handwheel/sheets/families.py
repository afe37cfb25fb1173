"""Parts of a set-up that are done alike, put side by side: the same acts with the same wheels, only the figures differ."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handwheel.readings.records import Reading
from handwheel.sheets.setups import Group, Run

Readings = Mapping[tuple[str, int], tuple[Reading, ...]]
Family = tuple[Group, ...]
MOST_SIDE_BY_SIDE = 3
MOST_DIFFERENT_WORDS = 3
STOPS = ",;:.)"
SIGNS = ("Ø", "R", "±")


def families(run: Run, readings: Readings, can_be_read: set[tuple[str, int]]) -> tuple[Family, ...]:
    """The groups of a set-up bunched where they are done alike, at most three together.

    A group joins an earlier bunch only where it need not wait for anything between: not for an operation on the same
    part, nor for a part that must be finished first.
    """
    found: list[tuple[object, list[Group]]] = []
    for group in run.groups:
        key = acts_of(group, run, readings, can_be_read)
        for other, members in reversed(found):
            waits = _waits_for(group, members)
            if other == key and not waits:
                members.append(group)
                break
            if waits:
                found.append((key, [group]))
                break
        else:
            found.append((key, [group]))
    return tuple(part for _, members in found for part in _shared_out(members))


def _shared_out(members: list[Group]) -> list[Family]:
    """A bunch in evenly filled rows of at most three."""
    rows = -(-len(members) // MOST_SIDE_BY_SIDE)
    each = -(-len(members) // rows)
    return [tuple(members[k : k + each]) for k in range(0, len(members), each)]


def _waits_for(group: Group, members: Sequence[Group]) -> bool:
    needed = {group.part} | {name for stage in group.stages for name in stage.operation.after_parts}
    return any(member.part in needed for member in members)


def acts_of(group: Group, run: Run, readings: Readings, can_be_read: set[tuple[str, int]]) -> object:
    """What must be the same for two groups to stand side by side."""
    done: list[object] = []
    has_readings = False
    for stage in group.stages:
        operation = stage.operation
        key = (group.part, operation.number)
        found = readings.get(key, ())
        has_readings = has_readings or bool(found)
        done.append((
            operation.kind, operation.cutter.kind, operation.cutter.owned, bool(operation.refused), key in can_be_read,
            tuple((r.wheel, r.way, r.is_dialled) for r in found),
            tuple((s.wheel, s.per_side) for s in operation.sums),
            tuple((s.layer, s.keep) for s in run.own(operation)),
        ))
    holding = group.stages[0].operation.holding
    return tuple(done), holding.kind, holding.toward_tailstock if has_readings else ""


def in_common(texts: Sequence[str]) -> str | None:
    """One text for several that differ in a few words, those set one after another with strokes; None: too different."""
    if len(set(texts)) == 1:
        return texts[0]
    rows = [text.split() for text in texts]
    if len({len(row) for row in rows}) != 1:
        return None
    merged = [_word(words) for words in zip(*rows, strict=True)]
    if sum(len(set(words)) > 1 for words in zip(*rows, strict=True)) > MOST_DIFFERENT_WORDS:
        return None
    return " ".join(merged)


def _word(words: Sequence[str]) -> str:
    if len(set(words)) == 1:
        return words[0]
    last = words[0][-1]
    if last in STOPS and all(w.endswith(last) for w in words):
        return " / ".join(w[:-1] for w in words) + last
    return " / ".join(words)


def beginning(texts: Sequence[str]) -> tuple[str, list[str]]:
    """The words all the texts begin with, and what is left of each."""
    rows = [text.split() for text in texts]
    same = 0
    while all(same < len(row) for row in rows) and len({row[same] for row in rows}) == 1:
        same += 1
    while same and rows[0][same - 1] in SIGNS:
        same -= 1
    return " ".join(rows[0][:same]).rstrip(","), [" ".join(row[same:]) for row in rows]


def said_by_all(notes: Sequence[str]) -> tuple[str, list[str]]:
    """The sentences that stand in every note, and what is left of each."""
    rows = [[s.rstrip(".") for s in note.split(". ") if s.strip(". ")] for note in notes]
    shared = [s for s in rows[0] if all(s in row for row in rows)]
    return ". ".join(shared), [". ".join(s for s in row if s not in shared) for row in rows]


def factored(text: str) -> str:
    """A list set apart by semicolons whose items begin alike, with the beginning said once."""
    texts = text.split("; ")
    start, rests = beginning(texts)
    if len(texts) < 2 or not start or not all(rests):
        return text
    return f"{start} {', '.join(rests)}"
