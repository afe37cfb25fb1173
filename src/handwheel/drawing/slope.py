"""The slope length of a straight surface: a cone's measured along its side, as a rule laid on it would read."""

from __future__ import annotations

from handwheel.drawing.ad import Scalar, root
from handwheel.drawing.known import Known, as_answer, find
from handwheel.drawing.records import Answer
from handwheel.drawing.shape import Inside, NoSense, Outside, Vector
from handwheel.job.questions import SlopeLength
from handwheel.job.records import Measure


def slope_length(known: Known, asked: SlopeLength) -> Answer:
    """The hypotenuse of length and difference of the end radii. [mm] Raises NoSense where the surface is not straight."""
    way = known.way(asked.part)
    feature = way.settled.group.shapes[asked.part].find(asked.feature)
    if isinstance(feature, Outside) and not feature.bulge:
        low, high, one, two = feature.zl, feature.zr, feature.rl, feature.rr
    elif isinstance(feature, Inside):
        low, high, one, two = feature.mouth, feature.bottom, feature.rm, feature.rb
    else:
        what = f"'{asked.feature}' has no straight side, so it has no slope length"
        raise NoSense(what, "ask it of a cone, chamfer, cylinder or a hole on the axis")

    def slope(v: Vector) -> Scalar:
        along, across = v[high] - v[low], v[two] - v[one]
        return root(along * along + across * across)

    return as_answer(find(known, way, slope, asked.part), asked.text, asked.part, Measure.LENGTH)
