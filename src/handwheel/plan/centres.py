"""Work between two centres, turned by a driving dog: the whole outside is made in one setting and runs true with itself.

Both ends are faced and centred in stubs beyond the finished part; the headstock's stub carries the dog. The stubs come
off last: sawn and faced where the finished part can be held for it, else parted to a pip between centres and sawn.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from handwheel.drawing.records import SolvedPart
from handwheel.job.records import OutsideKind, Side
from handwheel.plan.bench import Bench, CannotMakeError
from handwheel.plan.candidate import STEADY, STUB_MM, complete, face_and_centre, numbered
from handwheel.plan.cutin import knurls_and_grooves, threads
from handwheel.plan.edges import has_die, is_corner, thread_link
from handwheel.plan.ends import face_end, part_off_to_length, saw_blank, saw_chucking_piece, stub_off
from handwheel.plan.flatsided import said_of_bar
from handwheel.plan.grips import BETWEEN, second_holdings
from handwheel.plan.inside import make_holes
from handwheel.plan.outside import turn_link
from handwheel.plan.records import PartPlan, Setting
from handwheel.plan.stock import Choice
from handwheel.plan.view import Drilling, Link, View, view
from handwheel.stages.records import Holding
from handwheel.workshop.records import Workshop

DOG_MM = 10.0
"""Length that a driving dog takes: common practice, no source. [mm]"""
ROOMS_MM = (0.5, 9.0)
"""Beyond the chuck clearance, between dog and work: none to speak of, or enough for a left-hand tool. [mm]"""
TRUE = Setting(
    "holding",
    "headstock centre clean and true, looked at with an indicator; dog's tail free in the catch plate, tied if it knocks",
    "changing the headstock centre",
)


@dataclass(frozen=True, slots=True)
class Between:
    """A way of doing it: which end stands at the tailstock, room between dog and work, whether the ends are faced in
    another holding or parted to a pip, a travelling steady or not."""

    toward: Side
    room_mm: float
    faced: bool = True
    steady: bool = False


def between_holding(seen: View, bar: Choice, stub: float, tail_u: float) -> Holding:
    """Between centres, the dog at the end of the headstock's stub. `tail_u`: of the tailstock's centre. [mm]"""
    low, high = seen.span(-stub, -stub + DOG_MM)
    return Holding(f"{BETWEEN}, driving dog on the stub", BETWEEN, low, high, "stock", str(seen.toward),
                   seen.z(-stub + DOG_MM), None, bar.diameter / 2.0, seen.z(tail_u), False, seen.z(-stub))  # fmt: skip


def dog_stub(shop: Workshop, room_mm: float) -> float:
    """Length of the stub that carries the dog. [mm]"""
    return DOG_MM + shop.habit("chuck clearance") + room_mm


def carry_out_between(part: SolvedPart, shop: Workshop, bar: Choice, way: Between) -> PartPlan:
    """The whole route between centres. Raises CannotMakeError with the reason when it fails."""
    seen = view(part, way.toward)
    stub, facing = dog_stub(shop, way.room_mm), shop.habit("facing allowance")
    if seen.length + stub + STUB_MM > shop.lathe.between_centres_mm:
        raise CannotMakeError(part.name, "it is too long between this lathe's centres", "a longer lathe")
    low, high = seen.span(-stub - facing, seen.length + STUB_MM + facing)
    stock = bar.stock(low, high)
    holding = between_holding(seen, bar, stub, seen.length + STUB_MM)
    bench = Bench(seen, shop, bar.finished(part), bar.blank(low, high), holding, BETWEEN, as_bought=bar.as_bought(part))
    saw_blank(bench, stock)
    bench.setting = "bar"
    for side, length in ((way.toward.other, stub), (way.toward, STUB_MM)):
        face_and_centre(bench, view(part, side), bar, length)
    bench.setting = BETWEEN
    if way.steady:
        bench.holding = replace(holding, device=f"{holding.device}; {STEADY}", has_steady=True)
    ends = _ends_of(bench, bar, way.faced)
    _turn(bench, ends)
    bench.holding = holding
    last = _take_ends_off(bench, ends)
    stages = said_of_bar(bench.stages, bar, shop.units)
    complete(part, last.section, last.finished, shop.units)
    return PartPlan(part.name, part.quantity, stock, bench.finished, numbered(stages))


@dataclass(frozen=True, slots=True)
class End:
    """What is left for one end: how the finished work is held for it (None: by nothing), its holes and threads by die."""

    side: Side
    holding: Holding | None
    holes: tuple[Drilling, ...]
    threads: tuple[Link, ...] = ()


def _ends_of(bench: Bench, bar: Choice, faced: bool) -> tuple[End, End]:
    """The headstock's end, then the tailstock's. Raises CannotMakeError for holes that nothing can be held for."""
    part, shop = bench.view.part, bench.shop
    found: list[End] = []
    taken: set[str] = set()
    for side in (bench.view.toward.other, bench.view.toward):
        seen = view(part, side)
        holding = next(second_holdings(view(part, side.other), shop, 0, bar), None)
        if not faced or found and found[0].holding is None:
            holding = None  # sawn by hand at both: the pips carry it until both are cut
        holes = seen.drillings(True)
        if holes and holding is None:
            raise CannotMakeError(holes[0].hole.name, "nothing finished can be held for its holes", "a plain cylinder to hold by")
        dies = () if holding is None else tuple(
            link for link in seen.links if link.feature.thread and link.name not in (holding.surface, *taken)
            and has_die(Bench(seen, shop, bench.finished, bench.section, holding), link))  # fmt: skip
        taken.update(link.name for link in dies)
        found.append(End(side, holding, holes, dies))
    return found[0], found[1]


def _turn(bench: Bench, ends: tuple[End, End]) -> None:
    """The whole outside, cones last: the tailstock is then set over once."""
    links = bench.view.links
    first = len(bench.stages)
    plain = [link for link in reversed(links) if link.kind is not OutsideKind.CONE]
    for late in (False, True):
        for link in plain:
            if is_corner(link) is late:
                turn_link(bench, link)
    knurls_and_grooves(bench, links)
    later = {link.name for end in ends for link in end.threads}
    threads(bench, [link for link in links if link.name not in later])
    for link in reversed(links):
        if link.kind is OutsideKind.CONE:
            turn_link(bench, link)
    if len(bench.stages) > first:
        operation = bench.stages[first].operation
        bench.stages[first] = replace(
            bench.stages[first], operation=replace(operation, settings=(TRUE, *operation.settings)))  # fmt: skip


def _take_ends_off(bench: Bench, ends: tuple[End, End]) -> Bench:
    """The stubs off, and what is made from either end. The bench as it stands at last."""
    head, tail = ends
    if tail.holding is None:
        stub_off(bench, STUB_MM)
    if head.holding is None:
        part_off_to_length(bench)
        return bench
    bench = _end(bench, head.holding, head)
    return bench if tail.holding is None else _end(bench, tail.holding, tail)


def _end(bench: Bench, holding: Holding, end: End) -> Bench:
    """The stub at the headstock sawn off, the work turned round, that end faced, bored and threaded."""
    saw_chucking_piece(bench, holding)
    where = "ball" if holding.kind == "ball collet" else "finished work"
    other = Bench(view(bench.view.part, end.side), bench.shop, bench.finished, bench.section, holding,
                  f"{holding.kind} on {where}", bench.stages, bench.as_bought)  # fmt: skip
    face_end(other, False, 0.0)
    make_holes(other, end.holes)
    for link in end.threads:
        thread_link(other, link)
    return other
