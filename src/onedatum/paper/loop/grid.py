"""The supply budget beneath the loop: one column for each current, set in several bands where the sheet is narrow."""

from dataclasses import dataclass

from onedatum.paper.loop.lines import Line, widest_px, wrapped
from onedatum.paper.loop.model import Column, LoopDrawing, Row
from onedatum.paper.ruler.look import Look
from onedatum.paper.ruler.svg import Style, Svg, text_width
from onedatum.paper.text import printable

PITCH_PX, AIR_PX, BAND_GAP_PX = 14.0, 4.5, 16.0
NAME_SHARE, CELL_SHARE, HEAD_WORD_PX = 0.38, 0.45, 74.0
GAP_PX, INSET_PX, WIDEST_PX = 16.0, 7.0, 128.0
CELL_LINES, HEAD_LINES = 4, 4
WORST, FAILS = "worst case", "fails"
NOTHING = "–"


@dataclass(frozen=True, slots=True)
class TableLine:
    """One line of the table: its name and its cells, already in lines of text."""

    name: tuple[Line, ...]
    cells: tuple[tuple[Line, ...], ...]
    strong: bool = False

    def height_px(self) -> float:
        """Height that its tallest cell needs."""
        return PITCH_PX * max([1, len(self.name), *(len(cell) for cell in self.cells)]) + AIR_PX


@dataclass(frozen=True, slots=True)
class Band:
    """The columns that stand side by side, under their heads."""

    head: TableLine | None
    rows: tuple[TableLine, ...]
    worst: tuple[bool, ...]

    def height_px(self) -> float:
        """Height of the head and all rows."""
        lines = self.rows if self.head is None else (self.head, *self.rows)
        return sum(line.height_px() for line in lines) + AIR_PX


@dataclass(frozen=True, slots=True)
class Grid:
    """The table, its bands one beneath the other."""

    bands: tuple[Band, ...]
    name_px: float
    column_px: float

    def height_px(self) -> float:
        """Height of all bands."""
        return sum(band.height_px() for band in self.bands) + BAND_GAP_PX * max(0, len(self.bands) - 1)


