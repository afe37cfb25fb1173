"""Keeps the tests of one example in one worker, so that each of its variants is made once."""

from __future__ import annotations

from pathlib import Path

import pytest

HERE = Path(__file__).parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        callspec = getattr(item, "callspec", None)
        if HERE in item.path.parents and callspec is not None and "example" in callspec.params:
            item.add_marker(pytest.mark.xdist_group(f"example {callspec.params['example']}"))
