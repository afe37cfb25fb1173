"""Sizes changed, added, taken out and measured: the bytes beside them, and the tree that PyYAML reads afterwards."""

from __future__ import annotations

import copy
import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from handwheel.job.edits import Edit, change_job, said
from handwheel.job.editsizes import DropSize, SetMade, SetSize
from tests.job.ugly import nodes_of, tree_of, ugly

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "docs" / "job-file.md").read_text(encoding="utf-8")
SOURCES = {path.stem: path.read_bytes() for path in sorted((ROOT / "examples").glob("*.yaml"))}
SOURCES["clamp-lever"] = (Path(__file__).parent / "data" / "clamp-lever.yaml").read_bytes()
SOURCES |= {
    f"guide {number}": text.encode()
    for number, text in enumerate(re.findall(r"^```yaml\n(handwheel: 1\n.*?)^```", GUIDE, re.MULTILINE | re.DOTALL))
}
LISTS = (("outside",), ("inside", "from left"), ("inside", "from right"), ("across",))
SIZE_WORDS = re.compile(r"(left |right )?diameter|radius|length|width|depth|included angle|from axis|pitch circle diameter")
Path_ = tuple[str | int, ...]


def at(tree: Any, path: Path_) -> Any:
    for key in path:
        tree = tree[key] if isinstance(tree, (dict, list)) and (isinstance(key, int) or key in tree) else {}
    return tree


def node_at(node: yaml.Node, path: Path_) -> yaml.ScalarNode:
    for key in path:
        by_name = {} if isinstance(key, int) else {name.value: value for name, value in node.value}
        node = node.value[key] if isinstance(key, int) else by_name[key]
    assert isinstance(node, yaml.ScalarNode)
    return node


def key_line(node: yaml.Node, path: Path_) -> int:
    """The line of the entry's key, from 0."""
    holder: Any = node
    for key in path[:-1]:
        holder = holder.value[key] if isinstance(key, int) else next(v for k, v in holder.value if k.value == key)
    return int(next(k for k, _ in holder.value if k.value == path[-1]).start_mark.line)


def written(tree: Any) -> list[tuple[str, str, Path_]]:
    """Every size of every part: the part, the phrase it stands for, its path; found in PyYAML's tree."""
    found: list[tuple[str, str, Path_]] = []
    for part, entries in tree["parts"].items():
        found += [(part, phrase, ("parts", part, "dimensions", phrase)) for phrase in entries.get("dimensions", {})]
        for one in LISTS:
            for number, item in enumerate(at(entries, one)):
                found += [
                    (part, f"{next(iter(item.values()))} {key}", ("parts", part, *one, number, key))
                    for key in item
                    if SIZE_WORDS.fullmatch(key)
                ]
    for name, entries in tree.get("assemblies", {}).items():
        found += [(name, phrase, ("assemblies", name, "dimensions", phrase)) for phrase in entries.get("dimensions", {})]
    return found


def changed(data: bytes, *edits: Edit) -> bytes:
    new, faults = change_job(data, "j.yaml", edits)
    assert [fault.line() for fault in faults] == []
    assert new is not None
    return new


def told(data: bytes, *edits: Edit) -> list[str]:
    new, faults = change_job(data, "j.yaml", edits)
    assert (new is None) == bool(faults)
    return [fault.line() for fault in faults]


def size(where: str, phrase: str, value: str) -> SetSize:
    return SetSize(said(where), said(phrase), said(value))


