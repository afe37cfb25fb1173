"""A YAML syntax error as one readable fault: the parser's words put into plain ones."""

from __future__ import annotations

import re

import yaml

from handwheel.base.faults import Fault, Span

_PLAIN: tuple[tuple[str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "a ':' stands where none can",
        "check the indentation, or put the text in quotes",
    ),
    ("could not find expected ':'", "this line has no ':'", "write 'key: value'"),
    (
        "did not find expected key",
        "this line does not fit the ones above it",
        "check the indentation, or put the value in quotes",
    ),
    (
        "did not find expected '-' indicator",
        "this line does not fit the list above it",
        "check the indentation and the '-'",
    ),
    ("did not find expected ',' or '}'", "the braces are not closed", "write '}' or a ',' between the entries"),
    ("did not find expected ',' or ']'", "the brackets are not closed", "write ']' or a ',' between the items"),
    ("did not find expected node content", "a value is missing here", "write it, or put the text in quotes"),
    (
        "block sequence entries are not allowed",
        "a '-' stands where no list can begin",
        "begin the list on its own line; a sum needs a size before the sign",
    ),
    ("unexpected end of stream", "the quotes are not closed", "close them on the same line"),
    ("character that cannot start any token", "a text cannot begin like this", "put it in quotes"),
    ("found undefined alias", "'*' begins an alias, which is not read", "put the text in quotes"),
    ("did not find expected alphabetic", "a text cannot begin like this", "put it in quotes"),
    ("expected <document start>", "this line begins left of the lines above it", "begin them in the same column"),
    ("nesting depth", "nested too deep", "write it flatter"),
    ("escape", "a '\\' in double quotes is not read here", "use single quotes"),
)


_BEGUN_EARLIER = ("flow", "quoted", "simple key")
"""Errors of these are met where they show, and lie where the thing begins."""


_OPENED = ("did not find expected ','", "unexpected end of stream", "could not find expected ':'")
"""Errors that are told where the thing begins."""


def line_of(error: Exception) -> int:
    """The line at which the parser's error shows."""
    mark = getattr(error, "problem_mark", None)
    return mark.line + 1 if mark is not None else 1


def torn_line(error: Exception) -> int:
    """The line to blame for a parser's error."""
    context = getattr(error, "context", None) or ""
    mark = getattr(error, "context_mark", None)
    if mark is not None and any(word in context for word in _BEGUN_EARLIER):
        return int(mark.line) + 1
    return line_of(error)


def not_closed(is_brace: bool, span: Span) -> Fault:
    """The fault of braces or brackets opened there and still open lines further down."""
    what, mark, thing = ("braces", "}", "entries") if is_brace else ("brackets", "]", "items")
    return Fault("not-yaml", span, f"the {what} are not closed", f"write '{mark}' or a ',' between the {thing}")


def syntax_fault(error: Exception, lines: list[str], file: str) -> Fault:
    """The fault for a parser's error, at the place the parser gives."""
    problem = getattr(error, "problem", None) or (str(error) if isinstance(error, yaml.YAMLError) else "too deep")
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    begun = getattr(error, "context_mark", None)
    if begun is not None and any(words in problem for words in _OPENED):
        mark = begun
    line = mark.line + 1 if mark is not None else 1
    column = mark.column + 1 if mark is not None else 1
    if line > len(lines) or (line == len(lines) and not lines[-1]):
        line = max(1, len(lines) - (not lines[-1]))
        column = len(lines[line - 1]) + 1 if lines else 1
    span = Span(file, line, column)
    for words, what, do in _PLAIN:
        if words in problem:
            return Fault("not-yaml", span, what, do)
    plain = re.sub(r"\s+", " ", problem)[:100]
    return Fault("not-yaml", span, f"this cannot be read: {plain}", "check the indentation and the quotes")
