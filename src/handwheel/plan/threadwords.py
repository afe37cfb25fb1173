"""A thread's set-up in figures with their names, as the sheets and `ask` print them: blank, lead, drill, depth, fit."""

from __future__ import annotations

from handwheel.plan.names import said
from handwheel.tables.bonded import clocked_error_deg, face_off_mm
from handwheel.tables.metals import metal_of
from handwheel.tables.metriclimits import RECOMMENDED, engagement_group
from handwheel.tables.overwires import best_wire_mm, over_wires_mm
from handwheel.tables.threadclass import ThreadLimits
from handwheel.tables.threadcutting import (
    CHIP_PITCHES,
    DIE_LEAD_PITCHES,
    LEAD_PITCHES,
    START_PERCENT,
    TRADE_PERCENT,
    DrillChoice,
    blind_tap,
    die_lead_mm,
    drill_choices,
    full_thread_in_mm,
    hole_for_percent_mm,
    percent_of_thread,
    undercut_mm,
)
from handwheel.tables.threadlimits import class_of, drawn_class, thread_limits
from handwheel.tables.threads import Thread, find_thread, is_same_thread
from handwheel.tables.threadstrength import engagement
from handwheel.workshop.records import Workshop

Figures = tuple[tuple[str, str], ...]
MOST_DRILLS = 3
"""How many drills are told beside the one that is used."""
SCREW_METAL = "mild steel"
STANDARD = {**dict.fromkeys(("BSW", "BSF", "ME", "brass"), "BS 84 "), "BA": "BS 93 "}
OWN_LIMITS_NONE = ("ME", "brass")
OVER_MM = 0.06
"""How much over the tapping size a drill may be: common practice, no source. [mm]"""


def limits_of(thread: Thread, *, is_nut: bool) -> ThreadLimits | None:
    """The limits of the class drawn, else of the usual one; None for a special thread."""
    cls = class_of(thread, is_nut)
    return None if cls is None else thread_limits(thread, cls)


def class_words(thread: Thread, limits: ThreadLimits) -> str:
    """`6g`, `BS 84 medium`: a class with its standard where it says little alone."""
    standard = STANDARD.get(thread.series, "")
    return f"{standard}{limits.cls}{' nut' if standard and limits.is_nut else ''}"


def whence(thread: Thread, limits: ThreadLimits) -> str:
    """Why that class, in brackets; "" where the designation writes it."""
    if thread.series in OWN_LIMITS_NONE:
        return " (the series has no limits of its own: BS 84's formulae for its size)"
    return "" if drawn_class(thread, limits.is_nut) else " (no class drawn: the usual)"


def between(shop: Workshop, low_mm: float, high_mm: float) -> str:
    """`5.794 to 5.974 mm`."""
    low, unit = said(shop.units, low_mm).split()
    return f"{low} to {said(shop.units, high_mm).split()[0]} {unit}"


def tapping_choice(shop: Workshop, thread: Thread) -> DrillChoice | None:
    """The owned drill for a thread: nearest over the table's size (over the trade's percentage where the table has none);
    else nearest to that of those within the nut's limits; None where none serves."""
    size = thread.tapping_drill_mm or hole_for_percent_mm(thread, TRADE_PERCENT)
    owned = owned_choices(shop, thread)
    near = [c for c in owned if -1e-6 <= c.diameter_mm - size <= OVER_MM]
    if near:
        return min(near, key=lambda c: c.diameter_mm)
    within = [c for c in owned if c.is_within]
    return min(within, key=lambda c: abs(c.diameter_mm - size), default=None)


def owned_choices(shop: Workshop, thread: Thread) -> tuple[DrillChoice, ...]:
    """The owned drills that leave a thread worth having, the fullest thread first."""
    nut = limits_of(thread, is_nut=True)
    limits = None
    if nut is not None and nut.minor_low_mm is not None and nut.minor_high_mm is not None:
        limits = nut.minor_low_mm, nut.minor_high_mm
    drills = [(t.designation, t.diameter_mm) for t in shop.round_tools if t.kind == "drill"]
    return drill_choices(thread, drills, limits)


