"""Reading the packaged tables: each is a JSON file in tables/data/ that opens with its source."""

from __future__ import annotations

import json
from functools import cache
from importlib import resources
from typing import Any


@cache
def table(name: str) -> dict[str, Any]:
    """The table tables/data/NAME.json, read once. FileNotFoundError for a name that is not packaged."""
    text = resources.files("handwheel.tables").joinpath("data", f"{name}.json").read_text(encoding="utf-8")
    found: dict[str, Any] = json.loads(text)
    return found
