"""What a change of the layout costs, in words such as ``+1 cut, about +4 min``.

Minutes are as the layout decides them, before its cuts are put in order anew.
"""

from collections.abc import Iterator

from layout_app.model.cost import Cost, Size
from layout_app.model.words.wording import all_of
from shared.amounts import format_price
from shared.lengths import LengthStyle
from shared.offcuts import offcut_side

NO_OTHER = "as many cuts and about as many minutes as before"


def cost_lines(cost: Cost, style: LengthStyle) -> tuple[str, ...]:
    """Say what a change costs: the sawing, the sheets, the offcuts, a line each.

    Lengths are in ``style``. What costs nothing has `NO_OTHER`.
    """
    lines = (_sawing(cost), _sheets(cost), _offcuts(cost, style))
    return tuple(filter(None, lines)) or (NO_OTHER,)


def cost_words(cost: Cost, style: LengthStyle) -> str:
    """Say the same in one line, such as a sentence may end with."""
    return ", ".join(cost_lines(cost, style))


def _sawing(cost: Cost) -> str:
    said = [_more(cost.cuts, "cut"), f"about {cost.minutes:+d} min" if cost.minutes else ""]
    return ", ".join(filter(None, said))


def _more(number: int, noun: str) -> str:
    """Write how many more there are, or fewer; ``""`` if neither."""
    return f"{number:+d} {noun}{'' if abs(number) == 1 else 's'}" if number else ""


def _sheets(cost: Cost) -> str:
    return ", ".join(_of_sheets(cost))


def _of_sheets(cost: Cost) -> Iterator[str]:
    if cost.opened:
        yield f"opens {all_of('sheet', cost.opened)}"
    if cost.freed:
        yield f"frees {all_of('sheet', cost.freed)}"
    if cost.price:
        yield ("+" if cost.price > 0 else "-") + format_price(abs(cost.price))
    if cost.mended:
        yield f"{all_of('sheet', cost.mended)} can be cut again"


def _offcuts(cost: Cost, style: LengthStyle) -> str:
    """Name the largest offcut that goes, and the largest that comes."""
    gained, lost = ([_size(one, style) for one in some[:1]] for some in (cost.gained, cost.lost))
    if gained == lost:
        return ""
    said = [f"breaks the offcut {size}" for size in lost]
    said += [f"leaves an offcut {size}" for size in gained]
    return ", ".join(said)


def _size(size: Size, style: LengthStyle) -> str:
    return " × ".join(offcut_side(side, style) for side in size)
