"""The page of a set-up: what to set and what undoes it, then the parts done alike side by side."""

from __future__ import annotations

from dataclasses import dataclass

from handwheel.job.records import Unit
from handwheel.readings.dial import wheel_of
from handwheel.readings.strip import make_strip
from handwheel.sheets.bunches import Bunch, as_one, settings_columns
from handwheel.sheets.columns import LABEL_MM, Columns
from handwheel.sheets.families import Family, families
from handwheel.sheets.family import FamilyBlocks, family_blocks
from handwheel.sheets.fonts import text_width_mm
from handwheel.sheets.moving import Picture, moved
from handwheel.sheets.paper import DIM_PT, HEAD_PT, READ_PT, WORK_PT, Composer, beside, text_block, under
from handwheel.sheets.primitives import Band, Line, LineType, Reversed, Text
from handwheel.sheets.procedures import procedure_blocks
from handwheel.sheets.rows import caution_block, strip_block
from handwheel.sheets.setups import Run
from handwheel.sheets.shop import Shop
from handwheel.sheets.titles import settings_block
from handwheel.sheets.whole.pressure import pressure_text

KEY_PT = 34.0


@dataclass(frozen=True, slots=True)
class SetUpBlocks:
    """A set-up laid out in blocks that are not broken: its opening, then those of each part."""

    subject: str
    opening: Picture
    running: Picture
    families: tuple[FamilyBlocks, ...]


def set_up_blocks(bunch: Bunch, place: str, shop: Shop, width: float, explained: dict[str, str]) -> SetUpBlocks:
    """The blocks of a set-up, or of a few alike: parts that are done alike stand side by side, each strip once.

    explained: the procedures told so far and the set-up where they stand, added to. width: [mm]
    """
    run = bunch[0] if len(bunch) == 1 else as_one(bunch)
    running = _running(run, width)
    told: set[tuple[str, bool]] = set()
    found: list[FamilyBlocks] = []
    if len(bunch) == 1:
        bunched: tuple[Family, ...] = families(run, shop.readings, shop.can_be_read)
        keys: tuple[str, ...] = ()
    else:
        bunched, keys = (run.groups,), tuple(r.set_up.key for r in bunch)
    for family in bunched:
        laid = family_blocks(family, run, shop, width, keys)
        strips = _strips(family, shop, width, told)
        found.append(FamilyBlocks(under([running, laid.names], 1.6), laid.blocks))
        found += [FamilyBlocks(running, tuple(strips))] if strips else []
        found += procedure_blocks(family, shop, width, explained, run.set_up.key, running)
    subject = ";  ".join(f"Set-up {r.set_up.key}  ·  {_parts(r)}" for r in bunch)
    opening = _opening(run, place, shop.unit, width) if len(bunch) == 1 else _openings(bunch, place, shop.unit, width)
    caution = pressure_text(shop.pressure, [g.part for r in bunch for g in r.groups])
    if caution:
        opening = under([opening, caution_block(caution, width)], 1.6)
    if shop.void and any(shop.apart.get(g.part) for r in bunch for g in r.groups):
        opening = under([opening, text_block(shop.void, width, DIM_PT, True)], 1.6)
    return SetUpBlocks(subject, opening, running, tuple(found))


def _parts(run: Run) -> str:
    return ", ".join(dict.fromkeys(g.part for g in run.groups))


def _strips(family: Family, shop: Shop, width: float, told: set[tuple[str, bool]]) -> list[Picture]:
    """The strips that the sums of these parts need and that do not stand in this set-up yet."""
    found = []
    for operation in (s.operation for g in family for s in g.stages):
        if (operation.part, operation.number) not in shop.can_be_read:
            continue
        for asked in operation.sums:
            if (asked.wheel, asked.per_side) in told:
                continue
            told.add((asked.wheel, asked.per_side))
            strip = make_strip(asked, wheel_of(shop.workshop, asked.wheel), shop.workshop.units)
            found.append(strip_block(strip, width))
    return found


FIRST_SHARE = 0.5
"""The first set-up begins under the cards only where this much of the page is still empty."""


LEAST_OPENING_MM = 40.0
"""An opening no taller than this does not stand alone at the foot of a page."""


def put_set_up(paper: Composer, blocks: SetUpBlocks, is_first: bool, may_break: bool) -> None:
    """A set-up under the one before where all of it fits, or with `may_break` what is set in it; else on a page of its own."""
    heights = [block.height + family.gap for family in blocks.families for block in family.blocks]
    is_short = blocks.opening.height < LEAST_OPENING_MM
    follows = heights[: 1 if is_short else 0] if may_break else heights
    begins = blocks.opening.height + sum(follows) + 9.0
    if begins <= paper.room() and (not is_first or paper.room() > FIRST_SHARE * paper.whole):
        paper.put(Picture((Line(0, 0.8, paper.width, 0.8, LineType.HEAVY),), paper.width, 1.6), 1.6)
        paper.also(blocks.subject)
    else:
        paper.start(blocks.subject)
    paper.put(blocks.opening, 2.0)
    for family in blocks.families:
        paper.running = blocks.running
        for block in family.blocks:
            paper.put(block, family.gap)
            paper.running = family.names


def _running(run: Run, width: float) -> Picture:
    """The head of a set-up's further pages."""
    wide = text_width_mm(run.set_up.key, READ_PT, True) + 6.0
    words = text_block(f"{run.set_up.title}, continued", width - wide - 4.0, WORK_PT, True)
    badge = (Band(0, 0, wide, 7.6), Reversed(Text(wide / 2, 5.8, run.set_up.key, READ_PT, True, "middle")))
    return Picture((*badge, *(moved(i, wide + 4.0, 1.6) for i in words.items)), width, max(7.6, words.height + 1.6))


def _badge(key: str) -> Picture:
    """A set-up's key, to be read from two metres."""
    wide = max(24.0, text_width_mm(key, KEY_PT, True) + 8.0)
    sign = Reversed(Text(wide / 2, 11.7, key, KEY_PT, True, "middle"))
    return Picture((Band(0, 0, wide, 15.0), sign), wide, 15.0)


def _legend(place: str, unit: Unit) -> str:
    name = "inches" if unit is Unit.INCH else "millimetres"
    return f"{place}  ·  headstock at the left  ·  circle: datum  ·  stippled: comes off  ·  drawn in {name}"


def _opening(run: Run, place: str, unit: Unit, width: float) -> Picture:
    badge = _badge(run.set_up.key)
    room = width - badge.width - 6.0
    again = " (the same setting again)" if run.again else ""
    title = under([
        text_block(f"{run.set_up.title or 'Set-up'}{again}", room, HEAD_PT, True),
        text_block(_legend(place, unit), room, DIM_PT),
    ], 0.6)
    head = beside([(0.0, badge), (badge.width + 5.0, title)])
    return under([head, settings_block(run.settings, width)], 1.6)


def _openings(bunch: Bunch, place: str, unit: Unit, width: float) -> Picture:
    """The opening of a few set-ups alike: a badge over each column, then what is set in each."""
    columns = Columns(width, len(bunch))
    badges = [
        under([_badge(run.set_up.key), text_block(run.set_up.title, columns.cell, WORK_PT, True)], 0.8) for run in bunch
    ]
    said = text_block("One set-up a column, in this order, column by column.", LABEL_MM, DIM_PT)
    legend = text_block(_legend(place, unit), width, DIM_PT)
    return under([columns.row(said, badges), legend, settings_columns(bunch, width)], 0.8)
