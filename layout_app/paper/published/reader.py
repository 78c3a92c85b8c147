"""A matter as another maker is told it: in a unit, and without the limits of the first one's back.

What somebody can lift is his own affair. A reader is told what sheets and pieces weigh, and
judges for himself.
"""

from dataclasses import replace
from typing import Final

from layout_app.paper.matter import Matter, matter_of
from shared.drawing import SheetDrawing
from shared.lengths import Unit
from shared.telling import Instruction

LIFTING: Final = frozenset({"heavy", "turn", "turn-heavy", "carry-away"})
"""The rules that hang on what the maker of a plan can lift or turn."""


def in_unit(matter: Matter, unit: Unit) -> Matter:
    """Return the same matter told in another unit, with the maker's own fineness."""
    if matter.style.unit is unit:
        return matter
    style = replace(matter.style, unit=unit)
    return replace(
        matter_of(
            replace(matter.job, style=style),
            matter.plan,
            loose=tuple(one for one in matter.drawings if not is_planned(one, matter)),
            waiting=matter.unplaced,
            build=matter.build,
            made=matter.made,
            past=matter.past,
        ),
        banner=matter.banner,
        ordered=matter.ordered,
        day=matter.day,
    )


def for_reader(matter: Matter) -> Matter:
    """Return a matter whose cuts say nothing of what its maker can lift, and none is ticked."""
    return replace(matter, told=tuple(map(_without_lifting, matter.told)), made=())


def _without_lifting(one: Instruction) -> Instruction:
    hazards = tuple(code for code in one.record.hazards if code not in LIFTING)
    if hazards == one.record.hazards:
        return one
    return replace(
        one,
        record=replace(one.record, find_hazards=lambda _: hazards),
        cautions=tuple(caution for caution in one.cautions if caution.code not in LIFTING),
    )


def is_planned(drawing: SheetDrawing, matter: Matter) -> bool:
    """Say whether a sheet has cuts; one that has none is drawn in the maker's unit alone."""
    return any(sheet.id == drawing.sheet for sheet in matter.plan.sheets)
