"""The page beside the text: what it shows, that it follows the file, and that it answers this machine alone."""

import http.client
import re
import threading
import urllib.error
import urllib.request

import pytest

from handwheel.cli.serve import server_for
from handwheel.cli.watch import Watch
from handwheel.cli.wrong import InputWrong

PIN = """handwheel: 1
job: A <pin>
units: mm
parts:
  pin:
    material: free-cutting mild steel
    outside:
      - cylinder: body
      - cylinder: tip
    dimensions:
      body diameter: 12
      tip diameter: 8
      body length: 20
      tip length: 10
"""


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "pin.yaml"
    path.write_text(PIN, encoding="utf-8")
    (tmp_path / "secret.txt").write_text("no", encoding="utf-8")
    return path


@pytest.fixture
def watch(file):
    return Watch(str(file))


@pytest.fixture
def port(watch):
    watch.look()
    with server_for(watch, 0) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield server.server_address[1]
        server.shutdown()
        thread.join()


def got(port: int, path: str) -> str:
    with urllib.request.urlopen(f"http://127.0.0.1:{port}{path}", timeout=5) as answer:
        return answer.read().decode("utf-8")


def status_of(request) -> int:
    try:
        with urllib.request.urlopen(request, timeout=5) as answer:
            return answer.status
    except urllib.error.HTTPError as refused:
        return refused.code


def test_what_is_shown(port):
    page = got(port, "/seen")
    assert "A &lt;pin&gt;" in page
    assert "<code>      tip diameter: 8</code>" in page
    assert "the job is fully dimensioned" in page
    assert re.search(r"<td>overall length</td><td>30(\.0+)?</td>", page) or "30.00" in page  # 20 + 10
    assert page.count('class="stage"') >= 4
    assert "<svg" in page


def test_nothing_is_fetched_from_elsewhere(port):
    for path in ("/", "/seen"):
        outside = [a for a in re.findall(r"https?://[^\"' )]+", got(port, path)) if "www.w3.org" not in a]
        assert outside == []


@pytest.mark.parametrize("path", ["/secret.txt", "/../secret.txt", "/%2e%2e/secret.txt", "/pin.yaml", "/seen/x"])
def test_nothing_else_is_handed_out(port, path):
    assert status_of(f"http://127.0.0.1:{port}{path}") == 404


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE"])
def test_it_only_reads(port, method):
    assert status_of(urllib.request.Request(f"http://127.0.0.1:{port}/seen", method=method, data=b"x")) == 501


def test_a_page_from_elsewhere_cannot_ask_it(port):
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
    connection.request("GET", "/seen", headers={"Host": f"elsewhere.example:{port}"})
    assert connection.getresponse().status == 403


def test_only_this_machine_is_listened_to(watch):
    with server_for(watch, 0) as server:
        assert server.server_address[0] == "127.0.0.1"


def test_a_port_in_use_is_said(watch):
    with server_for(watch, 0) as first, pytest.raises(InputWrong, match="cannot be used"):
        server_for(watch, first.server_address[1])


@pytest.mark.parametrize("port", [-1, 70000])
def test_a_port_that_is_none(watch, port):
    with pytest.raises(InputWrong, match="cannot be used"):
        server_for(watch, port)


def test_a_change_is_told(port, watch, file):
    with urllib.request.urlopen(f"http://127.0.0.1:{port}/changes", timeout=5) as events:
        first = events.readline()
        assert first.startswith(b"data: ")
        events.readline()
        file.write_text(PIN.replace("tip length: 10", "tip length: 14"), encoding="utf-8")
        assert watch.look()
        assert events.readline() != first
    assert "34" in got(port, "/seen")  # 20 + 14


def test_nothing_changed_nothing_worked_out(watch):
    assert watch.look()
    version = watch.version
    assert not watch.look()
    assert watch.version == version


def test_a_fault_stands_under_its_line_and_the_drawing_stays(port, watch, file):
    file.write_text(PIN.replace("tip diameter: 8", "tip diametre: 8"), encoding="utf-8")
    watch.look()
    page = got(port, "/seen")
    line = re.search(r'<li id="line-12" class="wrong">.*?</li>', page)
    assert line
    assert "▲" in line[0]
    assert "drawing and route are of the text before it" in page
    assert page.count('class="stage"') >= 4
    file.write_text(PIN, encoding="utf-8")
    watch.look()
    assert "no fault found in the text" in got(port, "/seen")


def test_a_file_that_goes_and_comes_back(port, watch, file):
    file.unlink()
    assert watch.look()
    assert "there is no such file" in got(port, "/seen")
    assert not watch.look()
    file.write_text(PIN, encoding="utf-8")
    assert watch.look()
    assert "no fault found in the text" in got(port, "/seen")


def test_a_fault_of_our_own_is_told_and_the_page_lives(watch, file, monkeypatch):
    monkeypatch.setattr("handwheel.plan.route.plan_job", lambda *_: 1 / 0)
    assert watch.look()
    assert any("a fault in handwheel itself, ZeroDivisionError" in r.what for r in watch.seen.remarks)
    monkeypatch.undo()
    file.write_text(PIN + "\n", encoding="utf-8")
    assert watch.look()
    assert watch.seen.plan is not None


def test_the_workshop_is_watched_too(file, tmp_path):
    from importlib.resources import files

    shop = tmp_path / "shop.yaml"
    shop.write_bytes(files("handwheel.workshop").joinpath("data/metric.yaml").read_bytes())
    file.write_text(PIN.replace("units: mm", "units: mm\nworkshop: shop.yaml"), encoding="utf-8")
    watch = Watch(str(file))
    watch.look()
    assert watch.seen.plan is not None
    shop.write_text("handwheel", encoding="utf-8")
    assert watch.look()
    assert any(r.span.file.endswith("shop.yaml") for r in watch.seen.remarks)
