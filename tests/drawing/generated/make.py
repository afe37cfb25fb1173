"""Known parts, drawn at random from a seed: chains of links with holes and grooves, every one a part by the rulings."""

from __future__ import annotations

from math import sqrt
from random import Random

import numpy as np

from tests.drawing.generated.shape import BULGE, Groove, Hole, Link, Made, Part, is_right, plain

STRAIGHTS = ("cylinder", "cylinder", "cone")
MARGIN = 0.5
LETTERS = {"cylinder": "c", "cone": "k", "ball": "b", "hollow": "h", "round": "q", "chamfer": "m", "edge": "e"}
LETTERS["fillet"] = "f"


def known_part(random: Random) -> Part:
    """A part that keeps the rulings with room to spare."""
    while True:
        part = _try(random)
        if part is None:
            continue
        made = Made(part, plain(part))
        if is_right(part, made, MARGIN):
            return part


def _kinds(random: Random) -> list[str]:
    count = random.randint(2, 8)
    kinds: list[str] = []
    while len(kinds) < count:
        before = kinds[-1] if kinds else ""
        roll = random.random()
        if before and before not in BULGE and roll < 0.15 and len(kinds) < count - 1:
            kinds += [random.choice(("hollow", "round")), random.choice(STRAIGHTS)]
        elif before == "ball" and roll < 0.1 and len(kinds) < count - 1:
            kinds += ["hollow", "cylinder"]
        elif roll < 0.4 and before not in ("hollow", "round") and (before != "ball" or random.random() < 0.3):
            kinds.append("ball")
        else:
            kinds.append(random.choice(STRAIGHTS))
    return kinds


def _try(random: Random) -> Part | None:
    """One attempt: the links laid from left to right, each beginning where the last one ended."""
    kinds = _kinds(random)
    part, z = Part(), 0.0
    for i, kind in enumerate(kinds):
        part.links.append(Link(kind, f"{LETTERS[kind]}{i + 1}"))
    part.joins = ["end", *[""] * (len(kinds) - 1), "end"]
    radii = [random.uniform(4, 14) for _ in kinds]
    for i, kind in enumerate(kinds):
        lay = {"cylinder": _cylinder, "cone": _cone, "ball": _ball, "hollow": _arc, "round": _arc}[kind]
        found = lay(part, i, z, radii, random)
        if found is None:
            return None
        z = found
    if "end" in part.joins[-1:]:
        part.stations[len(kinds)] = part.number(z)
    _edges(part, random)
    _inside(part, random)
    _grooves(part, random)
    _prune(part)
    return part


def _prune(part: Part) -> None:
    """Leave out numbers that a flush join has put out of use."""
    holders = [k.numbers for k in (*part.links, *part.holes, *part.grooves)]
    used = sorted({p for h in holders for p in h.values()} | set(part.stations.values()))
    place = {p: i for i, p in enumerate(used)}
    for numbers in holders:
        numbers.update({w: place[p] for w, p in numbers.items()})
    part.stations = {k: place[p] for k, p in part.stations.items()}
    part.values = [part.values[p] for p in used]


def _join_straight(part: Part, i: int, z: float, random: Random) -> None:
    """The join at the left of a straight link."""
    if i == 0:
        part.stations[0] = part.number(z)
        return
    before = part.links[i - 1]
    if part.joins[i]:
        if part.joins[i] == "flat":
            part.stations[i] = part.number(z)
        return
    part.joins[i] = "shoulder"
    if "cone" in (before.kind, part.links[i].kind) and random.random() < 0.4:
        part.joins[i] = "flush"
    part.stations[i] = part.number(z)


def _cylinder(part: Part, i: int, z: float, radii: list[float], random: Random) -> float:
    _join_straight(part, i, z, random)
    if part.joins[i] == "flush":
        radii[i] = part.values[part.links[i - 1].numbers.pop("rr")]
    part.links[i].numbers["r"] = part.number(radii[i])
    return z + random.uniform(4, 30)


