"""The pieces on the sawhorses, and one pass of the saw through one of them.

All arithmetic is on integer ticks in the frame of `shared.geometry`, and is written anew
here: what makes plans must not be what judges them.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from shared.geometry import Rect
from shared.issues import Issue
from shared.lengths import Length
from shared.plan import Cut, CutKind, PlanSheet
from shared.saw.refusal import unfit
from shared.shop import Axis


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceOnHand:
    """A piece on the sawhorses: its name, the sheet it comes from, where it was on it."""

    name: str
    sheet: str
    rect: Rect


@dataclass(frozen=True, slots=True, kw_only=True)
class SawPass:
    """One pass of the saw, across the cut from the reference edge or end outwards.

    Attributes
    ----------
    piece
        The piece as it lay before.
    axis
        Which way the saw ran.
    start, end
        Where the piece begins and ends at right angles to the cut, in ticks.
    dust_start, dust_end
        Where the dust begins and ends between them.
    """

    piece: PieceOnHand
    axis: Axis
    start: Length
    end: Length
    dust_start: Length
    dust_end: Length

    @property
    def near(self) -> Length:
        """What lies on the near side of the dust, in ticks at right angles to the cut."""
        return self.dust_start - self.start

    @property
    def far(self) -> Length:
        """What lies on the far side of the dust, in ticks at right angles to the cut."""
        return self.end - self.dust_end

    def part_of_piece(self, start: Length, size: Length) -> Rect:
        """Return the slice of the piece that begins at ``start`` in the sheet's frame."""
        whole = self.piece.rect
        if self.axis is Axis.RIP:
            return Rect(x=whole.x, y=start, length=whole.length, width=size)
        return Rect(x=start, y=whole.y, length=size, width=whole.width)


class Sawhorses:
    """Everything that lies in the shop, by name: at first the sheets, then their pieces."""

    def __init__(self, sheets: Iterable[PlanSheet]) -> None:
        self._pieces = {
            sheet.id: PieceOnHand(name=sheet.id, sheet=sheet.id, rect=sheet.rect)
            for sheet in sheets
        }
        self._names = set(self._pieces)
        self.swept = 0
        """Area of the waste that trims have left, in square ticks."""

    @property
    def pieces(self) -> tuple[PieceOnHand, ...]:
        """What lies there now; waste of trims has been swept away."""
        return tuple(self._pieces.values())

    def saw(self, cut: Cut) -> SawPass | Issue:
        """Make one cut, or say why no saw could make it; then nothing has changed."""
        piece = self._pieces.get(cut.piece)
        if piece is None:
            return unfit(cut, "cut-no-such-piece", f"piece {cut.piece} does not lie there", "piece")
        aimed = aim(cut, piece)
        if isinstance(aimed, Issue):
            return aimed
        wrong = next(_wrong_pass(cut, aimed), None) or self._wrong_name(cut)
        if wrong is not None:
            return wrong
        self._split(cut, aimed)
        return aimed

    def _wrong_name(self, cut: Cut) -> Issue | None:
        if cut.kind is CutKind.TRIM:
            if cut.off:
                return unfit(cut, "cut-off-name", f"a trim's waste has a name, {cut.off}", "off")
            return None
        if cut.off in self._names:
            return unfit(cut, "cut-off-name", f"there is or was a piece {cut.off} already", "off")
        if not cut.off.startswith(cut.piece):
            said = f"the name {cut.off!r} does not begin with that of piece {cut.piece}"
            return unfit(cut, "cut-off-name", said, "off")
        return None

    def _split(self, cut: Cut, done: SawPass) -> None:
        if cut.kind is CutKind.TRIM:
            self.swept += done.part_of_piece(done.start, done.near).area
        else:
            self._names.add(cut.off)
            self._lay(cut.off, done, done.start, done.near)
        if done.far:
            self._lay(cut.piece, done, done.dust_end, done.far)
        else:
            del self._pieces[cut.piece]

    def _lay(self, name: str, done: SawPass, start: Length, size: Length) -> None:
        rect = done.part_of_piece(start, size)
        self._pieces[name] = PieceOnHand(name=name, sheet=done.piece.sheet, rect=rect)


def aim(cut: Cut, piece: PieceOnHand) -> SawPass | Issue:
    """Lay the dust over the piece; refuse it unless it runs from edge to edge inside it."""
    if cut.sheet != piece.sheet:
        said = f"piece {piece.name} is of sheet {piece.sheet}, not {cut.sheet}"
        return unfit(cut, "cut-wrong-sheet", said, "sheet")
    dust, whole = cut.rect, piece.rect
    if dust.length < 0 or dust.width < 0 or not whole.contains(dust):
        return unfit(cut, "cut-outside-piece", f"its dust is not inside piece {piece.name}")
    if dust.x == whole.x and dust.length == whole.length:
        return SawPass(
            piece=piece,
            axis=Axis.RIP,
            start=whole.y,
            end=whole.bottom,
            dust_start=dust.y,
            dust_end=dust.bottom,
        )
    if dust.y == whole.y and dust.width == whole.width:
        return SawPass(
            piece=piece,
            axis=Axis.CROSSCUT,
            start=whole.x,
            end=whole.right,
            dust_start=dust.x,
            dust_end=dust.right,
        )
    return unfit(cut, "cut-stops-short", f"it does not run from edge to edge of piece {piece.name}")


def _wrong_pass(cut: Cut, aimed: SawPass) -> Iterator[Issue]:
    """Yield what is wrong with the thickness of the dust and with what it parts.

    The dust is one kerf thick; a skim is cut off by the far edge of the piece, a trim of
    less than a kerf by the factory edge.
    """
    if cut.kind is CutKind.TRIM:
        room, kept = aimed.dust_end - aimed.start, aimed.far
    else:
        room, kept = aimed.end - aimed.dust_start, aimed.near
    if kept <= 0 or room <= 0:
        yield unfit(cut, "cut-parts-nothing", f"it parts nothing from piece {cut.piece}")
    thick = aimed.dust_end - aimed.dust_start
    if thick != min(cut.kerf, room):
        said = f"its dust is {thick} thick, but the kerf takes {min(cut.kerf, room)}"
        yield unfit(cut, "cut-kerf", said, "kerf")
