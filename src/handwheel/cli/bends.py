"""`handwheel ask … --turned "PHRASE: VALUE"`: how far the one feature, or the boring bar in it, bends under a cut."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from handwheel.base.faults import Span
from handwheel.cli.answertext import WIDTH
from handwheel.cli.wrong import InputWrong, fault_at
from handwheel.drawing.records import Drawing
from handwheel.job.records import Measure, OutsideKind, Unit
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Scalar
from handwheel.setups.bends import BAR_TEST, BOTH, CENTRES, HELD, STEADY, WORK_TEST, Cut, bar_bends, work_bends
from handwheel.stages.finished import finished_section
from handwheel.tables.cutting import cutting_of
from handwheel.workshop.fields import exact
from handwheel.workshop.records import Workshop

OPTION = "--turned"
FAULT = "bending-unknown"
TEXTS = ("material", "held", "held end")
SIZES = ("off the diameter", "feed", "limits apart", "at", "steady at", "bar", "give at 50 N")
HOLES = ("hole", "bore", "counterbore")
ENDS = ("left", "right")


def bend_lines(kind: str, drawing: Drawing, said: Sequence[str], shop: Workshop, unit: Unit) -> list[str]:
    """How far it bends, as lines. Raises InputWrong with every fault, and with what has still to be said."""
    texts, sizes = _read(said, unit)
    cut = _cut(texts, sizes, kind, shop)
    depth = next((a.value for a in drawing.answers if a.ask in ("depth", "length")), None)
    lines = ["", "How far it bends:"]
    if kind in HOLES:
        if depth is None:
            raise _lacks("the hole's depth was not said", "say 'depth: …' of the hole")
        figures = bar_bends(depth, cut, shop)
    else:
        part = drawing.parts[0]
        if not part.outside or not (kind in {k.value for k in OutsideKind} and kind not in ("chamfer", "fillet")):
            raise _lacks(f"a {kind} does not stand out by itself", "ask it of a cylinder, a cone, a ball or a bore")
        section = finished_section(part)
        if any(place is not None and not 0.0 < place <= part.length for place in (cut.at_mm, cut.steady_mm)):
            raise _lacks("'at' or 'steady at' lies beyond the work", "both are counted from the held end, along the work")
        figures = work_bends(section, cut, shop)
    for figure in figures:
        lines += textwrap.wrap(f"{figure.head}: {figure.value}", WIDTH, initial_indent="  ", subsequent_indent="      ")
    lines.append("How the give is measured:")
    for k, step in enumerate(BAR_TEST if kind in HOLES else WORK_TEST, 1):
        lines += textwrap.wrap(f"{k:2} {step.head}: {step.text}", WIDTH, subsequent_indent="     ")
    close = "Ranges: they may forbid a cut; they do not say that a lesser one will do."
    example = " Example workshop: habits and speeds are not yours; --workshop FILE names yours." if shop.is_example else ""
    return [*lines, *textwrap.wrap(close + example, WIDTH)]


def _cut(texts: dict[str, str], sizes: dict[str, float], kind: str, shop: Workshop) -> Cut:
    material, is_hole = texts.get("material"), kind in HOLES
    wanted = {"material": material, **({"bar": sizes.get("bar")} if is_hole else {"held": texts.get("held")})}
    if texts.get("held") in (STEADY, BOTH):
        wanted["steady at"] = sizes.get("steady at")
    if kind == "cone" and not is_hole:
        wanted["held end"] = texts.get("held end")
    missing = [name for name, value in wanted.items() if value is None]
    if missing:
        hints = {"material": "such as brass", "held": " | ".join(HELD), "bar": "the boring bar's thickness",
                 "steady at": "from the held end", "held end": "left | right"}  # fmt: skip
        ways = "; ".join(f"--turned '{name}: …' ({hints[name]})" for name in missing)
        raise _lacks(f"not said and so not known: {', '.join(missing)}", f"add {ways}")
    assert material is not None
    cutting = cutting_of(material)
    if cutting is None:
        raise _lacks(f"no forces are known for '{material}'", "name the metal by its kind, such as mild steel or brass")
    speed = next((m.surface_speed_m_min for m in shop.materials if m.name == material), None)
    held = "" if is_hole else texts["held"]
    return Cut(cutting, held, sizes.get("off the diameter"), sizes.get("feed"), sizes.get("limits apart"), sizes.get("at"),
               sizes.get("steady at"), sizes.get("bar"), sizes.get("give at 50 N"),
               texts.get("held end") == "right" and held != CENTRES, speed)  # fmt: skip


def _lacks(what: str, do: str) -> InputWrong:
    return InputWrong([fault_at(FAULT, OPTION, what, do)])


def _read(said: Sequence[str], unit: Unit) -> tuple[dict[str, str], dict[str, float]]:
    """What is said in words, and the lengths. [mm]"""
    texts: dict[str, str] = {}
    sizes: dict[str, float] = {}
    complaints = Complaints()
    choices = {"held": HELD, "held end": ENDS}
    for number, saying in enumerate(said, 1):
        key, _, value = saying.partition(":")
        name, text, place = key.strip(), value.strip(), Span(OPTION, number, 1)
        if name in TEXTS and text:
            texts[name] = text
            if name in choices and text not in choices[name]:
                complaints.add(FAULT, place, f"{quoted(saying)} is no way of holding here", did_you_mean(text, choices[name]))
        elif name in SIZES and text:
            amount = exact(Scalar(text, Span(OPTION, number, len(saying) - len(value.lstrip()) + 1)), Measure.LENGTH, unit,
                           complaints)  # fmt: skip
            sizes[name] = float(amount.value) if amount is not None else 0.0
            if amount is not None and amount.value <= 0:
                complaints.add(FAULT, place, f"{quoted(saying)} is not above zero", "write a size above zero")
        else:
            complaints.add(FAULT, place, f"{quoted(saying)} is nothing that is said of a cut",
                           did_you_mean(name, (*TEXTS, *SIZES)))  # fmt: skip
    if complaints.found:
        raise InputWrong(complaints.found)
    return texts, sizes
