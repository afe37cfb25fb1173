"""Lists of sizes: `1/16 to 1/2 by 1/64`, `No. 1 to No. 60`, `letter A to letter Z`, or one size.

Every size keeps the name it is known by in the workshop.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from handwheel.job.records import Measure, Unit
from handwheel.job.wrong import Complaints, quoted
from handwheel.job.yamltext import Scalar
from handwheel.tables.drills import INCH_MM, drill_diameter_mm
from handwheel.workshop.fields import exact

MOST_SIZES = 500
_RUN = re.compile(r"(?P<low>.+?)\s+to\s+(?P<high>.+?)(?:\s+by\s+(?P<step>.+))?$")
_NUMBER = re.compile(r"No\.?\s*(\d+)(?:\s+drill)?$")
_LETTER = re.compile(r"letter\s+([A-Za-z])(?:\s+drill)?$")


@dataclass(frozen=True, slots=True)
class Named:
    """A size and what it is called."""

    name: str
    mm: float


def read_sizes(scalar: Scalar, units: Unit, complaints: Complaints) -> tuple[Named, ...]:
    """The sizes that one item of a list stands for; faults are noted."""
    run = _RUN.match(scalar.text)
    if run is None:
        return _one(scalar, 0, scalar.text, units, complaints)
    low, high = run["low"], run["high"]
    for pattern in (_NUMBER, _LETTER):
        first, last = pattern.match(low), pattern.match(high)
        if first and last and not run["step"]:
            return _named_run(scalar, first[1], last[1], complaints)
    if not run["step"]:
        complaints.add("workshop-sizes", scalar.span, f"{quoted(scalar.text)} has no step",
                       "write it like '1/16 to 1/2 by 1/64', or list the sizes")  # fmt: skip
        return ()
    return _stepped(scalar, run, units, complaints)


def size_name(value_mm: Fraction, units: Unit) -> str:
    """A size as it is spoken of in the workshop's unit: `5/8 in`, `0.650 in`, `16 mm`."""
    if units is Unit.MM:
        return f"{float(value_mm):g} mm"
    inches = value_mm / INCH_MM
    if inches.denominator in (1, 2, 4, 8, 16, 32, 64):
        whole, part = divmod(inches, 1)
        text = " ".join(str(piece) for piece in (whole, part) if piece)
        return f"{text or '0'} in"
    return f"{float(inches):.4f}".rstrip("0") + " in"


def _spoken(text: str, units: Unit) -> Unit:
    """The unit a size is written in: its own, else the file's."""
    if text.endswith("mm"):
        return Unit.MM
    return Unit.INCH if text.endswith(("in", '"', "thou")) else units


def _one(scalar: Scalar, offset: int, text: str, units: Unit, complaints: Complaints) -> tuple[Named, ...]:
    for pattern, opening in ((_NUMBER, "No. "), (_LETTER, "letter ")):
        found = pattern.match(text)
        if found:
            name = opening + found[1].upper()
            size = drill_diameter_mm(name)
            if size is not None:
                return (Named(name, float(size)),)
    value = _length(scalar, offset, text, units, complaints)
    return (Named(size_name(value, _spoken(text, units)), float(value)),) if value else ()


def _named_run(scalar: Scalar, first: str, last: str, complaints: Complaints) -> tuple[Named, ...]:
    if first.isdigit():
        names = [f"No. {n}" for n in range(int(first), int(last) + 1)]
    else:
        names = [f"letter {chr(c)}" for c in range(ord(first.upper()), ord(last.upper()) + 1)]
    sizes = [drill_diameter_mm(name) for name in names]
    if not names or None in sizes:
        complaints.add("workshop-sizes", scalar.span, f"{quoted(scalar.text)} is no run of drills",
                       "number drills run from No. 1 to No. 97, letters from A to Z")  # fmt: skip
        return ()
    return tuple(Named(name, float(size)) for name, size in zip(names, sizes, strict=True) if size is not None)


def _stepped(scalar: Scalar, run: re.Match[str], units: Unit, complaints: Complaints) -> tuple[Named, ...]:
    low, high, step = (
        _length(scalar, run.start(part), run[part], units, complaints) for part in ("low", "high", "step")
    )
    if low is None or high is None or step is None:
        return ()
    if high < low or (high - low) / step > MOST_SIZES:
        complaints.add("workshop-sizes", scalar.span, f"{quoted(scalar.text)} is no run of sizes",
                       f"go from the smaller to the larger, in at most {MOST_SIZES} steps")  # fmt: skip
        return ()
    count = int((high - low) / step) + 1
    values = [low + step * i for i in range(count)]
    spoken = _spoken(run["low"], units)
    return tuple(Named(size_name(value, spoken), float(value)) for value in values)


def _length(scalar: Scalar, offset: int, text: str, units: Unit, complaints: Complaints) -> Fraction | None:
    """A length above zero at `offset` of the scalar."""
    place = scalar.at(offset)
    number = exact(scalar.piece(offset, offset + len(text)), Measure.LENGTH, units, complaints)
    if number is None:
        return None
    if number.value <= 0:
        complaints.add("workshop-out-of-range", place, f"{quoted(text)} is no size", "write a size above zero")
        return None
    return number.value
