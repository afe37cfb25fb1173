"""The command `change`: one thing after another changed in a job file, all or none, and nothing beside them."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Sequence
from difflib import SequenceMatcher

from handwheel.base.faults import Fault, Span
from handwheel.cli.changeoptions import Said
from handwheel.cli.files import read_input, write_over
from handwheel.cli.wrong import CANNOT, DONE, InputWrong, one_line
from handwheel.job.edititems import AddItem, DropItem, SetOption
from handwheel.job.editnames import RenameAssembly, RenameFeature, RenamePart
from handwheel.job.editparts import SetBlock, SetWord
from handwheel.job.edits import Edit, change_job, said
from handwheel.job.editsizes import DropSize, SetMade, SetSize
from handwheel.job.read import read_job
from handwheel.job.wrong import did_you_mean, quoted
from handwheel.job.yamltext import Scalar

_SAYING = re.compile(r"([^:]*):(?:\s|$)(.*)", re.DOTALL)
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+$")


def _pair(text: str, option: str, number: int, faults: list[Fault]) -> tuple[Scalar, Scalar]:
    """`PHRASE: VALUE` as two words; a fault where it is not that."""
    found = _SAYING.fullmatch(text)
    if found is None or not found[1].strip():
        what = f"'{' '.join(text.split())}' is not 'PHRASE: VALUE'"
        faults.append(Fault("saying-form", Span(option, number, 1), what, "write it like 'hub diameter: 3/4'"))
        return said("", option, number), said("", option, number)
    return said(found[1], option, number), said(found[2], option, number, found.start(2) + 1)


def _edit_of(option: str, number: int, words: Sequence[str], faults: list[Fault]) -> Edit:
    """The edit that an option says; `number` counts the options of its name, as faults do."""
    first, *rest = (said(word, option, number) for word in words)
    if option == "--size":
        return SetSize(first, *_pair(words[1], option, number, faults))
    if option == "--made":
        return SetMade(first, *_pair(words[1], option, number, faults))
    if option == "--part":
        return SetWord(first, *_pair(words[1], option, number, faults))
    if option == "--option":
        return SetOption(first, rest[0], *_pair(words[2], option, number, faults))
    if option == "--job":
        return SetWord(said("", option, number), *_pair(words[0], option, number, faults))
    makers: dict[str, Callable[..., Edit]] = {
        "--without": DropSize,
        "--rename": RenameFeature,
        "--rename-part": RenamePart,
        "--rename-assembly": RenameAssembly,
        "--item": AddItem,
        "--without-item": DropItem,
    }
    return makers[option](first, *rest)


def change(path: str, edits: Sequence[Said], show: bool) -> int:
    """`handwheel change`: writes the file unless only shown, prints the lines changed, returns the exit status."""
    faults: list[Fault] = []
    if not edits:
        what = "nothing is said to be changed"
        raise InputWrong([Fault("nothing-to-change", Span("command line", 1, 1), what, "see handwheel change --help")])
    data = new = read_input(path)
    waiting: list[Edit] = []
    for option, number, words in edits:
        if option != "--route":
            waiting.append(_edit_of(option, number, words, faults))
            continue
        new, part = _changed(new, path, waiting, faults), said(words[0], option, number)
        lines, refused = _route(new, path, part)
        if refused:
            print(one_line(refused), file=sys.stderr)
            return CANNOT
        waiting = [SetBlock(part, said("route"), lines)]
    new = _changed(new, path, waiting, faults)
    print("\n".join(changed_lines(data, new)) or "the file says so already")
    if not show and new != data:
        write_over(path, data, new)
    return DONE


def _changed(data: bytes, path: str, edits: Sequence[Edit], faults: Sequence[Fault]) -> bytes:
    """The file with those edits. Raises InputWrong with every fault, those of the options as typed alone if any."""
    if faults:
        raise InputWrong(faults)
    new, found = change_job(data, path, edits)
    if new is None:
        raise InputWrong(found)
    return new


def _route(data: bytes, path: str, part: Scalar) -> tuple[tuple[str, ...], str]:
    from handwheel.cli.changeroute import found_route

    job, unread = read_job(data, path)
    if job is None:
        raise InputWrong(unread)
    names = [one.name for one in job.parts]
    if part.text not in names:
        what = f"there is no part {quoted(part.text)}"
        raise InputWrong([Fault("part-unknown", part.span, what, did_you_mean(part.text, names))])
    return found_route(data, path, part.text)


def changed_lines(old: bytes, new: bytes) -> list[str]:
    """Each line that went, `-`, and that came, `+`, with its number in its own file."""
    before, after = (_LINE.findall(data.decode("utf-8-sig")) for data in (old, new))
    first = next((i for i, (a, b) in enumerate(zip(before, after, strict=False)) if a != b), min(len(before), len(after)))
    told: list[str] = []
    for tag, a, b, c, d in SequenceMatcher(None, before[first:], after[first:], autojunk=False).get_opcodes():
        if tag != "equal":
            told += [f"{first + i + 1:5} - {before[first + i].rstrip()}" for i in range(a, b)]
            told += [f"{first + i + 1:5} + {after[first + i].rstrip()}" for i in range(c, d)]
    return told
