"""The drawings of a published plan: all sheets small, each as long as a page, each at true size."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from layout_app.paper import ink
from layout_app.paper.fitting import BAR_ROOM, fit_sheet
from layout_app.paper.matter import Matter
from layout_app.paper.pack.book import MEASURE
from layout_app.paper.pack.pictures import Picture as TermPicture
from layout_app.paper.pack.small_sheets import LEGEND, sheets_page
from layout_app.paper.published.blocks import Picture
from layout_app.paper.published.reader import is_planned
from layout_app.paper.titled import drawing_page
from layout_app.store.file_names import safe_names
from shared.drawing import SheetDrawing

LONG: Final = 180.0
"""Of a drawing in the text, in mm: A4 and Letter have room for it between usual margins."""
DEEP: Final = 230.0
"""How deep such a drawing is at most, in mm, its list included."""
EDGE: Final = 1.5
"""Free around a picture of the reading page, in mm."""
SMALL: Final = 120.0
"""How deep the picture of all sheets is at most, in mm."""


def all_sheets(matter: Matter) -> Iterator[Picture]:
    """Yield the picture of all sheets, if they can be seen in one."""
    page = sheets_page(matter.drawings, LONG, SMALL)
    if page is None:
        return
    words = f"All sheets, small. {LEGEND}"
    titled = replace(
        page, title=f"{matter.job.name or 'Plan'}, all sheets, {matter.identity}", description=words
    )
    yield Picture(file=f"all-sheets-{matter.style.unit}.svg", words=words, page=titled)


def sheets(matter: Matter, own: Matter) -> dict[str, Picture]:
    """Return the drawing of each sheet by its number; ``own`` is in the maker's unit.

    A sheet that cannot be cut is drawn in that unit only.
    """
    names = safe_names([one.sheet for one in (*own.drawings, *matter.drawings)], "x")
    return {
        drawing.sheet: _sheet(
            drawing,
            matter if is_planned(drawing, matter) else own,
            names[drawing.sheet],
        )
        for drawing in matter.drawings
    }


def term_page(picture: TermPicture, title: str) -> ink.Page:
    """Draw a picture of the reading page by itself, as long as its column there."""
    items = tuple(picture.draw(EDGE, EDGE, MEASURE))
    long, wide = MEASURE + 2 * EDGE, picture.height + 2 * EDGE
    return ink.Page(length=long, width=round(wide, 2), items=items, title=title)


def _sheet(drawing: SheetDrawing, matter: Matter, name: str) -> Picture:
    unit = matter.style.unit
    true = drawing_page(
        drawing, matter.style, matter.job, banner=matter.banner, identity=matter.identity
    )
    return Picture(
        file=f"sheet-{name}-{unit}.svg",
        words=f"Sheet {drawing.sheet}: {drawing.title}",
        page=_fitted(drawing, matter),
        whole=f"sheet-{name}-{unit}-true-size.svg",
        true=true,
    )


def _fitted(drawing: SheetDrawing, matter: Matter) -> ink.Page:
    """Draw a sheet as long as a page, and no deeper than it and its list take."""
    frame = ink.Spread(x=0.0, y=0.0, length=LONG, width=DEEP)
    first = fit_sheet(drawing, matter, frame, black=False, alone=True)
    drawn = first.items[:1]  # the bar below it stands at the end of the frame
    deep = min(DEEP, _bottom(drawn) + BAR_ROOM)
    bar = [_raised(one, DEEP - deep) for one in first.items[1:]]
    return ink.Page(
        length=LONG,
        width=round(deep, 2),
        items=(*drawn, *bar),
        title=f"{matter.job.name}, sheet {drawing.sheet}, {matter.identity}",
        description=f"{drawing.title}, 1:{first.scale}",
    )


def _raised(item: ink.Item, by: float) -> ink.Item:
    return ink.Group(items=(item,), y=-by)


def _bottom(items: Sequence[ink.Item]) -> float:
    """Return how far down items reach, in mm."""
    words = max((room.bottom for _, room in ink.words_on(items)), default=0.0)
    return max(words, *(_reach(one) for one in items))


def _reach(item: ink.Item) -> float:
    """Return how far down the plates of an item reach: all that is drawn but words."""
    if isinstance(item, ink.Group):
        return item.y + item.scale * max(map(_reach, item.items), default=0.0)
    return item.y + item.width if isinstance(item, ink.Plate) else 0.0
