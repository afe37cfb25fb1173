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
    ("escape", "a '\\' in double quotes is not read here", "use single quotes"),
)


def syntax_fault(error: Exception, lines: list[str], file: str) -> Fault:
    """The fault for a parser's error, at the place the parser gives."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line = mark.line + 1 if mark is not None else 1
    column = mark.column + 1 if mark is not None else 1
    if line > len(lines) or (line == len(lines) and not lines[-1]):
        line = max(1, len(lines) - (not lines[-1]))
        column = len(lines[line - 1]) + 1 if lines else 1
    problem = getattr(error, "problem", None) or (str(error) if isinstance(error, yaml.YAMLError) else "too deep")
    span = Span(file, line, column)
    for words, what, do in _PLAIN:
        if words in problem:
            return Fault("not-yaml", span, what, do)
    plain = re.sub(r"\s+", " ", problem)[:100]
    return Fault("not-yaml", span, f"this cannot be read: {plain}", "check the indentation and the quotes")
