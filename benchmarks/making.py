"""Measurements of stages, of whole jobs with their sheets, and of pages as PDF, each beside what one would do otherwise."""

from __future__ import annotations

import math
import re
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon, union_all
from shapely.affinity import translate

from handwheel.cli.load import load_job, size_with
from handwheel.cli.make import load_workshop, make, meta_of
from handwheel.plan.records import Plan, Stage
from handwheel.plan.route import plan_job
from handwheel.readings.of import readings_of
from handwheel.sheets.make import make_pages, make_sheets
from handwheel.sheets.pdf import pages_pdf
from handwheel.stages.metal import apply, outline
from handwheel.stages.records import Sweep

Row = Callable[[str, float, str], None]
Timed = Callable[[Callable[[], object], int], float]
CUSP_MM = 1e-3
"""Metal that one tool position after another may leave between them: what handwheel's arcs are held to. [mm]"""
HIGH_MM = 60.0
MOST = 3200
"""Sweeps that need more positions are left out: one difference after another takes minutes."""


def planned(path: Path) -> Plan:
    """The plan of a job file, with the workshop it names."""
    job = load_job(str(path))
    drawing, _ = size_with(job, (), None)
    return plan_job(drawing, load_workshop(job))


def greatest_step(tool: NDArray[np.float64], start: NDArray[np.float64], end: NDArray[np.float64]) -> float:
    """The farthest apart that two positions of a convex tool on a straight may be, to leave no more than CUSP_MM. [mm]"""
    length = float(np.hypot(*(end - start)))
    along = (end - start) / length
    turned = np.array([tool @ along, tool @ np.array([-along[1], along[0]])]).T
    best = length
    for side in (1.0, -1.0):
        edge = turned * [1.0, side]
        x = np.linspace(edge[:, 0].min(), edge[:, 0].max(), 4001)
        y = lower_edge(edge, x)
        y -= y.min()
        touches = x[y < 1e-9]
        low, high = 0.0, length
        for _ in range(30):
            step = (low + high) / 2.0
            between = np.linspace(touches[-1], max(touches[-1], touches[0] + step), 801)
            one, other = (np.interp(between - moved, x, y, left=np.inf, right=np.inf) for moved in (0.0, step))
            cusp = float(np.minimum(one, other).max())
            low, high = (step, high) if cusp <= CUSP_MM and step < x[-1] - x[0] else (low, step)
        best = min(best, max(low, CUSP_MM))
    return best


def lower_edge(points: NDArray[np.float64], x: NDArray[np.float64]) -> NDArray[np.float64]:
    """The lower edge of a convex outline at each x."""
    both = np.concatenate([points, points[:1]])
    found = np.full(len(x), np.inf)
    for (x0, y0), (x1, y1) in zip(both[:-1], both[1:], strict=True):
        low, high = min(x0, x1), max(x0, x1)
        if high - low > 1e-12:
            y = y0 + (y1 - y0) * (x - x0) / (x1 - x0)
            found = np.where((x >= low) & (x <= high), np.minimum(found, y), found)
    return found


def positions(stage: Stage) -> list[tuple[float, float]]:
    """Where the setting point stands, one after another."""
    cut, found = stage.operation.cut, []
    assert isinstance(cut, Sweep)
    for start, end in zip(cut.path[:-1], cut.path[1:], strict=True):
        count = max(1, math.ceil(float(np.hypot(*(end - start))) / greatest_step(stage.operation.cutter.outline, start, end)))
        found += [tuple(start + (end - start) * k / count) for k in range(count)]
    return [*found, tuple(cut.path[-1])]


def one_by_one(stage: Stage, at: list[tuple[float, float]]) -> Polygon:
    """The metal before, less the tool and all outward of it, at one position after another."""
    body = Polygon(stage.operation.cutter.outline)
    tool = union_all([body, translate(body, 0.0, HIGH_MM)]).convex_hull
    metal = Polygon(outline(stage.before))
    for z, r in at:
        metal = metal.difference(translate(tool, z, r))
    return metal


def parts_of(metal: Polygon) -> list[Polygon]:
    """Its pieces: a cut may fall in two."""
    return list(getattr(metal, "geoms", [metal]))


