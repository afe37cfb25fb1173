"""Names changed everywhere they are meant and nowhere else.

The jobs are written twice from one pattern, with the old name and with the new one, so that what is expected is there
byte for byte; and over the examples the records read back are those of the old job, walked and renamed here.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from handwheel.base.faults import Span
from handwheel.job.editnames import RenameAssembly, RenameFeature, RenamePart
from handwheel.job.edits import said
from handwheel.job.read import read_job
from handwheel.job.records import Job
from tests.job.test_splice_sizes import SOURCES, changed, told
from tests.job.ugly import ugly

PATTERN = """handwheel: 1
job: the hub, the lever and the pair
units: mm
parts:
  PART:
    quantity: 2
    material: hub brass
    note: hub diameter of lever, see the pair
    outside:
      - {cylinder: NAME, length: 10}
      - {cylinder: collar, diameter: same as NAME diameter + 2, length: same as NAME left to NAME right}
      - {cone: hub-2, right diameter: 3}
      - {groove: clip, in: NAME, width: 1, depth: 0.5}
      - {chamfer: tip, size: 0.5 x 45 deg}
    inside:
      from left:
        - {hole: eye, diameter: half of NAME diameter, depth: 4}
    across:
      - {hole: oil, on: NAME, at: NAME middle + 1 mm, into: eye, diameter: 1}
      - {flat: key, on: NAME, square to: oil, from axis: 4}
    dimensions:
      NAME diameter: 12
      collar left to right end: (3)
      NAME right to hub-2 right: 20
      hub-2 left diameter: 3
    route:
      - {hold: collet on NAME, to tailstock: right, out: 3 mm}
      - support: centre
      - face: right end
      - turn: NAME
      - {hold: three-jaw on stock, to tailstock: left}
      - drill: eye
  hub:
    like: PART
    quantity: 3
    dimensions:
      NAME diameter: 14
      NAME left to clip left: 2
  lever arm:
    outside:
      - {cylinder: hub, diameter: same as NAME diameter of PART}
      - {ball: lever, flat: left}
    dimensions:
      hub length: same as NAME left to collar left of PART
      lever diameter: to suit NAME diameter of hub - 0.1
      lever left diameter: twice NAME left of PART to NAME right of PART + 1 mm
      hub left to lever centre: 9
  third:
    like: lever arm
assemblies:
  PAIR:
    seats:
      - hub left of lever arm on NAME right of PART
      - NAME left of hub on hub right of lever arm
    dimensions:
      NAME left of PART to hub right of lever arm: 40
      NAME left to collar left of hub: 10
  hub:
    seats: [NAME left of PART on lever centre of third]
as made:
  PART 2: {NAME diameter: 12.01, NAME left to clip left: 2}
  lever arm: {hub diameter: 12}
  hub 3: {NAME diameter: 14}
"""
"""NAME is a feature of PART and of the part made like it; hub and lever are many other things as well."""


def pattern(seed: int | None) -> str:
    return (PATTERN.encode() if seed is None else ugly(PATTERN.encode(), seed)).decode()


def named(text: str, name: str = "hub", part: str = "lever", pair: str = "pair") -> bytes:
    return text.replace("NAME", name).replace("PART", part).replace("PAIR", pair).encode()


SEEDS = [None, *range(500, 530)]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_feature_is_renamed_where_it_is_meant(seed: int | None) -> None:
    text = pattern(seed)
    for part in ("lever", "hub"):
        new = changed(named(text), RenameFeature(said(part), said("hub"), said("boss-é2")))
        assert new.decode() == named(text, name="boss-é2").decode()
    assert changed(new, RenameFeature(said("lever"), said("boss-é2"), said("hub"))) == named(text)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_part_and_an_assembly_are_renamed_where_they_are_meant(seed: int | None) -> None:
    text = pattern(seed)
    new = changed(named(text), RenamePart(said("lever"), said("long hub pair")))
    assert new == named(text, part="long hub pair")
    assert changed(new, RenameAssembly(said("pair"), said("lever"))) == named(text, part="long hub pair", pair="lever")


def test_meets_and_points_of_another_part_are_named_too() -> None:
    text = """handwheel: 1
job: J
units: mm
parts:
  a:
    outside: [{cone: NAME, diameter at NAME left + 1 mm: 9}, {cone: x}, {ball: y}]
    across: [{hole: o, on: NAME, at: NAME meets x, diameter: 1}]
    dimensions:
      x meets NAME to NAME apex: 3
      'NAME meets x - 2 mm to right end': same as  NAME  meets   x  of a  to  x right of  a + 1
      x left diameter: (same as NAME right diameter of a)
