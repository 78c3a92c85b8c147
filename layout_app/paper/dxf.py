"""Sheets as DXF (R2010), in true millimetres, for CAD and CAM programs.

y points up, as these programs have it, and the lower left corner of the sheet is the origin:
the reference edge lies at the top, as in every other drawing. Nothing else flips.

ezdxf writes the files; it is an optional extra, and only loaded when a file is written.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from importlib.util import find_spec
from io import StringIO
from math import hypot
from typing import Any, Final

from layout_app.paper import ink
from layout_app.paper.matter import Matter
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pens import BLACK_AND_WHITE, CUT, HATCH, NARROW, OUTLINE, PaperHand
from layout_app.paper.plain import one_line
from layout_app.paper.titled import TEXT_SHARE, titled
from shared.drawing import SheetDrawing, turned_over


class MissingExtraError(Exception):
    """A library is missing; the message is one sentence that says what to install."""

    def __init__(self, what: str, extra: str) -> None:
        super().__init__(
            f'{what} needs one more library: python -m pip install "ripfirst[{extra}]".'
        )


LAYERS: Final = {
    "SHEET": (OUTLINE, 7),
    "GRAIN": (HATCH, 8),
    "PARTS": (OUTLINE, 7),
    "SIZES": (NARROW, 7),
    "CUTS": (CUT, 1),
    "NUMBERS": (CUT, 150),
    "WASTE": (HATCH, 8),
    "TITLE": (NARROW, 7),
}
"""Line width in mm, of the series of ISO 128, and colour by its DXF number: black on white and
white on black (7), or such as are told from both grounds."""
_LAYER_OF: Final = {
    "sheet": "SHEET",
    "waste": "WASTE",
    "parts": "PARTS",
    "grain": "GRAIN",
    "kept-clear": "WASTE",
    "cuts": "CUTS",
    "match-groups": "SIZES",
    "sizes": "SIZES",
    "pieces": "SIZES",
    "running": "SIZES",
    "reference-edge": "SHEET",
    "numbers": "NUMBERS",
    "words": "TITLE",
}
"""Layer of each group of a diagram."""
CAPITALS: Final = 2 * ink.CAP_MIDDLE
"""DXF measures text by its capitals: their height in text sizes."""
_CLASSES: Final = ("ACDBPLACEHOLDER", "LAYOUT")
"""Named here, since ezdxf puts them in by itself in an order that differs from run to run."""
STYLE, DASHED = "WORDS", "DASHED"
_CARET: Final = re.compile(r"\^")
_PERCENT: Final = re.compile(r"%{2,}")
_BACKSLASH: Final = re.compile(r"\\(?=[UM]\+)", re.IGNORECASE)


def sheet_dxf(drawing: SheetDrawing, matter: Matter) -> str:
    """Draw one sheet; the same drawing gives the same text.

    Parts, sheet and falls are closed outlines, each cut is the outline of its dust; words
    stand as text, as high as in the SVG drawing. The show face is up, however the sheet is sawn.

    Raises
    ------
    MissingExtraError
        If ezdxf is not installed.
    """
    drawing = turned_over(drawing) if drawing.mirrored else drawing
    hand = PaperHand(size=to_mm(drawing.rect.length) / TEXT_SHARE, colours=BLACK_AND_WHITE)
    made = titled(
        drawing, hand, matter.style, matter.job, banner=matter.banner, identity=matter.identity
    )
    width = to_mm(drawing.rect.width)
    document = _new(hand.size)
    model = document.modelspace()
    for layer, item in _items(made.items, ""):
        _draw(model, layer, item, width)
    _frame(document, made.around, width)
    out = StringIO()
    document.write(out)
    return out.getvalue()


def check_dxf() -> None:
    """Raise `MissingExtraError` if ezdxf is not installed; it is not loaded by that."""
    if find_spec("ezdxf") is None:
        raise MissingExtraError("DXF", "dxf")


def dxf_words(words: str) -> str:
    """Return words as DXF text: what would be read as a code is spelled out.

    ``%%`` and ``^`` have spellings of their own; a backslash that would begin a code of a
    letter (``\\U+``, ``\\M+``) gets a space behind it.
    """
    spelled = _PERCENT.sub(lambda found: "%%%" * len(found[0]), one_line(words))
    return _BACKSLASH.sub(r"\\ ", _CARET.sub("^ ", spelled))


def _new(size: float) -> Any:
    """Return an empty drawing with all layers, its dates and ids fixed."""
    try:
        import ezdxf  # noqa: PLC0415 - an optional extra
    except ImportError as missing:
        raise MissingExtraError("DXF", "dxf") from missing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    document = ezdxf.new("R2010", units=ezdxf.units.MM)
    document.styles.add(STYLE, font="arial.ttf")
    document.linetypes.add(DASHED, pattern=[0.6 * size, 0.3 * size, -0.3 * size])
    for name in _CLASSES:
        document.classes.add_class(name)
    for name, (width, colour) in LAYERS.items():
        document.layers.add(name, color=colour, lineweight=round(100 * width))
    return document


def _frame(document: Any, around: ink.Spread, width: float) -> None:
    """Say how far everything reaches, and let a program open with all of it in sight."""
    left, right = around.x, around.right
    bottom, top = width - around.bottom, width - around.y
    model = document.modelspace()
    model.reset_extents((left, bottom, 0), (right, top, 0))
    model.reset_limits((left, bottom), (right, top))
    document.set_modelspace_vport(
        height=around.width, center=((left + right) / 2, (bottom + top) / 2)
    )


def _items(items: Sequence[ink.Item], layer: str) -> Iterator[tuple[str, ink.Item]]:
    """Yield all items with their layer, those of groups too; a diagram moves no group."""
    discs = [item for item in items if isinstance(item, ink.Disc)]
    for item in items:
        if isinstance(item, ink.Group):
            yield from _items(item.items, layer or _LAYER_OF[item.name])
        elif isinstance(item, ink.Strokes) and discs:
            lines = tuple(_from_rim(line, discs[0]) for line in item.lines)
            yield layer, replace(item, lines=lines)
        else:
            yield layer, item


def _from_rim(line: tuple[ink.Spot, ...], disc: ink.Disc) -> tuple[ink.Spot, ...]:
    """Let a leader begin at the rim of its disc, which is not filled here and covers nothing."""
    (x, y), (right, bottom) = line[0], line[1]
    share = disc.radius / max(hypot(right - x, bottom - y), disc.radius)
    return ((x + share * (right - x), y + share * (bottom - y)), *line[1:])


def _draw(model: Any, layer: str, item: ink.Item, width: float) -> None:
    """Put one item, flipped over a sheet of that width in mm."""
    look: dict[str, object] = {"layer": layer}
    match item:
        case ink.Plate() if item.pen or layer == "CUTS":
            if item.pen and item.pen.dashes:
                look["linetype"] = DASHED
            model.add_lwpolyline(_corners(item, width), close=True, dxfattribs=look)
        case ink.Strokes():
            for line in item.lines:
                model.add_lwpolyline([(x, width - y) for x, y in line], dxfattribs=look)
        case ink.Disc():
            model.add_circle((item.x, width - item.y), item.radius, dxfattribs=look)
        case ink.Words() if item.text:
            _write(model, layer, item, width)


def _corners(plate: ink.Plate, width: float) -> list[ink.Spot]:
    left, right = plate.x, plate.x + plate.length
    top, bottom = width - plate.y, width - plate.y - plate.width
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def _write(model: Any, layer: str, words: ink.Words, width: float) -> None:
    """Put a line of text; its place is the middle of its capitals."""
    from ezdxf.enums import TextEntityAlignment  # noqa: PLC0415 - an optional extra

    look = {"layer": layer, "style": STYLE, "rotation": 90 if words.turned else 0}
    height = CAPITALS * words.size
    placed = model.add_text(dxf_words(words.text), height=height, dxfattribs=look)
    ends = {
        ink.Anchor.START: TextEntityAlignment.MIDDLE_LEFT,
        ink.Anchor.MIDDLE: TextEntityAlignment.MIDDLE_CENTER,
        ink.Anchor.END: TextEntityAlignment.MIDDLE_RIGHT,
    }
    placed.set_placement((words.x, width - words.y), align=ends[words.anchor])
