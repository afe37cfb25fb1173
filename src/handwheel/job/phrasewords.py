"""The words of sizes and points in phrases."""

from __future__ import annotations

from handwheel.job.records import Size, Where

SIZES: tuple[tuple[tuple[str, ...], Size], ...] = (
    (("pitch", "circle", "diameter"), Size.PITCH_CIRCLE),
    (("angle", "to", "axis"), Size.ANGLE_TO_AXIS),
    (("half", "angle"), Size.ANGLE_TO_AXIS),
    (("included", "angle"), Size.INCLUDED_ANGLE),
    (("across", "flats"), Size.ACROSS_FLATS),
    (("from", "axis"), Size.FROM_AXIS),
    (("left", "diameter"), Size.LEFT_DIAMETER),
    (("right", "diameter"), Size.RIGHT_DIAMETER),
    (("diameter",), Size.DIAMETER),
    (("radius",), Size.RADIUS),
    (("length",), Size.LENGTH),
    (("width",), Size.WIDTH),
    (("depth",), Size.DEPTH),
    (("pitch",), Size.PITCH),
    (("taper",), Size.TAPER),
)
WHERES = {w.value: w for w in Where if w not in (Where.LEFT_END, Where.RIGHT_END, Where.MEETS)} | {
    "center": Where.CENTRE
}
SIZE_STARTS = frozenset(words[0] for words, _ in SIZES) | {"overall"}


def starts_size(text: str) -> bool:
    """Whether a key of a feature begins like a size of it."""
    words = text.lower().split()
    return bool(words) and (
        words[0] in SIZE_STARTS - {"left", "right", "half", "overall"}
        or " ".join(words[:2]) in ("left diameter", "right diameter", "half angle")
    )