def percent_words(thread: Thread, hole_mm: float) -> str:
    """`92 % of the nut's depth, 82 % of the screw's, 58 % of the sharp triangle, 77 % as drill tables count`."""
    found = percent_of_thread(thread, hole_mm)
    same = abs(found.nut_depth - found.screw_depth) < 0.5
    depth = f"{found.nut_depth:.0f} % of the depth of nut and screw" if same else (
        f"{found.nut_depth:.0f} % of the nut's depth, {found.screw_depth:.0f} % of the screw's")  # fmt: skip
    tables = "" if found.flat_root is None else f", {found.flat_root:.0f} % as inch drill tables count (3/4 of that)"
    return f"{depth}, {found.sharp_v:.0f} % of the sharp triangle{tables}"


def drill_figures(shop: Workshop, thread: Thread) -> Figures:
    """The tapping drill, what it leaves of the thread under each convention, and the others at hand."""
    nut, size = limits_of(thread, is_nut=True), thread.tapping_drill_mm
    chosen = tapping_choice(shop, thread)
    if chosen is not None:
        first = f"{chosen.name}: {percent_words(thread, chosen.diameter_mm)}{_within(chosen)}"
    else:
        wanted = size or hole_for_percent_mm(thread, TRADE_PERCENT)
        first = f"{said(shop.units, wanted)} to get: {percent_words(thread, wanted)}"
    found = [("tapping drill", first)]
    if nut is not None and nut.minor_low_mm is not None and nut.minor_high_mm is not None:
        within = between(shop, nut.minor_low_mm, nut.minor_high_mm)
        found.append((f"minor diameter, {class_words(thread, nut)}", f"{within}{whence(thread, nut)}"))
    others = [c for c in owned_choices(shop, thread) if c != chosen]
    if others:
        aim = chosen.diameter_mm if chosen else size or hole_for_percent_mm(thread, TRADE_PERCENT)
        nearest = sorted(sorted(others, key=lambda c: abs(c.diameter_mm - aim))[:MOST_DRILLS], key=lambda c: c.diameter_mm)
        texts = (f"{c.name}: {c.percent.screw_depth:.0f} % of the screw's depth{_within(c)}" for c in nearest)
        found.append(("or", "; ".join(texts)))
    easy = hole_for_percent_mm(thread, START_PERCENT)
    easy_words = f"{START_PERCENT:.0f} % of the screw's depth is Ø {said(shop.units, easy)} (common practice)"
    found.append(("small or tough", easy_words))
    return tuple(found)


def _within(choice: DrillChoice) -> str:
    return {True: ", within limits", False: ", outside limits", None: ""}[choice.is_within]


def tap_leads(shop: Workshop, thread: Thread) -> tuple[tuple[str, float], ...]:
    """The taps that may finish a blind hole, and the threads of each one's lead, the longest first.

    Those of the workshop file by their names; else the one it gives, with a bottoming tap; where none is at hand, the three
    of a set by common practice: the tap itself is then to be looked at.
    """
    for tool in shop.round_tools:
        if tool.kind != "tap" or not is_same_thread(tool.designation, thread.designation) or tool.lead_mm is None:
            continue
        if tool.leads:
            return tuple(sorted(((f"the {name} tap", pitches) for name, pitches in tool.leads), key=lambda lead: -lead[1]))
        own = tool.lead_mm / thread.pitch_mm
        bottoming = (("a bottoming tap last", LEAD_PITCHES["bottoming"]),) if own > LEAD_PITCHES["bottoming"] + 1e-9 else ()
        return (("the tap at hand", own), *bottoming)
    return tuple((f"a {name} tap", pitches) for name, pitches in LEAD_PITCHES.items())


def tap_lead_pitches(shop: Workshop, thread: Thread) -> float:
    """Threads in the lead of the owned tap; of a second tap where none is at hand or its lead is not known."""
    for tool in shop.round_tools:
        if tool.kind == "tap" and is_same_thread(tool.designation, thread.designation) and tool.lead_mm is not None:
            return tool.lead_mm / thread.pitch_mm
    return LEAD_PITCHES["second"]


