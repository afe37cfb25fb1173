"""A workshop file to a `Workshop`, and the two built in, which are files read by the same reader."""

from __future__ import annotations

from functools import cache
from importlib import resources

from handwheel.base.faults import Fault, in_file_order
from handwheel.job.records import Unit
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Mapping, Node, Scalar, parse_tree
from handwheel.tables.bonded import compounds
from handwheel.workshop.fields import Fields
from handwheel.workshop.machine import CENTRES, STEADIES, read_chucks, read_lathe
from handwheel.workshop.records import Workshop
from handwheel.workshop.setting import read_gauge_blocks
from handwheel.workshop.stores import COMMON, read_bars, read_gauges, read_habits, read_materials
from handwheel.workshop.tools import read_ball_tool, read_round_tools, read_tools

VERSION = "1"


def read_workshop(data: bytes, file: str) -> tuple[Workshop | None, tuple[Fault, ...]]:
    """The workshop that a file tells of.

    Parameters
        data: the file's bytes.
        file: its name, as it is to stand in faults.
    Returns
        (workshop, ()) or (None, every fault found, in file order). A habit not written falls back to common
        practice and says so; nothing else has a default.
    """
    return _read(data, file, is_example=False)


@cache
def built_in_workshop(units: Unit) -> Workshop:
    """The example workshop for these units: ordinary home size, invented, `is_example` set."""
    name = f"{units.value if units is Unit.INCH else 'metric'}.yaml"
    data = resources.files("handwheel.workshop").joinpath("data", name).read_bytes()
    workshop, faults = _read(data, name, is_example=True)
    if workshop is None:
        raise ValueError("; ".join(fault.line() for fault in faults))
    return workshop


def _read(data: bytes, file: str, is_example: bool) -> tuple[Workshop | None, tuple[Fault, ...]]:
    tree, faults = parse_tree(data, file)
    complaints = Complaints(list(faults))
    if tree is None:
        return None, in_file_order(complaints.found)
    workshop = _workshop(tree, complaints, is_example)
    if complaints.found:
        return None, in_file_order(complaints.found)
    return workshop, ()


def _workshop(tree: Node, complaints: Complaints, is_example: bool) -> Workshop:
    units = _units(tree)
    fields = Fields(tree, complaints, units, "the workshop")
    _check_version(fields)
    fields.choice("units", [u.value for u in Unit])
    name = fields.text("name")
    lathe_entry = fields.entry("lathe")
    lathe_node = lathe_entry.value if lathe_entry else Mapping((), tree.span)
    lathe_fields = Fields(lathe_node, complaints, units, "the lathe")
    if lathe_entry is None:
        lathe_fields.asked = ["*"]
    workshop = Workshop(
        name=name,
        units=units,
        is_example=is_example,
        lathe=read_lathe(lathe_fields),
        mill=fields.text("mill", False) or None,
        chucks=read_chucks(fields),
        tools=read_tools(fields),
        ball_tool=read_ball_tool(fields),
        round_tools=read_round_tools(fields),
        gauges=read_gauges(fields),
        bars=read_bars(fields),
        materials=read_materials(fields),
        habits=read_habits(fields, COMMON if is_example else "yours"),
        centres=_kinds(fields, "centres", CENTRES),
        steadies=_kinds(fields, "steadies", STEADIES),
        gauge_blocks_mm=read_gauge_blocks(fields),
        sine_bar_mm=fields.length_or_none("sine bar", is_zero_good=False),
        compounds=_compounds(fields),
    )
    fields.close()
    _check_names(workshop, fields)
    return workshop


def _units(tree: Node) -> Unit:
    """How bare numbers are read; a fault in it is noted where it is asked for as a choice."""
    entry = tree.get("units") if isinstance(tree, Mapping) else None
    is_mm = entry is not None and isinstance(entry.value, Scalar) and entry.value.text == Unit.MM.value
    return Unit.MM if is_mm else Unit.INCH


def _check_version(fields: Fields) -> None:
    scalar = fields.scalar(fields.entry("handwheel workshop"))
    if scalar is not None and scalar.text != VERSION:
        fields.complaints.add("workshop-version", scalar.span, f"version {quoted(scalar.text)} is not known",
                              f"write 'handwheel workshop: {VERSION}'")  # fmt: skip


def _kinds(fields: Fields, key: str, known: tuple[str, ...]) -> tuple[str, ...]:
    """The kinds at hand of what is told by its kind alone, such as centres."""
    scalars = fields.scalars(key, False)
    for scalar in scalars:
        if scalar.text not in known:
            fields.complaints.add("workshop-word-unknown", scalar.span, f"{quoted(scalar.text)} is none of the {key}",
                                  did_you_mean(scalar.text, known))  # fmt: skip
    return tuple(s.text for s in scalars)


def _compounds(fields: Fields) -> tuple[str, ...] | None:
    """Kinds of compound at hand; () for `none`, None where nothing is said or `unknown`."""
    entry = fields.entry("compounds", False)
    if entry is None:
        return None
    if isinstance(entry.value, Scalar) and entry.value.text == "none":
        return ()
    return _kinds(fields, "compounds", tuple(compound.kind for compound in compounds()))


def _check_names(workshop: Workshop, fields: Fields) -> None:
    """A tool, chuck or gauge is called for by its name: no two alike."""
    for key, names in (
        ("chucks", [c.name for c in workshop.chucks]),
        ("tools", [t.name for t in workshop.tools]),
        ("gauges", [g.name for g in workshop.gauges]),
    ):
        entry = fields.mapping.get(key)
        for name in dict.fromkeys(n for n in names if n and names.count(n) > 1):
            if entry is not None:
                fields.complaints.add("workshop-name-twice", entry.value.span,
                                      f"two of the {key} are called {quoted(name)}", "name each apart")  # fmt: skip
