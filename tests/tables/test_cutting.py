"""Cutting forces and moduli: Kienzle's relation written out, and moduli typed again from standards' usual values."""

import pytest

from handwheel.tables.cutting import cutting_of


def test_kienzle_written_out():
    # F = kc11 * b * h^(1 - m): C15 1820 N/mm², m 0.22; 1 mm deep at 0.2 mm a turn: 1820 * 0.2^0.78 = 518.6 N
    steel = cutting_of("mild steel")
    assert steel is not None
    assert steel.force_n(1.0, 0.2) == pytest.approx(518.6, abs=0.1)
    low, high = steel.push_n(1.0, 0.2)
    assert low == pytest.approx(518.6 / 4, abs=0.1)
    assert high == pytest.approx(518.6, abs=0.1)


@pytest.mark.parametrize(
    ("words", "gpa"),
    # BS 970, BS 1407, EN 1982, EN 755-2 and CDA data, typical values, from memory
    [("free-cutting mild steel", 205), ("silver steel", 208), ("brass", 97), ("phosphor bronze", 105),
     ("aluminium alloy", 70), ("stainless steel", 195)],
)
def test_moduli(words, gpa):
    found = cutting_of(words)
    assert found is not None
    assert found.e_gpa == pytest.approx(gpa, rel=0.05)


@pytest.mark.parametrize("words", ["", "a metal", "aluminium bronze", "hardened steel", "brass or steel"])
def test_what_is_not_known_has_none(words):
    assert cutting_of(words) is None
