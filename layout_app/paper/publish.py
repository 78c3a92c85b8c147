"""A plan for other makers: one folder of Markdown, HTML and drawings, in inches and millimetres.

Nothing is converted that was rounded before: every length is kept in ticks, and each document
rounds it once.

How lengths are rounded (workshop practice: fits down, covers up), each once from its ticks:

- *Fits* are rounded down: the planned size of a part with a ``fit_allowance``, since it has to go
  into an opening, and an offcut, which must not be promised larger than it is. No other part
  counts as a fit: a plan does not know what goes into a groove, and such parts are cut to the
  size that was typed, play taken off.
- *Covers* are rounded up: the blank of a fit part, and the edge band to buy.
- Everything else is rounded to nearest.

A size more than a quarter of a step off the mark says so (``7 13/16 strong``); not that of an
offcut (see `shared.offcuts`), nor band to buy, since a tenth is added to it anyway.
"""

from collections.abc import Iterator

from layout_app.paper.matter import Matter
from layout_app.paper.published.as_html import html_of
from layout_app.paper.published.as_markdown import markdown_of
from layout_app.paper.published.blocks import Document, Picture
from layout_app.paper.published.drawn import all_sheets, sheets
from layout_app.paper.published.reader import for_reader, in_unit
from layout_app.paper.published.telling import document_of
from layout_app.paper.svg import document
from shared.lengths import Unit


def publish_files(matter: Matter) -> dict[str, bytes]:
    """Return the files of the folder by their names; the same matter gives the same bytes.

    ``plan-in.md`` and ``plan-mm.md`` tell the whole plan, each in its own unit, and show
    ``sheet-1-in.svg`` and so on, as long as a page; ``sheet-1-in-true-size.svg`` beside it is at
    true size. ``plan.html`` has all of it on one page, in the unit of the matter first. A sheet
    that cannot be cut is drawn in that unit only.
    """
    own = matter.style.unit
    documents = [document_in(matter, unit) for unit in sorted(Unit, key=lambda one: one is not own)]
    files = {"plan.html": html_of(documents)}
    for told in documents:
        files[f"plan-{told.unit}.md"] = markdown_of(told)
        for block in told.blocks:
            if isinstance(block, Picture):
                files.update(_drawn(block))
    return {name: text.encode() for name, text in files.items()}


def document_in(matter: Matter, unit: Unit) -> Document:
    """Return the plan as it is told to a reader in one unit."""
    told = for_reader(in_unit(matter, unit))
    return document_of(told, tuple(all_sheets(told)), sheets(told, matter))


def _drawn(picture: Picture) -> Iterator[tuple[str, str]]:
    yield picture.file, document(picture.page)
    if picture.true is not None:
        yield picture.whole, document(picture.true)
