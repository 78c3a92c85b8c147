"""What is seen of parts in the hand: where they would lie, the verdict, and distances."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF

from layout_app.bench.bubble import Bubble
from layout_app.bench.frame import Stand, to_rectf
from layout_app.bench.measures import Board, Measures, line_of, written
from layout_app.bench.overlays import Ghost, Lifted, Lines, Troubled
from layout_app.look import pens
from layout_app.model.carried import Cargo, Piece
from layout_app.model.project import Copy
from layout_app.model.snapping import Guide
from shared.lengths import format_pair
from shared.plan import Placement
from shared.stock import SheetGrain

if TYPE_CHECKING:
    from layout_app.bench.carrying import Carrying


class CargoShown:
    """The overlays of parts that are carried."""

    def __init__(self, carrying: "Carrying", cargo: Cargo) -> None:
        self._carrying, self._hand = carrying, carrying.hand
        theme = self._hand.scene.theme
        self._ghosts = {piece.key: self._ghost(piece) for piece in cargo.pieces}
        self._bubble, self._lines = Bubble(theme), Lines(theme)
        self._others, self._measures = Troubled(theme), Measures(theme)
        carrying.show(*self._lifted(cargo), self._others, *self._ghosts.values())
        carrying.show(self._lines, self._measures, self._bubble)

    def draw(self, guides: tuple[Guide, ...]) -> None:
        """Draw everything where it is held now; words alone while keys hold it on no sheet."""
        carrying, hand = self._carrying, self._hand
        aloft = carrying.pointer is None and not carrying.held.sheet
        rects = [] if aloft else [self._lay(one) for one in carrying.placements()]
        away = carrying.verdict.troubled - set(carrying.taken.keys)
        self._others.show_rects(hand.scene.rects_of(away))
        stand = hand.scene.floor.of(carrying.held.sheet)
        self._lines.show_lines([line_of(stand, guide) for guide in guides] if stand else [])
        if carrying.pointer is None and rects:
            hand.screen.reveal(rects[0])
        self._measure(stand, guides)
        self._bubble.say((*carrying.verdict.lines, carrying.name), good=carrying.verdict.good)
        corner = rects[0].topRight() if rects else hand.screen.sight.topRight()
        at = carrying.pointer or corner
        said = hand.put_bubble(self._bubble, at, self._measures.places)
        self._measures.give_way(said)
        for ghost in self._ghosts.values():
            ghost.keep_off((said, *self._measures.plates))

    def _measure(self, stand: Stand | None, guides: tuple[Guide, ...]) -> None:
        carrying, screen = self._carrying, self._hand.screen
        if stand is None or carrying.held.waits:
            self._measures.show_written([])
            return
        board = Board(screen.sight, screen.scale_px, self._hand.document.job.style)
        frame = carrying.frame(carrying.held)
        self._measures.show_written(written(stand, frame, carrying.ground(), guides, board))

    def _lay(self, one: Placement) -> QRectF:
        stand = self._hand.scene.floor.of(one.sheet)
        rect = to_rectf(one.rect)
        if stand is not None:
            rect = rect.translated(stand.x, stand.y)
        key, good = (one.part, one.copy), self._is_good((one.part, one.copy))
        self._ghosts[key].lie(rect, good=good, grain_along_x=self._grain(one.sheet))
        return rect

    def _is_good(self, key: Copy) -> bool:
        """Say whether this one may lie there; all are to blame where none is named."""
        verdict, keys = self._carrying.verdict, self._carrying.taken.keys
        return verdict.good or (
            key not in verdict.troubled and not verdict.troubled.isdisjoint(keys)
        )

    def _ghost(self, piece: Piece) -> Ghost:
        scene, job = self._hand.scene, self._hand.document.job
        part = job.part(piece.part)
        lines = part.name, format_pair(part.cut_length, part.cut_width, job.style)
        return Ghost(scene.theme, lines, pens.tint(scene.theme, scene.tint_of(piece.key)))

    def _lifted(self, cargo: Cargo) -> list[Lifted]:
        """Return the places that the parts were taken from."""
        scene = self._hand.scene
        return [Lifted(scene.theme, rect) for rect in scene.rects_of(cargo.keys)]

    def _grain(self, sheet: str) -> bool | None:
        """Say whether the grain runs along x on a sheet."""
        if not sheet:
            return None
        grain = self._hand.sheets.stock(sheet).grain
        return None if grain is SheetGrain.NONE else grain is SheetGrain.ALONG_L
