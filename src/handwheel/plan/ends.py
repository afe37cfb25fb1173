"""The ends of the work: the blank sawn, ends faced, the stub that carries a centre, and its taking off."""

from __future__ import annotations

import math
from dataclasses import replace

from handwheel.plan.bench import NO_CUTTER, Bench, CannotMakeError, cutter_of, length_makes, square_cutter
from handwheel.plan.caution import caution_for
from handwheel.plan.names import line_text, said
from handwheel.plan.records import Move, Setting, Stock, Sum, Why
from handwheel.stages.records import Bore, Cutter, Holding, NoCut, Truncate


def saw_blank(bench: Bench, stock: Stock) -> None:
    """The blank off the bar, with what saw and wander take."""
    kerf = bench.shop.habit("saw kerf") + bench.shop.habit("saw wander") * stock.diameter_mm / 25.0
    why = Why(
        "blank-first",
        (),
        f"bar {stock.as_named}: finished length, facing, what the chuck grips; allow "
        f"{said(bench.shop.units, kerf)} more for kerf and wander",
    )
    sums = (Sum("bar sawn, length as measured", stock.length_mm, "over by", "", True),)
    vice = Holding(
        "vice",
        "vice",
        bench.holding.from_mm,
        bench.holding.to_mm,
        "stock",
        bench.holding.toward_tailstock,
        bench.holding.face_mm,
    )
    bench.must(
        "blank",
        "longer bar",
        bench.attempt(
            "saw",
            NoCut(),
            Cutter("hacksaw or bandsaw", "saw", NO_CUTTER.outline),
            why,
            setting="saw",
            caution=caution_for("saw"),
            sums=sums,
            note=f"saw to a line at {line_text(bench.shop.units, stock.length_mm)}: "
            f"{said(bench.shop.units, stock.length_mm)} at the least",
            holding=vice,
        ),
    )


def face_end(bench: Bench, is_pole: bool, stub: float) -> None:
    """The end toward the tailstock faced: true, to length, or with what a ball or a stub wants beyond it."""
    target = bench.view.length
    target += bench.shop.habit("ball end allowance") if is_pole else stub
    free = bench.free_u()
    if free - target < 1e-6:
        return
    low, high = bench.view.span(-1e4, target)
    knife = next((t for t in bench.shop.tools if t.kind == "knife"), None)
    if knife is None:
        raise CannotMakeError("end", "the workshop has no knife tool to face with", "a right-hand knife tool")
    datum, _ = bench.free_end()
    is_length = not is_pole and stub == 0.0 and bench.holding.surface != "stock"
    what = "overall length" if is_length else f"{datum} faced true"
    phrase = "overall length" if is_length else f"allowance off the {datum}"
    why = Why(
        "face-first",
        (),
        "the sawn end is faced so that lengths can be touched off it"
        if not is_length
        else "faced to length from the finished end",
    )
    makes = length_makes(phrase, bench.view.length if is_length else free - target)
    moves = (Move("carriage", "toward the headstock", f"touched on the {datum} as it stands", free - target, makes),)
    sums = (Sum("overall length as measured", bench.view.length, "take off", "carriage", True),) if is_length else ()
    bench.must(
        "end",
        "more to face off",
        bench.attempt(
            "face",
            Truncate(low, high),
            cutter_of(knife, bench.view),
            why,
            caution=caution_for("face"),
            moves=() if is_length else moves,
            sums=sums,
            note=what,
        ),
    )


def centre_stub(bench: Bench, stub: float) -> None:
    """A centre in the end of the stub."""
    end = bench.view.links[-1]
    if bench.is_tube():
        raise CannotMakeError(end.name, "tube has no metal for a centre", "a plug in its end, or solid bar")
    radius = min(1.6, 0.8 * min(end.r1, end.least))
    if radius < 0.8:
        raise CannotMakeError(end.name, f"{end.name} is too thin for a centre", "a shorter overhang")
    free = bench.free_u()
    depth = min(stub - 3.0, radius / math.tan(math.radians(30.0)) + 1.0)
    mouth = depth - 1.0
    points = [(free - depth, 0.0), (free - depth, 0.4 * radius), (free - mouth, 0.4 * radius), (free, radius)]
    cutter = Cutter("centre drill", "centre drill", bench.view.outline([(0.0, 0.0), (depth, radius), (depth, 0.0)]))
    why = Why(
        "centre-for-slender-work",
        (end.name,),
        "the work stands out too far for its thickness; a stub with a centre carries it and comes off last",
    )
    settings = (
        Setting(
            "holding",
            "running centre in the tailstock, just firm; try again when the work is warm",
            "heat; moving the tailstock",
        ),
    )
    bench.must(
        end.name,
        "a smaller centre drill",
        bench.attempt(
            "centre",
            Bore(bench.view.profile(points)),
            cutter,
            why,
            caution=caution_for("centre"),
            settings=settings,
            moves=(
                Move(
                    "tailstock",
                    "toward the headstock",
                    "touched on the end",
                    depth,
                    length_makes("depth of the centre", depth),
                ),
            ),
        ),
    )


