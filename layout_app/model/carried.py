"""What is in the hand: one part, or several that keep their places to each other."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from layout_app.model.matched_sets import MatchedSets, SetCorners, alone
from layout_app.model.sawing import as_it_lies
from shared.check import plannable
from shared.geometry import Rect
from shared.job import Job
from shared.lengths import Length
from shared.parts import Copy
from shared.plan import Placement


@dataclass(frozen=True, slots=True, kw_only=True)
class CarriedPart:
    """A copy in the hand.

    Attributes
    ----------
    part, copy
        Which one.
    home
        The sheet it was taken from; ``""`` if it waited.
    dx, dy
        Where its corner lies from that of the part that the hand holds, in ticks.
    length, width
        Extents along x and y as it is held.
    turned
        Whether it is held across.
    """

    part: str
    copy: int
    home: str
    dx: Length
    dy: Length
    length: Length
    width: Length
    turned: bool

    @property
    def key(self) -> Copy:
        """Which copy it is."""
        return self.part, self.copy

    def rect(self, x: Length, y: Length) -> Rect:
        """Return where it lies with the corner of the part that the hand holds at (x, y)."""
        return Rect(x=x + self.dx, y=y + self.dy, length=self.length, width=self.width)

    def flipped(self) -> "CarriedPart":
        """Return it turned by a quarter, with rows for columns."""
        return replace(
            self,
            dx=self.dy,
            dy=self.dx,
            length=self.width,
            width=self.length,
            turned=not self.turned,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cargo:
    """Pieces that move as one; the hand holds the first."""

    pieces: tuple[CarriedPart, ...]
    across: "Cargo | None" = None
    """How they are held turned, where they need not keep their places to each other."""

    @property
    def lead(self) -> CarriedPart:
        """The one that the hand holds."""
        return self.pieces[0]

    @property
    def keys(self) -> tuple[Copy, ...]:
        """Which copies are in the hand."""
        return tuple(piece.key for piece in self.pieces)

    def name(self, job: Job) -> str:
        """Return what all are called together."""
        number = len(self.pieces)
        if number == 1:
            return job.named(self.lead.key)
        alike = len({piece.part for piece in self.pieces}) == 1
        return f"{number} × {job.part(self.lead.part).name}" if alike else f"{number} parts"

    def flipped(self) -> "Cargo":
        """Return it turned by a quarter."""
        if self.across is not None:
            return self.across
        return Cargo(pieces=tuple(piece.flipped() for piece in self.pieces))

    def along(self, sheet: str) -> tuple[CarriedPart, ...]:
        """Return the pieces that lie on a sheet with the first one there."""
        return tuple(piece for piece in self.pieces if self.sheet_of(piece, sheet) == sheet)

    def sheet_of(self, piece: CarriedPart, sheet: str) -> str:
        """Return where a piece lies with the first one on a sheet.

        Each stays on its own sheet while the first one does; on another all lie together.
        """
        return piece.home if sheet == self.lead.home else sheet

    def placements(self, sheet: str, x: Length, y: Length) -> tuple[Placement, ...]:
        """Return how all lie with the corner of the first one at (x, y) of a sheet."""
        return tuple(
            Placement(
                part=piece.part,
                copy=piece.copy,
                sheet=self.sheet_of(piece, sheet),
                x=x + piece.dx,
                y=y + piece.dy,
                length=piece.length,
                width=piece.width,
                turned=piece.turned,
            )
            for piece in self.pieces
        )


def lifted(lead: Placement, others: Iterable[Placement] = ()) -> Cargo:
    """Take up parts from where they lie; the hand holds ``lead``."""
    return Cargo(pieces=tuple(_taken(one, lead) for one in (lead, *others)))


def called(job: Job, copies: Sequence[Copy]) -> Cargo:
    """Take up parts off the tray, one kerf between them: in rows that a sheet has room for.

    Those of a matched set lie together as the set has them.
    """
    room = max(
        (row.usable.length for row in job.stock if row.material in _materials(job, copies)),
        default=0,
    )
    grouped = any(job.part(part).group for part, _ in copies)
    blocks = MatchedSets(plannable(job)).blocks(copies) if grouped else alone(copies)
    flat = tuple(_in_rows(job, blocks, room, turned=False))
    across = tuple(_in_rows(job, blocks, room, turned=True))
    return Cargo(pieces=flat, across=Cargo(pieces=across))


def _taken(one: Placement, lead: Placement) -> CarriedPart:
    return CarriedPart(
        part=one.part,
        copy=one.copy,
        home=one.sheet,
        dx=one.x - lead.x,
        dy=one.y - lead.y,
        length=one.length,
        width=one.width,
        turned=one.turned,
    )


def _materials(job: Job, copies: Iterable[Copy]) -> set[str]:
    return {job.part(part).material for part, _ in copies}


def _in_rows(
    job: Job, blocks: Iterable[SetCorners], room: Length, *, turned: bool
) -> Iterator[CarriedPart]:
    """Yield the parts in rows no longer than the room, the next row beyond the widest of one."""
    kerf, dx, dy, widest = job.shop.kerf, 0, 0, 0
    for block in blocks:
        rects = {key: _in_block(job, key, at, turned) for key, at in block.items()}
        length = max(rect.right for rect in rects.values())
        width = max(rect.bottom for rect in rects.values())
        if dx > 0 and dx + length > room:
            dx, dy, widest = 0, dy + widest + kerf, 0
        for (part, copy), rect in rects.items():
            yield CarriedPart(
                part=part,
                copy=copy,
                home="",
                dx=dx + rect.x,
                dy=dy + rect.y,
                length=rect.length,
                width=rect.width,
                turned=turned,
            )
        dx, widest = dx + length + kerf, max(widest, width)


def _in_block(job: Job, key: Copy, at: tuple[Length, Length], turned: bool) -> Rect:
    """Return where a part lies in its block; turned, rows are columns."""
    row = job.part(key[0])
    length, width = as_it_lies(row.cut_length, row.cut_width, turned)
    x, y = reversed(at) if turned else at
    return Rect(x=x, y=y, length=length, width=width)
