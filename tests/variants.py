"""Other spellings of a job file that must not change what can be made of it.

Works on the text's own tree, read by PyYAML with every scalar as text, and knows nothing of handwheel's records: a
variant is a job file like any other. Only what the examples use is understood; anything else raises.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import yaml

Tree = dict[str, Any]
MM_PER_INCH = Fraction(254, 10)

NUMBER = re.compile(r"(?<![\w./])(?:(\d+) )?(\d+)/(\d+)(?![\w/])|(?<![\w./])(\d*\.\d+|\d+)(?![\w/.])")
OWN_UNIT = re.compile(r"\d\s*(mm|in|thou|\")(?!\w)")
NOT_A_LENGTH = re.compile(r"\d\s+in\s+\d|\d\s*:\s*\d|\bdeg\b|°")
FOLLOWS = re.compile(r"^(same as|half of|twice|to suit) (.+)$")
SIDE_WORD = re.compile(r"\b(left|right)\b")


def read(text: str) -> Tree:
    """A job file's tree, every scalar as it is typed."""
    tree = yaml.load(text, Loader=yaml.BaseLoader)
    assert isinstance(tree, dict)
    return tree


def write(tree: Tree) -> str:
    """The tree as a job file again."""
    return "\n".join(_lines(tree, 0)) + "\n"


def _scalar(text: str) -> str:
    is_plain = re.fullmatch(r"[A-Za-z0-9.(][^:#\"'{}\[\]]*", text) and text == text.strip()
    return text if is_plain else "'" + text.replace("'", "''") + "'"


def _lines(node: Any, indent: int) -> list[str]:
    pad = " " * indent
    if isinstance(node, dict):
        lines = []
        for key, value in node.items():
            if isinstance(value, str):
                lines.append(f"{pad}{_scalar(key)}: {_scalar(value)}")
            else:
                lines += [f"{pad}{_scalar(key)}:", *_lines(value, indent + 2)]
        return lines
    lines = []
    for item in node:
        if isinstance(item, str):
            lines.append(f"{pad}- {_scalar(item)}")
        else:
            first, *rest = _lines(item, indent + 2)
            lines += [f"{pad}- {first.strip()}", *rest]
    return lines


# mirrored end for end


def swap_sides(text: str) -> str:
    """left for right and right for left."""
    return SIDE_WORD.sub(lambda m: "right" if m.group() == "left" else "left", text)


def mirror_phrase(phrase: str) -> str:
    """The phrase for the same size of the mirrored part: sides swapped, a distance read from its other end."""
    if re.search(r" [+-] ", phrase):
        raise NotImplementedError(f"a point with an offset: {phrase}")
    halves = swap_sides(phrase).split(" to ")
    if len(halves) == 2 and halves[1] != "axis":
        start, end = halves
        owner = re.fullmatch(r"(.+?)( of [^,]+)", end)
        if owner and " of " not in start:
            return f"{owner.group(1)} to {start}{owner.group(2)}"
        return f"{end} to {start}"
    return " to ".join(halves)


def mirror_value(value: str) -> str:
    """A value that follows another size follows the mirrored one."""
    follows = FOLLOWS.match(value)
    return f"{follows.group(1)} {mirror_phrase(follows.group(2))}" if follows else value


def mirror_dimensions(dimensions: Tree) -> Tree:
    return {mirror_phrase(phrase): mirror_value(value) for phrase, value in dimensions.items()}


def mirror_item(item: Tree) -> Tree:
    """A link or hole with its sides swapped; inline sizes are phrases too."""
    swapped = {}
    for key, value in item.items():
        if key in ("flush", "tangent", "flat", "narrow", "face", "at", "square to"):
            swapped[key] = swap_sides(value)
        elif key == "leaning":
            swapped[key] = value[1:] if value.startswith("-") else f"-{value}"
        else:
            swapped[swap_sides(key)] = value
    return swapped