def grid_of(drawing: LoopDrawing, room_px: float, look: Look) -> Grid | None:
    """The table for a width; None where there is nothing in it."""
    count = columns_in(drawing)
    if not (drawing.rows or drawing.columns):
        return None
    heads = (*drawing.columns, *(Column("", "") for _ in range(count - len(drawing.columns))))
    names = [wrapped(row.name, name_style(row, look), room_px, 1) for row in drawing.rows]
    name = min(max((widest_px(lines) for lines in names), default=0.0) + GAP_PX, room_px * NAME_SHARE)
    need = max((need_px(drawing, heads, i, room_px, look) for i in range(count)), default=0.0)
    per_band = max(1, int((room_px - name) / need)) if need else 1
    bands = -(-count // per_band)
    size = -(-count // bands) if bands else 0
    column = min((room_px - name) / size, max(need, WIDEST_PX)) if size else 0.0
    groups = [range(at, min(at + size, count)) for at in range(0, count, size)] if size else [range(0)]
    return Grid(tuple(band_of(drawing, heads, g, name, column, look) for g in groups), name, column)


def columns_in(drawing: LoopDrawing) -> int:
    """How many columns: no value is dropped for want of a head."""
    return max([len(drawing.columns), *(len(row.values) for row in drawing.rows)])


def need_px(drawing: LoopDrawing, heads: tuple[Column, ...], at: int, room_px: float, look: Look) -> float:
    """Width a column needs so that no number is parted from its unit, within reason."""
    head, soft = heads[at], Style(look.tick_size, look.ink, True)
    wide = [text_width(printable(head.current).text, head_style(look))]
    wide += [min(text_width(word, soft), HEAD_WORD_PX) for word in printable(head.name).text.split(" ")]
    wide.append(widest_px(signs(head, soft)))
    for row in drawing.rows:
        text, style = cell(row, at, look)
        wide.append(text_width(printable(text).text, style))
    return min(max(wide) + GAP_PX, room_px * CELL_SHARE)


def signs(head: Column, style: Style) -> tuple[Line, ...]:
    """What a head says of its column in words."""
    said = [word for word, holds in ((WORST, head.worst), (FAILS, head.fails)) if holds]
    return (Line(", ".join(said), style),) if said else ()


def head_style(look: Look) -> Style:
    """How a current is set in the head."""
    return Style(look.readout_size, look.ink, True)


def name_style(row: Row, look: Look) -> Style:
    """How the name of a row is set."""
    return Style(look.mark_size, look.ink, row.strong)


def cell(row: Row, at: int, look: Look) -> tuple[str, Style]:
    """The text of a cell: a value that fails says so, besides being red."""
    value = row.values[at] if at < len(row.values) else NOTHING
    if at in row.failing:
        return f"{FAILS}: {value}", Style(look.mark_size, look.blocks, True)
    return value, Style(look.mark_size, look.ink, row.strong)


def band_of(
    drawing: LoopDrawing, heads: tuple[Column, ...], places: range, name_px: float, column_px: float, look: Look
) -> Band:
    """Some columns with all rows."""
    room = column_px - GAP_PX
    rows = []
    for row in drawing.rows:
        cells = tuple(wrapped(*cell(row, at, look), room, CELL_LINES) for at in places)
        name = wrapped(row.name, name_style(row, look), name_px - GAP_PX / 2, CELL_LINES)
        rows.append(TableLine(name, cells, row.strong))
    head = (
        TableLine((), tuple(head_lines(heads[at], room, look) for at in places)) if drawing.columns and places else None
    )
    return Band(head, tuple(rows), tuple(heads[at].worst for at in places))


def head_lines(head: Column, room_px: float, look: Look) -> tuple[Line, ...]:
    """Current, name, and what is to be said of the column; the worst is set bold."""
    current = head_style(look)._replace(bold=head.worst)
    name = Style(look.tick_size, look.ink if head.worst else look.secondary, head.worst)
    sign = Style(look.tick_size, look.blocks if head.fails else look.ink, True)
    said = [
        (text, style)
        for text, style in (
            (head.current, current),
            (head.name, name),
            *((line.text, line.style) for line in signs(head, sign)),
        )
    ]
    return tuple(line for text, style in said for line in wrapped(text, style, room_px, HEAD_LINES))


def draw_grid(svg: Svg, grid: Grid, left_px: float, top_px: float, look: Look) -> None:
    """All bands."""
    for band in grid.bands:
        draw_band(svg, band, grid, left_px, top_px, look)
        top_px += band.height_px() + BAND_GAP_PX


def draw_band(svg: Svg, band: Band, grid: Grid, left_px: float, top_px: float, look: Look) -> None:
    """The tint of the worst column, then the lines from the top, each strong one under a rule."""
    right = left_px + grid.name_px + grid.column_px * len(band.worst)
    for i, worst in enumerate(band.worst):
        if worst:
            x = left_px + grid.name_px + grid.column_px * i
            svg.rect(x + GAP_PX / 2, top_px, grid.column_px - GAP_PX / 2, band.height_px(), look.tint)
    y = top_px + AIR_PX / 2
    if band.head is not None:
        draw_line(svg, band.head, grid, left_px, y)
        y += band.head.height_px()
        svg.line(left_px, y, right, y, look.ink, 1.1)
    for i, line in enumerate(band.rows):
        if line.strong and i:
            svg.line(left_px, y, right, y, look.hairline, 0.8)
        draw_line(svg, line, grid, left_px, y)
        y += line.height_px()
    svg.line(left_px, top_px + band.height_px(), right, top_px + band.height_px(), look.ink, 1.1)


def draw_line(svg: Svg, line: TableLine, grid: Grid, left_px: float, top_px: float) -> None:
    """Name to the left, cells to the right of their columns, all from the same top."""
    for i, text in enumerate(line.name):
        svg.text(left_px, top_px + 12.5 + PITCH_PX * i, text.text, text.style)
    for at, texts in enumerate(line.cells):
        x = left_px + grid.name_px + grid.column_px * (at + 1) - INSET_PX
        for i, text in enumerate(texts):
            svg.text(x, top_px + 12.5 + PITCH_PX * i, text.text, text.style, "end")
