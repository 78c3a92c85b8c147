"""All sheets of a job in one drawing: rows and columns at true size, a head above them."""

from collections.abc import Sequence
from itertools import accumulate
from math import ceil, log, sqrt
from typing import Final

from layout_app.paper import ink
from layout_app.paper.layers import Placed, by_layer
from layout_app.paper.letters import two_lines, wrapped
from layout_app.paper.pens import PaperHand
from layout_app.paper.titled import LINE, MARGIN, facts, hand_for, page_title, titled
from shared.drawing import SheetDrawing
from shared.job import Job
from shared.lengths import LengthStyle

HEAD: Final = 1.5
"""The head is so many times as large as all other words."""
SHAPE: Final = sqrt(2)
"""Length of a page of paper by its width (ISO 216), lying."""


def job_page(
    drawings: Sequence[SheetDrawing],
    style: LengthStyle,
    job: Job,
    *,
    black: bool = False,
    banner: str = "",
    identity: str = "",
) -> ink.Page:
    """Compose all sheets of a job in rows and columns, at true size.

    ``banner`` and ``identity``, which names plan and day, are said once, in the head.
    """
    longest = max(drawings, key=lambda drawing: drawing.rect.length)
    hand = hand_for(longest, black=black)
    margin = MARGIN * hand.size
    prefixes = [f"s{one.sheet}-" for one in drawings]
    made = [
        titled(one, hand, style, job, prefix=prefix)
        for one, prefix in zip(drawings, prefixes, strict=True)
    ]
    sizes = [(one.around.length, one.around.width) for one in made]
    columns = columns_of(sizes, 2 * margin)
    lefts, tops = _spans(sizes, columns, 2 * margin)
    length = lefts[-1] - 2 * margin
    said = [*two_lines(f"{job.name}, all sheets", length / hand.size / HEAD)]
    said += [
        line
        for text in (identity, banner)
        if text
        for line in wrapped(text, length / hand.size / HEAD, bold=True)
    ]
    down = margin + (len(said) * LINE * HEAD + MARGIN) * hand.size
    placed = [
        Placed(
            name=f"Sheet {drawing.sheet}",
            prefix=prefix,
            items=one.items,
            x=margin + lefts[place % columns] - one.around.x,
            y=down + tops[place // columns] - one.around.y,
        )
        for place, (drawing, prefix, one) in enumerate(zip(drawings, prefixes, made, strict=True))
    ]
    return ink.Page(
        length=round(length + 2 * margin, 2),
        width=round(down + tops[-1] - margin, 2),
        items=(*by_layer(placed), _head(said, margin, hand)),
        title=page_title(job, "all sheets", identity),
        description=facts(longest, style, job),
    )


def columns_of(sizes: Sequence[tuple[float, float]], gap: float) -> int:
    """Return in how many columns the whole comes nearest to the shape of a page that lies.

    Lengths and widths in mm.
    """

    def off(columns: int) -> float:
        lefts, tops = _spans(sizes, columns, gap)
        return abs(log(lefts[-1] / tops[-1] / SHAPE))

    return min(range(1, len(sizes) + 1), key=off)


def _spans(
    sizes: Sequence[tuple[float, float]], columns: int, gap: float
) -> tuple[list[float], list[float]]:
    """Return where columns and rows begin, and where one more would, in mm."""
    lengths = [max(length for length, _ in sizes[at::columns]) for at in range(columns)]
    rows = ceil(len(sizes) / columns)
    widths = [
        max(width for _, width in sizes[row * columns : (row + 1) * columns]) for row in range(rows)
    ]
    return (
        list(accumulate((one + gap for one in lengths), initial=0.0)),
        list(accumulate((one + gap for one in widths), initial=0.0)),
    )


def _head(lines: Sequence[str], margin: float, hand: PaperHand) -> ink.Group:
    words = tuple(
        ink.Words(
            text=line,
            x=margin,
            y=margin + (number + 0.5) * LINE * HEAD * hand.size,
            size=HEAD * hand.size,
            bold=True,
            colour=hand.colours.graphite,
        )
        for number, line in enumerate(lines)
    )
    return ink.Group(name="head", layer="Head", items=words)
