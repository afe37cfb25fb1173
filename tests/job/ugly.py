"""Other spellings of a file: comments everywhere, brackets and blocks mixed, quotes, odd indents, any line ends.

Works on the tree that PyYAML reads with every scalar as text, and knows nothing of the project's own reader. What is
chosen hangs on the seed and the tree's shape alone, never on a text's letters, so two trees alike but for their words
are spelled alike.
"""

from __future__ import annotations

import random
from typing import Any

import yaml

REMARKS = ("# checked", "# hub diameter: 3/4", "#", "# was 1/2, see {sheet} 3", "# 'quoted' and \"quoted\"", "#: - x")
HARD = set("#:{}[],&*!|>'\"%@`?")


def tree_of(data: bytes) -> Any:
    """The file's tree, every scalar its text."""
    return yaml.load(data.decode("utf-8-sig"), Loader=yaml.BaseLoader)


def nodes_of(data: bytes) -> yaml.Node:
    """The file's nodes, with the index of each in the text without its byte order mark."""
    node = yaml.compose(data.decode("utf-8-sig"), Loader=yaml.BaseLoader)
    assert node is not None
    return node


class Ugly:
    """Spells one tree, by one seed."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.flows = self.chance.choice((0.0, 0.15, 0.5))
        self.odd = self.chance.choice((0.0, 0.0, 0.3))
        self.marks = self.chance.choice((0.0, 0.2, 0.6))

    def spelled(self, tree: Any) -> bytes:
        """The whole file's bytes."""
        lines = self.block(tree, 0)
        ends = self.chance.choice((["\n"], ["\r\n"], ["\r"], ["\n", "\r\n"]))
        text = "".join(line + self.chance.choice(ends) for line in lines)
        if self.chance.random() < 0.3:
            text = text.rstrip("\r\n")
        return (b"\xef\xbb\xbf" if self.chance.random() < 0.3 else b"") + text.encode()

    def scalar(self, text: str) -> str:
        """The text plain where it can be, or in either quotes."""
        style = self.chance.random()
        plain = not HARD & set(text) and text == text.strip() and text[:1] not in "-" and text != ""
        if style < 0.7 and plain:
            return text
        if style < 0.85 or "\\" in text:
            return "'" + text.replace("'", "''") + "'"
        return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("½", "\\xbd").replace("°", "\\u00b0") + '"'

    def behind(self) -> str:
        """Perhaps a comment behind something."""
        if self.chance.random() >= self.marks:
            return ""
        return " " * self.chance.randint(1, 4) + self.chance.choice(REMARKS)

    def colon(self) -> str:
        """What stands between a key and its value on the same line."""
        return " " * self.chance.choice((0, 0, 0, 2)) + ":" + self.chance.choice((" ", " ", "  ", "     "))

    def above(self, lines: list[str]) -> None:
        """Perhaps a comment or blank line above something."""
        if self.chance.random() < self.marks / 2:
            lines.append(self.chance.choice(("", "   ", " " * self.chance.randint(0, 9) + self.chance.choice(REMARKS))))

    def block(self, node: Any, indent: int) -> list[str]:
        """A mapping's or list's lines, in block style."""
        pad = " " * indent
        lines: list[str] = []
        for one in node.items() if isinstance(node, dict) else node:
            self.above(lines)
            if isinstance(node, dict):
                lines += self.entry(*one, indent)
            else:
                gap = self.chance.choice((1, 1, 1, 3))
                if isinstance(one, str) or self.chance.random() < self.flows:
                    first, *rest = self.flow(one, indent + 1 + gap)
                else:
                    first, *rest = self.block(one, indent + 1 + gap)
                    while not first.strip() or first.strip().startswith("#"):
                        lines.append(first)
                        first, *rest = rest
                lines += [pad + "-" + " " * gap + first.lstrip(" "), *rest]
        return lines

    def entry(self, key: str, value: Any, indent: int) -> list[str]:
        """One `key: value` of a block."""
        head = " " * indent + self.scalar(key)
        if isinstance(value, str) or self.chance.random() < self.flows:
            first, *rest = self.flow(value, indent + 1)
            if self.chance.random() < self.odd:
                return [" " * indent + "? " + head.lstrip(" ") + self.behind(), " " * indent + ": " + first.lstrip(" "), *rest]
            return [head + self.colon() + first.lstrip(" "), *rest]
        least = 0 if isinstance(value, list) else 1
        return [head + self.colon().rstrip() + self.behind(), *self.block(value, indent + self.chance.randint(least, 4))]

    def flow(self, node: Any, indent: int) -> list[str]:
        """Anything between brackets, on one line or several; its last line has no comma."""
        lines = self.inline(node, indent) if self.chance.random() < 0.4 else ["".join(self.inline(node, None))]
        lines[-1] += self.behind()
        return lines

    def inline(self, node: Any, indent: int | None) -> list[str]:
        """Pieces of something between brackets: one a line where `indent` is given."""
        if isinstance(node, str):
            return [self.scalar(node)]
        is_map = isinstance(node, dict)
        left, right = "{}" if is_map else "[]"
        pieces = []
        for one in node.items() if is_map else node:
            key = self.scalar(one[0]) + self.colon() if is_map else ""
            if isinstance(one, dict) and len(one) == 1 and self.chance.random() < self.odd:
                pieces.append("".join(self.inline(one, None)).strip("{},"))
                continue
            pieces.append(key + "".join(self.inline(one[1] if is_map else one, None)))
        comma = "," if self.chance.random() < 0.2 and pieces else ""
        if indent is None:
            return [left + ", ".join(pieces) + comma + right]
        lines = [left + self.behind()]
        for number, piece in enumerate(pieces):
            last = number == len(pieces) - 1
            lines.append(" " * (indent + 2) + piece + (comma if last else ",") + self.behind())
        return [*lines, " " * indent + right]


def ugly(data: bytes, seed: int) -> bytes:
    """The same file spelled otherwise."""
    tree = tree_of(data)
    made = Ugly(seed).spelled(tree)
    assert tree_of(made) == tree, made.decode()
    return made
