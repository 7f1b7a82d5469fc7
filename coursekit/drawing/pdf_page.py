"""The pages of a printed sheet: type, tables and figures by fpdf2, in a quiet house style."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from io import BytesIO
from itertools import chain
from pathlib import Path

from fpdf import FPDF
from fpdf.enums import Align, TableBordersLayout, VAlign, WrapMode
from fpdf.fonts import FontFace, TTFFont

from coursekit.drawing.pdf_sheet import Facts, Figure, NewPage, Part, Sheet, Table, Text

MARGIN, FOOT = 17.0, 22.0
"""Millimetres round the text, and kept free below it."""
TITLE, HEADING, BODY, SMALL = 17.0, 12.0, 9.5, 8.0
"""Sizes of type in points."""
LEADING = 1.35
"""The distance of two lines, in sizes of type."""
GAP = 3.0
BAR = 1.2
LABEL_SHARE = 0.3
"""The share of the width that the names of facts take."""
LEAST_ROOM = 28.0
"""A heading with less room than this below it goes to the next page."""
INK, SOFT, RULE, SHADE = (20, 24, 28), (80, 86, 92), (150, 156, 162), (240, 242, 244)
PAPER = (255, 255, 255)
FAMILY, LAST = "dejavu", "last-resort"


class Page(FPDF):
    """A document that knows what stands at the head and the foot of its pages."""

    def __init__(self, sheet: Sheet) -> None:
        super().__init__(format=sheet.paper)
        self._sheet = sheet
        self._describe()
        self._load_fonts()
        self.set_margins(MARGIN, MARGIN, MARGIN)
        self.c_margin = 0
        self.set_auto_page_break(auto=True, margin=FOOT)
        self.add_page()
        self._write(sheet.title, TITLE, "B")
        self.start_section(sheet.title)
        self.ln(GAP)

    def put(self, part: Part) -> None:
        """Set the next part below what is there."""
        if isinstance(part, NewPage):
            self.add_page()
            return
        if part.heading:
            self._head(part.heading)
        match part:
            case Facts():
                self._facts(part)
            case Text():
                self._text(part)
            case Table():
                self._table(part)
            case Figure():
                self._figure(part)
        self.ln(GAP)

    def header(self) -> None:
        """Say at the head of a page what it belongs to."""
        self.set_y(9)
        self._line_of(self._sheet.school, self._sheet.kind)
        self.set_draw_color(*RULE)
        self.line(MARGIN, self.get_y() + 5, self.w - MARGIN, self.get_y() + 5)
        self.set_y(MARGIN + 2)

    def footer(self) -> None:
        """Say at the foot of a page what the sheet is not, and which page it is."""
        self.set_y(-FOOT + 5)
        self._type(SMALL)
        self.set_text_color(*SOFT)
        numbers = self._sheet.page_of.format(page=self.page_no(), pages="{nb}")
        top, wide = self.get_y(), self.epw - 30
        self.multi_cell(wide, _line(SMALL), self._sheet.caution, align="L")
        self.set_xy(MARGIN + wide, top)
        self.cell(30, _line(SMALL), numbers, align="R")
        self.set_text_color(*INK)

    def _describe(self) -> None:
        sheet = self._sheet
        self.set_title(sheet.title)
        self.set_subject(sheet.kind)
        self.set_author(sheet.school)
        self.set_lang(sheet.language)
        self.set_producer("coursekit")
        self.set_creation_date(sheet.at)

    def _load_fonts(self) -> None:
        self.add_font(FAMILY, "", _fonts() / "DejaVuSans.ttf")
        self.add_font(FAMILY, "B", _fonts() / "DejaVuSans-Bold.ttf")
        font = self.fonts[FAMILY]
        if isinstance(font, TTFFont) and any(
            ord(sign) not in font.cmap for text in _texts(self._sheet) for sign in set(text)
        ):
            # It has a frame with a hint of the script for every sign there is.
            self.add_font(LAST, "", _fonts() / "LastResortHE-Regular.ttf")
            self.set_fallback_fonts([LAST], exact_match=False)
        self.set_text_color(*INK)

    def _type(self, size: float, style: str = "") -> None:
        self.set_font(FAMILY, style, size)

    def _write(self, text: str, size: float = BODY, style: str = "") -> None:
        self._type(size, style)
        self.multi_cell(
            0, _line(size), text, align="L", new_x="LMARGIN", new_y="NEXT", wrapmode=WrapMode.WORD
        )

    def _line_of(self, left: str, right: str) -> None:
        self._type(SMALL)
        self.set_text_color(*SOFT)
        self.set_x(MARGIN)
        self.cell(self.epw / 2, 4, self._cut(left, self.epw / 2))
        self.cell(self.epw / 2, 4, self._cut(right, self.epw / 2), align="R")
        self.set_text_color(*INK)

    def _cut(self, text: str, room: float) -> str:
        """Return as much of a text as fits on one line."""
        if self.get_string_width(text) < room - 2:
            return text
        while text and self.get_string_width(f"{text}…") > room - 2:
            text = text[:-1]
        return f"{text}…"

    def _head(self, heading: str) -> None:
        if self.will_page_break(LEAST_ROOM):
            self.add_page()
        self.start_section(heading, level=1)
        self._write(heading, HEADING, "B")
        self.ln(1)

    def _facts(self, facts: Facts) -> None:
        self._type(BODY)
        with self.table(
            borders_layout=TableBordersLayout.NONE,
            col_widths=(LABEL_SHARE, 1 - LABEL_SHARE),
            first_row_as_headings=False,
            line_height=_line(BODY),
            text_align="LEFT",
            v_align=VAlign.T,
            padding=(0.5, 2, 0.5, 0),
        ) as table:
            for name, value in facts.rows:
                row = table.row()
                row.cell(name, style=FontFace(color=SOFT))
                row.cell(value)

    def _text(self, text: Text) -> None:
        if not text.warns:
            self._write(text.text)
            return
        self.set_left_margin(MARGIN + 4)
        self.set_x(MARGIN + 4)
        top, page = self.get_y(), self.page_no()
        self._write(text.text, BODY, "B")
        self.set_left_margin(MARGIN)
        if self.page_no() == page:
            self.set_fill_color(*INK)
            self.rect(MARGIN, top, BAR, self.get_y() - top, style="F")
            self.set_fill_color(*PAPER)

    def _table(self, table: Table) -> None:
        sides = ["RIGHT" if n in table.numbers else "LEFT" for n in range(len(table.head))]
        self._type(SMALL + 0.5)
        with self.table(
            borders_layout=TableBordersLayout.HORIZONTAL_LINES,
            col_widths=tuple(table.widths) or tuple(1.0 for _ in table.head),
            headings_style=FontFace(emphasis="BOLD", fill_color=SHADE),
            line_height=_line(SMALL + 0.5),
            text_align=tuple(sides),
            v_align=VAlign.T,
            padding=(0.8, 1.4, 0.8, 1.4),
        ) as drawn:
            for cells in (table.head, *table.rows):
                row = drawn.row()
                for cell in cells:
                    row.cell(cell)

    def _figure(self, figure: Figure) -> None:
        width = self.epw * figure.width
        self.image(BytesIO(figure.png), w=width, x=Align.C, alt_text=figure.description)


def _line(size: float) -> float:
    """Return the distance of two lines in millimetres, for type of a size in points."""
    return size * LEADING * 25.4 / 72


def _texts(sheet: Sheet) -> Iterator[str]:
    yield from (sheet.title, sheet.kind, sheet.school, sheet.caution, sheet.page_of)
    for part in sheet.parts:
        match part:
            case Facts():
                yield from chain.from_iterable(part.rows)
            case Text():
                yield part.text
            case Table():
                yield from chain(part.head, *part.rows)
            case _:
                continue
        yield part.heading


@cache
def _fonts() -> Path:
    """Return the folder of the open fonts that come with the drawing library."""
    import matplotlib as mpl

    return Path(mpl.get_data_path()) / "fonts" / "ttf"
