"""The work's give against a beam of finite elements written here: two-node elements with shear, springs and props at nodes.

The element's stiffness is the textbook Timoshenko one (Przemieniecki, Theory of Matrix Structural Analysis, from memory): EI,
and Φ = 12 EI k / (G A l²). A taper is many short steps. Nothing of the project's own integrals is used.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from handwheel.stages.bending import Elastic, gives_mm_per_n, moves_mm_per_n, worst_give
from handwheel.stages.records import Holding, Section

E_GPA, POISSON = 200.0, 0.3
Outline = tuple[tuple[float, float], ...]
"""z and diameter, from one to the next."""


def section_of(outside: Outline, bore: Outline | None) -> Section:
    length = outside[-1][0]
    inner = bore or ((0.0, 0.0), (length, 0.0))
    return Section(np.array([(z, d / 2) for z, d in outside]), np.array([(z, d / 2) for z, d in inner]))


def diameter(outline: Outline, z: float) -> float:
    """At z, a step counted by the stretch that z lies in."""
    for (z0, d0), (z1, d1) in zip(outline, outline[1:], strict=False):
        if z0 <= z <= z1 and z1 > z0:
            return d0 + (d1 - d0) * (z - z0) / (z1 - z0)
    raise AssertionError(z)


def element(l_mm: float, outer: float, inner: float, has_shear: bool) -> NDArray[np.float64]:
    ei = E_GPA * 1e3 * math.pi / 64 * (outer**4 - inner**4)
    m = (inner / outer) ** 2
    k = ((7 + 6 * POISSON) * (1 + m) ** 2 + (20 + 12 * POISSON) * m) / (6 * (1 + POISSON) * (1 + m) ** 2)  # Cowper 1966
    ga = E_GPA * 1e3 / (2 * (1 + POISSON)) * math.pi / 4 * (outer**2 - inner**2)
    phi = 12 * ei * k / (ga * l_mm**2) if has_shear else 0.0
    found: NDArray[np.float64] = ei / (l_mm**3 * (1 + phi)) * np.array([
        [12, 6 * l_mm, -12, 6 * l_mm],
        [6 * l_mm, (4 + phi) * l_mm**2, -6 * l_mm, (2 - phi) * l_mm**2],
        [-12, -6 * l_mm, 12, -6 * l_mm],
        [6 * l_mm, (2 - phi) * l_mm**2, -6 * l_mm, (4 + phi) * l_mm**2],
    ])  # fmt: skip
    return found


def solved(
    outside: Outline, bore: Outline | None, places: dict[str, float], fixed: tuple[str, ...], *,
    clamp: str | None, spring: float = 0.0, has_shear: bool = True,
) -> Callable[[str, str], float]:  # fmt: skip
    """Movement of one named place for 1 N at another. fixed: places that do not move; clamp: one that does not tilt either, and
    gives `spring` mm for a newton."""
    start, end = places.get(clamp or "head", 0.0), max(z for z, _ in outside)
    marks = sorted({start, end, *places.values(), *(z for z, _ in outside if z > start)})
    nodes = np.unique(np.concatenate([np.linspace(a, b, 41) for a, b in zip(marks, marks[1:], strict=False)]).round(9))
    k = np.zeros((2 * len(nodes), 2 * len(nodes)))
    for i, (a, b) in enumerate(zip(nodes, nodes[1:], strict=False)):
        z = (a + b) / 2
        inner = diameter(bore, z) if bore else 0.0
        k[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += element(b - a, diameter(outside, z), inner, has_shear)
    at = {name: int(np.argmin(abs(nodes - z))) for name, z in places.items()}
    held = [2 * at[name] for name in fixed]
    if clamp is not None:
        held.append(2 * at[clamp] + 1)
        if spring:
            k[2 * at[clamp], 2 * at[clamp]] += 1.0 / spring
        else:
            held.append(2 * at[clamp])
    free = [i for i in range(len(k)) if i not in held]
    inverse = np.zeros_like(k)
    inverse[np.ix_(free, free)] = np.linalg.inv(k[np.ix_(free, free)])
    return lambda place, load: float(inverse[2 * at[place], 2 * at[load]])


PLAIN: Outline = ((0.0, 16.0), (200.0, 16.0))
STEPPED: Outline = ((0.0, 22.0), (60.0, 22.0), (60.0, 14.0), (130.0, 14.0), (130.0, 9.0), (200.0, 9.0))
TAPERED: Outline = ((0.0, 20.0), (200.0, 8.0))
WAISTED: Outline = ((0.0, 18.0), (80.0, 10.0), (120.0, 10.0), (120.0, 24.0), (200.0, 15.0))
TUBE: Outline = ((0.0, 7.0), (120.0, 7.0), (120.0, 4.0), (200.0, 4.0))
SHAPES: list[tuple[Outline, Outline | None]] = [
    (PLAIN, None), (STEPPED, None), (TAPERED, None), (WAISTED, None), (PLAIN, TUBE), (TAPERED, ((0.0, 5.0), (200.0, 5.0))),
]  # fmt: skip
TOOLS = (45.0, 118.0, 165.0)


def in_chuck(centre: float | None = None, steady: float | None = None) -> Holding:
    return Holding("chuck", "three-jaw", -20.0, 15.0, "stock", "right", 15.0, centre_mm=centre, steady_mm=steady)


@pytest.mark.parametrize("spring", [0.0, 2e-5])
@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize(("outside", "bore"), SHAPES)
def test_in_the_chuck_alone_with_a_centre_with_a_steady_with_both(
    outside: Outline, bore: Outline | None, tool: float, spring: float
) -> None:
    for props in ({}, {"centre": 200.0}, {"steady": 100.0}, {"steady": 100.0, "centre": 200.0}):
        give = solved(outside, bore, {"jaws": 15.0, "tool": tool, **props}, tuple(props), clamp="jaws", spring=spring)
        found = gives_mm_per_n(section_of(outside, bore), in_chuck(props.get("centre"), props.get("steady")), tool,
                               Elastic(E_GPA, spring))  # fmt: skip
        assert found == pytest.approx(give("tool", "tool"), rel=2e-3), props


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize(("outside", "bore"), SHAPES)
def test_between_centres(outside: Outline, bore: Outline | None, tool: float) -> None:
    give = solved(outside, bore, {"head": 0.0, "tail": 200.0, "tool": tool}, ("head", "tail"), clamp=None)
    holding = Holding("centres", "between centres", 0.0, 0.0, "stock", "right", 0.0, centre_mm=200.0, headstock_centre_mm=0.0)
    found = gives_mm_per_n(section_of(outside, bore), holding, tool, Elastic(E_GPA))
    assert found == pytest.approx(give("tool", "tool"), rel=2e-3)


@pytest.mark.parametrize(("outside", "bore"), SHAPES)
def test_a_push_at_one_place_moves_another(outside: Outline, bore: Outline | None) -> None:
    places = {"jaws": 15.0, "near": 70.0, "far": 190.0, "steady": 120.0}
    give = solved(outside, bore, places, ("steady",), clamp="jaws")
    found = moves_mm_per_n(section_of(outside, bore), in_chuck(steady=120.0), 70.0, 190.0, Elastic(E_GPA))
    assert give("near", "far") < 0.0  # it moves the other way between jaws and steady
    assert found == pytest.approx(give("near", "far"), rel=2e-3)


def test_worst_place_with_a_centre_is_six_tenths_of_the_way_out() -> None:
    """Bending alone 2 - √2 of the way; with shear, and for a bar stepped down toward the centre, by the elements themselves."""
    for outside in (PLAIN, STEPPED):
        places = np.linspace(20.0, 195.0, 71)
        _, where = worst_give(section_of(outside, None), in_chuck(200.0), places, Elastic(E_GPA))
        held = {"jaws": 15.0, "centre": 200.0}
        found = [solved(outside, None, {**held, "tool": float(z)}, ("centre",), clamp="jaws")("tool", "tool") for z in places]
        assert where == pytest.approx(places[int(np.argmax(found))], abs=2.6)
    alone = Elastic(E_GPA, has_shear=False)
    _, where = worst_give(section_of(PLAIN, None), in_chuck(200.0), np.linspace(16.0, 199.0, 367), alone)
    assert (where - 15.0) / 185.0 == pytest.approx(2.0 - math.sqrt(2.0), abs=0.004)


@pytest.mark.parametrize(("slim", "more"), [(3.0, 0.06), (1.0, 0.54), (8.0, 0.0084)])
def test_shear_of_a_solid_bar(slim: float, more: float) -> None:
    """0.54·(d/L)² beside bending: 10/9 · 3/16 · 2(1 + ν) for steel's 0.29; Cowper's differs by 2 in 100."""
    outside: Outline = ((0.0, 10.0), (10.0 * slim, 10.0))
    holding = Holding("chuck", "three-jaw", -20.0, 0.0, "stock", "right", 0.0)
    section = section_of(outside, None)
    whole, alone = (gives_mm_per_n(section, holding, 10.0 * slim, Elastic(E_GPA, has_shear=s)) for s in (True, False))
    assert whole / alone - 1.0 == pytest.approx(more, rel=0.04)
