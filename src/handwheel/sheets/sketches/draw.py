"""A set-up's picture by its name, with the letters that tie it to its figures."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from handwheel.setups.records import Sketch
from handwheel.sheets.collide import collisions
from handwheel.sheets.moving import Picture, as_picture, moved
from handwheel.sheets.primitives import Item, Page
from handwheel.sheets.sketches.ball import gap_test, touch_and_start, where_to_measure
from handwheel.sheets.sketches.die import clocking, die_in_its_holder
from handwheel.sheets.sketches.taper import along_a_bar, blue_in_a_bore, on_the_side, sine_bar, two_diameters

DRAW: Mapping[str, Callable[[Sketch, float, float], list[Item]]] = {
    "gap test": gap_test,
    "touch and start": touch_and_start,
    "where to measure": where_to_measure,
    "on the slide's side": on_the_side,
    "along a true bar": along_a_bar,
    "sine bar": sine_bar,
    "two diameters": two_diameters,
    "blue in a bore": blue_in_a_bore,
    "die in its holder": die_in_its_holder,
    "clocking": clocking,
}

DRAWN_BY = ("narrows", "swung", "far", "to go")
"""Words that are the same for every part, or say how it is drawn."""


def sketch_picture(sketch: Sketch, width: float, height: float, says_figures: bool = True) -> Picture:
    """The picture in the middle of a width, the metal in it no taller than a height.

    Its figures stand by their letters where they have room and `says_figures`; else in the rows of those letters. [mm]
    """
    drawn = as_picture(DRAW[sketch.name](sketch if says_figures else _bare(sketch), width, height))
    if drawn.width > width or _meets(drawn):
        drawn = as_picture(DRAW[sketch.name](_bare(sketch), width, height))
    shift = max(0.0, (width - drawn.width) / 2)
    return Picture(tuple(moved(item, shift, 0.0) for item in drawn.items), max(width, drawn.width), drawn.height)


def _meets(picture: Picture) -> bool:
    """Whether a text of it meets anything."""
    frame = (-1.0, -1.0, picture.width + 2.0, picture.height + 2.0)
    return bool(collisions(Page(picture.width, picture.height, "", frame, picture.items)))


def _bare(sketch: Sketch) -> Sketch:
    """The picture with letters alone."""
    return replace(sketch, words={name: text if name in DRAWN_BY else "" for name, text in sketch.words.items()})
