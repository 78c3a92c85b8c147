"""What is said beside the pointer: whether a part may lie where it is held."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from layout_app.selection import Copy
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.no_go import barred_by, place_name
from shared.plan import Placement
from shared.recognise import Problem, Trouble, is_cuttable, problems
from shared.stock import NoGo, Stock, orientations

FITS = "fits and can be cut"
NAMED_AT_MOST = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Whether the sheet can be cut with the part there; if not, why and because of what."""

    good: bool
    words: str
    troubled: frozenset[Copy] = frozenset()


GOOD = Verdict(good=True, words=FITS)


def judge(job: Job, sheet: LayoutSheet, held: Placement) -> Verdict:
    """Judge a sheet with one copy laid or moved to a placement on it."""
    others = tuple(one for one in sheet.placements if key_of(one) != key_of(held))
    return _judged(job, job.stock_row(sheet.stock), (*others, held), held)


def judge_sheet(job: Job, sheet: LayoutSheet, held: Placement | None = None) -> Verdict:
    """Judge a sheet as it is; what is said is said of ``held`` where it can be."""
    return _judged(job, job.stock_row(sheet.stock), sheet.placements, held)


def resized_on(sheet: LayoutSheet, part: str, size: tuple[Length, Length]) -> LayoutSheet:
    """Return a sheet on which all copies of a part have another cut size, corners kept."""
    return replace(sheet, placements=tuple(_resized(sheet.placements, part, size)))


def key_of(placement: Placement) -> Copy:
    """Return which copy a placement is about."""
    return placement.part, placement.copy


def named(job: Job, copy: Copy) -> str:
    """Return what a copy is called, such as ``Case side 2``."""
    part = job.part(copy[0])
    return f"{part.name} {copy[1]}" if part.copies > 1 else part.name


def _judged(
    job: Job, stock: Stock, lying: tuple[Placement, ...], held: Placement | None
) -> Verdict:
    wrong = _against_rules(job, stock, lying) or _on_bad_place(job, stock, lying, held)
    if wrong is not None:
        return wrong
    rect = Rect(x=0, y=0, length=stock.length, width=stock.width)
    if is_cuttable(rect, lying, job.shop.kerf, stock.trims):
        return GOOD
    found = problems(rect, lying, job.shop.kerf, stock.trims)
    return _said(job, found, held)


def _against_rules(job: Job, stock: Stock, lying: tuple[Placement, ...]) -> Verdict | None:
    """Judge material and grain, which are no matter of where a part lies."""
    for one in lying:
        part = job.part(one.part)
        if part.material != stock.material:
            return _bad(f"is of {part.material}, the sheet of {stock.material}", one)
        if one.turned not in orientations(part.grain_rule, stock.grain):
            return _bad(f"against the grain: it runs {part.grain_rule}", one)
    return None


def _on_bad_place(
    job: Job, stock: Stock, lying: tuple[Placement, ...], held: Placement | None
) -> Verdict | None:
    """Judge what lies on bad places of the sheet; what is held is spoken of first."""
    found = [(one, bad) for one in lying if (bad := _bad_under(job, stock, one)) is not None]
    if not found:
        return None
    one, bad = next((pair for pair in found if pair[0] == held), found[0])
    words = f"{'its show face on' if bad.show_only else 'on'} a {place_name(bad, stock.whole)}"
    if one != held:
        words = f"{named(job, key_of(one))} lies {words}"
    return _bad(words, *(one for one, _ in found))


def _bad_under(job: Job, stock: Stock, one: Placement) -> NoGo | None:
    return barred_by(stock.no_go, one.rect, show=job.part(one.part).show)


def _said(job: Job, found: tuple[Problem, ...], held: Placement | None) -> Verdict:
    """Say the first thing that is wrong with the part that is held, else with the sheet."""
    mine = [problem for problem in found if held in problem.parts]
    if held is None or not mine:
        parts = [part for problem in found for part in problem.parts]
        words = found[0].sentence(lambda one: named(job, key_of(one))) if found else "cannot be cut"
        return _bad(words, *parts)
    same = [problem for problem in mine if problem.trouble is mine[0].trouble]
    others = [part for problem in same for part in problem.parts if part != held]
    words = _WORDS[mine[0].trouble].format(_listed(job, others))
    return _bad(words, held, *others)


_WORDS = {
    Trouble.OFF_SHEET: "off the sheet",
    Trouble.IN_TRIM: "off the sheet: in its trimmed edge",
    Trouble.NEAR_EDGE: "too near the reference edge for the kerf",
    Trouble.OVERLAP: "overlaps {}",
    Trouble.TOO_NEAR: "too near {} for the kerf",
    Trouble.LOCKED: "locked with {}",
    Trouble.OUT_OF_LINE: "out of line with {} by less than the kerf",
}


def _bad(words: str, *troubled: Placement) -> Verdict:
    return Verdict(good=False, words=words, troubled=frozenset(key_of(one) for one in troubled))


def _listed(job: Job, placements: Sequence[Placement]) -> str:
    """Name the first few copies."""
    names = [named(job, key_of(one)) for one in placements[:NAMED_AT_MOST]]
    more = len(placements) - len(names)
    return ", ".join(names) + (f" and {more} more" if more else "")


def _resized(
    placements: tuple[Placement, ...], part: str, size: tuple[Length, Length]
) -> Iterator[Placement]:
    for one in placements:
        if one.part != part:
            yield one
        else:
            length, width = reversed(size) if one.turned else size
            yield replace(one, length=length, width=width)
