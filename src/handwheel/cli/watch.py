"""A job file looked at again and again: whenever it is saved, read, sized and planned anew."""

from __future__ import annotations

import threading
from dataclasses import replace
from pathlib import Path

from handwheel.base.faults import Fault, Remark
from handwheel.cli.files import read_input
from handwheel.cli.wrong import InputWrong, fault_at, one_line
from handwheel.drawing.records import Drawing
from handwheel.job.records import Job
from handwheel.sheets.livepage import Seen

LOOK_EVERY_S = 0.3


class Watch:
    """What is known of the file now. `seen` and `version` may be read from any thread; `look` is for one thread."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.seen = Seen(path, "")
        self.version = 0
        self._files: tuple[bytes | None, bytes | None] | None = None
        self._stopped = threading.Event()

    def run(self) -> None:
        """Look until told to stop."""
        while not self._stopped.is_set():
            self.look()
            self._stopped.wait(LOOK_EVERY_S)

    def stop(self) -> None:
        """End `run`."""
        self._stopped.set()

    def look(self) -> bool:
        """Work the file out again when its text, or its workshop's, has changed; whether it had."""
        faults: tuple[Fault, ...] = ()
        data: bytes | None = None
        try:
            data = read_input(self.path)
        except InputWrong as wrong:
            faults = wrong.faults
        if (data, self._workshop_bytes()) == self._files:
            return False
        text = (data or b"").decode("utf-8-sig", errors="replace")
        try:
            if data is None:
                raise InputWrong(faults)
            self._work_out(data, text)
        except InputWrong as wrong:
            self._older(text, wrong.faults)
        except Exception as error:  # the page outlives a fault of ours: it says so, and shows what it had
            told = one_line(f"a fault in handwheel itself, {type(error).__name__}: {error}")
            self._older(text, (fault_at("own-fault", self.path, told, "please report it with the job file"),))
        self._files = (data, self._workshop_bytes())
        return True

    def _workshop_bytes(self) -> bytes | None:
        drawing = self.seen.drawing
        if drawing is None or not drawing.job.workshop:
            return None
        try:
            return (Path(self.path).parent / drawing.job.workshop).read_bytes()
        except OSError:
            return b""

    def _work_out(self, data: bytes, text: str) -> None:
        from handwheel.cli.load import is_good, size_with, with_doubts
        from handwheel.cli.make import load_workshop
        from handwheel.plan.route import plan_job
        from handwheel.readings.of import readings_of

        job = with_doubts(_read(data, self.path))
        drawing, _ = size_with(job, (), None)
        remarks: tuple[Remark, ...] = (*drawing.faults, *drawing.notices)
        if not is_good(drawing):
            self._older(text, remarks, drawing)
            return
        self._show(Seen(self.path, text, remarks, drawing, is_busy=True))
        workshop = load_workshop(job)
        plan = plan_job(drawing, workshop)
        self._show(Seen(self.path, text, remarks, drawing, plan, readings_of(plan, workshop), workshop))

    def _older(self, text: str, remarks: tuple[Remark, ...], drawing: Drawing | None = None) -> None:
        """A text with faults: what is drawn stays, marked as older; parts that were sized all the same are new."""
        if self.seen.drawing is None and drawing is not None:
            self._show(Seen(self.path, text, remarks, drawing))
            return
        kept = replace(self.seen, text=text, remarks=remarks, is_busy=False)
        self._show(replace(kept, is_older=self.seen.drawing is not None))

    def _show(self, seen: Seen) -> None:
        self.seen = seen
        self.version += 1


def _read(data: bytes, path: str) -> Job:
    from handwheel.job.read import read_job

    job, faults = read_job(data, path)
    if job is None or faults:
        raise InputWrong(faults)
    return job
