"""A planned route in the job file's words, for the maker to change: the same words carried out give the same stages."""

from __future__ import annotations

from collections.abc import Iterator

from handwheel.plan.candidate import HOLLOW_CENTRE, STEADY
from handwheel.plan.grips import FIXED_STEADY
from handwheel.plan.records import Operation, PartPlan

OTHER_END = {"left": "right", "right": "left"}
BY_RULE = {
    "ball-blank": "blank",
    "relief-behind-ball": "relieve",
    "corner-first": "corner",
    "stub-off-last": "stub off",
}
LEFT_OUT = ("blank-first", "across-when-turned", "bond-last", "press-last")
"""Always done, and placed by handwheel: the bar sawn first, what lies across and bonds last."""


def route_lines(plan: PartPlan) -> tuple[str, ...]:
    """The items of `route`, one line each, without indentation; () for a part that has no route. Lengths in mm."""
    if not plan.stages or plan.refused:
        return ()
    length = float(plan.finished.outer[-1, 0])
    lines: list[str] = []
    held: tuple[object, ...] = ()
    supports: tuple[str, ...] = ()
    for operation in (s.operation for s in plan.stages):
        rule = operation.why.rule
        if rule in LEFT_OUT or operation.kind == "bond":
            continue
        holding = operation.holding
        if rule == "chucking-piece-off":
            lines.append(f"- saw: {holding.toward_tailstock} end")
            continue
        now = (holding.kind, holding.surface, holding.from_mm, holding.to_mm, holding.toward_tailstock)
        if now != held or FIXED_STEADY in supports and holding.steady_mm is None:
            held, supports = now, ()
            lines.append(_hold(operation, length))
        for support in _supports(operation):
            if support not in supports:
                supports = (*supports, support)
                lines.append(f"- support: {support}")
        line = _line(operation)
        if not lines or lines[-1] != line:
            lines.append(line)
    return tuple(lines)


def _hold(operation: Operation, length: float) -> str:
    holding = operation.holding
    toward = holding.toward_tailstock
    text = f"{{hold: {holding.kind} on {holding.surface}, to tailstock: {toward}"
    if holding.surface == "stock":
        out = length - holding.face_mm if toward == "right" else holding.face_mm
        text += f", out: {out:.6f} mm".replace("-0.000000", "0")
    return f"- {text}}}"


def _supports(operation: Operation) -> Iterator[str]:
    holding = operation.holding
    if holding.steady_mm is not None:
        yield FIXED_STEADY
    if holding.centre_mm is not None and holding.headstock_centre_mm is None:
        yield "hollow centre" if HOLLOW_CENTRE in holding.device else "centre"
    if STEADY in holding.device:
        yield "travelling steady"


def _line(operation: Operation) -> str:
    rule, toward = operation.why.rule, operation.holding.toward_tailstock
    verb = BY_RULE.get(rule, operation.kind)
    if operation.kind == "face" or rule in ("stub-off-last", "centre-for-slender-work"):
        return f"- {verb}: {toward} end"
    if rule == "parted-to-length":
        return f"- {verb}: {OTHER_END[toward]} end"
    return f"- {verb}: {operation.why.features[0]}"
