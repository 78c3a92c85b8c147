"""A plan for other makers: one folder of Markdown and drawings, in inches and in millimetres.

Nothing is converted that was rounded before: every length is kept in ticks, and each document
rounds it once (`publish_text` says which way).
"""

from collections.abc import Iterator
from dataclasses import replace

from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.publish_text import plan_text
from layout_app.paper.svg import document
from layout_app.paper.titled import drawing_page
from layout_app.store.file_names import safe_names
from shared.drawing import SheetDrawing
from shared.lengths import Unit


def publish_files(matter: Matter) -> dict[str, bytes]:
    """Return the files of the folder by their names; the same matter gives the same bytes.

    ``plan-in.md`` and ``plan-mm.md`` tell the whole plan, each in its own unit, and show
    ``sheet-1-in.svg`` and so on, at true size. A sheet that cannot be cut is drawn in the
    unit of the matter only.
    """
    files: dict[str, str] = {}
    for unit in Unit:
        told = in_unit(matter, unit)
        pictures = dict(_pictures(told, matter))
        files[f"plan-{unit}.md"] = plan_text(told, pictures)
        for drawing in told.drawings:
            page = drawing_page(drawing, told.style, told.job, banner=told.banner)
            files[pictures[drawing.sheet]] = document(page)
    return {name: text.encode() for name, text in files.items()}


def in_unit(matter: Matter, unit: Unit) -> Matter:
    """Return the same matter told in another unit, with the maker's own fineness."""
    if matter.style.unit is unit:
        return matter
    style = replace(matter.style, unit=unit)
    return replace(
        matter_of(
            replace(matter.job, style=style),
            matter.plan,
            loose=tuple(one for one in matter.drawings if not _is_planned(one, matter)),
            waiting=matter.unplaced,
            build=matter.build,
            made=matter.made,
        ),
        banner=matter.banner,
    )


def _pictures(told: Matter, own: Matter) -> Iterator[tuple[str, str]]:
    """Yield each sheet with the name of its drawing."""
    ids = [drawing.sheet for drawing in (*own.drawings, *told.drawings)]
    names = safe_names(ids, "x")  # in one order for both units, for some names end in a number
    for drawing in told.drawings:
        unit = told.style.unit if _is_planned(drawing, told) else own.style.unit
        yield drawing.sheet, f"sheet-{names[drawing.sheet]}-{unit}.svg"


def _is_planned(drawing: SheetDrawing, matter: Matter) -> bool:
    return any(sheet.id == drawing.sheet for sheet in matter.plan.sheets)
