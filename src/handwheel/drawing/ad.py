"""Exact derivatives: numbers that carry their gradient along, sparse, and know whether they are still linear.

A `Scalar` is a float, an array of floats (the same sum for many corners at once) or a `Dual`. The value and the
gradient entries of a `Dual` may themselves be arrays. Nothing here knows of drawings.
"""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np

Scalar: TypeAlias = Any
"""float, float array, or Dual; the same formula serves all three."""


class Dual:
    """A value with its gradient; `lin` while it is exactly linear in what it was made of."""

    __slots__ = ("a", "g", "lin")
    __array_ufunc__ = None

    def __init__(self, a: Scalar, g: dict[int, Scalar], lin: bool = True) -> None:
        self.a = a
        self.g = g
        self.lin = lin

    def __add__(self, o: Scalar) -> Dual:
        if type(o) is not Dual:
            return Dual(self.a + o, self.g, self.lin)
        g = dict(self.g)
        for k, d in o.g.items():
            g[k] = g[k] + d if k in g else d
        return Dual(self.a + o.a, g, self.lin and o.lin)

    __radd__ = __add__

    def __neg__(self) -> Dual:
        return Dual(-self.a, {k: -d for k, d in self.g.items()}, self.lin)

    def __sub__(self, o: Scalar) -> Dual:
        if type(o) is not Dual:
            return Dual(self.a - o, self.g, self.lin)
        g = dict(self.g)
        for k, d in o.g.items():
            g[k] = g[k] - d if k in g else -d
        return Dual(self.a - o.a, g, self.lin and o.lin)

    def __rsub__(self, o: Scalar) -> Dual:
        return Dual(o - self.a, {k: -d for k, d in self.g.items()}, self.lin)

    def __mul__(self, o: Scalar) -> Dual:
        if type(o) is not Dual:
            return Dual(self.a * o, {k: d * o for k, d in self.g.items()}, self.lin)
        a, b = self.a, o.a
        if o is self:
            twice = a + a
            return Dual(a * a, {k: d * twice for k, d in self.g.items()}, False)
        g = {k: d * b for k, d in self.g.items()}
        for k, d in o.g.items():
            g[k] = g[k] + d * a if k in g else d * a
        return Dual(a * b, g, False)

    __rmul__ = __mul__

    def __truediv__(self, o: Scalar) -> Dual:
        if type(o) is not Dual:
            return self.__mul__(1.0 / o)
        return self.__mul__(_chain(o, 1.0 / o.a, -1.0 / (o.a * o.a)))

    def __rtruediv__(self, o: Scalar) -> Dual:
        return _chain(self, o / self.a, -o / (self.a * self.a))


def _chain(x: Dual, value: Scalar, slope: Scalar) -> Dual:
    return Dual(value, {k: d * slope for k, d in x.g.items()}, False)


def value_of(x: Scalar) -> Scalar:
    """The plain value."""
    return x.a if type(x) is Dual else x


def root(x: Scalar) -> Scalar:
    """Square root; zero below zero, so that a shape on the edge of what can be still has a value."""
    if type(x) is Dual:
        s = np.sqrt(np.maximum(x.a, 1e-24))
        return _chain(x, s, 0.5 / s)
    return np.sqrt(np.maximum(x, 0.0))


def size_of(x: Scalar) -> Scalar:
    """Absolute value."""
    if type(x) is not Dual:
        return np.abs(x)
    s = np.where(np.asarray(x.a) < 0.0, -1.0, 1.0)
    sign: Scalar = float(s) if s.ndim == 0 else s
    return x * sign


def tan_deg(x: Scalar) -> Scalar:
    """Tangent of an angle in degrees."""
    if type(x) is Dual:
        t = np.tan(np.radians(x.a))
        return _chain(x, t, (1.0 + t * t) * (np.pi / 180.0))
    return np.tan(np.radians(x))


def atan_deg(x: Scalar) -> Scalar:
    """Angle in degrees of a tangent."""
    if type(x) is Dual:
        return _chain(x, np.degrees(np.arctan(x.a)), (180.0 / np.pi) / (1.0 + x.a * x.a))
    return np.degrees(np.arctan(x))
