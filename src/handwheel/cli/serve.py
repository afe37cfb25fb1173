"""The command `open`: the folder of sheets as a local page, read only, on this machine's own address."""

from __future__ import annotations

import sys
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from io import BytesIO
from pathlib import Path

from handwheel.cli.wrong import CANNOT, DONE, InputWrong, fault_at

LOOPBACK = "127.0.0.1"


class Sheets(SimpleHTTPRequestHandler):
    """Hands out the files of one folder, asks nothing, lists nothing, logs nothing."""

    def list_directory(self, path: object) -> BytesIO | None:
        """A folder without a page is not shown."""
        self.send_error(HTTPStatus.NOT_FOUND)
        return None

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing: the console is for faults."""


def server_for(folder: Path, port: int) -> ThreadingHTTPServer:
    """A server for that folder on the loopback address; port 0: any that is free. Raises InputWrong when taken."""
    try:
        return ThreadingHTTPServer((LOOPBACK, port), partial(Sheets, directory=str(folder)))
    except (OSError, OverflowError) as error:
        what = f"port {port} cannot be used ({error})"
        raise InputWrong([fault_at("port-not-free", "command line", what, "give another with --port")]) from None


def serve(path: str, port: int) -> int:
    """`handwheel open`: makes the sheets when they are not there yet, then serves them until stopped."""
    from handwheel.cli.make import make, sheets_folder

    folder = sheets_folder(path)
    status = DONE
    if not (folder / "index.html").is_file():
        status = make(path, None, "a4")
        if status not in (DONE, CANNOT):
            return status
    with server_for(folder, port) as server:
        address = f"http://{LOOPBACK}:{server.server_address[1]}/"
        print(f"the sheets are at {address} (stop with Ctrl-C)", file=sys.stderr, flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print("stopped", file=sys.stderr)
    return status
