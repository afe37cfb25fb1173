"""The sheets as one HTML file: the pages' own SVG one under another, and for a narrow screen the readings in big type.

Nothing is fetched: font, style and the few lines of script (ticks kept on this device) are in the file.
"""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import replace
from html import escape
from importlib.resources import files

from handwheel.plan.records import Operation, Sum
from handwheel.readings.charts import chart_reading
from handwheel.readings.dial import wheel_of
from handwheel.readings.records import Reading
from handwheel.readings.strip import make_strip
from handwheel.readings.words import length_text, limits_text, turns_text
from handwheel.sheets.copyrows import left_over
from handwheel.sheets.family import held_text, shows_a_cut
from handwheel.sheets.fonts import FAMILY, font_bytes
from handwheel.sheets.paper import EXAMPLE_TEXT, SheetMeta
from handwheel.sheets.primitives import Page
from handwheel.sheets.procedureshtml import procedures_html
from handwheel.sheets.rows import figure_runs, sense_of, strip_title, taken_word
from handwheel.sheets.setups import Group, Run
from handwheel.sheets.shop import Shop, copies_text
from handwheel.sheets.stagepic import stage_picture
from handwheel.sheets.stepshtml import chart_html, cuts_html, ticks_html
from handwheel.sheets.svg import items_svg, page_svg
from handwheel.sheets.whole.done import done_html
from handwheel.sheets.whole.pressure import pressure_text

ARROWS = {"in": "↑", "out": "↓", "toward the headstock": "←", "toward the tailstock": "→"}
DRAWN_WIDE_MM, DRAWN_TALL_MM = 70.0, 22.0


def _data(name: str) -> str:
    return files("handwheel.sheets").joinpath(f"data/{name}").read_text("utf-8")


def _face(weight: str, number: int) -> str:
    font = base64.b64encode(font_bytes(weight)).decode("ascii")
    source = f"url(data:font/ttf;base64,{font}) format('truetype')"
    return f"@font-face{{font-family:'{FAMILY}';font-weight:{number};src:{source}}}"


def font_faces() -> str:
    """The style rules that carry the font's two weights."""
    return _face("regular", 400) + _face("bold", 700)


def _row(reading: Reading, group: Group, name: str, shop: Shop) -> str:
    ticks = ticks_html(group, name)
    if reading.is_dialled:
        figures = turns_text(reading.turns, reading.divisions, reading.unit)
        shown = " ".join(f"<b>{t}</b>" if bold else f"<small>{t}</small>" for t, _, bold in figure_runs(reading))
        way = ", ".join(filter(None, (reading.way, sense_of(reading))))
        arrow = ARROWS.get(reading.way, "")
        act = (
            f'<p class="wheel"><b>{escape(reading.wheel)}</b> {arrow} {escape(way)}</p>'
            f'<p class="big" aria-label="{escape(figures)}">{shown}</p><p>zero: {escape(reading.zero)}</p>'
        )
    else:
        act = f"<p>{escape(reading.text)}</p>"
    makes = ""
    if reading.makes:
        sign = "Ø" if reading.makes.is_diameter else ""
        makes = f"<p>makes <b>{escape(length_text(reading.makes.value_mm, shop.unit, sign))}</b>, "
        makes += escape(reading.makes.phrase)
        low, high = reading.makes.working_low_mm, reading.makes.working_high_mm
        if low is not None and high is not None:
            makes += f"; cut {escape(limits_text(low, high, shop.unit, sign))}"
        makes += f"; check with {escape(reading.makes.gauge)}</p>" if reading.makes.gauge else "</p>"
    note = f'<p class="light">{escape(reading.note)}</p>' if reading.note else ""
    return f'<li>{act}{makes}{note}{cuts_html(reading, group, name, shop.unit)}<p class="ticks">{ticks}</p></li>'


def _act(reading: Reading, operation: Operation, group: Group, name: str, shop: Shop) -> str:
    """A reading, and the one in its place on copies with sizes as made."""
    parts = shop.apart.get(group.part, ())
    rest = left_over(group.copies, parts, reading, operation.number)
    rows = _row(reading, replace(group, copies=rest), name, shop) if rest else ""
    for one in parts:
        now, mine = one.reading(reading), tuple(c for c in group.copies if c in one.copies)
        if now is not None and mine:
            row = _row(now.now, replace(group, copies=mine), f"{name} as made", shop)
            rows += f'<li class="caution">{escape(one.named)}, as made, in place of the row above:</li>{row}'
    return rows


def _sums_apart(asked: Sum, operation: Operation, group: Group, shop: Shop, told: set[tuple[str, bool]]) -> str:
    found = ""
    for one in shop.apart.get(group.part, ()):
        now = one.sum(operation.number, asked)
        if now is not None and set(one.copies) & set(group.copies):
            found += f'<p class="caution">{escape(one.named)}, as made, in place of the sum above:</p>{_sum(now, shop, told)}'
    return found


def _told_apart(group: Group, operation: Operation, shop: Shop) -> str:
    """Another tool on a copy, or why it has no readings."""
    lines: list[str] = []
    for one in shop.apart.get(group.part, ()):
        if not set(one.copies) & set(group.copies):
            continue
        if one.changed.cannot and operation is group.stages[0].operation:
            lines.append(f"{one.named}, as made: not by the readings here: {one.changed.cannot}. See 'As made'.")
        tools = [t for t in one.changed.tools if t.operation == operation.number]
        lines += [f"{one.named}, as made: tool: {t.now}, not {t.was}" for t in tools]
    return "".join(f'<p class="caution">{escape(line)}</p>' for line in lines)


