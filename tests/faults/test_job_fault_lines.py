"""Every fault of reading: its whole line, with its place, for a file that has nothing else wrong with it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import handwheel.job
from handwheel.job.onefeature import read_one_feature
from handwheel.job.read import read_job, read_question
from handwheel.job.records import Unit

HEAD = "handwheel: 1\njob: J\nunits: inch\n"
PIN = "parts:\n  pin:\n    outside:\n      - cylinder: body\n"
NOSE = "    dimensions:\n      nose "


def lines_of(*lines: str, indent: int = 6) -> str:
    return "".join(" " * indent + line + "\n" for line in lines)


def dims(*lines: str) -> str:
    return HEAD + PIN + "    dimensions:\n" + lines_of(*lines)


def out(*lines: str, after: str = "") -> str:
    return HEAD + "parts:\n  pin:\n    outside:\n" + lines_of(*lines) + after


def part(line: str) -> str:
    return HEAD + "parts:\n  pin:\n    " + line + "\n    outside: [{cylinder: body}]\n"


def top(line: str) -> str:
    return HEAD + line + "\n" + PIN


def across(*lines: str) -> str:
    return HEAD + PIN + "    across:\n" + lines_of(*lines)


def route(*lines: str) -> str:
    return HEAD + PIN + "    route:\n" + lines_of(*lines)


def asm(*lines: str) -> str:
    return HEAD + PIN + "  cap: {outside: [{ball: knob}]}\nassemblies:\n  both:\n" + lines_of(*lines, indent=4)


CASES: list[tuple[str, str | bytes, str]] = [
    ("not-utf8", b"handwheel: 1\njob: caf\xe9\n",
     "2:9: byte 0xE9 is not UTF-8 text; save the file as UTF-8"),
    ("not-utf8", b"\xff\xfeh\x00",
     "1:1: the file is UTF-16, not UTF-8; save it as UTF-8"),
    ("not-text", b"handwheel: 1\njob: a\x00b\n",
     "2:7: the character U+0000 has no place in a job file; delete it"),
    ("not-text", top('workshop: "a\\0b"'),
     "4:11: the character U+0000 has no place in a job file; delete its escape"),
    ("not-text", part('note: "a\\nb"'),
     "6:11: the character U+000A has no place in a job file; delete its escape"),
    ("word-unknown", HEAD + "parts:\n  pin:\n    outside: [{cylinder: body}]\n    inside:\n      from left:\n"
     "        - {hole: eye, finish: reemed}\n",
     "9:31: 'reemed' is not one of drilled, reamed, bored; did you mean 'reamed'?"),
    ("tab", "handwheel: 1\nparts:\n\tpin: 1\n",
     "3:1: a tab indents this line; indent with blanks"),
    ("empty-file", "",
     "1:1: there is nothing in the file; begin it with 'handwheel: 1'"),
    ("empty-file", "# nothing\n",
     "1:1: there is nothing in the file; begin it with 'handwheel: 1'"),
    ("too-deep", "a: " + "["*25 + "]"*25 + "\n",
     "1:23: nested more than 20 deep; write it flatter"),
    ("second-document", HEAD + PIN + "---\nhandwheel: 1\n",
     "8:1: a second document begins here; keep one job to a file"),
    ("directive", "%YAML 1.2\n---\n" + HEAD + PIN,
     "1:1: a '%' directive has no place here; delete the line"),
    ("alias", top("workshop: *w"),
     "4:11: '*w' is an alias, which is not read; write the text out, or put it in quotes"),
    ("anchor", top("workshop: &w shop.yaml"),
     "4:11: '&w' is an anchor, which is not read; delete it"),
    ("tag", top("workshop: !!str shop.yaml"),
     "4:11: 'tag:yaml.org,2002:str' is a tag, which is not read; delete it, or put the text in quotes"),
    ("block-scalar", part("note: |\n      one\n      two"),
     "6:11: '|' begins a text of several lines; write it on one line"),
    ("several-lines", part("note: one\n      two"),
     "6:11: this text runs over several lines; write it on one line, or check the indentation of the next line"),
    ("key-not-text", top("? [a]\n: b"),
     "4:3: a key must be a plain text; write 'key: value'"),
    ("merge-key", part("<<: {quantity: 2}"),
     "6:5: '<<' merges mappings, which is not read; write the entries out, or use 'like:' for a part"),
    ("key-twice", dims("body diameter: 1/2", "body diameter: 3/8"),
     "10:7: 'body diameter' is written twice (first on line 9); keep one of them"),
    ("emptied-by-hash", dims("body diameter: #7 drill"),
     "9:22: 'body diameter' is empty: '#' begins a comment, so '#7 drill' is not read; write 'No. 7 drill'"),
    ("emptied-by-hash", part("note: # later"),
     "6:11: 'note' is empty: '#' begins a comment, so '# later' is not read; write a value before it"),
    ("not-yaml", HEAD + "parts:\n  pin: a: b\n",
     "5:9: a ':' stands where none can; check the indentation, or put the text in quotes"),
    ("not-yaml", HEAD + "parts: {pin: [\n",
     "4:14: the brackets are not closed; write ']' or a ',' between the items"),
    ("not-yaml", HEAD + "parts: {pin: ,,}\n",
     "4:15: a value is missing here; write it, or put the text in quotes"),
    ("not-yaml", HEAD + "parts: 'open\n",
     "4:8: the quotes are not closed; close them on the same line"),
    ("not-yaml", HEAD + "parts:\n  pin:\n    outside:\n      - {cylinder: body\n    note: x\n",
     "7:9: the braces are not closed; write '}' or a ',' between the entries"),
    ("not-yaml", HEAD + "parts:\n  pin: {outside: [{cylinder: body}]}\n  cap\nassemblies: x\n",
     "6:3: this line has no ':'; write 'key: value'"),
    ("not-yaml", "  " + HEAD + PIN,
     "2:1: this line begins left of the lines above it; begin them in the same column"),
    ("not-yaml", HEAD + "general tolerance: @x\n",
     "4:20: a text cannot begin like this; put it in quotes"),
    ("mapping-wanted", "- a\n",
     "1:1: a job file is made of 'key: value'; begin it with 'handwheel: 1'"),
    ("mapping-wanted", HEAD + "parts: [pin]\n",
     "4:8: 'parts' needs entries 'key: value', not a list; write them below it, indented"),
    ("nothing-written", HEAD + "parts:\n",
     "4:7: nothing is written under 'parts'; write its entries, or delete it"),
    ("list-wanted", HEAD + "parts:\n  pin:\n    outside: {cylinder: body}\n",
     "6:14: 'outside' needs a list, not a set of 'key: value'; begin each item with '- '"),
    ("text-wanted", part("note: [a]"),
     "6:11: 'note' needs one value, not a list; write it on the same line"),
    ("value-missing", part("note:"),
     "6:10: 'note' has no value; write one, or delete the line"),
    ("key-unknown", part("qantity: 3"),
     "6:5: the part 'pin' has no 'qantity'; did you mean 'quantity'?"),
    ("key-unknown", out("- {ball: hub, flush: left}"),
     "7:21: the ball 'hub' has no 'flush'; known here: diameter, diameter at, dome, flat, left "
     "diameter, length, radius, right diameter, tangent"),
    ("key-missing", "job: J\nunits: mm\n" + PIN,
     "1:1: the file does not say that it is a job file; begin it with 'handwheel: 1'"),
    ("key-missing", "handwheel: 1\nunits: mm\n" + PIN,
     "1:1: the job has no name; add 'job: NAME'"),
    ("key-missing", "handwheel: 1\njob: J\n" + PIN,
     "1:1: the job does not say its units; add 'units: inch' or 'units: mm'"),
    ("key-missing", HEAD,
     "1:1: the job has no parts; add 'parts:'"),
    ("version-unknown", "handwheel: 2\njob: J\nunits: mm\n" + PIN,
     "1:12: '2' is no version of the job file known here; write 'handwheel: 1'"),
    ("units-unknown", "handwheel: 1\njob: J\nunits: inches\n" + PIN,
     "3:8: 'inches' is not a unit for a whole job; write 'units: inch'"),
    ("whole-number", part("quantity: 2.5"),
     "6:15: '2.5' is not a whole number from 1 to 10000; write one, like 3"),
    ("yes-or-no", out("- {ball: hub, dome: maybe}"),
     "7:27: 'maybe' is neither yes nor no; write 'yes' or 'no'"),
    ("word-unknown", out("- {ball: hub, flat: rigth}"),
     "7:27: 'rigth' is not one of left, right, both; did you mean 'right'?"),
    ("general-tolerance", top("general tolerance: 0.005"),
     "4:20: '0.005' is not a general tolerance; write '± 0.005' or 'ISO 2768-1 m'"),
    ("general-tolerance", top("general tolerance: ISO 2768-m"),
     "4:20: 'ISO 2768-m' is not how that standard is named here; write 'ISO 2768-1 m'"),
    ("stock-form", part("stock: rod 5/8"),
     "6:12: 'rod 5/8' is not a form of stock; did you mean 'round'?"),
    ("stock-form", part("stock: tube 1/2 x 3/4"),
     "6:17: the tube's bore is not smaller than its outside; write 'tube OUTSIDE x BORE'"),
    ("knurl-form", out("- {cylinder: body, knurl: coarse}"),
     "7:33: 'coarse' is not a knurl; write 'straight 0.8 mm' or 'diamond 1 mm'"),
    ("knurl-form", out("- {cylinder: body, knurl: strait 0.8 mm}"),
     "7:33: 'strait 0.8 mm' is not a knurl; write 'straight 0.8 mm'"),
    ("knurl-form", out("- {cylinder: body, knurl: diamond}"),
     "7:33: 'diamond' is not a knurl; write 'diamond 0.8 mm'"),
    ("thread-unknown", out("- {cylinder: body, thread: 1/4 BWS}"),
     "7:34: the thread '1/4 BWS' is not in the tables; did you mean '1/4 BSW'?"),
    ("thread-unknown", out("- {cylinder: body, thread: m6}"),
     "7:34: the thread 'm6' is not in the tables; did you mean 'M6'?"),
    ("thread-unknown", out("- {cylinder: body, thread: 1/4 UNC}"),
     "7:34: the thread '1/4 UNC' is not in the tables; did you mean '1/4-20 UNC'?"),
    ("thread-unknown", out("- {cylinder: body, thread: M6.7}"),
     "7:34: the thread 'M6.7' is not in the tables; write it like 'M6', 'M8 x 1-6g', '1/4-20 UNC', "
     "'2 BA', '1/4 BSW' or '1/4 x 40 ME'"),
    ("thread-class", out("- {cylinder: body, thread: M6-6H}"),
     "7:34: the class 6H is not one of a screw; write 'M6-6g', or one it has"),
    ("thread-class", out("- {cylinder: body, thread: M3-8g LH}"),
     "7:34: M3 LH has no class 8g; write 'M3-6g LH', or one it has"),
    ("thread-class", out("- {cylinder: body, thread: 1/4-20 UNC-2B}"),
     "7:34: the class 2B is not one of a screw; write '1/4-20 UNC-2A', or one it has"),
    ("thread-class", out("- {cylinder: body, thread: 12 BA close}"),
     "7:34: 12 BA has no class close; write '12 BA normal', or one it has"),
    ("name-missing", out("- cylinder:"),
     "7:18: a feature has no name; write one, beginning with a letter"),
    ("name-form", out("- cylinder: my body"),
     "7:19: 'my body' cannot be a feature's name; letters, digits, hyphens, a letter first: 'my-body'"),
    ("name-reserved", out("- cylinder: left"),
     "7:19: 'left' is a word of the phrases, so no feature's name; choose another name"),
    ("name-twice", out("- cylinder: body", "- cone: body"),
     "8:15: 'body' is the name of two features (first on line 7); rename one of them"),
    ("item-form", out("- cylinder"),
     "7:9: 'cylinder' has no name; write '- cylinder: NAME'"),
    ("kind-unknown", out("- cylindre: body"),
     "7:9: 'cylindre' is no kind of feature under 'outside'; did you mean 'cylinder'?"),
    ("kind-first", out("- {length: 1, cylinder: body}"),
     "7:10: the item begins with 'length', not with its kind; write 'cylinder: …' first"),
    ("kind-elsewhere", out("- hole: eye"),
     "7:9: a hole is not written under 'outside'; write it under 'inside'"),
    ("outside-missing", HEAD + "parts:\n  pin: {quantity: 2}\n",
     "5:3: the part 'pin' has no outside; write 'outside:' with its features, or 'like:' another part"),
    ("flush-at-end", out("- {cylinder: body, flush: left}", "- cone: nose"),
     "7:33: 'body' has no neighbour on its left; delete 'flush' there"),
    ("tangent-at-end", out("- cylinder: body", "- {ball: nose, tangent: right}"),
     "8:31: 'nose' has no neighbour on its right; delete 'tangent' there"),
    ("flush-beside-arc", out("- {cylinder: body, flush: right}", "- ball: nose"),
     "7:33: 'body' cannot be flush with the ball 'nose'; delete 'flush': their surfaces meet by themselves"),
    ("chamfer-size", out("- cylinder: body", "- {chamfer: tip, size: 0.5 mm}"),
     "8:30: '0.5 mm' does not say the chamfer's angle; write it like '0.5 mm x 45 deg', along "
     "the axis x angle to the axis"),
    ("chamfer-size", out("- cylinder: body", "- {chamfer: tip, size: 45 deg x 0.5 mm}"),
     "8:30: '45 deg x 0.5 mm' has the chamfer's angle first; write '0.5 mm x 45 deg'"),
    ("cut-in-host", out("- cylinder: body", "- groove: clip"),
     "8:17: the groove 'clip' does not say what it is cut into; add 'in: FEATURE'"),
    ("cut-in-kind", out("- cylinder: body", "- {knurl: grip, in: body}"),
     "8:17: the knurl 'grip' does not say its kind; add 'kind: straight 0.8 mm'"),
    ("across-place", across("- hole: eye"),
     "9:15: the hole 'eye' does not say what it is on; add 'on: FEATURE'"),
    ("across-place", across("- {holes: ring, count: 6}"),
     "9:17: the holes 'ring' have no face; add 'face: right'"),
    ("part-unknown", HEAD + PIN + "  cap: {like: pim}\n",
     "8:15: there is no part 'pim'; did you mean 'pin'?"),
    ("like-circle", HEAD + "parts:\n  one: {like: two}\n  two: {like: one}\n",
     "5:15: 'like' goes round in a circle: 'one' like 'two' like 'one'; give one of them features of its own"),
    ("follow-circle", dims("body diameter: same as body length", "body length: twice body diameter"),
     "9:22: sizes follow one another in a circle: 'body diameter' follows 'body length' follows 'body diameter'; "
     "give one of them a size of its own"),
    ("follow-circle", dims("body diameter: half of body diameter"),
     "9:22: sizes follow one another in a circle: 'body diameter' follows 'body diameter'; "
     "give one of them a size of its own"),
    ("follow-circle", HEAD + "parts:\n  pin: {outside: [{cylinder: body, diameter: same as body diameter of cap}]}\n"
     "  cap: {outside: [{cylinder: body, diameter: to suit body diameter of pin - 0.002}]}\n",
     "5:46: sizes follow one another in a circle: 'body diameter of pin' follows 'body diameter of cap' follows "
     "'body diameter of pin'; give one of them a size of its own"),
    ("follow-circle", HEAD + "parts:\n  pin: {outside: [{cylinder: body, diameter: same as body diameter of cap}]}\n"
     "  cap: {like: pin}\n",
     "5:46: sizes follow one another in a circle: 'body diameter' follows 'body diameter'; "
     "give one of them a size of its own"),
    ("square-circle", across("- {flat: key, square to: way}", "- {flat: way, square to: key}"),
     "9:32: 'square to' goes round in a circle: 'key' square to 'way' square to 'key'; "
     "give one of them 'around' and 'at'"),
    ("feature-unknown", across("- {flat: key, on: body, square to: key}"),
     "9:42: there is no across feature 'key' here; there are none here to choose from"),
    ("route-holds-nothing", route("- face: right end"),
     "9:9: the route begins before the work is held; write first how, like "
     "'- {hold: three-jaw on stock, to tailstock: right}'"),
    ("route-word-unknown", route("- {hold: three-jaw on stock, to tailstock: right}", "- trun: body"),
     "10:9: 'trun' is no operation of a route; did you mean 'turn'?"),
    ("route-word-unknown", route("- {hold: three-jawed on stock, to tailstock: right}"),
     "9:16: 'three-jawed' is no way of holding; did you mean 'three-jaw'?"),
    ("route-place-unknown", route("- {hold: three-jaw on stock, to tailstock: right}", "- turn: bdy"),
     "10:15: 'turn' is not done to 'bdy'; did you mean 'body'?"),
    ("route-place-unknown", route("- {hold: collet on bdy, to tailstock: right}"),
     "9:26: there is no 'bdy' to hold by; did you mean 'body'?"),
    ("route-hold-form", route("- {hold: three-jaw, to tailstock: right}"),
     "9:16: 'three-jaw' does not say what is held; write it like 'three-jaw on stock' or 'collet on tenon'"),
    ("route-hold-form", route("- {hold: three-jaw on stock}"),
     "9:16: it is not said which end stands toward the tailstock; add 'to tailstock: left' or 'to tailstock: right' "
     "to the item"),
    ("feature-unknown", dims("bdy diameter: 1/2"),
     "9:7: there is no feature 'bdy' here; did you mean 'body'?"),
    ("feature-unknown", out("- cylinder: body", "- {groove: clip, in: bod}"),
     "8:18: 'clip' is cut into 'bod', which is not there; did you mean 'body'?"),
    ("feature-unknown", across("- {hole: eye, on: bdy}"),
     "9:25: there is no outside feature 'bdy' here; did you mean 'body'?"),
    ("no-such-size", dims("body included angle: 30 deg"),
     "9:7: a cylinder has no included angle; write 'body diameter'"),
    ("no-such-point", dims("body mouth to right end: 1"),
     "9:7: a cylinder has no mouth; write 'body left' or 'body right'"),
    ("phrase-unreadable", dims("body: 1/2"),
     "9:11: nothing is said of 'body'; write a size or point, like 'body diameter' or 'body left'"),
    ("phrase-unreadable", dims("body diametr: 1/2"),
     "9:12: 'diametr' is not a size or point; did you mean 'diameter'?"),
    ("point-twice", dims("body left to body left: 1/2"),
     "9:7: the distance goes from a point to itself; name two points"),
    ("emptied-by-hash", HEAD + "parts: # all of them\n",
     "4:8: 'parts' is empty: '#' begins a comment, so '# all of them' is not read; write a value before it"),
    ("outside-missing", HEAD + "parts:\n  pin: {outside: []}\n",
     "5:3: the part 'pin' has no outside; write its features"),
    ("phrase-missing", HEAD + PIN + "    dimensions:\n      ' ': 1\n",
     "9:8: a phrase is missing; write it, like 'hub diameter'"),
    ("part-not-wanted", dims("body diameter of pin: 1/2"),
     "9:21: 'of PART' has no place in a part's own dimension; leave it out, or write the dimension under 'assemblies'"),
    ("part-missing", asm("seats: [knob left on body right of pin]"),
     "11:23: the phrase does not say of which part; add 'of PART'"),
    ("length-wanted", dims("body diameter: 30 deg"),
     "9:22: this is an angle, where a length is wanted; write it like '7/16' or '25.4 mm'"),
    ("angle-wanted", out("- cone: nose", after="    dimensions:\n      nose included angle: 1 in 20\n"),
     "9:28: this is a taper, where an angle is wanted; write it like '2.5 deg'"),
    ("taper-wanted", out("- cone: nose", after="    dimensions:\n      nose taper: 30 deg\n"),
     "9:19: this is an angle, where a taper is wanted; write it like '1 in 20' or '0.6 in per ft'"),
    ("taper-unreadable", out("- cone: nose", after="    dimensions:\n      nose taper: 1 per 20\n"),
     "9:25: 'per' needs a length on both sides; write it like '0.6 in per ft'"),
    ("angle-unit", out("- cone: nose", after="    dimensions:\n      nose included angle: 30\n"),
     "9:28: an angle carries a unit; write it like '2.5 deg' or '2 deg 30 min'"),
    ("angle-parts", out("- cone: nose", after="    dimensions:\n      nose included angle: 3 min 2 deg\n"),
     "9:36: an angle goes from deg to min; write it like '2 deg 30 min'"),
    ("angle-too-large", out("- cone: nose", after="    dimensions:\n      nose angle to axis: 90 deg\n"),
     "9:27: an angle to axis is below 90 deg; check it"),
    ("angle-too-large", across("- {hole: eye, on: body, leaning: 90 deg}"),
     "9:40: 'leaning' lies below 90 deg; check it"),
    ("decimal-comma", dims("body diameter: 1,250.5"),
     "9:22: '1,250.5' has a comma in it; write '1250.5'"),
    ("decimal-comma", dims("body diameter: 25,4"),
     "9:22: '25,4' has a comma in it; write '25.4'"),
    ("hyphen-in-number", dims("body diameter: 1-7/16\""),
     "9:22: '1-7/16' could be a sum; write '1 7/16' for the mixed number, '1 - 7/16' for the sum"),
    ("fraction-of-decimals", dims("body diameter: 1.5/2"),
     "9:22: a fraction needs whole numbers; write the decimal alone"),
    ("fraction-by-zero", dims("body diameter: 1/0"),
     "9:22: 1/0 divides by nothing; check the fraction"),
    ("fraction-not-proper", dims("body diameter: 1 7/4"),
     "9:24: 7/4 is not a part of one; check the fraction"),
    ("two-numbers", dims("body diameter: 1/2 3/4"),
     "9:26: a second number, '3', follows the first; write one number, with a sign between two that are added"),
    ("number-too-long", dims("body diameter: " + "1"*31),
     "9:22: this number has more than 30 digits; write fewer"),
    ("unit-unknown", dims("body diameter: 2 inhc"),
     "9:24: 'inhc' is not a unit here; did you mean 'inch'?"),
    ("unit-unknown", dims("body diameter: 20 thous"),
     "9:25: 'thous' is not a unit here; did you mean 'thou'?"),
    ("unit-unknown", dims("body diameter: 2 cm"),
     "9:24: 'cm' is not a unit here; write it in mm"),
    ("value-unreadable", dims("body diameter: 5/32h7"),
     "9:22: '5/32h7' is not a number; write a blank before the class: '5/32 h7'"),
    ("value-unreadable", dims("body diameter: 1 / 2"),
     "9:22: '1 / 2' has blanks in it; write '1/2'"),
    ("value-unreadable", dims("body diameter: 3/8 DIA"),
     "9:26: 'DIA' is no part of a size; leave it out, or write '∅' before the size"),
    ("value-unreadable", dims("body diameter: S∅ 3/8"),
     "9:22: 'S' is not read before a size; leave the 'S' out: a ball is said by its kind"),
    ("value-unreadable", dims('body diameter: "#7 drill"'),
     "9:23: '#' is no part of a number; write 'No. 7 drill'"),
    ("value-unreadable", dims("body diameter: half an inch"),
     "9:22: 'half an inch' is not a number; write a size, or 'same as PHRASE', 'half of PHRASE', 'twice PHRASE'"),
    ("value-unreadable", dims("body diameter: 7/16 inch es"),
     "9:32: 'inch es' is not a unit; write 'inches'"),
    ("drill-unknown", dims("body diameter: No. 200 drill"),
     "9:22: there is no 'No. 200 drill'; number drills run from 1 to 97, letters A to Z"),
    ("size-not-positive", dims("body diameter: 1/2 - 3/4"),
     "9:22: the diameter comes to less than nothing; a size is more than nothing; check it"),
    ("size-not-positive", dims("body diameter: -3"),
     "9:22: a size is written without a sign before it; delete the '-'"),
    ("plus-minus", dims("body diameter: 1/2 +- 0.001"),
     "9:26: '+-' is not a tolerance; write '± 0.001' or '+0.001 -0.001'"),
    ("tolerance-unreadable", dims("body diameter: 1/2 ±"),
     "9:27: a number is missing after the sign; write it like '± 0.002'"),
    ("tolerance-measure", dims("body diameter: 1/2 ± 5 min"),
     "9:28: the tolerance is not of the same sort as the length; write it in the unit of the size"),
    ("limits-order", dims("body diameter: 1/2 -0.001 +0"),
     "9:26: '-0.001 +0' has its lower limit first; write '+0 -0.001'"),
    ("limit-below-nothing", dims("body diameter: 1/2 ± 1/2"),
     "9:22: at its lower limit the diameter comes to nothing or less; check the tolerance and its unit"),
    ("value-unreadable", dims("body diameter: 1/2, 3/4"),
     "9:25: a comma has no place in a value; write one size"),
    ("value-unreadable", dims("body diameter: equal to body length"),
     "9:22: 'equal to body length' is not a number; write a size, or 'same as PHRASE', 'half of PHRASE', "
     "'twice PHRASE'"),
    ("value-unreadable", dims("body diameter: mm 5"),
     "9:22: 'mm 5' is not a number; write the unit behind the number"),
    ("size-not-positive", dims("body left to right end: 1/4 - 1/2"),
     "9:31: the distance comes to less than nothing; a size is more than nothing; check it"),
    ("size-not-positive", dims("body diameter: 0"),
     "9:22: the diameter comes to nothing; a size is more than nothing; check it"),
    ("phrase-unreadable", dims("body to right end: 1"),
     "9:12: nothing is said of 'body' before 'to'; write a point of it, like 'body left' or 'body right'"),
    ("limit-sign", dims("body diameter: 1/2 +0.001 0"),
     "9:33: '0' has no sign; write '-0' or '+0'"),
    ("limit-blank", dims("body diameter: 1/2 +0.001 - 0.001"),
     "9:33: '-' stands apart from its number; set each limit's sign against its number, like '+0.002 -0'"),
    ("single-limit", dims("body diameter: 1/2 +0.001"),
     "9:26: '+0.001' is a single limit; write '+0.001 -0' or '+0 -0.001' for limits, '+ 0.001' "
     "with blanks on both sides of the sign for a sum"),
    ("class-unknown", dims("body diameter: 1/2 q7"),
     "9:26: 'q7' is not a tolerance class; write one like 'h7' or 'H7'"),
    ("class-on-angle", out("- cone: nose", after="    dimensions:\n      nose included angle: 30 deg h7\n"),
     "9:28: 'h7' is for lengths and diameters; write the tolerance like '± 0.5 deg'"),
    ("radius-sign", dims("body diameter: R 1/4"),
     "9:22: 'R' gives a radius, but the phrase asks for a diameter; write the size without 'R', "
     "or the phrase with 'radius'"),
    ("diameter-sign", dims("body length: ∅ 1/4"),
     "9:20: '∅' gives a diameter, but the phrase asks for a length; write the size without the "
     "sign, or the phrase with 'diameter'"),
    ("bracket-open", dims("body length: (1/4"),
     "9:24: the bracket is not closed; write ')' at the end"),
    ("follow-measure", out("- cone: nose", after="    dimensions:\n      nose taper: same as nose length\n"),
     "9:19: the taper cannot follow the length; follow a taper"),
    ("suit-needs-part", dims("body diameter: to suit body length - 0.002"),
     "9:30: 'to suit' needs the part it suits; add 'of PART' after the phrase"),
    ("seats-missing", asm("dimensions: {body left of pin to knob right of cap: 2}"),
     "10:3: the assembly 'both' does not say how its parts sit; add 'seats:' with 'POINT of PART on POINT of PART'"),
    ("seat-unreadable", asm("seats: [knob left of cap]"),
     "11:29: 'knob left of cap' does not say what it sits on; write 'POINT of PART on POINT of PART'"),
    ("as-made-value", HEAD + PIN + "as made: {pin: {body diameter: 0.1558 ± 0.001}}\n",
     "8:32: a size as made is one measured number; write it alone, without tolerance"),
    ("copy-unknown", HEAD + PIN + "as made: {pin 2: {body diameter: 0.1558}}\n",
     "8:11: there is no copy 2 of 'pin'; copies run from 1 to 1"),
]


@pytest.mark.parametrize(("fault_id", "text", "line"), CASES, ids=[f"{c[0]}-{n}" for n, c in enumerate(CASES)])
def test_one_fault_and_its_whole_line(fault_id: str, text: str | bytes, line: str) -> None:
    job, faults = read_job(text if isinstance(text, bytes) else text.encode(), "j.yaml")
    assert job is None
    assert [f.line() for f in faults] == ["j.yaml:" + line]
    assert faults[0].id == fault_id


def test_a_file_too_large_is_not_read() -> None:
    job, faults = read_job(b"#" * 5_000_001, "j.yaml")
    assert job is None
    assert [f.line() for f in faults] == [
        "j.yaml:1:1: the file is 5000001 bytes long, more than 5000000; split the job over several files"]


def test_a_saying_without_a_colon() -> None:
    job, faults = read_one_feature("cone", ["left diameter 3/4"], Unit.INCH)
    assert job is None
    assert [f.line() for f in faults] == [
        "ask:1:1: 'left diameter 3/4' is not 'PHRASE: VALUE'; write it like 'left diameter: 3/4'"]


def test_a_question_has_its_place_in_the_question() -> None:
    job, faults = read_job(dims("body diameter: 1/2").encode(), "j.yaml")
    assert job is not None
    assert faults == ()
    assert read_question("bdy left to body right", job, None).line() == (
        "--ask:1:1: there is no feature 'bdy' here; did you mean 'body'?")
    assert read_question("body left to body rigth", job, "pin").line() == (
        "--ask:1:19: 'rigth' is not a size or point; did you mean 'right'?")


def test_every_fault_in_one_go_in_the_order_of_the_file() -> None:
    text = dims("body diameter: 25,4", "body lenght: 1", "body length: 1/2 +- 0.001", "overall length: 1/0")
    text = text.replace("units: inch", "units: furlong")
    job, faults = read_job(text.encode(), "j.yaml")
    assert job is None
    assert [(f.id, f.span.line, f.span.column) for f in faults] == [
        ("units-unknown", 3, 8), ("decimal-comma", 9, 22), ("phrase-unreadable", 10, 12), ("plus-minus", 11, 24),
        ("fraction-by-zero", 12, 23)]
    assert {f.part for f in faults[1:]} == {"pin"}
    assert faults[1].phrases == ("body diameter",)


AFTER_READING = re.compile(r"ask|onefeature|questions|edit\w*|splice\w*|written")
"""Modules of questions and edits, which have their own tests of their faults."""


def ids_in_the_code(of_reading_alone: bool) -> set[str]:
    """What the package's source can emit: the first text given to a fault, and the two that are put together."""
    modules = [p for p in Path(handwheel.job.__file__).parent.glob("*.py")
               if not of_reading_alone or not AFTER_READING.fullmatch(p.stem)]
    assert len(modules) > 15
    source = "\n".join(p.read_text(encoding="utf-8") for p in modules)
    found = set(re.findall(r'(?:complaints\.add|\bWrong|\bFault)\(\s*"([a-z0-9-]+)"', source))
    found |= set(re.findall(r'Measure\.\w+: \(\s*"([a-z-]+)"', source))
    assert 'f"{word}-at-end"' in source
    return found | {"flush-at-end", "tangent-at-end"}


def test_every_fault_of_reading_has_a_case_here_and_no_other() -> None:
    assert ids_in_the_code(True) == {case[0] for case in CASES} | {"file-too-large"}


def test_every_fault_is_documented_once() -> None:
    docs = Path(__file__).parents[2] / "docs"
    text = "\n".join(p.read_text(encoding="utf-8") for p in docs.glob("faults*.md"))
    documented = re.findall(r"^\*\*`([a-z0-9-]+)`\*\* \S.{20,}$|^`([a-z0-9-]+)`$", text, re.MULTILINE)
    names = [one or other for one, other in documented]
    assert ids_in_the_code(False) - set(names) == set()
    own = re.findall(r"^\*\*`([a-z0-9-]+)`", (docs / "faults.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert len(own) == len(set(own))
