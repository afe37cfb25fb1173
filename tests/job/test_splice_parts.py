"""Words of a part, items of its outside, whole blocks; and edits drawn at random, which never raise."""

from __future__ import annotations

import copy
import random
import re
from typing import Any

import pytest

from handwheel.job.edititems import AddItem, DropItem, SetOption
from handwheel.job.editnames import RenameAssembly, RenameFeature, RenamePart
from handwheel.job.editparts import SetBlock, SetWord
from handwheel.job.edits import Edit, change_job, said
from handwheel.job.editsizes import DropSize, SetMade, SetSize
from handwheel.job.splice import Splice, block_set, source_of, spelled, spliced
from handwheel.job.yamltext import Mapping, parse_tree
from tests.job.test_splice_sizes import SOURCES, changed, told
from tests.job.ugly import tree_of, ugly

STAND, CLAMP = SOURCES["tapping-stand"], SOURCES["clamp-lever"]
WORDS = {"quantity": "7", "material": "steel, En1A: bright # not this", "stock": "hexagon 1 in", "note": "it's \"x\"",
         "general tolerance": "ISO 2768-1 f"}


def word(part: str, key: str, value: str) -> SetWord:
    return SetWord(said(part), said(key), said(value))


def comments(text: str) -> list[str]:
    return [line.strip() for line in re.split(r"\r\n|\r|\n", text) if line.strip().startswith("#")]


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("key", WORDS)
def test_a_word_of_a_part_is_changed_or_added(key: str, seed: int) -> None:
    data = ugly(STAND, 700 + seed) if seed else STAND
    for part, entries in tree_of(data)["parts"].items():
        new = changed(data, word(part, key, WORDS[key]))
        wanted = tree_of(data)
        wanted["parts"][part][key] = WORDS[key]
        assert tree_of(new) == wanted
        before, now = data.decode("utf-8-sig"), new.decode("utf-8-sig")
        assert comments(now) == comments(before)
        breaks = len(re.findall(r"\r\n|\r|\n", now)) - len(re.findall(r"\r\n|\r|\n", before))
        assert breaks in ((0,) if key in entries else (0, 1))


def test_a_word_is_added_among_its_like() -> None:
    new = changed(STAND, word("lever knob", "stock", "round 1/2"), word("", "workshop", "mine.yaml"))
    assert new == STAND.replace(b"    note: sheet 3, item 8\n", b"    stock: round 1/2\n    note: sheet 3, item 8\n").replace(
        b"units: inch\n", b"units: inch\nworkshop: mine.yaml\n")
    data = b"handwheel: 1\njob: J\nunits: mm\nparts:\n  p:   # this\n    # first\n    outside: [{cylinder: a}]"
    assert changed(data, word("p", "quantity", "2")) == data.replace(b"# this\n", b"# this\n    quantity: 2\n")
    assert changed(data, word("p", "note", "x: 'y'"), word("", "job", "K")) == data.replace(b"job: J", b"job: K").replace(
        b"# this\n", b"# this\n    note: 'x: ''y'''\n")


def test_what_is_wrong_with_a_word() -> None:
    assert told(STAND, word("lever nob", "quantitee", "3")) == [
        "change:1:1: 'quantitee' is not a word of a part that can be set; did you mean 'quantity'?",
        "change:1:1: there is no part 'lever nob'; did you mean 'lever knob'?"]
    assert told(STAND, word("", "units", "mm")) == [
        "change:1:1: 'units' is not a word of the job that can be set; known here: general tolerance, job, workshop"]
    assert told(STAND, word("lever knob", "quantity", "some")) == [
        "change:1:1: the job could not be read after it: 'some' is not a whole number from 1 to 10000; write one, like 3"]


@pytest.mark.parametrize("seed", range(25))
def test_an_item_is_put_into_the_outside(seed: int) -> None:
    data = ugly(STAND, 800 + seed) if seed else STAND
    for part, entries in tree_of(data)["parts"].items():
        if "outside" not in entries:
            continue
        names = [next(iter(item.values())) for item in entries["outside"]]
        for at, after in enumerate(("left end", *names, "right end")):
            edit = AddItem(said(part), said(after), said("{cylinder: new-one, length: 2 mm, diameter: '3 mm'}"))
            wanted = tree_of(data)
            item = {"cylinder": "new-one", "length": "2 mm", "diameter": "3 mm"}
            wanted["parts"][part]["outside"].insert(min(at, len(names)), item)
            new = changed(data, edit)
            assert tree_of(new) == wanted
            assert comments(new.decode("utf-8-sig")) == comments(data.decode("utf-8-sig"))


