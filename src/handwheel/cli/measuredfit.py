"""What may be measured of half a fit, of a joint or of a lever that screws home, and what it says."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from handwheel.cli.measuredcone import GAUGE
from handwheel.drawing.records import Drawing
from handwheel.job.records import Measure
from handwheel.setups.clocking import clocked_words
from handwheel.setups.fits import Half, mate_asked, reamed_asked
from handwheel.setups.jointasked import Measured, joint_asked
from handwheel.tables.bonded import compounds
from handwheel.tables.threads import Thread
from handwheel.workshop.records import Workshop

HOLES = ("hole", "bore", "counterbore")
HUB, SHAFT, COMPOUND, SHOULDER = "hub", "shaft", "compound", "shoulder"
FREE_TEXTS = (HUB, SHAFT, COMPOUND, SHOULDER)
OUTSIDE, BORE, LENGTH, PUSH, TORQUE, REAMER = "outside", "spigot bore", "length", "push", "torque", "reamer"
JOINT_WORDS = (OUTSIDE, BORE, LENGTH, *FREE_TEXTS, PUSH, TORQUE)
SHORT, PAST, JUDGED = "short by", "past by", "judged to"
CLOCK_WORDS = (SHORT, PAST, JUDGED)
MEASURES = {PUSH: (Measure.RATIO, "N"), TORQUE: (Measure.RATIO, "N·m"), SHORT: (Measure.ANGLE, ""), PAST: (Measure.ANGLE, ""),
            JUDGED: (Measure.ANGLE, "")}  # fmt: skip
"""Words that are no lengths: what they measure, and the unit that may be written after a plain number."""
_CLASS = re.compile(r"[A-Za-z]{1,2}\d{1,2}$")


def fit_words(kind: str, thread: Thread | None) -> tuple[str, ...]:
    """The words that may be measured of that kind of feature; () where none may."""
    if thread is not None:
        return CLOCK_WORDS
    if kind in HOLES:
        return ("diameter", GAUGE, REAMER, "spigot", *JOINT_WORDS)
    return ("diameter", GAUGE, "hole", *JOINT_WORDS) if kind == "cylinder" else ()


def half_of(kind: str, drawing: Drawing) -> Half:
    """The hole or spigot as drawn, with its class where one was written."""
    size = next(a.value for a in drawing.answers if a.ask == "diameter")
    drawn = [d for p in drawing.parts for d in p.dimensions if d.given and d.phrase.endswith("diameter")]
    cls = next((d.tolerance_from for d in drawn if _CLASS.match(d.tolerance_from) and abs(d.value - size) < 1e-6), "")
    return Half(size, kind in HOLES, cls)


def fit_found(
    kind: str, drawing: Drawing, thread: Thread | None, read: Mapping[str, float], texts: Mapping[str, str], shop: Workshop
) -> Sequence[str]:
    """What was measured in words. KeyError for a word that is wanted and was not said, ValueError for what cannot be."""
    if thread is not None:
        if SHORT in read and PAST in read:
            raise ValueError(f"{SHORT!r} and {PAST!r} cannot both be")
        short = -read[PAST] if PAST in read else read[SHORT]
        return clocked_words(thread, short, read.get(JUDGED), shop)
    half = half_of(kind, drawing)
    if REAMER in read and "diameter" not in read:
        return reamed_asked(half, read[REAMER], read[GAUGE], shop)
    own, error = read["diameter"], read[GAUGE]
    found = mate_asked(half, own, error, shop)
    if half.mate not in read:
        return found
    hole, spigot = (own, read[half.mate]) if half.is_hole else (read[half.mate], own)
    if spigot > hole and OUTSIDE not in read:
        raise KeyError(OUTSIDE)
    if texts.get(COMPOUND, "") not in ("", *(c.kind for c in compounds())):
        raise ValueError(f"{texts[COMPOUND]!r} is no kind of compound; write {', '.join(c.kind for c in compounds())}")
    joint = Measured(
        hole, spigot, error, read[LENGTH], texts.get(HUB, ""), texts.get(SHAFT, ""), read.get(OUTSIDE, 0.0),
        read.get(BORE, 0.0), texts.get(COMPOUND, ""), read.get(PUSH, 0.0), read.get(TORQUE, 0.0),
        texts.get(SHOULDER, "no") == "yes")  # fmt: skip
    return (*found, *joint_asked(joint, shop))
