"""The loop in words: what stands under the drawing, and the whole of it for who cannot see it."""

from onedatum.paper.loop.elements import arranged, border_words, texts_of
from onedatum.paper.loop.grid import FAILS, WORST, columns_in
from onedatum.paper.loop.model import Column, LoopDrawing, Part, Row

CIRCUIT = "The loop as a circuit diagram: it shows what is in series, not how it is wired."
BUDGET = "Beneath it the supply budget, one column for each current."


def caption(drawing: LoopDrawing) -> str:
    """What stands under the drawing."""
    return f"{CIRCUIT} {BUDGET}" if drawing.rows else CIRCUIT


def description(drawing: LoopDrawing) -> str:
    """The drawing in words, every value of it, for who cannot see it."""
    parts = [said_part(part) for part in arranged(drawing)]
    said = [f"{drawing.title}." if drawing.title else "Loop."]
    said.append(f"From the left: {'; '.join(parts)}." if parts else "No element of the loop is stated.")
    if any(part.kind == "isolator" for part in drawing.parts):
        said.append("The isolator separates two loops.")
    said += [f"Boundary of the hazardous area: {border_words(drawing)}."] if drawing.border else []
    said += [f"Earth: {drawing.earth}."] if drawing.earth else []
    heads = [said_head(column) for column in drawing.columns]
    said += [f"Currents: {'; '.join(heads)}."] if heads else []
    said += [said_row(row, drawing) for row in drawing.rows]
    said += [f"{text}." for text in (drawing.longest, *drawing.note) if text]
    return " ".join(said)


def said_part(part: Part) -> str:
    """An element with its lines."""
    return ", ".join(text for text in (part.name or part.kind, *texts_of(part)) if text)


def said_head(column: Column) -> str:
    """A current with its name and what is to be said of it."""
    signs = [word for word, holds in ((WORST, column.worst), (FAILS, column.fails)) if holds]
    return ", ".join(text for text in (column.current, column.name, *signs) if text)


def said_row(row: Row, drawing: LoopDrawing) -> str:
    """A line of the budget, each value with its current."""
    cells = []
    for at, value in zip(range(columns_in(drawing)), row.values, strict=False):
        current = drawing.columns[at].current if at < len(drawing.columns) else ""
        cells.append(f"{value}{f' at {current}' if current else ''}{f', {FAILS}' if at in row.failing else ''}")
    return f"{row.name}: {'; '.join(cells)}."


def words_of(drawing: LoopDrawing) -> list[str]:
    """Every word that someone wrote."""
    found = [drawing.title, drawing.earth, drawing.longest, *drawing.note]
    if drawing.border is not None:
        found += [drawing.border.text_left, drawing.border.text_right]
    found += [word for part in drawing.parts for word in (part.name, *part.lines)]
    found += [word for column in drawing.columns for word in (column.current, column.name)]
    found += [word for row in drawing.rows for word in (row.name, *row.values)]
    return found
