"""Whole job files: what a good one says, `like:`, questions, a part said in one line."""

from __future__ import annotations

import re
from fractions import Fraction as F
from pathlib import Path

import pytest

from handwheel.base.faults import Fault, Span
from handwheel.job.onefeature import read_one_feature
from handwheel.job.read import read_job, read_question
from handwheel.job.records import (
    AcrossKind,
    CutInKind,
    DrawnDimension,
    DrawnStock,
    InsideKind,
    Job,
    OutsideKind,
    Part,
    Phrase,
    Side,
    Size,
    Unit,
    Where,
)

EXAMPLE = (Path(__file__).parent / "data" / "clamp-lever.yaml").read_text(encoding="utf-8")
GUIDE = (Path(__file__).parents[2] / "docs" / "job-file.md").read_text(encoding="utf-8")
GUIDE_JOBS = re.findall(r"^```yaml\n(.*?)^```", GUIDE, re.MULTILINE | re.DOTALL)
HEAD = "handwheel: 1\njob: J\nunits: mm\nparts:\n"


def good(text: str) -> Job:
    job, faults = read_job(text.encode(), "j.yaml")
    assert [f.line() for f in faults] == []
    assert job is not None
    return job


def by_phrase(part: Part) -> dict[str, DrawnDimension]:
    assert len({d.phrase.text for d in part.dimensions}) == len(part.dimensions)
    return {d.phrase.text: d for d in part.dimensions}


def test_the_clamp_lever_reads_cleanly() -> None:
    job = good(EXAMPLE)
    assert (job.name, job.units, job.workshop) == ("Tapping stand, moving parts", Unit.INCH, "my-workshop.yaml")
    assert (job.general_tolerance.plus_minus_mm, job.general_tolerance.iso2768) == (F("0.127"), "")
    lever, short, knob = job.parts
    assert (lever.quantity, lever.material, lever.stock) == (3, "free-cutting mild steel", "round 5/8")
    assert (lever.drawn_stock, lever.note) == (DrawnStock("round", F("15.875")), "drawn on sheet 3")
    assert [(f.kind.value, f.name) for f in lever.outside] == [
        ("ball", "hub"), ("cone", "shank"), ("cylinder", "tenon")]
    sizes = {text: float(d.value.number.value) for text, d in by_phrase(lever).items()}
    assert sizes == {"tenon length": 5.08, "hub diameter": 14.2875, "shank diameter at hub centre": 8.73125,
                     "shank right diameter": 6.35, "tenon diameter": 3.96875}
    assert by_phrase(lever)["tenon length"].span == Span("j.yaml", 15, 27)
    assert {t: float(d.value.number.value) for t, d in by_phrase(short).items()} == {
        **sizes, "hub diameter": 11.1125, "hub centre to shank right": 41.275}
    assert (short.quantity, short.stock, short.note) == (1, "", "")
    follow = by_phrase(knob)["grip left diameter"].value.follow
    assert follow is not None
    assert (follow.phrase.size, follow.phrase.feature, follow.phrase.part) == (Size.RIGHT_DIAMETER, "shank", "lever")
    (hole,) = knob.inside_left
    assert (hole.kind, hole.name, hole.entered, hole.finish) == (InsideKind.HOLE, "socket", Side.LEFT, "reamed")
    assert knob.outside[0].flat == frozenset({Side.LEFT})
    (assembly,) = job.assemblies
    (seat,) = assembly.seats
    assert (seat.moving.feature, seat.moving.part, seat.fixed.where, seat.fixed.part) == (
        "grip", "knob", Where.RIGHT, "lever")
    assert assembly.dimensions[0].value.number.value == F("53.975")


def test_the_options_of_the_outside() -> None:
    arm = good(GUIDE_JOBS[1]).parts[0]
    kinds = {f.name: f for f in arm.outside}
    assert [f.kind for f in arm.outside][:3] == [OutsideKind.BALL, OutsideKind.CONE, OutsideKind.FILLET]
    assert kinds["shank"].narrow is Side.RIGHT
    assert kinds["spigot"].thread is not None
    assert kinds["spigot"].thread.designation == "M6"
    clip, grip = arm.cut_in
    assert (clip.kind, clip.host, clip.is_inside) == (CutInKind.GROOVE, "collar", False)
    assert (grip.kind, grip.what) == (CutInKind.KNURL, "straight 0.8 mm")
    dims = by_phrase(arm)
    assert dims["tip length"].value.number.value == F("0.5")
    assert dims["tip angle to axis"].value.number.value == 45
    assert dims["root radius"].value.number.value == 1
    assert dims["overall length"].value.auxiliary
    job = good(HEAD + "  p:\n    outside:\n"
               "      - {cylinder: a, flush: right, knurl: diamond 1 mm}\n      - {cone: b}\n"
               "      - {round: edge, size: R 1 mm}\n      - {ball: c, dome: yes, tangent: left}\n")
    a, _, edge, c = job.parts[0].outside
    assert (a.flush, a.knurl, edge.is_edge) == (frozenset({Side.RIGHT}), "diamond 1 mm", True)
    assert (c.is_dome, c.tangent) == (True, frozenset({Side.LEFT}))
    assert job.general_tolerance.iso2768 == "m"


