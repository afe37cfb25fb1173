"""`handwheel ask ball | cone … --ask "how to set"` and `--measured`: a set-up's figures, and what was measured on it."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from handwheel.base.faults import Span
from handwheel.cli.answertext import WIDTH
from handwheel.cli.files import read_input
from handwheel.cli.measuredcone import BLUE, CONE_WORDS, ENDS, GAUGE, cone_found
from handwheel.cli.measuredfit import FREE_TEXTS, HOLES, MEASURES, fit_found, fit_words, half_of
from handwheel.cli.wrong import InputWrong, fault_at
from handwheel.drawing.records import Drawing
from handwheel.job.records import Job, Measure, Unit
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Scalar
from handwheel.setups.answers import BALL_SIZES, Moved, ball_words
from handwheel.setups.asking import thread_asked
from handwheel.setups.balls import ball_figures, ball_steps, plain_blank
from handwheel.setups.fits import fit_asked
from handwheel.setups.form import Way
from handwheel.setups.passes import passes
from handwheel.setups.records import Figure, Pass, Step
from handwheel.setups.taperasked import taper_asked
from handwheel.setups.taperprocedure import angle_figures, taper_steps
from handwheel.setups.tapers import Taper
from handwheel.tables.threads import Thread, find_thread
from handwheel.workshop.fields import exact
from handwheel.workshop.read import built_in_workshop, read_workshop
from handwheel.workshop.records import Workshop

OPTION = "--measured"
SWUNG, ABOVE = "swung", "from above"
MOVED, BEFORE = ("height moved", "cross moved"), ("height before", "cross before")
BALL_WORDS = (*BALL_SIZES, GAUGE, SWUNG, *MOVED, *BEFORE)


def workshop_of(path: str | None, unit: Unit) -> Workshop:
    """The workshop in that file, or the built-in one. Raises InputWrong."""
    if path is None:
        return built_in_workshop(unit)
    workshop, faults = read_workshop(read_input(path), path)
    if workshop is None or faults:
        raise InputWrong(faults)
    return workshop


def set_lines(kind: str, drawing: Drawing, shop: Workshop) -> list[str]:
    """The set-up of the one feature, as lines. Raises InputWrong where there is none or too little was said."""
    sizes = {a.ask: a.value for a in drawing.answers}
    if kind == "ball" and "diameter" in sizes:
        return _ball_lines(sizes["diameter"] / 2.0, shop)
    if is_taper(kind, sizes):
        taper = _taper(sizes, is_inside=kind != "cone")
        if taper is not None:
            subject, steps, figures = taper_asked(taper, shop)
            return laid_out(subject, steps, figures, (), shop)
        return laid_out("taper", taper_steps(shop), angle_figures(sizes["angle to axis"], shop), (), shop)
    thread = named_thread(drawing.job)
    if thread is not None:
        steps, figures = thread_asked(thread, kind in HOLES, sizes.get("depth"), shop)
        return laid_out("tap" if kind in HOLES else "die", steps, figures, (), shop)
    if kind in (*HOLES, "cylinder") and "diameter" in sizes:
        return laid_out("fit", (), fit_asked(half_of(kind, drawing), shop), (), shop)
    known = ("it is told of a thread, of a hole or cylinder with a diameter, of a ball whose diameter and of a cone whose angle "
             "follows from what was said")  # fmt: skip
    raise InputWrong([fault_at("nothing-to-set", "--ask", f"no set-up can be told of this {kind}", known)])


def named_thread(job: Job) -> Thread | None:
    """The thread that was named of the one feature, or None."""
    part = job.parts[0]
    calls = [*(f.thread for f in part.outside), *(f.thread for f in (*part.inside_left, *part.inside_right))]
    calls += [*(f.thread for f in part.cut_in), *(f.thread for f in part.across)]
    return next((find_thread(call.designation) for call in calls if call is not None), None)


def _ball_lines(radius_mm: float, shop: Workshop) -> list[str]:
    tool = shop.ball_tool
    if tool is None:
        raise InputWrong([fault_at("nothing-to-set", "--ask", f"{shop.name} has no ball tool",
                                   "name a workshop that has with --workshop, or cut by a step-off chart")])  # fmt: skip
    blank = plain_blank(radius_mm, shop)
    made = passes(blank, radius_mm, shop, tool)
    return laid_out("ball tool", ball_steps(tool, shop.units), ball_figures(blank, radius_mm, shop.units), made, shop)


def is_taper(kind: str, sizes: Mapping[str, float]) -> bool:
    """Whether it is a cone, or a bore that tapers."""
    return "angle to axis" in sizes and (kind == "cone" or kind == "bore" and "taper" in sizes)


def _taper(sizes: Mapping[str, float], *, is_inside: bool) -> Taper | None:
    """The cone or bore as a taper, None where its ends do not follow from what was said."""
    if not {"left diameter", "right diameter", "length"} <= set(sizes):
        return None
    left, right = sizes["left diameter"], sizes["right diameter"]
    return Taper(max(left, right), min(left, right), sizes["length"], is_inside)


def laid_out(
    subject: str, steps: Sequence[Step], figures: Sequence[Figure], made: Sequence[Pass], shop: Workshop
) -> list[str]:
    """A set-up as lines of a page's width."""
    lines = ["", f"How to set, {subject}:"]
    for k, step in enumerate(steps, 1):
        lines += textwrap.wrap(f"{k:2} {step.head}: {step.text}", WIDTH, subsequent_indent="     ")
    for figure in figures:
        lines += textwrap.wrap(f"{figure.head}: {figure.value}", WIDTH, initial_indent="  ", subsequent_indent="      ")
    if made:
        lines.append("Passes, counted from the touch on top of the blank:")
    for one in made:
        words = ": ".join(filter(None, (one.reading, one.note)))
        lines += textwrap.wrap(f"{one.number:2} {words}", WIDTH, initial_indent="  ", subsequent_indent="      ")
    if shop.is_example:
        lines += textwrap.wrap("Example workshop: these readings are not for your wheels; --workshop FILE names yours.", WIDTH)
    return lines


