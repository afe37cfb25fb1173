"""The lathe with its handwheels, and what holds the work, from a workshop file."""

from __future__ import annotations

from handwheel.job.records import Measure
from handwheel.job.wrong import did_you_mean, quoted
from handwheel.job.yamltext import Mapping, Node
from handwheel.workshop.attachment import read_attachment, read_tailstock_room
from handwheel.workshop.fields import Fields
from handwheel.workshop.records import Chuck, Handwheel, Lathe

SLIDES = ("cross slide", "top slide", "carriage", "tailstock")
READS = {"cross slide": ("radius", "diameter"), "top slide": ("travel", "radius", "diameter")}
CHUCK_KINDS = ("three-jaw", "four-jaw", "soft jaws", "collet", "ball collet", "drill chuck")
CENTRES = ("fixed", "running", "hollow")
STEADIES = ("fixed", "travelling")
TEST_N = 50.0
"""Push of the bench test for a chuck's own give: about that of 5 kg on a spring balance. [N]"""
GIVE = "give at 50 N"


def read_lathe(fields: Fields) -> Lathe:
    """The lathe; the wheels of the cross slide and the carriage must be there."""
    wheels_entry = fields.entry("wheels")
    wheels: dict[str, Handwheel] = {}
    if wheels_entry is not None:
        listed = Fields(wheels_entry.value, fields.complaints, fields.units, "the wheels")
        for slide in SLIDES:
            entry = listed.entry(slide, slide in ("cross slide", "carriage"))
            if entry is not None:
                what = f"the {slide}'s wheel"
                wheels[slide] = _wheel(slide, Fields(entry.value, fields.complaints, fields.units, what))
        listed.close()
    speeds = tuple(fields.read(s, Measure.RATIO, False, "rpm") or 0.0 for s in fields.scalars("speeds", False))
    lathe = Lathe(
        name=fields.text("name"),
        centre_height_mm=fields.length("centre height"),
        between_centres_mm=fields.length("between centres"),
        spindle_bore_mm=fields.length_or_none("spindle bore"),
        speeds_rpm=tuple(sorted(speeds)),
        power_w=fields.plain_or_none("power", "W"),
        wheels=wheels,
        top_slide_swivel_deg=fields.angle_or_none("top slide swivel"),
        tailstock_taper=fields.text("tailstock taper", False),
        has_screwed_chuck=fields.yes_or_none("screwed chuck"),
        leadscrew_pitch_mm=fields.length_or_none("leadscrew pitch", is_zero_good=False),
        swing_over_cross_slide_mm=fields.length_or_none("swing over cross slide", is_zero_good=False),
        tailstock_set_over_mm=fields.length_or_none("tailstock set over"),
        attachment=read_attachment(fields),
        tailstock_room=read_tailstock_room(fields),
    )
    fields.close()
    return lathe


def _wheel(slide: str, fields: Fields) -> Handwheel:
    wheel = Handwheel(
        slide=slide,
        lead_mm=fields.length("lead"),
        divisions=fields.whole("divisions"),
        reads=fields.choice("reads", READS.get(slide, ("travel",))),
        smallest_part=fields.plain("smallest part"),
        sense=fields.choice("sense", ("clockwise in", "clockwise out")),
        travel_mm=fields.length_or_none("travel", is_zero_good=False),
        backlash_mm=fields.length_or_none("backlash"),
        crank_room_mm=fields.length_or_none("crank room"),
        division_name=fields.text("division name", False),
    )
    if wheel.smallest_part > 1.0:
        entry = fields.mapping.get("smallest part")
        fields.complaints.add("workshop-out-of-range", entry.value.span if entry else fields.span,
                              "the smallest part of a division is more than a division",
                              "write 1 for whole lines, 1/2 for half of one")  # fmt: skip
    fields.close()
    return wheel


def read_chucks(fields: Fields) -> tuple[Chuck, ...]:
    """Every chuck and set of collets: a list whose items open with their kind."""
    found = []
    for item in fields.items("chucks"):
        kind = first_key(item)
        if kind not in CHUCK_KINDS:
            fields.complaints.add("workshop-word-unknown", item.span, f"{quoted(kind)} is no kind of chuck",
                                  did_you_mean(kind, CHUCK_KINDS))  # fmt: skip
            continue
        found.append(_chuck(kind, Fields(item, fields.complaints, fields.units, f"this {kind}")))
    return tuple(found)


def _chuck(kind: str, fields: Fields) -> Chuck:
    chuck = Chuck(
        name=fields.text(kind),
        kind=kind,
        least_mm=fields.length("least", is_zero_good=True),
        greatest_mm=fields.length("greatest"),
        grip_mm=fields.length("grip"),
        run_out_mm=fields.length_or_none("run-out"),
        greatest_rpm=fields.plain_or_none("greatest speed", "rpm"),
        through_mm=fields.length_or_none("through"),
        body_radius_mm=fields.length_or_none("body radius"),
        sizes_mm=tuple(sorted(fields.lengths("sizes", False))),
        jaw_height_mm=fields.length_or_none("jaw height", is_zero_good=False),
        give_mm_per_n=_give(fields),
    )
    fields.in_order(chuck.least_mm, chuck.greatest_mm, "least")
    fields.close()
    return chuck


def _give(fields: Fields) -> float | None:
    """How far a push of that test moves a stub next to the jaws, for one newton of it; None where not known. [mm/N]"""
    moved = fields.length_or_none(GIVE, is_zero_good=False)
    return None if moved is None else moved / TEST_N


def first_key(item: Node) -> str:
    """The first key of a list's item, which says its kind; '' where it has none."""
    return item.entries[0].key.text if isinstance(item, Mapping) and item.entries else ""