def test_inside_and_across() -> None:
    boss = good(GUIDE_JOBS[2]).parts[0]
    lead, pilot = boss.inside_left
    (seat,) = boss.inside_right
    assert (pilot.is_through, pilot.finish, pilot.is_flat_bottomed, pilot.point_deg) == (True, "reamed", False, 118)
    assert (lead.kind, seat.is_flat_bottomed, seat.entered) == (InsideKind.COUNTERSINK, True, Side.RIGHT)
    oil, key, ring = boss.across
    assert (oil.kind, oil.on, oil.into) == (AcrossKind.HOLE, "barrel", "pilot")
    assert oil.at is not None
    assert (oil.at.where, oil.at.feature) == (Where.MIDDLE, "barrel")
    assert key.square_to == "oil"
    assert (ring.face, ring.count, ring.first_at_deg, ring.is_through) == (Side.LEFT, 6, 30, True)
    assert by_phrase(boss)["ring pitch circle diameter"].value.number.value == 46


LIKE = HEAD + """  last: {like: mid, dimensions: {body length: 9}}
  first:
    material: brass
    quantity: 4
    outside:
      - {cylinder: body, diameter: 10}
      - cone: nose
    dimensions:
      body length: 5
      nose right diameter: 3
      overall length: 20
  mid:
    like: first
    outside: [{cylinder: body, diameter: 8}]
    dimensions: {right end to left end: 7}
"""


def test_like_takes_what_is_not_written_here() -> None:
    last, first, mid = good(LIKE).parts
    assert [f.name for f in mid.outside] == ["body"]
    sizes = {t: d.value.number.value for t, d in by_phrase(mid).items()}
    assert sizes == {"body length": 5, "overall length": 20, "body diameter": 8, "right end to left end": 7}
    sizes = {t: d.value.number.value for t, d in by_phrase(last).items()}
    assert sizes == {"body length": 9, "overall length": 20, "body diameter": 8, "right end to left end": 7}
    assert (last.material, last.quantity, len(first.outside)) == ("brass", 1, 2)


def test_a_distance_the_other_way_about_is_the_same_phrase_to_like() -> None:
    text = HEAD + ("  a: {outside: [{cylinder: body}], dimensions: {body left to body right: 5}}\n"
                   "  b: {like: a, dimensions: {body right to body left: 6}}\n")
    assert [d.value.number.value for d in good(text).parts[1].dimensions] == [6]


def test_two_spellings_of_one_size_are_both_kept() -> None:
    text = HEAD + ("  a: {outside: [{cylinder: body, length: 5}], dimensions: "
                   "{body left to body right: 5, body right to body left: 5, body length: 5}}\n")
    assert len(good(text).parts[0].dimensions) == 4


def test_sizes_as_made() -> None:
    made = good(GUIDE_JOBS[3]).as_made
    assert [(m.part, m.copy, m.dimension.phrase.text, m.dimension.value.number.value) for m in made] == [
        ("knob", 2, "socket diameter", F("3.9751"))]


def test_a_part_may_be_said_in_one_line() -> None:
    said = ["left diameter: 3/4", "taper: 1:20", "narrow: right", "it length: 2"]
    job, faults = read_one_feature("cone", said, Unit.INCH)
    assert faults == ()
    assert job is not None
    (part,) = job.parts
    assert [(d.phrase.size, d.phrase.feature) for d in part.dimensions] == [
        (Size.LEFT_DIAMETER, "it"), (Size.TAPER, "it"), (Size.LENGTH, "it")]
    assert part.outside[0].narrow is Side.RIGHT
    question = read_question("diameter at left + 1/4", job, None)
    assert isinstance(question, Phrase)
    assert question.at is not None
    assert (question.size, question.at.offset_mm) == (Size.DIAMETER_AT, F("6.35"))
    _, faults = read_one_feature("cone", ["left diameter: 3/4", "right diameter: 3,5", "flat: left"], Unit.INCH)
    assert [f.line() for f in faults] == [
        "ask:2:17: '3,5' has a comma in it; write '3.5'",
        "ask:3:1: 'flat' is no size and no option of a cone; known here: angle to axis, diameter at, flush, "
        "included angle, left diameter, length, narrow, right diameter, taper"]
    assert read_one_feature("kone", [], Unit.MM)[1][0].do == "did you mean 'cone'?"


