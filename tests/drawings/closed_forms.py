"""The answers expected of the sound drawings, from closed forms alone; run as a module, it prints them."""

from __future__ import annotations

import json

from tests.drawings import forms_assorted, forms_holes, forms_spindles, forms_standards, forms_tied
from tests.drawings.limits_by_corners import Size

FORMS = {
    **forms_spindles.FORMS, **forms_assorted.FORMS, **forms_holes.FORMS, **forms_standards.FORMS, **forms_tied.FORMS,
}  # fmt: skip


def unit_of(phrase: str) -> str:
    """The unit an answer to this phrase is in."""
    if " angle" in phrase:
        return "deg"
    return "ratio" if " taper" in phrase else "mm"


def record(phrase: str, size: Size) -> dict[str, float]:
    """One expected answer as the command line's JSON words it."""
    unit = unit_of(phrase)
    return {f"value_{unit}": size.value, f"low_{unit}": size.low, f"high_{unit}": size.high}


def expected() -> dict[str, dict[str, dict[str, float]]]:
    """Every sound drawing's questions and answers."""
    return {name: {phrase: record(phrase, size) for phrase, size in form().items()} for name, form in FORMS.items()}


if __name__ == "__main__":
    print(json.dumps(expected(), indent=1))