def value_for(phrase: str, number: int) -> str:
    if "angle" in phrase:
        return "12 deg 30 min"
    if "taper" in phrase:
        return ("1:20", "0.6 in per ft")[number % 2]
    return ("0.4375 ± 0.001", '1 1/2" +0.002 -0', "(23.75 mm)", "2 - 0.5 mm")[number % 4]


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("source", SOURCES)
def test_every_size_changed_leaves_every_other_byte(source: str, seed: int) -> None:
    data = ugly(SOURCES[source], 100 + seed) if seed else SOURCES[source]
    tree, text = tree_of(data), data.decode("utf-8-sig")
    sizes = written(tree)
    assert sizes
    for number, (where, phrase, path) in enumerate(sizes):
        value = value_for(phrase, number)
        new = changed(data, size(where, phrase, value))
        node = node_at(nodes_of(data), path)
        start, end = node.start_mark.index, node.end_mark.index
        inner = len(node.style or "")
        now = new.decode("utf-8-sig")
        assert now.startswith(text[: start + inner])
        assert now.endswith(text[end - inner :])
        assert new.startswith(b"\xef\xbb\xbf") == data.startswith(b"\xef\xbb\xbf")
        if node.style is None:
            assert now == text[:start] + value + text[end:]
        wanted = copy.deepcopy(tree)
        at(wanted, path[:-1])[path[-1]] = value
        assert tree_of(new) == wanted


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("source", SOURCES)
def test_a_size_added_is_put_in_and_nothing_else(source: str, seed: int) -> None:
    data = ugly(SOURCES[source], 200 + seed) if seed else SOURCES[source]
    tree = tree_of(data)
    for part, entries in tree["parts"].items():
        new = changed(data, size(part, "left end to right end", "(7 ± 0.5)"))
        wanted = copy.deepcopy(tree)
        sizes = wanted["parts"][part].setdefault("dimensions", {})
        sizes["left end to right end"] = "(7 ± 0.5)"
        assert tree_of(new) == wanted
        assert list(tree_of(new)["parts"][part]["dimensions"])[-1] == "left end to right end"
        before, now = data.decode("utf-8-sig"), new.decode("utf-8-sig")
        same = next(i for i in range(len(now)) if before[:i + 1] != now[:i + 1])
        assert now.endswith(before[same:]), "one piece put in"
        assert entries.get("dimensions") is not None or "dimensions:" in now[same - 20:]
        assert (now[-1] in "\r\n") == (before[-1] in "\r\n")
        assert {"\r\n", "\r", "\n"} & set(re.findall(r"\r\n|\r|\n", now)) == set(re.findall(r"\r\n|\r|\n", before))


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("source", SOURCES)
def test_a_size_taken_out_takes_only_its_own_comment(source: str, seed: int) -> None:
    data = ugly(SOURCES[source], 300 + seed) if seed else SOURCES[source]
    tree, text = tree_of(data), data.decode("utf-8-sig")
    for where, phrase, path in written(tree):
        new = changed(data, DropSize(said(where), said(phrase)))
        wanted = copy.deepcopy(tree)
        del at(wanted, path[:-1])[path[-1]]
        assert tree_of(new) == wanted
        first, last = key_line(nodes_of(data), path), node_at(nodes_of(data), path).start_mark.line
        lines, left = (re.split(r"\r\n|\r|\n", t) for t in (text, new.decode("utf-8-sig")))
        other = [(a, b) for a, b in zip(left, lines[:first], strict=False) if a != b]
        assert [(a.replace(": {}", ":", 1), b) for a, b in other] == [(b, b) for _, b in other]
        assert len(other) <= 1
        assert (new[-1:] in (b"\r", b"\n")) == (data[-1:] in (b"\r", b"\n"))
        behind = lines[last + 1 :]
        assert left[len(left) - len(behind) :] == behind
        assert len(lines) - len(left) in (0, last - first + 1)


def test_quotes_are_put_on_only_where_needed_and_kept_where_they_are() -> None:
    head = "handwheel: 1\njob: J\nunits: mm\nparts:\n  p:\n    note: x # y\n    outside: [{cylinder: a, length: \"3\"}]\n"
    data = (head + "    dimensions:\n      a diameter: '5'   # five\n      overall length: (3)\n").encode()
    new = changed(data, size("p", "a diameter", '1/2"'), size("p", "a length", '1/4"'), size("p", "overall length", "(4)"))
    assert new.decode() == head.replace('"3"', '"1/4\\""') + (
        "    dimensions:\n      a diameter: '1/2\"'   # five\n      overall length: (4)\n")
    data = (head + "    dimensions: {a diameter: 5}\n").encode()
    tapered = data.replace(b"cylinder: a", b"cone: a").replace(b"a diameter: 5", b"a taper: 1:8, a left diameter: 9")
    assert b"{a taper: '1 : 20', a left" in changed(tapered, size("p", "a taper", "1 : 20"))


