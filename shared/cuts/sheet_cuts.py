"""The cuts of one sheet for an order of its passes: what is named, sawn off and left.

What a sheet's cuts say hangs on nothing but the sheet, its row, the shop and the order of its
own passes; only their numbers are counted over all sheets. So they are made once for each such
order, and numbered from what is there already.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from shared.cuts.forest import Forest, Leaf, Pass
from shared.cuts.naming import Names
from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Cut, CutKind, Keep, Offcut, Placement
from shared.remembered import Remembered
from shared.shop import Axis, Shop
from shared.stock import Stock
from shared.tree import Place, extent

ORDERS_KNOWN: Final = 4
"""For so many orders of its passes the cuts of a sheet are remembered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """An offcut, and when it comes to lie there.

    ``after`` counts the cuts of its sheet till then; ``stays`` says that the last of them leaves
    it, and does not saw it off.
    """

    after: int
    stays: bool
    offcut: Offcut


@dataclass(slots=True)
class MadeCuts:
    """The cuts of a sheet in their order, as they were numbered last, and what falls off."""

    cuts: list[Cut]
    falls: tuple[Fall, ...]

    def numbered(self, place: int, number: int) -> Cut:
        """Return the cut at a place in the order of the sheet, counted from 0, with a number."""
        cut = self.cuts[place]
        if cut.number != number:
            cut = self.cuts[place] = renumbered(cut, number)
        return cut


class SheetCuts:
    """Makes the cuts of a sheet, whose passes all stand in ``forest`` and no others do."""

    def __init__(self, sheet: str, row: Stock, shop: Shop, forest: Forest) -> None:
        self._sheet, self._row, self._shop, self._forest = sheet, row, shop, forest
        self.placements = tuple(placement_of(*placed) for placed in forest.placed)
        self._known: dict[tuple[int, ...], MadeCuts] = {}

    def made(self, order: tuple[int, ...]) -> MadeCuts:
        """Return the cuts in an order: of which run, by its place in the forest, each pass is."""
        known = self._known.get(order)
        if known is None:
            known = self._make(order)
            if len(self._known) >= ORDERS_KNOWN:
                self._known = {}
            self._known[order] = known
        return known

    def _make(self, order: Sequence[int]) -> MadeCuts:
        runs = self._forest.runs
        names = Names({self._sheet: self._row.named})
        pieces = {place: self._sheet for place, run in enumerate(runs) if run.parent < 0}
        done = [0] * len(runs)
        ends: dict[str | int, tuple[int, str]] = {}
        cuts: list[Cut] = []
        for place in order:
            run, piece = runs[place], pieces[place]
            one = run.passes[done[place]]
            done[place] += 1
            off = "" if one.kind is CutKind.TRIM else names.off(piece)
            cuts.append(self._cut(one, len(cuts) + 1, piece, off))
            ends[one.key] = len(cuts), off
            if one.opens is not None:
                pieces[one.opens] = off
            if done[place] == len(run.passes):
                ends[place] = len(cuts), piece
                if run.goes_on is not None:
                    pieces[run.goes_on] = piece
        falls = (leaf for leaf in self._forest.leaves if leaf.place is None)
        return MadeCuts(cuts, tuple(self._fall(leaf, ends) for leaf in falls))

    def _cut(self, made: Pass, number: int, piece: str, off: str) -> Cut:
        """Write down one cut."""
        dust = made.dust
        return Cut(
            number=number,
            sheet=self._sheet,
            kind=made.kind,
            level=made.level,
            tool=made.tool,
            kerf=made.kerf,
            x=dust.x,
            y=dust.y,
            length=dust.length,
            width=dust.width,
            piece=piece,
            off=off,
            setup=setup_key(made, self._shop.tool),
            running=self._running(made),
            size=made.size,
            keep=made.keep,
            key=made.key,
        )

    def _running(self, made: Pass) -> Length:
        """Return where the keep side lies from the trimmed reference edge or end."""
        trims, dust = self._row.trims, made.dust
        near = dust.y - trims.near if made.axis is Axis.RIP else dust.x - trims.start
        return near if made.keep is Keep.NEAR else near + extent(dust, made.axis)

    def _fall(self, leaf: Leaf, ends: dict[str | int, tuple[int, str]]) -> Fall:
        """Return what is no part; a sheet that no cut goes through is one as a whole."""
        after, piece = (
            ends[leaf.key or leaf.rest] if leaf.key or leaf.rest >= 0 else (0, leaf.sheet)
        )
        offcut = Offcut(
            sheet=leaf.sheet,
            piece=piece,
            x=leaf.rect.x,
            y=leaf.rect.y,
            length=leaf.rect.length,
            width=leaf.rect.width,
            keep=self._shop.keeps(leaf.rect.length, leaf.rect.width),
        )
        return Fall(after=after, stays=not leaf.key, offcut=offcut)


cuts_of_sheet = Remembered(SheetCuts, 512)
"""Takes what `SheetCuts` takes."""


def setup_key(made: Pass, rail_saw: str) -> str:
    """Return the key of a set-up: cuts of one key are made with one setting of guide or stop.

    ``rail_saw`` is the tool that is not named in keys.
    """
    if made.kind is CutKind.TRIM:
        return f"trim:{made.size}"
    if made.kind is CutKind.FINISH:
        return f"finish:{made.tool}:{made.size}"
    tool = "" if made.tool == rail_saw else f"{made.tool}:"
    return f"{made.level}:{tool}{made.size}"


def placement_of(sheet_id: str, place: Place, rect: Rect) -> Placement:
    """Return how a part lies that fills a piece of a sheet."""
    return Placement(
        part=place.part,
        copy=place.copy,
        sheet=sheet_id,
        x=rect.x,
        y=rect.y,
        length=rect.length,
        width=rect.width,
        turned=place.turned,
    )


def renumbered(cut: Cut, number: int) -> Cut:
    """Return a cut with another number: `replace`, twice as fast."""
    return Cut(
        number=number,
        sheet=cut.sheet,
        kind=cut.kind,
        level=cut.level,
        tool=cut.tool,
        kerf=cut.kerf,
        x=cut.x,
        y=cut.y,
        length=cut.length,
        width=cut.width,
        piece=cut.piece,
        off=cut.off,
        setup=cut.setup,
        running=cut.running,
        size=cut.size,
        keep=cut.keep,
        key=cut.key,
    )
