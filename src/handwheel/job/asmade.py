"""The entry `as made`: measured sizes of single copies of a part."""

from __future__ import annotations

from dataclasses import replace

from handwheel.job.entries import Options, as_mapping, as_scalar
from handwheel.job.partread import read_dimension
from handwheel.job.phrases import Reader
from handwheel.job.records import AsMade
from handwheel.job.wrong import Complaints, did_you_mean, quoted
from handwheel.job.yamltext import Scalar


def read_as_made(options: Options, quantities: dict[str, int], reader: Reader) -> tuple[AsMade, ...]:
    """Each measured size; `quantities` by part."""
    entry = options.take("as made")
    complaints = options.complaints
    mapping = as_mapping(entry.value, "as made", complaints) if entry else None
    made: list[AsMade] = []
    for one in mapping.entries if mapping else ():
        copy = _copy(one.key, quantities, complaints)
        sizes = as_mapping(one.value, one.key.text, complaints)
        if copy is None or sizes is None:
            continue
        part, number = copy
        complaints.part = part
        own = replace(reader, own=part, may_name_part=False)
        for size in sizes.entries:
            value = as_scalar(size.value, size.key.text, complaints)
            dimension = read_dimension(size.key, value, own, complaints)
            if dimension is None:
                continue
            found = dimension.value
            if found.follow is not None or found.tolerance is not None or found.auxiliary:
                complaints.add(
                    "as-made-value",
                    found.span,
                    "a size as made is one measured number",
                    "write it alone, without tolerance",
                    (dimension.phrase.text,),
                )
                continue
            made.append(AsMade(part, number, dimension))
        complaints.part = ""
    return tuple(made)


def _copy(key: Scalar, quantities: dict[str, int], complaints: Complaints) -> tuple[str, int] | None:
    """`lever 2` is copy 2 of the part lever; a part made once needs no number."""
    text = " ".join(key.text.split())
    name, _, number = text.rpartition(" ")
    if name in quantities and number.isascii() and number.isdigit() and len(number) < 9:
        if 1 <= int(number) <= quantities[name]:
            return name, int(number)
        complaints.add(
            "copy-unknown",
            key.span,
            f"there is no copy {number} of '{name}'",
            f"copies run from 1 to {quantities[name]}",
        )
        return None
    if text in quantities:
        if quantities[text] == 1:
            return text, 1
        complaints.add(
            "copy-unknown", key.span, f"{quoted(text)} does not say which copy", f"write '{text} 1' or another number"
        )
        return None
    complaints.add(
        "part-unknown", key.span, f"there is no part {quoted(name or text)}", did_you_mean(name or text, quantities)
    )
    return None