def mirrored(tree: Tree) -> Tree:
    """The job with every part and assembly seen from the other side."""
    parts = {}
    for name, part in tree["parts"].items():
        new = dict(part)
        if "outside" in part:
            new["outside"] = [mirror_item(item) for item in reversed(part["outside"])]
        if "inside" in part:
            new["inside"] = {
                swap_sides(entry): [mirror_item(item) for item in items] for entry, items in part["inside"].items()
            }
        if "across" in part:
            new["across"] = [mirror_item(item) for item in part["across"]]
        new["dimensions"] = mirror_dimensions(part.get("dimensions", {}))
        parts[name] = new
    return tree | {"parts": parts} | _assemblies(tree, mirror_assembly)


def mirror_assembly(assembly: Tree) -> Tree:
    return {
        "seats": [swap_sides(seat) for seat in assembly["seats"]],
        "dimensions": mirror_dimensions(assembly.get("dimensions", {})),
    }


def _assemblies(tree: Tree, change: Callable[[Tree], Tree]) -> Tree:
    if "assemblies" not in tree:
        return {}
    return {"assemblies": {name: change(assembly) for name, assembly in tree["assemblies"].items()}}


# renamed


def renamed(tree: Tree) -> Tree:
    """Every part, feature and assembly under a name that says nothing."""
    parts = {name: f"piece {_letters(n)}" for n, name in enumerate(tree["parts"])}
    features = sorted({name for part in tree["parts"].values() for name in _feature_names(part)})
    new_features = {name: f"q{_letters(n)}" for n, name in enumerate(features)}
    names = parts | new_features
    longest_first = sorted(names, key=len, reverse=True)
    pattern = re.compile(r"(?<![\w-])(" + "|".join(map(re.escape, longest_first)) + r")(?![\w-])")

    def swap(text: str) -> str:
        return pattern.sub(lambda m: names[m.group()], text)

    new_parts = {parts[name]: _rename_part(part, names, swap) for name, part in tree["parts"].items()}
    changed = tree | {"parts": new_parts}
    if "assemblies" in tree:
        changed["assemblies"] = {
            f"set {_letters(n)}": _renamed_everywhere(assembly, swap)
            for n, assembly in enumerate(tree["assemblies"].values())
        }
    return changed


