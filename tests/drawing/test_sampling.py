"""Sizes of copies made at random, against closed forms and against one copy worked out at a time."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm, truncnorm

from handwheel.drawing.group import Group, build_group, tied_groups
from handwheel.drawing.leeway import Leeway, make_leeway
from handwheel.drawing.sampling import Spread, sample_sizes, scatters
from handwheel.drawing.settle import settle
from handwheel.job.read import read_job
from handwheel.job.records import Job

CHAIN = """\
handwheel: 1
job: chain
units: mm
parts:
  it:
    outside: [{cylinder: a}, {cylinder: b}, {cylinder: c}]
    dimensions:
      a diameter: 30 ± 0.1
      b diameter: 20 ± 0.1
      c diameter: 10 ± 0.1
      a length: 10 +0.3 -0
      b length: 20 ± 0.2
      overall length: 60 +0 -0.4
      c length: (30 ± 0.25)
"""
BALL = """\
handwheel: 1
job: ball
units: mm
parts:
  it:
    outside: [{ball: knob}, {cylinder: neck}]
    dimensions:
      knob diameter: 20 ± 0.2
      neck diameter: 12 ± 0.3
      neck length: 25 ± 0.1
"""


def read(text: str) -> Job:
    job, faults = read_job(text.encode(), "test.yaml")
    assert job is not None, [f.line() for f in faults]
    return job


def ready(text: str) -> tuple[Group, Leeway]:
    job = read(text)
    ((members, placed),) = tied_groups(job)
    group = build_group(job, members, placed)
    return group, make_leeway(settle(group))


def test_linear_chain_even_has_the_mean_and_deviation_of_its_terms() -> None:
    (found,) = scatters(read(CHAIN), [], 200_000, seed=3, spread=Spread.EVEN)
    # c = overall - a - b: middles 59.8 - 10.15 - 20; an even spread of width w has the variance w²/12
    deviation = np.sqrt((0.3**2 + 0.4**2 + 0.4**2) / 12.0)
    assert found.mean == pytest.approx(29.65, abs=4 * deviation / np.sqrt(200_000))
    assert found.deviation == pytest.approx(deviation, rel=0.01)
    assert found.limits == pytest.approx((29.75, 30.25))
    # the sum of three even spreads, by its own convolution on a fine grid
    step = 1e-4
    density = np.ones(round(0.3 / step))
    for width in (0.4, 0.4):
        density = np.convolve(density, np.ones(round(width / step)))
    beyond = density[: round((29.75 - (29.65 - 0.55)) / step)].sum() / density.sum()
    assert found.outside == pytest.approx(beyond, abs=0.006)


def test_linear_chain_normal_cut_at_its_limits() -> None:
    (found,) = scatters(read(CHAIN), [], 200_000, seed=4)
    cut = float(truncnorm.std(-3.0, 3.0))
    deviation = cut * np.sqrt(0.05**2 + (0.2 / 3) ** 2 + (0.2 / 3) ** 2)
    assert found.deviation == pytest.approx(deviation, rel=0.01)
    assert found.outside == pytest.approx(norm.cdf((29.75 - 29.65) / deviation), abs=0.01)


def test_bent_size_follows_the_circle_for_every_copy() -> None:
    group, way = ready(BALL)
    by_name = {name[1:3]: i for i, name in enumerate(group.unknowns.names)}
    ball, neck = by_name["arc radius", "knob"], by_name["radius", "neck"]
    centre = by_name["centre", "knob"]
    junction = group.shapes["it"].outside[0].zr
    fns = [lambda v, i=i: v[i] for i in (ball, neck, centre, junction)]  # type: ignore[misc]
    made = sample_sizes(way, fns, 5_000, seed=1)
    radius, r, zc, z = made.sizes
    assert made.without_shape == 0.0
    assert np.ptp(radius) > 0.15
    np.testing.assert_allclose(z - zc, np.sqrt(radius**2 - r**2), atol=1e-9)


def test_copies_without_a_shape_are_counted() -> None:
    text = BALL.replace("20 ± 0.2", "20 ± 0.5").replace("12 ± 0.3", "19.8 ± 0.5")
    group, way = ready(text)
    junction = group.shapes["it"].outside[0].zr
    made = sample_sizes(way, [lambda v: v[junction]], 40_000, seed=2, spread=Spread.EVEN)
    # a neck thicker than its ball: the difference of two even spreads of width 1 is below -0.2
    assert made.without_shape == pytest.approx(0.8**2 / 2.0, abs=0.01)
    assert np.isnan(made.sizes).mean() == made.without_shape


def test_same_seed_same_copies() -> None:
    group, way = ready(BALL)
    junction = group.shapes["it"].outside[0].zr
    one, two, other = (sample_sizes(way, [lambda v: v[junction]], 100, seed=s).sizes for s in (5, 5, 6))
    assert (one == two).all()
    assert (one != other).any()


def test_each_copy_as_if_sized_by_itself() -> None:
    text = BALL.replace("{cylinder: neck}", "{cone: neck}").replace(
        "neck diameter: 12 ± 0.3", "neck diameter at knob centre: 12 ± 0.3\n      neck taper: 1 in 10"
    )
    group, way = ready(text)
    sizes = [lambda v, i=i: v[i] for i in range(1, group.count)]  # type: ignore[misc]
    made = sample_sizes(way, sizes, 6, seed=9).sizes
    free = [g for g in group.givens if g.index in way.places]
    fns = [lambda v, p=g.index: v[p] for g in free]  # type: ignore[misc]
    thrown = sample_sizes(way, [*sizes, *fns], 6, seed=9).sizes[len(sizes) :]
    for k in range(6):
        for given, value in zip(free, thrown[:, k], strict=True):
            given.nominal = float(value)
        alone = settle(group)
        assert alone.v is not None
        np.testing.assert_allclose(made[:, k], alone.v[1 : group.count], atol=1e-8)
