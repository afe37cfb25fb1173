"""`size --ask` as JSON and as text: every figure under a key with its unit, every line within 80 columns."""

import json
from math import atan, degrees, pi

import pytest

from handwheel.cli.main import main

STUD = """handwheel: 1
job: stud
units: mm
general tolerance: ± 0.1
parts:
  stud:
    material: cast iron
    outside:
      - cylinder: a-body-with-rather-a-long-name
      - cone: nose
    dimensions:
      a-body-with-rather-a-long-name diameter: 20
      a-body-with-rather-a-long-name length: 30
      nose left diameter: 16
      nose right diameter: 8 ± 0
      nose length: 20
  ring:
    outside:
      - cylinder: rim
    dimensions:
      rim diameter: 40
"""
BODY = "a-body-with-rather-a-long-name"
QUESTIONS = (
    "volume of stud", "mass of stud", "section at nose left of stud", "nose included angle of stud",
    "nose taper of stud", f"nose left diameter of stud - {BODY} diameter of stud",
    f"{BODY} length of stud so that overall length of stud is 60", "rim diameter of ring",
)  # fmt: skip


@pytest.fixture
def told(tmp_path, capsys, monkeypatch):
    path = tmp_path / "stud.yaml"
    path.write_text(STUD, encoding="utf-8")
    monkeypatch.chdir(tmp_path)

    def command(*words: str):
        asks = [word for question in words for word in (("--ask", question) if " " in question else (question,))]
        status = main(["size", "stud.yaml", *asks])
        out, err = capsys.readouterr()
        return status, out, err

    return command


def test_json_has_each_unit_in_its_key(told):
    status, out, _ = told(*QUESTIONS, "--json")
    whole = json.loads(out)
    assert status == 2  # the ring lacks its length, yet everything asked has an answer
    assert whole["state"] == "under-dimensioned"
    volume, mass, left, right, angle, taper, step, sought, rim = whole["answers"]
    solid = pi * (100 * 30 + 20 / 3 * (64 + 32 + 16))
    assert volume["value_mm3"] == pytest.approx(solid, rel=1e-9)
    # EN 1991-1-1: cast iron 71.0 to 72.5 kN/m3
    assert mass["value_g"] == pytest.approx(solid * 71.75e-3 / 9.80665, rel=1e-4)
    assert (left["side"], right["side"]) == ("left", "right")
    assert (left["value_mm2"], right["value_mm2"]) == pytest.approx((100 * pi, 64 * pi), rel=1e-9)
    assert [d["ask"] for d in right["details"]] == ["outside diameter"]
    assert right["details"][0]["value_mm"] == pytest.approx(16)
    assert angle["value_deg"] == pytest.approx(2 * degrees(atan(0.2)), abs=1e-8)
    assert {"low_deg", "high_deg", "statistical_low_deg", "statistical_high_deg"} <= set(angle)
    assert taper["value_ratio"] == pytest.approx(0.4, abs=1e-9)
    assert step["value_mm"] == pytest.approx(-4, abs=1e-9)
    assert {(c["part"], c["phrase"]) for c in step["contributors"]} == {
        ("stud", "nose left diameter"), ("stud", f"{BODY} diameter")}  # fmt: skip
    assert [c["share_mm"] for c in step["contributors"]] == pytest.approx([0.2, 0.2])
    assert sought["value_mm"] == pytest.approx(40, abs=1e-8)
    assert sought["present_mm"] == pytest.approx(30)
    assert sought["details"][0]["value_mm"] == pytest.approx(60, abs=1e-8)
    assert rim["value_mm"] == 40
    assert rim["notes"] == ["its part lacks dimensions, but this size does not hang on what is loose"]
    assert {c["phrase"]: c["share_deg"] for c in angle["contributors"]}.keys() == {"nose left diameter", "nose length"}


def test_the_text_keeps_within_eighty_columns(told):
    status, out, _ = told(*QUESTIONS)
    lines = out.splitlines()
    assert status == 2
    assert all(len(line) <= 80 for line in lines), [line for line in lines if len(line) > 80]
    assert lines.index("section at nose left of stud, on the left of the step") > 0
    rows = [line.split() for line in lines]
    assert ["nominal", "-4.000", "mm", "-0.1575", "in"] in rows
    assert ["now", "30.000", "mm", "1.1811", "in"] in rows
    assert lines[-1] == "Limits that result are what the drawing allows, not limits to cut to."


def test_one_question_without_an_answer_leaves_the_others(told):
    status, out, err = told("volume of ring", "nose left diameter of stud", "section at left end + 90 mm of stud", "--json")
    assert status == 2
    assert [a["ask"] for a in json.loads(out)["answers"]] == ["nose left diameter of stud"]
    unanswered = [line for line in err.splitlines() if line.startswith("--ask:1:1: ")]
    assert len(unanswered) == 2
    assert "'volume of ring' has no answer" in unanswered[0]
    assert "rim" in unanswered[0]
    assert "lies off the metal: it is 90 mm from the left end" in unanswered[1]


def test_a_question_that_names_the_part_of_one_term_only(told):
    status, _, err = told("nose left diameter of stud - overall length")
    assert status == 2
    assert "says of one point only" in err
