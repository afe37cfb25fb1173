"""A ball too small for a collet's lip is refused in words: the mouth half the radius past the centre, 0.8 mm at the least
(common practice, no source), wants a ball of 2 x 0.8 / 0.5 = 3.2 mm."""

import pytest

from handwheel.cli.main import main


@pytest.mark.parametrize(("diameter", "status"), [("0.75 mm", 2), ("3.1 mm", 2), ("3.3 mm", 0), ("0.130 in", 0)])
def test_a_small_ball_has_no_collet(diameter: str, status: int, capsys: pytest.CaptureFixture[str]) -> None:
    found = main(["ask", "ball", f"diameter: {diameter}", "--ask", "collet", "--units", "mm"])
    out, err = capsys.readouterr()
    assert found == status, err
    assert ("lip holds a ball so small: 3.20 mm (0.126 in) at the least; hold it by its neck" in err) == (status == 2)
    assert ("ball-holding collet" in out) == (status == 0)