"""
    assert changed(named(text), RenameFeature(said("a"), said("hub"), said("of-it"))) == named(text, "of-it")


def walked(record: Any, own: str, parts: set[str], old: str, new: str) -> Any:
    """A record as plain data, a feature of those parts renamed; phrases and points by the part they are of."""
    if isinstance(record, Span):
        return None
    if isinstance(record, (tuple, list)):
        return [walked(one, own, parts, old, new) for one in record]
    if not is_dataclass(record):
        return record
    values = {f.name: getattr(record, f.name) for f in fields(record)}
    kind = type(record).__name__
    own = values["name"] if kind == "Part" else "" if kind in ("Assembly", "Seat") else own
    own = values["part"] if kind == "AsMade" else own
    home = (values.get("part") or own) if kind in ("Phrase", "Point") else own
    names = {"Phrase": ("feature",), "Point": ("feature", "meets"), "CutIn": ("name", "host"),
             "AcrossFeature": ("name", "on", "into", "square_to"), "OutsideFeature": ("name",), "InsideFeature": ("name",),
             "RouteStep": ("what", "surface")}
    for key in names.get(kind, ()):
        if values[key] == old and home in parts:
            values[key] = new
    if kind in ("Phrase", "DrawnValue"):
        del values["text"]
    if kind == "Job":
        del values["notices"]
    return {key: walked(value, own, parts, old, new) for key, value in values.items()} | {"is": kind}


def job_of(data: bytes) -> Job:
    job, faults = read_job(data, "j.yaml")
    assert job is not None, faults
    return job


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("source", SOURCES)
def test_every_feature_of_the_examples_reads_back_renamed(source: str, seed: int) -> None:
    data = ugly(SOURCES[source], 600 + seed) if seed else SOURCES[source]
    job = job_of(data)
    alike = {"tapping-stand": ("lever", "short lever", "lever knob", "short lever knob", "lock lever", "short lock lever")}
    for part in job.parts:
        features = [*part.outside, *part.inside_left, *part.inside_right, *part.cut_in, *part.across]
        for name in [feature.name for feature in features]:
            family = {part.name} | {
                other for other in (p.name for p in job.parts)
                if other == f"short {part.name}" or part.name == f"short {other}"}
            if source == "tapping-stand":
                assert family <= {*alike["tapping-stand"], "feed arm", "arm collar"}
            new = changed(data, RenameFeature(said(part.name), said(name), said("renamed-9")))
            assert walked(job_of(new), "", set(), "", "") == walked(job, "", family, name, "renamed-9")
            assert len(new.split(b"\n")) == len(data.split(b"\n"))


@pytest.mark.parametrize(("edit", "line"), [
    (RenameFeature(said("lever"), said("hub"), said("tenon")),
     "change:1:1: 'lever' has a feature 'tenon' already; choose another name"),
    (RenameFeature(said("lever"), said("hob"), said("boss")),
     "change:1:1: there is no feature 'hob' in 'lever'; did you mean 'hub'?"),
    (RenameFeature(said("lever"), said("hub"), said("big hub")),
     "change:1:1: 'big hub' cannot be a feature's name; letters, digits, hyphens, a letter first: 'big-hub'"),
    (RenameFeature(said("lever"), said("hub"), said("Left")),
     "change:1:1: 'left' is a word of the phrases, so no feature's name; choose another name"),
    (RenameFeature(said("leve"), said("hub"), said("boss")),
     "change:1:1: there is no part 'leve'; did you mean 'lever'?"),
    (RenamePart(said("lever"), said("knob")), "change:1:1: there is a part 'knob' already; choose another name"),
    (RenamePart(said("lever"), said("lever of 2")),
     "change:1:1: 'of' is a word of the phrases, so no part's name; choose another name"),
    (RenameAssembly(said("clamp"), said("clasp")),
     "change:1:1: there is no assembly 'clamp'; did you mean 'clamp lever'?"),
])  # fmt: skip
def test_what_is_wrong_with_a_new_name(edit: Any, line: str) -> None:
    assert told(SOURCES["clamp-lever"], edit) == [line]


def test_a_name_that_would_be_met_elsewhere_is_refused() -> None:
    """The part made like it has a feature of the new name that the old name's size would then be taken over for."""
    data = b"""handwheel: 1
job: J
units: mm
parts:
  a: {outside: [{cylinder: x}, {cylinder: z}], dimensions: {x diameter: 5}}
  b: {like: a, outside: [{cylinder: y}]}
"""
    assert told(data, RenameFeature(said("a"), said("x"), said("y"))) == [
        "change:1:1: it would change more of the job than it says; write it into the file by hand"]
    made = data.replace(b"  b:", b"  b: {like: a}\n  c:") + b"as made: {b: {x diameter: 5}}\n"
    held = data.replace(b"x diameter: 5}", b"x diameter: 5}, route: [{hold: collet on x, to tailstock: left}, turn: x]")
    assert changed(held, RenameFeature(said("a"), said("x"), said("w"))) == (
        held.replace(b"r: x", b"r: w").replace(b"{x dia", b"{w dia").replace(b"on x", b"on w").replace(b"turn: x", b"turn: w"))
    assert told(held, RenameFeature(said("a"), said("x"), said("stock"))) == [
        "change:1:1: it would change more of the job than it says; write it into the file by hand"]
    assert told(made, RenamePart(said("b"), said("a 1"))) == [
        "change:1:1: it would change more of the job than it says; write it into the file by hand"]
    assert changed(made, RenamePart(said("b"), said("d"))) == made.replace(b" b:", b" d:").replace(b"{b:", b"{d:")
