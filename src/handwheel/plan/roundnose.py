"""A hollow by a round-nosed tool: the nose's centre goes along the hollow's arc set in by its radius.

The nose is drawn finely here whatever the workshop file's outline says: between two corners of a coarse polygon metal
would be left that the real nose takes.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from handwheel.plan.bench import Bench
from handwheel.plan.chart import ROUND
from handwheel.plan.moves import Trace
from handwheel.plan.view import Link, UPoint
from handwheel.stages.records import Cutter
from handwheel.workshop.records import Tool

CORNERS = 96
ROOM_MM = 0.05
"""How much smaller than the hollow's a nose's radius has to be. [mm]"""


def round_traces(
    bench: Bench, link: Link, runs: Sequence[tuple[bool, list[UPoint]]]
) -> Iterator[tuple[Trace, ...]]:
    """A trace a flank for each owned round-nosed tool that goes into the hollow, the stoutest first."""
    radius, centre, high = link.feature.arc_radius, link.centre, link.feature.centre_radius or 0.0
    if radius is None or centre is None or high <= link.greatest - radius:
        return
    fitting = [t for t in bench.shop.tools if t.kind == ROUND and t.owned and 0.0 < t.nose_radius_mm < radius - ROOM_MM]
    for tool in sorted(fitting, key=lambda t: -t.nose_radius_mm):
        cutter = _cutter(bench, tool)
        share = (radius - tool.nose_radius_mm) / radius
        yield tuple(
            Trace(cutter, tuple((centre + share * (u - centre), high + share * (r - high) - tool.nose_radius_mm)
                                for u, r in (run[::-1] if rises else run)), "nose")
            for rises, run in runs
        )  # fmt: skip


def _cutter(bench: Bench, tool: Tool) -> Cutter:
    nose, reach = tool.nose_radius_mm, tool.reach_mm or 4.0 * tool.nose_radius_mm
    angles = [math.pi * (k / CORNERS - 0.5) for k in range(CORNERS + 1)]
    outline = [(nose * math.sin(a), nose * (1.0 - math.cos(a))) for a in angles]
    return Cutter(tool.name, tool.kind, bench.view.outline([*outline, (nose, reach), (-nose, reach)]), tool.owned)
