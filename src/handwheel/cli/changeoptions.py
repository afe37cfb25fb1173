"""The options of the command `change`, kept in the order typed; apart from it, so that nothing heavy is imported."""

from __future__ import annotations

import argparse
from typing import Any

Said = tuple[str, int, tuple[str, ...]]
"""An option, which of its name it is (from 1), and its words."""

OPTIONS: tuple[tuple[str, tuple[str, ...], str], ...] = (
    ("--size", ("NAME", "PHRASE: VALUE"), "a size of a part or over an assembly: changed, or added"),
    ("--without", ("NAME", "PHRASE"), "a size taken out"),
    ("--made", ("COPY", "PHRASE: VALUE"), "a size measured on a copy, like 'lever 2'"),
    ("--rename", ("PART", "FEATURE", "NEW"), "a feature called otherwise, everywhere"),
    ("--rename-part", ("PART", "NEW"), "a part called otherwise, everywhere"),
    ("--rename-assembly", ("ASSEMBLY", "NEW"), "an assembly called otherwise"),
    ("--part", ("PART", "KEY: VALUE"), "a part's quantity, material, stock, note or general tolerance"),
    ("--job", ("KEY: VALUE",), "the job's name, workshop or general tolerance"),
    ("--item", ("PART", "AFTER", "KIND: NAME"), "a feature put in after another, or at the outside's 'left end'"),
    ("--without-item", ("PART", "FEATURE"), "a feature taken out, with the sizes written at it"),
    ("--option", ("PART", "FEATURE", "KEY: VALUE"), "an option of a feature, like 'finish: reamed'"),
    ("--route", ("PART",), "the route that handwheel finds for a part, written out under it"),
)
"""Each option, the words it takes, and what it does; all may be repeated."""


class _Said(argparse.Action):
    """Keeps every option with its words, in the order typed."""

    def __call__(self, parser: Any, namespace: Any, values: Any, option_string: str | None = None) -> None:
        so_far: list[Said] = list(getattr(namespace, "edits", None) or [])
        option = self.option_strings[0]
        number = 1 + sum(1 for name, _, _ in so_far if name == option)
        namespace.edits = [*so_far, (option, number, tuple(values))]


def add_options(parser: argparse.ArgumentParser) -> None:
    """The options of the command, to its parser."""
    parser.add_argument("job", metavar="JOB", help="the job file")
    for option, words, what in OPTIONS:
        parser.add_argument(option, nargs=len(words), metavar=words, action=_Said, dest="edits", default=[], help=what)
    parser.add_argument("--show", action="store_true", help="only show the lines that would be other")
