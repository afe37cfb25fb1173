"""How every drawn size is measured: with which gauge, or where no gauge reaches it, what it follows from."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from handwheel.drawing.records import Drawing, SolvedDimension, SolvedPart
from handwheel.job.records import Measure
from handwheel.plan.gauging import COARSE, SHARE, ratio_of
from handwheel.plan.records import PartPlan, Plan
from handwheel.workshop.records import Gauge, Workshop

MOST_FOLLOWED = 3
LENGTHS = frozenset({"length", "depth", "step"})
_OUT_OF_REACH = re.compile(r"\b(centre|middle|apex|meets|point|pitch|from axis|radius)\b| at ")
_ENDS = re.compile(r"\b(left|right|mouth|bottom|end)\b")


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the report. low, high: the drawing's limits, None where it gives none. `gauge`: "" where no gauge here
    serves. `follows`: what a size that no gauge reaches follows from, each measurable itself. [mm, deg, ratio]"""

    phrase: str
    drawn: str
    measure: Measure
    value: float
    low: float | None
    high: float | None
    gauge: str
    is_direct: bool
    follows: tuple[str, ...] = ()
    ratio: float | None = None
    """How many times the gauge's error goes into half the limits; None: no limits, or no gauge."""


def part_lines(part: SolvedPart, plan: PartPlan | None, shop: Workshop) -> tuple[Line, ...]:
    """A line for every drawn size of a part, and one for each thread."""
    lines = [_line(d, part, plan, shop) for d in part.dimensions if d.given and not _is_thread(d, part)]
    return (*lines, *(_thread(name, called, shop) for name, called in _threads(part)))


def assembly_lines(drawing: Drawing, plan: Plan, shop: Workshop) -> tuple[tuple[str, int, tuple[Line, ...]], ...]:
    """For each assembly with dimensions of its own: its name, how many can be put together, and its lines."""
    found = []
    for assembly in drawing.assemblies:
        given = [d for d in assembly.dimensions if d.given]
        count = min((drawing.part(name).quantity for name in assembly.left_end), default=0)
        parts = [drawing.part(name) for name in assembly.left_end]
        if given:
            found.append((assembly.name, count, tuple(_over_parts(d, parts, shop) for d in given)))
    return tuple(found)


def _line(d: SolvedDimension, part: SolvedPart, plan: PartPlan | None, shop: Workshop) -> Line:
    low, high = _limits(d)
    drawn = d.typed or ""
    if _is_direct(d):
        gauge = _planned(d.phrase, plan) or gauge_of(_kinds(d.phrase, part), d.value, low, high, shop)
        return Line(d.phrase, drawn, d.measure, d.value, low, high, gauge, True, (), _ratio(gauge, low, high, shop))
    return Line(d.phrase, drawn, d.measure, d.value, low, high, "", False, followed(d, part, plan))


def _ratio(gauge: str, low: float | None, high: float | None, shop: Workshop) -> float | None:
    return None if not gauge or low is None or high is None else ratio_of(gauge, 0.5 * (high - low), shop)


def _limits(d: SolvedDimension) -> tuple[float | None, float | None]:
    below, above = d.tolerance
    return (None, None) if below == above else (d.value + below, d.value + above)


def _is_direct(d: SolvedDimension) -> bool:
    """Whether a gauge can lie on what the words name."""
    if d.measure is not Measure.LENGTH or _OUT_OF_REACH.search(d.phrase):
        return False
    return " to " not in d.phrase or all(_ENDS.search(half) for half in d.phrase.split(" to ", 1))


def _kinds(phrase: str, part: SolvedPart) -> frozenset[str]:
    holes = {h.name for h in (*part.inside_left, *part.inside_right)}
    name = phrase.rsplit(" ", 1)[0]
    if phrase.endswith("diameter"):
        return frozenset({"inside"} if name in holes or name.rsplit(" ", 1)[0] in holes else {"outside"})
    if phrase.endswith("depth"):
        return frozenset({"depth"})
    return frozenset({"outside"} if phrase.endswith("across flats") else LENGTHS)


