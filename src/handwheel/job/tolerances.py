"""The tolerance behind a size: `± 0.002`, a pair of limits, or an ISO 286 class (looked up later)."""

from __future__ import annotations

import re
from fractions import Fraction

from handwheel.base.faults import Span
from handwheel.job.numbers import Scale, read_quantity
from handwheel.job.records import Measure, Tolerance
from handwheel.job.tokens import Cursor, Token
from handwheel.job.wrong import Wrong, quoted

ISO286_CLASS = re.compile(
    r"(?:CD|EF|FG|JS|ZA|ZB|ZC|cd|ef|fg|js|za|zb|zc|[A-HJKM-PR-VX-Za-hjkm-pr-vx-z])(?:0?1|[2-9]|1[0-8]|0)"
)
_ZERO = Fraction(0)
_WORD_BEFORE = re.compile(r"\S+\Z")
_NOTES = {
    "dia": "leave it out, or write '∅' before the size",
    "diam": "leave it out, or write '∅' before the size",
    "diameter": "leave it out: the phrase says it",
    "r": "write 'R' before the size",
    "rad": "write 'R' before the size",
    "ref": "write an auxiliary size in brackets: '(1/2)'",
    "typ": "write the size for each feature",
    "nom": "leave it out",
    "approx": "leave it out, or write a tolerance",
    "max": "write both limits, like '+0 -0.01'",
    "min": "write both limits, like '+0.01 -0'",
}


def is_class(token: Token | None) -> bool:
    """Whether the token is written like an ISO 286 tolerance class."""
    return (
        token is not None
        and token.kind == "word"
        and token.is_after_blank
        and ISO286_CLASS.fullmatch(token.text) is not None
    )


def read_tolerance(cursor: Cursor, last: Scale, span_at: Span) -> Tolerance | None:
    """tolerance := ± quantity | limit limit | [sign] class; None where nothing follows.

    `last` is the scale of the number before it, which a bare number takes. `span_at` is the place of the text's
    first character.
    """
    token = cursor.peek()
    if token is None or token.text == ")":
        return None
    span = Span(span_at.file, span_at.line, span_at.column + token.start)
    if is_class(token):
        cursor.take()
        return Tolerance(_ZERO, _ZERO, token.text, span)
    if token.kind in ("pm", "sign") and is_class(cursor.peek(1)):
        cursor.take()
        return Tolerance(_ZERO, _ZERO, cursor.take().text, span)
    if token.kind == "pm":
        return _plus_minus(cursor, last, span)
    if token.kind == "sign":
        return _limits(cursor, last, span)
    raise _unknown(cursor, token)


def _plus_minus(cursor: Cursor, last: Scale, span: Span) -> Tolerance:
    """`± 0.002` or `+/- 0.002`."""
    token = cursor.take()
    if token.text[0] == "+" and "/" not in token.text:
        number = cursor.peek()
        amount = number.text if number and number.kind == "num" else "0.001"
        if number and (comma := re.match(r"[0-9]+,[0-9]+", cursor.text[number.start :])):
            amount = comma[0].replace(",", ".")
        raise Wrong(
            "plus-minus",
            token.start,
            f"'{token.text}' is not a tolerance",
            f"write '± {amount}' or '+{amount} -{amount}'",
            (token.start, token.end, "±"),
        )
    value = _amount(cursor, last)
    return Tolerance(-value, value, "", span)


def _amount(cursor: Cursor, last: Scale) -> Fraction:
    """One number of a tolerance, in the scale of the number before it unless it has its own."""
    at = cursor.offset()
    token = cursor.peek()
    if token is None or token.kind not in ("num", "vulgar"):
        raise Wrong("tolerance-unreadable", at, "a number is missing after the sign", "write it like '± 0.002'")
    found = read_quantity(cursor, Scale(last.factor, last.measure, True), last.measure)
    if found.number.measure is not last.measure:
        raise Wrong(
            "tolerance-measure",
            at,
            f"the tolerance is not of the same sort as the {last.measure.value}",
            "write it in the unit of the size",
        )
    if last.measure is Measure.ANGLE and found.scale.is_bare and found.number.value != 0:
        raise Wrong("angle-unit", at, "an angle's tolerance carries a unit", "write it like '± 0.5 deg'")
    return found.number.value


