"""Which kind of material a drawing's words name."""

from __future__ import annotations

import re
from collections.abc import Mapping


def kind_of(material: str, words: Mapping[str, str]) -> str:
    """The kind, or "" where no known word is in the text, words of two kinds are, or its words are known for none.

    Parameters
        material: as written, such as `free-cutting mild steel`; its longest known words count, so `stainless steel`
            is not `steel`. words: lower-case words to the kind they mean; "" for words that mean none of the kinds.
    """
    left = re.sub(r"\w+ (?:plated|coated)", "|", " ".join(re.findall(r"[a-z]+", material.lower())))
    kinds = set()
    for known in sorted(words, key=len, reverse=True):
        pattern = rf"\b{' '.join(re.findall(r'[a-z]+', known))}\b"
        if re.search(pattern, left):
            kinds.add(words[known])
            left = re.sub(pattern, "|", left)
    return kinds.pop() if len(kinds) == 1 else ""
