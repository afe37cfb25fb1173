"""Sizes as made: planted stories, every expected figure worked out by hand from the drawing's numbers."""

from __future__ import annotations

import math

import pytest

from handwheel.drawing.asmade import with_as_made
from handwheel.drawing.asmaderecords import AsMadeOutcome, Moved, Out, WayOn
from handwheel.drawing.records import Drawing
from tests.drawing.jobs import sized

LEVER = """handwheel: 1
job: Lever and knob
units: mm
general tolerance: ± 0.1
parts:
  lever:
    quantity: 3
    outside:
      - cylinder: hub
      - cylinder: shank
      - cylinder: tenon
    dimensions:
      hub diameter: 20
      hub length: 10 ± 0.05
      shank diameter: 12
      shank length: 30 ± 0.05
      tenon diameter: 6 +0 -0.012
      tenon length: 8 ± 0.2
  knob:
    quantity: 3
    outside:
      - cylinder: grip
    inside:
      from left:
        - hole: socket
    dimensions:
      grip diameter: 20
      grip length: 15 ± 0.1
      socket diameter: to suit tenon diameter of lever + 0.02 ± 0.005
      socket depth: 8.5
assemblies:
  both:
    seats:
      - grip left of knob on shank right of lever
    dimensions:
      hub left of lever to grip right of knob: (55)
as made:
"""
TIED = LEVER.replace("      shank length: 30 ± 0.05\n", "").replace("(55)", "55 ± 0.15")


def made(text: str, *lines: str) -> Drawing:
    return with_as_made(sized(text + "".join(f"  {line}\n" for line in lines)))


def only(drawing: Drawing) -> AsMadeOutcome:
    assert len(drawing.as_made) == 1
    assert not drawing.as_made[0].cannot
    return drawing.as_made[0]


def moved(outcome: AsMadeOutcome, phrase: str, part: str) -> Moved:
    return next(m for m in outcome.moved if (m.size.phrase, m.size.part) == (phrase, part))


def out(outcome: AsMadeOutcome, phrase: str) -> Out:
    return next(o for o in outcome.out if o.size.phrase == phrase)


def way(trouble: Out, phrase: str) -> WayOn:
    return next(w for w in trouble.ways if w.size.phrase == phrase)


def test_a_tenon_turned_small_is_suited_by_the_socket_of_the_same_copy() -> None:
    found = only(made(LEVER, "lever 2: {tenon diameter: 5.975}"))
    assert found.copies == (("lever", ((2, 2),)), ("knob", ((2, 2),)))
    assert [m.size.phrase for m in found.moved] == ["socket diameter"]
    socket = moved(found, "socket diameter", "knob")
    assert (socket.size.value, socket.old) == pytest.approx((5.995, 6.02), abs=1e-9)
    assert (socket.size.low, socket.size.high) == pytest.approx((5.990, 6.000), abs=1e-9)
    assert socket.why == ("tenon diameter of lever",)
    trouble = out(found, "tenon diameter")
    assert trouble.is_measured
    assert trouble.size.beyond == pytest.approx(5.988 - 5.975, abs=1e-9)
    assert trouble.size.is_under
    assert not found.measured[0].may_be_cut


def test_a_tenon_left_big_still_has_its_metal() -> None:
    found = only(made(LEVER, "lever 2: {tenon diameter: 6.03}"))
    assert found.measured[0].may_be_cut
    assert out(found, "tenon diameter").size.beyond == pytest.approx(0.03, abs=1e-9)


def test_a_size_inside_its_limits_is_no_trouble() -> None:
    found = only(made(LEVER, "lever 1: {hub length: 10.04}"))
    assert found.out == ()
    assert moved(found, "overall length", "lever").size.value == pytest.approx(48.04, abs=1e-9)
    assert moved(found, "hub left of lever to grip right of knob", "").size.value == pytest.approx(55.04, abs=1e-9)


