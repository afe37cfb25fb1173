"""job.json has the contract's shape; numbers that went in come out under keys that say what they are."""

import json
from dataclasses import replace

import pytest
from bench_for_readings import HUB, a_workshop, cross, operation, plan

from handwheel.base.faults import Fault, Notice, Span
from handwheel.drawing.records import Answer, Drawing, SolvedDimension, SolvedPart, State
from handwheel.job.records import Job, Measure, Unit
from handwheel.plan.records import Step
from handwheel.readings.of import readings_of
from handwheel.sheets.jobjson import job_json, size_json, unread_json
from handwheel.stages.records import CheckResult

HERE = Span("pin.yaml", 1, 1)
SIZES = (
    SolvedDimension("pin", "hub diameter", Measure.LENGTH, 14.2875, 14.2621, 14.3129, True),
    SolvedDimension("pin", "shank included angle", Measure.ANGLE, 2.5, 2.4, 2.6, False),
    SolvedDimension("pin", "shank taper", Measure.RATIO, 0.05, 0.049, 0.051, False),
)
PIN = SolvedPart("pin", HERE, 3, "", "", "", 20.0, (), (), (), (), SIZES, ())
WORKSHOP = a_workshop(wheels={"cross slide": cross()})


def a_drawing(**more) -> Drawing:
    job = Job("Tapping stand Ø", "pin.yaml", Unit.INCH, ())
    return Drawing(job, State.FULLY_DIMENSIONED, (PIN,), (), (), (), **more)


def written(the_plan) -> dict:
    text = job_json(a_drawing(), the_plan, readings_of(the_plan, WORKSHOP), WORKSHOP)
    assert text.isascii()
    return json.loads(text)


def a_plan(**more):
    whole = plan(operation(10, HUB), operation(20, HUB, across_made=("cross hole",)), operation(30, **more))
    check = CheckResult("metal in the grip", "no fault", "pin", 10)
    return replace(whole, order=(Step("pin", (1, 2, 3), 10, "A1"),), to_get=("a drill",), checks=(check,))


def test_the_keys_of_the_contract():
    whole = written(a_plan())
    assert list(whole) == ["handwheel", "job", "example_workshop", "parts", "order_of_work", "to_get", "checks"]
    assert (whole["handwheel"], whole["example_workshop"], whole["job"]) == (1, True, "Tapping stand Ø")
    pin = whole["parts"]["pin"]
    assert list(pin) == ["quantity", "outline_mm", "dimensions", "stock", "route"]
    assert pin["stock"] == {"form": "round", "diameter_mm": 10.0, "length_mm": 20.0}
    assert [entry["kind"] for entry in pin["route"]] == ["stock", "turn", "turn", "turn"]
    for entry in pin["route"][1:]:
        assert set(entry) == {
            "number", "kind", "set_up", "toward_tailstock", "axis", "grips", "tool", "datum", "why", "caution",
            "readings", "across", "outline_mm",
        }  # fmt: skip
    assert set(pin["route"][1]["grips"]) == {"device", "from_mm", "to_mm", "surface"}
    assert whole["order_of_work"] == [{"part": "pin", "copies": [1, 2, 3], "number": 10, "set_up": "A1"}]
    assert whole["checks"] == [{"check": "metal in the grip", "found": "no fault", "operation": 10, "part": "pin"}]
    assert whole["to_get"] == ["a drill"]


def test_sizes_say_what_they_are_measured_in():
    length, angle, taper = written(a_plan())["parts"]["pin"]["dimensions"]
    assert length == {
        "phrase": "hub diameter", "value_mm": 14.2875, "low_mm": 14.2621, "high_mm": 14.3129, "given": True,
    }  # fmt: skip
    assert (angle["value_deg"], angle["low_deg"], angle["high_deg"]) == (2.5, 2.4, 2.6)
    assert (taper["value_ratio"], taper["low_ratio"], taper["high_ratio"]) == (0.05, 0.049, 0.051)


def test_a_reading_carries_both_moves_and_what_it_makes():
    (reading,) = written(a_plan())["parts"]["pin"]["route"][1]["readings"]
    assert (reading["turns"], reading["divisions"], reading["unit"]) == (2, 35.0, "division")
    assert reading["moves_mm"] == pytest.approx(5.969, abs=1e-9)
    assert reading["exact_mm"] == pytest.approx(5.97408, abs=1e-9)
    assert reading["makes"]["working_high_mm"] == pytest.approx(14.3002, abs=1e-9)


def test_a_wheel_that_is_not_there_gives_no_reading():
    bare = a_workshop()
    the_plan = plan(operation(10, HUB))
    route = json.loads(job_json(a_drawing(), the_plan, readings_of(the_plan, bare), bare))["parts"]["pin"]["route"]
    assert [entry["readings"] for entry in route] == [[], []]


def test_the_outline_is_half_the_section_closed():
    for outline in (written(a_plan())["parts"]["pin"][key] for key in ("outline_mm",)):
        assert {(z, r) for z, r in outline} >= {(0.0, 0.0), (0.0, 5.0), (20.0, 5.0), (20.0, 0.0)}


def test_from_a_refused_operation_on_there_are_no_readings():
    whole = plan(operation(10, HUB), operation(20, HUB, refused="no reamer of that size"), operation(30, HUB))
    route = written(whole)["parts"]["pin"]["route"]
    assert [bool(entry["readings"]) for entry in route] == [False, True, False, False]
    assert [entry.get("refused") for entry in route] == [None, None, "no reamer of that size", None]


def test_a_part_refused_before_any_operation_says_so_at_its_stock():
    route = written(plan(refused="no bar as large"))["parts"]["pin"]["route"]
    assert [(entry["kind"], entry["refused"]) for entry in route] == [("stock", "no bar as large")]


def test_what_is_off_the_axis_adds_up():
    assert [entry["across"] for entry in written(a_plan())["parts"]["pin"]["route"]] == [
        [], [], ["cross hole"], ["cross hole"],
    ]  # fmt: skip


def test_what_size_prints():
    fault = Fault("loose", HERE, "the shank is loose", "give its length", "pin", ("shank",))
    notice = Notice("repeat", HERE, "a repeat", "leave one out", "pin", ("hub diameter",))
    answers = (
        Answer("hub left to tenon right", "pin", Measure.LENGTH, 61.2, 61.0, 61.4),
        Answer("shank taper of pin", "", Measure.RATIO, 0.05, 0.049, 0.051),
    )
    sized = replace(a_drawing(), answers=answers, notices=(notice,), questions_unanswered=(fault,))
    assert json.loads(size_json(sized)) == {
        "job": "Tapping stand Ø",
        "state": "fully dimensioned",
        "faults": [{"part": "pin", "phrases": ["shank"], "what": "the shank is loose", "do": "give its length"}],
        "notices": [{"part": "pin", "phrases": ["hub diameter"], "what": "a repeat", "do": "leave one out"}],
        "answers": [
            {"ask": "hub left to tenon right", "part": "pin", "value_mm": 61.2, "low_mm": 61.0, "high_mm": 61.4,
             "contributors": []},
            {"ask": "shank taper of pin", "value_ratio": 0.05, "low_ratio": 0.049, "high_ratio": 0.051,
             "contributors": []},
        ],
    }
    assert json.loads(unread_json([fault]))["faults"] == [
        {"part": "pin", "phrases": ["shank"], "what": "the shank is loose", "do": "give its length"}
    ]
