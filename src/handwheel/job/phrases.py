"""Dimension phrases and points, by recursive descent, one function per rule; names are looked up afterwards.

A phrase is read first for its form; then `of PART` is carried from the end to both points, and every feature is
looked up in its part and asked whether its kind has a sense for what is said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from handwheel.job.names import RESERVED
from handwheel.job.numbers import Scale, read_quantity
from handwheel.job.phrasewords import SIZES, WHERES
from handwheel.job.records import Measure, Phrase, Point, Size, Where
from handwheel.job.senses import UNKNOWN, Sense, point_instead, size_instead
from handwheel.job.tokens import Cursor, Token, plain_spelling, tokenise
from handwheel.job.wrong import Wrong, did_you_mean, every_wrong, nearest, quoted
from handwheel.job.yamltext import Scalar

_T = TypeVar("_T")
Known = Mapping[str, Mapping[str, Sense]]
"""The features of each part, by name, with what can be said of them."""


@dataclass(frozen=True, slots=True)
class Reader:
    """What a phrase is read against: the parts, the part it stands in ('' for an assembly), the job's unit.

    `implied` is a feature that need not be named; `may_name_part` allows `of PART`. `found`: what was found wrong
    in the phrase at hand without stopping its reading.
    """

    known: Known
    own: str
    bare: Scale
    implied: str = ""
    may_name_part: bool = True
    found: list[Wrong] = field(default_factory=list, compare=False)

    def phrase(self, scalar: Scalar) -> Phrase:
        """A whole scalar as a phrase; raises `Wrong` with all that is wrong with it."""
        cursor = Cursor(scalar.text, tokenise(scalar.text))
        anew = replace(self, found=[])

        def whole() -> Phrase:
            phrase = anew.take_phrase(cursor, scalar, True)
            _check_done(cursor)
            return phrase

        return anew.telling(whole)

    def point(self, cursor: Cursor, scalar: Scalar, is_last: bool = True) -> Point:
        """A point, looked up; nothing may follow it where `is_last`."""
        anew = replace(self, found=[])

        def whole() -> Point:
            point = anew._settle(anew._point(cursor, scalar, True), "", cursor)
            if is_last:
                _check_done(cursor)
            return point

        return anew.telling(whole)

    def telling(self, read: Callable[[], _T]) -> _T:
        """What `read` gives; where anything was found wrong by then, all of it is raised at once."""
        try:
            result = read()
        except Wrong as wrong:
            self.note(wrong)
        if self.found:
            raise every_wrong(sorted(self.found, key=lambda w: w.at))
        return result

    def note(self, wrong: Wrong) -> None:
        """Keep what is wrong, each thing once, and read on."""
        if (wrong.fault_id, wrong.at) not in {(w.fault_id, w.at) for w in self.found}:
            self.found.append(wrong)

    def read_phrase(self, cursor: Cursor, scalar: Scalar, takes_offsets: bool) -> Phrase:
        """A phrase, the cursor left after it; raises `Wrong` with all that is wrong with it."""
        anew = replace(self, found=[])
        return anew.telling(lambda: anew.take_phrase(cursor, scalar, takes_offsets))

    def take_phrase(self, cursor: Cursor, scalar: Scalar, takes_offsets: bool) -> Phrase:
        """phrase := overall length | FEATURE size [at point] | point to point, each with [of PART].

        Where `takes_offsets` is not set a sign after the last point is left for the sum that follows. What is not
        known is kept in `found`; raises `Wrong` only where reading cannot go on.
        """
        first, start = cursor.index, cursor.offset()
        if cursor.peek() is None:
            raise Wrong("phrase-missing", start, "a phrase is missing", "write it, like 'hub diameter'")
        span = scalar.at(start)
        if cursor.low() == "overall":
            cursor.take()
            if not cursor.take_if("length"):
                raise Wrong(
                    "phrase-unreadable", cursor.offset(), "'overall' needs 'length' after it", "write 'overall length'"
                )
            return self._finish(Phrase(Size.OVERALL_LENGTH, "", span), cursor, start)
        feature, size = self._sized(cursor)
        if size is not None:
            at: Point | None = None
            if cursor.low() == "at":
                at, size = self._carried_to(cursor, scalar, feature, size, takes_offsets), Size.DIAMETER_AT
            return self._finish(Phrase(size, "", span, feature, at), cursor, start)
        cursor.index = first
        begin = self._first_point(cursor, scalar)
        if not cursor.take_if("to"):
            raise Wrong(
                "phrase-unreadable",
                cursor.offset(),
                f"{quoted(cursor.text[start:])} is a point, not a size",
                "write 'POINT to POINT' for a distance",
            )
        try:
            end = self._point(cursor, scalar, takes_offsets)
        except Wrong:
            if begin is not None and (begin.part or not self.may_name_part):
                self._settle(begin, begin.part, cursor)
            raise
        if begin is None:
            self._settle(end, end.part, cursor)
            raise self.found.pop(0)
        return self._finish(Phrase(Size.DISTANCE, "", span, start=begin, end=end), cursor, start)

    def _first_point(self, cursor: Cursor, scalar: Scalar) -> Point | None:
        """The point before `to`; None where it cannot be read and the one after `to` still can."""
        try:
            return self._point(cursor, scalar, True)
        except Wrong as wrong:
            rest = [token.low for token in cursor.tokens[cursor.index :]]
            if "to" not in rest:
                raise
            self.note(wrong)
            cursor.index += rest.index("to")
            return None

    def _sized(self, cursor: Cursor) -> tuple[str, Size | None]:
        """FEATURE size, or nothing taken that matters."""
        token = cursor.peek()
        assert token is not None
        implied = bool(self.implied) and token.low in RESERVED
        feature = self.implied if implied else token.text
        if token.kind != "word":
            raise Wrong(
                "phrase-unreadable",
                token.start,
                f"{quoted(cursor.rest())} is not a phrase",
                "write it like 'hub diameter' or 'hub left to tenon right'",
            )
        if not implied:
            cursor.take()
        for words, size in SIZES:
            if not cursor.take_if(*words):
                continue
            if feature.lower() in RESERVED:
                raise Wrong(
                    "phrase-unreadable",
                    token.start,
                    f"'{feature}' is no feature's name",
                    "begin the phrase with the feature, like 'hub diameter'",
                )
            return feature, size
        return feature, None

    def _carried_to(self, cursor: Cursor, scalar: Scalar, feature: str, size: Size, takes_offsets: bool) -> Point:
        """The point of `F diameter at P`."""
        at = cursor.take().start
        if size is not Size.DIAMETER:
            raise Wrong(
                "phrase-unreadable", at, f"a {size.value} is not taken at a point", f"write '{feature} diameter at …'"
            )
        try:
            return self._point(cursor, scalar, takes_offsets)
        except Wrong:
            if not self.may_name_part:
                self._check_size(Phrase(Size.DIAMETER_AT, "", scalar.span, feature), "", cursor)
            raise

    def _point(self, cursor: Cursor, scalar: Scalar, takes_offsets: bool) -> Point:
        """point := (left end | right end | FEATURE where | FEATURE meets FEATURE) [± length] [of PART] [± length]."""
        point = self._bare_point(cursor, scalar)
        for _ in range(2):
            while takes_offsets and self._at_offset(cursor):
                sign = -1 if cursor.take().text == "-" else 1
                at = cursor.offset()
                step = read_quantity(cursor, self.bare, Measure.LENGTH).number
                if step.measure is not Measure.LENGTH:
                    raise Wrong("length-wanted", at, "a step along the axis is a length", "write it like '+ 1/4 in'")
                point = replace(point, offset_mm=point.offset_mm + sign * step.value)
            if not point.part and cursor.low() == "of":
                point = replace(point, part=self.of_part(cursor))
        return point

    def _at_offset(self, cursor: Cursor) -> bool:
        token = cursor.peek()
        return token is not None and token.kind == "sign" and token.is_after_blank and token.is_before_blank

    def _bare_point(self, cursor: Cursor, scalar: Scalar) -> Point:
        token, span = cursor.peek(), scalar.at(cursor.offset())
        if token is None or token.kind != "word":
            raise Wrong(
                "phrase-unreadable", cursor.offset(), "a point is missing", "write one like 'hub centre' or 'left end'"
            )
        if cursor.low(1) == "end" and token.low in ("left", "right"):
            cursor.index += 2
            return Point(Where.LEFT_END if token.low == "left" else Where.RIGHT_END, span=span)
        if self.implied and token.low in WHERES:
            cursor.take()
            return Point(WHERES[token.low], self.implied, span=span)
        if token.low in RESERVED:
            raise Wrong(
                "phrase-unreadable",
                token.start,
                f"'{token.text}' cannot begin a point",
                "write one like 'hub centre' or 'left end'",
            )
        cursor.take()
        if cursor.take_if("meets"):
            other = cursor.peek()
            if other is None or other.kind != "word":
                raise Wrong(
                    "phrase-unreadable", cursor.offset(), "'meets' needs a feature after it", "write 'F meets G'"
                )
            cursor.take()
            return Point(Where.MEETS, token.text, other.text, span=span)
        where = WHERES.get(cursor.low())
        if where is None:
            raise self._no_point(cursor, token)
        cursor.take()
        return Point(where, token.text, span=span)

    def _no_point(self, cursor: Cursor, feature: Token) -> Wrong:
        """Why no size or point follows a feature's name."""
        words = [*WHERES, *(" ".join(w) for w, _ in SIZES), "meets"]
        known = {name for features in self.known.values() for name in features}
        token = feature if self.implied and feature.text not in known else cursor.peek()
        if feature.text not in known and known and not self.implied:
            return Wrong(
                "feature-unknown",
                feature.start,
                f"there is no feature '{feature.text}' here",
                did_you_mean(feature.text, self.known.get(self.own, known)),
            )
        what = f"nothing is said of '{feature.text}'"
        if token is None:
            do = f"write a size or point, like '{feature.text} diameter' or '{feature.text} left'"
            return Wrong("phrase-unreadable", cursor.offset(), what, do)
        if token.low in ("to", "at", "of", "on") or token.kind in ("sign", "pm"):
            do = f"write a point of it, like '{feature.text} left' or '{feature.text} right'"
            return Wrong("phrase-unreadable", token.start, f"{what} before '{token.text}'", do)
        what = f"{quoted(token.text)} is not a size or point"
        near = nearest(token.text, words)
        sense = next((has[feature.text] for has in self.known.values() if feature.text in has), UNKNOWN)
        own = [*(s.value for s in sense.sizes if s is not Size.DIAMETER_AT), *(p.value for p in sense.points)]
        return Wrong("phrase-unreadable", token.start, what, f"did you mean '{near}'?" if near else did_you_mean("", own))

    def of_part(self, cursor: Cursor) -> str:
        """of PART: the longest name of a part that the next words make."""
        of = cursor.take()
        start = cursor.offset()
        if not self.may_name_part:
            raise Wrong(
                "part-not-wanted",
                of.start,
                "'of PART' has no place in a part's own dimension",
                "leave it out, or write the dimension under 'assemblies'",
            )
        names = sorted(self.known, key=len, reverse=True)
        for name in names:
            words = name.lower().split()
            if [cursor.low(i) for i in range(len(words))] == words or (
                cursor.text[start : start + len(name)] == name and not cursor.text[start + len(name) :].strip()
            ):
                while (token := cursor.peek()) is not None and token.start < start + len(name):
                    cursor.take()
                return name
        while (token := cursor.peek()) is not None and token.kind in ("word", "num") and token.low != "to":
            cursor.take()
        name = cursor.text[start : cursor.tokens[cursor.index - 1].end]
        if not name.strip():
            raise Wrong("part-unknown", start, "'of' needs a part after it", did_you_mean("", self.known))
        self.note(Wrong("part-unknown", start, f"there is no part {quoted(name)}", did_you_mean(name, self.known)))
        return name

    def _finish(self, phrase: Phrase, cursor: Cursor, begin: int) -> Phrase:
        """Carry `of PART` to where it belongs and look every feature up."""
        start, end, at = phrase.start, phrase.end, phrase.at
        last = end or at
        part = last.part if last else ""
        if not part and cursor.low() == "of":
            part = self.of_part(cursor)
        text = plain_spelling(cursor.text[begin : cursor.tokens[cursor.index - 1].end])
        if start and end:
            first = start.part or part
            start, end = self._settle(start, first, cursor), self._settle(end, part, cursor)
            if _point_key(start) == _point_key(end):
                self.note(Wrong("point-twice", begin, "the distance goes from a point to itself", "name two points"))
            return replace(phrase, text=text, start=start, end=end, part=part if first == part else "")
        self._features(part, cursor)
        if phrase.feature:
            self._check_size(phrase, part, cursor)
        return replace(phrase, text=text, at=at and self._settle(at, part, cursor), part=part)

    def _features(self, part: str, cursor: Cursor) -> Mapping[str, Sense] | None:
        """The part's features; None where its fault is told already."""
        if not part and not self.own:
            self.note(
                Wrong("part-missing", cursor.offset(), "the phrase does not say of which part", "add 'of PART'")
            )
        return self.known.get(part or self.own)

    def _sense(self, feature: str, part: str, cursor: Cursor) -> Sense:
        """What can be said of that feature; anything where the part, or the feature, is not known."""
        features = self._features(part, cursor)
        if features is None:
            return UNKNOWN
        if feature in features:
            return features[feature]
        at = next((t.start for t in cursor.tokens if t.text == feature), 0)
        of = f" of '{part}'" if part else ""
        elsewhere = [name for name, has in self.known.items() if feature in has]
        do = (
            f"add 'of {elsewhere[0]}'"
            if not part and elsewhere and self.may_name_part
            else did_you_mean(feature, features)
        )
        self.note(Wrong("feature-unknown", at, f"there is no feature '{feature}'{of} here", do))
        return UNKNOWN

    def _check_size(self, phrase: Phrase, part: str, cursor: Cursor) -> None:
        sense = self._sense(phrase.feature, part, cursor)
        if phrase.size not in sense.sizes:
            at = next((t.start for t in cursor.tokens if t.text == phrase.feature), 0)
            word = "diameter at a point" if phrase.size is Size.DIAMETER_AT else phrase.size.value
            do = size_instead(phrase.feature, phrase.size, sense)
            self.note(Wrong("no-such-size", at, f"a {sense.word} has no {word}", do))

    def _settle(self, point: Point, part: str, cursor: Cursor) -> Point:
        """The point with its part, its features looked up."""
        part = point.part or part
        if not point.feature:
            self._features(part, cursor)
            return replace(point, part=part)
        sense = self._sense(point.feature, part, cursor)
        at = next((t.start for t in cursor.tokens if t.text == point.feature), 0)
        if point.where is Where.MEETS:
            other = self._sense(point.meets, part, cursor)
            for name, has in ((point.feature, sense), (point.meets, other)):
                if not has.can_meet:
                    what = f"a {has.word} cannot be carried on to meet another feature"
                    self.note(Wrong("no-such-point", at, what, point_instead(name, Where.APEX, has)))
        elif point.where not in sense.points:
            do = point_instead(point.feature, point.where, sense)
            self.note(Wrong("no-such-point", at, f"a {sense.word} has no {point.where.value}", do))
        return replace(point, part=part)


def phrase_key(phrase: Phrase) -> tuple[object, ...]:
    """What makes two phrases the same size of the same thing, in whichever order its points stand."""
    ends = frozenset(_point_key(p) for p in (phrase.start, phrase.end) if p is not None)
    return (phrase.size, phrase.feature, phrase.at and _point_key(phrase.at), ends, phrase.part)


def features_of(phrase: Phrase) -> frozenset[str]:
    """The features that the phrase names."""
    points = [p for p in (phrase.at, phrase.start, phrase.end) if p is not None]
    names = {phrase.feature, *(p.feature for p in points), *(p.meets for p in points)}
    return frozenset(names - {""})


def _point_key(point: Point) -> tuple[object, ...]:
    pair = frozenset({point.feature, point.meets} - {""})
    return (point.where, pair, point.offset_mm, point.part)


def _check_done(cursor: Cursor) -> None:
    token = cursor.peek()
    if token is not None:
        raise Wrong(
            "phrase-unreadable", token.start, f"{quoted(cursor.rest())} follows a phrase that is complete", "delete it"
        )
