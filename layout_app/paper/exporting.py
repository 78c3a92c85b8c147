"""Write a plan into a folder, in the formats that are asked for.

What is written is made first and written then, so that a plan that cannot be drawn leaves
nothing half done; all files take their places together, or none does.
"""

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Final, NamedTuple

from layout_app.paper import ink, tables, xml
from layout_app.paper.dxf import check_dxf, sheet_dxf
from layout_app.paper.fitting import fitted_page
from layout_app.paper.matter import Matter
from layout_app.paper.pack.labels import label_pages
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.publish import publish_files
from layout_app.paper.svg import drawing_page, drawing_svg, job_svg
from layout_app.paper.wish import Wish
from layout_app.store import atomic
from layout_app.store.errors import is_there, told
from layout_app.store.file_names import safe_names
from layout_app.store.plan_file import plan_text
from shared.plan import Plan

File = tuple[str, bytes]
"""Path below the folder, and what the file holds."""


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
    wish: Wish | None = None,
    *,
    replace: bool = False,
) -> Exported:
    """Write a plan in some of `FORMATS`.

    Raises
    ------
    FilesThereError
        If a file is there already and ``replace`` is not asked for; then nothing is written.
    FileProblem
        If a file cannot be written; then none is, and no new folder is left.
    MissingExtraError
        If a format needs a library that is not installed; then nothing is written.
    """
    made = list(made_files(matter, formats, wish or Wish()))
    paths = [folder / name for name, _ in made]
    there = [path for path in paths if is_there(path)]
    if there and not replace:
        raise FilesThereError(there)
    with atomic.new_folders() as make:
        for parent in dict.fromkeys(path.parent for path in paths):
            make(parent)
        atomic.save_all([(path, data) for path, (_, data) in zip(paths, made, strict=True)])
    return Exported(matter.plan, tuple(paths))


def check_libraries(formats: Sequence[str]) -> None:
    """Raise `MissingExtraError` if a format needs a library that is not installed."""
    if "dxf" in formats:
        check_dxf()


def sure_files(folder: Path, formats: Sequence[str]) -> list[Path]:
    """Return the files that are written in these formats whatever the plan is."""
    return [folder / file for name in FORMATS if name in formats for file in SURE.get(name, ())]


def made_files(matter: Matter, formats: Sequence[str], wish: Wish) -> Iterator[File]:
    """Yield all files of some formats."""
    for name in FORMATS:
        if name in formats:
            yield from _MAKERS[name](matter, wish)


def left_over_drawings(exported: Exported, folder: Path) -> list[str]:
    """Name drawings of an earlier plan in the folder, which do not belong to this one."""
    ours = {file.name for file in exported.files}
    with told(folder, "cannot be read"):
        return sorted(file.name for file in folder.glob("sheet-*.svg") if file.name not in ours)


def _json(matter: Matter, wish: Wish) -> Iterator[File]:
    del wish
    yield "plan.json", plan_text(matter.plan).encode()


def _svg(matter: Matter, wish: Wish) -> Iterator[File]:
    style, job, black, banner = matter.style, matter.job, wish.black, matter.banner
    names = _names(matter)
    for drawing in matter.drawings:
        name = f"sheet-{names[drawing.sheet]}.svg"
        if wish.fitted:
            page = fitted_page(drawing, matter, wish.paper, black=wish.black)
            yield name, xml.document(page).encode()
        else:
            yield name, drawing_svg(drawing, style, job, black=black, banner=banner).encode()
    if len(matter.drawings) > 1:
        text = job_svg(matter.drawings, style, job, black=black, banner=banner)
        yield "all-sheets.svg", text.encode()


def _pdf(matter: Matter, wish: Wish) -> Iterator[File]:
    yield "cut-pack.pdf", _pages(pack_pages(matter, wish), f"{matter.job.name}: cut pack")


def _labels(matter: Matter, wish: Wish) -> Iterator[File]:
    pages = label_pages(matter, wish.labels, wish.paper)
    if pages:
        yield "labels.pdf", _pages(pages, f"{matter.job.name}: labels")


def _png(matter: Matter, wish: Wish) -> Iterator[File]:
    from layout_app.paper.picture import png  # noqa: PLC0415 - Qt is loaded for pictures and PDF alone

    names = _names(matter)
    for drawing in matter.drawings:
        page = drawing_page(
            drawing, matter.style, matter.job, black=wish.black, banner=matter.banner
        )
        yield f"sheet-{names[drawing.sheet]}.png", png(page)


def _csv(matter: Matter, wish: Wish) -> Iterator[File]:
    del wish
    yield "parts.csv", _for_spreadsheets(tables.parts_csv(matter))
    yield "cuts.csv", _for_spreadsheets(tables.cuts_csv(matter))
    yield "shopping.csv", _for_spreadsheets(tables.shopping_csv(matter))


def _dxf(matter: Matter, wish: Wish) -> Iterator[File]:
    del wish
    names = _names(matter)
    for drawing in matter.drawings:
        yield f"sheet-{names[drawing.sheet]}.dxf", sheet_dxf(drawing, matter).encode()


def _publish(matter: Matter, wish: Wish) -> Iterator[File]:
    del wish
    for name, data in publish_files(matter).items():
        yield f"publish/{name}", data


def _for_spreadsheets(text: str) -> bytes:
    """Begin with a byte order mark, by which spreadsheets know UTF-8."""
    return text.encode("utf-8-sig")


_MAKERS: Final[dict[str, Callable[[Matter, Wish], Iterator[File]]]] = {
    "json": _json,
    "svg": _svg,
    "pdf": _pdf,
    "csv": _csv,
    "dxf": _dxf,
    "png": _png,
    "labels": _labels,
    "publish": _publish,
}
FORMATS: Final = tuple(_MAKERS)
SURE: Final = {
    "json": ("plan.json",),
    "pdf": ("cut-pack.pdf",),
    "csv": ("parts.csv", "cuts.csv", "shopping.csv"),
    "publish": ("publish/plan-in.md", "publish/plan-mm.md"),
}
"""By format, the files that hang on nothing of the plan."""
USUAL: Final = ("json", "svg")
"""What is written where no format is named."""


def _names(matter: Matter) -> dict[str, str]:
    """Return what the file of each sheet is called, whatever stands in its id."""
    return safe_names((drawing.sheet for drawing in matter.drawings), "x")


def _pages(pages: Sequence[ink.Page], title: str) -> bytes:
    from layout_app.paper.pdf import pdf  # noqa: PLC0415 - Qt is loaded for pictures and PDF alone

    return pdf(pages, title)
