"""What the tests of faulty drawings share: the one fault of a part, and what is left of it with a line taken away."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.base.faults import Fault
from handwheel.drawing.records import Drawing, State
from tests.drawing.jobs import part

CYLINDERS = ("cylinder: a1", "cylinder: b1", "cylinder: c1", "cylinder: d1", "cylinder: e1")
DIAMETERS = ("a1 diameter: 10", "b1 diameter: 20", "c1 diameter: 12", "d1 diameter: 8", "e1 diameter: 6")


def the_fault(drawing: Drawing, kind: str) -> Fault:
    """The only fault, of that kind."""
    assert [f.id for f in drawing.faults] == [kind], [f.line() for f in drawing.faults]
    return drawing.faults[0]


def faults_by_phrases(drawing: Drawing) -> dict[frozenset[str], Fault]:
    """The faults by what they name."""
    found = {frozenset(f.phrases): f for f in drawing.faults}
    assert len(found) == len(drawing.faults), [f.line() for f in drawing.faults]
    return found


def ending(outside: Sequence[str], lines: Sequence[str], more: str = "") -> set[str]:
    """The phrases of which each line, taken away alone, leaves a drawing that contradicts itself no more."""
    found = set()
    for i, line in enumerate(lines):
        rest = part(outside, [*lines[:i], *lines[i + 1 :]], more=more)
        if rest.state is not State.CONTRADICTORY:
            found.add(line.split(":")[0])
    return found
