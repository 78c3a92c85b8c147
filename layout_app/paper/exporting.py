"""Write a plan into a folder, in the formats that are asked for.

What is written is made first and written then, so that a plan that cannot be drawn leaves
nothing half done; all files take their places together, or none does.
"""

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, NamedTuple

from layout_app.paper import ink, svg, tables
from layout_app.paper.all_sheets import job_page
from layout_app.paper.dxf import check_dxf, sheet_dxf
from layout_app.paper.fitting import fitted_page
from layout_app.paper.matter import Matter
from layout_app.paper.pack.labels import label_pages
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.publish import publish_files
from layout_app.paper.titled import drawing_page
from layout_app.paper.wish import ExportWish
from layout_app.store import atomic
from layout_app.store.errors import is_there, told
from layout_app.store.file_names import safe_names
from layout_app.store.plan_file import plan_text
from shared.drawing import SheetDrawing
from shared.plan import Plan

File = tuple[str, bytes]
"""Path below the folder, and what the file holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """A kind of file that a plan can be written to.

    Attributes
    ----------
    name
        On the command line.
    title, tip
        What it is called in the drawer, and what it is for.
    make
        Makes its files.
    sure
        The files that hang on nothing of the plan.
    check
        Raises `MissingExtraError` if it needs a library that is not installed.
    """

    name: str
    title: str
    tip: str
    make: Callable[[Matter, ExportWish], Iterator[File]]
    sure: tuple[str, ...] = ()
    check: Callable[[], None] | None = None


DRAWN: Final = {".svg", ".dxf", ".png"}
"""How the names of drawings end."""


class Exported(NamedTuple):
    """A plan, and the files it was written to."""

    plan: Plan
    files: tuple[Path, ...]


class FilesThereError(Exception):
    """Files are there already and were not to be replaced."""

    def __init__(self, files: Sequence[Path]) -> None:
        super().__init__(f"{files[0]} and {len(files) - 1} more are there already")
        self.files = tuple(files)


def write(
    matter: Matter,
    folder: Path,
    formats: Sequence[str],
    wish: ExportWish | None = None,
    *,
    replace: bool = False,
) -> Exported:
    """Write a plan in some of `FORMATS`, by their names.

    Raises
    ------
    FilesThereError
        If a file is there already and ``replace`` is not asked for; then nothing is written.
    FileProblem
        If a file cannot be written; then none is, and no new folder is left.
    MissingExtraError
        If a format needs a library that is not installed; then nothing is written.
    """
    made = list(made_files(matter, formats, wish or ExportWish()))
    paths = [folder / name for name, _ in made]
    there = [path for path in paths if is_there(path)]
    if there and not replace:
        raise FilesThereError(there)
    with atomic.new_folders() as make:
        for parent in dict.fromkeys(path.parent for path in paths):
            make(parent)
        atomic.save_all([(path, data) for path, (_, data) in zip(paths, made, strict=True)])
    return Exported(matter.plan, tuple(paths))


def check_libraries(formats: Collection[str]) -> None:
    """Raise `MissingExtraError` if a format needs a library that is not installed."""
    for one in _named(formats):
        if one.check is not None:
            one.check()


def sure_files(folder: Path, formats: Collection[str]) -> list[Path]:
    """Return the files that are written in these formats whatever the plan is."""
    return [folder / file for one in _named(formats) for file in one.sure]


def made_files(matter: Matter, formats: Collection[str], wish: ExportWish) -> Iterator[File]:
    """Yield all files of some formats."""
    for one in _named(formats):
        yield from one.make(matter, wish)


def _named(formats: Collection[str]) -> list[Format]:
    return [one for one in FORMATS if one.name in formats]


def left_over_drawings(exported: Exported, folder: Path) -> list[str]:
    """Name drawings of an earlier plan in the folder, which do not belong to this one.

    Only of the formats that were written now: others say by the plan's number what they are of.
    """
    ours = set(exported.files)
    kinds = {(file.parent, file.suffix) for file in ours if file.suffix in DRAWN}
    with told(folder, "cannot be read"):
        return sorted(
            file.relative_to(folder).as_posix()
            for parent, suffix in kinds
            for beginning in ("sheet-", "reading-")
            for file in parent.glob(f"{beginning}*{suffix}")
            if file not in ours
        )


def _json(matter: Matter, wish: ExportWish) -> Iterator[File]:
    del wish
    yield "plan.json", plan_text(matter.plan).encode()


def _svg(matter: Matter, wish: ExportWish) -> Iterator[File]:
    names = _names(matter)
    for drawing in matter.drawings:
        page = _drawing(drawing, matter, wish)
        yield f"sheet-{names[drawing.sheet]}.svg", svg.document(page).encode()
    if len(matter.drawings) > 1:
        page = job_page(
            matter.drawings,
            matter.style,
            matter.job,
            black=wish.black,
            banner=matter.banner,
            identity=matter.identity,
        )
        yield "all-sheets.svg", svg.document(page).encode()


def _pdf(matter: Matter, wish: ExportWish) -> Iterator[File]:
    yield "cut-pack.pdf", _pages(pack_pages(matter, wish), matter, "cut pack")


def _labels(matter: Matter, wish: ExportWish) -> Iterator[File]:
    pages = label_pages(matter, wish.labels, wish.paper)
    if pages:
        yield "labels.pdf", _pages(pages, matter, "labels")


def _png(matter: Matter, wish: ExportWish) -> Iterator[File]:
    from layout_app.paper.rendering import png  # noqa: PLC0415 - Qt is loaded for pictures and PDF alone

    names = _names(matter)
    for drawing in matter.drawings:
        yield f"sheet-{names[drawing.sheet]}.png", png(_drawing(drawing, matter, wish))


def _csv(matter: Matter, wish: ExportWish) -> Iterator[File]:
    del wish
    yield "parts.csv", _for_spreadsheets(tables.parts_csv(matter))
    yield "cuts.csv", _for_spreadsheets(tables.cuts_csv(matter))
    yield "shopping.csv", _for_spreadsheets(tables.shopping_csv(matter))


def _dxf(matter: Matter, wish: ExportWish) -> Iterator[File]:
    del wish
    names = _names(matter)
    for drawing in matter.drawings:
        yield f"sheet-{names[drawing.sheet]}.dxf", sheet_dxf(drawing, matter).encode()


def _publish(matter: Matter, wish: ExportWish) -> Iterator[File]:
    del wish
    for name, data in publish_files(matter).items():
        yield f"publish/{name}", data


def _for_spreadsheets(text: str) -> bytes:
    """Begin with a byte order mark, by which spreadsheets know UTF-8."""
    return text.encode("utf-8-sig")


FORMATS: Final = (
    Format(
        name="json",
        title="plan as data",
        tip="plan.json, which can be sawn again and checked",
        make=_json,
        sure=("plan.json",),
    ),
    Format(
        name="svg",
        title="drawings",
        tip="One SVG a sheet and one of all, for browsers and drawing programs",
        make=_svg,
    ),
    Format(
        name="pdf",
        title="cut pack",
        tip="PDF for the wall: cover, lists, diagrams, cuts, labels",
        make=_pdf,
        sure=("cut-pack.pdf",),
    ),
    Format(
        name="csv",
        title="tables",
        tip="CSV of parts, cuts and shopping, for spreadsheets",
        make=_csv,
        sure=("parts.csv", "cuts.csv", "shopping.csv"),
    ),
    Format(
        name="dxf",
        title="DXF",
        tip="One DXF a sheet, true mm, for drawing programs; needs ezdxf",
        make=_dxf,
        check=check_dxf,
    ),
    Format(name="png", title="pictures", tip="One PNG a sheet", make=_png),
    Format(
        name="labels",
        title="labels alone",
        tip="PDF of the labels, divided as said below",
        make=_labels,
    ),
    Format(
        name="publish",
        title="published plan",
        tip="A folder to hand on: one page of HTML, Markdown and drawings, in both units",
        make=_publish,
        sure=("publish/plan.html", "publish/plan-in.md", "publish/plan-mm.md"),
    ),
)
FORMAT_NAMES: Final = tuple(one.name for one in FORMATS)
"""What formats are called on the command line."""
USUAL: Final = ("json", "svg")
"""What is written where no format is named."""


def _drawing(drawing: SheetDrawing, matter: Matter, wish: ExportWish) -> ink.Page:
    """Return one sheet at true size, or fitted to a page with its scale."""
    if wish.fitted:
        return fitted_page(drawing, matter, wish.paper, black=wish.black)
    return drawing_page(
        drawing,
        matter.style,
        matter.job,
        black=wish.black,
        banner=matter.banner,
        identity=matter.identity,
    )


def _names(matter: Matter) -> dict[str, str]:
    """Return what the file of each sheet is called, whatever stands in its id."""
    return safe_names((drawing.sheet for drawing in matter.drawings), "x")


def _pages(pages: Sequence[ink.Page], matter: Matter, what: str) -> bytes:
    from layout_app.paper.rendering import pdf  # noqa: PLC0415 - Qt is loaded for pictures and PDF alone

    return pdf(pages, f"{matter.job.name}: {what}, {matter.identity}", matter.day)
