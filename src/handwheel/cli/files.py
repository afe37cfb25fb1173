"""Reading the few input files, and writing a folder of sheets so that a reader never meets half of one.

Every file is first written whole beside its target under a temporary name; only when all are there do they take
their places, one after the other. When one cannot (a viewer holds it), those already placed are put back.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path

from handwheel.base.faults import Fault
from handwheel.cli.wrong import InputWrong, fault_at

MOST_BYTES_READ = 200_000_000
Old = dict[Path, bytes | None]


def read_input(path: str) -> bytes:
    """The file's bytes. Raises InputWrong for a missing file, a folder, or one that cannot be read.

    Of a file without end, such as a device, only so much is read that its reader finds it too large.
    """
    try:
        with Path(path).open("rb") as file:
            return file.read(MOST_BYTES_READ)
    except (OSError, ValueError) as error:
        raise InputWrong([_unread(path, error)]) from None


def _unread(path: str, error: OSError | ValueError) -> Fault:
    if isinstance(error, FileNotFoundError):
        return fault_at("file-missing", path, "there is no such file", "give the path of a file")
    if isinstance(error, IsADirectoryError) or (isinstance(error, OSError) and os.path.isdir(path)):
        return fault_at("file-is-folder", path, "this is a folder", "give the file inside it")
    reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return fault_at("file-unreadable", path, f"the file cannot be read ({reason})", "see to its name and permissions")


def write_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """All files into the folder, or none. Raises InputWrong naming the file or folder that would not have it."""
    is_new = not folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise InputWrong([_cannot_fault("folder-not-made", folder, error, "the folder cannot be made")]) from None
    temporary: dict[Path, Path] = {}
    try:
        for name, data in files.items():
            _write_beside(folder / name, data, temporary)
        _place(temporary)
    except BaseException:
        _discard(temporary.values())
        if is_new:
            with contextlib.suppress(OSError):
                folder.rmdir()
        raise


def write_over(path: str, old: bytes, new: bytes) -> None:
    """The file with new bytes in place of the old, whole or not at all; its permissions stay, a link stays a link.

    Raises InputWrong where it is no longer what was read, or cannot be written.
    """
    target = Path(path).resolve()
    if read_input(path) != old:
        what = "the file has been changed by another program meanwhile"
        raise InputWrong([fault_at("file-changed", path, what, "look at it, and make the change again")])
    temporary: dict[Path, Path] = {}
    try:
        _write_beside(target, new, temporary)
        with contextlib.suppress(OSError):
            shutil.copymode(target, temporary[target])
        _place(temporary)
    except BaseException:
        _discard(temporary.values())
        raise


def _write_beside(target: Path, data: bytes, temporary: dict[Path, Path]) -> None:
    beside = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        temporary[target] = beside
        beside.write_bytes(data)
    except OSError as error:
        raise InputWrong([_cannot_fault("file-not-written", target, error, "the file cannot be written")]) from None


def _place(temporary: Mapping[Path, Path]) -> None:
    replaced: Old = {}
    for target, beside in temporary.items():
        try:
            old = target.read_bytes() if target.exists() else None
            os.replace(beside, target)
        except OSError as error:
            lost = _put_back(replaced)
            raise InputWrong([_locked(target, error, lost)]) from None
        replaced[target] = old


def _put_back(replaced: Old) -> list[str]:
    lost = []
    for target, old in replaced.items():
        try:
            if old is None:
                target.unlink()
            else:
                beside = target.with_name(f".{target.name}.{os.getpid()}.old")
                beside.write_bytes(old)
                os.replace(beside, target)
        except OSError:
            lost.append(target.name)
    return lost


def _locked(target: Path, error: OSError, lost: list[str]) -> Fault:
    left = f"; these are already the new ones: {', '.join(lost)}" if lost else "; nothing has been changed"
    if isinstance(error, PermissionError):
        what = f"the file cannot be replaced, another program may hold it open{left}"
        return fault_at("file-locked", str(target), what, "close it in the viewer and make again")
    what = f"the file cannot be replaced ({error.strerror or error}){left}"
    return fault_at("file-not-written", str(target), what, "see to the place, or give another with --out")


def _cannot_fault(fault_id: str, path: Path, error: OSError, what: str) -> Fault:
    told = f"{what} ({error.strerror or error})"
    return fault_at(fault_id, str(path), told, "see to the place, or give another with --out")


def _discard(paths: Iterable[Path]) -> None:
    for path in paths:
        with contextlib.suppress(OSError):
            path.unlink(missing_ok=True)
