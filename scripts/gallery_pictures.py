"""Draws every part of the gallery for docs/gallery.md: `python scripts/gallery_pictures.py`.

Each part as on its card, with its sizes, and the page that lists them.
"""

from __future__ import annotations

import re
from pathlib import Path

from handwheel.cli.load import load_job, size_with
from handwheel.cli.make import load_workshop
from handwheel.plan.route import plan_job
from handwheel.sheets.cardpic import card_picture
from handwheel.sheets.pdf import pages_png
from handwheel.sheets.primitives import Page

ROOT = Path(__file__).resolve().parents[1]
WIDE_MM, TALL_MM, PPI = 150.0, 40.0, 120.0
HEAD = """# Gallery

Parts of our own, and some as someone describes them across a bench, each planned with the example workshop or
refused. The job files are in `gallery/`; `handwheel make gallery/NAME.yaml` makes their sheets.
Boxed sizes are worked out; the dashed outline is the blank.
"""


def main() -> None:
    folder = ROOT / "docs" / "gallery"
    folder.mkdir(exist_ok=True)
    lines = [HEAD]
    for path in sorted((ROOT / "gallery").glob("*.yaml")):
        job = load_job(str(path))
        drawing, _ = size_with(job, (), None)
        plans = {p.part: p for p in plan_job(drawing, load_workshop(job)).parts}
        lines.append(f"## {job.name}\n")
        for part in drawing.parts:
            picture, _ = card_picture(part, plans[part.name], job.units, WIDE_MM, TALL_MM)
            name = re.sub(r"[^a-z0-9]+", "-", f"{path.stem} {part.name}") + ".png"
            page = Page(picture.width, picture.height, part.name, (0.0, 0.0, 0.0, 0.0), picture.items)
            (folder / name).write_bytes(pages_png([page], PPI)[0])
            stages = plans[part.name].stages
            route = ", ".join(dict.fromkeys(s.operation.kind for s in stages))
            told = f"refused: {plans[part.name].refused}" if not stages else f"{len(stages)} operations: {route}"
            lines.append(f"**{part.name}**: {told}.\n\n![{part.name}](gallery/{name})\n")
    (ROOT / "docs" / "gallery.md").write_text("\n".join(lines), encoding="utf-8")


if __name__ == "__main__":
    main()
