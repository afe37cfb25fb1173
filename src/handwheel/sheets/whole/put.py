"""The pages of the whole job, in their order after the front page; each only where it has something to say."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.drawing.records import Drawing
from handwheel.plan.records import Plan
from handwheel.sheets.paper import Composer
from handwheel.sheets.setups import Run
from handwheel.sheets.whole.arrangement import put_assemblies
from handwheel.sheets.whole.barspage import put_bars
from handwheel.sheets.whole.done import put_done
from handwheel.sheets.whole.report import put_report
from handwheel.sheets.whole.tomakepage import put_to_make
from handwheel.sheets.whole.toolspage import put_tools
from handwheel.workshop.records import Workshop


def put_whole(paper: Composer, drawing: Drawing, plan: Plan, runs: Sequence[Run], shop: Workshop) -> None:
    """Arrangement and fits, bar, tools, things to make, inspection, what is done and left."""
    put_assemblies(paper, drawing, plan, shop)
    put_bars(paper, drawing, plan, shop)
    put_tools(paper, plan, runs)
    put_to_make(paper, drawing, plan, shop)
    put_report(paper, drawing, plan, shop)
    put_done(paper, runs)
