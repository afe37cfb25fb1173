"""The command `make`: from a job file to a folder of sheets."""

from __future__ import annotations

import sys
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from handwheel.cli.files import read_input, write_all
from handwheel.cli.load import is_good, load_job, size_with
from handwheel.cli.wrong import CANNOT, DONE, WRONG, InputWrong, one_line, tell
from handwheel.drawing.records import Drawing
from handwheel.job.records import Job
from handwheel.plan.records import Plan
from handwheel.workshop.records import Workshop

if TYPE_CHECKING:
    from handwheel.sheets.paper import SheetMeta

PAPERS = {"a4": "A4", "letter": "Letter"}
REVISION_DIGITS = 7


def sheets_folder(path: str) -> Path:
    """Where the sheets go when nothing else is said: beside the job file, its name and ` sheets`."""
    job_file = Path(path)
    return job_file.with_name(f"{job_file.stem} sheets")


def make(path: str, out: str | None, paper: str, has_dxf: bool = False, has_mesh: bool = False) -> int:
    """`handwheel make`: writes the folder and returns the exit status; everything it says is for a person. `has_dxf`,
    `has_mesh`: files for other programs too."""
    progress("reading and sizing")
    job = load_job(path)
    drawing, _ = size_with(job, (), None)
    if not is_good(drawing):
        tell(drawing.faults)
        return WRONG
    tell(drawing.notices)
    return _make_from(drawing, path, out, paper, has_dxf, has_mesh)


def _make_from(drawing: Drawing, path: str, out: str | None, paper: str, has_dxf: bool, has_mesh: bool) -> int:
    from handwheel.plan.route import plan_job
    from handwheel.readings.copies import copy_readings
    from handwheel.readings.of import readings_of
    from handwheel.sheets.jobjson import job_json
    from handwheel.sheets.make import make_sheets

    workshop = load_workshop(drawing.job)
    plan = plan_job(drawing, workshop, lambda name: progress(f"planning {name}"))
    progress("reading the wheels")
    readings = readings_of(plan, workshop)
    progress("drawing the sheets")
    copies = copy_readings(drawing, plan, readings, workshop)
    files = dict(make_sheets(drawing, plan, readings, workshop, meta_of(path, paper), copies))
    files["job.json"] = job_json(drawing, plan, readings, workshop, copies).encode("ascii")
    files |= _exports(drawing, plan, has_dxf, has_mesh)
    folder = Path(out) if out is not None else sheets_folder(path)
    write_all(folder, files)
    return report(plan, workshop, folder)


def _exports(drawing: Drawing, plan: Plan, has_dxf: bool, has_mesh: bool) -> dict[str, bytes]:
    """The files for other programs that are asked for; what they leave out is told."""
    if not has_dxf and not has_mesh:
        return {}
    from handwheel.sheets.exports import dxf_files, stl_files

    progress("drawing for other programs")
    files = dxf_files(drawing, plan) if has_dxf else {}
    if has_mesh:
        solids, left_out = stl_files(drawing, plan)
        files |= solids
        for line in left_out:
            print(one_line(line), file=sys.stderr)
    return files


def meta_of(path: str, paper: str) -> SheetMeta:
    """What the frames say of the job file: its name, its date, and a revision that changes with its every letter."""
    from handwheel.sheets.paper import SheetMeta

    data = read_input(path)
    job_date = date.fromtimestamp(Path(path).stat().st_mtime).isoformat()
    return SheetMeta(Path(path).name, job_date, sha256(data).hexdigest()[:REVISION_DIGITS], PAPERS[paper])


def load_workshop(job: Job) -> Workshop:
    """The job's own workshop, its path relative to the job file, or the built-in one for the job's units."""
    from handwheel.workshop.read import built_in_workshop, read_workshop

    if not job.workshop:
        return built_in_workshop(job.units)
    path = str(Path(job.file).parent / job.workshop)
    workshop, faults = read_workshop(read_input(path), path)
    if workshop is None or faults:
        raise InputWrong(faults)
    return workshop


def report(plan: Plan, workshop: Workshop, folder: Path) -> int:
    """Says on standard error what was made and what could not be; returns the exit status."""
    status = DONE
    for part in plan.parts:
        refusals = [(s.operation.number, s.operation.refused) for s in part.stages if s.operation.refused]
        if not refusals and part.refused:
            refusals = [(0, part.refused)]
        for number, reason in refusals:
            status = CANNOT
            where = f", operation {number}" if number else ""
            ways = f"; {part.would_do}" if part.would_do else ""
            print(one_line(f"{part.part}{where}: cannot be made in {workshop.name}: {reason}{ways}"), file=sys.stderr)
    if workshop.is_example:
        print("an example workshop was used: its readings are not for your wheels", file=sys.stderr)
    print(f"the sheets are in {folder}", file=sys.stderr)
    return status


def progress(step: str) -> None:
    """One line a step, only where someone is watching."""
    if sys.stderr.isatty():
        print(f"{step} ...", file=sys.stderr, flush=True)
