"""What sets an angle: gauge blocks, named by their set or listed."""

from __future__ import annotations

from handwheel.job.wrong import did_you_mean, quoted
from handwheel.job.yamltext import Scalar
from handwheel.tables.gaugeblocks import blocks_of, set_names
from handwheel.workshop.fields import Fields
from handwheel.workshop.sizes import read_sizes


def read_gauge_blocks(fields: Fields) -> tuple[float, ...]:
    """`gauge blocks: M88`, or a list of sizes and runs; () where left out. [mm]"""
    entry = fields.entry("gauge blocks", False)
    if entry is None or not isinstance(entry.value, Scalar):
        sizes = [size.mm for scalar in fields.scalars("gauge blocks", False)
                 for size in read_sizes(scalar, fields.units, fields.complaints)]  # fmt: skip
        return tuple(sizes)
    if entry.value.text == "none":
        return ()
    blocks = blocks_of(entry.value.text)
    if blocks is None:
        fields.complaints.add("workshop-word-unknown", entry.value.span,
                              f"{quoted(entry.value.text)} is no set of gauge blocks that the tables hold",
                              did_you_mean(entry.value.text, set_names()))  # fmt: skip
        return ()
    return tuple(float(block) for block in blocks)
