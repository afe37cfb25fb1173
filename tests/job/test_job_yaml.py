"""The subset of YAML: texts as typed, places, spellings of files."""

from __future__ import annotations

import pytest
import yaml

from handwheel.base.faults import Span
from handwheel.job.yamltext import Entry, Mapping, Scalar, Sequence, parse_tree

TEXT = "a: 0.200\n'b c': [1:20, \"x\\ty\", 'it''s #1']\nd:\n  - e: yes\n    f: ½ é to\n  - g\n"


def tree(text: str | bytes) -> Mapping:
    node, faults = parse_tree(text if isinstance(text, bytes) else text.encode(), "f")
    assert faults == ()
    assert isinstance(node, Mapping)
    return node


def test_every_scalar_is_its_text_with_its_place() -> None:
    a, b, d = tree(TEXT).entries
    assert (a.key.text, a.key.span, a.value) == ("a", Span("f", 1, 1), Scalar("0.200", Span("f", 1, 4), False, (), 9))
    assert (b.key.text, b.key.span, b.key.is_quoted) == ("b c", Span("f", 2, 2), True)
    assert isinstance(b.value, Sequence)
    assert [getattr(i, "text", "") for i in b.value.items] == ["1:20", "x\ty", "it's #1"]
    assert isinstance(d.value, Sequence)
    first = d.value.items[0]
    assert isinstance(first, Mapping)
    assert [(e.key.text, getattr(e.value, "text", "")) for e in first.entries] == [("e", "yes"), ("f", "½ é to")]
    entry = first.get("f")
    assert isinstance(entry, Entry)
    assert isinstance(entry.value, Scalar)
    assert entry.value.at(4) == Span("f", 5, 12)
    assert first.get("z") is None


def test_places_inside_quotes_count_an_escape_where_it_begins() -> None:
    sequence = tree(TEXT).entries[1].value
    assert isinstance(sequence, Sequence)
    tabbed, single = sequence.items[1], sequence.items[2]
    assert isinstance(tabbed, Scalar)
    assert isinstance(single, Scalar)
    line = TEXT.split("\n")[1]
    assert [tabbed.at(i).column for i in range(3)] == [line.index("x") + 1, line.index("\\t") + 1, line.index("y") + 1]
    assert single.at(3).column == line.index("s #") + 1


@pytest.mark.parametrize("spell", [
    lambda t: t.encode(), lambda t: b"\xef\xbb\xbf" + t.encode(), lambda t: t.replace("\n", "\r\n").encode(),
    lambda t: t.replace("\n", "\r").encode(), lambda t: ("\ufeff" + t.replace("\n", "\r\n")).encode(),
    lambda t: b"---\n"[:0] + t.rstrip("\n").encode()])
def test_line_ends_and_byte_order_mark_change_nothing(spell: object) -> None:
    assert callable(spell)
    assert tree(spell(TEXT)) == tree(TEXT)


@pytest.mark.parametrize("text", [TEXT, "a:\t1\nb: 2\t# c\nc:\t{d:\t'e\tf',\tg: h}\t\n"], ids=["blanks", "tabs"])
def test_the_parser_written_in_python_alone_gives_the_same(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    fast = tree(text)
    monkeypatch.delattr(yaml, "CSafeLoader", raising=False)
    assert tree(text) == fast


def test_faults_are_found_together_and_the_tree_still_stands() -> None:
    text = "a: &x 1\nb: !t 2\na: 3\nc: #7 drill\nd: |\n  x\n"
    node, faults = parse_tree(text.encode(), "f")
    assert isinstance(node, Mapping)
    assert sorted((f.id, f.span.line, f.span.column) for f in faults) == [
        ("anchor", 1, 4), ("block-scalar", 5, 4), ("emptied-by-hash", 4, 4), ("key-twice", 3, 1), ("tag", 2, 4)]
    assert next(f for f in faults if f.id == "key-twice").others == (Span("f", 1, 1),)


def test_every_tab_that_indents_is_told() -> None:
    _, faults = parse_tree(b"a:\n\tb: 1\n \tc: 2\nd: 1\t# tabs elsewhere do no harm\n", "f")
    assert [(f.id, f.span.line, f.span.column) for f in faults] == [("tab", 2, 1), ("tab", 3, 2)]
    assert parse_tree(b"a: 1\t# x\n", "f")[1] == ()


def test_a_byte_that_is_not_utf8_has_its_place() -> None:
    _, faults = parse_tree("a: é\nb: ".encode() + b"\xff", "f")
    assert [(f.id, f.span) for f in faults] == [("not-utf8", Span("f", 2, 4))]
