"""Gauges, bars, materials and habits from a workshop file."""

from __future__ import annotations

import json
from collections.abc import Mapping as Named
from functools import cache
from importlib import resources
from typing import Any

from handwheel.job.records import Measure, Unit
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Scalar
from handwheel.tables.drills import INCH_MM
from handwheel.workshop.fields import Fields, exact
from handwheel.workshop.machine import first_key
from handwheel.workshop.records import Bar, Gauge, Habit, Material
from handwheel.workshop.sizes import read_sizes

FORMS = ("round", "hexagon", "square", "tube")
MEASURES = ("outside", "inside", "length", "depth", "step", "angle", "run-out")
COMMON = "common practice, no source"
_SPEEDS = {"m/min": 1.0, "ft/min": 12 * float(INCH_MM) / 1000}


def read_gauges(fields: Fields) -> tuple[Gauge, ...]:
    """What sizes are measured with."""
    found = []
    for item in fields.items("gauges"):
        inner = Fields(item, fields.complaints, fields.units, "this gauge")
        measures = inner.scalars("measures")
        for scalar in measures:
            if scalar.text not in MEASURES:
                fields.complaints.add("workshop-word-unknown", scalar.span,
                                      f"{quoted(scalar.text)} is nothing a gauge measures",
                                      did_you_mean(scalar.text, MEASURES))  # fmt: skip
        gauge = Gauge(
            name=inner.text("name"),
            measures=tuple(s.text for s in measures),
            least_mm=inner.length("least", is_zero_good=True),
            greatest_mm=inner.length("greatest"),
            error_mm=inner.length("error"),
            resolution_mm=inner.length("resolution"),
            unit=Unit(inner.choice("unit", [u.value for u in Unit])),
        )
        inner.in_order(gauge.least_mm, gauge.greatest_mm, "least")
        inner.close()
        found.append(gauge)
    return tuple(found)


def read_bars(fields: Fields) -> tuple[Bar, ...]:
    """Bar and tube at hand: a list whose items open with their form, then the sizes."""
    found: list[Bar] = []
    for item in fields.items("bars"):
        form = first_key(item)
        if form not in FORMS:
            fields.complaints.add("workshop-word-unknown", item.span, f"{quoted(form)} is no form of bar",
                                  did_you_mean(form, FORMS))  # fmt: skip
            continue
        inner = Fields(item, fields.complaints, fields.units, f"this {form} bar")
        sizes = [size for scalar in inner.scalars(form)
                 for size in read_sizes(scalar, fields.units, fields.complaints)]  # fmt: skip
        material = inner.text("material")
        tolerance, length = inner.length_or_none("tolerance"), inner.length_or_none("length", is_zero_good=False)
        bore = inner.length("bore") if form == "tube" else None
        inner.close()
        found.extend(Bar(form, s.mm, material, f"{form} {s.name}", bore, tolerance, length) for s in sizes)
    return tuple(found)


def read_materials(fields: Fields) -> tuple[Material, ...]:
    """Materials by name, each with its surface speed for the tool steel in use, and where that comes from."""
    entry = fields.entry("materials")
    if entry is None:
        return ()
    listed = Fields(entry.value, fields.complaints, fields.units, "the materials")
    found = []
    for each in listed.mapping.entries:
        inner = Fields(each.value, fields.complaints, fields.units, each.key.text)
        scalar = inner.scalar(inner.entry("surface speed", False))
        found.append(Material(each.key.text, _speed(scalar, fields), inner.text("source", scalar is not None)))
        inner.close()
    return tuple(found)


def _speed(scalar: Scalar | None, fields: Fields) -> float | None:
    """`30 m/min` or `100 ft/min`, in m/min."""
    if scalar is None:
        return None
    for unit, factor in _SPEEDS.items():
        if scalar.text.endswith(unit):
            value = fields.read(scalar, Measure.RATIO, False, unit)
            return None if value is None else value * factor
    fields.complaints.add("workshop-measure", scalar.span, f"{quoted(scalar.text)} is not a surface speed",
                          "write it like 30 m/min or 100 ft/min, or unknown")  # fmt: skip
    return None


@cache
def known_habits() -> dict[str, dict[str, Any]]:
    """Every habit by name: value, unit, meaning."""
    text = resources.files("handwheel.workshop").joinpath("data", "habits.json").read_text(encoding="utf-8")
    found: dict[str, dict[str, Any]] = json.loads(text)
    return found


def read_habits(fields: Fields, whose: str) -> Named[str, Habit]:
    """All habits: those written, by `whose`; the rest by common practice, which they say."""
    habits = {name: Habit(name, row["value"], row["unit"], COMMON) for name, row in known_habits().items()}
    entry = fields.entry("habits", False)
    if entry is None:
        return habits
    listed = Fields(entry.value, fields.complaints, fields.units, "the habits")
    for name, row in known_habits().items():
        scalar = listed.scalar(listed.entry(name, False))
        if scalar is not None:
            value = _habit(scalar, row["unit"], fields.units, fields.complaints)
            habits[name] = Habit(name, value, row["unit"], whose)
    listed.close()
    return habits


def _habit(scalar: Scalar, unit: str, units: Unit, complaints: Complaints) -> float:
    measure = {"mm": Measure.LENGTH, "deg": Measure.ANGLE}.get(unit, Measure.RATIO)
    suffix = "diameters" if unit == "diameters" else ""
    number = exact(scalar, measure, units, complaints, suffix)
    return float(number.value) if number else 0.0