def _letters(number: int) -> str:
    return chr(ord("a") + number // 26) + chr(ord("a") + number % 26)


def _feature_names(part: Tree) -> list[str]:
    items = list(part.get("outside", [])) + list(part.get("across", []))
    for entered in part.get("inside", {}).values():
        items += entered
    return [next(iter(item.values())) for item in items]


def _rename_part(part: Tree, names: dict[str, str], swap: Callable[[str], str]) -> Tree:
    """Names are changed where names stand; the words of the language (kinds, keys) are left alone."""
    new = dict(part)
    if "like" in part:
        new["like"] = names[part["like"]]
    for place in ("outside", "across"):
        if place in part:
            new[place] = [_rename_item(item, names) for item in part[place]]
    if "inside" in part:
        new["inside"] = {entry: [_rename_item(i, names) for i in items] for entry, items in part["inside"].items()}
    new["dimensions"] = _renamed_everywhere(part.get("dimensions", {}), swap)
    return new


def _rename_item(item: Tree, names: dict[str, str]) -> Tree:
    kind, name = next(iter(item.items()))
    rest = {key: value for key, value in item.items() if key != kind}
    for key in ("on", "into", "square to", "in"):
        if key in rest:
            rest[key] = names[rest[key]]
    return {kind: names[name]} | rest


def _renamed_everywhere(node: Any, swap: Callable[[str], str]) -> Any:
    if isinstance(node, dict):
        return {swap(key): _renamed_everywhere(value, swap) for key, value in node.items()}
    if isinstance(node, list):
        return [_renamed_everywhere(item, swap) for item in node]
    return swap(node) if SIDE_OR_NAME.search(node) else node


SIDE_OR_NAME = re.compile(r"[a-z]{2}")


# other sizes, other units


def _number(match: re.Match[str]) -> Fraction:
    whole, top, bottom, decimal = match.groups()
    return Fraction(decimal) if decimal is not None else Fraction(int(whole or 0)) + Fraction(int(top), int(bottom))


def _spell(number: Fraction) -> str:
    """Exactly: as a decimal where that ends, else as a fraction."""
    rest = number.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return f"{number.numerator}/{number.denominator}"
    places = 0
    while (number * 10**places).denominator != 1:
        places += 1
    digits = str(int(number * 10**places)).rjust(places + 1, "0")
    return digits if places == 0 else f"{digits[:-places]}.{digits[-places:]}"


def _each_length(value: str, change: Callable[[Fraction], Fraction]) -> str:
    return NUMBER.sub(lambda m: _spell(change(_number(m))), value)


def scale_value(value: str, factor: Fraction) -> str:
    """A length times the factor, its tolerance left as it is; an angle, a taper, a followed size as it is."""
    if FOLLOWS.match(value) or NOT_A_LENGTH.search(value):
        return value
    match = NUMBER.search(value)
    assert match is not None, value
    return value[: match.start()] + _spell(_number(match) * factor) + value[match.end() :]


def convert_value(value: str, factor: Fraction) -> str:
    """A length with a bare number, typed in the other unit, its tolerance too."""
    if FOLLOWS.match(value) or NOT_A_LENGTH.search(value) or OWN_UNIT.search(value):
        return value
    return _each_length(value, lambda number: number * factor)


def _sized(tree: Tree, change: Callable[[str], str]) -> Tree:
    """Every size of parts and assemblies changed, those written at a feature too."""
    parts = {}
    for name, part in tree["parts"].items():
        new = dict(part)
        if "outside" in part:
            new["outside"] = [_sized_item(item, change) for item in part["outside"]]
        if "inside" in part:
            new["inside"] = {at: [_sized_item(item, change) for item in items] for at, items in part["inside"].items()}
        new["dimensions"] = {phrase: change(value) for phrase, value in part.get("dimensions", {}).items()}
        parts[name] = new

    def change_assembly(assembly: Tree) -> Tree:
        sizes = {phrase: change(value) for phrase, value in assembly.get("dimensions", {}).items()}
        return assembly | {"dimensions": sizes}

    return tree | {"parts": parts} | _assemblies(tree, change_assembly)


SIZE_KEYS = ("length", "width", "depth", "diameter", "radius", "left diameter", "right diameter")


def _sized_item(item: Tree, change: Callable[[str], str]) -> Tree:
    return {key: change(value) if key in SIZE_KEYS else value for key, value in item.items()}


def scaled(tree: Tree, factor: Fraction = Fraction(13, 10)) -> Tree:
    """Every length times the factor. Tolerances, threads and inline chamfers stay."""
    return _sized(tree, lambda value: scale_value(value, factor))


def in_other_unit(tree: Tree) -> Tree:
    """The same job typed in millimetres for inches, inches for millimetres, exactly."""
    is_inch = tree["units"] == "inch"
    factor = MM_PER_INCH if is_inch else 1 / MM_PER_INCH
    changed = _sized(tree, lambda value: convert_value(value, factor)) | {"units": "mm" if is_inch else "inch"}
    general = tree.get("general tolerance", "")
    if general and not general.startswith("ISO"):
        changed["general tolerance"] = convert_value(general, factor)
    return changed


def with_quantity(tree: Tree, quantity: int) -> Tree:
    """So many of every part."""
    return tree | {"parts": {name: part | {"quantity": str(quantity)} for name, part in tree["parts"].items()}}


VARIANTS: dict[str, Callable[[Tree], Tree]] = {
    "as drawn": lambda tree: tree,
    "mirrored": mirrored,
    "renamed": renamed,
    "scaled": scaled,
    "other unit": in_other_unit,
    "one of each": lambda tree: with_quantity(tree, 1),
    "seven of each": lambda tree: with_quantity(tree, 7),
}