def _cone(part: Part, i: int, z: float, radii: list[float], random: Random) -> float:
    _join_straight(part, i, z, random)
    link, left = part.links[i], random.uniform(3, 14)
    if part.joins[i] == "flush":
        before = part.links[i - 1]
        left = _right_radius(part, i - 1) if before.kind == "cone" else radii[i - 1]
    else:
        link.numbers["rl"] = part.number(left)
    long = random.uniform(8, 50)
    right = left + random.choice((-1, 1)) * random.uniform(0.02, 0.5) * long
    if not 2 < right < 20:
        right = left - 0.02 * long
    radii[i] = right
    link.numbers["rr"] = part.number(right)
    return z + long


def _right_radius(part: Part, i: int) -> float:
    return part.values[part.links[i].numbers["rr"]]


def _ball(part: Part, i: int, z: float, radii: list[float], random: Random) -> float | None:
    link, last = part.links[i], len(part.links) - 1
    before = part.links[i - 1] if i else None
    after = part.links[i + 1] if i < last else None
    beside = [radii[i - 1]] if before is not None else []
    beside += [radii[i + 1]] if after is not None and after.kind == "cylinder" else []
    big = max([*beside, 3.0]) / random.uniform(0.5, 0.92)
    if before is not None and before.kind in ("cone", "cylinder") and not part.joins[i] and random.random() < 0.12:
        slope = _slope_before(part, i, z)
        if before.kind == "cylinder" or slope > 0.01:
            part.joins[i] = "tangent"
            part.stations[i] = part.number(z)
            centre, big = z + radii[i - 1] * slope, radii[i - 1] * sqrt(1 + slope * slope)
            return _ball_right(part, i, centre, big, radii, random)
    if before is None:
        part.joins[0] = "flat" if random.random() < 0.2 else "pole"
        centre = z + big
        if part.joins[0] == "flat":
            half = random.uniform(0.3, 0.9) * big
            part.stations[0] = part.number(z)
            centre = z + sqrt(big * big - half * half)
    elif before.kind == "ball":
        centre = part.values[before.numbers["zc"]] if "zc" in before.numbers else None
        if centre is None:
            return None
        other = part.values[before.numbers["R"]]
        apart = random.uniform(sqrt(abs(other * other - big * big)) * 1.05 + 1, (other + big) * 0.95)
        centre += apart
        part.joins[i] = "meet"
    else:
        part.joins[i] = "meet" if random.random() < 0.8 else "flat"
        if part.joins[i] == "flat":
            part.stations[i] = part.number(z)
            half = radii[i - 1] * random.uniform(0.6, 0.95)
            centre = z + sqrt(big * big - half * half)
        else:
            centre = z + sqrt(big * big - radii[i - 1] ** 2)
            part.branch[i] = -1
    link.numbers["zc"], link.numbers["R"] = part.number(centre), part.number(big)
    return _ball_right(part, i, centre, big, radii, random)


def _slope_before(part: Part, i: int, z: float) -> float:
    before = part.links[i - 1]
    if before.kind == "cylinder" or "rl" not in before.numbers or i - 1 not in part.stations:
        return 0.0
    rl, rr = (part.values[before.numbers[w]] for w in ("rl", "rr"))
    return (rr - rl) / (z - part.values[part.stations[i - 1]])


def _ball_right(part: Part, i: int, centre: float, big: float, radii: list[float], random: Random) -> float | None:
    last = len(part.links) - 1
    if i == last:
        part.joins[i + 1] = "flat" if random.random() < 0.2 else "pole"
        if part.joins[i + 1] == "pole":
            return centre + big
        z = centre + random.uniform(0.4, 0.9) * big
        part.stations[i + 1] = part.number(z)
        return z
    after = part.links[i + 1]
    if after.kind == "ball":
        return centre
    if after.kind == "hollow":
        radii[i] = random.uniform(0.4, 0.85) * big
        part.joins[i + 1] = "tangent" if random.random() < 0.3 else "meet"
        return centre + sqrt(big * big - radii[i] ** 2)
    if random.random() < 0.2:
        part.joins[i + 1] = "flat"
        return centre + random.uniform(0.4, 0.9) * big
    part.joins[i + 1], part.branch[i + 1] = "meet", 1
    radius = radii[i + 1] if after.kind == "cylinder" else random.uniform(0.4, 0.85) * big
    if radius >= 0.95 * big:
        return None
    radii[i + 1] = radius
    if after.kind == "cone":
        return _cone_after(part, i + 1, centre + sqrt(big * big - radius * radius), radius, random)
    return centre + sqrt(big * big - radius * radius)


