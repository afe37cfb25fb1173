"""A taper attachment, and what stands in a tool's way beside the tailstock's centre, from a workshop file."""

from __future__ import annotations

from handwheel.job.yamltext import Scalar
from handwheel.workshop.fields import UNKNOWN, Fields
from handwheel.workshop.records import TailstockRoom, TaperAttachment

ATTACHMENT_READS = ("angle to axis", "included angle", "inches per foot", "mm in 100 mm", "nothing")
"""What the scale of a taper attachment may count: degrees of the side to the axis, or of both sides, or the taper on the
diameter."""
CUT_BY = ("cross slide", "top slide")


def read_attachment(fields: Fields) -> TaperAttachment | None:
    """`taper attachment` of the lathe; None where it is left out, `unknown` or `none`."""
    inner = _inner(fields, "taper attachment", "the taper attachment")
    if inner is None:
        return None
    found = TaperAttachment(
        greatest_angle_deg=inner.angle_or_none("greatest angle"),
        length_mm=inner.length_or_none("length", is_zero_good=False),
        reads=inner.choice("reads", ATTACHMENT_READS),
        line=inner.plain_or_none("line"),
        play_mm=inner.length_or_none("play"),
        cut_by=inner.choice("cut by", CUT_BY),
    )
    inner.close()
    return found


def read_tailstock_room(fields: Fields) -> TailstockRoom | None:
    """`beside the centre` of the lathe; None where it is left out."""
    inner = _inner(fields, "beside the centre", "what stands beside the centre")
    if inner is None:
        return None
    shank = None if _is_unknown(inner, "shank") else inner.lengths("shank", False)
    found = TailstockRoom(
        barrel_mm=inner.length_or_none("barrel", is_zero_good=False),
        centre_mm=inner.length_or_none("centre"),
        post_mm=inner.length_or_none("post"),
        shank_mm=(shank[0], shank[1]) if shank and len(shank) == 2 else None,
    )
    entry = inner.mapping.get("shank")
    if shank and len(shank) != 2 and entry is not None:
        fields.complaints.add("workshop-shape", entry.value.span, "'shank' is not a width and a height",
                              "write it like '[10, 12]', the width first")  # fmt: skip
    inner.close()
    return found


def _inner(fields: Fields, key: str, what: str) -> Fields | None:
    entry = fields.entry(key, False)
    if entry is None or isinstance(entry.value, Scalar) and entry.value.text == "none":
        return None
    return Fields(entry.value, fields.complaints, fields.units, what)


def _is_unknown(fields: Fields, key: str) -> bool:
    entry = fields.entry(key, False)
    return entry is None or isinstance(entry.value, Scalar) and entry.value.text == UNKNOWN
