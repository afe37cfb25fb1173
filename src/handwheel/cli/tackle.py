"""`handwheel ask ball … --ask "collet"` and `ask cylinder … --ask "split bush"`: what holds it, as something to make."""

from __future__ import annotations

from collections.abc import Mapping

from handwheel.cli.measured import laid_out
from handwheel.cli.wrong import InputWrong, fault_at
from handwheel.plan.grips import BUSH_WALL_MM, LEAST_MOUTH_MM, LIP
from handwheel.readings.words import length_text
from handwheel.setups.tackle import (
    ball_collet_for,
    bush_limits,
    bush_steps,
    collet_limits,
    collet_steps,
    split_bush_for,
)
from handwheel.workshop.records import Workshop

COLLET, BUSH = "collet", "split bush"


def tackle_lines(kind: str, sizes: Mapping[str, float], asked: str, shop: Workshop) -> list[str]:
    """What is to be made, as lines. sizes: of the feature, by phrase. [mm] Raises InputWrong where it cannot be told."""
    diameter = sizes.get("diameter")
    if asked == COLLET and kind == "ball" and diameter is not None:
        if LIP * diameter / 2.0 < LEAST_MOUTH_MM:
            least = length_text(2.0 * LEAST_MOUTH_MM / LIP, shop.units)
            raise InputWrong([fault_at("nothing-to-set", "--ask", f"no collet's lip holds a ball so small: {least} at the least",
                                       "hold it by its neck, in a split bush")])  # fmt: skip
        half = shop.habit("ball collet limit") / 2.0
        one = ball_collet_for((diameter - half, diameter + half), LIP * diameter / 2.0, shop)
        return laid_out("ball-holding collet", collet_steps(shop), collet_limits(one, shop), (), shop)
    if asked == BUSH and kind == "cylinder" and diameter is not None and "length" in sizes:
        half = shop.habit("capability diameter")
        bush = split_bush_for((diameter - half, diameter + half), diameter + 2.0 * BUSH_WALL_MM, sizes["length"], 1, shop)
        return laid_out("split bush", bush_steps(1, shop), bush_limits(bush, shop), (), shop)
    known = "a collet is told of a ball whose diameter follows, a split bush of a cylinder whose diameter and length follow"
    raise InputWrong([fault_at("nothing-to-set", "--ask", f"no {asked} can be told of this {kind}", known)])
