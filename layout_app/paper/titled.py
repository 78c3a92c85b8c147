"""A cutting diagram with its title above, and below it facts and the list of what has no room.

At true size 1 in of sheet is 25.4 mm of drawing, and text is at least a sixtieth of the
drawing's length.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from math import inf

from layout_app.model.words.wording import sheet_names
from layout_app.paper import ink
from layout_app.paper.diagram import Diagram, Lost, diagram
from layout_app.paper.equal_sheets import equal_lines
from layout_app.paper.layers import LAYERS, moved
from layout_app.paper.letters import shortened, two_lines, width_of, wrapped
from layout_app.paper.millimetres import to_mm
from layout_app.paper.pens import BLACK_AND_WHITE, COLOURED, PaperHand
from shared.drawing import Role, SheetDrawing
from shared.job import Job
from shared.lengths import LengthStyle, format_mark, with_unit
from shared.shop import Axis

TEXT_SHARE = 47
"""A sheet is this many text sizes long; with margins the drawing is less than 60."""
MARGIN = 0.8
"""Around everything, in text sizes."""
LINE = 1.5
"""From line to line, in text sizes."""
APART = 0.4
"""Between a diagram and the words above and below it, in text sizes."""
SIZE_END = 30
"""So many letters at the end of a line of the list hold the size that stands there."""
MORE = "The rest is in the list of parts, or on the next page."
FACE_DOWN = "Drawn with the show face down, as it lies: left and right end are called by that."
MOST = 4
"""Columns of the list beside each other."""
GUTTER = 1.6
"""Between two columns, in text sizes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Titled:
    """A diagram with its title above and its list below, in the frame of the sheet, in mm.

    ``left_over`` are the lines of the list that found no room; ``lost`` is as with a
    diagram.
    """

    items: tuple[ink.Item, ...]
    around: ink.Spread
    left_over: tuple[str, ...] = ()
    lost: Lost


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What is said in lines of its own.

    Attributes
    ----------
    whole
        The things said, each in one piece.
    lines
        Each line as texts and how far from the left they begin, in text sizes.
    """

    whole: tuple[str, ...]
    lines: tuple[tuple[tuple[float, str], ...], ...]


def drawing_page(
    drawing: SheetDrawing,
    style: LengthStyle,
    job: Job,
    *,
    black: bool = False,
    banner: str = "",
    identity: str = "",
) -> ink.Page:
    """Compose a page of one sheet at true size, all cuts made.

    ``banner`` is said above it, ``identity``, which names plan and day, below its title.
    """
    hand = hand_for(drawing, black=black)
    whole = titled(drawing, hand, style, job, banner=banner, identity=identity)
    around = whole.around.inside(-MARGIN * hand.size)
    return ink.Page(
        length=round(around.length, 2),
        width=round(around.width, 2),
        items=tuple(moved(whole.items, -around.x, -around.y)),
        title=page_title(job, f"sheet {drawing.sheet}: {drawing.title}", identity),
        description=facts(drawing, style, job),
    )


def titled(
    drawing: SheetDrawing,
    hand: PaperHand,
    style: LengthStyle,
    job: Job,
    *,
    prefix: str = "",
    banner: str = "",
    identity: str = "",
    deep: float = inf,
    brief: bool = False,
    long: float = 0.0,
    equal: Sequence[SheetDrawing] = (),
) -> Titled:
    """Draw a sheet with its title above, facts and the list of what found no room below.

    ``deep`` is how far all of it may reach down, in mm of the drawing; a list that is longer
    is broken off. ``brief`` gives each thing on the list one line; long names are shortened.
    Words may be ``long`` mm of the drawing, or as long as it is. ``equal`` are sheets that are
    drawn by the same drawing; the numbers of their cuts stand in a table.
    """
    made = diagram(drawing, hand, prefix)
    long = max(long, made.around.length)
    room = long / hand.size
    above = [*(wrapped(banner, room, bold=True) if banner else [])]
    sheets = (drawing, *equal)
    named = sheet_names([one.sheet for one in sheets])
    above += two_lines(f"S{named[1:]}: {drawing.title}", room)
    above += wrapped(identity, room, bold=True) if identity else []
    problem = [f"This sheet cannot be cut: {drawing.problem}"] if drawing.problem else []
    lies = [FACE_DOWN] if drawing.mirrored else []
    said = [paragraph(one, room) for one in (*problem, *lies, facts(drawing, style, job))]
    said += [Said(whole=(one,), lines=tuple(lines)) for one, lines in equal_lines(sheets, room)]
    said += rows([_brief(one, room) if brief else one for one in listed(made)], room)
    lines = (deep - made.around.width) / hand.size / LINE - len(above) - 2 * APART / LINE
    shown = _first(said, lines)
    below = [line for one in said[:shown] for line in one.lines]
    if shown < len(said):
        below.append(((0.0, MORE),))
    top = made.around.y - (len(above) * LINE + APART) * hand.size
    bottom = made.around.bottom + (len(below) * LINE + APART) * hand.size
    words = [
        *_lines([((0.0, one),) for one in above], made.around.x, top, hand, bold=True),
        *_lines(below, made.around.x, made.around.bottom + APART * hand.size, hand),
    ]
    return Titled(
        items=(
            *made.items,
            ink.Group(name=f"{prefix}words", layer=LAYERS["words"], items=tuple(words)),
        ),
        around=ink.Spread(x=made.around.x, y=top, length=long, width=bottom - top),
        left_over=tuple(text for one in said[shown:] for text in one.whole),
        lost=made.lost,
    )


def _first(said: Sequence[Said], lines: float) -> int:
    """Return how many of the things said have room in so many lines, if some wait one line less."""
    ends = list(accumulate(len(one.lines) for one in said))
    if not ends or ends[-1] <= lines:
        return len(ends)
    return sum(end <= lines - 1 for end in ends)


def facts(drawing: SheetDrawing, style: LengthStyle, job: Job) -> str:
    """Say what has to be known of every size on a diagram."""
    fine = replace(style, denominator=64, decimals=2)
    kerf = with_unit(format_mark(job.shop.kerf, fine), fine)
    finished = any(box.role is Role.BLANK for box in drawing.boxes)
    if finished and job.shop.table is not None:
        table = with_unit(format_mark(job.shop.table.kerf, fine), fine)
        kerf += f", at the {job.shop.table.tool} {table}"
    return f"Kerf {kerf}. Cut sizes.{_whence(drawing)}"


def _whence(drawing: SheetDrawing) -> str:
    """Say what the positions beside the sheet are measured from; ``""`` where none stand."""
    if not drawing.marks:
        return ""
    if drawing.marks[0].axis is Axis.RIP:
        return " Positions from the trimmed reference edge (top)."
    return f" Positions from the trimmed {'right' if drawing.mirrored else 'left'} end."


def listed(made: Diagram) -> list[str]:
    """Return what found no room on the sheet, each behind the letter that stands for it."""
    return [f"{mark}: {meaning}" if mark else meaning for mark, meaning in made.below]


def _brief(text: str, room: float) -> str:
    """Return a text on one line, shortened before its end, where the size stands."""
    if width_of(text) <= room:
        return text
    end = text[-SIZE_END:]
    return shortened(text[:-SIZE_END], room - width_of(end)) + end


def _lines(
    lines: Sequence[Sequence[tuple[float, str]]],
    x: float,
    top: float,
    hand: PaperHand,
    *,
    bold: bool = False,
) -> list[ink.Words]:
    return [
        ink.Words(
            text=text,
            x=x + after * hand.size,
            y=top + (number + 0.5) * LINE * hand.size,
            size=hand.size,
            bold=bold,
            colour=hand.colours.graphite,
        )
        for number, line in enumerate(lines)
        for after, text in line
    ]


def paragraph(text: str, room: float) -> Said:
    """Break one text into lines at most that wide, in text sizes."""
    lines = tuple(((0.0, line),) for line in wrapped(text, room))
    return Said(whole=(text,), lines=lines)


def rows(texts: Sequence[str], room: float) -> list[Said]:
    """Set texts row by row into as many columns as the longest leaves room for."""
    widest = max(map(width_of, texts), default=room)
    columns = max(1, min(MOST, int((room + GUTTER) / (widest + GUTTER))))
    if columns == 1:
        return [paragraph(text, room) for text in texts]
    step = (room + GUTTER) / columns
    return [
        Said(
            whole=tuple(row),
            lines=(tuple((place * step, text) for place, text in enumerate(row)),),
        )
        for row in (texts[at : at + columns] for at in range(0, len(texts), columns))
    ]


def hand_for(drawing: SheetDrawing, *, black: bool) -> PaperHand:
    """Return how a sheet is drawn at true size."""
    return PaperHand(
        size=to_mm(drawing.rect.length) / TEXT_SHARE,
        colours=BLACK_AND_WHITE if black else COLOURED,
    )


def page_title(job: Job, what: str, identity: str) -> str:
    """Return what a drawing is called in the tab of a browser: job, sheet, plan and day."""
    return ", ".join(one for one in (job.name, what, identity) if one)
