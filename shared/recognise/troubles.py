"""Why parts cannot be cut as they lie, and which of them to move."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

from shared.geometry import Rect
from shared.lengths import Length
from shared.plan import Placement
from shared.recognise.allowed import Beyond
from shared.recognise.boxes import Box, SheetGround, boxes_of, gap, stuck
from shared.recognise.finding import can_part, in_kerf, off_usable
from shared.recognise.live import Watch
from shared.recognise.sawn import SawnRun
from shared.stock import Trims
from shared.tree import Run


class Trouble(StrEnum):
    """What can be wrong with parts on a sheet."""

    OFF_SHEET = "off the sheet"
    IN_TRIM = "in a trim"
    NEAR_EDGE = "too near the reference edge"
    OVERLAP = "overlap"
    TOO_NEAR = "too near each other"
    LOCKED = "lock each other"
    """No cut runs between them from edge to edge."""
    OUT_OF_LINE = "out of line"
    """Cuts run between them, but leave less than a kerf to take off at a near edge."""
    BEYOND = "beyond the shop's limits"
    """Cuts run from edge to edge, but rails, hands or fence do not allow one of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutTrouble:
    """One thing that is wrong, and the parts concerned.

    ``frees`` are those of them whose removal alone makes the sheet cuttable; ``excess`` is
    what a cut would need, where one is beyond the shop's limits.
    """

    trouble: Trouble
    parts: tuple[Placement, ...]
    frees: tuple[Placement, ...] = ()
    excess: Beyond | None = None

    @property
    def overlap(self) -> Length:
        """How far one of two parts reaches into the other, in ticks: the shorter way out."""
        a, b = (part.rect for part in self.parts)
        return min(min(a.right, b.right) - max(a.x, b.x), min(a.bottom, b.bottom) - max(a.y, b.y))

    def sentence(
        self, name: Callable[[Placement], str], say: Callable[[Length], str] | None = None
    ) -> str:
        """Say it in words, with the names of the parts; how far they overlap, if ``say`` can."""
        if say is not None and self.trouble is Trouble.OVERLAP:
            below, above = map(name, self.parts)
            return f"{above} overlaps {below} by {say(self.overlap)}."
        said = _SENTENCES[self.trouble].format(_listed([name(part) for part in self.parts], "and"))
        if not self.frees:
            return said
        return (
            f"{said} Moving {_listed([name(part) for part in self.frees], 'or')} frees the sheet."
        )


_SENTENCES = {
    Trouble.OFF_SHEET: "{} reaches over the edge of the sheet.",
    Trouble.IN_TRIM: "{} lies in a trimmed edge of the sheet.",
    Trouble.NEAR_EDGE: "{} lies off its reference edge by less than a kerf and a piece to hold:"
    " put it against the edge, or farther away.",
    Trouble.OVERLAP: "{} overlap.",
    Trouble.TOO_NEAR: "{} are nearer to each other than one kerf.",
    Trouble.LOCKED: "No cut from edge to edge parts {}.",
    Trouble.OUT_OF_LINE: "{} are out of line by less than a kerf:"
    " line up their near edges, or move them farther apart.",
    Trouble.BEYOND: "{} can be cut edge to edge, but not within the shop's limits.",
}


def _listed(names: Sequence[str], last: str) -> str:
    return f" {last} ".join([", ".join(names[:-1]), names[-1]] if names[1:] else names)


def problems(
    sheet: Rect,
    placements: Sequence[Placement],
    kerf: Length,
    trims: Trims | None = None,
) -> tuple[LayoutTrouble, ...]:
    """Return what stands in the way of cutting parts as they lie; empty if nothing does.

    First parts that are wrong by themselves, then pairs too near each other; only where
    there are none of these, the fewest parts that cannot be cut together. The shop's limits
    are another matter: `beyond`. Parameters as in `is_cuttable`.
    """
    ground = SheetGround.of(sheet, kerf, trims or Trims())
    boxes = boxes_of(placements)
    single = [LayoutTrouble(trouble=t, parts=(placements[i],)) for t, i in _alone(ground, boxes)]
    pairs = [
        LayoutTrouble(trouble=trouble, parts=(placements[one], placements[other]))
        for trouble, one, other in _pairs(ground, boxes)
    ]
    return (*single, *pairs) or tuple(_together(ground, boxes, placements))


