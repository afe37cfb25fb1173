"""Cut lists and step-off charts for the narrow screen: line after line, each with its boxes."""

from __future__ import annotations

from html import escape

from handwheel.job.records import Unit
from handwheel.readings.records import ChartReading, Reading
from handwheel.readings.words import figure, turns_text, unit_name
from handwheel.sheets.chartrows import chart_words
from handwheel.sheets.cutrows import spoken
from handwheel.sheets.setups import Group


def ticks_html(group: Group, name: str) -> str:
    """A box a copy; `name` tells it from every other."""
    return "".join(
        f'<label><input type="checkbox" data-tick="{escape(f"{name} copy {copy}")}"> {copy}</label>'
        for copy in group.copies
    )


def cuts_html(reading: Reading, group: Group, name: str, unit: Unit) -> str:
    """The cuts of a reading; nothing where it is one."""
    if not reading.cuts:
        return ""
    rows, name = [], name.replace(" act ", " list ")
    for row in reading.cuts:
        after = f", {spoken(row)}" if spoken(row) else ""
        line = escape(turns_text(row.turns, row.divisions, row.unit))
        leaves = escape(f"leaves Ø {figure(row.leaves_mm, unit)} {unit_name(unit)}{after}")
        rows.append(f'<li><b>{line}</b> {leaves} <span class="ticks">{ticks_html(group, f"{name} cut {row.number}")}</span></li>')
    told = f"cuts, from the same zero. {reading.cuts_note}"
    return f'<p class="light">{escape(told)}</p><ol>{"".join(rows)}</ol>'


def chart_html(chart: ChartReading | None, group: Group, name: str, unit: Unit) -> str:
    """The chart as a table; nothing where there is none."""
    if chart is None:
        return ""
    title, *words = chart_words(chart, unit)
    said = "".join(f"<p>{escape(text)}</p>" for text in words)
    if not chart.rows:
        return f"<h4>{escape(title)}</h4>{said}"
    head = f"<tr><th></th><th>{escape(chart.along_wheel)}</th><th>cross slide</th><th>leaves Ø</th><th></th></tr>"
    rows = "".join(
        f"<tr><th>{row.number}</th><td><b>{escape(turns_text(*row.along, chart.along_unit))}</b></td>"
        f"<td><b>{escape(turns_text(*row.in_, chart.in_unit))}</b></td><td>{figure(row.leaves_mm, unit)}</td>"
        f'<td class="ticks">{ticks_html(group, f"{name} chart line {row.number}")}</td></tr>'
        for row in chart.rows
    )
    return f"<h4>{escape(title)}</h4>{said}<table>{head}{rows}</table>"
