"""What the command line says about paper: formats, unit, size of paper, division of labels."""

import argparse
from dataclasses import replace
from math import isfinite
from typing import Final

from layout_app.paper.exporting import FORMAT_NAMES, USUAL
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.label_sheet import LabelSheet
from layout_app.paper.wish import ExportWish
from shared.lengths import Unit

_PAPERS: Final = {paper.name.lower(): paper for paper in Paper}
_UNITS: Final = {"in": Unit.INCH, "mm": Unit.MM}


def add_paper(parser: argparse.ArgumentParser) -> None:
    """Add what says how a plan is written."""
    group = parser.add_argument_group("what is written")
    group.add_argument(
        "--format", type=_formats, default=USUAL, metavar="LIST", help=",".join(FORMAT_NAMES)
    )
    group.add_argument("--replace", action="store_true", help="replace files that are there")
    group.add_argument("--paper", choices=_PAPERS, default="a4", help="of PDF and fitted drawings")
    group.add_argument("--unit", type=_unit, metavar="in|mm", help="else as the project says")
    group.add_argument("--black", action="store_true", help="drawings in black and white")
    group.add_argument(
        "--fitted",
        action="store_true",
        help="SVG and PNG of a sheet fitted to a page, its scale stated",
    )
    group.add_argument(
        "--labels",
        type=_labels,
        default=LabelSheet(),
        metavar="COLUMNSxROWS[,LEFT,TOP[,GAP,GAP]]",
        help="how sheets of labels are divided, margins and gaps in mm, such as 3x8,0,4.5",
    )
    group.add_argument(
        "--label-borders", action="store_true", help="for labels on plain paper that is cut"
    )


def wish_of(arguments: argparse.Namespace) -> ExportWish:
    """Return what was wished."""
    return ExportWish(
        paper=_PAPERS[arguments.paper],
        black=arguments.black,
        fitted=arguments.fitted,
        labels=replace(arguments.labels, borders=arguments.label_borders),
        unit=arguments.unit,
    )


def _formats(text: str) -> tuple[str, ...]:
    formats = tuple(word.strip() for word in text.split(","))
    unknown = [word for word in formats if word not in FORMAT_NAMES]
    if unknown:
        known = ", ".join(FORMAT_NAMES)
        raise argparse.ArgumentTypeError(f"{unknown[0]!r} is no format, write some of {known}")
    return formats


def _unit(text: str) -> Unit:
    if text not in _UNITS:
        raise argparse.ArgumentTypeError(f"{text!r} is no unit here, write in or mm")
    return _UNITS[text]


def _labels(text: str) -> LabelSheet:
    """Read a division such as ``3x8,0,4.5,2,0``."""
    grid, *lengths = text.lower().replace(" ", "").split(",")
    try:
        columns, rows = map(int, grid.split("x"))
        names = ("left", "top", "between_columns", "between_rows")
        if len(lengths) not in {0, 2, 4}:
            raise ValueError
        free = dict(zip(names, map(float, lengths), strict=False))
        if not all(map(isfinite, free.values())):
            raise ValueError
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no division of labels, write it like 3x8,0,4.5"
        ) from None
    return LabelSheet(
        columns=columns,
        rows=rows,
        left=free.get("left", LabelSheet().left),
        top=free.get("top", LabelSheet().top),
        between_columns=free.get("between_columns", LabelSheet().between_columns),
        between_rows=free.get("between_rows", LabelSheet().between_rows),
    )