def test_a_chamfers_two_sizes_are_changed_each_in_its_place() -> None:
    data = SOURCES["tapping-stand"]
    new = changed(data, size("feed arm", "tip length", "0.7 mm"), size("feed arm", "tip angle to axis", "30 deg"))
    assert new == data.replace(b"size: 0.5 mm x 45 deg", b"size: 0.7 mm x 30 deg")
    assert told(data, DropSize(said("feed arm"), said("tip length"))) == [
        "change:1:1: 'tip length' is written together with another size; take it out of the file by hand"]


def test_the_last_size_out_leaves_brackets_and_the_next_in_fills_them() -> None:
    data = SOURCES["clamp-lever"]
    short = "short lever"
    new = changed(data, DropSize(said(short), said("hub diameter")), DropSize(said(short), said("hub centre to shank right")))
    assert tree_of(new)["parts"][short]["dimensions"] == {}
    assert b"    dimensions: {}\n" in new
    again = changed(new, size(short, "hub diameter", "1/2"))
    assert b"    dimensions: {hub diameter: 1/2}\n" in again


def test_a_size_out_of_brackets_takes_one_comma() -> None:
    head = "handwheel: 1\njob: J\nunits: mm\nparts:\n  p:\n    outside: [cylinder: a]\n    dimensions: "
    for before, phrase, after in (
        ("{a length: 5, a diameter: 6} # c", "a diameter", "{a length: 5} # c"),
        ("{a length: 5, a diameter: 6} # c", "a length", "{a diameter: 6} # c"),
        ("{ a length: 5 , a diameter: '6', }", "a diameter", "{ a length: 5 , }"),
        ("{a length: 5}", "a length", "{}"),
        ("{a length: 5, # five\n      a diameter: 6   # six\n    } # c", "a diameter",
         "{a length: 5, # five\n         # six\n    } # c"),
        ("{a length: 5, # five\n      a diameter: 6,   # six\n    } # c", "a diameter", "{a length: 5, # five\n    } # c"),
    ):  # fmt: skip
        new = changed((head + before).encode(), DropSize(said("p"), said(phrase)))
        assert new.decode() == head + after


def made(copy_: str, phrase: str, value: str) -> SetMade:
    return SetMade(said(copy_), said(phrase), said(value))


@pytest.mark.parametrize("seed", range(12))
def test_measured_sizes_are_added_and_never_lost(seed: int) -> None:
    data = ugly(SOURCES["tapping-stand"], 400 + seed) if seed else SOURCES["tapping-stand"]
    one = changed(data, made("lock lever 2", "hub diameter", "0.6870"))
    two = changed(one, made("lock lever 2", "tenon diameter", "0.1871"), made("lever knob 1", "bulb diameter", "0.4377"))
    tree = tree_of(data) | {"as made": {
        "lock lever 2": {"hub diameter": "0.6870", "tenon diameter": "0.1871"}, "lever knob 1": {"bulb diameter": "0.4377"}}}
    assert tree_of(two) == tree
    before = data.decode("utf-8-sig").rstrip()
    assert two.decode("utf-8-sig").startswith(before) or data.decode("utf-8-sig")[0] == "{"
    three = changed(two, made("lock lever 2", "hub diameter", "0.6868"))
    four = changed(three, made("lock lever 2", "hub diameter", "0.6869"), made("lock lever 2", "hub diameter", "0.6869"))
    tree["as made"]["lock lever 2"]["hub diameter"] = "0.6869"
    assert tree_of(four) == tree
    line = next(one for one in re.split(r"[\r\n]+", four.decode()) if "0.6869" in one)
    assert line.endswith("# hub diameter was 0.6870; hub diameter was 0.6868")
    assert re.sub(rb"0.6869 .*68", b"0.6870", four, count=1) == two


def test_what_was_measured_stays_behind_the_comment_that_is_there() -> None:
    data = SOURCES["clamp-lever"].rstrip() + b"\nas made: {knob 2: {socket diameter: 0.1565, grip diameter: '0.375'}} # by A\n"
    new = changed(data, made("knob 2", "grip diameter", "0.3752"))
    assert new == data.replace(b"'0.375'}} # by A", b"'0.3752'}} # by A; grip diameter was 0.375")


