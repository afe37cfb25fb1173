"""Pages of the assemblies: the general arrangement of each, its seats, and the schedule of fits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handwheel.drawing.records import Drawing, SolvedAssembly, SolvedDimension
from handwheel.job.records import Assembly, Point, Seat, Unit
from handwheel.plan.records import PartPlan, Plan
from handwheel.readings.words import figure, unit_name
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.numbers import length, limits, measure_text
from handwheel.sheets.paper import DIM_PT, HEAD_PT, Composer, beside, table, text_block, under
from handwheel.sheets.rows import caution_block
from handwheel.sheets.whole.arrangepic import arrangement_picture, letters
from handwheel.sheets.whole.assembled import Placed, overlap_mm, placed_parts
from handwheel.sheets.whole.joints import AS_DRAWN, Joint, Side, joints_of
from handwheel.workshop.records import Workshop

TIGHT_MM = 0.15
"""More interference than this, on the radius, is no press fit: common practice, no source. [mm]"""
TALL_MM, GAP_MM, LONG_IS = 26.0, 8.0, 6.0
SHARES = (0.155, 0.245, 0.245, 0.1, 0.115, 0.14)


def put_assemblies(paper: Composer, drawing: Drawing, plan: Plan, shop: Workshop) -> None:
    """A drawing an assembly, two abreast where they are short, then one schedule of fits. Nothing without assemblies."""
    if not drawing.assemblies:
        return
    unit = drawing.job.units
    cells = _cells(drawing, unit, paper.width)
    rows = _rows(cells, paper.width)
    schedule = _schedule(drawing, plan, shop, unit, paper.width)
    paper.begin("General arrangement", rows[0].height + 12.0)
    paper.heading("General arrangement", rows[0].height)
    for row in rows:
        paper.put(row, 3.5)
    if schedule:
        paper.heading("Fits", 24.0)
        for block in schedule:
            paper.put(block, 1.5)


Cell = tuple[float, Picture, Picture]
"""How long the assembly is to its thickness, its block at full and at half width."""


def _cells(drawing: Drawing, unit: Unit, width: float) -> list[Cell]:
    drawn = {a.name: a for a in drawing.job.assemblies}
    marks = iter(letters(sum(len(a.seats) for a in drawing.job.assemblies)))
    found = []
    for assembly in drawing.assemblies:
        own = drawn[assembly.name]
        mine = [next(marks) for _ in own.seats]
        placed = placed_parts(assembly, drawing)
        long = max(p.high for p in placed) - min(p.low for p in placed)
        thick = 2 * max(float(p.section.outer[:, 1].max()) for p in placed)
        whole, half = (_block(assembly, own, mine, drawing, unit, w) for w in (width, (width - GAP_MM) / 2))
        found.append((long / max(thick, 1e-6), whole, half))
    return found


def _rows(cells: Sequence[Cell], width: float) -> list[Picture]:
    """Long ones over the whole width, two short ones beside each other."""
    rows: list[Picture] = []
    waiting: Cell | None = None
    for cell in cells:
        if cell[0] > LONG_IS:
            rows.append(cell[1])
        elif waiting is None:
            waiting = cell
        else:
            rows.append(beside([(0.0, waiting[2]), ((width + GAP_MM) / 2, cell[2])]))
            waiting = None
    if waiting is not None:
        rows.append(waiting[2] if len(cells) > 1 else waiting[1])
    return rows


def _block(
    assembly: SolvedAssembly, own: Assembly, marks: Sequence[str], drawing: Drawing, unit: Unit, width: float
) -> Picture:
    placed = placed_parts(assembly, drawing)
    picture, rest = arrangement_picture(assembly, own, placed, marks, unit, width, TALL_MM)
    shift = (width - picture.width) / 2
    shown = Picture(tuple(moved(i, shift, 0.0) for i in picture.items), width, picture.height)
    said = list(picture.listed)
    said += [_seat_text(mark, seat, unit) for mark, seat in zip(marks, own.seats, strict=True)]
    said += [_dimension_text(d, unit) for d in rest]
    lines = [text_block(line, width, DIM_PT) for line in said]
    lines += [caution_block(text, width) for text in _overlaps(placed, unit)]
    return under([text_block(assembly.name, width, HEAD_PT, True), under([shown, *lines], 1.0)], 0.8)


def _overlaps(placed: Sequence[Placed], unit: Unit) -> list[str]:
    """Parts that would stand in each other's metal by more than a tight fit does."""
    pairs = [(a, b, overlap_mm(a, b)) for k, a in enumerate(placed) for b in placed[k + 1 :]]
    return [
        f"{a.part.name} and {b.part.name} would stand in each other's metal, {length(deep, unit)} on the radius: see "
        "which points the seat names" for a, b, deep in pairs if deep > TIGHT_MM
    ]


