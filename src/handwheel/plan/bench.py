"""The part as it stands so far while one candidate route is tried: each operation is guarded before it counts.

`Bench.attempt` cuts a copy of the metal, looks at it, and keeps the operation only when no fault is found. The list of
checks printed on the sheets runs again over the finished route (stages/checks.py); this guard only steers the search.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from handwheel.plan.caution import caution_for
from handwheel.plan.names import said
from handwheel.plan.records import Chart, Makes, Move, Operation, Setting, Stage, Sum, Why
from handwheel.plan.view import UPoint, View
from handwheel.stages.check_metal import MANDRELS
from handwheel.stages.compare import sticks_out
from handwheel.stages.envelope import radii_at, radius_at
from handwheel.stages.metal import apply, ends
from handwheel.stages.records import Cut, Cutter, Holding, NoCut, Section, Sweep, Swing, Truncate
from handwheel.workshop.records import Tool, Workshop

TOUCH_MM = 0.002
COLLET_CLEAR_MM = 1.0
"""Room between a collet's face and the nearest cut: common practice, no source. [mm]"""
NO_CUTTER = Cutter("", "", np.zeros((0, 2)))


class CannotMakeError(Exception):
    """This candidate route fails: `feature`, why, and what would do."""

    def __init__(self, feature: str, why: str, would_do: str) -> None:
        super().__init__(why)
        self.feature = feature
        self.why = why
        self.would_do = would_do


@dataclass(slots=True)
class Bench:
    """One candidate route under trial. `holding` is the present one; `stages` what has been kept. [mm]"""

    view: View
    shop: Workshop
    finished: Section
    section: Section
    holding: Holding
    setting: str = ""
    stages: list[Stage] = field(default_factory=list)
    as_bought: tuple[str, ...] = ()
    """Outside features that are the bar's own faces and not turned."""
    is_slender: bool = False
    """The work stands far out: a narrow tool where a wide one would push too hard."""
    steps_because: str = ""
    """Why a cone may be cut by steps and the file: nothing else does; "" where that is not known yet."""

    def attempt(
        self,
        kind: str,
        cut: Cut,
        cutter: Cutter,
        why: Why,
        *,
        setting: str = "",
        caution: str = "",
        moves: tuple[Move, ...] = (),
        sums: tuple[Sum, ...] = (),
        settings: tuple[Setting, ...] = (),
        note: str = "",
        datum: tuple[str, float] | None = None,
        holding: Holding | None = None,
        speed_text: str = "",
        across_made: tuple[str, ...] = (),
        chart: Chart | None = None,
        figures: tuple[tuple[str, str], ...] = (),
        drilled_on_mm: float = 0.0,
    ) -> str:
        """Keep the operation and return "", or return why it cannot be done so."""
        held = holding or self.holding
        try:
            after = apply(self.section, cut, cutter)
        except ValueError as problem:
            return str(problem)
        wrong = self._look(after, cut, cutter, held)
        if wrong:
            return wrong
        point, place = datum or self.free_end()
        self.stages.append(
            Stage(
                Operation(
                    number=0,
                    part=self.view.part.name,
                    kind=kind,
                    set_up=setting or self.setting,
                    holding=held,
                    cutter=cutter,
                    cut=cut,
                    datum_point=point,
                    datum_mm=place,
                    why=why,
                    caution=caution if held.headstock_centre_mm is None else f"{caution} {caution_for('between centres')}",
                    moves=moves,
                    sums=sums,
                    settings=settings,
                    features=why.features,
                    speed_text=speed_text,
                    note=note,
                    across_made=across_made,
                    chart=chart,
                    figures=figures,
                    drilled_on_mm=drilled_on_mm,
                ),
                self.section,
                after,
            )
        )
        self.section = after
        return ""

    def must(self, feature: str, would_do: str, wrong: str) -> None:
        """Give the candidate up when `wrong` says something."""
        if wrong:
            raise CannotMakeError(feature, wrong, would_do)

    def free_end(self) -> tuple[str, float]:
        """The end toward the tailstock as the metal now stands: its name and z. [mm]"""
        left, right = ends(self.section)
        return ("right end", right) if self.holding.toward_tailstock == "right" else ("left end", left)

    def touched(self) -> str:
        """What the free end is called: the part's own end once it is finished, else the blank's."""
        name, place = self.free_end()
        finished = self.view.part.length if name == "right end" else 0.0
        return name if abs(place - finished) < 1e-6 else "faced end of the blank"

    def free_u(self) -> float:
        """u of the end toward the tailstock. [mm]"""
        return self.view.u(self.free_end()[1])

    def is_tube(self) -> bool:
        """Whether the free end is open on the axis."""
        at = -1 if self.holding.toward_tailstock == "right" else 0
        return bool(self.section.inner[at, 1] > TOUCH_MM)

    def radius_before(self, u_low: float, u_high: float) -> float:
        """Greatest radius of the metal between two places of u. [mm]"""
        low, high = self.view.span(u_low, u_high)
        z, r = self.section.outer[:, 0], self.section.outer[:, 1]
        inside = r[(z >= low - 1e-9) & (z <= high + 1e-9)]
        middle = radius_at(self.section.outer, (low + high) / 2, "left")
        return float(max([*inside.tolist(), middle]))

    def _look(self, after: Section, cut: Cut, cutter: Cutter, held: Holding) -> str:
        gouge, where = sticks_out(self.finished, after, TOUCH_MM)
        if gouge > TOUCH_MM:
            name = cutter.name or "the cut"
            if gouge > float(self.finished.outer[:, 1].max()):
                return f"{name} would cut the part off"
            return f"{name} would cut {said(self.shop.units, gouge)} into the finished part"
        if isinstance(cut, NoCut | Truncate):
            return ""
        if held.kind not in MANDRELS and _removed_within(self.section, after, held.from_mm, held.to_mm):
            return "metal would come off inside the grip"
        reach = self._nearest(cut, cutter)
        if reach is None:
            return ""
        sign = 1.0 if held.toward_tailstock == "right" else -1.0
        room = sign * (reach - held.front_mm)
        wanted = COLLET_CLEAR_MM if held.kind in ("collet", "ball collet") else self.shop.habit("chuck clearance")
        if room < wanted - 1e-6:
            return f"{cutter.name} comes within {said(self.shop.units, room)} of the chuck"
        return ""

    def _nearest(self, cut: Cut, cutter: Cutter) -> float | None:
        """z nearest the headstock that the cutting end of the tool reaches."""
        nearest = min if self.holding.toward_tailstock == "right" else max
        if isinstance(cut, Sweep) and not cut.inside:
            edges = cut.path[:, 0][:, None] + cutter.outline[:, 0][None, :]
            return float(nearest(edges.ravel().tolist()))
        if isinstance(cut, Swing) and self.shop.ball_tool is not None:
            beyond = cut.radius + self.shop.ball_tool.swing_beyond_tip_mm
            return cut.centre - beyond if self.holding.toward_tailstock == "right" else cut.centre + beyond
        return None


