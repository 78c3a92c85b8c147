"""A plan for other makers: one folder of Markdown and drawings, in inches and in millimetres.

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

from collections.abc import Iterator, Mapping
from dataclasses import replace

from layout_app.model.words.wording import counted
from layout_app.paper import markdown
from layout_app.paper.front_words import assumptions, figures, not_planned
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.lists import bands_words, notes_of, roll_words, sheets_of
from layout_app.paper.pack.reading import how_to_read
from layout_app.paper.svg import document
from layout_app.paper.titled import drawing_page
from layout_app.store.file_names import safe_names
from shared.amounts import format_price
from shared.building import BuildStep
from shared.cautions import DEFER, cautions_for
from shared.drawing import SheetDrawing
from shared.lengths import (
    Length,
    LengthStyle,
    Unit,
    format_down,
    format_length,
    format_mark,
    format_up,
    round_up,
)
from shared.offcuts import Keeper, offcut_side
from shared.parts import Part
from shared.shopping import Shopping
from shared.stock import Stock
from shared.telling import Instruction


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


UNITS = {Unit.INCH: "inches", Unit.MM: "millimetres"}
ROUNDED = (
    "Each size was worked out exactly and rounded once for this document: what must fit is"
    " rounded down, what must cover is rounded up, all else to the nearest. An offcut is at least"
    " as large as is said.",
    "What must fit: the planned size of fit parts, and offcuts. What must cover: the blanks of"
    " fit parts, and edge band.",
    "Thickness is as measured, not as named. If your stock measures otherwise, sizes that"
    " depend on it change: plan the job again with your own measures.",
    "Notes, build steps and hardware are in the maker's own words, in the units these were written"
    " in.",
)


def plan_text(matter: Matter, pictures: Mapping[str, str]) -> str:
    """Return the whole document.

    Parameters
    ----------
    matter
        Told in the unit of the document.
    pictures
        The file name of each sheet's drawing, by the sheet.
    """
    blocks = (
        *_opening(matter),
        *_given(matter),
        *_to_buy(matter),
        *_cut_list(matter),
        *_diagrams(matter, pictures),
        *_cuts(matter),
        *_building(matter),
    )
    return "\n\n".join(blocks) + "\n"


def _opening(matter: Matter) -> Iterator[str]:
    unit = matter.style.unit
    other = Unit.MM if unit is Unit.INCH else Unit.INCH
    yield markdown.heading(matter.job.name or "Plan", 1)
    if matter.banner:
        yield markdown.strong(matter.banner)
    yield (
        f"All sizes are in {UNITS[unit]}. The same plan"
        f" {markdown.link(f'in {UNITS[other]}', f'plan-{other}.md')}."
    )
    yield markdown.points(figures(matter))
    if matter.unplaced:
        yield markdown.heading("Not placed")
        yield markdown.points(matter.unplaced)
    yield markdown.heading("At every cut")
    yield markdown.points((DEFER, *cautions_for(matter.job.shop)))


def _given(matter: Matter) -> Iterator[str]:
    yield markdown.heading("Taken as given")
    yield markdown.points((*assumptions(matter), *ROUNDED))
    if matter.taken:
        yield markdown.heading("Thickness, named and measured", 3)
        headings = (
            "Material",
            "Sold as",
            "Measured thickness",
            "Measured L",
            "Measured W",
            "Trims",
        )
        yield markdown.table(headings, [_measured(row, matter.style) for row in matter.taken])


def _measured(row: Stock, style: LengthStyle) -> tuple[str, ...]:
    fine, trims = finest(style), row.trims
    edges = (
        ("reference edge", trims.near),
        ("far edge", trims.far),
        ("left end", trims.start),
        ("right end", trims.end),
    )
    return (
        row.material,
        row.name,
        format_mark(row.thickness, replace(fine, decimals=1)),
        format_mark(row.length, style),
        format_mark(row.width, style),
        ", ".join(f"{name} {format_length(size, fine)}" for name, size in edges if size) or "none",
    )


def finest(style: LengthStyle) -> LengthStyle:
    """Return the style for measured thickness and bands: 64ths or hundredths."""
    return replace(style, denominator=64, decimals=2)


def _to_buy(matter: Matter) -> Iterator[str]:
    bought = matter.bought
    yield markdown.heading("To buy and to take")
    if bought.sheets:
        yield markdown.table(
            ("Stock", "Material", "L", "W", "Take", "Buy", "Each", "Price"),
            _stock(bought, matter.style),
        )
    for sentence in not_planned(matter):
        yield markdown.strong(sentence)
    if bought.bands:
        yield markdown.heading("Edge band", 3)
        yield markdown.table(
            ("Thickness", "Strips", "To cut", "With waste", "Rolls"), _bands(bought, matter.style)
        )
        yield (
            "To cut: each strip longer than its edge, to be trimmed flush. With waste: a tenth"
            " more. Both are common practice."
        )
    if matter.build.hardware:
        yield markdown.heading("Hardware", 3)
        rows = [(one.name, str(one.count), one.note) for one in matter.build.hardware]
        yield markdown.table(("What", "No.", "Note"), rows)


def _stock(bought: Shopping, style: LengthStyle) -> Iterator[tuple[str, ...]]:
    for line in bought.sheets:
        row = line.stock
        yield (
            *(row.name or row.material, row.material),
            *(format_mark(size, style) for size in (row.length, row.width)),
            *(str(line.used - line.buy), str(line.buy)),
            *(format_price(price) if price else "" for price in (line.each, line.price)),
        )


def _bands(bought: Shopping, style: LengthStyle) -> Iterator[tuple[str, ...]]:
    for need in bought.bands:
        rolls = f"{counted(need.rolls, 'roll')} of {roll_words(need.roll, style.unit)}"
        yield (
            format_mark(need.thickness, finest(style)),
            str(need.strips),
            *(format_length(round_up(one, style), style) for one in (need.cut, need.with_waste)),
            rolls,
        )


def _cut_list(matter: Matter) -> Iterator[str]:
    yield markdown.heading("Cut list")
    yield "Finished: bands included. Cut: as it leaves the sheet, bands taken off."
    yield markdown.table(
        (
            *("Part", "No.", "Finished L", "Finished W", "Cut L", "Cut W"),
            *("Material", "Grain", "Bands", "Sheet", "Note"),
        ),
        [_part(part, matter) for part in matter.job.parts],
    )


def _part(part: Part, matter: Matter) -> tuple[str, ...]:
    style = matter.style
    return (
        part.name or part.id,
        str(part.copies),
        *(finished(size, part, style) for size in (part.length, part.width)),
        *(sawn(size, part, style) for size in (part.cut_length, part.cut_width)),
        part.material,
        part.grain_rule.value,
        bands_words(part.bands, finest(style)),
        sheets_of(part, matter),
        "; ".join(notes_of(part)),
    )


def finished(ticks: Length, part: Part, style: LengthStyle) -> str:
    """Write a planned size of a part: rounded down if it is a fit part."""
    return (format_down if part.fit_allowance else format_mark)(ticks, style)


def sawn(ticks: Length, part: Part, style: LengthStyle) -> str:
    """Write a size as sawn from the sheet: the blank of a fit part is rounded up."""
    return (format_up if part.fit_allowance else format_mark)(ticks, style)


def _diagrams(matter: Matter, pictures: Mapping[str, str]) -> Iterator[str]:
    yield markdown.heading("Diagrams")
    yield (
        "Each drawing is at true size: printed at 100 % it is as large as the sheet. Sizes on"
        " it are rounded to the nearest, those of offcuts down."
    )
    for drawing in matter.drawings:
        yield markdown.heading(f"Sheet {drawing.sheet}: {drawing.title}", 3)
        if drawing.problem:
            yield markdown.strong(f"This sheet cannot be cut: {drawing.problem}")
        yield markdown.picture(f"Sheet {drawing.sheet}", pictures[drawing.sheet])


def _cuts(matter: Matter) -> Iterator[str]:
    if not matter.told:
        return
    yield markdown.heading("Cuts in order")
    yield markdown.points(how_to_read(matter))
    yield markdown.table(CUT_HEADINGS, [_cut(told) for told in matter.told])
    kept = matter.kept
    if kept:
        yield markdown.heading("Offcuts to keep")
        yield markdown.table(
            ("Piece", "L", "W", "Material", "From sheet"),
            [_offcut(offcut, matter.style) for offcut in kept],
        )


CUT_HEADINGS = (
    *("Cut", "What", "Piece", "Set", "Square", "Keep", "Rail", "Enter"),
    *("Face, support", "Makes", "Left", "Danger", "Handling"),
)


def _cut(told: Instruction) -> tuple[str, ...]:
    return (
        *(str(told.number), told.title, listed(told.turn, told.before)),
        *(
            listed(told.set_line, told.measure),
            listed(*told.sheet_check, told.square),
            told.keep,
        ),
        *(listed(told.bed, told.led, told.reach), listed(told.enter, told.long)),
        *(listed(told.face, told.guard, told.support, told.weight), told.makes),
        listed(told.left, *told.checks),
        *(" ".join(one.sentence for one in found) for found in (told.dangers, told.handling)),
    )


def listed(*texts: str) -> str:
    """Put what is said behind each other."""
    return "; ".join(text.removesuffix(".") for text in texts if text)


def _offcut(offcut: Keeper, style: LengthStyle) -> tuple[str, ...]:
    sizes = (offcut_side(size, style) for size in (offcut.length, offcut.width))
    return offcut.piece, *sizes, offcut.material, offcut.sheet or offcut.origin


def _building(matter: Matter) -> Iterator[str]:
    if not matter.build.steps:
        return
    yield markdown.heading("After sawing")
    yield markdown.numbered(_step(step, matter) for step in matter.build.steps)


def _step(step: BuildStep, matter: Matter) -> tuple[str, str]:
    """Return the kind of a step and what is done, with the names of its parts."""
    names = {part.id: part.name or part.id for part in matter.job.parts}
    about = "; ".join(names[part] for part in step.parts if part in names)
    said = " ".join(filter(None, (step.text, f"({about})" if about else "")))
    return step.kind.value.capitalize(), said