def _seat_text(mark: str, seat: Seat, unit: Unit) -> str:
    return f"seat {mark}: {_said(seat.moving, unit)} on {_said(seat.fixed, unit)}"


def _said(point: Point, unit: Unit) -> str:
    offset = float(point.offset_mm)
    past = f" {'+' if offset > 0 else '−'} {length(abs(offset), unit)}" if offset else ""
    return f"{f'{point.feature} {point.where}' if point.feature else point.where}{past} of {point.part}"


def _dimension_text(size: SolvedDimension, unit: Unit) -> str:
    return f"{size.phrase}: {size.typed or measure_text(size.value, size.measure, unit)}"


def _schedule(drawing: Drawing, plan: Plan, shop: Workshop, unit: Unit, width: float) -> list[Picture]:
    plans: Mapping[str, PartPlan] = {p.part: p for p in plan.parts}
    joints = [j for a in drawing.assemblies for j in joints_of(a, drawing, plans)]
    if not joints:
        return []
    rows: list[tuple[str, ...]] = [("in", "hole", "what lies in it", "class", "play, least to greatest", "fit")]
    rows += [_row(joint, unit) for joint in joints]
    widths = [share * width for share in SHARES]
    notes = _notes(joints, shop, unit)
    return [table(rows, widths, True, DIM_PT), *(text_block(note, width, DIM_PT) for note in notes)]


def _row(joint: Joint, unit: Unit) -> tuple[str, ...]:
    called = "/".join(dict.fromkeys(c for c in (joint.hole.called, joint.shaft.called) if c and c != AS_DRAWN)) or AS_DRAWN
    least, greatest = joint.least_mm, joint.greatest_mm
    play = "" if least is None else f"{_signed(least, unit)} {unit_name(unit)} at least"
    if least is not None and greatest is not None:
        play = f"{_signed(least, unit)} to {_signed(greatest, unit)} {unit_name(unit)}"
    return joint.assembly, _side(joint.hole, unit), _side(joint.shaft, unit), called, play, joint.kind or "not told"


def _signed(mm: float, unit: Unit) -> str:
    return f"{'−' if mm < -1e-9 else ''}{figure(abs(mm), unit)}"


def _side(side: Side, unit: Unit) -> str:
    said = f"{side.part}, {side.feature} Ø "
    if side.low_mm is None or side.high_mm is None:
        return f"{said}{figure(side.diameter_mm, unit)} {unit_name(unit)}"
    return f"{said}{limits(side.low_mm, side.high_mm, unit)}, {side.limits_from}"


def _notes(joints: Sequence[Joint], shop: Workshop, unit: Unit) -> list[str]:
    """What the table does not say of itself."""
    notes = ["Play on the diameter, over the limits shown: working ones where the route has some, else the drawing's. "
             "Below nought it is interference."]  # fmt: skip
    gap = shop.habits["bond gap"]
    tight = [j for j in joints if j.kind == "bonded" and j.least_mm is not None and j.least_mm < gap.value - 1e-9]
    if tight:
        names = ", ".join(f"{j.shaft.feature} of {j.shaft.part}" for j in tight)
        aimed = f"{figure(gap.value, unit)} {unit_name(unit)}"
        notes.append(f"Bonded with less play than the {aimed} aimed at ({gap.whose}): {names}. Turn the spigot to the "
                     "measured hole, or widen the drawn limits.")  # fmt: skip
    return notes