def _removed_within(before: Section, after: Section, low: float, high: float) -> bool:
    """Whether anything between two stations went from the outside."""
    if high - low < 1e-9:
        return False
    stations = np.linspace(low + 1e-6, high - 1e-6, 41)
    return bool((radii_at(before.outer, stations) - radii_at(after.outer, stations) > 1e-6).any())


def cutter_of(tool: Tool, view: View) -> Cutter:
    """An owned tool as it stands in the cut."""
    return Cutter(tool.name, tool.kind, view.outline(tool.outline_mm), tool.owned)


def square_cutter(view: View, width: float, reach: float, corner: str, name: str, owned: bool) -> Cutter:
    """A square-nosed tool set by its `corner` ('left' is nearest the headstock). [mm]"""
    low = 0.0 if corner == "left" else -width
    corners: list[UPoint] = [(low, 0.0), (low + width, 0.0), (low + width, reach), (low, reach)]
    return Cutter(name, "parting", view.outline(corners), owned)


def owns(bench: Bench, kind: str) -> bool:
    """Whether the workshop lists a lathe tool of that kind."""
    return any(tool.kind == kind and tool.owned for tool in bench.shop.tools)


def diameter_makes(phrase: str, radius: float) -> Makes:
    """A diameter that is cut to; its working limits are put in later."""
    return Makes(phrase, 2 * radius, None, None, True)


def length_makes(phrase: str, length: float) -> Makes:
    """A length that is cut to; its working limits are put in later."""
    return Makes(phrase, abs(length), None, None, False)
