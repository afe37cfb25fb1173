"""Tools and gauges by set-up: what is laid out before the first cut."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.plan.records import Plan
from handwheel.sheets.families import factored
from handwheel.sheets.paper import DIM_PT, Composer, table
from handwheel.sheets.setups import Run
from handwheel.sheets.whole.tools import Needs, needs_of

SHARES = (0.16, 0.28, 0.36, 0.2)


def put_tools(paper: Composer, plan: Plan, runs: Sequence[Run]) -> None:
    """A row a set-up; set-ups that need the same share one."""
    needs = needs_of(plan, runs)
    if not needs:
        return
    widths = [share * paper.width for share in SHARES]
    paper.begin("Tools and gauges", 45.0)
    paper.heading("Tools and gauges", 30.0)
    paper.put(table([("set-up", "held in", "tools", "gauges")], widths, True, DIM_PT), 0.0)
    for need in needs:
        paper.put(table([_row(need)], widths, False, DIM_PT), 0.0)
    paper.y += 2.0


def _row(need: Needs) -> tuple[str, ...]:
    keys = ", ".join(need.keys)
    return (f"{keys}  {need.title}", _listed(need.holding), _listed(need.tools), _listed(need.gauges))


def _listed(texts: Sequence[str]) -> str:
    return factored("; ".join(texts)) if texts else "none"
