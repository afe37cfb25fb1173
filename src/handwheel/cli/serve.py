"""The command `open`: the page beside the text, on this machine's own address, renewed when the file is saved.

It only shows: nothing is written, nothing that is sent to it is read, and it answers to no other name than this
machine's own, so that no page from elsewhere can ask it.
"""

from __future__ import annotations

import sys
import threading
import time
from functools import partial
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from handwheel.cli.files import read_input
from handwheel.cli.watch import Watch
from handwheel.cli.wrong import DONE, InputWrong, fault_at, tell
from handwheel.sheets.livepage import seen_html, shell_html

LOOPBACK = "127.0.0.1"
OWN_NAMES = frozenset({"127.0.0.1", "localhost"})
TELL_EVERY_S = 0.2
STILL_THERE_S = 10.0
POLICY = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; font-src data:; connect-src 'self'"


class Page(BaseHTTPRequestHandler):
    """Answers three addresses: the page, what stands in it now, and a line whenever that has changed."""

    def __init__(self, watch: Watch, *args: object) -> None:
        self.watch = watch
        super().__init__(*args)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        """Answer one request."""
        if self.headers.get("Host", "").rsplit(":", 1)[0] not in OWN_NAMES:
            self.send_error(HTTPStatus.FORBIDDEN)
        elif self.path == "/":
            self._send(shell_html(self.watch.path))
        elif self.path == "/seen":
            self._send(seen_html(self.watch.seen))
        elif self.path == "/changes":
            self._tell_changes()
        else:
            self.send_error(HTTPStatus.NOT_FOUND)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing: the console is for faults."""

    def _send(self, html: str) -> None:
        data = html.encode("utf-8")
        self._head("text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)

    def _head(self, kind: str) -> None:
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Security-Policy", POLICY)
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")

    def _tell_changes(self) -> None:
        """Server-sent events (HTML standard): one now, one a change, and a comment to notice who has left."""
        self._head("text/event-stream")
        self.end_headers()
        told, said_at = -1, 0.0
        try:
            while True:
                now = time.monotonic()
                if told != self.watch.version:
                    told, said_at = self.watch.version, now
                    self.wfile.write(f"data: {told}\n\n".encode("ascii"))
                elif now - said_at > STILL_THERE_S:
                    said_at = now
                    self.wfile.write(b":\n\n")
                self.wfile.flush()
                time.sleep(TELL_EVERY_S)
        except OSError:
            return  # the page was closed


class PageServer(ThreadingHTTPServer):
    """Ends at once when told, whoever is still listening for changes."""

    daemon_threads = True
    block_on_close = False


def server_for(watch: Watch, port: int) -> PageServer:
    """A server on the loopback address; port 0: any that is free. Raises InputWrong when taken."""
    try:
        return PageServer((LOOPBACK, port), partial(Page, watch))
    except (OSError, OverflowError) as error:
        what = f"port {port} cannot be used ({error})"
        raise InputWrong([fault_at("port-not-free", "command line", what, "give another with --port")]) from None


def serve(path: str, port: int) -> int:
    """`handwheel open`: shows the page until stopped. A text with faults is shown with them; a missing file is one."""
    read_input(path)
    watch = Watch(path)
    with server_for(watch, port) as server:
        watch.look()
        tell(watch.seen.remarks)
        looking = threading.Thread(target=watch.run, daemon=True)
        looking.start()
        address = f"http://{LOOPBACK}:{server.server_address[1]}/"
        print(f"the page is at {address} (stop with Ctrl-C)", file=sys.stderr, flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print("stopped", file=sys.stderr)
        finally:
            watch.stop()
            looking.join()
    return DONE