def gauge_of(
    kinds: frozenset[str], value_mm: float, low: float | None, high: float | None, shop: Workshop
) -> str:
    """The coarsest gauge whose error is within a quarter of half the tolerance, else the finest, said to be coarse."""
    reaching = [g for g in shop.gauges if kinds & set(g.measures) and g.least_mm <= value_mm <= g.greatest_mm]
    if not reaching:
        return ""
    if low is None or high is None:
        return _error(reaching, True).name
    allowed = SHARE * (high - low) / 2.0 + 1e-9
    serving = [g for g in reaching if g.error_mm <= allowed]
    return _error(serving, True).name if serving else f"{_error(reaching, False).name} ({COARSE})"


def _error(gauges: Iterable[Gauge], coarsest: bool) -> Gauge:
    return sorted(gauges, key=lambda g: (g.error_mm, "length" in g.measures))[-1 if coarsest else 0]


def _planned(phrase: str, plan: PartPlan | None) -> str:
    """The gauge the route measures it with."""
    for stage in plan.stages if plan else ():
        for move in stage.operation.moves:
            if move.makes and move.makes.phrase == phrase and move.makes.gauge:
                return move.makes.gauge
    return ""


def followed(d: SolvedDimension, part: SolvedPart, plan: PartPlan | None) -> tuple[str, ...]:
    """Measurable sizes that move with it, those the route makes first."""
    made = {m.makes.phrase for s in (plan.stages if plan else ()) for m in s.operation.moves if m.makes}
    direct = [o for o in part.dimensions if o.phrase != d.phrase and _is_direct(o)]
    moving = [o for o in direct if d.phrase in o.sources]
    first = next((f.name for f in part.outside if d.phrase.startswith(f"{f.name} ")), "")
    own = [o for o in direct if first and o.phrase.startswith(f"{first} ") and (o.given or o in moving)]
    if any(o in moving for o in own):
        return tuple(o.phrase for o in own[:MOST_FOLLOWED])
    moving.sort(key=lambda o: (o.phrase not in made, " to " not in o.phrase))
    return tuple(o.phrase for o in moving[:MOST_FOLLOWED])


def _over_parts(d: SolvedDimension, parts: Sequence[SolvedPart], shop: Workshop) -> Line:
    low, high = _limits(d)
    if _is_direct(d):
        gauge = gauge_of(LENGTHS, d.value, low, high, shop)
        return Line(d.phrase, d.typed, d.measure, d.value, low, high, gauge, True, (), _ratio(gauge, low, high, shop))
    return Line(d.phrase, d.typed, d.measure, d.value, low, high, "", False, _through(d, parts))


def _through(d: SolvedDimension, parts: Sequence[SolvedPart]) -> tuple[str, ...]:
    """Measurable sizes of single parts that move with a size over several: distances first."""
    moving = [(o, p) for p in parts for o in p.dimensions if d.phrase in o.sources and _is_direct(o)]
    lengths = [(o, p) for o, p in moving if " to " in o.phrase or o.phrase == "overall length"]
    return tuple(f"{o.phrase} of {p.name}" for o, p in (lengths or moving)[:MOST_FOLLOWED])


def _threads(part: SolvedPart) -> list[tuple[str, str]]:
    holes = (*part.inside_left, *part.inside_right)
    every = [(f.name, f.thread) for f in part.outside] + [(h.name, h.thread) for h in holes]
    return [(name, called) for name, called in [*every, *((c.name, c.thread) for c in part.cut_in)] if called]


def _is_thread(d: SolvedDimension, part: SolvedPart) -> bool:
    """A thread's own diameter, told by its line."""
    return not d.typed and any(d.phrase == f"{name} diameter" for name, _ in _threads(part))


def _thread(name: str, called: str, shop: Workshop) -> Line:
    return Line(f"{name} thread", called, Measure.LENGTH, 0.0, None, None, "its mate, or a screw gauge", True)
