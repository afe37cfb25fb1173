"""The caution that stands beside each act: one short line a hazard, never permission.

Source: common practice of machine-shop teaching and regulators' advice, no single source; the machine's own manual
and local law come first.
"""

from __future__ import annotations

BY_KIND: dict[str, str] = {
    "saw": "Work clamped, length to a scribed line; support the falling end; eyes covered.",
    "face": "Key out of the chuck, turn over by hand first; eyes covered.",
    "centre": "Barrel locked short; ease in; clear the swarf with the lathe stopped.",
    "drill": "Withdraw often to clear swarf; ease off where the drill breaks through; no glove near it.",
    "ream": "Slow speed, withdraw turning forward, never backward; no finger in the hole.",
    "bore": "Never feel a bore that turns; stop set short of the bottom first, by hand.",
    "turn": "Key out, turn over by hand with the tool at both ends of its travel; feed knocked off before the shoulder.",
    "taper": "Top slide at its angle: try both ends of its travel by hand, clear of chuck and tailstock, before power.",
    "set over": "Tailstock clamped again after setting over; centres greased, and looked at as they warm: they bear on an edge.",
    "between centres": "Dog's tail and clamp screw guarded or well clear of sleeves; centre tried again as the work warms.",
    "ball": "Swing the tool over by hand through its whole arc, lathe stopped, before power; lowest speed; "
    "setting pins and keys out; stand clear of what swings.",
    "curve": "Key out; one line of the chart at a time; stop before measuring.",
    "relieve": "Square tool, locked saddle, slow; stop if it chatters or digs in.",
    "groove": "Square tool, locked saddle, slow; stop if it chatters or digs in.",
    "chamfer": "Light cut; keep hands off the edge until it is broken.",
    "knurl": "Slow; keep brush and fingers out of the rolls.",
    "thread": "Turn the spindle by hand or at the slowest speed; no reverse under power on a screwed chuck without its lock.",
    "single point": "Lowest speed or by hand; hand on the nut's lever, tool out before the shoulder; hands off the point.",
    "tap": "Turn the spindle by hand; back off each half turn; no power reverse on a screwed chuck without its lock.",
    "part off": "Close to the chuck, tool square and on centre, saddle locked; stand to one side; do not catch the piece.",
    "part off stub": "Never part right through between chuck and centre: stop at a pip; saw with the lathe stopped.",
    "mill": "Work held against a stop, cutter tight in its collet, feed against the cutter; brush only when stopped.",
    "cross-drill": "Work clamped against a stop; ease off at breakthrough; key out of the drill chuck.",
    "polish": "No abrasive held by hand on moving work: a holder or a backing board; never wrapped round.",
    "bond": "No compound on the skin; air the room; gloves only away from machines; read the compound's own sheet.",
    "press": "Guard before a press or clamp: brittle work flies; tongs and dry hands for hot parts, no oil on them.",
    "fit": "Lathe stopped, tool withdrawn.",
    "measure": "Lathe stopped, tool withdrawn.",
}


def caution_for(kind: str, overhangs: bool = False) -> str:
    """The caution of an operation; one more where the work stands far out of the chuck."""
    text = BY_KIND.get(kind, "Follow the machine's own manual.")
    if overhangs:
        text += " Work stands far out: lowest speed first, stand clear."
    return text


def no_reverse(has_screwed_chuck: bool | None) -> str:
    """What is said of running backward, by how the chuck is held; None: not known."""
    if has_screwed_chuck is False:
        return "stop before the spindle is reversed"
    lock = "it screws on" if has_screwed_chuck else "it may screw on"
    return f"no reverse under power without the chuck's lock: {lock}"


def threading_caution(kind: str, is_left_hand: bool, has_screwed_chuck: bool | None) -> str:
    """Of a thread by die (`thread`) or by tap in the lathe. A left-hand one is driven the way that undoes a screwed chuck."""
    turn = "Turn the spindle by hand; back off each half turn" if kind == "tap" else (
        "Turn the spindle by hand or at the slowest speed")  # fmt: skip
    text = f"{turn}; {no_reverse(has_screwed_chuck)}."
    if not is_left_hand:
        return text
    if has_screwed_chuck is False:
        return f"{text} Left-hand: turned the other way."
    which = "this chuck" if has_screwed_chuck else "a screwed chuck"
    return f"{text} Left-hand: the cut itself unscrews {which}: its lock on, or by hand in the vice."