def stub_off(bench: Bench, stub: float) -> None:
    """The stub with its centre off: parted nearly through with the centre still in, then sawn by hand."""
    view, datum = bench.view, bench.touched()
    low, high = view.span(-1e4, view.length)
    stop = length_makes(f"{datum} to the finished end", stub)
    moves = (
        Move(
            "carriage",
            "toward the headstock",
            f"touched on the {datum}",
            bench.free_u() - view.length,
            stop,
            "set by the left corner of the tool",
        ),
    )
    wrong = bench.attempt(
        "part off",
        Truncate(low, high),
        parting_cutter(bench, "left", widest=False),
        Why("stub-off-last", (), "the stub with the centre comes off"),
        caution=caution_for("part off stub"),
        moves=moves,
        note="in to a pip of about 1 mm; then stopped, centre withdrawn, sawn through by hand and the pip dressed off",
        setting=bench.stages[-1].operation.set_up if bench.stages and bench.holding.headstock_centre_mm is None else "",
    )
    bench.must("stub", "saw it off and face", wrong)
    if bench.holding.headstock_centre_mm is None:  # between centres the pip carries it until both are cut
        bench.holding = replace(bench.holding, centre_mm=None)


def part_off_to_length(bench: Bench) -> None:
    """Parted off at the finished length: nothing finished can be held for facing."""
    view = bench.view
    low, high = view.span(0.0, 1e4)
    moves = (
        Move(
            "carriage",
            "toward the headstock",
            f"touched on the {bench.touched()}",
            bench.free_u(),
            length_makes("overall length", view.length),
            "set by the corner of the tool nearest the tailstock",
        ),
    )
    why = Why("parted-to-length", (), "nothing finished is held for facing: parted off to length")
    is_between = bench.holding.headstock_centre_mm is not None
    wrong = bench.attempt(
        "part off",
        Truncate(low, high),
        parting_cutter(bench, "right", widest=True),
        why,
        caution=caution_for("part off stub" if is_between else "part off"),
        moves=moves,
        note="in to a pip of about 1 mm; then stopped, centres withdrawn, sawn through by hand and the pip dressed off"
        if is_between
        else "",
    )
    bench.must("end", "something to hold for facing", wrong)


def saw_chucking_piece(bench: Bench, second: Holding) -> None:
    """What the chuck held is sawn off, the work held in the vice by what the second holding will grip."""
    view, facing = bench.view, bench.shop.habit("facing allowance")
    low, high = view.span(-facing, 1e4)
    vice = replace(second, device="vice, protected jaws", kind="vice")
    if second.kind == "stub mandrel":
        whole_low, whole_high = view.span(0.0, view.length)
        vice = replace(vice, from_mm=whole_low, to_mm=whole_high, surface="finished work")
    text = f"what the chuck held is sawn off, {said(bench.shop.units, facing)} left to face"
    wrong = bench.attempt(
        "saw",
        Truncate(low, high),
        Cutter("hacksaw or bandsaw", "saw", NO_CUTTER.outline),
        Why("chucking-piece-off", (), text),
        setting="saw",
        caution=caution_for("saw"),
        holding=vice,
    )
    bench.must("chucking piece", "part it off", wrong)


def parting_cutter(bench: Bench, corner: str, *, widest: bool) -> Cutter:
    """The workshop's widest or narrowest parting tool, set by that corner. Raises CannotMakeError when it has none."""
    tools = [t for t in bench.shop.tools if t.kind == "parting" and t.width_mm]
    if not tools:
        raise CannotMakeError("end", "the workshop has no parting tool", "a parting tool, or saw and face")
    tool = (max if widest else min)(tools, key=lambda t: t.width_mm or 0.0)
    return square_cutter(bench.view, tool.width_mm or 0.0, tool.reach_mm or 0.0, corner, tool.name, tool.owned)