def blind_figures(shop: Workshop, thread: Thread, full_mm: float, lead_pitches: float, point_deg: float) -> Figures:
    """Depths of a blind tapped hole from its mouth, and what a hole drilled no deeper than the thread leaves."""
    depths, units = blind_tap(thread, full_mm, lead_pitches, point_deg), shop.units
    short = full_thread_in_mm(thread, full_mm, lead_pitches)
    bottoming = blind_tap(thread, full_mm, LEAD_PITCHES["bottoming"], point_deg)
    return (
        ("full thread", f"{said(units, full_mm)} deep"),
        ("tap's point to", f"{said(units, depths.tap_to_mm)} (lead of {lead_pitches:g} threads)"),
        ("drill to", f"{said(units, depths.drill_to_mm)} full diameter, its point {said(units, depths.point_to_mm)}; "
         f"{CHIP_PITCHES:g} pitches of it for chips"),
        ("bottoming tap", f"last of all: then drill to {said(units, bottoming.drill_to_mm)} only"),
        ("if only drilled as drawn", f"{said(units, short)} of full thread with that lead"),
    )  # fmt: skip


def die_figures(shop: Workshop, thread: Thread, blank_mm: float, shoulder: str) -> Figures:
    """Blank, lead, fit, and what a shoulder asks. `shoulder`: what stands at the thread's end, or ""."""
    units, screw = shop.units, limits_of(thread, is_nut=False)
    root = f"down to the root, Ø {said(units, thread.minor_external_mm)}"
    found = [("blank", _blank(shop, blank_mm, screw)), ("lead", f"45°, leg {said(units, die_lead_mm(thread))}: {root}")]
    if shoulder:
        wide, deep = undercut_mm(thread)
        found.append(("shoulder", f"{shoulder}: a die turned about for last leaves about {DIE_LEAD_PITCHES:g} pitch "
                      f"({said(units, DIE_LEAD_PITCHES * thread.pitch_mm)}) unfinished; to screw right home, an undercut "
                      f"{said(units, wide)} wide to Ø {said(units, deep)}, or countersink the mate's mouth"))  # fmt: skip
    return (*found, *fit_figures(shop, thread, screw), clocking_figure(shop, thread))


def clocking_figure(shop: Workshop, thread: Thread) -> tuple[str, str]:
    """What to face off so that it comes tight further round."""
    quarter = face_off_mm(thread.pitch_mm, 90.0)
    out = clocked_error_deg(thread.pitch_mm, shop.habit("capability length"), 0.0)[0]
    return ("to come tight further", f"{said(shop.units, quarter)} off the seat for 90°, "
            f"{said(shop.units, face_off_mm(thread.pitch_mm, 10.0))} for 10°; "
            f"{said(shop.units, shop.habit('capability length'))} out in facing is {out:.0f}°")  # fmt: skip


def _blank(shop: Workshop, blank_mm: float, screw: ThreadLimits | None) -> str:
    text = f"Ø {said(shop.units, blank_mm)}"
    if screw is None or screw.major_low_mm is None or screw.major_high_mm is None:
        return text
    inside = screw.major_low_mm <= blank_mm <= screw.major_high_mm
    return f"{text}, {'within' if inside else 'outside'} {between(shop, screw.major_low_mm, screw.major_high_mm)} ({screw.cls})"


def fit_figures(shop: Workshop, thread: Thread, screw: ThreadLimits | None) -> Figures:
    """The screw's effective diameter by its limits, and over wires; by the mate alone where no limits are held."""
    wire = best_wire_mm(thread.pitch_mm, thread.angle_deg)
    if screw is None:
        size = over_wires_mm(thread.pitch_diameter_mm, thread.pitch_mm, thread.angle_deg, wire)
        wires = "" if size is None else f"; basic size over three wires of {said(shop.units, wire)}: {said(shop.units, size)}"
        why = f"{thread.classes[0]} is not given for it" if thread.classes else f"a {thread.series} thread has no standard limits"
        return (("fit", f"in its mate: {why}{wires}"),)
    ends = [over_wires_mm(d, thread.pitch_mm, thread.angle_deg, wire) for d in (screw.effective_low_mm, screw.effective_high_mm)]
    effective = between(shop, screw.effective_low_mm, screw.effective_high_mm)
    found = [(f"effective diameter, {class_words(thread, screw)}", f"{effective}{whence(thread, screw)}")]
    if ends[0] is not None and ends[1] is not None:
        found.append(("over three wires", f"of {said(shop.units, wire)}: {between(shop, ends[0], ends[1])}"))
    return tuple(found)


