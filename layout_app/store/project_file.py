"""The project file: readable JSON, lengths in whole ticks.

A file written by hand may give the lengths of parts, stock and shop as text in any way
the tables take (``"23 1/4"``, ``"590.5 mm"``); bare numbers in such text are in the unit of
``job.style``. Ripfirst itself always writes ticks.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, replace
from pathlib import Path

import msgspec

from layout_app.model.carry_over import opened
from layout_app.model.project import Project
from layout_app.model.sawing import saw
from layout_app.store import atomic
from layout_app.store.errors import FileProblem
from layout_app.store.json_text import as_text, fields_of, read_bytes
from layout_app.store.older_shops import with_usual_figures
from layout_app.store.records import Misfit, build, misfits_of
from shared.layout import Layout, Scope
from shared.lengths import TICK_NM, Unit, parse_length
from shared.making.work_of_cut import FIGURES
from shared.parts import Bands, Part
from shared.progress import LONGEST_S, Declined, Progress, TakenOver, changed_in
from shared.shop import Gear, Rail, SawBase, Shop, Span, TableSaw
from shared.squaring import squared
from shared.stock import NoGo, Stock, Trims
from shared.tree import Run

FORMAT = "ripfirst-project"
VERSION = 2
SUFFIX = ".ripfirst.json"

_HEADER = ("format", "version", "tick_nm")
_LENGTHS: Mapping[type, frozenset[str]] = {
    Part: frozenset(
        {"length", "width", "fit_allowance", "measured_length", "measured_width", "oversize"}
    ),
    Bands: frozenset(asdict(Bands())),
    Stock: frozenset({"length", "width", "thickness", "diagonals"}),
    NoGo: frozenset({"x", "y", "length", "width"}),
    Trims: frozenset(asdict(Trims())),
    Shop: frozenset(
        {
            "kerf",
            "keep_length",
            "keep_width",
            "rail_width",
            "overhang",
            "square",
            "carry",
            "hold",
            "oversize",
        }
    ),
    Gear: frozenset({"kerf", "rail_width", "carry"}),
    SawBase: frozenset(SawBase.__dataclass_fields__),
    Rail: frozenset({"length"}),
    Span: frozenset({"least", "most"}),
    TableSaw: frozenset({"kerf", "longest", "widest"}),
}


def project_text(project: Project) -> str:
    """Write a project as JSON."""
    header = {"format": FORMAT, "version": VERSION, "tick_nm": TICK_NM}
    content = msgspec.to_builtins(project)
    del content["opening"]  # which opening of a file a project is of, no file can say
    for sheet in content["layout"]["sheets"]:
        del sheet["last"]  # cuts that can be made no more are shown, not kept
    return as_text(header | content)


def save_project(path: Path, project: Project) -> None:
    """Save a project in one piece; `FileProblem` if it cannot be written."""
    atomic.save(path, project_text(project).encode())


def read_project(path: Path) -> Project:
    """Read a project; `FileProblem` says where the file is not one."""
    return project_of(path, read_bytes(path))


def project_of(path: Path, data: bytes) -> Project:
    """Return the project that was read from a file; `FileProblem` says where it is none.

    Sheets measured out of square have the trims that square them.
    """
    raw = fields_of(path, data, FORMAT, VERSION)
    fields = {name: value for name, value in raw.items() if name not in _HEADER}
    if raw["version"] == 1:
        fields = without_zero_prices(fields)
    fields = _without_least_changes(_with_whole_shop(fields))
    with misfits_of(path, deepest="layout.sheets"):
        project = build(Project, fields, adapt=Texts(_unit(fields)))
        for place, reason in _faults(project):
            raise Misfit(place, reason)
    project = replace(project, job=squared(project.job))
    for place, reason in _not_borne_out(project):
        raise FileProblem(path, place, reason)
    return project


def without_zero_prices(fields: Mapping[str, object]) -> dict[str, object]:
    """Return the fields of a file of version 1 with no price where a sheet's price was 0.

    Until then a price could not be left out: 0 stood for what nobody had priced as for what
    costs nothing. Taken as blank, an offcut still costs nothing, and a sheet to buy counts by
    area; taken as free, sheets would be wasted. What does not fit is left to be refused.
    """
    job = fields.get("job")
    stock = job.get("stock") if isinstance(job, dict) else None
    if not isinstance(job, dict) or not isinstance(stock, list):
        return dict(fields)
    rows = [
        {**row, "price": None} if isinstance(row, dict) and row.get("price") == 0 else row
        for row in stock
    ]
    return {**fields, "job": {**job, "stock": rows}}


def _without_least_changes(fields: Mapping[str, object]) -> dict[str, object]:
    """Return the fields without what an order was once held against: a count of set-up changes.

    Orders are held against seconds since, which a file from before does not give.
    """
    layout = fields.get("layout")
    if not isinstance(layout, dict):
        return dict(fields)
    kept = {name: value for name, value in layout.items() if name != "least_changes"}
    return {**fields, "layout": kept}


def _with_whole_shop(fields: Mapping[str, object]) -> dict[str, object]:
    """Return the fields with the figures of the shop that a file from before does not give."""
    job = fields.get("job")
    if not isinstance(job, dict) or "shop" not in job:
        return dict(fields)
    return {**fields, "job": {**job, "shop": with_usual_figures(job["shop"], _unit(fields))}}


class Texts:
    """Turns lengths given as text into ticks on the way in."""

    def __init__(self, unit: Unit) -> None:
        self._unit = unit

    def __call__(self, kind: type, field: str, raw: object) -> object:
        """Return ticks for text that gives a length; anything else as it is."""
        if not isinstance(raw, str) or field not in _LENGTHS.get(kind, ()):
            return raw
        return parse_length(raw, self._unit)


def _unit(fields: Mapping[str, object]) -> Unit:
    """Return the unit of bare numbers, as far as the file says one."""
    job = fields.get("job")
    style = job.get("style") if isinstance(job, dict) else None
    named = style.get("unit") if isinstance(style, dict) else None
    return Unit(named) if named in list(Unit) else Unit.INCH


def _faults(project: Project) -> Iterator[tuple[str, str]]:
    """Yield place and reason of every id that is empty, doubled or unknown."""
    job, layout = project.job, project.layout
    yield from _doubled("job.parts", [part.id for part in job.parts])
    yield from _doubled("job.stock", [row.id for row in job.stock])
    for i, row in enumerate(job.stock):
        if row.named < 0:
            yield f"job.stock[{i}].named", "no piece has fewer than 0 pieces sawn off"
    yield from _doubled("job.groups", [group.name for group in job.groups], field="name")
    yield from _doubled("layout.sheets", [sheet.id for sheet in layout.sheets])
    parts = {part.id for part in job.parts}
    yield from _unknown("part", parts, _parts_named(layout))
    stock = {row.id for row in job.stock}
    places = ((f"layout.sheets[{i}].stock", s.stock) for i, s in enumerate(layout.sheets))
    yield from _unknown("stock row", stock, places)
    yield from _elsewhere(layout)
    yield from _misheld(layout)
    yield from _misticked(project)


def _doubled(place: str, ids: list[str], field: str = "id") -> Iterator[tuple[str, str]]:
    counts = Counter(ids)
    for i, name in enumerate(ids):
        if not name:
            yield f"{place}[{i}].{field}", f"this {field} cannot be empty"
        if counts[name] > 1:
            yield f"{place}[{i}].{field}", f"the {field} “{name[:40]}” stands here twice"


def _unknown(
    what: str, known: set[str], named: Iterable[tuple[str, str]]
) -> Iterator[tuple[str, str]]:
    for place, name in named:
        if name not in known:
            yield place, f"there is no {what} with the id “{name[:40]}”"


def _parts_named(layout: Layout) -> Iterator[tuple[str, str]]:
    for i, sheet in enumerate(layout.sheets):
        for j, placement in enumerate(sheet.placements):
            yield f"layout.sheets[{i}].placements[{j}].part", placement.part
        if sheet.tree is not None:
            yield from _leaves(sheet.tree, f"layout.sheets[{i}].tree")
    for i, waiting in enumerate(layout.waiting):
        yield f"layout.waiting[{i}].part", waiting.part
    for i, hold in enumerate(layout.holds):
        if hold.scope is not Scope.SHEET:
            yield f"layout.holds[{i}].part", hold.part


def _leaves(run: Run, place: str) -> Iterator[tuple[str, str]]:
    for i, piece in enumerate(run.pieces):
        if piece.place is not None:
            yield f"{place}.pieces[{i}].place.part", piece.place.part
        if piece.run is not None:
            yield from _leaves(piece.run, f"{place}.pieces[{i}].run")


def _elsewhere(layout: Layout) -> Iterator[tuple[str, str]]:
    """Yield placements that name another sheet than the one they are listed under."""
    for i, sheet in enumerate(layout.sheets):
        for j, placement in enumerate(sheet.placements):
            if placement.sheet != sheet.id:
                place = f"layout.sheets[{i}].placements[{j}].sheet"
                yield place, f"it is listed under sheet “{sheet.id[:40]}”"


def _misheld(layout: Layout) -> Iterator[tuple[str, str]]:
    """Yield holds that remember another thing than they hold.

    A sheet that is not in use any more is no fault: such a hold is suspended, and shown.
    """
    for i, hold in enumerate(layout.holds):
        lies, place = hold.lies, f"layout.holds[{i}]"
        if not hold.sheet:
            yield f"{place}.sheet", "an id cannot be empty"
        if lies is None:
            continue
        if lies.sheet != hold.sheet:
            yield f"{place}.lies.sheet", f"the lock is on sheet “{hold.sheet[:40]}”"
        if hold.scope is not Scope.SHEET and lies.key != hold.key:
            yield f"{place}.lies.part", "it is another part than the one that is locked"


def _misticked(project: Project) -> Iterator[tuple[str, str]]:
    """Yield ticks of cuts that are not listed, and listed cuts of sheets that are not there."""
    progress, sheets = project.progress, {sheet.id for sheet in project.layout.sheets}
    numbers, parts = {cut.number for cut in progress.fixed}, {part.id for part in project.job.parts}
    for i, cut in enumerate(progress.fixed):
        if cut.sheet not in sheets:
            yield f"progress.fixed[{i}].sheet", f"there is no sheet “{cut.sheet[:40]}”"
        if cut.number != progress.first + i:
            yield f"progress.fixed[{i}].number", f"{progress.first + i} is its number"
    for i, number in enumerate(progress.made):
        if number not in numbers:
            yield f"progress.made[{i}]", f"no cut {number} is listed in progress.fixed"
    for i, one in enumerate(project.layout.finished):
        if one.part not in parts:
            place = f"layout.finished[{i}].part"
            yield place, f"there is no part with the id “{one.part[:40]}”"
    yield from _mistimed(progress)


def _mistimed(progress: Progress) -> Iterator[tuple[str, str]]:
    """Yield times that no cut can have taken, or of cuts not made, and unknown figures."""
    made, counts = progress.all_made, Counter(one.number for one in progress.times)
    for i, one in enumerate(progress.times):
        place = f"progress.times[{i}]"
        if one.number not in made:
            yield f"{place}.number", f"cut {one.number} is not ticked, so it has no time"
        if counts[one.number] > 1:
            yield f"{place}.number", f"cut {one.number} stands here twice"
        if not 0 <= one.seconds <= LONGEST_S:
            yield f"{place}.seconds", f"a cut takes from 0 to {LONGEST_S} seconds"
    answers: list[tuple[str, Declined | TakenOver]] = [
        *((f"progress.declined[{i}]", one) for i, one in enumerate(progress.declined)),
        *((f"progress.taken[{i}]", one) for i, one in enumerate(progress.taken)),
    ]
    for place, answer in answers:
        if answer.figure not in FIGURES:
            known = ", ".join(FIGURES)
            yield f"{place}.figure", f"expected one of {known}"
        if answer.heard < 0:
            yield f"{place}.heard", "it cannot be less than 0"


def _not_borne_out(project: Project) -> Iterator[tuple[str, str]]:
    """Yield the first ticked cut that the sheets as they lie do not have."""
    progress = project.progress
    if not progress.made:
        return
    cut = changed_in(progress, saw(opened(project)).plan)
    if cut is not None:
        place = f"progress.fixed[{cut.number - progress.first}]"
        yield place, f"cut {cut.number} is ticked, but the sheets as they lie do not have it"