def swept_stages(plan: Plan) -> list[Stage]:
    """Every operation in which a tool with a breadth is swept along the outside."""
    return [
        stage
        for part in plan.parts
        for stage in part.stages
        if isinstance(stage.operation.cut, Sweep)
        and not stage.operation.cut.inside
        and len(stage.operation.cutter.outline) > 2
        and all(np.hypot(*(b - a)) > 0 for a, b in zip(stage.operation.cut.path[:-1], stage.operation.cut.path[1:], strict=True))
    ]


def stages(row: Row, timed: Timed, path: Path) -> None:
    """Every outside sweep of a job: handwheel's metal left, and polygon differences one tool position after another."""
    every = [(stage, positions(stage)) for stage in swept_stages(planned(path))]
    found = [stage for stage, at in every if len(at) <= MOST]
    places = [at for _, at in every if len(at) <= MOST]
    ours = timed(lambda: [apply(s.before, s.operation.cut, s.operation.cutter) for s in found], 3)
    row(f"{len(found)} of the {len(every)} sweeps of {path.stem}", ours, "")
    began = time.process_time()
    results = [one_by_one(s, at) for s, at in zip(found, places, strict=True)]
    naive = time.process_time() - began
    apart = 0.0
    for stage, other in zip(found, results, strict=True):
        left = Polygon(outline(stage.after))
        longest = left.length
        apart = max(apart, max(parts_of(other), key=lambda p: p.area).symmetric_difference(left).area / longest)
    count = sum(map(len, places))
    row(f"the same, {count} positions, one difference each", naive,
        f"{naive / ours:.0f} times as long; areas differ by {1000 * apart:.2f} µm of their edges")  # fmt: skip


def many(gallery: list[Path], count: int) -> str:
    """A job of so many parts: those of the gallery that the example workshop can make, over and over."""
    found = []
    for path in gallery:
        text = path.read_text(encoding="utf-8").split("\nparts:\n", 1)[1].split("\nassemblies:")[0]
        refused = {part.part for part in planned(path).parts if part.refused}
        each = re.split(r"(?m)^(?=  [a-z][a-z ]*:$)", text)
        found += [p for p in each if re.match("  [a-z]", p) and p.split(":")[0].strip() not in refused]
    lines = ["handwheel: 1", "job: Many parts", "units: mm", "parts:"]
    for n in range(count):
        name, body = found[n % len(found)].split(":\n", 1)
        lines += [f"{name} no-{n}:", body.rstrip("\n")]
    return "\n".join(lines) + "\n"


def large_jobs(row: Row, gallery: list[Path], counts: tuple[int, ...]) -> None:
    """`make` of more and more parts, in this process: everything, sheets and job.json written."""
    first = 0.0
    for count in counts:
        with tempfile.TemporaryDirectory() as folder:
            job = Path(folder) / "many.yaml"
            job.write_text(many(gallery, count), encoding="utf-8")
            began = time.process_time()
            status = make(str(job), str(Path(folder) / "out"), "a4")
            taken = time.process_time() - began
        beside = f"{taken / first:.1f} times as long for {count // counts[0]} times the parts" if first else ""
        row(f"make of {count} parts, exit status {status}", taken, beside)
        first = first or taken


def pdf(row: Row, timed: Timed, path: Path) -> None:
    """The same job's pages as PDF, and its HTML turned to PDF by WeasyPrint, where that is installed."""
    job = load_job(str(path))
    drawing, _ = size_with(job, (), None)
    shop = load_workshop(job)
    plan = plan_job(drawing, shop)
    readings = readings_of(plan, shop)
    meta = meta_of(str(path), "a4")
    pages = make_pages(drawing, plan, readings, shop, meta)
    ours = timed(partial(pages_pdf, pages, job.name), 3)
    row(f"{len(pages)} pages of {path.stem} as PDF", ours, f"{len(pages) / ours:.0f} pages a second")
    try:
        from weasyprint import HTML
    except ImportError:
        row("an HTML-to-PDF library (pip install weasyprint)", 0.0, "not installed, not measured")
        return
    html = make_sheets(drawing, plan, readings, shop, meta)["index.html"].decode("utf-8")
    turned = len(HTML(string=html).render().pages)
    taken = timed(lambda: HTML(string=html).write_pdf(), 1)
    row(f"WeasyPrint, the same job's HTML, {turned} pages", taken,
        f"{turned / taken:.1f} pages a second; {taken / turned / (ours / len(pages)):.0f} times as long a page")  # fmt: skip
