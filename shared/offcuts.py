"""Which offcuts are kept, and how their size is told: rounded down, so none is promised larger.

What is computed stays exact; a later plan that counts on the size told never comes out short.
"""

from collections.abc import Collection, Iterator, Set
from dataclasses import dataclass

from shared.job import Job
from shared.lengths import Length, LengthStyle, format_length, round_down
from shared.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeper:
    """An offcut worth keeping: its name, L and W in ticks, material, and where it comes from.

    ``sheet`` is the sheet it is sawn from, ``""`` if it was sawn off and kept before the plan;
    ``sawn`` says whether a cut of the plan goes through the piece of its name.
    """

    piece: str
    length: Length
    width: Length
    material: str
    sheet: str = ""
    sawn: bool = True

    @property
    def called(self) -> str:
        """Its name in words."""
        return offcut_name(self.piece, sawn=self.sawn)

    @property
    def origin(self) -> str:
        """Where it comes from, in words."""
        return f"from sheet {self.sheet}" if self.sheet else "kept earlier"


def keepers(job: Job, plan: Plan, used: Collection[str] = ()) -> Iterator[Keeper]:
    """Yield the offcuts worth keeping: those of a plan, then pieces kept before it was made.

    Parameters
    ----------
    used
        Ids of stock rows that are in use though the plan has no sheet of them: parts lie on
        them, but they can't be cut yet.
    """
    materials = {sheet.id: sheet.material for sheet in plan.sheets}
    through = sawn_pieces(plan)
    for one in plan.offcuts:
        if one.keep:
            size = {"length": one.length, "width": one.width}
            sawn, material = one.piece in through, materials[one.sheet]
            yield Keeper(piece=one.piece, material=material, sheet=one.sheet, sawn=sawn, **size)
    taken = {sheet.stock for sheet in plan.sheets} | set(used)
    for row in job.stock:
        if row.is_piece and row.id not in taken and job.shop.keeps(row.length, row.width):
            yield Keeper(piece=row.piece, length=row.length, width=row.width, material=row.material)


def offcut_name(piece: str, *, sawn: bool = True) -> str:
    """Name an offcut worth keeping, as pages, drawings, lists, labels and screens do.

    What is left of a piece once it is ``sawn`` has the piece's name: it is called after it, so
    that nobody takes one for the other. What no cut goes through has a name of its own.
    """
    if not sawn:
        return f"offcut {piece}"
    return f"offcut of sheet {piece}" if piece.isdigit() else f"offcut of {piece}"


def sawn_pieces(plan: Plan) -> Set[str]:
    """Return the names of all pieces that a cut of a plan goes through."""
    return {cut.piece for cut in plan.cuts}


def offcut_side(ticks: Length, style: LengthStyle) -> str:
    """Write one side of an offcut without its unit, at most as long as it is."""
    return format_length(round_down(ticks, style), style)


def offcut_size(length: Length, width: Length, style: LengthStyle) -> str:
    """Write the size of an offcut, such as ``L 31 × W 23 5/8``, without the unit."""
    return f"L {offcut_side(length, style)} × W {offcut_side(width, style)}"