def test_an_item_goes_into_the_list_of_the_one_before_it() -> None:
    new = changed(STAND, AddItem(said("lever knob"), said("socket"), said("countersink: lead")))
    assert new == STAND.replace(
        b"        - hole: socket\n          finish: reamed\n",
        b"        - hole: socket\n          finish: reamed\n        - countersink: lead\n")


@pytest.mark.parametrize("seed", range(20))
def test_an_option_of_a_feature_is_changed_or_added(seed: int) -> None:
    data = ugly(STAND, 1000 + seed) if seed else STAND
    for part, path, key, value in (
        ("lock lever", ("outside", 1), "narrow", "right"), ("lever knob", ("inside", "from left", 0), "finish", "bored"),
        ("feed arm", ("outside", 3), "thread", "1/4 x 40 ME"), ("arm collar", ("outside", 0), "knurl", "straight 0.8 mm"),
    ):  # fmt: skip
        wanted = tree_of(data)
        item = wanted["parts"][part]
        for step in path:
            item = item[step]
        item[key] = value
        name = next(iter(item.values()))
        new = changed(data, SetOption(said(part), said(name), said(key), said(value)))
        assert tree_of(new) == wanted
        assert comments(new.decode("utf-8-sig")) == comments(data.decode("utf-8-sig"))
        assert changed(new, SetOption(said(part), said(name), said(key), said(value))) == new


@pytest.mark.parametrize("seed", range(20))
def test_an_item_is_taken_out(seed: int) -> None:
    data = ugly(STAND, 1100 + seed) if seed else STAND
    wanted = tree_of(data)
    del wanted["parts"]["feed arm"]["outside"][4]
    new = changed(data, DropItem(said("feed arm"), said("tip")))
    assert tree_of(new) == wanted
    assert comments(new.decode("utf-8-sig")) == comments(data.decode("utf-8-sig"))
    gone = ("undercut diameter", "undercut length")
    new = changed(new, *(DropSize(said("feed arm"), said(size)) for size in gone), DropItem(said("feed arm"), said("undercut")))
    del wanted["parts"]["feed arm"]["outside"][2]
    for size in gone:
        del wanted["parts"]["feed arm"]["dimensions"][size]
    assert tree_of(new) == wanted
    drops = [DropSize(said(part), said(f"socket {size}")) for part in ("lever knob", "short lever knob")
             for size in ("diameter", "depth")]  # fmt: skip
    new = changed(new, *drops, DropItem(said("lever knob"), said("socket")))
    wanted["parts"]["lever knob"]["inside"]["from left"] = []
    for part in ("lever knob", "short lever knob"):
        for size in ("diameter", "depth"):
            del wanted["parts"][part]["dimensions"][f"socket {size}"]
    assert tree_of(new) == wanted


def test_what_is_wrong_with_an_item() -> None:
    def item(part: str, after: str, text: str) -> AddItem:
        return AddItem(said(part), said(after), said(text))

    def option(part: str, feature: str, key: str, value: str) -> SetOption:
        return SetOption(said(part), said(feature), said(key), said(value))

    assert told(STAND, item("lock lever", "hob", "cylinder")) == [
        "change:1:1: 'cylinder' is not one item; write it like 'cylinder: NAME' or '{cone: NAME, flush: left}'",
        "change:1:1: there is no item 'hob' in 'lock lever'; did you mean 'hub'?"]
    elsewhere = "change:1:1: {} of 'short lock lever' is that of 'lock lever'; change it there"
    assert told(STAND, item("short lock lever", "hub", "cone: x")) == [elsewhere.format("'hub'")]
    assert told(STAND, DropItem(said("short lock lever"), said("hub"))) == [elsewhere.format("'hub'")]
    assert told(STAND, item("short lock lever", "left end", "cone: x")) == [
        "change:1:1: the outside of 'short lock lever' is that of 'lock lever'; change it there"]
    assert told(STAND, item("lock lever", "right end", "cone: hub"))[0].startswith(
        "change:1:1: the job could not be read after it: 'hub' is the name of two features")
    assert told(STAND, DropItem(said("lock lever"), said("hub")))[0].startswith("change:1:1: the job could not be read after")
    assert told(STAND, option("lock lever", "tenon", "length", "3")) == [
        "change:1:1: 'length' is a size of 'tenon', not an option; change it as a size"]
    assert told(STAND, option("lock lever", "hub", "ball", "grip")) == [
        "change:1:1: 'ball' is what 'hub' is; rename it, or write it into the file by hand"]
    assert told(STAND, option("lock lever", "hub", "thread", "M6"))[0].startswith(
        "change:1:1: the job could not be read after it: the ball 'hub' has no 'thread'")


LINES = ("hub diameter: 1/2   # new", "", "# the shank", "shank right diameter: 1/4", "hub centre to shank right: 1")


