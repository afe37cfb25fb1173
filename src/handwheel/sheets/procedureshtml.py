"""Delicate set-ups in big type beside their readings: the steps told once a set-up, then the part's figures and passes."""

from __future__ import annotations

from html import escape

from handwheel.setups.of import procedure_of
from handwheel.setups.records import Sketch
from handwheel.sheets.procedures import pass_name
from handwheel.sheets.setups import Group
from handwheel.sheets.shop import Shop
from handwheel.sheets.sketches.draw import sketch_picture
from handwheel.sheets.stepshtml import ticks_html
from handwheel.sheets.svg import items_svg

DRAWN_WIDE_MM, DRAWN_TALL_MM = 60.0, 24.0


def procedures_html(group: Group, shop: Shop, told: set[str]) -> str:
    """The set-ups of one part's stages; `told`: subjects whose steps stand in this set-up already, added to."""
    found = ""
    for stage in group.stages:
        one = procedure_of(stage, shop.workshop) if (group.part, stage.operation.number) in shop.can_be_read else None
        if one is None:
            continue
        if one.subject not in told:
            told.add(one.subject)
            steps = "".join(f"<li><b>{escape(step.head)}</b> {escape(step.text)}</li>" for step in one.steps)
            found += f"<h4>{escape(one.subject.capitalize())}: how it is set, in this order</h4><ol>{steps}</ol>"
            found += "".join(_drawn(sketch) for sketch in one.sketches if not sketch.is_own)
        found += "".join(_drawn(sketch) for sketch in one.sketches if sketch.is_own)
        keys = {head: letter for sketch in one.sketches for letter, head in sketch.keys.items()}
        rows = "".join(
            f"<tr><th>{escape(' '.join(filter(None, (keys.get(f.head, ''), f.head))))}</th><td>{escape(f.value)}</td></tr>"
            for f in one.figures
        )
        number = stage.operation.number
        rows += "".join(
            f"<tr><th>pass {p.number}</th><td>{escape(': '.join(filter(None, (p.reading, p.note))))}"
            f'<p class="ticks">{ticks_html(group, pass_name(group.part, number, p.number))}</p></td></tr>'
            for p in one.passes
        )
        caption = f"{', '.join(stage.operation.why.features)}: figures to set by"
        if one.zero:
            caption += f"; passes counted from: {one.zero}"
        found += f"<table><caption>{escape(caption)}</caption>{rows}</table>"
    return found


def _drawn(sketch: Sketch) -> str:
    """A picture of a step under the step's name."""
    picture = sketch_picture(sketch, DRAWN_WIDE_MM, DRAWN_TALL_MM)
    svg = items_svg(picture.items, picture.width, picture.height, f"{sketch.step}: {sketch.name}", True)
    return f'<p><b>{escape(sketch.step)}</b></p><div class="drawn">{svg}</div>'
