"""Densities by the words of a material: the standards' figures typed again, in their own units."""

import pytest

from handwheel.tables.densities import density_of, known_kinds

G = 9.80665
WEIGHTS = {  # kN/m3, EN 1991-1-1 table A.4
    "brass": (83.0, 85.0),
    "bronze": (83.0, 85.0),
    "cast iron": (71.0, 72.5),
    "copper": (87.0, 89.0),
    "lead": (112.0, 114.0),
    "zinc": (71.0, 72.0),
}
MASSES = {"steel": (7850, 7850), "stainless steel": (7700, 8000), "aluminium alloy": (2700, 2700)}  # kg/m3


@pytest.mark.parametrize("kind", [*WEIGHTS, *MASSES])
def test_figures(kind: str) -> None:
    low, high = MASSES[kind] if kind in MASSES else (w / G * 1000 for w in WEIGHTS[kind])
    found = density_of(kind)
    assert found is not None
    assert (found.kind, found.low * 1e6, found.high * 1e6) == (kind, pytest.approx(low, abs=1), pytest.approx(high, abs=1))


def test_every_kind_is_checked() -> None:
    assert set(known_kinds()) == {*WEIGHTS, *MASSES}


@pytest.mark.parametrize(
    ("material", "kind"),
    [
        ("free-cutting mild steel", "steel"),
        ("Silver Steel, hardened", "steel"),
        ("stainless steel 1.4305", "stainless steel"),
        ("phosphor-bronze", "bronze"),
        ("cast iron, close grained", "cast iron"),
        ("aluminium alloy", "aluminium alloy"),
        ("aluminum", "aluminium alloy"),
        ("mild steel, zinc plated", "steel"),
        ("leaded free-cutting steel", "steel"),
        ("gunmetal", "bronze"),
    ],
)
def test_the_words_of_a_drawing(material: str, kind: str) -> None:
    found = density_of(material)
    assert found is not None
    assert found.kind == kind


@pytest.mark.parametrize("material", ["", "acetal", "brass or steel", "aluminium bronze", "nickel silver", "ironwood"])
def test_what_is_not_known_has_none(material: str) -> None:
    assert density_of(material) is None
