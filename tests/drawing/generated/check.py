"""What handwheel makes of a drawn set of dimensions, judged against the known part."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

import numpy as np

from handwheel.drawing.records import Drawing, SolvedPart, State
from tests.drawing.generated.choose import Drawn, drawn, job_text, slopes, written
from tests.drawing.generated.make import known_part
from tests.drawing.generated.other import a_part, another, numbers, solve
from tests.drawing.generated.phrases import Phrase
from tests.drawing.generated.shape import BULGE, STEP, Made, stepped
from tests.drawing.jobs import sized

NEAR = 1e-6
HALF_PLACE = 0.0005001
STARTS = 150


@dataclass(frozen=True)
class Verdict:
    """What came of one trial: a word for the count, whether it is right, and what to look at when it is not."""

    word: str
    right: bool
    text: str = ""
    note: str = ""


def case(seed: int) -> tuple[Drawn, Random]:
    """The known part and dimension set of a seed."""
    random = Random(seed)
    while True:
        found = drawn(known_part(random), random)
        if found is not None:
            return found, random


def found_numbers(solved: SolvedPart) -> np.ndarray:
    """handwheel's numbers in the order of `numbers`."""
    found = [f.right for f in solved.outside]
    for feature in solved.outside:
        found += [feature.left_radius, feature.right_radius]
    for hole in (*solved.inside_left, *solved.inside_right):
        found += [hole.bottom, hole.mouth_radius, hole.bottom_radius]
    for cut in solved.cut_in:
        found += [cut.left, cut.right, cut.floor_radius]
    return np.array(found)


def _said(drawing: Drawing) -> str:
    return " | ".join(f"{f.id}: {f.what}" for f in drawing.faults)


def given_back(one: Drawn, random: Random, tolerance: str = "± 0") -> Verdict:
    """(a) The dimensions give the part back, or are called ambiguous where a second part has them too."""
    units = random.choice(("mm", "inch"))
    scale = 1.0 if units == "mm" else 25.4
    made = one.made
    text = job_text(one.part, [(p, written(p.value(made), p.unit, scale)) for p in one.chosen], units, tolerance)
    drawing = sized(text)
    if drawing.state is State.FULLY_DIMENSIONED:
        off = np.abs(found_numbers(drawing.parts[0]) - numbers(one.part, made))
        if off.max() < NEAR:
            return Verdict("gave back", True)
        return Verdict("gave another part", False, text, f"off by {off.max():.3g}")
    if drawing.state is State.AMBIGUOUS:
        second = another(one.part, one.chosen, random)
        if second is not None:
            return Verdict("ambiguous", True)
        return Verdict("ambiguous, no second part found", False, text, _said(drawing))
    return Verdict(f"called {drawing.state.value}", False, text, _said(drawing))


def moving(one: Drawn, left: list[Phrase]) -> dict[str, float]:
    """How far each feature's own numbers move, from the part's left end, while the dimensions left hold."""
    part = one.part
    rows = slopes(part, left)
    rows = rows / np.linalg.norm(rows, axis=1, keepdims=True)
    _, values, right = np.linalg.svd(rows)
    rank = int((values > 1e-9).sum())
    loose = right[rank:]
    found: dict[str, float] = {}
    for name, ways in _own_numbers(one).items():
        found[name] = float(np.abs(loose @ ways).max()) if ways.size else 0.0
    return found


def _own_numbers(one: Drawn) -> dict[str, np.ndarray]:
    """Derivatives (n, several) of every feature's own stations, from the left end, and radii."""
    part = one.part
    made = Made(part, stepped(part))
    zero = made.station(0)
    found: dict[str, list[np.ndarray]] = {}
    for i, link in enumerate(part.links):
        own = [made.station(i) - zero, made.station(i + 1) - zero, made.end(i, -1), made.end(i, 1)]
        own += [made.circle(i)[0] - zero, *made.circle(i)[1:]] if link.kind in BULGE else []
        found[link.name] = own
    for i, hole in enumerate(part.holes):
        found[hole.name] = [made.mouth(i) - zero, made.bottom(i) - zero, *made.hole_radii(i)]
    for groove in part.grooves:
        zl, zr, floor = (made.x[groove.numbers[w]] for w in ("zl", "zr", "floor"))
        found[groove.name] = [zl - zero, zr - zero, floor]
    n = len(part.values)
    return {k: np.array([np.broadcast_to(np.imag(a) / STEP, (n,)) for a in own]).T for k, own in found.items()}


def one_removed(one: Drawn, random: Random) -> Verdict:
    """(b) With one dimension left out: under-dimensioned, and what is named really moves."""
    can = [p for p in one.chosen if not _always(one, p)]
    gone = random.choice(can)
    left = [p for p in one.chosen if p is not gone]
    made = one.made
    text = job_text(one.part, [(p, written(p.value(made), p.unit)) for p in left]) + f"# without {gone.text}\n"
    drawing = sized(text)
    if drawing.state is not State.UNDER_DIMENSIONED:
        return Verdict(f"one removed: called {drawing.state.value}", False, text, _said(drawing))
    named = {p for f in drawing.faults for p in f.phrases}
    ways = moving(one, left)
    rigid = [n for n in named if ways.get(n, 0.0) < 1e-7]
    if not named or rigid:
        return Verdict("one removed: a rigid feature named", False, text, f"{rigid}; {_said(drawing)}")
    most = max(ways.values())
    missed = [n for n, w in ways.items() if w > 1e-3 * most and n not in named]
    return Verdict("one removed: told" + (", not all that move" if missed else ""), True, text, f"unnamed {missed}")