def test_a_shoulder_faced_short_may_be_taken_up_by_the_mate() -> None:
    # 9.6 for 10 ± 0.05: over both 54.6, the drawing allows 55 ± (0.05 + 0.05 + 0.1) = 54.8 at least
    found = only(made(LEVER, "lever 2: {hub length: 9.6}"))
    over = out(found, "hub left of lever to grip right of knob")
    assert over.size.value == pytest.approx(54.6, abs=1e-9)
    assert over.size.beyond == pytest.approx(0.2, abs=1e-9)
    grip = way(over, "grip length")  # 15.2 brings it to 54.8; it may be 15.1 at most
    assert grip.size.value == pytest.approx(15.2, abs=1e-6)
    assert grip.size.beyond == pytest.approx(0.1, abs=1e-6)
    shank = way(over, "shank length")
    assert shank.size.value == pytest.approx(30.2, abs=1e-6)
    assert shank.size.beyond == pytest.approx(0.15, abs=1e-6)
    # overall 47.6, at least 48 - 0.3 = 47.7: the tenon, 8 ± 0.2, may be 8.2 and bring it to 47.8
    whole = out(found, "overall length")
    assert whole.size.beyond == pytest.approx(0.1, abs=1e-9)
    tenon = way(whole, "tenon length")
    assert tenon.size.beyond == 0.0
    assert tenon.size.value == pytest.approx(8.2, abs=1e-6)
    assert [w.size.beyond for w in whole.ways] == sorted(w.size.beyond for w in whole.ways)


def test_a_length_over_the_assembly_is_taken_up_by_what_is_worked_out() -> None:
    # the shank is what is left of 55: a hub 0.04 short makes it 0.04 longer, nothing is out
    found = only(made(TIED, "lever 2: {hub length: 9.96}"))
    shank = moved(found, "shank length", "lever")
    assert (shank.size.value, shank.old) == pytest.approx((30.04, 30.0), abs=1e-9)
    assert not shank.is_drawn
    assert found.out == ()
    # a grip 0.2 long does the same the other way, from the mate
    found = only(made(TIED, "knob 3: {grip length: 15.2}"))
    shank = moved(found, "shank length", "lever")
    assert shank.size.value == pytest.approx(29.8, abs=1e-9)
    assert shank.why == ("grip length of knob",)
    assert out(found, "grip length").size.beyond == pytest.approx(0.1, abs=1e-9)


def test_a_size_that_follows_is_taken_up_evenly_by_those_it_follows_from() -> None:
    # hub and shank, 10 and 30 ± 0.05 each, measured 40.06 together: each gives the same share of its tolerance
    found = only(made(LEVER, "lever 2: {hub left to shank right: 40.06}"))
    for phrase, size in (("hub length", 10.03), ("shank length", 30.03)):
        assert moved(found, phrase, "lever").size.value == pytest.approx(size, abs=1e-9)
        assert moved(found, phrase, "lever").takes_up
    assert found.out == ()
    # with the hub known the shank takes the whole of it
    found = only(made(LEVER, "lever 2: {hub left to shank right: 40.04, hub length: 10.05}"))
    assert moved(found, "shank length", "lever").size.value == pytest.approx(29.99, abs=1e-9)
    # 40.2 is beyond both: 0.1 each, 0.05 beyond
    found = only(made(LEVER, "lever 2: {hub left to shank right: 40.2}"))
    assert out(found, "hub length").size.beyond == pytest.approx(0.05, abs=1e-9)
    assert out(found, "shank length").size.beyond == pytest.approx(0.05, abs=1e-9)


def test_uneven_tolerances_give_way_in_proportion() -> None:
    # hub 10 ± 0.05 and tenon 8 ± 0.2 and shank 30 ± 0.05: 48.15 is 0.5 of the 0.3 they have together
    found = only(made(LEVER, "lever 2: {overall length: 48.15}"))
    for phrase, size in (("hub length", 10.025), ("shank length", 30.025), ("tenon length", 8.1)):
        assert moved(found, phrase, "lever").size.value == pytest.approx(size, abs=1e-9)


