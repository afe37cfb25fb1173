"""Questions: what `--ask` says, read against the job's parts."""

from __future__ import annotations

import re
from fractions import Fraction

from handwheel.base.faults import Fault, Span
from handwheel.job.numbers import read_quantity, scale_of
from handwheel.job.phrases import Reader
from handwheel.job.questions import Asked, Body, SectionAt, SlopeLength, SoThat, Sum, Whole
from handwheel.job.records import ZERO, Job, Measure, Number, Phrase
from handwheel.job.senses import senses_of
from handwheel.job.tokens import Cursor, Token, tokenise
from handwheel.job.wrong import Wrong, did_you_mean, quoted
from handwheel.job.yamltext import Scalar

ASK = "--ask"
SAID = "ask"
IT = "it"
_SO_THAT = re.compile(r"\s+so\s+that\s+", re.IGNORECASE)
_IS = re.compile(r"\s+is\s+", re.IGNORECASE)
_SECTION = re.compile(r"\s*section\s+at\s+", re.IGNORECASE)
_WHOLE = re.compile(r"\s*(volume|mass|surface\s+area)(\s+of\s+|\s*$)", re.IGNORECASE)
_SLOPE = re.compile(r"\s*slope\s+length(?:\s+of\s+(?P<feature>\S+))?(?P<of>\s+of\s+|\s*$)", re.IGNORECASE)
_NUMBERS = ("no", "nos", "letter")


def read_question(text: str, job: Job, part: str | None) -> Asked | Fault:
    """A question as read.

    Parameters
        text: a phrase; phrases added and taken away; `X so that Y is VALUE`; `section at POINT`; `volume`, `mass`
            or `surface area`; `slope length of FEATURE`; each may end in `of PART`.
        part: the part it is about where it names none; None where the job has several and none was chosen.
    Returns
        The question, a plain phrase as a `Phrase`; or the fault, placed at `--ask`, line 1.
    """
    known = {one.name: senses_of(one) for one in job.parts}
    span = Span(ASK, 1, 1)
    if part is not None and part not in known:
        return Fault("part-unknown", span, f"there is no part {quoted(part)}", did_you_mean(part, known), part)
    own = part or (job.parts[0].name if len(job.parts) == 1 else "")
    is_one = job.file == SAID and len(job.parts) == 1
    reader = Reader(known, own, scale_of(job.units), IT if is_one else "")
    line = text.replace("\n", " ").replace("\r", " ")
    try:
        return _question(line, span, reader)
    except Wrong as wrong:
        return Fault(wrong.fault_id, Span(ASK, 1, wrong.at + 1), wrong.what, wrong.do, own, (text,))


def _question(text: str, span: Span, reader: Reader) -> Asked:
    whole, section, so_that = _WHOLE.match(text), _SECTION.match(text), _SO_THAT.search(text)
    if whole:
        what = Whole(" ".join(whole[1].lower().split()))
        return Body(text.strip(), span, what, _part(text, whole.end(), reader) if whole[2].strip() else "")
    if slope := _SLOPE.match(text):
        return _slope(text, slope, span, reader)
    if section:
        scalar, cursor = _piece(text, section.end(), len(text))
        point = reader.point(cursor, scalar)
        return SectionAt(text.strip(), span, point, point.part)
    if so_that:
        return _so_that(text, so_that, span, reader)
    found = _sum(text, 0, len(text), span, reader)
    if len(found.terms) == 1 and found.terms[0][0] > 0 and not found.constant:
        return found.terms[0][1]
    return found


def _part(text: str, begin: int, reader: Reader) -> str:
    """The part named after `of`."""
    name = " ".join(text[begin:].split())
    if name not in reader.known:
        raise Wrong("part-unknown", begin, f"there is no part {quoted(name)}", did_you_mean(name, reader.known))
    return name


def _slope(text: str, slope: re.Match[str], span: Span, reader: Reader) -> SlopeLength:
    part = _part(text, slope.end(), reader) if slope["of"].strip() else ""
    feature, at = slope["feature"] or reader.implied, max(slope.start("feature"), 0)
    if not feature:
        raise Wrong("question-form", len(text), "it does not say of what", "write 'slope length of' and a feature")
    features = reader.known.get(part or reader.own)
    if features is not None and feature not in features:
        raise Wrong("feature-unknown", at, f"there is no feature {quoted(feature)}", did_you_mean(feature, features))
    return SlopeLength(text.strip(), span, feature, part)


