"""One dimension out of a full drawing makes it too few; one more that agrees too many; one more that does not, a quarrel."""

from __future__ import annotations

import random

import pytest

from handwheel.drawing.records import State
from tests.drawing.jobs import part
from tests.drawing.test_chains import Known


def drawn(seed: int) -> tuple[Known, list[str], list[str], random.Random]:
    dice = random.Random(5000 + seed)
    known = Known(dice)
    lines = known.drawing(dice)
    kinds = enumerate(known.kinds)
    outside = [f"{{cone: f{k}, narrow: right}}" if kind == "cone" else f"{kind}: f{k}" for k, kind in kinds]
    return known, outside, lines, dice


@pytest.mark.parametrize("seed", range(40))
def test_one_out(seed: int) -> None:
    _, outside, lines, dice = drawn(seed)
    gone = dice.randrange(len(lines))
    found = part(outside, lines[:gone] + lines[gone + 1 :])
    assert found.state is State.UNDER_DIMENSIONED
    assert [f.id for f in found.faults] == ["too-few-dimensions"]
    # what it offers does fix it: at the size it has in the full drawing
    offers = [o for o in found.faults[0].do.split("'") if " " in o and o.strip() not in ("or", "give")]
    assert offers
    full = part(outside, lines, *offers)
    for answer in full.answers:
        unit = " deg" if answer.measure == "angle" else ""
        again = part(outside, [*lines[:gone], f"{answer.ask}: {answer.value!r}{unit}", *lines[gone + 1 :]])
        assert again.state is State.FULLY_DIMENSIONED, (answer.ask, [f.line() for f in again.faults])
        assert again.part("it").length == pytest.approx(full.part("it").length, abs=1e-6)


@pytest.mark.parametrize("seed", range(40))
def test_one_more(seed: int) -> None:
    known, outside, lines, dice = drawn(seed)
    points = known.points()
    one, two = sorted(dice.sample(points, 2), key=lambda p: p[1])
    phrase = f"{one[0]} to {two[0]}"
    if any(line.startswith((phrase + ":", f"{two[0]} to {one[0]}:")) for line in lines):
        return
    found = part(outside, [*lines, f"{phrase}: {two[1] - one[1]:.3f}"])
    assert found.state is State.OVER_DIMENSIONED, [f.line() for f in found.faults]
    assert found.part("it").length == pytest.approx(known.stations[-1], abs=1e-7)
    found = part(outside, [*lines, f"{phrase}: {two[1] - one[1] + 0.01:.3f}"])
    assert found.state is State.CONTRADICTORY
    (fault,) = found.faults
    assert phrase in fault.phrases
    # confirmed by deletion: each one named, left out, ends the quarrel; any other does not
    for line in lines:
        rest = [other for other in lines if other != line] + [f"{phrase}: {two[1] - one[1] + 0.01:.3f}"]
        named = line.split(":")[0] in fault.phrases
        assert (part(outside, rest).state is not State.CONTRADICTORY) is named, line