def test_a_whole_block_is_written_anew() -> None:
    new = changed(CLAMP, SetBlock(said("short lever"), said("dimensions"), LINES[:2]))
    text = CLAMP.decode()
    start = text.index("    dimensions:\n      hub diameter: 7/16")
    end = text.index("  knob:")
    assert new.decode() == text[:start] + "    dimensions:\n      hub diameter: 1/2   # new\n\n" + text[end:]
    assert told(CLAMP, SetBlock(said("short lever"), said("dimensions"), ("hub: 1",)))[0].startswith(
        "change:1:1: the job could not be read after it: ")


@pytest.mark.parametrize("seed", range(20))
def test_a_block_of_any_key_is_put_in_and_replaced(seed: int) -> None:
    """For a part's entry that the reader does not know yet: the tree and the other lines alone are looked at."""
    data = ugly(STAND, 900 + seed) if seed else STAND
    wanted: Any = {"steps": [{"face": "left end"}, {"turn": "x", "to": "1"}]}
    for lines in (("steps:", "  - face: left end", "  # then", "  - {turn: x, to: '1'}"), ("steps:", "- a", "- b")):
        if lines[1] == "- a":
            wanted = {"steps": ["a", "b"]}
        for part in tree_of(data)["parts"]:
            tree, faults = parse_tree(data, "f")
            assert faults == ()
            assert isinstance(tree, Mapping)
            parts = tree.get("parts")
            holder = parts.value.get(part) if parts and isinstance(parts.value, Mapping) else None
            assert holder is not None
            source = source_of(data)
            pieces = block_set(source, holder, "route", lines, 2)
            whole = tree_of(data)
            if pieces is None:
                assert source.is_flow(holder.value)
                continue
            data = spliced(source, pieces)
            whole["parts"][part]["route"] = wanted
            assert tree_of(data) == whole


def test_pieces_that_overlap_are_an_error() -> None:
    with pytest.raises(ValueError, match="overlap at 2"):
        spliced(source_of(b"abcdef"), [Splice(0, 3, "x"), Splice(2, 4, "y")])


@pytest.mark.parametrize("text", ["a, b", "a: b", "- x", "#x", "x #y", "'q'", '"q"', "a]", "{a", "? x", "*a", "&a", "!t",
                                  "%d", "@a", "`a", "null", "1:20", "it's", "x:", ": x", "|", ">", "~", "a,b", "--- x"])
def test_a_text_is_spelled_so_that_it_reads_back(text: str) -> None:
    assert tree_of(f"k: {spelled(text, False)}".encode()) == {"k": text}
    assert tree_of(f"{{k: {spelled(text, True)}, l: m}}".encode()) == {"k": text, "l": "m"}
    assert tree_of(f"{spelled(text, False, True)}: v".encode()) == {text: "v"}
    assert tree_of(f"{{{spelled(text, True, True)}: v}}".encode()) == {text: "v"}


ODD = ("", " ", "hub", "lever", "x\ny: z", "left", "hub diameter", "{", "'", "1/2", "1/0", "- a", "a: b", "#", "½", "\t",
       "\x00", "same as hub diameter of lever", "clamp lever", "lever 2", "é", "right end", "{ball: q}", "dimensions")


def test_edits_drawn_at_random_give_faults_and_never_an_error() -> None:
    chance = random.Random(31)

    likely = {
        SetSize: ("lever", "hub diameter", "1/2"), DropSize: ("lever", "hub diameter"),
        SetMade: ("lever 2", "hub diameter", "1/2"), RenameFeature: ("lever", "hub", "boss"),
        RenamePart: ("lever", "arm"), RenameAssembly: ("clamp lever", "pair"), SetWord: ("lever", "note", "x"),
        AddItem: ("lever", "hub", "{cylinder: q}"), DropItem: ("lever", "tenon"),
        SetOption: ("knob", "socket", "finish", "bored"),
    }
    makers: list[Any] = list(likely)
    done = 0
    for round_ in range(400):
        data = ugly(CLAMP, round_)
        maker = chance.choice(makers)
        words = (said(word if chance.random() < 0.7 else chance.choice(ODD)) for word in likely[maker])
        edits: list[Edit] = [maker(*words)]
        new, faults = change_job(data, "j.yaml", edits)
        assert (new is None) == bool(faults)
        assert all("\n" not in fault.line() for fault in faults)
        done += new is not None and new != data
    assert 50 < done < 350


def test_an_edit_leaves_what_it_was_given_alone() -> None:
    tree = tree_of(STAND)
    kept = copy.deepcopy(tree)
    changed(STAND, word("lever knob", "quantity", "3"))
    assert tree_of(STAND) == kept == tree