def test_a_question_may_name_its_part_or_be_told_it() -> None:
    job = good(EXAMPLE)
    asked = read_question("hub left to tenon right", job, "lever")
    named = read_question("hub centre of lever to grip centre of knob", job, None)
    assert isinstance(asked, Phrase)
    assert isinstance(named, Phrase)
    assert (asked.part, asked.size, named.span) == ("", Size.DISTANCE, Span("--ask", 1, 1))
    missing = read_question("hub diameter", job, None)
    assert isinstance(missing, Fault)
    assert missing.line() == "--ask:1:13: the phrase does not say of which part; add 'of PART'"
    unknown = read_question("hub diameter", job, "levr")
    assert isinstance(unknown, Fault)
    assert unknown.do == "did you mean 'lever'?"


@pytest.mark.parametrize("number", range(len(GUIDE_JOBS)))
def test_the_guides_examples_read_cleanly(number: int) -> None:
    good(GUIDE_JOBS[number])


def test_the_guide_has_examples() -> None:
    assert len(GUIDE_JOBS) >= 4


def test_three_thousand_lines_are_read_whole() -> None:
    one = EXAMPLE[EXAMPLE.index("  lever:"):EXAMPLE.index("  short lever:")]
    many = 3000 // one.count("\n") + 1
    text = HEAD + "".join(one.replace("  lever:", f"  lever-{n}:", 1) for n in range(many))
    assert text.count("\n") >= 3000
    assert [part.name for part in good(text).parts] == [f"lever-{n}" for n in range(many)]


def test_one_fault_does_not_bring_others_with_it() -> None:
    text = HEAD + ("  a: {like: b, dimensions: {body length: 1}}\n"
                   "  c: {outside: [{cylindre: body}], dimensions: {body length: 1, body taper: 1 in 20}}\n"
                   "  d: {outside: [{cylinder: body, thread: M7.77}], dimensions: {body length: 1}}\n")
    _, faults = read_job(text.encode(), "j.yaml")
    assert [f.id for f in faults] == ["part-unknown", "kind-unknown", "thread-unknown"]


def test_a_tube_and_a_chamfer_with_the_sign_for_times() -> None:
    job = good(HEAD + "  p:\n    stock: tube 30 × 1/2 in\n"
               "    outside: [{cylinder: a}, {chamfer: b, size: 0.5 × 45°}]\n")
    part = job.parts[0]
    assert part.drawn_stock == DrawnStock("tube", F(30), F("12.7"))
    assert [(d.phrase.text, d.value.number.value) for d in part.dimensions] == [
        ("b length", F("0.5")), ("b angle to axis", F(45))]


def test_a_flat_on_a_ball_is_round_and_any_other_is_not() -> None:
    outside = "    outside: [{ball: grip, diameter: 22}, {cylinder: stem}]\n"
    for across in ("[{flat: seat, on: grip, diameter: 14}]",
                   "[{hole: eye, on: grip, diameter: 3}, {flat: seat, square to: eye, diameter: 14}]"):
        part = good(HEAD + "  p:\n" + outside + f"    across: {across}\n").parts[0]
        assert by_phrase(part)["seat diameter"].value.number.value == 14
    text = HEAD + "  p:\n" + outside + "    across: [{flat: seat, on: stem, diameter: 14}]\n"
    _, faults = read_job(text.encode(), "j.yaml")
    assert [f.line() for f in faults] == ["j.yaml:7:37: a flat has no diameter; write 'seat width'"]


def test_nothing_is_a_size_where_it_says_something() -> None:
    part = good(HEAD + "  p:\n    outside: [{cylinder: a}, {cone: tip, right diameter: 0}]\n"
                "    dimensions: {tip right to tip apex: 0}\n").parts[0]
    assert {d.value.number.value for d in part.dimensions} == {0}
