"""What sizes as made come to, in JSON: the list under `as_made` of `size --json` and of `job.json`."""

from __future__ import annotations

from collections.abc import Iterable

from handwheel.drawing.asmaderecords import AsMadeOutcome, Size
from handwheel.sheets.jsonfigures import VALUE_KEY, Json, figure


def as_made_json(outcomes: Iterable[AsMadeOutcome]) -> list[Json]:
    """The list under `as_made`, one a set of copies that go together."""
    return [_outcome_json(outcome) for outcome in outcomes]


def _outcome_json(outcome: AsMadeOutcome) -> Json:
    return {
        "copies": {part: [list(run) for run in runs] for part, runs in outcome.copies},
        "measured": [
            {**_size_json(m.size), "copy": m.copy, **_as("drawn", m.size, m.drawn), "may_be_cut": m.may_be_cut}
            for m in outcome.measured
        ],
        "moved": [
            {**_size_json(m.size), **_as("old", m.size, m.old), "why": list(m.why), "given": m.is_drawn,
             "gives_way": m.takes_up}
            for m in outcome.moved
        ],
        "out_of_limits": [
            {**_size_json(o.size), "ways": [
                {**_size_json(w.size), **_as("old", w.size, w.was), "keeps": w.keeps, "may": not w.size.beyond}
                for w in o.ways
            ]}
            for o in outcome.out
        ],
        "unused": list(outcome.unused),
        "cannot": outcome.cannot,
    }  # fmt: skip


def _as(word: str, size: Size, value: float) -> dict[str, object]:
    return {f"{word}_{VALUE_KEY[size.measure]}": figure(value)}


def _size_json(size: Size) -> dict[str, object]:
    own: dict[str, object] = {"part": size.part} if size.part else {}
    own |= {"phrase": size.phrase, **_as("value", size, size.value)}
    own |= {**_as("limit_low", size, size.low), **_as("limit_high", size, size.high)}
    return own | _as("beyond", size, size.beyond)
