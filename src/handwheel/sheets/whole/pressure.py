"""Parts that hold pressure, told by the words of the job file alone: whoever makes them needs someone competent."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from handwheel.drawing.records import Drawing

WORDS = re.compile(
    r"\b(boilers?|steam|pressur\w*|cylinder (?:cover|head|end)s?|safety valves?|superheaters?|firebox(?:es)?)\b(?! angle)",
    re.IGNORECASE,
)


def pressure_words(drawing: Drawing) -> dict[str, str]:
    """The parts whose name, material or note, or the job's name, speaks of pressure, with the word."""
    whole = WORDS.search(drawing.job.name)
    found = {}
    for part in drawing.parts:
        own = WORDS.search(f"{part.name}; {part.material}; {part.note}") or whole
        if own:
            found[part.name] = own[1].lower()
    return found


def pressure_text(words: Mapping[str, str], parts: Sequence[str]) -> str:
    """The caution for these parts, "" where none of them is one."""
    named = list(dict.fromkeys(part for part in parts if part in words))
    if not named:
        return ""
    said = ", ".join(dict.fromkeys(f"'{words[part]}'" for part in named))
    return (f"May hold pressure, by the word {said} ({', '.join(named)}): drawing and work are for someone competent to "
            "approve before use; nothing here says what they bear.")  # fmt: skip
