"""What is wrong with parts that are cut twice: fit parts once measured, and oversize parts."""

from collections.abc import Iterator

from shared.finding import called, error, say, say_at_least, say_size, warning
from shared.issues import Issue
from shared.lengths import Length, LengthStyle
from shared.parts import Part
from shared.shop import Shop


def blank_faults(part: Part, shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    """Yield what is wrong with a part's measured size and with its oversize."""
    if part.measured_length or part.measured_width:
        yield from _measured(part, style)
    if part.oversize:
        yield from _oversize(part, shop, style)


def _measured(part: Part, style: LengthStyle) -> Iterator[Issue]:
    if part.fit_allowance <= 0:
        said = f"{called(part)} has no fit allowance, so the measured size is not used: enter one."
        yield warning("part-measured-no-fit", part.id, said, "fit_allowance")
        return
    bad = [*_not_positive(part, style)]
    yield from bad
    if not bad and part.waits:
        yield _one_way(part)
    elif not bad:
        yield from _beyond_blank(part, style)


def _not_positive(part: Part, style: LengthStyle) -> Iterator[Issue]:
    """Judge each measured side, bands taken off; 0 is not measured yet."""
    bands = part.bands
    sides = (
        ("length", part.measured_length, bands.left + bands.right),
        ("width", part.measured_width, bands.top + bands.bottom),
    )
    for field, measured, taken in sides:
        if measured < 0:
            said = f"{called(part)}: the measured {field} is {say(measured, style)}; measure again."
        elif 0 < measured <= taken:
            said = (
                f"{called(part)}: its bands take {say(taken, style)}, and nothing is left of the"
                f" measured {field}, {say(measured, style)}; measure again."
            )
        else:
            continue
        yield error("part-measured-not-positive", part.id, said, f"measured_{field}")


def _one_way(part: Part) -> Issue:
    known, lacks = ("length", "width") if part.measured_length else ("width", "length")
    said = (
        f"{called(part)}: its {known} is measured and its {lacks} is not, so it still waits:"
        f" enter both."
    )
    return warning("part-measured-one-way", part.id, said, f"measured_{lacks}")


def _beyond_blank(part: Part, style: LengthStyle) -> Iterator[Issue]:
    sides = (
        ("length", part.sawn_length, part.cut_length),
        ("width", part.sawn_width, part.cut_width),
    )
    for field, sawn, blank in sides:
        if sawn > blank:
            size = say_size(part.cut_length, part.cut_width, style)
            said = (
                f"{called(part)}: the blank, {size}, is too small: by its measured {field} it is"
                f" cut {say(sawn, style)}, so the part needs new stock."
            )
            yield error("part-measured-too-large", part.id, said, f"measured_{field}")


def _oversize(part: Part, shop: Shop, style: LengthStyle) -> Iterator[Issue]:
    if part.oversize < 0:
        said = f"{called(part)}: the oversize is {say(part.oversize, style)}; enter 0 or more."
        yield error("part-oversize-negative", part.id, said, "oversize")
        return
    kerf, saw = shop.kerf, shop.tool
    if shop.table is not None:
        kerf, saw = shop.table.kerf, shop.table.tool
    else:
        said = f"{called(part)}: the shop has no table saw, so it is finished on the {saw}."
        yield warning("part-oversize-no-table", part.id, said, "oversize")
    if part.oversize < kerf:
        yield _under_kerf(part, kerf, saw, style)


def _under_kerf(part: Part, kerf: Length, saw: str, style: LengthStyle) -> Issue:
    said = (
        f"{called(part)} is cut {say(part.oversize, style)} oversize, less than the kerf of the"
        f" {saw}: enter {say_at_least(kerf, style)} or more, or 0 to cut it to size at once."
    )
    return error("part-oversize-under-kerf", part.id, said, "oversize")