def engagement_mm(thread: Thread, nut_material: str, hole_mm: float | None) -> tuple[float, float] | None:
    """Least and most engagement for a mild steel screw to part first. [mm]

    Least: the strongest metal of the nut's kind and the weakest screw, threads at their basic sizes; most: the weakest and the
    strongest, the sizes at those limits of their classes that leave least to shear, threads cut by hand. None where a metal is
    not known, or the hole leaves no thread.
    """
    nut, screw = metal_of(nut_material), metal_of(SCREW_METAL)
    if nut is None or screw is None:
        return None
    hole, major = hole_mm or thread.minor_internal_mm, thread.major_mm
    least = engagement(thread, screw.tensile_mpa[0], nut.tensile_mpa[1], hole, major)
    loose = _loosest(thread, hole)
    most = engagement(thread, screw.tensile_mpa[1], nut.tensile_mpa[0], *loose) or least
    return None if least is None or most is None else (least.low_mm, most.high_mm)


def _loosest(thread: Thread, hole_mm: float) -> tuple[float, float, tuple[float, float] | None]:
    """Hole, screw's major, effective diameters of nut and screw, where the classes let least of the threads meet. [mm]"""
    nut, screw = limits_of(thread, is_nut=True), limits_of(thread, is_nut=False)
    if nut is None or screw is None or screw.major_low_mm is None:
        return hole_mm, thread.major_mm, None
    return hole_mm, screw.major_low_mm, (nut.effective_high_mm, screw.effective_low_mm)


def engagement_figures(shop: Workshop, thread: Thread, nut_material: str, hole_mm: float | None, has_mm: float | None) -> Figures:
    """How far a mild steel screw wants to go into this metal so that it parts before a thread strips: a range.

    Parameters
        nut_material: as drawn. hole_mm: minor diameter as drilled; None: the basic. has_mm: engagement drawn, if known.
    """
    if metal_of(nut_material) is None:
        return (("engagement", "material not known: not reckoned"),)
    found = engagement_mm(thread, nut_material, hole_mm)
    if found is None:
        return ()
    text = f"{between(shop, *found)} for a {SCREW_METAL} screw to part before a thread strips"
    if has_mm is not None and has_mm < found[1]:
        short = "below that whole range: it strips first" if has_mm < found[0] else "within that range: it may strip first"
        text += f"; the drawing has {said(shop.units, has_mm)}, {short}"
    return (("engagement", text), *_length_figure(shop, thread, has_mm))


def _length_figure(shop: Workshop, thread: Thread, has_mm: float | None) -> Figures:
    """ISO 965-1's group of a length that is not a normal one, and what class it then recommends; none where one is drawn."""
    group = None if has_mm is None or not thread.series.startswith("ISO metric") else engagement_group(thread, has_mm)
    if group is None or has_mm is None or group[0] == "N" or drawn_class(thread, is_nut=True):
        return ()
    screw, nut = RECOMMENDED[group[0]]
    name = {"S": "short", "L": "long"}[group[0]]
    return (("length of engagement", f"{said(shop.units, has_mm)} is {name} by ISO 965-1 (normal {said(shop.units, group[1])} to "
             f"{said(shop.units, group[2])}): medium is then {nut} with {screw}, if it should be so much"),)  # fmt: skip


def lead_words(shop: Workshop, designation: str, full_mm: float) -> str:
    """How deep a blind tapped hole off the axis is drilled for each tap; what is behind is not reckoned. "": no such thread."""
    thread = find_thread(designation)
    if thread is None:
        return ""
    depths = (f"{said(shop.units, blind_tap(thread, full_mm, pitches, 118.0).drill_to_mm)} for {tap} (lead {pitches:g} threads)"
              for tap, pitches in tap_leads(shop, thread))  # fmt: skip
    return f"that is full thread's depth: full diameter to {', '.join(depths)}; what metal is behind is not reckoned: look first"


def tap_note(shop: Workshop, designation: str) -> str:
    """A tapped hole off the axis in one line: its drill and the thread that leaves."""
    thread = find_thread(designation)
    if thread is None:
        return f"tap {designation}"
    told = (f"{head} {value}" for head, value in drill_figures(shop, thread)[:2])
    return "; ".join((f"tap {designation}", *told))
