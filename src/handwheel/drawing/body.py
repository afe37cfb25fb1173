"""Volume, mass and surface of a part, with the limits that the drawing's limits bring."""

from __future__ import annotations

from dataclasses import replace

from handwheel.drawing.crosscut import across_names, removed_volume
from handwheel.drawing.known import Known, NoAnswer, as_answer, find
from handwheel.drawing.profile import numeric, places_of, revolved_surface, revolved_volume
from handwheel.drawing.records import Answer
from handwheel.drawing.shape import Shape
from handwheel.job.questions import Body, Whole
from handwheel.job.records import CutInKind, Measure, Part
from handwheel.tables.densities import density_of, known_kinds


def body(known: Known, asked: Body) -> Answer:
    """The answer; raises NoAnswer for a material whose density is not known."""
    way = known.way(asked.part)
    group = way.settled.group
    shape = group.shapes[asked.part]
    places = places_of(shape)
    notes = _plain(shape)
    if asked.what is Whole.SURFACE:
        names = across_names(shape)
        notes += (f"without what is cut across: {names}",) if names else ()
        fn = numeric(lambda v: revolved_surface(shape, v), places)
        return as_answer(find(known, way, fn, asked.part), asked.text, asked.part, Measure.AREA, notes)
    removed, error, left_out = removed_volume(shape, way.v)
    if removed:
        notes += (f"what is cut across taken away by numbers: {removed:.6g} mm3, to within {error:.2g} mm3",)
    notes += (f"without {left_out}, cut across",) if left_out else ()
    fn = numeric(lambda v: revolved_volume(shape, v), places)
    if removed:
        offset = removed_volume(shape, way.v, is_fine=False)[0] - removed

        def whole(v: list[float]) -> float:
            return revolved_volume(shape, v) - removed_volume(shape, v, is_fine=False)[0] + offset

        fn = numeric(whole, places)
    found = find(known, way, fn, asked.part)
    volume = as_answer(found, asked.text, asked.part, Measure.VOLUME, notes)
    return _weighed(volume, shape.part) if asked.what is Whole.MASS else volume


def _weighed(volume: Answer, part: Part) -> Answer:
    """The volume as a mass; the limits take in the density's too."""
    density = density_of(part.material)
    if density is None:
        named = f"no density is known for '{part.material}'" if part.material else "the part names no material"
        do = f"name in 'material' one of: {', '.join(known_kinds())}"
        raise NoAnswer(f"'{volume.ask}' has no answer: {named}", do, part.name)
    middle = (density.low + density.high) / 2.0
    said = f"{density.kind} at {middle * 1e6:.0f} kg/m3"
    if density.low != density.high:
        said += f" ({density.low * 1e6:.0f} to {density.high * 1e6:.0f}, in the worst case)"
    return replace(
        volume,
        measure=Measure.MASS,
        value=volume.value * middle,
        low=volume.low * density.low,
        high=volume.high * density.high,
        statistical_low=(volume.statistical_low or 0.0) * middle,
        statistical_high=(volume.statistical_high or 0.0) * middle,
        contributors=tuple(replace(c, share=c.share * middle) for c in volume.contributors),
        shares=tuple((key, share * middle) for key, share in volume.shares),
        notes=(*volume.notes, said),
    )


def _plain(shape: Shape) -> tuple[str, ...]:
    """Threads and knurls, which are taken as plain."""
    part = shape.part
    names = [f.name for f in part.outside if f.thread is not None or f.knurl]
    names += [f.name for f in (*part.inside_left, *part.inside_right) if f.thread is not None]
    names += [cut.name for cut in part.cut_in if cut.kind is not CutInKind.GROOVE]
    return (f"threads and knurls taken as plain: {', '.join(names)}",) if names else ()
