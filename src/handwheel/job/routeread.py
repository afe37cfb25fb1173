"""The items under `route`: a part's operations in the maker's own order, in trade words.

`- {hold: three-jaw on stock, to tailstock: right, out: 60 mm}`, then what is done in that holding: `- face: right end`,
`- turn: tenon`. What the words come to in metal is found in `plan`; here only words and names are looked at.
"""

from __future__ import annotations

from collections.abc import Collection

from handwheel.job.entries import Options, as_mapping, as_scalar, as_sequence
from handwheel.job.numbers import Scale
from handwheel.job.records import RouteStep, Side
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Node, Scalar

HOLD = "hold"
DEVICES = ("three-jaw", "four-jaw", "soft jaws", "split bush", "collet", "ball collet", "stub mandrel", "mandrel",
           "between centres")  # fmt: skip
STOCK = "stock"
SUPPORTS = ("centre", "travelling steady", "fixed steady", "hollow centre")
AT_AN_END = ("face", "stub off", "part off", "saw")
ON_A_FEATURE = (
    "blank", "relieve", "corner", "ball", "turn", "taper", "chamfer", "curve", "groove", "knurl", "thread",
    "drill", "ream", "bore", "tap",
)  # fmt: skip
EITHER = ("centre",)
VERBS = (HOLD, "support", *AT_AN_END, *EITHER, *ON_A_FEATURE)
ENDS = {"left end": Side.LEFT, "right end": Side.RIGHT}


def read_route(node: Node, features: Collection[str], complaints: Complaints, bare: Scale) -> tuple[RouteStep, ...]:
    """The steps as written; every word that is not understood is a fault."""
    found: list[RouteStep] = []
    for item in as_sequence(node, "route", complaints):
        step = _step(item, features, complaints, bare)
        if step is not None:
            if not found and step.verb != HOLD:
                complaints.add("route-holds-nothing", step.span, "the route begins before the work is held",
                               "write first how, like '- {hold: three-jaw on stock, to tailstock: right}'")  # fmt: skip
            found.append(step)
    return tuple(found)


def _step(node: Node, features: Collection[str], complaints: Complaints, bare: Scale) -> RouteStep | None:
    mapping = as_mapping(node, "an item of the route", complaints)
    if mapping is None or not mapping.entries:
        return None
    key = mapping.entries[0].key
    if key.text not in VERBS:
        complaints.add("route-word-unknown", key.span, f"{quoted(key.text)} is no operation of a route",
                       did_you_mean(key.text, VERBS))  # fmt: skip
        return None
    options = Options(mapping, f"'{key.text}'", complaints, bare)
    options.take(key.text)
    value = as_scalar(mapping.entries[0].value, key.text, complaints)
    if value is None:
        return None
    text = " ".join(value.text.split())
    if key.text == HOLD:
        return _hold(text, value, options, features, complaints)
    options.done(())
    known: tuple[str, ...] = ()
    if key.text == "support":
        known = SUPPORTS
    elif key.text in AT_AN_END:
        known = tuple(ENDS)
    elif key.text in EITHER:
        known = (*ENDS, *features)
    else:
        known = tuple(features)
    if text not in known:
        complaints.add("route-place-unknown", value.span, f"'{key.text}' is not done to {quoted(text)}",
                       did_you_mean(text, known), (text,))  # fmt: skip
        return None
    return RouteStep(key.text, text, key.span, ENDS.get(text))


def _hold(
    text: str, value: Scalar, options: Options, features: Collection[str], complaints: Complaints
) -> RouteStep | None:
    device, on, surface = text.partition(" on ")
    toward, out = options.side("to tailstock"), options.length_mm("out")
    options.done(("to tailstock", "out"))
    before = len(complaints.found)
    if not on:
        complaints.add("route-hold-form", value.span, f"{quoted(text)} does not say what is held",
                       "write it like 'three-jaw on stock' or 'collet on tenon'")  # fmt: skip
    elif device not in DEVICES:
        complaints.add("route-word-unknown", value.span, f"{quoted(device)} is no way of holding",
                       did_you_mean(device, DEVICES))  # fmt: skip
    if on and surface != STOCK and surface not in features:
        complaints.add("route-place-unknown", value.at(value.text.find(" on ") + 4),
                       f"there is no {quoted(surface)} to hold by", did_you_mean(surface, (STOCK, *features)),
                       (surface,))  # fmt: skip
    if toward is None and options.mapping.get("to tailstock") is None:
        complaints.add("route-hold-form", value.span, "it is not said which end stands toward the tailstock",
                       "add 'to tailstock: left' or 'to tailstock: right' to the item")  # fmt: skip
    if toward is None or len(complaints.found) > before:
        return None
    return RouteStep(HOLD, device, value.span, toward, surface, out)
