"""Names of pieces on a diagram: where there is room beside the names of the parts."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper.lettering import Lettering, Whence
from layout_app.paper.letters import width_of
from layout_app.paper.millimetres import to_mm
from shared.drawing import Box, Fitted, NamedPiece, Role, SheetDrawing, Space, fit
from shared.geometry import Rect

NAMED = (Role.WASTE, Role.TRIM, Role.KEEPER, Role.PART)
"""Where the name of a block may stand, the emptiest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceNames:
    """Names that found room, each with the key of what it stands on; and lines for the rest."""

    inside: tuple[tuple[str, Fitted], ...]
    below: tuple[str, ...]


def name_pieces(
    drawing: SheetDrawing, named: Lettering, size: float, tags: Sequence[Space]
) -> PieceNames:
    """Name each part's piece in the part, each block of several parts within the block.

    ``size`` is the text size in mm. A block whose name has no room is said by its cuts.
    """
    taken = [*tags, *(found.block for _, found in named.inside)]
    inside: list[tuple[str, Fitted]] = []
    below: list[str] = []
    parts = [box for box in drawing.boxes if box.role is Role.PART]
    for piece in drawing.pieces:
        text, places = _said(piece, parts, drawing)
        found = next((one for one in _fitting(text, places, size, taken)), None)
        if found is not None:
            inside.append(found)
            taken.append(found[1].block)
        elif piece.divided and text:
            numbers = [tag.number for tag in drawing.tags if _within((tag.x, tag.y), piece.rect)]
            many = "cuts" if len(numbers) > 1 else "cut"
            below.append(f"{text}: {many} {numbers_in_words(numbers)}")
    return PieceNames(inside=tuple(inside), below=tuple(below))


def whence(drawing: SheetDrawing) -> Whence:
    """Return the piece that each label names, and the cut that frees it, by the label's key."""
    lying = {piece.rect: piece for piece in drawing.pieces if not piece.divided}
    found = ((label.key, lying.get(label.rect)) for label in drawing.labels)
    return {key: (piece.name, piece.freed) for key, piece in found if piece is not None}


def _said(
    piece: NamedPiece, parts: Sequence[Box], drawing: SheetDrawing
) -> tuple[str, Sequence[Box]]:
    """Return what is written of a piece and the boxes it may stand in; ``""`` for nothing."""
    held = [box for box in parts if piece.rect.contains(box.rect)]
    if piece.strip or not held:
        return "", ()
    if not piece.divided:
        return piece.name, held
    if len(held) == 1:
        return "", ()
    boxes = [box for box in drawing.boxes if piece.rect.contains(box.rect)]
    ordered = [box for role in NAMED for box in boxes if box.role is role]
    return f"block {piece.name}", ordered


def _fitting(
    text: str, places: Sequence[Box], size: float, taken: Sequence[Space]
) -> Iterator[tuple[str, Fitted]]:
    for box in places:
        found = fit((text,), (width_of(text),), _space(box.rect), (size,), taken, tight=True)
        if found is not None:
            waste = box.role in {Role.WASTE, Role.TRIM}
            yield (f"waste:{box.key}" if waste else box.key), found


def _within(spot: tuple[int, int], rect: Rect) -> bool:
    x, y = spot
    return rect.x <= x <= rect.right and rect.y <= y <= rect.bottom


def _space(rect: Rect) -> Space:
    return Space(
        x=to_mm(rect.x), y=to_mm(rect.y), length=to_mm(rect.length), width=to_mm(rect.width)
    )