def test_what_is_not_of_the_part_gives_way_only_after_its_own_dimensions() -> None:
    # nothing of the lever fixes its shank: knob ± 0.1 and assembly ± 0.15 share 0.1 as 0.04 and 0.06
    found = only(made(TIED, "lever 2: {hub length: 10.0, shank length: 30.1}"))
    assert moved(found, "grip length", "knob").size.value == pytest.approx(14.96, abs=1e-9)
    assert moved(found, "hub left of lever to grip right of knob", "").size.value == pytest.approx(55.06, abs=1e-9)
    # with the grip made as well the assembly's dimension is what it comes to: 55.1
    found = only(made(TIED, "lever 2: {hub length: 10.0, shank length: 30.2}", "knob 2: {grip length: 15.0}"))
    whole = out(found, "hub left of lever to grip right of knob")
    assert whole.size.value == pytest.approx(55.2, abs=1e-9)
    assert whole.size.beyond == pytest.approx(0.05, abs=1e-9)
    assert whole.ways == ()


def test_sizes_that_disagree_are_said_and_not_used() -> None:
    found = made(LEVER, "lever 2: {hub length: 10.00, shank length: 30.00, hub left to shank right: 40.03}")
    (one,) = found.as_made
    assert len(one.unused) == 1
    assert "0.0300 mm more" in one.unused[0]
    assert [n.id for n in found.notices] == ["as-made-disagrees"]
    assert one.moved == ()


def test_typing_alone_is_no_disagreement() -> None:
    found = made(LEVER, "lever 2: {hub length: 10.004, shank length: 30.00, hub left to shank right: 40.00}")
    assert found.as_made[0].unused == ()


def test_copies_go_together_by_number_and_a_part_made_once_with_all() -> None:
    both = made(LEVER, "lever 1: {hub length: 10.01}", "knob 1: {grip length: 15.01}", "knob 3: {grip length: 15.02}")
    assert [dict(o.copies) for o in both.as_made] == [
        {"lever": ((1, 1),), "knob": ((1, 1),)}, {"lever": ((3, 3),), "knob": ((3, 3),)}
    ]  # fmt: skip
    assert moved(both.as_made[0], "hub left of lever to grip right of knob", "").size.value == pytest.approx(55.02)
    once = LEVER.replace("quantity: 3\n    outside:\n      - cylinder: hub", "outside:\n      - cylinder: hub")
    found = made(once, "lever: {tenon diameter: 5.99}", "knob 2: {grip length: 15.01}")
    assert [dict(o.copies) for o in found.as_made] == [
        {"lever": ((1, 1),), "knob": ((2, 2),)}, {"lever": ((1, 1),), "knob": ((1, 1), (3, 3))}
    ]  # fmt: skip
    for outcome in found.as_made:
        assert moved(outcome, "socket diameter", "knob").size.value == pytest.approx(6.01, abs=1e-9)


def test_a_tied_size_moves_with_the_one_it_follows_and_not_the_other_way() -> None:
    tied = LEVER.replace("      grip diameter: 20\n", "      grip diameter: same as shank diameter of lever\n")
    found = only(made(tied, "lever 2: {shank diameter: 11.95}"))
    assert moved(found, "grip diameter", "knob").size.value == pytest.approx(11.95, abs=1e-9)
    assert moved(found, "grip diameter", "knob").size.beyond == 0.0
    found = only(made(tied, "knob 2: {grip diameter: 11.95}"))
    assert not [m for m in found.moved if m.size.part == "lever"]


def test_a_socket_made_first_is_held_against_the_mate_as_it_is() -> None:
    # to suit 6.000 + 0.02 ± 0.005; lever 2 measured 5.990: 6.005 to 6.015 wanted, 6.02 is 0.005 over
    found = only(made(LEVER, "lever 2: {tenon diameter: 5.99}", "knob 2: {socket diameter: 6.02}"))
    assert out(found, "socket diameter").size.beyond == pytest.approx(0.005, abs=1e-9)


