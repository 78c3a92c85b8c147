"""What is wrong with the rows of the take-off, and whether each part fits a sheet at all.

Also with parts that are cut twice: fit parts once measured, and oversize parts.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from shared.check_groups import with_groups
from shared.finding import (
    Judged,
    called,
    error,
    is_sound,
    judge,
    say,
    say_at_least,
    say_room,
    say_size,
    size_faults,
    warning,
)
from shared.fit import Fit, best_fit
from shared.issues import Issue
from shared.job import Job
from shared.lengths import Length, LengthStyle
from shared.parts import Part
from shared.shop import Shop
from shared.stock import Stock

MOST_COPIES: Final = 9_999
MISFITS: Final = frozenset(
    {
        "part-too-large",
        "part-too-large-for-trims",
        "part-too-large-by-kerf",
        "part-against-grain",
        "part-material-unknown",
        "part-no-stock",
    }
)
"""Errors of a part that is well described but has no sheet to lie on."""


def judged_parts(job: Job, usable: Sequence[Stock]) -> Judged[Part]:
    """Return each part of the job with what is wrong with it.

    Parameters
    ----------
    job
        The whole job.
    usable
        Its stock rows without errors.
    """
    names = Counter(part.name for part in job.parts)

    def faults(part: Part) -> Iterator[Issue]:
        own = [
            *size_faults(part, "part", job.style),
            *_bands(part, job.style),
            *_allowance(part),
            *_copies(part),
            *_blank_faults(part, job.shop, job.style),
        ]
        yield from own
        if part.name and names[part.name] > 1:
            said = f"{part.name}: {names[part.name]} rows have this name."
            yield warning("part-name-twice", part.id, said, "name")
        yield from _stock(part, job, usable, is_sound(own))

    return with_groups(job, usable, judge(job.parts, "part", faults))


def _bands(part: Part, style: LengthStyle) -> Iterator[Issue]:
    bands = part.bands
    if min(bands.top, bands.bottom, bands.left, bands.right) < 0:
        yield error("part-band-negative", part.id, f"{called(part)}: a band is below 0.", "bands")
    sides = (("length", part.length, part.bare_length), ("width", part.width, part.bare_width))
    for field, finished, bare in sides:
        if bare <= 0 < finished:
            said = (
                f"{called(part)}: its bands take {say(finished - bare, style)}, and nothing is"
                f" left of the {field}, {say(finished, style)}."
            )
            yield error("part-bands-too-thick", part.id, said, "bands")


def _allowance(part: Part) -> Iterator[Issue]:
    if part.fit_allowance < 0:
        said = f"{called(part)}: a blank is no smaller than its part; the allowance is below 0."
        yield error("part-allowance-negative", part.id, said, "fit_allowance")


def _copies(part: Part) -> Iterator[Issue]:
    if part.copies < 1:
        said = f"{called(part)}: {part.copies} copies cannot be cut; enter 1 or more."
        yield error("part-copies-too-few", part.id, said, "copies")
    elif part.copies > MOST_COPIES:
        said = f"{called(part)}: {part.copies:,} copies are more than {MOST_COPIES:,}."
        yield error("part-copies-too-many", part.id, said, "copies")


def _stock(part: Part, job: Job, usable: Sequence[Stock], sound: bool) -> Iterator[Issue]:
    """Look for a sheet of the part's material that it fits."""
    if not job.stock:
        return  # said once, of the whole job
    if all(row.material != part.material for row in job.stock):
        said = f"{called(part)} has no material: give it that of a sheet."
        if part.material:
            said = f"{called(part)}: there is no sheet of {part.material}."
        yield error("part-material-unknown", part.id, said, "material")
        return
    rows = [row for row in usable if row.material == part.material and row.at_hand != 0]
    if not rows:
        said = f"{called(part)}: no sheet of {part.material} can be used as it stands."
        yield error("part-no-stock", part.id, said, "material")
    elif sound:
        yield from _fits(part, rows, max(job.shop.kerf, 0), job.style)


def _fits(part: Part, rows: Sequence[Stock], kerf: Length, style: LengthStyle) -> Iterator[Issue]:
    if min(part.cut_length, part.cut_width) < kerf:
        said = f"{called(part)} is thinner than the kerf, {say(kerf, style)}."
        yield warning("part-thinner-than-kerf", part.id, said, "width")
    fit, row = best_fit(part, rows, kerf)
    if fit is not Fit.FITS:
        code, why = _MISFITS[fit]
        size = say_size(part.cut_length, part.cut_width, style)
        said = f"{called(part)}, cut {size}, {why(row, style)}."
        yield error(code, part.id, said, "grain_rule" if fit is Fit.BUT_FOR_GRAIN else "length")


def _too_large(row: Stock, style: LengthStyle) -> str:
    size = say_room(row.length, row.width, style)
    return f"is larger than every sheet of {row.material}; the largest is {size}"


def _but_for_trims(row: Stock, style: LengthStyle) -> str:
    return f"would fit {called(row)} untrimmed, but its trims leave {_left(row, style)}"


def _but_for_kerf(row: Stock, style: LengthStyle) -> str:
    return f"misses {called(row)} by the kerf of a trim cut: the trims leave {_left(row, style)}"


def _but_for_grain(row: Stock, style: LengthStyle) -> str:
    left = _left(row, style)
    return f"fits {called(row)} only against its grain rule: the trims leave {left}"


def _left(row: Stock, style: LengthStyle) -> str:
    trims = row.trims
    return say_room(row.length - trims.start - trims.end, row.width - trims.near - trims.far, style)


_MISFITS = {
    Fit.TOO_LARGE: ("part-too-large", _too_large),
    Fit.BUT_FOR_TRIMS: ("part-too-large-for-trims", _but_for_trims),
    Fit.BUT_FOR_KERF: ("part-too-large-by-kerf", _but_for_kerf),
    Fit.BUT_FOR_GRAIN: ("part-against-grain", _but_for_grain),
}


def _blank_faults(part: Part, shop: Shop, style: LengthStyle) -> Iterator[Issue]:
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