def _operation(operation: Operation, group: Group, run: Run, shop: Shop, told: set[tuple[str, bool]]) -> str:
    """An operation; `told`: the strips that stand in this set-up already."""
    what = [operation.kind, operation.cutter.name, operation.speed_text]
    title = f"<h4>{operation.number} {escape(' · '.join(filter(None, what)))}</h4>"
    if operation.refused:
        return f'{title}<p class="caution">Not possible here: {escape(operation.refused)}</p>'
    caution = f'<p class="caution">{escape(operation.caution)}</p>' if operation.caution else ""
    why = f'<p class="light">{escape(operation.why.text)}</p>' if operation.why.text else ""
    note = f"<p>{escape(operation.note)}</p>" if operation.note else ""
    own = "".join(f"<p>set <b>{escape(s.layer)}</b> {escape(s.text)}</p>" for s in run.own(operation))
    if (group.part, operation.number) not in shop.can_be_read:
        return f"{title}{caution}{why}{note}{own}"
    readings = shop.readings.get((group.part, operation.number), ())
    name = f"{group.part} {operation.number}"
    rows = "".join(_act(r, operation, group, f"{name} act {k + 1}", shop) for k, r in enumerate(readings))
    if not readings and not operation.sums:
        rows = f'<li><p class="ticks">{ticks_html(group, name)}</p></li>'
    sums = "".join(_sum(asked, shop, told) + _sums_apart(asked, operation, group, shop, told) for asked in operation.sums)
    chart = chart_html(chart_reading(operation, shop.workshop), group, name, shop.unit)
    return f"{title}{caution}{why}{note}{own}{_told_apart(group, operation, shop)}<ul>{rows}</ul>{chart}{sums}"


def _sum(asked: Sum, shop: Shop, told: set[tuple[str, bool]]) -> str:
    """The sum in words, and the first time in a set-up the strip that turns its answer into turns."""
    where = f", on the {asked.wheel}" if asked.wheel else ""
    wanted = "" if asked.carried else f" <b>{escape(length_text(abs(asked.wanted_mm), shop.unit))}</b>"
    said = f"<p>{escape(asked.measured)} {taken_word(asked)}{wanted} = {escape(asked.result + where)}</p>"
    key = (asked.wheel, asked.per_side)
    strip = make_strip(asked, wheel_of(shop.workshop, asked.wheel), shop.workshop.units)
    if key in told or not strip.rows:
        return said
    told.add(key)
    rows = "".join(f"<tr><th>{escape(r.amount_text)}</th><td>{escape(r.wheel_text)}</td></tr>" for r in strip.rows)
    return f"{said}<table><caption>{escape(strip_title(strip))}</caption>{rows}</table>"


def _drawing(group: Group, shop: Shop) -> str:
    """How the work is held and what comes off, drawn for a narrow screen."""
    readable = [s for s in group.stages if (group.part, s.operation.number) in shop.can_be_read]
    if not shows_a_cut(readable):
        return ""
    picture = stage_picture(readable, shop.unit, DRAWN_WIDE_MM, DRAWN_TALL_MM)
    title = f"{group.part}: metal left hatched, metal to come off stippled"
    listed = "".join(f"<p>{escape(text)}</p>" for text in picture.listed)
    return f'<div class="drawn">{items_svg(picture.items, picture.width, picture.height, title, True)}</div>{listed}'


def _set_up(run: Run, shop: Shop, number: int) -> str:
    settings = "".join(f"<li><b>{escape(s.layer)}</b> {escape(s.text)}</li>" for s in run.settings)
    told: set[tuple[str, bool]] = set()
    explained: set[str] = set()
    groups = "".join(
        f"<h3>{escape(g.part)} <small>{escape(copies_text(g.copies))}</small></h3>"
        f"<p>{escape(held_text(g.stages[0].operation))}</p>{_drawing(g, shop)}"
        + "".join(_operation(s.operation, g, run, shop, told) for s in g.stages)
        + procedures_html(g, shop, explained)
        for g in run.groups
    )
    title = f"{escape(run.set_up.key)} {escape(run.set_up.title)}"
    told_of = pressure_text(shop.pressure, [g.part for g in run.groups])
    settings = f'{settings}</ol><p class="caution">{escape(told_of)}</p><ol>' if told_of else settings
    return f'<section class="acts" id="set-up-{number}"><h2>{title}</h2><ol>{settings}</ol>{groups}</section>'


def index_html(name: str, pages: Sequence[Page], runs: Sequence[Run], shop: Shop, meta: SheetMeta) -> str:
    """The whole file."""
    sheets = "".join(
        f'<section class="page" id="page-{k + 1}" aria-label="{escape(page.subject)}">{page_svg(page, True)}</section>'
        for k, page in enumerate(pages)
    )
    acts = "".join(_set_up(run, shop, k + 1) for k, run in enumerate(runs))
    example = f'<p class="example">{EXAMPLE_TEXT}</p>' if shop.workshop.is_example else ""
    about = f"revision {escape(meta.revision)} · {escape(meta.job_file)} of {escape(meta.job_date)}"
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(name)}</title>'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<style>{font_faces()}{_data('sheets.css')}</style></head><body>"
        f"<header><h1>{escape(name)}</h1><p>{about}</p>{example}</header>"
        f'<main><div id="pages">{sheets}</div><div id="acts">{done_html(runs)}{acts}</div></main>'
        '<nav><button type="button" data-step="-1">back</button>'
        '<button type="button" data-swap>readings in big type</button>'
        '<button type="button" data-step="1">next</button></nav>'
        f"<script>{_data('sheets.js')}</script></body></html>\n"
    )