def beyond(ground: SheetGround, tree: Run, placements: Sequence[Placement]) -> LayoutTrouble | None:
    """Return what is wrong with the first cut of a tree that a limit forbids, if one does.

    Named are the parts in the piece under the saw, and which of them to move.
    """
    found = next(SawnRun.of(tree, ground.area, ground.kerf).beyond(ground.area, ground), None)
    if found is None:
        return None
    excess, (left, top, right, bottom) = found
    piece = Rect(x=left, y=top, length=right - left, width=bottom - top)
    parts = tuple(one for one in placements if piece.contains(one.rect))
    frees = tuple(one for one in parts if _would_do(ground, tree, placements, one))
    return LayoutTrouble(trouble=Trouble.BEYOND, parts=parts, frees=frees, excess=excess)


def _would_do(
    ground: SheetGround, tree: Run, placements: Sequence[Placement], without: Placement
) -> bool:
    """Say whether a sheet can be sawn within the limits without one of its parts."""
    rest = [one for one in placements if one != without]
    return Watch(ground, rest, tree).is_good(())


def locked(
    sheet: Rect, placements: Sequence[Placement], kerf: Length, trims: Trims | None = None
) -> tuple[Placement, ...]:
    """Return a smallest choice of parts that cannot be cut together, in the given order.

    Without any one of them the others could be cut. Empty if all can be. Parameters as
    in `is_cuttable`.
    """
    ground = SheetGround.of(sheet, kerf, trims or Trims())
    return _picked(placements, _locked(ground, boxes_of(placements)))


def freed_by(
    sheet: Rect, placements: Sequence[Placement], kerf: Length, trims: Trims | None = None
) -> tuple[Placement, ...]:
    """Return the parts of which any one, taken away, makes the sheet cuttable."""
    ground = SheetGround.of(sheet, kerf, trims or Trims())
    boxes = boxes_of(placements)
    return _picked(placements, _freeing(ground, boxes, _locked(ground, boxes)))


def _alone(ground: SheetGround, boxes: list[Box]) -> Iterator[tuple[Trouble, int]]:
    left, top, right, bottom = ground.area
    for box in boxes:
        if box[0] < left or box[1] < top or box[2] > right or box[3] > bottom:
            yield Trouble.OFF_SHEET, box[4]
        elif off_usable(ground, box):
            yield Trouble.IN_TRIM, box[4]
        elif in_kerf(ground, box):
            yield Trouble.NEAR_EDGE, box[4]


def _pairs(ground: SheetGround, boxes: list[Box]) -> Iterator[tuple[Trouble, int, int]]:
    for one, other in combinations(boxes, 2):
        if (apart := gap(one, other)) < ground.kerf:
            yield (Trouble.OVERLAP if apart < 0 else Trouble.TOO_NEAR), one[4], other[4]


def _together(
    ground: SheetGround, boxes: list[Box], placements: Sequence[Placement]
) -> Iterator[LayoutTrouble]:
    parts = _locked(ground, boxes)
    if parts:
        frees = _freeing(ground, boxes, parts)
        yield LayoutTrouble(
            trouble=Trouble.LOCKED if stuck(parts, ground.kerf) else Trouble.OUT_OF_LINE,
            parts=_picked(placements, parts),
            frees=_picked(placements, frees),
        )


def _locked(ground: SheetGround, boxes: list[Box]) -> list[Box]:
    """Return boxes that cannot be cut together, though they could without any one of them."""
    if can_part(ground, boxes):
        return []
    # Where no cut runs through at all, that shows quickly and narrows the search.
    if tangle := stuck(boxes, ground.kerf):
        boxes = _least(tangle, lambda some: not stuck(some, ground.kerf))
    return _least(boxes, lambda some: can_part(ground, some))


def _least(boxes: list[Box], works: Callable[[list[Box]], bool]) -> list[Box]:
    """Leave out boxes, many at a time and then one by one, as long as the rest does not work.

    Right because what works without some of the boxes never fails for want of them.
    """
    size = len(boxes) // 2
    while size:
        at = 0
        while at < len(boxes):
            rest = boxes[:at] + boxes[at + size :]
            if works(rest):
                at += size
            else:
                boxes = rest
        size = min(size, len(boxes)) // 2
    return boxes


def _freeing(ground: SheetGround, boxes: list[Box], parts: list[Box]) -> list[Box]:
    """Return which of the locked parts, taken away, lets all others be cut."""
    return [part for part in parts if can_part(ground, [box for box in boxes if box != part])]


def _picked(placements: Sequence[Placement], boxes: list[Box]) -> tuple[Placement, ...]:
    return tuple(placements[index] for index in sorted(box[4] for box in boxes))
