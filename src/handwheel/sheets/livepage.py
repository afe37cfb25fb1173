"""The page beside the text: the job file with its faults at their place, the sizes, and the stages to step through.

Pure: from what was read, sized and planned to HTML. It only shows; the text is changed in the maker's own editor.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from importlib.resources import files

from handwheel.base.faults import Fault, Remark
from handwheel.drawing.records import Drawing, SolvedPart
from handwheel.job.records import Measure, Unit
from handwheel.plan.records import PartPlan, Plan, Stage
from handwheel.readings.of import workable
from handwheel.readings.records import Reading
from handwheel.sheets.cardpic import card_picture
from handwheel.sheets.family import held_text
from handwheel.sheets.html import font_faces
from handwheel.sheets.moving import Picture
from handwheel.sheets.numbers import both, measure_text
from handwheel.sheets.paper import EXAMPLE_TEXT
from handwheel.sheets.stagepic import with_half_section
from handwheel.sheets.svg import items_svg
from handwheel.workshop.records import Workshop

WIDTHS_MM = {"wide": 150.0, "narrow": 88.0}
"""A picture is drawn for a broad screen and for a narrow one; the style sheet shows the one that fits."""
CARD_TALL_MM, STAGE_TALL_MM = 34.0, 46.0
SCREEN_SCALE = 1.5


@dataclass(frozen=True, slots=True)
class Seen:
    """What is shown at one moment.

    `text` as it stands in the file; `drawing`, `plan`, `readings`, `workshop`: of that text, or of an earlier one when
    `is_older`; None while there is none. `is_busy`: more is being worked out.
    """

    file: str
    text: str
    remarks: tuple[Remark, ...] = ()
    drawing: Drawing | None = None
    plan: Plan | None = None
    readings: Mapping[tuple[str, int], tuple[Reading, ...]] | None = None
    workshop: Workshop | None = None
    is_older: bool = False
    is_busy: bool = False


def _data(name: str) -> str:
    return files("handwheel.sheets").joinpath(f"data/{name}").read_text("utf-8")


def shell_html(file: str) -> str:
    """The page itself; what it shows comes in and is renewed by `seen_html`."""
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(file)}</title>'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<style>{font_faces()}{_data('sheets.css')}{_data('live.css')}</style></head><body>"
        '<main id="seen" aria-live="off"><p>reading ...</p></main>'
        '<nav><button type="button" data-go="-1">back</button><button type="button" data-go="1">next</button></nav>'
        f"<script>{_data('live.js')}</script></body></html>\n"
    )


def seen_html(seen: Seen) -> str:
    """What stands in the page now."""
    return f"{_head(seen)}<div class=\"two\"><div>{_text(seen)}</div><div>{_drawn(seen)}</div></div>"


def _head(seen: Seen) -> str:
    faults = [r for r in seen.remarks if isinstance(r, Fault)]
    name = seen.drawing.job.name if seen.drawing else seen.file
    said = [f"{len(faults)} fault{'s' if len(faults) != 1 else ''}" if faults else "no fault found in the text"]
    if seen.drawing is not None and not seen.is_older:
        said.append(f"the job is {seen.drawing.state}")
    if seen.is_older:
        said.append("drawing and route are of the text before it")
    if seen.is_busy:
        said.append("working it out ...")
    example = f'<p class="example">{EXAMPLE_TEXT}</p>' if seen.workshop is not None and seen.workshop.is_example else ""
    listed = "".join(f'<li><a href="#line-{r.span.line}">{_remark(r)}</a></li>' for r in seen.remarks)
    remarks = f'<ul class="remarks">{listed}</ul>' if listed else ""
    return f'<header><h1>{escape(name)}</h1><p>{escape("; ".join(said))}</p>{example}{remarks}</header>'


def _remark(remark: Remark) -> str:
    kind = "fault" if isinstance(remark, Fault) else "notice"
    where = f"line {remark.span.line}"
    return f"<b>{kind}, {where}:</b> {escape(remark.what)}; {escape(remark.do)}"


def _text(seen: Seen) -> str:
    """The file's lines, each remark under the line it is at, with a mark under its column."""
    at: dict[int, list[Remark]] = {}
    for remark in seen.remarks:
        if remark.span.file == seen.file:
            at.setdefault(remark.span.line, []).append(remark)
    rows = []
    for number, line in enumerate(seen.text.splitlines() or [""], 1):
        below = "".join(_under(line, remark) for remark in at.get(number, ()))
        mark = ' class="wrong"' if below else ""
        rows.append(f'<li id="line-{number}"{mark}><code>{escape(line) or " "}</code>{below}</li>')
    return f'<section><h2>{escape(seen.file)}</h2><ol class="text">{"".join(rows)}</ol></section>'


