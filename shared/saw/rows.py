"""The rows of a plan's lists: whether each by itself, and all of one kind, can be meant."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import fields

from shared.issues import Issue
from shared.plan import Plan, PlanPart, PlanSheet
from shared.saw.refusal import refusal

_OWN = {"id", "stays", "off_rule", "tree"}
"""What two sheets of one stock row may differ in."""
_SHARED = tuple(one.name for one in fields(PlanSheet) if one.name not in _OWN)


def wrong_rows(plan: Plan) -> Iterator[Issue]:
    """Yield the rows that no maker can have meant; what they need of each other is for `books`."""
    yield from _twice("sheet-twice", "sheet", (sheet.id for sheet in plan.sheets))
    yield from _twice("part-id-twice", "part", (part.id for part in plan.parts))
    for sheet in plan.sheets:
        yield from _wrong_sheet(sheet)
    if plan.shop is not None:
        for part in plan.parts:
            yield from _wrong_part(part)
        yield from _unlike(plan.sheets)
        for sheet in plan.sheets:
            if (sheet.piece and sheet.cost) or sheet.price not in {
                0,
                0 if sheet.by_area else sheet.cost,
            }:
                said = f"Sheet {sheet.id} has the price {sheet.price}, but counts {sheet.cost}."
                yield refusal("sheet-cost", sheet.id, said, "cost")
    if plan.first < 1:
        said = f"The first cut cannot be number {plan.first}."
        yield refusal("first-number", "", said, "first")


def _twice(code: str, what: str, ids: Iterable[str]) -> Iterator[Issue]:
    for name, times in Counter(ids).items():
        if times > 1:
            yield refusal(code, name, f"There are {times} of {what} {name}.", "id")
        if not name:
            yield refusal(code, name, f"A {what} has no id.", "id")


def _wrong_sheet(sheet: PlanSheet) -> Iterator[Issue]:
    trims = sheet.trims
    if min(sheet.length, sheet.width) <= 0:
        yield refusal("sheet-size", sheet.id, f"Sheet {sheet.id} has no size.")
    if min(trims.near, trims.far, trims.start, trims.end) < 0:
        yield refusal("sheet-trims", sheet.id, f"Sheet {sheet.id} has a negative trim.", "trims")
    for field in ("thickness", "density", "price", "cost", "named"):
        if getattr(sheet, field) < 0:
            said = f"Sheet {sheet.id} has a {field} below 0."
            yield refusal("sheet-negative", sheet.id, said, field)
    for bad in sheet.no_go:
        if min(bad.length, bad.width) <= 0 or not sheet.rect.contains(bad.rect):
            said = f"A bad place of sheet {sheet.id} is none, or lies off it."
            yield refusal("sheet-no-go", sheet.id, said, "no_go")
    if sheet.named and not sheet.piece:
        said = f"Nothing was sawn off sheet {sheet.id} before: it is whole."
        yield refusal("sheet-named", sheet.id, said, "named")


def _wrong_part(part: PlanPart) -> Iterator[Issue]:
    """Check what of a part is sawn larger, and why; a blank has a reason, and is no smaller."""
    sizes = (part.length, part.width)
    if part.copies < 1 or min(sizes) <= 0:
        yield refusal("part-none", part.id, f"Part {part.id} has no size, or no copies.")
    if part.allowance < 0 or part.oversize < 0:
        said = f"Part {part.id} is sawn larger by less than nothing."
        yield refusal("part-blank", part.id, said, "allowance")
    lost = (sizes[0] - part.final[0], sizes[1] - part.final[1])
    if part.waits or not part.allowance:
        all_of_it = 0 if part.waits else part.oversize
        right = lost == (all_of_it, all_of_it) and part.waits is (part.allowance > 0)
    else:
        right = min(lost) >= 0 and lost != (0, 0)
    if not right:
        said = f"Part {part.id} loses {lost} by its last cuts, which is not what it is larger by."
        yield refusal("part-blank", part.id, said, "sawn_length")


def _unlike(sheets: Iterable[PlanSheet]) -> Iterator[Issue]:
    """Yield the sheets that differ from an earlier one of their stock row."""
    first: dict[str, PlanSheet] = {}
    for sheet in sheets:
        other = first.setdefault(sheet.stock, sheet)
        for field in _SHARED if other is not sheet else ():
            if getattr(sheet, field) != getattr(other, field):
                said = f"Sheets {other.id} and {sheet.id} are of one row, but differ in {field}."
                yield refusal("sheet-unlike", sheet.id, said, field)