def _so_that(text: str, middle: re.Match[str], span: Span, reader: Reader) -> SoThat:
    places = list(_IS.finditer(text, middle.end() - 1))
    if not places:
        raise Wrong("question-form", len(text), "'so that' needs 'is VALUE' at its end",
                    "write 'X so that Y is VALUE'")  # fmt: skip
    change = _sum(text, 0, middle.start(), span, reader)
    if len(change.terms) != 1 or change.constant:
        raise Wrong("question-form", 0, "only one size can be sought", "name one size before 'so that'")
    aim = _sum(text, middle.end(), places[-1].start(), span, reader)
    wanted = _wanted(text, places[-1].end(), aim.measure, reader)
    return SoThat(text.strip(), span, change.terms[0][1], aim, wanted)


def _wanted(text: str, begin: int, measure: Measure, reader: Reader) -> Number:
    """The value after `is`, which may have a sign."""
    _, cursor = _piece(text, begin, len(text))
    sign = 1
    token = cursor.peek()
    if token is not None and token.kind == "sign":
        sign = -1 if cursor.take().text == "-" else 1
    found = read_quantity(cursor, reader.bare, measure).number
    if cursor.peek() is not None:
        raise Wrong("value-unreadable", cursor.offset(), f"{quoted(cursor.rest())} follows a value that is complete",
                    "delete it")  # fmt: skip
    if found.measure is not measure:
        raise Wrong("question-measure", begin, f"this is not {_a(measure)}", f"write {_a(measure)}")
    return Number(found.value * sign, measure, found.place)


def _a(measure: Measure) -> str:
    return {Measure.ANGLE: "an angle", Measure.RATIO: "a taper"}.get(measure, "a length")


def _sum(text: str, begin: int, end: int, span: Span, reader: Reader) -> Sum:
    """sum := phrase { (+ | -) (phrase | quantity) }; a value right after a point moves the point."""
    tokens = _piece(text, begin, end)[1].tokens
    cuts = [t for t, after in zip(tokens, tokens[1:], strict=False) if _joins(t, after)]
    starts = [begin, *(t.end for t in cuts)]
    ends = [*(t.start for t in cuts), end]
    signs = [1, *(-1 if t.text == "-" else 1 for t in cuts)]
    terms: list[tuple[int, Phrase]] = []
    constant = ZERO
    for sign, first, last in zip(signs, starts, ends, strict=True):
        scalar, cursor = _piece(text, first, last)
        phrase = reader.read_phrase(cursor, scalar, True)
        measure = phrase.size.measure
        if terms and measure is not terms[0][1].size.measure:
            wants = _a(terms[0][1].size.measure)
            raise Wrong("question-measure", first, f"'{phrase.text}' is not {wants}, as the size before it is",
                        "add and take away sizes of one sort")  # fmt: skip
        terms.append((sign, phrase))
        constant += _values(cursor, measure, reader)
    return Sum(" ".join(text[begin:end].split()), span, tuple(terms), constant)


def _joins(token: Token, after: Token) -> bool:
    """Whether a sign stands between two phrases, rather than before a value."""
    is_apart = token.kind == "sign" and token.is_after_blank and token.is_before_blank
    return is_apart and after.kind == "word" and after.low not in _NUMBERS


def _values(cursor: Cursor, measure: Measure, reader: Reader) -> Fraction:
    """The values added after a phrase that has no point at its end."""
    total = ZERO
    while (token := cursor.peek()) is not None:
        if token.kind != "sign" or not (token.is_after_blank and token.is_before_blank):
            raise Wrong("phrase-unreadable", token.start, f"{quoted(cursor.rest())} follows a phrase that is complete",
                        "delete it")  # fmt: skip
        sign = -1 if cursor.take().text == "-" else 1
        at = cursor.offset()
        found = read_quantity(cursor, reader.bare, measure).number
        if found.measure is not measure:
            raise Wrong("question-measure", at, f"what is added is not {_a(measure)}", f"write {_a(measure)}")
        total += sign * found.value
    return total


def _piece(text: str, begin: int, end: int) -> tuple[Scalar, Cursor]:
    """A piece of the question, its offsets those of the whole."""
    upto = text[:end]
    return Scalar(upto, Span(ASK, 1, 1)), Cursor(upto, tokenise(upto, begin))
