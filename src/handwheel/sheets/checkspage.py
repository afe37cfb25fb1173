"""What the checks found: faults on the front page, what to bear in mind and what was checked on the last."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.plan.records import Plan
from handwheel.sheets.paper import DIM_PT, WORK_PT, Composer, text_block
from handwheel.sheets.rows import caution_block
from handwheel.stages.records import CheckResult


def put_found(paper: Composer, plan: Plan) -> None:
    """The faults, each in full, or one line that none was found and where the rest stands."""
    faults = [c for c in plan.checks if c.is_fault]
    names = _names(plan)
    if not names:
        return
    paper.heading("What the checks found")
    for check in faults:
        what = f"{check.part} {check.operation}, {check.check}: {check.found}. {check.do}"
        paper.put(caution_block(what, paper.width), 1.5)
    warned = len(_warnings(plan.checks))
    found = "no fault found by" if not faults else f"{len(faults)} found by"
    more = "" if not warned else f", and {warned} to bear in mind" if warned > 1 else ", and one to bear in mind"
    text = f"{found[0].upper()}{found[1:]} {len(names)} kinds of check. They stand on the last page{more}."
    paper.put(text_block(text, paper.width, WORK_PT), 2.0)


def put_checked(paper: Composer, plan: Plan) -> None:
    """What to bear in mind, what was checked, and what was not."""
    names = _names(plan)
    if not names:
        return
    paper.running = None
    warned = _warnings(plan.checks)
    if warned:
        paper.heading("Bear in mind")
    for text in warned:
        paper.put(text_block(text, paper.width, DIM_PT), 1.0)
    found = "; ".join(names)
    block = text_block(f"{found}.", paper.width, DIM_PT)
    paper.heading("What was checked", block.height)
    paper.put(block, 2.0)
    not_checked = "; ".join(plan.not_checked)
    if not_checked:
        paper.put(text_block(f"Not checked: {not_checked}.", paper.width, DIM_PT), 2.0)


def _names(plan: Plan) -> tuple[str, ...]:
    return plan.checked or tuple(dict.fromkeys(c.check for c in plan.checks))


def _warnings(checks: Sequence[CheckResult]) -> list[str]:
    """What the checks warn of: alike in all but a figure, once, the first's, with the operations it is said of."""
    said: dict[tuple[str, str], list[CheckResult]] = {}
    for check in checks:
        if check.is_warning:
            said.setdefault((check.check, _no_figures(check.do)), []).append(check)
    found = []
    for (name, _), alike in said.items():
        by_part: dict[str, dict[str, None]] = {}
        for check in alike:
            by_part.setdefault(check.part, {})[str(check.operation)] = None
        where = "; ".join(f"{part} {', '.join(numbers)}" for part, numbers in by_part.items())
        first = alike[0]
        more = " (the first of these)" if any(c.found != first.found for c in alike) else ""
        found.append(f"{where}, {name}: {first.found}{more}. {first.do[:1].upper()}{first.do[1:]}.")
    return found


def _no_figures(text: str) -> str:
    return "".join(c for c in text if not c.isdigit())