def _under(line: str, remark: Remark) -> str:
    lead = "".join("\t" if sign == "\t" else " " for sign in line[: max(remark.span.column - 1, 0)])
    return f'<code class="mark">{escape(lead)}▲</code><p class="said">{_remark(remark)}</p>'


def _drawn(seen: Seen) -> str:
    if seen.drawing is None:
        return "<section><p>No drawing yet: it comes when the text has no fault.</p></section>"
    plans = {p.part: p for p in seen.plan.parts} if seen.plan else {}
    unit = seen.drawing.job.units
    made = [_part(part, plans.get(part.name), unit, seen) for part in seen.drawing.parts]
    mark = ' class="older"' if seen.is_older else ""
    return f"<div{mark}>{''.join(made)}</div>"


def _part(part: SolvedPart, plan: PartPlan | None, unit: Unit, seen: Seen) -> str:
    drawing = _pictures(f"{part.name} with its sizes", lambda wide: card_picture(part, plan, unit, wide, CARD_TALL_MM)[0])
    head = f"<h2>{escape(part.name)} <small>{part.quantity} off {escape(part.material)}</small></h2>"
    route = _route(part, plan, unit, seen) if plan is not None else ""
    return f"<section>{head}{drawing}{_sizes(part, unit)}{route}</section>"


def _pictures(title: str, draw: Callable[[float], Picture]) -> str:
    """The picture for each width of screen, with what its balloons stand for; a small part is not blown up."""
    made = []
    for name, width in WIDTHS_MM.items():
        picture = draw(width)
        svg = items_svg(picture.items, picture.width, picture.height, title, True)
        listed = "".join(f"<p>{escape(text)}</p>" for text in picture.listed)
        widest = f"max-width:{picture.width * SCREEN_SCALE:.0f}mm"
        made.append(f'<div class="{name}"><div style="{widest}">{svg}</div>{listed}</div>')
    return "".join(made)


def _sizes(part: SolvedPart, unit: Unit) -> str:
    rows = []
    for size in part.dimensions:
        second = both(size.value, unit)[1] if size.measure is Measure.LENGTH else ""
        origin = f"given: {size.typed}" if size.given and size.typed else "given" if size.given else "worked out"
        cells = (size.phrase, measure_text(size.value, size.measure, unit), second, origin)
        rows.append("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in cells) + "</tr>")
    count = len(part.dimensions)
    return f"<details><summary>all {count} sizes</summary><table>{''.join(rows)}</table></details>"


def _route(part: SolvedPart, plan: PartPlan, unit: Unit, seen: Seen) -> str:
    if plan.refused:
        return f'<p class="caution">Cannot be made here: {escape(plan.refused)}; {escape(plan.would_do)}</p>'
    readable = {operation.number for operation in workable(plan)}
    stages = [s for s in plan.stages if s.operation.kind != "stock"]
    shown = [_stage(stage, k, len(stages), stage.operation.number in readable, unit, seen)
             for k, stage in enumerate(stages)]  # fmt: skip
    return f'<div class="route" data-route="{escape(part.name)}">{"".join(shown)}</div>'


def _stage(stage: Stage, place: int, count: int, is_readable: bool, unit: Unit, seen: Seen) -> str:
    operation = stage.operation
    title = f"{operation.number} {operation.kind}"
    drawing = _pictures(f"{operation.part}, {title}",
                        lambda wide: with_half_section(stage, unit, wide, STAGE_TALL_MM, says_ends=True))  # fmt: skip
    lines = [
        f"<h3>{escape(title)} <small>{place + 1} of {count}, set-up {escape(operation.set_up)}</small></h3>",
        f'<p class="caution">{escape(operation.caution)}</p>' if operation.caution else "",
        f"<p>{escape(held_text(operation))}</p>",
        drawing,
        f"<p>{escape(operation.note)}</p>" if operation.note else "",
        _readings(stage, seen) if is_readable else f'<p class="caution">No readings. {escape(operation.refused)}</p>',
        f'<p class="light">{escape(operation.why.text)}</p>',
    ]
    return f'<article class="stage" data-stage="{operation.number}">{"".join(lines)}</article>'


def _readings(stage: Stage, seen: Seen) -> str:
    operation = stage.operation
    readings: Sequence[Reading] = (seen.readings or {}).get((operation.part, operation.number), ())
    return "<ul>" + "".join(f"<li>{escape(reading.text)}</li>" for reading in readings) + "</ul>" if readings else ""
