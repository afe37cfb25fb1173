"""Jobs made at random to be laid out: stepped parts with grooves, chamfers and holes, crowded with dimensions."""

from __future__ import annotations

from random import Random

WORDS = ("hub", "journal", "register", "neck", "collar", "spigot", "land", "seat", "nose", "tail", "flange", "stem")
TOLERANCES = ("", "", " h7", " ± 0.02", " +0.05 -0.02", " ± 0.1", " +0.012/-0.003")
MATERIALS = ("free-cutting mild steel", "brass", "silver steel", "an alloy nobody here has a bar of")
NOTES = ("", "drawn on sheet 3, and to be left bright all over after the last fitting", "boiler fitting", "polished")


def random_job(seed: int) -> str:
    """The text of a job of one to four parts, in millimetres, and an assembly where two parts go together."""
    random = Random(seed)
    count = random.randint(1, 4)
    lines = ["handwheel: 1", f"job: Random job {seed}", "units: mm", "parts:"]
    for k in range(count):
        lines += _part(f"part {chr(97 + k)}", random)
    if count > 1:
        lines += ["assemblies:", "  together:", "    seats:", "      - left end of part b on right end of part a"]
    return "\n".join(lines) + "\n"


def _part(name: str, random: Random) -> list[str]:
    steps = random.sample(WORDS, random.randint(1, 7))
    radii = [round(random.uniform(2.0, 12.0), random.choice((0, 1, 3))) for _ in steps]
    lengths = [round(random.choice((random.uniform(0.6, 3.0), random.uniform(4.0, 25.0))), random.choice((1, 2))) for _ in steps]
    out = [f"  {name}:", f"    quantity: {random.choice((1, 2, 3, 7, 12, 30))}",
           f"    material: {random.choice(MATERIALS)}", "    outside:"]  # fmt: skip
    note = random.choice(NOTES)
    sizes: list[str] = []
    for k, (step, radius, length) in enumerate(zip(steps, radii, lengths, strict=True)):
        if k and radii[k - 1] == radius:
            radius = radii[k] = radius + 0.7
        out.append(f"      - cylinder: {step}")
        sizes.append(f"      {step} diameter: {2 * radius:.3f}{random.choice(TOLERANCES)}")
        sizes.append(f"      {step} length: {length}{random.choice(('', ' ± 0.05', ' +0.1 -0'))}")
        if length > 4.0 and random.random() < 0.4:
            out.append(f"      - {{groove: {step}-clip, in: {step}}}")
            sizes += [f"      {step}-clip width: {random.uniform(0.5, 1.6):.2f}",
                      f"      {step}-clip diameter: {2 * radius - random.uniform(0.4, 1.2):.2f} ± 0.03",
                      f"      {step} left to {step}-clip left: {random.uniform(0.6, 1.8):.2f}"]  # fmt: skip
    if random.random() < 0.5:
        out += ["    inside:", "      from left:", "        - hole: eye"]
        sizes += [f"      eye diameter: {min(2.0 * min(radii) * 0.5, 8.0):.1f}{random.choice(('', ' H7'))}",
                  f"      eye depth: {0.5 * sum(lengths):.1f}"]  # fmt: skip
    if note:
        out.insert(3, f"    note: {note}")
    return [*out, "    dimensions:", *sizes]
