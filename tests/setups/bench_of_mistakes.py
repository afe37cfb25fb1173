"""A lathe with mistakes in it, worked by someone who has only gauges and what `handwheel ask` answers.

Nothing of handwheel's geometry is used: what a swung tip leaves is the least of many points along its path, what a slide
leaves is the least of its paths, and sizes are read off that metal by gauges that err evenly within a plus or minus.
The answers come from the command itself, as words, and only what the words say is done. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from handwheel.cli.main import main

Reals = NDArray[np.float64]
LENGTH = r"([\d.]+) mm(?: \([\d.]+ in\))?"


def asked(kind: str, sayings: Sequence[str], measured: Sequence[str], *options: str) -> str:
    """What the command answers after `From what was measured:`, as one line of text."""
    words = [part for one in measured for part in ("--measured", one)]
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(["ask", kind, *sayings, "--units", "mm", *words, *options])
    assert status == 0, err.getvalue()
    return " ".join(out.getvalue().partition("From what was measured:")[2].split())


def amount(pattern: str, text: str) -> tuple[float, str] | None:
    """The length [mm] where `LEN` stands in the pattern, and the word that its other group caught; None where it is not said."""
    found = re.search(pattern.replace("LEN", LENGTH), text)
    return (float(found[1]), found[2] if found.re.groups > 1 else "") if found else None


@dataclass
class BallTool:
    """Where a swinging ball tool really stands; see `Ball.swing`."""

    radius: float
    high: float = 0.0
    beside: float = 0.0
    square: float = 0.0
    along: float = 0.0
    is_above_only: bool = False


class Ball:
    """A ball in the making: its radius at stations from the wanted centre, the free end at greater z."""

    def __init__(self, radius: float, rng: np.random.Generator, gauge: float, blank: float) -> None:
        self.wanted, self.rng, self.gauge = radius, rng, gauge
        self.z: Reals = np.linspace(-0.78 * radius, 1.3 * radius, 8001)
        self.metal: Reals = np.full_like(self.z, blank)
        self.pole = self.pip = float("nan")

    def swing(self, tool: BallTool, samples: int = 20001) -> None:
        """One swing round, from behind the equator to the free end, and on below it unless it is swung from above only."""
        turned = np.radians(tool.square)
        angle = np.linspace(0.0 if tool.is_above_only else -0.8 * np.pi, 0.8 * np.pi, samples)
        x = tool.beside + tool.radius * np.sin(turned) * np.cos(angle)
        y = tool.high + tool.radius * np.sin(angle)
        z = tool.along + tool.radius * np.cos(turned) * np.cos(angle)
        cut = np.hypot(x, y)
        for half in (angle >= 0.0, angle <= 0.0):
            if half.sum() > 1:
                order = np.argsort(z[half])
                left = np.interp(self.z, z[half][order], cut[half][order], left=np.inf, right=np.inf)
                self.metal = np.minimum(self.metal, left)
        near_end = np.abs(angle) < 0.5
        least = int(np.argmin(np.where(near_end, cut, np.inf)))
        self.pole, self.pip = float(z[least]), float(cut[least])
        self.metal = np.where(self.z > self.pole, np.minimum(self.metal, self.pip), self.metal)

    def read(self, exact: float) -> float:
        """A gauge's reading."""
        return exact + float(self.rng.uniform(-self.gauge, self.gauge))

    def measured(self, *left_out: str) -> list[str]:
        """The five sizes by gauge, in the words of the question."""
        mid = np.abs(self.z) < 0.3 * self.wanted
        side = np.sqrt(0.5) * self.wanted
        near, far = (float(np.interp(at, self.z, self.metal)) for at in (-side, side))
        exact = {"equator": 2.0 * float(self.metal[mid].max()), "headstock side": 2.0 * near, "free side": 2.0 * far,
                 "pole": self.pole, "pip": 2.0 * self.pip}  # fmt: skip
        said = [f"{name}: {max(0.0, self.read(value)):.5f}" for name, value in exact.items() if name not in left_out]
        return [*said, f"gauge error: {self.gauge}"]

    def form(self) -> tuple[float, float]:
        """Least and greatest distance of the metal from the wanted sphere, outward > 0, from 45° behind the equator to the
        pole without its pip."""
        seen = (self.z > -np.sqrt(0.5) * self.wanted) & (self.z < self.pole - 0.02)
        off = np.hypot(self.metal[seen], self.z[seen]) - self.wanted
        return float(off.min()), float(off.max())


@dataclass
class Slide:
    """A swung top slide, or work held askew between centres: the angle it really turns to, and the tool's height. [deg, mm]"""

    angle: float
    height: float = 0.0


