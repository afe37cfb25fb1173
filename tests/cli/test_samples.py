"""`size --samples` as a user calls it, against a chain whose scatter is known."""

from __future__ import annotations

from pathlib import Path

import pytest

from handwheel.cli.main import main

CHAIN = """\
handwheel: 1
job: chain
units: mm
parts:
  it:
    outside: [{cylinder: a}, {cylinder: b}]
    dimensions:
      a diameter: 30 ± 0.1
      b diameter: 20 ± 0.1
      a length: 10 ± 0.1
      overall length: 60 ± 0.3
      b length: (50 ± 0.2)
"""


@pytest.fixture
def job(tmp_path: Path) -> str:
    path = tmp_path / "chain.yaml"
    path.write_text(CHAIN, encoding="utf-8")
    return str(path)


def test_share_beyond_the_limits_in_brackets(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", job, "--samples", "100000", "--spread", "even"]) == 0
    out = capsys.readouterr().out
    line = next(row for row in out.splitlines() if "b length of it" in row)
    # even in ±0.3 and ±0.1: beyond ±0.2 lies a third, by the area of the rectangle cut off
    assert float(line.split()[-2]) == pytest.approx(100.0 / 3.0, abs=1.0)


@pytest.mark.parametrize("count", ["1", "2000000"])
def test_too_few_or_too_many_copies(job: str, count: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["size", job, "--samples", count]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.strip() == f"--samples:1:1: {count} copies; ask for 2 to 1000000"


def test_a_sum_is_refused_and_the_rest_answered(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    asks = ["--ask", "a length", "--ask", "overall length - a length"]
    assert main(["size", job, "--samples", "1000", *asks]) == 2
    said = capsys.readouterr()
    assert any(row.startswith("  a length ") for row in said.out.splitlines())
    assert said.err.strip() == "--ask:1:1: 'overall length - a length' is not one size; ask for one size at a time"
