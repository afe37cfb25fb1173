"""Delicate set-ups in big type beside their readings: the steps told once a set-up, then the part's figures and passes."""

from __future__ import annotations

from html import escape

from handwheel.setups.of import procedure_of
from handwheel.sheets.setups import Group
from handwheel.sheets.shop import Shop


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
        rows = "".join(f"<tr><th>{escape(f.head)}</th><td>{escape(f.value)}</td></tr>" for f in one.figures)
        rows += "".join(
            f"<tr><th>pass {p.number}</th><td>{escape(': '.join(filter(None, (p.reading, p.note))))}</td></tr>"
            for p in one.passes)  # fmt: skip
        caption = f"{', '.join(stage.operation.why.features)}: figures to set by"
        if one.zero:
            caption += f"; passes counted from: {one.zero}"
        found += f"<table><caption>{escape(caption)}</caption>{rows}</table>"
    return found
