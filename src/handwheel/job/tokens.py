"""The words, numbers and signs of a phrase or value, each with its offset in the text as typed.

Typographic spellings (`−`, `∅`, `½`, `′`, `×`) become the plain token here, so nothing after this knows of them.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from handwheel.job.wrong import Wrong

_TOKEN = re.compile(
    r"(?P<vulgar>[\u00bc-\u00be\u2150-\u215e])"
    r"|(?P<num>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
    r"|(?P<word>[^\W\d_][^\W_]*(?:-[^\W_]+)*)"
    r"|(?P<pm>±|\+/[-\u2212\u2013]|\+[-\u2212\u2013])"
    r"|(?P<sign>[-+\u2212\u2013])"
    r"|(?P<dia>[\u2205\u2300\u00d8\u00f8\u03a6\u03c6])"
    r"|(?P<other>\S)"
)
_DIAMETER_WORDS = ("Ø", "ø", "Φ", "φ")
_SAME = {
    "\u2212": "-",
    "\u2013": "-",
    "\u2044": "/",
    "\u2215": "/",
    "\u2032": "'",
    "\u2019": "'",
    "\u2033": '"',
    "\u201d": '"',
    "\u00ba": "\u00b0",
    "\u00d7": "x",
}


@dataclass(frozen=True, slots=True)
class Token:
    """`kind` is num, word, pm, sign, dia, vulgar or other; `text` in plain spelling; `start`, `end` in the source."""

    kind: str
    text: str
    start: int
    end: int
    is_after_blank: bool
    is_before_blank: bool

    @property
    def low(self) -> str:
        """The text in small letters, as the language's own words are compared."""
        return self.text.lower()


def tokenise(text: str, begin: int = 0) -> tuple[Token, ...]:
    """All tokens of `text` from `begin` on."""
    tokens: list[Token] = []
    index, length = begin, len(text)
    while index < length:
        if text[index].isspace():
            index += 1
            continue
        found = _TOKEN.match(text, index)
        if found is None:
            raise Wrong("value-unreadable", index, f"{text[index]!r} cannot be read", "delete it")
        kind, piece, end = found.lastgroup or "other", found[0], found.end()
        if kind == "word" and piece[0] in _DIAMETER_WORDS:
            kind, piece, end = "dia", piece[0], index + 1
        if kind == "vulgar":
            piece = unicodedata.normalize("NFKC", piece).replace("\u2044", "/")
        elif kind in ("sign", "other"):
            piece = _SAME.get(piece, piece)
        elif kind == "num" and len(piece) > 30:
            raise Wrong("number-too-long", index, "this number has more than 30 digits", "write fewer")
        tokens.append(
            Token(
                kind,
                piece,
                index,
                end,
                index == begin or text[index - 1].isspace(),
                end >= length or text[end].isspace(),
            )
        )
        index = end
    return tuple(tokens)


def plain_spelling(text: str) -> str:
    """The text with single blanks and plain signs."""
    return " ".join("".join(_SAME.get(char, char) for char in text).split())


class Cursor:
    """A place in a run of tokens."""

    def __init__(self, text: str, tokens: tuple[Token, ...]) -> None:
        self.text = text
        self.tokens = tokens
        self.index = 0

    def peek(self, ahead: int = 0) -> Token | None:
        """The token `ahead` of the next one, if there is one."""
        index = self.index + ahead
        return self.tokens[index] if index < len(self.tokens) else None

    def low(self, ahead: int = 0) -> str:
        """That token's text in small letters, or ''."""
        token = self.peek(ahead)
        return token.low if token else ""

    def take(self) -> Token:
        """The next token, which must be there."""
        token = self.tokens[self.index]
        self.index += 1
        return token

    def take_if(self, *words: str) -> bool:
        """Take these words if they come next."""
        if all(self.low(i) == word for i, word in enumerate(words)):
            self.index += len(words)
            return True
        return False

    def offset(self) -> int:
        """Where the next token begins, or the end of the text."""
        token = self.peek()
        return token.start if token else len(self.text.rstrip())

    def rest(self) -> str:
        """What is still to be read, as typed."""
        return self.text[self.offset() :].strip()
