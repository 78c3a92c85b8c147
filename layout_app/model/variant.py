"""A reader's variant: the same piece from other sheets, of another thickness, with another kerf."""

from dataclasses import dataclass, replace
from typing import Final

from layout_app.model.project import Project
from shared.job import Job
from shared.lengths import MM, Length, Unit
from shared.shop import SawBase, Shop
from shared.squaring import squared
from shared.stock import Stock, Trims

LEAST_TRIM: Final = 2 * MM
"""A trim that makes a reference edge takes a kerf and so much more at least."""
SIZES: Final = (
    "Sizes of parts are those of the plan it was made from: work out anew what depends on the"
    " thickness of the stock."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """What a reader has; lengths in ticks, 0 where it is as in the plan.

    Attributes
    ----------
    material
        Whose sheets are other ones; ``""`` for all.
    length, width, thickness
        Of the reader's sheets, measured; the length is x as it lies.
    kerf
        Of the reader's saw.
    unit
        In which sizes are written; ``None`` as in the plan.
    """

    material: str = ""
    length: Length = 0
    width: Length = 0
    thickness: Length = 0
    kerf: Length = 0
    unit: Unit | None = None


def varied(project: Project, variant: Variant) -> Project:
    """Return the same piece to be planned for a reader.

    The other limits stay those of the maker's shop. Offcuts and pieces that lie about are the
    maker's own, so they are left out, as are ticks and the layout; where a material has nothing
    but offcuts, its largest row becomes a sheet to be bought.
    """
    job = project.job
    kerf = variant.kerf or job.shop.kerf
    style = job.style if variant.unit is None else replace(job.style, unit=variant.unit)
    made = replace(
        job,
        name=f"{job.name} (reader's variant)" if job.name else "Reader's variant",
        stock=tuple(_stock(row, variant, kerf) for row in _to_buy(job)),
        shop=replace(job.shop, kerf=kerf, base=_base(job.shop, kerf)),
        style=style,
    )
    return Project(job=squared(made), build=project.build)


def _base(shop: Shop, kerf: Length) -> SawBase | None:
    """Return the base with the reader's blade: what is nearer stays, the other faces follow."""
    base = shop.base
    if base is None or kerf == shop.kerf:
        return base
    return replace(base, left_far=base.left_near + kerf, right_far=base.right_near + kerf)


def _to_buy(job: Job) -> list[Stock]:
    """Return rows of sheets that a reader can buy: one at least of each material."""
    rows = [row for row in job.stock if row.at_hand is None]
    found = {row.material for row in rows}
    for material in dict.fromkeys(row.material for row in job.stock):
        if material not in found:
            owned = [row for row in job.stock if row.material == material and not row.is_piece]
            largest = max(owned, key=lambda row: row.length * row.width, default=None)
            rows += [] if largest is None else [replace(largest, at_hand=None)]
    return rows


def _stock(row: Stock, variant: Variant, kerf: Length) -> Stock:
    row = replace(row, no_go=(), diagonals=0, trims=_trims(row, kerf), own_trims=None)
    if variant.material and row.material != variant.material:
        return row
    return replace(
        row,
        length=variant.length or row.length,
        width=variant.width or row.width,
        thickness=variant.thickness or row.thickness,
    )


def _trims(row: Stock, kerf: Length) -> Trims:
    """Return the trims, those that make an edge wide enough for the kerf."""
    trims, least = row.own_trims or row.trims, kerf + LEAST_TRIM
    return replace(
        trims,
        near=max(trims.near, least) if trims.near else 0,
        start=max(trims.start, least) if trims.start else 0,
    )