@pytest.mark.parametrize("place", ["      hub diameter", "      tenon diameter"])
def test_over_dimensioned_drawings_too(place: str) -> None:
    # overall 48 repeats 10 + 30 + 8. A hub of 9.9 leaves 0.1 for shank ± 0.05, tenon ± 0.2 and overall ± 0.05 to share:
    # a third of each
    repeat = LEVER.replace(place, "      overall length: 48 ± 0.05\n" + place)
    found = only(made(repeat, "lever 2: {hub length: 9.9}"))
    for phrase, size in (("overall length", 48 - 0.05 / 3), ("shank length", 30 + 0.05 / 3), ("tenon length", 8 + 0.2 / 3)):
        assert moved(found, phrase, "lever").size.value == pytest.approx(size, abs=1e-9)
        assert moved(found, phrase, "lever").is_drawn
    assert [o.size.phrase for o in found.out if o.is_drawn] == ["hub length"]


TAPER = """handwheel: 1
job: Plug
units: mm
general tolerance: ± 0.1
parts:
  plug:
    outside:
      - cone: nose
      - cylinder: body
    dimensions:
      nose right diameter: 20 ± 0.05
      nose taper: 1 in 20
      nose length: 40 ± 0.5
      body diameter: 25
      body length: 10
as made:
"""


def test_through_a_taper() -> None:
    # left diameter 20 - 40/20 = 18; measured 18.04. dD = dR - dL/20: R ± 0.05 counts 0.05, L ± 0.5 counts 0.025;
    # each gives 0.04 / 0.075 of its tolerance
    found = only(made(TAPER, "plug: {nose left diameter: 18.04}"))
    share = 0.04 / 0.075
    assert moved(found, "nose right diameter", "plug").size.value == pytest.approx(20 + 0.05 * share, abs=1e-7)
    assert moved(found, "nose length", "plug").size.value == pytest.approx(40 - 0.5 * share, abs=1e-7)


BALL = """handwheel: 1
job: Ball
units: mm
general tolerance: ± 0.1
parts:
  arm:
    outside:
      - ball: hub
      - cylinder: shank
    dimensions:
      hub diameter: 16 ± 0.2
      shank diameter: 8 ± 0.1
      hub centre to shank right: 40
as made:
"""


def test_through_a_ball() -> None:
    found = only(made(BALL, "arm: {hub diameter: 15.9, shank diameter: 8.04}"))
    meeting = math.sqrt(7.95**2 - 4.02**2)
    assert moved(found, "shank length", "arm").size.value == pytest.approx(40 - meeting, abs=1e-8)
    assert moved(found, "overall length", "arm").size.value == pytest.approx(40 + 7.95, abs=1e-8)


def test_of_two_shapes_the_one_near_the_drawing() -> None:
    # measured at the rounded edge the stem could as well be 4 mm thicker there; it was drawn 10, so it is 9.85
    text = """handwheel: 1
job: Edge
units: mm
general tolerance: ± 0.1
parts:
  stem:
    outside:
      - cylinder: collar
      - cylinder: shaft
      - {round: nose, size: R 2 mm}
    dimensions:
      collar diameter: 20
      collar length: 8
      shaft diameter: 10
      overall length: 75
as made:
"""
    found = only(made(text, "stem: {nose left diameter: 9.85}"))
    assert moved(found, "shaft diameter", "stem").size.value == pytest.approx(9.85, abs=1e-6)
    assert moved(found, "nose right diameter", "stem").size.value == pytest.approx(5.85, abs=1e-6)
    assert [o.size.phrase for o in found.out if o.is_drawn] == ["shaft diameter"]


def test_a_shape_that_cannot_be_is_said() -> None:
    found = made(BALL, "arm: {hub diameter: 7.9}")
    assert found.as_made[0].cannot
    assert [n.id for n in found.notices] == ["as-made-impossible"]


def test_a_size_the_part_has_no_sense_for_is_a_fault() -> None:
    found = made(LEVER, "lever 2: {hub meets shank to right end: 3}")  # two cylinders never meet
    assert [f.line().split("; ")[0] for f in found.faults] == [
        "test.yaml:38:13: 'lever' has no 'hub meets shank to right end' to measure"
    ]
    assert {f.id for f in found.faults} == {"no-such-size"}
    assert found.as_made == ()
