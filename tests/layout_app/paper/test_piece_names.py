"""Names of pieces on diagrams: where the saw leaves them, beside the sheet or in the part."""

import pytest

from layout_app.paper import ink
from layout_app.paper.diagram import Diagram, diagram
from layout_app.paper.pens import COLOURED, PaperHand
from shared.drawing import Role, SheetDrawing, draw_sheet
from shared.geometry import Rect
from shared.lengths import MM
from shared.saw import after
from tests.layout_app.paper import packs

SEEDS = range(0, 12, 2)


def drawn(seed: int) -> list[tuple[SheetDrawing, Diagram]]:
    """Return the sheets of a random job as diagrams, text a fiftieth of their length."""
    return [
        (one, diagram(one, PaperHand(size=one.rect.length / MM / 50, colours=COLOURED)))
        for one in packs.matter(seed).drawings
    ]


def names(made: Diagram) -> list[tuple[ink.Words, ink.Spread]]:
    """Return the names of pieces on a diagram."""
    (group,) = (one for one in made.items if isinstance(one, ink.Group) and one.name == "pieces")
    return list(ink.words_on(group.items))


@pytest.mark.parametrize("seed", SEEDS)
def test_what_lies_there_in_the_end_is_named_as_the_saw_has_it(seed: int) -> None:
    """Names and places of the last pieces are those of the simulated saw."""
    plan = packs.matter(seed).plan
    for sheet in plan.sheets:
        cuts = [cut for cut in plan.cuts if cut.sheet == sheet.id]
        drawing = draw_sheet(plan, sheet.id, packs.matter(seed).style)
        sawn = {piece.name: piece.rect for piece in after([sheet], cuts)}
        told = {piece.name: piece.rect for piece in drawing.pieces if not piece.divided}
        assert told == {name: rect for name, rect in sawn.items() if name != sheet.id}
        assert {cut.piece for cut in cuts if cut.level > 1} <= {p.name for p in drawing.pieces}


@pytest.mark.parametrize("seed", SEEDS)
def test_each_strip_is_named_beside_the_sheet(seed: int) -> None:
    """Once, outside the sheet."""
    found = 0
    for drawing, made in drawn(seed):
        sheet = ink.Spread(x=0, y=0, length=drawing.rect.length / MM, width=drawing.rect.width / MM)
        outside = [word.text for word, room in names(made) if not room.meets(sheet)]
        assert sorted(outside) == sorted(piece.name for piece in drawing.pieces if piece.strip)
        found += len(outside)
    assert found


@pytest.mark.parametrize("seed", SEEDS)
def test_a_name_within_the_sheet_stands_in_its_piece(seed: int) -> None:
    """That of a part in the part, of a block in the block; a block without one is listed."""
    for drawing, made in drawn(seed):
        parts = [box.rect for box in drawing.boxes if box.role is Role.PART]
        strips = {piece.name for piece in drawing.pieces if piece.strip}
        written = {word.text: room for word, room in names(made) if word.text not in strips}
        listed = " ".join(text for _, text in made.below)
        for piece in drawing.pieces:
            text = f"block {piece.name}" if piece.divided else piece.name
            if text in written:
                assert within(written.pop(text), piece.rect), text
            elif piece.divided and not piece.strip:
                assert sum(map(piece.rect.contains, parts)) < 2 or f"{text}: cut" in listed
        assert not written


def within(room: ink.Spread, rect: Rect) -> bool:
    """Say whether words stand in a rectangle of ticks."""
    low = room.x * MM >= rect.x and room.y * MM >= rect.y
    return low and room.right * MM <= rect.right + 1 and room.bottom * MM <= rect.bottom + 1
