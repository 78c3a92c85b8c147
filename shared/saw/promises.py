"""What lies on the sawhorses after the last cut, held against what the plan promised."""

from collections.abc import Iterator, Sequence

from shared.geometry import Rect
from shared.issues import Issue
from shared.plan import Cut, Offcut, Placement, Plan, PlanPart
from shared.saw.refusal import refusal
from shared.saw.sawhorses import PieceOnHand

_Spot = tuple[str, Rect]


def broken_promises(plan: Plan, pieces: Sequence[PieceOnHand]) -> Iterator[Issue]:
    """Yield every part that is no piece, and every piece that is neither part nor offcut."""
    left = {(piece.sheet, piece.rect): piece for piece in pieces}
    taken: set[_Spot] = set()
    parts = {part.id: part for part in plan.parts}
    for place in plan.placements:
        yield from _take_part(place, final_rect(place, parts.get(place.part)), left, taken)
    for offcut in plan.offcuts:
        yield from _take_offcut(offcut, left)
    for piece in left.values():
        said = f"Piece {piece.name} is left over, but is neither a part nor an offcut."
        yield refusal("piece-unnamed", piece.sheet, said)


def final_rect(place: Placement, part: PlanPart | None) -> Rect:
    """Return where a copy lies after its last cut: a blank loses stock at its far edges."""
    if part is None or not part.is_blank:
        return place.rect
    length, width = part.final[::-1] if place.turned else part.final
    return Rect(x=place.x, y=place.y, length=length, width=width)


def _take_part(
    place: Placement, final: Rect, left: dict[_Spot, PieceOnHand], taken: set[_Spot]
) -> Iterator[Issue]:
    spot = (place.sheet, final)
    who = f"Part {place.part}, copy {place.copy}"
    if left.pop(spot, None) is not None:
        taken.add(spot)
    elif spot in taken:
        yield refusal("part-overlaps", place.part, f"{who}: another part is this piece already.")
    else:
        yield refusal("part-not-sawn", place.part, f"{who}: no cut makes the piece it should be.")


def _take_offcut(offcut: Offcut, left: dict[_Spot, PieceOnHand]) -> Iterator[Issue]:
    spot = (offcut.sheet, offcut.rect)
    piece = left.get(spot)
    if piece is not None and piece.name == offcut.piece:
        del left[spot]
    else:
        said = f"Offcut {offcut.piece} of sheet {offcut.sheet}: no such piece is left over there."
        yield refusal("offcut-not-there", offcut.piece, said)


def unbalanced(plan: Plan, swept: int) -> Iterator[Issue]:
    """Refuse a plan whose parts, offcuts, dust and swept trim waste are not its sheets' area.

    ``swept`` is in square ticks; the sums are exact.
    """
    sheets = sum(sheet.rect.area for sheet in plan.sheets)
    parts = {part.id: part for part in plan.parts}
    records: Sequence[Offcut | Cut] = (*plan.offcuts, *plan.cuts)
    found = swept + sum(record.rect.area for record in records)
    found += sum(final_rect(place, parts.get(place.part)).area for place in plan.placements)
    if found != sheets:
        said = f"The areas do not balance: sheets {sheets}, all that comes of them {found}."
        yield refusal("areas-unbalanced", "", said)
