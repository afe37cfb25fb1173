"""A taper attachment, and what stands beside the tailstock's centre, as a workshop file tells of them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handwheel.workshop.read import read_workshop
from handwheel.workshop.records import Lathe

GUIDE = (Path(__file__).resolve().parents[2] / "docs" / "workshop.md").read_text(encoding="utf-8")
EXAMPLE = re.findall(r"^```yaml\n(.*?)^```", GUIDE, re.MULTILINE | re.DOTALL)[0]
AT = "  wheels:\n"


def read(lines: str) -> list[str]:
    _, faults = read_workshop(EXAMPLE.replace(AT, lines + AT, 1).encode(), "shed.yaml")
    return [f"{fault.id} {fault.what}" for fault in faults]


def lathe_of(lines: str) -> Lathe:
    workshop, faults = read_workshop(EXAMPLE.replace(AT, lines + AT, 1).encode(), "shed.yaml")
    assert faults == ()
    assert workshop is not None
    return workshop.lathe


def test_an_attachment_is_read_in_the_file_s_units() -> None:
    owned = lathe_of("  taper attachment: {greatest angle: 8 deg, length: 9, reads: inches per foot, line: 1/8, play: 2 thou, "
                     "cut by: top slide}\n").attachment  # fmt: skip
    assert owned is not None
    assert (owned.greatest_angle_deg, owned.length_mm) == (8.0, pytest.approx(228.6))
    assert (owned.reads, owned.line, owned.cut_by) == ("inches per foot", 0.125, "top slide")
    assert owned.play_mm == pytest.approx(0.0508)


def test_what_of_it_is_not_known_is_none() -> None:
    owned = lathe_of("  taper attachment: {greatest angle: unknown, reads: nothing, cut by: cross slide}\n").attachment
    assert owned is not None
    assert (owned.greatest_angle_deg, owned.length_mm, owned.line, owned.play_mm) == (None, None, None, None)


@pytest.mark.parametrize("lines", ["", "  taper attachment: none\n", "  taper attachment: unknown\n"])
def test_there_may_be_none(lines: str) -> None:
    assert lathe_of(lines).attachment is None


def test_beside_the_centre() -> None:
    room = lathe_of("  beside the centre: {barrel: 1, centre: 1 3/4, post: unknown, shank: [3/8, 1/2]}\n").tailstock_room
    assert room is not None
    assert (room.barrel_mm, room.centre_mm, room.post_mm) == (pytest.approx(25.4), pytest.approx(44.45), None)
    assert room.shank_mm == pytest.approx((9.525, 12.7))
    assert lathe_of("").tailstock_room is None
    bare = lathe_of("  beside the centre: {barrel: 1, shank: unknown}\n").tailstock_room
    assert bare is not None
    assert bare.shank_mm is None


@pytest.mark.parametrize(("lines", "fault"), [
    ("  taper attachment: {reads: minutes, cut by: cross slide}\n",
     "workshop-word-unknown 'minutes' cannot be 'reads' of the taper attachment"),
    ("  taper attachment: {reads: nothing}\n", "workshop-key-missing the taper attachment has no 'cut by'"),
    ("  taper attachment: {reads: nothing, cut by: cross slide, lenght: 9}\n",
     "workshop-key-unknown 'lenght' is no key of the taper attachment"),
    ("  taper attachment: 9\n", "workshop-shape the taper attachment is not written as keys and values"),
    ("  beside the centre: {shank: [3/8]}\n", "workshop-shape 'shank' is not a width and a height"),
])  # fmt: skip
def test_faults(lines: str, fault: str) -> None:
    assert fault in read(lines)