def _limits(cursor: Cursor, last: Scale, span: Span) -> Tolerance:
    """`+0.002 -0` or `+0.02/+0.01`: each sign set against its number, upper first."""
    first = cursor.peek()
    at = cursor.offset()
    try:
        upper = _limit(cursor, last)
    except Wrong as wrong:
        raise _zero_without_sign(cursor, wrong) from None
    middle = cursor.peek()
    if middle is not None and middle.text == "/":
        cursor.take()
    second = cursor.peek()
    if first is None or second is None or second.kind != "sign":
        typed = cursor.text[at : cursor.offset()].strip()
        number = typed[1:].strip()
        what = f"'{typed}' is a single limit"
        raise Wrong(
            "single-limit",
            at,
            what,
            f"write '+{number} -0' or '+0 -{number}' for limits, '{typed[0]} {number}' with "
            "blanks on both sides of the sign for a sum",
            (at, cursor.offset(), ""),
        )
    lower = _limit(cursor, last)
    if lower > upper:
        typed = cursor.text[first.start : second.start].strip().rstrip("/").strip()
        other = cursor.text[second.start : cursor.tokens[cursor.index - 1].end].strip()
        end = cursor.tokens[cursor.index - 1].end
        what = f"'{typed} {other}' has its lower limit first"
        raise Wrong("limits-order", at, what, f"write '{other} {typed}'", (at, end, ""))
    return Tolerance(lower, upper, "", span)


def _zero_without_sign(cursor: Cursor, wrong: Wrong) -> Wrong:
    """`+0.02 0`: the lower limit's sign is missing."""
    second = next((t for t in cursor.tokens if t.start == wrong.at), None)
    if wrong.fault_id != "two-numbers" or second is None or second.kind != "num":
        return wrong
    return Wrong(
        "limit-sign", second.start, f"'{second.text}' has no sign", f"write '-{second.text}' or '+{second.text}'"
    )


def _limit(cursor: Cursor, last: Scale) -> Fraction:
    token = cursor.take()
    if token.is_before_blank:
        raise Wrong(
            "limit-blank",
            token.start,
            f"'{token.text}' stands apart from its number",
            "set each limit's sign against its number, like '+0.002 -0'",
            (token.start, cursor.offset(), token.text.rjust(cursor.offset() - token.start)),
        )
    amount = _amount(cursor, last)
    return -amount if token.text == "-" else amount


def _unknown(cursor: Cursor, token: Token) -> Wrong:
    """What else can stand behind a size by mistake."""
    if token.text == ",":
        return Wrong("value-unreadable", token.start, "a comma has no place in a value", "delete it")
    if token.text == "#":
        return Wrong("value-unreadable", token.start, "'#' is no part of a number", "write 'No. 7 drill'")
    before = cursor.peek(-1) if cursor.index else None
    if before is not None and (before.low + token.low) in ("inches", "degrees"):
        return Wrong(
            "value-unreadable",
            token.start,
            f"{quoted(before.text + ' ' + token.text)} is not a unit",
            f"write '{before.text}{token.text}'",
        )
    if token.kind == "word" and not token.is_after_blank and before is not None:
        start = _WORD_BEFORE.search(cursor.text[: token.start])
        typed = (start[0] if start else before.text) + token.text
        do = "units are mm, in, thou, deg, min"
        if ISO286_CLASS.fullmatch(token.text) and token.low[0] != "e":
            do = f"write a blank before the class: '{typed.removesuffix(token.text)} {token.text}'"
        return Wrong("value-unreadable", token.start - len(start[0]) if start else before.start,
                     f"'{typed}' is not a number", do, (token.start, token.end, ""))  # fmt: skip
    if token.low in _NOTES:
        do = _NOTES[token.low]
        return Wrong("value-unreadable", token.start, f"{quoted(token.text)} is no part of a size", do,
                     (token.start, token.end, ""))  # fmt: skip
    after = cursor.peek(1)
    if token.text == "/" and token.is_after_blank and before is not None and after is not None and after.kind == "num":
        typed = cursor.text[before.start : after.end]
        return Wrong("value-unreadable", before.start, f"{quoted(typed)} has blanks in it",
                     f"write '{''.join(typed.split())}'", (before.end, after.end, ""))  # fmt: skip
    if token.kind == "word" and re.fullmatch(r"[A-Za-z]{1,2}[0-9]+", token.text):
        return Wrong(
            "class-unknown",
            token.start,
            f"'{token.text}' is not a tolerance class",
            "write one like 'h7' or 'H7'",
            (token.start, token.end, ""),
        )
    return Wrong(
        "value-unreadable",
        token.start,
        f"{quoted(cursor.rest())} cannot be read after the size",
        "units are mm, in, thou, deg, min; a tolerance is like '± 0.002', '+0.002 -0' or 'h7'",
    )
