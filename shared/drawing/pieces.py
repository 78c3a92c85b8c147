"""Where the pieces lie that cuts make of a sheet, by their names."""

from collections.abc import Iterator, Sequence

from shared.drawing.marks import axis_at, sides, top_level
from shared.drawing.records import NamedPiece
from shared.plan import Cut, PlanSheet


def named_pieces(sheet: PlanSheet, cuts: Sequence[Cut]) -> Iterator[NamedPiece]:
    """Yield the pieces that are cut further, then what lies there in the end; in sawing order.

    The sheet itself is none of them, but what is left of it once its strips are sawn off is.
    Cuts of pieces of which nothing is known are passed over.
    """
    top, lying, strips = top_level(sheet), {sheet.id: sheet.rect}, set[str]()
    opened, freed = set[str](), dict[str, int]()
    for cut in cuts:
        if cut.piece not in lying:
            continue
        if cut.piece not in opened and cut.level != top:
            strip = cut.piece in strips or cut.piece == sheet.id
            yield NamedPiece(
                name=cut.piece,
                rect=lying[cut.piece],
                strip=strip,
                divided=True,
                freed=freed.get(cut.piece, 0),
            )
        if cut.level != top:
            opened.add(cut.piece)
        near, far = sides(cut.rect, lying[cut.piece], axis_at(cut.level, sheet))
        lying[cut.piece], freed[cut.piece], freed[cut.off] = far, cut.number, cut.number
        if cut.off:
            lying[cut.off] = near
        if cut.level == top:
            strips.add(cut.off)
    for name, rect in lying.items():
        if rect.area and name != sheet.id:
            yield NamedPiece(
                name=name, rect=rect, strip=name in strips - opened, freed=freed.get(name, 0)
            )