def _always(one: Drawn, phrase: Phrase) -> bool:
    return any(k.kind == "edge" and phrase.text == f"{k.name} radius" for k in one.part.links)


def _extra(one: Drawn, random: Random) -> Phrase | None:
    spare = [p for p in one.spare if not (p.angled and p.angled not in {q.angled for q in one.chosen})]
    return random.choice(spare) if spare else None


def one_added(one: Drawn, random: Random) -> Verdict | None:
    """(c) With one that others fix already, typed to three places: over-dimensioned, and the part is given back."""
    extra = _extra(one, random)
    if extra is None:
        return None
    made = one.made
    lines = [(p, written(p.value(made), p.unit)) for p in one.chosen]
    places = 3 if extra.unit != "ratio" else 12
    lines.insert(random.randrange(len(lines) + 1), (extra, written(extra.value(made), extra.unit, places=places)))
    text = job_text(one.part, lines) + f"# one too many: {extra.text}\n"
    drawing = sized(text)
    if drawing.state is State.AMBIGUOUS:
        second = another(one.part, one.chosen, random)
        if second is not None and abs(extra.value(second) - extra.value(made)) <= HALF_PLACE:
            return Verdict("one added: ambiguous", True)
    if drawing.state is not State.OVER_DIMENSIONED:
        return Verdict(f"one added: called {drawing.state.value}", False, text, _said(drawing))
    off = np.abs(found_numbers(drawing.parts[0]) - numbers(one.part, made))
    if off.max() > NEAR:
        return Verdict("one added: another part", False, text, f"off by {off.max():.3g}")
    tied = set(quarrelling(one, extra))
    named = {p for n in drawing.notices for p in n.phrases}
    if extra.text not in named or not named <= tied:
        return Verdict("one added: a phrase named that is not tied", False, text, f"named {named}, tied {tied}")
    return Verdict("one added: told", True)


def quarrelling(one: Drawn, extra: Phrase) -> list[str]:
    """The smallest set that ties the extra phrase: where the left null vector of the rows is not zero."""
    rows = slopes(one.part, [*one.chosen, extra])
    units = rows / np.linalg.norm(rows, axis=1, keepdims=True)
    weights = np.linalg.svd(units.T)[2][-1]
    return [p.text for p, w in zip([*one.chosen, extra], weights, strict=True) if abs(w) > 1e-9]


def one_wrong(one: Drawn, random: Random, *, is_confirmed: bool = True) -> Verdict | None:
    """(d) One of a tied set off by 1 to 5 mm: contradictory, naming only dimensions of that set, each ending it."""
    extra = _extra(one, random)
    if extra is None:
        return None
    tied = quarrelling(one, extra)
    lines = [*one.chosen, extra]
    random.shuffle(lines)
    can = [p for p in lines if p.text in tied and p.unit == "mm" and not _always(one, p)]
    if not can:
        return None
    wrong = random.choice(can)
    made = one.made
    off = random.uniform(1, 5) * (1 if wrong.value(made) < 6 else random.choice((-1, 1)))
    wanted = {p.text: p.value(made) + (off if p is wrong else 0.0) for p in lines}
    text = job_text(one.part, [(p, written(wanted[p.text], p.unit, places=6)) for p in lines])
    text += f"# off by {off:.3f}: {wrong.text}; tied: {', '.join(tied)}\n"
    drawing = sized(text)
    if drawing.state is not State.CONTRADICTORY:
        return Verdict(f"one wrong: called {drawing.state.value}", False, text, _said(drawing))
    named = {p for f in drawing.faults for p in f.phrases}
    outside = named - set(tied) - {w for t in tied for w in t.split()}  # a feature may be named that they speak of
    if outside:
        return Verdict("one wrong: a phrase named outside the quarrel", False, text, f"{outside}: {_said(drawing)}")
    if wrong.text not in named:
        return Verdict("one wrong: the wrong one not named", False, text, f"{wrong.text}: {_said(drawing)}")
    others = [p for p in lines if p.text in named and p is not wrong]
    stray = [p.text for p in others if is_confirmed and not restored(one, lines, wanted, p, random)]
    if stray:
        return Verdict("one wrong: one named that does not end it", False, text, f"{stray} {_said(drawing)}")
    return Verdict("one wrong: told" + (", all that are tied" if named == set(tied) else ", some of them"), True, text)


def restored(one: Drawn, lines: list[Phrase], wanted: dict[str, float], gone: Phrase, random: Random) -> bool:
    """Whether without that one the rest agree as numbers: walked to from the known part, else searched for.

    A distance's first point is the left one unless only the reverse fits: each is turned round in the search as well.
    """
    left = [p for p in lines if p is not gone]
    at = np.array(one.part.values)
    made = one.made
    for share in (0.25, 0.5, 0.75, 1.0):
        aim = [p.value(made) * (1 - share) + wanted[p.text] * share for p in left]
        found = solve(one.part, left, aim, at, one.part.branch)
        if found is None:
            break
        at = found
    else:
        return True
    for turned in (None, *(p for p in left if " to " in p.text)):
        sizes = [-wanted[p.text] if p is turned else wanted[p.text] for p in left]
        if a_part(one.part, left, sizes, random, STARTS, is_any=True) is not None:
            return True
    return False