class Cone:
    """A taper in the making: its radius at stations from the small end. A bore's metal lies outside its radius."""

    def __init__(self, small: float, length: float, rng: np.random.Generator, gauge: float, is_bore: bool = False) -> None:
        self.rng, self.gauge, self.is_bore = rng, gauge, is_bore
        self.z: Reals = np.linspace(0.0, length, 6001)
        self.metal: Reals = np.full_like(self.z, 0.0 if is_bore else np.inf)
        self.small, self.over = small, 3.0

    def cut(self, slide: Slide, over: float) -> None:
        """One cut whose tip passes the small end `over` off its size, on the diameter, metal left on > 0."""
        plane = (self.small + (-over if self.is_bore else over)) / 2.0 + self.z * np.tan(np.radians(slide.angle))
        path, self.over = np.hypot(plane, slide.height), over
        self.metal = np.maximum(self.metal, path) if self.is_bore else np.minimum(self.metal, path)

    def cut_clean(self, slide: Slide, step: float = 0.05) -> None:
        """Cuts of that depth on the diameter until the side is bright all along, as is seen at the lathe."""
        for _ in range(200):
            before = self.metal.copy()
            self.cut(slide, self.over - step)
            if bool(np.all(self.metal != before)):
                return
        raise AssertionError("never clean")

    def diameter(self, z: float) -> float:
        """True diameter at a station."""
        return 2.0 * float(np.interp(z, self.z, self.metal))

    def read(self, exact: float) -> float:
        """A gauge's reading."""
        return exact + float(self.rng.uniform(-self.gauge, self.gauge))

    def over_rollers(self, roller: float, raised: float) -> float:
        """Size over two rollers on blocks beside the plug, which stands on its small end: each as near as the metal lets it."""
        centre = raised + roller / 2.0
        near = np.abs(self.z - centre) < roller / 2.0
        reach = self.metal[near] + np.sqrt((roller / 2.0) ** 2 - (self.z[near] - centre) ** 2)
        return float(2.0 * reach.max() + roller)

    def ball_at(self, ball: float) -> float:
        """How far below the mouth (the large end) the centre of a ball comes to rest in the bore, by halving."""
        depth, radius = float(self.z[-1]) - self.z, ball / 2.0
        free, stuck = -radius, float(depth.max())
        for _ in range(60):
            centre = (free + stuck) / 2.0
            near = np.abs(depth - centre) < radius
            needs = np.sqrt(np.maximum(0.0, radius**2 - (depth[near] - centre) ** 2))
            free, stuck = (free, centre) if bool((needs > self.metal[near]).any()) else (centre, stuck)
        return (free + stuck) / 2.0

    def gap(self, wanted: float) -> tuple[str, float]:
        """Where a true gauge of that angle bears, and how much on the diameter it stands off at the other end."""
        off = self.metal - self.z * np.tan(np.radians(wanted))
        bears = int(np.argmin(off) if self.is_bore else np.argmax(off))
        is_large = bears > self.z.size // 2
        other = off[0 if is_large else -1]
        return ("large end" if is_large else "small end"), 2.0 * abs(float(off[bears] - other))


def obey_ball(tool: BallTool, text: str, gap_test: float) -> list[str]:
    """Does what the words say of a ball tool, the trial moves the way that is called +; returns what is said with the next
    measurement. `gap_test`: the height as the equal-gap test shows it, used only where the words send one there."""
    moves: dict[str, float] = {}
    for screw, of in (("swing axis", "height"), ("cross slide", "cross")):
        part = re.search(screw + ": (.*?)(?= (?:swing axis|cross slide|carriage stop|radius|cannot be)|$)", text)
        told = part[1] if part else ""
        trial, go = amount("^LEN.*direction unknown", told), amount("go LEN (on the same way|back)", told)
        up_or_down, change = amount("^LEN.*(lower|raise) it", told), 0.0
        if "too little is left" in told:
            change = -gap_test if of == "height" else 0.0
        elif trial:
            change = -trial[0]
            moves[of] = trial[0]
        elif go:
            change = go[0] if go[1] == "back" else -go[0]
        elif up_or_down:
            change = -up_or_down[0] if up_or_down[1] == "lower" else up_or_down[0]
        if of == "height":
            tool.high += change
        else:
            tool.beside += change
    stop = amount("carriage stop: LEN.*?toward the (headstock|tailstock)", text)
    tool.along += 0.0 if stop is None else stop[0] * (-1.0 if stop[1] == "headstock" else 1.0)
    trial_cut, on, short = (amount(p, text) for p in ("advance the screw by LEN", "radius: LEN.*?still on", "stop LEN short"))
    if moves:
        tool.radius -= trial_cut[0] if trial_cut else 0.05
    elif on:
        tool.radius -= on[0] - (short[0] if short else 0.0)
    return [word for of, by in moves.items() for word in (f"{of} moved: {by}", f"{of} before: {by}")]


def obey_cone(slide: Slide, text: str, way: str) -> bool:
    """Changes the slide by one of the figures told, the one named; False where there is none to change by."""
    steeper = re.search(r"set ([\d.]+)° .*?(steeper|shallower)", text)
    if steeper is None:
        return False
    sign, old = (1.0 if steeper[2] == "steeper" else -1.0), np.radians(slide.angle)
    if way == "angle":
        slide.angle += sign * float(steeper[1])
        return True
    found = {
        "arc": r"arc, 50\.00 mm \([^)]*\) from the pivot: LEN()",
        "side": r"on the slide's side, in 50\.00 mm .*?carriage: LEN (more|less)",
        "bar": r"along a true bar, in 50\.00 mm .*?slide: LEN (more|less)",
        "tailstock": r"set over, for each 50\.00 mm .*?centres: LEN (more|less)",
    }
    told = amount(found[way], text)
    assert told is not None, text
    share = told[0] / 50.0 * (sign if way == "arc" else 1.0 if told[1] == "more" else -1.0)
    new = {"arc": old + share, "side": np.arctan(np.tan(old) + share)}.get(way, np.arcsin(np.sin(old) + share))
    slide.angle = float(np.degrees(new))
    return True
