"""The books of a plan: rows that can be meant, and every copy once, on a sheet it may lie on."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import fields

from shared.geometry import Rect
from shared.issues import Issue
from shared.parts import GrainRule
from shared.plan import Finished, Placement, Plan, PlanPart, PlanSheet
from shared.saw.refusal import refusal
from shared.stock import NoGo, SheetGrain


def wrong_books(plan: Plan) -> Iterator[Issue]:
    """Yield what is wrong with the lists themselves, before any cut is made."""
    yield from wrong_rows(plan)
    yield from wrong_places(plan)
    yield from wrong_count(plan)


def wrong_places(plan: Plan) -> Iterator[Issue]:
    """Yield the copies that may not lie where they do, whatever is cut."""
    parts = {part.id: part for part in plan.parts}
    sheets = {sheet.id: sheet for sheet in plan.sheets}
    for place in plan.placements:
        part, on = parts.get(place.part), sheets.get(place.sheet)
        if part is None:
            yield refusal("part-unknown", place.part, f"There is no part {place.part}.", "part")
        elif on is None:
            yield _no(place, "part-on-no-sheet", f"there is no sheet {place.sheet}", "sheet")
        else:
            yield from _wrong_place(place, part, on)


def _no(place: Placement, code: str, said: str, field: str = "") -> Issue:
    return refusal(code, place.part, f"Part {place.part}, copy {place.copy}: {said}.", field)


def _wrong_place(place: Placement, part: PlanPart, on: PlanSheet) -> Iterator[Issue]:
    if not 1 <= place.copy <= part.copies:
        yield _no(place, "part-copy", f"only copies 1 to {part.copies} are needed", "copy")
    if part.material != on.material:
        yield _no(place, "part-material", f"sheet {on.id} is {on.material}, not {part.material}")
    sawn, lies = (part.length, part.width), (place.length, place.width)
    if lies != (sawn[::-1] if place.turned else sawn):
        yield _no(place, "part-size", f"it lies as {lies}, but its cut size is {sawn}")
    if _against_grain(place.turned, part.grain_rule, on.grain):
        yield _no(place, "part-grain", "it lies against its grain rule", "turned")
    rect = place.rect
    if not on.rect.contains(rect):
        yield _no(place, "part-off-sheet", f"it hangs over the edge of sheet {on.id}")
    elif _in_trim(rect, on):
        yield _no(place, "part-in-trim", f"it lies in a trimmed edge of sheet {on.id}")
    elif any(_barred(bad, part) and bad.rect.overlaps(rect) for bad in on.no_go):
        yield _no(place, "part-on-no-go", f"it lies on a bad place of sheet {on.id}")


def _against_grain(turned: bool, rule: GrainRule, grain: SheetGrain) -> bool:
    """Say whether the side of the part that wants the grain lies across it."""
    if rule is GrainRule.EITHER or grain is SheetGrain.NONE:
        return False
    length_lies_along_x = not turned
    grain_side_along_x = (
        length_lies_along_x if rule is GrainRule.ALONG_LENGTH else not length_lies_along_x
    )
    grain_along_x = grain is SheetGrain.ALONG_L
    return grain_side_along_x != grain_along_x


def _in_trim(lies: Rect, on: PlanSheet) -> bool:
    trims = on.trims
    near = lies.x < trims.start or lies.y < trims.near
    return near or lies.right > on.length - trims.end or lies.bottom > on.width - trims.far


def _barred(bad: NoGo, part: PlanPart) -> bool:
    return part.show or not bad.show_only


def wrong_count(plan: Plan) -> Iterator[Issue]:
    """Each copy lies on one sheet, was sawn before or is unplaced, and none is two of these."""
    parts = {part.id: part for part in plan.parts}
    sawn: tuple[Placement | Finished, ...] = (*plan.placements, *plan.finished)
    for (part_id, copy), times in Counter(p.key for p in sawn).items():
        if times > 1:
            said = f"Part {part_id}, copy {copy}, lies on the sheets {times} times."
            yield refusal("part-doubled", part_id, said, "copy")
    yield from _wrong_finished(plan, parts)
    have = Counter(one.part for one in sawn)
    needs = Counter((entry.part, entry.need) for entry in plan.unplaced)
    for entry in plan.unplaced:
        have[entry.part] += entry.copies
        if not entry.need.strip() or needs[entry.part, entry.need] > 1:
            said = f"Part {entry.part}: what its copies need is told twice, or not at all."
            yield refusal("unplaced-need", entry.part, said, "need")
        if entry.part not in parts or entry.copies < 1:
            said = f"{entry.copies} of part {entry.part} cannot be unplaced."
            yield refusal("unplaced-wrong", entry.part, said)
    for part in parts.values():
        needed = max(part.copies, 0)
        if have[part.id] != needed:
            code = "part-lost" if have[part.id] < needed else "part-too-many"
            said = f"Part {part.id}: {needed} are needed, {have[part.id]} are accounted for."
            yield refusal(code, part.id, said, "copies")


def _wrong_finished(plan: Plan, parts: dict[str, PlanPart]) -> Iterator[Issue]:
    """Copies sawn before the plan are of its parts, and then cuts were made before it."""
    for one in plan.finished:
        part = parts.get(one.part)
        if part is None or not 1 <= one.copy <= part.copies:
            said = f"Part {one.part}, copy {one.copy}, cannot be finished: none is needed."
            yield refusal("finished-unknown", one.part, said, "finished")
    before = [sheet.id for sheet in plan.sheets if sheet.piece]
    if plan.first == 1 and plan.shop is not None and (plan.finished or before):
        said = "The first cut is number 1, but something was sawn before it."
        yield refusal("first-number", "", said, "first")


_OWN = {"id", "stays", "off_rule", "tree"}
"""What two sheets of one stock row may differ in."""
_SHARED = tuple(one.name for one in fields(PlanSheet) if one.name not in _OWN)


def wrong_rows(plan: Plan) -> Iterator[Issue]:
    """Yield the rows of the plan's lists that no maker can have meant, each and all of a kind."""
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
