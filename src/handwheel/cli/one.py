"""The command `ask`: one feature said in the job file's words, every size that follows, and the lines to paste."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from handwheel.base.faults import Fault
from handwheel.cli.answertext import answer_lines, fraction_text
from handwheel.cli.load import is_good, size_with
from handwheel.cli.table import columns
from handwheel.cli.units import value_text
from handwheel.cli.wrong import DONE, WRONG, InputWrong, fault_at, tell
from handwheel.drawing.records import Answer, Drawing, State
from handwheel.job.ask import IT
from handwheel.job.onefeature import KINDS, hosts_of, lines_to_paste, read_one_feature, split_sayings
from handwheel.job.records import Job, Measure, Size, Unit, Where
from handwheel.job.senses import CUT_IN, senses_of
from handwheel.job.wrong import Complaints
from handwheel.plan.threadwords import class_words, percent_words
from handwheel.readings.words import fixed, trimmed
from handwheel.tables.threadlimits import class_of, thread_limits
from handwheel.tables.threads import Thread

HOW = "how to set"
MADE = ("collet", "split bush")
BENDS = "how far it bends"
NARROWS = ("narrow: right", "narrow: left")
CURVES = ("ball", "hollow", "round", "fillet")


BARE_FRACTION = re.compile(r"(\d/\d+|[\u00bc-\u00be\u2150-\u215e])(?!\s*(?:mm|\d))")
NOTHING = 1e-9
"""A size no greater is not worth a line: the end of a ball that closes at its pole."""


def ask(
    kind: str, sayings: Sequence[str], asks: Sequence[str], units: str | None,
    measured: Sequence[str] = (), workshop: str | None = None, out_by: Sequence[str] = (), turned: Sequence[str] = (),
) -> int:  # fmt: skip
    """`handwheel ask`: prints the answers, or every size that follows; returns the exit status.

    Where `units` is None bare numbers are inches if one of them is a fraction, as inches are written, else mm.
    The question `how to set` is answered with the set-up, `how far it bends` with what `turned` says of a cut, `measured` with
    what to move, `out_by` with what that makes.
    """
    if kind == "taper":
        from handwheel.cli.standardtaper import ask_standard

        return ask_standard(sayings, HOW in asks, Unit(units or Unit.INCH), workshop)
    if measured or out_by or turned or {HOW, BENDS, *MADE} & set(asks):
        return _set(kind, sayings, asks, units, measured, workshop, out_by, turned)
    unit = Unit(units) if units else _unit_said(kind, sayings)
    cut = _flat_said(kind, sayings)
    sayings = [*sayings, *cut]
    said = list(sayings)
    drawing, unread = _sized(kind, said, asks, unit)
    other: Drawing | None = None
    if [fault.id for fault in drawing.faults] == ["narrowing-unknown"]:
        right, left = ([*sayings, way] for way in NARROWS)
        said, other = right, _sized(kind, left, asks, unit)[0]
        drawing, unread = _sized(kind, said, asks, unit)
    lines = _lines(kind, drawing, asks, unit)
    if other is not None and is_good(drawing):
        lines += _other_way(drawing, other, unit)
    if cut and drawing.answers:
        lines += ["", f"An end diameter was said, so the ball is read as cut flat there: '{cut[0]}'."]
    if drawing.answers:
        lines += _thread_lines(drawing.job, unit)
        lines += ["", "To paste into a part of a job, with a name in place of 'it':",
                  *(line[2:] for line in lines_to_paste(kind, said, unit))]  # fmt: skip
        lines.append(f"Bare numbers are read as {unit}; --units chooses.")
    if lines:
        print("\n".join(lines))
    if is_good(drawing):
        tell(n for n in drawing.notices if all(phrase.startswith(f"{IT} ") for phrase in n.phrases))
    wrong = [*drawing.faults, *unread, *drawing.questions_unanswered]
    tell(wrong)
    return WRONG if wrong or not is_good(drawing) else DONE


def _set(
    kind: str, sayings: Sequence[str], asks: Sequence[str], units: str | None,
    measured: Sequence[str], workshop: str | None, out_by: Sequence[str], turned: Sequence[str],
) -> int:  # fmt: skip
    """The feature's sizes, then how it is set, what a stated error makes, and what to move after what was measured."""
    from handwheel.cli.measured import measured_lines, set_lines, workshop_of
    from handwheel.cli.outby import out_by_lines

    unit = Unit(units) if units else _unit_said(kind, sayings)
    status = ask(kind, sayings, [question for question in asks if question not in (HOW, BENDS, *MADE)], str(unit))
    if status != DONE:
        return status
    drawing, _ = _sized(kind, [*sayings, *_flat_said(kind, sayings)], (), unit)
    if [fault.id for fault in drawing.faults] == ["narrowing-unknown"]:
        drawing, _ = _sized(kind, [*sayings, NARROWS[0]], (), unit)
    shop = workshop_of(workshop, unit)
    lines = set_lines(kind, drawing, shop) if HOW in asks else []
    if turned or BENDS in asks:
        from handwheel.cli.bends import bend_lines

        lines += bend_lines(kind, drawing, turned, workshop_of(workshop, unit), unit)
    for asked in (question for question in asks if question in MADE):
        from handwheel.cli.tackle import tackle_lines

        lines += tackle_lines(kind, {a.ask: a.value for a in drawing.answers}, asked, shop)
    lines += out_by_lines(kind, drawing, out_by, unit) if out_by else []
    lines += measured_lines(kind, drawing, measured, unit, shop) if measured else []
    print("\n".join(lines))
    return DONE


