"""Large jobs to measure with: no two parts alike."""

from __future__ import annotations

LINKS = (
    "chamfer: tip", "cylinder: one", "fillet: root", "cylinder: two", "cone: three", "cylinder: four", "hollow: neck",
    "cylinder: five", "cone: six", "ball: knob", "cone: seven", "cylinder: eight", "round: belly", "cylinder: nine",
    "chamfer: rim", "groove: clip, in: two",
)  # fmt: skip
SIZES = 40


def levers(count: int) -> str:
    """So many parts, each a ball, a cone and a tenon."""
    lines = ["handwheel: 1", "job: Many", "units: mm", "parts:"]
    for n in range(count):
        lines += [
            f"  lever-{n}:",
            "    outside: [{ball: hub}, {cone: shank}, {cylinder: tenon}]",
            "    dimensions:",
            f"      hub diameter: {12 + 0.01 * n:.2f}",
            "      shank diameter at hub centre: 8",
            "      shank right diameter: 6.5",
            "      tenon diameter: 5",
            "      tenon length: 6",
            f"      overall length: {30 + 0.03 * n:.2f}",
        ]
    return "\n".join(lines) + "\n"


def shafts(count: int) -> str:
    """So many parts of forty dimensions each: chamfers, a fillet, cones, a hollow, a round, a ball, holes, a groove."""
    lines = ["handwheel: 1", "job: Many shafts", "units: mm", "parts:"]
    for n in range(count):
        lines += [
            f"  shaft-{n}:",
            "    outside: [" + ", ".join(f"{{{link}}}" for link in LINKS) + "]",
            "    inside: {from left: [{counterbore: wide}, {hole: deep}], from right: [{hole: back, thread: M6}]}",
            "    across: [{hole: pin, on: nine, at: nine middle, through: yes}]",
            "    dimensions:",
            *(f"      {phrase}: {value}" for phrase, value in shaft_sizes(n).items()),
        ]
    return "\n".join(lines) + "\n"


def shaft_sizes(n: int) -> dict[str, str]:
    """The dimensions of one of `shafts`."""
    d = 20 + 0.01 * n
    return {
        "tip length": "1", "tip angle to axis": "45 deg", "one diameter": f"{d - 8:.2f}",
        "one length": f"{15 + 0.01 * n:.2f}", "root radius": "1", "two diameter": f"{d:.2f}", "two length": "10",
        "three right diameter": f"{d - 4:.2f}", "three left diameter": f"{d - 1:.2f}", "three length": "12",
        "four diameter": f"{d - 4:.2f}", "four length": "8", "neck radius": "9",
        "neck right diameter": f"{d - 5:.2f}", "neck length": "10", "five right to knob centre": f"{30 + 0.005 * n:.3f}",
        "six left diameter": f"{d - 6:.2f}", "six diameter at knob centre": f"{d - 10:.2f}",
        "knob diameter": f"{d + 4:.2f}", "seven diameter at knob centre": f"{d - 8:.2f}", "seven taper": "1 in 20",
        "knob centre to seven right": "40", "eight diameter": f"{d - 11:.2f}", "eight length": "9",
        "belly right diameter": f"{d - 12:.2f}", "belly radius": "14", "belly length": "11", "rim length": "1",
        "rim angle to axis": "45 deg", "overall length": f"{195 + 0.02 * n:.2f}", "wide diameter": "8",
        "wide depth": "6", "deep diameter": "5", "deep depth": "25", "back depth": "15", "clip width": "1.3",
        "clip depth": "0.6", "two left to clip left": "3", "pin diameter": "3", "five length": "12",
    }  # fmt: skip


def stack(count: int) -> str:
    """Parts tied into one: each seated on the last, tenons and sockets of one size, lengths over every five."""
    lines = ["handwheel: 1", "job: Stack", "units: mm", "parts:"]
    for n in range(count):
        lines += [
            f"  link-{n}:",
            "    outside: [{cylinder: body}, {cone: shank}, {ball: knob, flat: right}, {cylinder: tenon}]",
            "    inside: {from left: [{bore: socket}]}",
            "    dimensions:",
            f"      body diameter: {20 + 0.01 * n:.2f}",
            "      body length: 8",
            f"      shank left diameter: {16 + 0.01 * n:.2f}",
            "      shank diameter at knob centre: 10",
            f"      knob diameter: {15 + 0.02 * n:.2f}",
            "      knob right diameter: 11",
            f"      tenon diameter: {f'same as tenon diameter of link-{n - 1}' if n else '7.5'}",
            "      tenon length: 6",
            "      socket depth: 6.2",
            f"      socket diameter: {f'same as tenon diameter of link-{n - 1} + 0.1' if n else '7.6'}",
        ]
        if n % 5 != 4:
            lines.append(f"      body right to knob centre: {25 + 0.1 * (n % 7):.1f}")
    lines += ["assemblies:", "  stack:", "    seats:"]
    lines += [f"      - body left of link-{n} on knob right of link-{n - 1}" for n in range(1, count)]
    lines.append("    dimensions:")
    for n in range(4, count, 5):
        lines.append(f"      body left of link-{n - 4} to knob centre of link-{n}: {200 + 0.2 * n:.1f}")
    return "\n".join(lines) + "\n"
