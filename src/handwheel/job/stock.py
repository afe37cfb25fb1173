"""The stock a part is made from, as written: `round 5/8`, `hexagon 1/2`, `square 10 mm`, `tube 1 x 3/4`."""

from __future__ import annotations

from handwheel.job.numbers import Scale, read_quantity
from handwheel.job.records import DrawnStock, Measure
from handwheel.job.tokens import Cursor, tokenise
from handwheel.job.wrong import Wrong, did_you_mean, quoted, read_on
from handwheel.job.yamltext import Scalar

_FORMS = ("round", "hexagon", "square", "tube")


def read_stock(scalar: Scalar, bare: Scale) -> DrawnStock:
    """stock := (round | hexagon | square) size | tube outside x bore; raises `Wrong` at its place."""
    return read_on(scalar.text, lambda text: _read(text, bare))


def _read(text: str, bare: Scale) -> DrawnStock:
    cursor = Cursor(text, tokenise(text))
    form = cursor.low()
    if form not in _FORMS:
        raise Wrong(
            "stock-form", cursor.offset(), f"{quoted(text)} is not a form of stock", did_you_mean(form, _FORMS)
        )
    cursor.take()
    token = cursor.peek()
    if token is not None and token.kind == "dia":
        cursor.take()
    at = cursor.offset()
    across = read_quantity(cursor, bare, Measure.LENGTH).number
    bore = None
    if form == "tube":
        if not cursor.take_if("x"):
            raise Wrong("stock-form", cursor.offset(), "a tube needs its bore as well", "write it like 'tube 1 x 3/4'")
        bore = read_quantity(cursor, bare, Measure.LENGTH).number
    if cursor.peek() is not None:
        raise Wrong(
            "value-unreadable",
            cursor.offset(),
            f"{quoted(cursor.rest())} follows a stock that is complete",
            "delete it; the length is chosen from the part",
        )
    sizes = (across,) if bore is None else (across, bore)
    if any(n.measure is not Measure.LENGTH or n.value <= 0 for n in sizes):
        raise Wrong("length-wanted", at, "stock is given by its sizes", "write it like 'round 5/8'")
    if bore is not None and bore.value >= across.value:
        raise Wrong("stock-form", at, "the tube's bore is not smaller than its outside", "write 'tube OUTSIDE x BORE'")
    return DrawnStock(form, across.value, bore.value if bore else None)
