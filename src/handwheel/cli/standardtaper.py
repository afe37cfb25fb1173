"""`handwheel ask taper "standard: No. 2 Morse"`: the taper's sizes, and how it is set."""

from __future__ import annotations

from collections.abc import Sequence

from handwheel.cli.measured import laid_out, workshop_of
from handwheel.cli.table import columns
from handwheel.cli.units import other_text, value_text
from handwheel.cli.wrong import DONE, InputWrong, fault_at
from handwheel.job.records import Measure, Unit
from handwheel.job.wrong import did_you_mean, quoted
from handwheel.readings.words import fixed, other, trimmed
from handwheel.setups.taperasked import taper_asked
from handwheel.setups.taperprocedure import angle_figures, taper_steps
from handwheel.setups.tapers import Taper
from handwheel.tables.tapers import StandardTaper, find_taper, taper_names

KIND, KEY = "taper", "standard"


def ask_standard(sayings: Sequence[str], is_how: bool, unit: Unit, workshop: str | None) -> int:
    """Prints the sizes of a standard taper, and its set-up; returns the exit status. Raises InputWrong."""
    key, _, name = sayings[0].partition(":")
    if len(sayings) != 1 or key.strip() != KEY:
        raise InputWrong([fault_at("taper-unknown", KIND, f"{quoted(sayings[-1])} is not '{KEY}: NAME'",
                                   "write 'standard: No. 2 Morse'; for any other taper ask of a cone")])  # fmt: skip
    found = find_taper(name.strip())
    if found is None:
        raise InputWrong([fault_at("taper-unknown", KIND, f"no table holds the taper {quoted(name.strip())}",
                                   did_you_mean(name.strip(), taper_names()))])  # fmt: skip
    print("\n".join([f"{found.name}:", *columns(_rows(found, unit)), *([f"  {found.source}"] if found.source else [])]))
    if is_how:
        shop = workshop_of(workshop, unit)
        whole = _whole(found)
        angle = found.half_angle_deg
        plain = ("taper", taper_steps(shop), angle_figures(angle, shop))
        subject, steps, figures = plain if whole is None else taper_asked(whole, shop)
        print("\n".join(laid_out(subject, steps, figures, (), shop)))
    return DONE


def _rows(taper: StandardTaper, unit: Unit) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = [
        ("taper", f"1 in {trimmed(1.0 / taper.taper, 3)}", f"{fixed(12.0 * taper.taper, 5)} in per ft"),
        ("angle to axis", value_text(Measure.ANGLE, taper.half_angle_deg, unit), ""),
    ]
    sizes = ((_large(taper), taper.large_mm), ("small end", taper.small_mm), ("between", taper.length_mm))
    for name, size in sizes:
        if size is not None:
            rows.append((name, value_text(Measure.LENGTH, size, unit), other_text(Measure.LENGTH, size, other(unit))))
    return rows


def _large(taper: StandardTaper) -> str:
    return "large end" if taper.name.startswith("taper pin") else "large end, at the gauge line"


def _whole(taper: StandardTaper) -> Taper | None:
    """Its two ends and the length its own taper puts between them; None where the table does not hold both ends."""
    if taper.large_mm is None or taper.small_mm is None:
        return None
    return Taper(taper.large_mm, taper.small_mm, (taper.large_mm - taper.small_mm) / taper.taper)