def _unit_said(kind: str, sayings: Sequence[str]) -> Unit:
    said = split_sayings(kind, sayings, Complaints()) if kind in KINDS else []
    is_inch = any(BARE_FRACTION.search(one.value.text) for one in said if not one.is_option)
    return Unit.INCH if is_inch else Unit.MM


def _flat_said(kind: str, sayings: Sequence[str]) -> list[str]:
    """`flat: left` for a ball that stands alone and has a diameter given at that end, but no word of a flat."""
    said = split_sayings(kind, sayings, Complaints()) if kind == "ball" else []
    if not said or any(one.is_option and one.key.text == "flat" for one in said):
        return []
    keys = {one.key.text.removeprefix(f"{IT} ") for one in said}
    sides = [side for side in ("left", "right") if f"{side} diameter" in keys]
    return [f"flat: {'both' if len(sides) == 2 else sides[0]}"] if sides else []


def _sized(kind: str, sayings: Sequence[str], asks: Sequence[str], unit: Unit) -> tuple[Drawing, tuple[Fault, ...]]:
    """The feature sized, in the first surroundings that do not quarrel with what was said of it."""
    said = split_sayings(kind, sayings, Complaints()) if kind in KINDS else []
    best: tuple[Drawing, tuple[Fault, ...]] | None = None
    for host in hosts_of(kind, said):
        job, faults = read_one_feature(kind, sayings, unit, host)
        if job is None or faults:
            raise InputWrong(faults)
        found = size_with(job, asks or _every_size(job, kind), None)
        if best is None or found[0].state is not State.CONTRADICTORY and best[0].state is State.CONTRADICTORY:
            best = found
        if is_good(found[0]):
            best = found
            break
    assert best is not None
    return _own(best[0], bool(asks)), best[1] if asks else ()


def _own(drawing: Drawing, is_asked: bool) -> Drawing:
    """Only the answers that rest on what was said, not on what the feature was put into."""
    kept = [_without_name(a) for a in drawing.answers if not _rests_on_host(a)]
    lost = [fault_at("no-answer", "--ask", f"'{a.ask}' hangs on more than was said of the feature", "ask it of a job")
            for a in drawing.answers if _rests_on_host(a)]  # fmt: skip
    unanswered = (*drawing.questions_unanswered, *lost) if is_asked else ()
    return replace(drawing, answers=tuple(kept), questions_unanswered=unanswered)


def _without_name(answer: Answer) -> Answer:
    contributors = tuple(replace(c, part="", phrase=c.phrase.removeprefix(f"{IT} ")) for c in answer.contributors)
    return replace(answer, part="", contributors=contributors)


def _rests_on_host(answer: Answer) -> bool:
    return any(not source.startswith(f"{IT} ") for source in answer.sources)