def _cone_after(part: Part, i: int, z: float, left: float, random: Random) -> float:
    """A cone's left radius where a ball meets it is laid here; `_cone` then finds its join made."""
    part.links[i].numbers["rl"] = part.number(left)
    return z


def _arc(part: Part, i: int, z: float, radii: list[float], random: Random) -> float | None:
    link, before, after = part.links[i], part.links[i - 1], part.links[i + 1]
    if after.kind == "ball":
        return None
    is_hollow = link.kind == "hollow"
    one = radii[i - 1]
    two = radii[i + 1] if after.kind == "cylinder" else random.uniform(4, 12)
    from_ball = before.kind == "ball"
    smooth_left = not from_ball and random.random() < 0.3
    if smooth_left and before.kind == "cone":
        smooth_left = "rl" in before.numbers and i - 1 in part.stations
    slope = _slope_before(part, i, z) if smooth_left and before.kind == "cone" else 0.0
    big = random.uniform(8, 40)
    if smooth_left:
        long = sqrt(1 + slope * slope)
        away = 1 if is_hollow else -1
        part.joins[i] = "tangent"
        part.stations[i] = part.number(z)
        centre, out = z - away * big * slope / long, one + away * big / long
        link.numbers["R"] = part.number(big)
    elif from_ball and part.joins[i] == "tangent":
        zc, bball = (part.values[before.numbers[w]] for w in ("zc", "R")) if "zc" in before.numbers else (None, 0.0)
        if zc is None:
            return None
        share = (bball + big) / bball
        centre, out = zc + (z - zc) * share, one * share
        link.numbers["zc"], link.numbers["rc"] = part.number(centre), part.number(out)
    else:
        rise = random.uniform(0.1, 0.9) * big
        out = max(one, two) + rise if is_hollow else min(one, two) - rise
        gap = big * big - (one - out) ** 2
        if gap <= 0 or (is_hollow and out - big < 1.0) or (not is_hollow and out < 0.5):
            return None
        centre = z + sqrt(gap)
        if not part.joins[i]:
            part.joins[i] = "meet"
        link.numbers["zc"], link.numbers["rc"] = part.number(centre), part.number(out)
        link.numbers["R"] = part.number(big)
        part.branch[i] = -1
        if from_ball:
            part.branch[i] = _which_side(part, i, centre, out, z)
    gap = big * big - (two - out) ** 2
    if gap <= 0 or (is_hollow and two >= out) or (not is_hollow and two <= out):
        return None
    part.joins[i + 1], part.branch[i + 1] = "meet", 1
    radii[i + 1] = two
    if after.kind == "cone":
        part.links[i + 1].numbers["rl"] = part.number(two)
    return centre + sqrt(gap)


def _which_side(part: Part, i: int, centre: float, out: float, z: float) -> int:
    """Which of the two points where two circles cross lies at z."""
    before = part.links[i - 1]
    if "zc" not in before.numbers:
        return 1
    z1, big1 = (part.values[before.numbers[w]] for w in ("zc", "R"))
    big = part.values[part.links[i].numbers["R"]]
    square = (centre - z1) ** 2 + out**2
    along = (square + big1 * big1 - big * big) / 2 / square
    middle = z1 + along * (centre - z1)
    return 1 if z > middle else -1


def _edges(part: Part, random: Random) -> None:
    """A chamfer, fillet or rounded edge put where a shoulder or end allows it."""
    for k in range(len(part.joins) - 1, -1, -1):
        if part.joins[k] not in ("shoulder", "end") or k not in part.stations or random.random() > 0.25:
            continue
        left = part.links[k - 1] if k > 0 else None
        right = part.links[k] if k < len(part.links) else None
        one = part.values[left.numbers["r"]] if left is not None and left.kind == "cylinder" else 0.0
        two = part.values[right.numbers["r"]] if right is not None and right.kind == "cylinder" else 0.0
        if (left is not None and not one) or (right is not None and not two) or abs(one - two) < 3.0:
            continue
        _edge(part, k, one > two, random)


