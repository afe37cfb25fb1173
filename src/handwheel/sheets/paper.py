"""Pages with their frame: what is put on one after another, when a page is full, and what every frame says."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from handwheel.sheets.fonts import MM_PER_PT, text_width_mm, wrapped
from handwheel.sheets.moving import Picture, moved, split
from handwheel.sheets.primitives import Box, Item, Line, LineType, Page, Polyline, Text

SIZES_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
LEFT_MM, TOP_MM, RIGHT_MM, BOTTOM_MM = 16.0, 14.0, 12.0, 11.0
PAD_MM = 4.0
STRIP_MM = 10.0
HEAD_GAP_MM, LEAST_SPLIT_MM = 2.4, 40.0
"""Under a continued page's head; the least that is worth beginning of what is taller than a page."""
FRAME_PT, DIM_PT, WORK_PT, READ_PT, HEAD_PT = 7.5, 8.5, 10.0, 16.0, 14.0
EXAMPLE_TEXT = "Example workshop: these readings are not for your wheels."


@dataclass(frozen=True, slots=True)
class SheetMeta:
    """What the frames say of the job file. paper: 'A4' or 'Letter'; `job_date` and `revision` as they are printed."""

    job_file: str
    job_date: str
    revision: str
    paper: str = "A4"


def line_mm(size_pt: float) -> float:
    """From one baseline to the next. [mm]"""
    return size_pt * MM_PER_PT * 1.24


def text_block(
    text: str, width: float, size_pt: float = WORK_PT, bold: bool = False, light: bool = False
) -> Picture:
    """A paragraph broken to a width, its top at 0. [mm]"""
    step = line_mm(size_pt)
    lines = wrapped(text, width, size_pt, bold)
    items = tuple(Text(0.0, step * (k + 0.78), line, size_pt, bold, "start", light) for k, line in enumerate(lines))
    return Picture(items, width, step * len(lines))


def beside(parts: Iterable[tuple[float, Picture]]) -> Picture:
    """Pictures side by side, each at its x. [mm]"""
    kept = list(parts)
    items = tuple(moved(i, x, 0.0) for x, picture in kept for i in picture.items)
    return Picture(items, max(x + p.width for x, p in kept), max(p.height for _, p in kept))


def under(parts: Iterable[Picture], gap: float = 0.0, x: float = 0.0) -> Picture:
    """Pictures one under another. [mm]"""
    items: list[Item] = []
    y, width = 0.0, 0.0
    for picture in parts:
        if not picture.height:
            continue
        y += gap if items else 0.0
        items += [moved(i, x, y) for i in picture.items]
        y += picture.height
        width = max(width, picture.width)
    return Picture(tuple(items), width, y)


def table(
    rows: Sequence[Sequence[str]], widths: Sequence[float], head: bool = True, size_pt: float = WORK_PT
) -> Picture:
    """A plain table: a bold head, a rule under each row. [mm]"""
    out: list[Picture] = []
    for k, row in enumerate(rows):
        is_head = head and k == 0
        cells, x = [], 0.0
        for text, width in zip(row, widths, strict=True):
            cells.append((x, text_block(text, width - 3.0, DIM_PT if is_head else size_pt, is_head)))
            x += width
        cell = beside(cells)
        rule = Line(0.0, cell.height + 1.1, sum(widths), cell.height + 1.1, LineType.RULE)
        out.append(Picture((*cell.items, rule), sum(widths), cell.height + 2.0))
    return under(out)