def _every_size(job: Job, kind: str) -> list[str]:
    """Every phrase that makes sense of the one feature, each size said once."""
    part = job.parts[0]
    sense = senses_of(part)[IT]
    left_out = {Size.DIAMETER_AT, Size.DISTANCE}
    if Size.DIAMETER in sense.sizes and kind not in CURVES:
        left_out |= {Size.RADIUS, Size.LEFT_DIAMETER, Size.RIGHT_DIAMETER}
    if Size.LENGTH in sense.sizes and Size.WIDTH in sense.sizes and kind in CUT_IN:
        left_out.add(Size.LENGTH if kind == "groove" else Size.WIDTH)
    if any(across.count == 1 for across in part.across) and kind == "flat":
        left_out.add(Size.ACROSS_FLATS)
    found = [str(size) for size in Size if size in sense.sizes and size not in left_out]
    if kind in CURVES and kind != "fillet":
        found.append("left to centre")
    return [*found, "mouth to point"] if Where.POINT in sense.points else found


def _lines(kind: str, drawing: Drawing, asks: Sequence[str], unit: Unit) -> list[str]:
    if asks:
        return answer_lines(drawing.answers, unit)
    given = frozenset(d.phrase.text for d in drawing.job.parts[0].dimensions)
    rows = [_row(a, given, unit) for a in drawing.answers if a.value > NOTHING or f"{IT} {a.ask}" in given]
    return [f"{kind}:", *columns(rows)] if rows else []


def _row(answer: Answer, given: frozenset[str], unit: Unit) -> tuple[str, ...]:
    """A size in inches, as the nearest fraction, in millimetres; and where it comes from."""
    origin = "given" if f"{IT} {answer.ask}" in given else "follows"
    measure = answer.measure
    if measure is Measure.RATIO:
        return (answer.ask, f"1 in {trimmed(1.0 / answer.value, 3)}", f"{fixed(answer.value, 5)}", "", origin)
    if measure is not Measure.LENGTH:
        return (answer.ask, value_text(measure, answer.value, unit), "", "", origin)
    inch, mm = (value_text(measure, answer.value, each) for each in (Unit.INCH, Unit.MM))
    fraction = f"= {fraction_text(answer.value)}"
    pair = (inch, fraction, mm) if unit is Unit.INCH else (mm, inch, fraction)
    return (answer.ask, *pair, origin)


def _other_way(drawing: Drawing, other: Drawing, unit: Unit) -> list[str]:
    """What differs when it narrows to the left."""
    values = {a.ask: a for a in drawing.answers}
    differs = [a for a in other.answers if a.ask in values and abs(a.value - values[a.ask].value) > 1e-9]
    rows = [_row(a, frozenset(), unit) for a in differs]
    return ["", "Read as narrowing to the right. With 'narrow: left' these differ:", *columns(rows)]


def _thread_lines(job: Job, unit: Unit) -> list[str]:
    """The basic sizes of a thread that was named."""
    from handwheel.cli.measured import named_thread

    thread = named_thread(job)
    if thread is None:
        return []
    return [f"  {thread.designation}, basic sizes:", *columns(_sizes(thread, unit)), *columns(_more(thread, unit))]


def _more(thread: Thread, unit: Unit) -> Iterable[tuple[str, str]]:
    """Its limits in the usual class, and what the table's drill leaves of the thread under each convention."""
    for is_nut in (False, True):
        cls = class_of(thread, is_nut)
        limits = thread_limits(thread, cls) if cls is not None else None
        if limits is None:
            continue
        rows = (("major", limits.major_low_mm, limits.major_high_mm),
                ("effective", limits.effective_low_mm, limits.effective_high_mm),
                ("minor", limits.minor_low_mm, limits.minor_high_mm))  # fmt: skip
        for name, low, high in rows:
            if low is not None and high is not None:
                ends = " to ".join(value_text(Measure.LENGTH, size, unit) for size in (low, high))
                yield f"  {name} diameter, {class_words(thread, limits)}", ends
    if thread.tapping_drill_mm is not None:
        for share in percent_words(thread, thread.tapping_drill_mm).split(", "):
            yield "  thread that drill leaves", share


def _sizes(thread: Thread, unit: Unit) -> Iterable[tuple[str, ...]]:
    sizes = (("major diameter", thread.major_mm), ("effective diameter", thread.pitch_diameter_mm),
             ("minor diameter of the nut", thread.minor_internal_mm), ("root of the screw", thread.minor_external_mm),
             ("pitch", thread.pitch_mm), ("tapping drill", thread.tapping_drill_mm))  # fmt: skip
    for name, size in sizes:
        if size is not None:
            units = (unit, Unit.MM if unit is Unit.INCH else Unit.INCH)
            yield (f"  {name}", *(value_text(Measure.LENGTH, size, each) for each in units))
