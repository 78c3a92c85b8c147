"""Which face of each piece is up as the cuts go on, and whether what splinters is guarded."""

import re
from collections.abc import Iterator
from typing import Final

from shared.making.record import Bed, CutRecord, Face, Guard, Way
from shared.plan import Cut, Keep, Plan
from shared.saw.laid import Lies
from shared.saw.promises import final_rect
from shared.saw.sawhorses import SawPass
from shared.shop import Axis, Shop
from shared.stock import SheetGrain

_CHIPS: Final = frozenset(
    ("melamine", "laminate", "hpl", "mfc", "lacquer", "lacquered", "acrylic", "foil")
)
"""Facings that are brittle in every direction."""


class FacesThere:
    """Turns the pieces of a plan over as the records say, and only so."""

    def __init__(self, plan: Plan, shop: Shop) -> None:
        self._shop = shop
        self._sheets = {sheet.id: sheet for sheet in plan.sheets}
        parts = {part.id: part for part in plan.parts}
        self._shown: dict[str, list[tuple[int, int, int, int]]] = {}
        for one in plan.placements:
            if parts[one.part].show:
                rect = final_rect(one, parts[one.part])
                lines = rect.x, rect.right, rect.y, rect.bottom
                self._shown.setdefault(one.sheet, []).append(lines)
        self._up: dict[str, Face] = {}

    def faults(self, cut: Cut, done: SawPass, record: CutRecord, there: Lies) -> Iterator[str]:
        """Yield what is wrong with the face that is up, and with what guards it."""
        up = record.up
        before = self._up.get(cut.piece, up)
        if record.turn_over is not (before is not up):
            yield f"its {before} was up, and it is not turned over as it says"
        if record.turn_over and 0 < self._shop.lift_g < there.grams:
            yield "its piece is too heavy to be turned over"
        if (up is Face.EITHER) is (cut.sheet in self._shown):
            yield f"the {up} is up, unlike its parts ask for"
        self._up[cut.piece] = up
        if cut.off:
            self._up[cut.off] = up
        yield from self._guarded(cut, done, record)

    def _guarded(self, cut: Cut, done: SawPass, record: CutRecord) -> Iterator[str]:
        near, far = self._edges(cut, done, near=True), self._edges(cut, done, near=False)
        matters = (near or far) and self._splinters(cut, done)
        if record.face_matters is not matters:
            yield "a show face splinters there" if matters else "no show face splinters there"
        bare = record.face_matters and self._bare(cut, record, near=near, far=far)
        if bool(record.guards) is not bare:
            yield "a show face is bare" if bare else "nothing is bare that is guarded"
        fitted = Guard.SPLINTER_GUARD in record.guards
        if record.guards and fitted is not (record.way is Way.RAIL and self._shop.splinter_guard):
            yield "the splinter guard is for a saw on a rail that has one"

    def _bare(self, cut: Cut, record: CutRecord, *, near: bool, far: bool) -> bool:
        """Whether a show face lies where neither a strip nor the way it lies guards it."""
        if record.way is Way.RAIL:
            led_near = (cut.keep is Keep.NEAR) is (record.bed is not Bed.WASTE)
            return record.up is Face.SHOW and (far if led_near else near)
        down = record.way is not Way.FENCE
        return record.up is not (Face.BACK if down else Face.SHOW)

    def _splinters(self, cut: Cut, done: SawPass) -> bool:
        """Whether it runs across the grain, or through a facing that chips any way."""
        sheet = self._sheets[cut.sheet]
        along = SheetGrain.ALONG_L if done.axis is Axis.RIP else SheetGrain.ALONG_W
        if sheet.grain not in {SheetGrain.NONE, along}:
            return True
        words = re.split(r"[^a-z]+", sheet.material.lower())
        veneered = any(word.startswith("veneer") for word in words)
        return not _CHIPS.isdisjoint(words) or (veneered and sheet.grain is SheetGrain.NONE)

    def _edges(self, cut: Cut, done: SawPass, *, near: bool) -> bool:
        """Whether the dust runs along an edge of a part that is shown, on one side of it."""
        whole = done.piece.rect
        line = done.dust_start if near else done.dust_end
        for left, right, top, bottom in self._shown.get(cut.sheet, ()):
            if done.axis is Axis.RIP:
                meets, beside = (bottom if near else top), left < whole.right and whole.x < right
            else:
                meets, beside = (right if near else left), top < whole.bottom and whole.y < bottom
            if beside and meets == line:
                return True
        return False
