"""One drawing for every back end: a sheet as records in ticks, see `records`.

`draw_sheet` draws a sheet of a plan, finished or just before a cut; `draw_loose` a sheet
that cannot be cut. `hatch` fills falls, `place_tags` and `fit` settle where numbers and
words stand so that none covers another.
"""

from shared.drawing.hatch import hatch
from shared.drawing.lettering import Fitted, Space, fit
from shared.drawing.loose import draw_loose
from shared.drawing.mirror import turned_over
from shared.drawing.records import (
    Box,
    CutTag,
    GrainLine,
    GrainSign,
    NamedPiece,
    RectLabel,
    Role,
    RuleState,
    RunningMark,
    SheetDrawing,
    Tie,
    Weight,
)
from shared.drawing.sheet import draw_finished
from shared.drawing.state import draw_state
from shared.drawing.tags import PlacedTag, place_every_tag, place_tags, spread
from shared.lengths import LengthStyle
from shared.plan import Plan

__all__ = [
    "Box",
    "CutTag",
    "Fitted",
    "GrainLine",
    "GrainSign",
    "NamedPiece",
    "PlacedTag",
    "RectLabel",
    "Role",
    "RuleState",
    "RunningMark",
    "SheetDrawing",
    "Space",
    "Tie",
    "Weight",
    "draw_loose",
    "draw_sheet",
    "fit",
    "hatch",
    "place_every_tag",
    "place_tags",
    "spread",
    "turned_over",
]


def draw_sheet(
    plan: Plan, sheet_id: str, style: LengthStyle, upto: int | None = None
) -> SheetDrawing:
    """Draw a sheet of a plan.

    Parameters
    ----------
    plan
        A plan the simulated saw has accepted.
    sheet_id
        Which sheet; KeyError if the plan has none of that id.
    style
        How lengths are written on it.
    upto
        Draw the state just before the cut of this number; ``None`` for all cuts made.
    """
    if upto is None:
        return draw_finished(plan, sheet_id, style)
    return draw_state(plan, sheet_id, style, upto)
