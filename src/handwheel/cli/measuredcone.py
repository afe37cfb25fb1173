"""What may be measured on a taper, and what it says: two diameters, blue, rollers at two heights, balls in a bore."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handwheel.job.records import Unit
from handwheel.readings.words import length_text
from handwheel.setups.answers import taper_words
from handwheel.setups.overrollers import mouth_by_ball_mm, small_end_mm
from handwheel.setups.taperasked import hollow_words
from handwheel.setups.tapercorrect import (
    correct_by_blue,
    correct_by_two_balls,
    correct_by_two_diameters,
    hollow_by_three_diameters,
)

GAUGE = "gauge error"
BLUE = ("blue", "blue in bore")
ENDS = ("large end", "small end")
ROLLERS = ("roller", "over rollers", "over rollers raised", "raised")
BALLS = ("large ball", "small ball", "large ball proud", "large ball sunk", "small ball depth")
CONE_WORDS = ("large diameter", "small diameter", "middle diameter", "apart", GAUGE, *BLUE, "gap", *ROLLERS, *BALLS)


def cone_found(
    read: Mapping[str, float], texts: Mapping[str, str], sizes: Mapping[str, float], unit: Unit
) -> Sequence[str]:
    """The correction in words. KeyError for a word that is wanted and was not said, ValueError for what cannot be."""
    wanted, gauge = sizes["angle to axis"], read.get(GAUGE)
    blue = next((word for word in BLUE if word in texts), None)
    if blue is not None:
        apart = read["apart"] if "apart" in read else sizes["length"]
        found = correct_by_blue(wanted, texts[blue] == ENDS[0], blue != BLUE[0], read["gap"], apart, gauge)
        return taper_words(found, unit, apart)
    if "over rollers" in read:
        low, high, raised = read["over rollers"], read["over rollers raised"], read["raised"]
        found = correct_by_two_diameters(wanted, high, low, raised, gauge)
        end = small_end_mm(low, read["roller"], found.is_deg)
        return (f"small end, at the plate: {length_text(end, unit, 'Ø')}", *taper_words(found, unit, raised))
    if "large ball" in read:
        large, small = read["large ball"], read["small ball"]
        proud = read["large ball proud"] if "large ball proud" in read else -read["large ball sunk"]
        found = correct_by_two_balls(wanted, (large, small), proud, read["small ball depth"], gauge)
        mouth = mouth_by_ball_mm(large, proud, found.is_deg)
        return (f"mouth: {length_text(mouth, unit, 'Ø')}", *taper_words(found, unit, read["small ball depth"]))
    large, small = read["large diameter"], read["small diameter"]
    found = correct_by_two_diameters(wanted, large, small, read["apart"], gauge)
    told = taper_words(found, unit, read["apart"])
    if "middle diameter" not in read:
        return told
    middle = read["middle diameter"]
    return (hollow_words(hollow_by_three_diameters(large, middle, small, read[GAUGE]), middle, unit), *told)