def _edge(part: Part, k: int, larger_left: bool, random: Random) -> None:
    is_end = k in (0, len(part.links))
    kind = random.choice(("chamfer", "edge") if is_end else ("chamfer", "edge", "fillet"))
    name = f"{LETTERS[kind]}{k + 1}x"
    size = random.uniform(0.7, 2.0)
    z = part.values[part.stations[k]]
    link = Link(kind, name)
    larger = part.links[k - 1] if larger_left else part.links[k]
    radius = part.values[larger.numbers["r"]]
    # stations at and beyond k move up by one: the new link stands between join k and the new join k + 1
    part.stations = {(s if s < k else s + 1): p for s, p in part.stations.items()}
    part.branch = {(s if s < k else s + 1): b for s, b in part.branch.items()}
    for groove in part.grooves:
        groove.host += groove.host >= k
    part.links.insert(k, link)
    old = part.joins[k]
    first, second = ("", old) if larger_left else (old, "")
    if kind == "fillet":
        first, second = ("shoulder", "tangent") if larger_left else ("tangent", "shoulder")
    elif kind == "edge":
        first, second = ("tangent", old) if larger_left else (old, "tangent")
    else:
        first, second = ("flush", old) if larger_left else (old, "flush")
    part.joins[k : k + 1] = [first, second]
    place = part.stations.pop(k + 1)
    smooth_left = larger_left if kind == "edge" else not larger_left
    if kind == "chamfer":
        link.narrow = "right" if larger_left else "left"
        link.numbers["rr" if larger_left else "rl"] = part.number(radius - size)
        part.stations[k] = place
        part.stations[k + 1] = part.number(z + random.uniform(0.7, 2.0))
        return
    link.smooth = -1 if smooth_left else 1
    link.numbers["R"] = part.number(size)
    part.stations[k + 1 if smooth_left else k] = place
    if smooth_left:
        part.values[place] = z + size


def _inside(part: Part, random: Random) -> None:
    if random.random() > 0.35:
        return
    made = Made(part, plain(part))
    with np.errstate(all="ignore"):
        first, last = (float(np.real(made.station(k)).flat[0]) for k in (0, len(part.links)))
    if not (np.isfinite(first) and np.isfinite(last) and last - first > 12):
        return
    ways = [w for w in (1, -1) if part.joins[0 if w > 0 else -1] != "pole"]
    for way in ways:
        if random.random() < 0.5:
            _holes_from(part, way, first, last, random)


def _holes_from(part: Part, way: int, first: float, last: float, random: Random) -> None:
    z, radius = (first if way > 0 else last), random.uniform(1.5, 3.0)
    letter = "l" if way > 0 else "r"
    reach = (last - first) / 2.5
    kinds = random.choice((["hole"], ["bore"], ["countersink", "hole"], ["counterbore", "hole"], ["cone"]))
    for n, kind in enumerate(kinds):
        hole = Hole("bore" if kind == "cone" else kind, f"{letter}{n + 1}", way, drilled=kind == "hole")
        depth = reach * (random.uniform(0.5, 0.9) if n == len(kinds) - 1 else random.uniform(0.1, 0.3))
        z += way * depth
        hole.numbers["bottom"] = part.number(z)
        if kind == "cone":
            hole.numbers["rm"], hole.numbers["rb"] = part.number(radius), part.number(radius * random.uniform(0.5, 0.8))
        elif kind == "countersink":
            hole.numbers["rm"] = part.number(radius + 1.5)
        else:
            hole.numbers["r"] = part.number(radius + (1.0 if kind == "counterbore" else 0.0))
        part.holes.append(hole)


def _grooves(part: Part, random: Random) -> None:
    made = Made(part, plain(part))
    for i, link in enumerate(part.links):
        if link.kind != "cylinder" or random.random() > 0.1:
            continue
        with np.errstate(all="ignore"):
            left, right = (float(np.real(made.station(k)).flat[0]) for k in (i, i + 1))
        if not (np.isfinite(left) and np.isfinite(right)) or right - left < 6:
            continue
        radius = part.values[link.numbers["r"]]
        start = random.uniform(left + 1, right - 4)
        groove = Groove(f"g{i + 1}", i)
        groove.numbers = {
            "zl": part.number(start), "zr": part.number(start + random.uniform(1, 2.5)),
            "floor": part.number(radius * random.uniform(0.6, 0.9)),
        }
        part.grooves.append(groove)