def measured_lines(kind: str, drawing: Drawing, said: Sequence[str], unit: Unit, shop: Workshop) -> list[str]:
    """What was measured on a ball, a cone or half a fit, as what to move or make. Raises InputWrong with every fault."""
    complaints = Complaints()
    sizes = {a.ask: a.value for a in drawing.answers}
    thread, kind = named_thread(drawing.job), "cone" if is_taper(kind, sizes) else kind
    words = {"ball": BALL_WORDS, "cone": CONE_WORDS}.get(kind) or fit_words(kind, thread)
    if not words:
        raise InputWrong([fault_at("measured-unknown", OPTION, f"nothing measured on a {kind} says how it was set",
                                   "measure a ball, a cone, a hole, a cylinder or a thread")])  # fmt: skip
    read, texts = _read(said, words, unit, complaints)
    if complaints.found:
        raise InputWrong(complaints.found)
    try:
        if kind in ("ball", "cone"):
            found = {"ball": _ball, "cone": cone_found}[kind](read, texts, sizes, unit)
        else:
            found = fit_found(kind, drawing, thread, read, texts, shop)
    except (KeyError, ValueError) as wrong:
        lacks = f"{wrong.args[0]!r} was not said" if isinstance(wrong, KeyError) else str(wrong.args[0])
        raise InputWrong([fault_at("measured-unknown", OPTION, lacks.replace('"', "'"),
                                   f"the words are: {', '.join(words)}")]) from None  # fmt: skip
    lines = ["", "From what was measured:"]
    for line in found:
        lines += textwrap.wrap(line, WIDTH, initial_indent="  ", subsequent_indent="    ")
    return lines


def _read(
    said: Sequence[str], words: Sequence[str], unit: Unit, complaints: Complaints
) -> tuple[dict[str, float], dict[str, str]]:
    """The measured lengths [mm], and what is said in words."""
    lengths: dict[str, float] = {}
    texts: dict[str, str] = {}
    for number, saying in enumerate(said, 1):
        key, _, value = saying.partition(":")
        name, place = key.strip(), Span(OPTION, number, 1)
        if name not in words or not value.strip():
            complaints.add("measured-unknown", place, f"{quoted(saying)} is nothing that is measured here",
                           did_you_mean(name, words))  # fmt: skip
        elif name in FREE_TEXTS:
            texts[name] = value.strip()
        elif name in (SWUNG, *BLUE):
            allowed = (ABOVE, "above and below") if name == SWUNG else ENDS
            texts[name] = value.strip()
            if texts[name] not in allowed:
                complaints.add("measured-unknown", place, f"{quoted(saying)} is nothing that is measured here",
                               f"write '{name}: {allowed[0]}' or '{name}: {allowed[1]}'")  # fmt: skip
        else:
            column = len(saying) - len(value.lstrip()) + 1
            scalar = Scalar(value.strip(), Span(OPTION, number, column))
            measure, suffix = MEASURES.get(name, (Measure.LENGTH, ""))
            found = exact(scalar, measure, unit, complaints, suffix)
            lengths[name] = float(found.value) if found is not None else 0.0
    return lengths, texts


def _ball(read: Mapping[str, float], texts: Mapping[str, str], sizes: Mapping[str, float], unit: Unit) -> Sequence[str]:
    moved = [Moved(read[m], read[b], m.split()[0]) for m, b in zip(MOVED, BEFORE, strict=True) if m in read]
    way = Way.ABOVE if texts.get(SWUNG) == ABOVE else Way.FULL
    measured = {name: value for name, value in read.items() if name in BALL_SIZES}
    return ball_words(measured, sizes["diameter"] / 2.0, read[GAUGE], way, unit, moved)