@dataclass
class Composer:
    """Pages being filled. `subject` is what the frame says the present page is about. [mm]"""

    job: str
    meta: SheetMeta
    is_example: bool
    subject: str = ""
    y: float = 0.0
    pages: list[tuple[str, list[Item]]] = field(default_factory=list)
    running: Picture | None = None

    def __post_init__(self) -> None:
        self.page_width, self.page_height = SIZES_MM[self.meta.paper]

    @property
    def left(self) -> float:
        """Left edge of what is printed inside the frame. [mm]"""
        return LEFT_MM + PAD_MM

    @property
    def width(self) -> float:
        """Width inside the frame. [mm]"""
        return self.page_width - LEFT_MM - RIGHT_MM - 2 * PAD_MM

    @property
    def floor(self) -> float:
        """Where the room ends. [mm]"""
        return self.page_height - BOTTOM_MM - STRIP_MM - 1.5

    @property
    def whole(self) -> float:
        """The room of an empty page. [mm]"""
        return self.floor - TOP_MM - PAD_MM

    def start(self, subject: str) -> None:
        """A new page."""
        self.subject = subject
        self.running = None
        self.pages.append((subject, []))
        self.y = TOP_MM + PAD_MM

    def also(self, subject: str) -> None:
        """Something more on the present page, said in its frame too."""
        whole = f"{self.pages[-1][0]};  {subject}"
        self.subject = subject
        self.pages[-1] = (whole, self.pages[-1][1])

    def begin(self, subject: str, follows: float) -> None:
        """Something of its own: under what stands, where `follows` still has room there, else on a new page. [mm]"""
        self.running = None
        if not self.pages or follows > self.room():
            self.start(subject)
            return
        self.put(Picture((Line(0, 0.8, self.width, 0.8, LineType.HEAVY),), self.width, 1.6), 2.0)
        self.also(subject)

    def room(self) -> float:
        """What is left on this page. [mm]"""
        return self.floor - self.y

    def put(self, picture: Picture, gap: float = 2.0, x: float = 0.0) -> None:
        """The picture next on the page, or on a new page when there is no room."""
        if not picture.height:
            return
        if picture.height > self.room():
            is_fresh = self.y <= TOP_MM + PAD_MM
            if not is_fresh and picture.height <= self.whole - self._head().height - HEAD_GAP_MM:
                self._continue()
            else:  # taller than a page: cut across between its lines
                if not is_fresh and self.room() < LEAST_SPLIT_MM:
                    self._continue()
                parts = split(picture, self.room() - 1.0)
                if parts is not None:
                    self._place(parts[0], x)
                    self.y += gap
                    self._continue()
                    self.put(parts[1], gap, x)
                    return
        self._place(picture, x)
        self.y += gap

    def _place(self, picture: Picture, x: float) -> None:
        self.pages[-1][1].extend(moved(i, self.left + x, self.y) for i in picture.items)
        self.y += picture.height

    def _head(self) -> Picture:
        """What stands at the head of a page that goes on with what the last one began."""
        return self.running or text_block(f"{self.subject}, continued", self.width, WORK_PT, True)

    def _continue(self) -> None:
        running, head = self.running, self._head()
        self.start(self.subject)
        self.running = running
        self._place(head, 0.0)
        self.y += HEAD_GAP_MM

    def heading(self, text: str, follows: float = 12.0) -> None:
        """A heading that stays with at least `follows` of what comes after. [mm]"""
        block = text_block(text, self.width, HEAD_PT, True)
        if block.height + follows > self.room():
            self.start(self.subject)
        self.put(block, 1.5)

    def finished(self) -> list[Page]:
        """All pages with their frames."""
        frame = (LEFT_MM, TOP_MM, self.page_width - LEFT_MM - RIGHT_MM, self.page_height - TOP_MM - BOTTOM_MM)
        return [
            Page(self.page_width, self.page_height, subject, frame, (*items, *self._frame(subject, k + 1, frame)))
            for k, (subject, items) in enumerate(self.pages)
        ]

    def _frame(self, subject: str, number: int, frame: tuple[float, float, float, float]) -> list[Item]:
        x, y, width, height = frame
        top = y + height - STRIP_MM
        items: list[Item] = [Box(x, y, width, height, LineType.EDGE), Line(x, top, x + width, top, LineType.EDGE)]
        of = f"page {number} of {len(self.pages)}"
        right = x + width - PAD_MM
        items.append(Text(right, top + 4.1, of, FRAME_PT, True, "end"))
        what = f"revision {self.meta.revision}  ·  {self.meta.job_file} of {self.meta.job_date}"
        items.append(Text(right, top + 7.9, _cut(what, 0.55 * width, False), FRAME_PT, False, "end"))
        items.append(Text(x + PAD_MM, top + 4.1, _cut(f"{self.job}  ·  {subject}", 0.8 * width, True), FRAME_PT, True))
        if self.is_example:
            sign = ((x + PAD_MM, top + 8.1), (x + PAD_MM + 3.0, top + 8.1), (x + PAD_MM + 1.5, top + 5.5))
            items.append(Polyline(sign, LineType.THIN, True))
            items.append(Text(x + PAD_MM + 4.2, top + 7.9, EXAMPLE_TEXT, FRAME_PT, True))
        return items


def _cut(text: str, width: float, bold: bool) -> str:
    """The text shortened to a width, with a sign that it goes on."""
    if text_width_mm(text, FRAME_PT, bold) <= width:
        return text
    while text and text_width_mm(text + "…", FRAME_PT, bold) > width:
        text = text[:-1]
    return text + "…"
