"""A sheet on which every layer of a drawing has something, all names plain."""

from functools import lru_cache

from layout_app.paper.matter import Matter, matter_of
from shared.job import Job, MatchGroup
from shared.lengths import MM, LengthStyle, Unit
from shared.parts import Part
from shared.shop import Shop, Span, TableSaw
from shared.stock import NoGo, SheetGrain, Stock, Trims
from tests.layout_app.small_job import planned

PLY = "18 mm birch ply"


@lru_cache(maxsize=1)
def full_matter() -> Matter:
    """Return drawers matched across a sheet with a bad corner, and a top that is cut oversize."""
    parts = (
        Part(
            id="f", name="Front", copies=4, length=500 * MM, width=180 * MM, material=PLY, group="m"
        ),
        Part(id="t", name="Top", length=900 * MM, width=420 * MM, material=PLY, oversize=6 * MM),
        Part(id="c", name="Cleat", copies=3, length=300 * MM, width=40 * MM, material=PLY),
    )
    sheet = Stock(
        id="s",
        name="full sheet",
        material=PLY,
        length=2440 * MM,
        width=1220 * MM,
        thickness=18 * MM,
        grain=SheetGrain.ALONG_L,
        trims=Trims(near=8 * MM, start=8 * MM),
        no_go=(NoGo(x=2240 * MM, y=1020 * MM, length=200 * MM, width=200 * MM),),
        at_hand=1,
    )
    job = Job(
        name="Drawers",
        parts=parts,
        stock=(sheet,),
        groups=(MatchGroup(name="m", columns=2),),
        shop=Shop(kerf=2 * MM, table=TableSaw(kerf=3 * MM, fence=Span(least=0, most=1000 * MM))),
        style=LengthStyle(unit=Unit.MM),
    )
    return matter_of(job, planned(job))