@pytest.mark.parametrize(("edit", "line"), [
    (size("levr", "hub diameter", "1"), "change:1:1: there is no part or assembly 'levr'; did you mean 'lever'?"),
    (size("lever", "hob diameter", "1"), "change:1:1: there is no feature 'hob' here; did you mean 'hub'?"),
    (SetSize(said("lever"), said("hub diameter", "--size"), said(" 3,5", "--size", 2, 14)),
     "--size:2:15: '3,5' has a comma in it; write '3.5'"),
    (DropSize(said("short lever"), said("shank right diameter")),
     "change:1:1: 'shank right diameter' is not written in 'short lever'; it is that of 'lever', take it out there"),
    (DropSize(said("lever"), said("tenon right diameter")),
     "change:1:1: 'tenon right diameter' is not written in 'lever'; did you mean 'tenon diameter'?"),
    (made("lever 9", "hub diameter", "1"), "change:1:1: the job could not be read after it: "
     "there is no copy 9 of 'lever'; copies run from 1 to 3"),
    (made("lever 2", "hub diameter", "1 ± 0.1"),
     "change:1:1: a size as made is one measured number; write it alone, without tolerance"),
    (made("lover 2", "hub diameter", "1"), "change:1:1: there is no part 'lover 2'; did you mean 'lever'?"),
])  # fmt: skip
def test_what_is_wrong_with_an_edit_of_a_size(edit: Edit, line: str) -> None:
    assert told(SOURCES["clamp-lever"], edit) == [line]


def test_all_or_none_and_every_fault() -> None:
    good, bad = size("lever", "hub diameter", "1/2"), size("lever", "hub diametr", "1/2")
    assert len(told(SOURCES["clamp-lever"], good, bad, bad)) == 2
    assert told(SOURCES["clamp-lever"].replace(b"inch", b"inches"), good) == [
        "j.yaml:3:8: 'inches' is not a unit for a whole job; write 'units: inch'"]


def test_a_size_written_twice_is_not_guessed() -> None:
    data = (b"handwheel: 1\njob: J\nunits: mm\nparts:\n  p: {outside: [{cylinder: a, length: 5}],\n"
            b"    dimensions: {a length: 5, a left to a right: 5, a right to a left: 5}}\n")
    assert told(data, size("p", "a length", "6")) == [
        "change:1:1: 'a length' is written 2 times (lines 5, 6); take all but one out of the file by hand"]
    assert changed(data, size("p", "a right to a left", "6")) == data.replace(b"to a left: 5", b"to a left: 6")


@pytest.mark.parametrize("text", [
    "---\nhandwheel: 1\njob: J\nunits: mm\nparts: {p: {outside: [cylinder: a]}}\n...\n",
    "--- # one\n{handwheel: 1, job: J, units: mm, parts: {p: {outside: [{cylinder: a}]}}}",
    "{ handwheel: 1, job: J, units: mm, # x\n  parts: {p: {outside: [{cylinder: a}]}, }, # y\n }\n# z\n",
    "handwheel: 1\njob: J\nunits: mm\n\nparts:\n p:\n  outside:\n  - cylinder: a\n\n# the end",
])  # fmt: skip
def test_marks_of_a_document_and_a_file_between_brackets(text: str) -> None:
    data = text.encode()
    new = changed(data, made("p", "a diameter", "4.99"), size("p", "a diameter", "5"))
    wanted = tree_of(data)
    wanted["as made"] = {"p": {"a diameter": "4.99"}}
    wanted["parts"]["p"]["dimensions"] = {"a diameter": "5"}
    assert tree_of(new) == wanted
    rest = iter(new.decode())
    assert all(letter in rest for letter in text), "every letter of the old file is there, in order"
    assert (new[-1:] == b"\n") == text.endswith("\n")
    again = changed(new, DropSize(said("p"), said("a diameter")), made("p", "a diameter", "4.98"))
    wanted["as made"]["p"]["a diameter"], wanted["parts"]["p"]["dimensions"] = "4.98", {}
    assert tree_of(again) == wanted
    assert "a diameter was 4.99" in again.decode()
