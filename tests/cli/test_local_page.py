"""The local page hands out one folder, on this machine only, and nothing above it."""

import threading
import urllib.error
import urllib.request

import pytest

from handwheel.cli.serve import server_for
from handwheel.cli.wrong import InputWrong


@pytest.fixture
def address(tmp_path):
    folder = tmp_path / "stand sheets"
    folder.mkdir()
    (folder / "index.html").write_text("<p>Ø 14</p>", encoding="utf-8")
    (folder / "empty").mkdir()
    (tmp_path / "secret.txt").write_text("no", encoding="utf-8")
    with server_for(folder, 0) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_address[1]}"
        server.shutdown()
        thread.join()


def status_of(request) -> int:
    try:
        with urllib.request.urlopen(request, timeout=5) as answer:
            return answer.status
    except urllib.error.HTTPError as refused:
        return refused.code


def test_the_page_is_there(address):
    with urllib.request.urlopen(f"{address}/", timeout=5) as answer:
        assert answer.read().decode("utf-8") == "<p>Ø 14</p>"


@pytest.mark.parametrize("path", ["/../secret.txt", "/%2e%2e/secret.txt", "/empty/", "/nothing.pdf"])
def test_nothing_else_is(address, path):
    assert status_of(address + path) == 404


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE"])
def test_it_only_reads(address, method):
    assert status_of(urllib.request.Request(address + "/index.html", method=method, data=b"x")) == 501


def test_only_this_machine_is_listened_to(tmp_path):
    with server_for(tmp_path, 0) as server:
        assert server.server_address[0] == "127.0.0.1"


def test_a_port_in_use_is_said(tmp_path):
    with server_for(tmp_path, 0) as first, pytest.raises(InputWrong, match="cannot be used"):
        server_for(tmp_path, first.server_address[1])


@pytest.mark.parametrize("port", [-1, 70000])
def test_a_port_that_is_none(tmp_path, port):
    with pytest.raises(InputWrong, match="cannot be used"):
        server_for(tmp_path, port)
