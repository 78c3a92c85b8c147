"""What a change of the layout costs, counted before it is made: cuts, set-ups, money, offcuts.

Only the sheets that the change touches are sawn, by what saws the whole once it is made, so that
what is said and what is found then are the same figures.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

from layout_app.model.at_hand import over
from layout_app.model.progress_edits import would_change
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, saw
from shared.costs import sheet_price
from shared.cuts.tally import SheetCounts, counts_of
from shared.job import Job
from shared.layout import Layout, LayoutSheet
from shared.lengths import Length
from shared.pace import LayoutPace
from shared.parts import Part
from shared.plan import Plan
from shared.shop import Shop

Size = tuple[Length, Length]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a layout takes more than another: less where a figure is below 0.

    Attributes
    ----------
    cuts, setups
        Passes of the saw, and distinct set-ups over all sheets that can be cut.
    minutes
        At the saw, as far as a layout decides them: each side rounded up. The order that the cuts
        are put in afterwards may take more or less.
    price
        Money in hundredths, of all sheets in use, whether they can be cut or not.
    opened, freed
        Sheets that come into use, and sheets that are needed no more.
    gained, lost
        Offcuts worth keeping that one of them has and the other has not, length and width in
        ticks, the largest first.
    mended
        Sheets that could not be cut and now can. Their cuts were never counted, so that no
        figure of the sawing is given with them: cuts, set-ups and minutes are 0.
    """

    cuts: int = 0
    setups: int = 0
    minutes: int = 0
    price: int = 0
    opened: tuple[str, ...] = ()
    freed: tuple[str, ...] = ()
    gained: tuple[Size, ...] = ()
    lost: tuple[Size, ...] = ()
    mended: tuple[str, ...] = ()


class _Count(NamedTuple):
    """What one sheet takes."""

    cuts: int
    setups: frozenset[str]
    sawing: SheetCounts
    kept: tuple[Size, ...]


class Costing:
    """Counts what changes of one project cost; ``sawn`` is the project as it is shown."""

    def __init__(self, sawn: Sawn) -> None:
        self.sawn = sawn

    def of(self, after: Project) -> Cost | None:
        """Return what a changed project takes more.

        ``None`` if a sheet that is touched could not be cut then, or a cut that is made would be
        another one.

        Raises
        ------
        KeyError
            If a sheet names a stock row that the job does not have.
        """
        missing, was_missing = _missing(after), _missing(self.sawn.project)
        touched = self._touched(after, was_missing - missing)
        if missing - was_missing or any(one.id in missing for one in touched):
            return None
        now = _sawn_alone(after, touched)
        if now is None or self._changes_made(after, touched):
            return None
        return self._cost(after, touched, now)

    def done(self, after: Sawn) -> Cost | None:
        """Return the same once the change is made and sawn."""
        was_missing = _missing(self.sawn.project) - _missing(after.project)
        touched = self._touched(after.project, was_missing)
        ids = {one.id for one in touched}
        known = {} if after.plan is None else _counted(after.plan, after.project.job.shop)
        if not ids <= known.keys() or after.problems.keys() - self.sawn.problems.keys():
            return None
        return self._cost(after.project, touched, {sheet: known[sheet] for sheet in ids})

    def _cost(
        self, after: Project, touched: Sequence[LayoutSheet], now: Mapping[str, _Count]
    ) -> Cost:
        """Add up what the sheets take that are touched, and what those take that are not."""
        before = self.sawn.project
        was, used = self._counts, _used(after)
        mended = [one.id for one in touched if one.id in now and one.id in self._uncut]
        rest = {sheet: count for sheet, count in was.items() if sheet in used}
        rest.update(now)
        ids = {one.id for one in touched} | (was.keys() - used.keys())
        gained, lost = _difference(
            Counter(size for sheet in ids if sheet in was for size in was[sheet].kept),
            Counter(size for count in now.values() for size in count.kept),
        )
        sawing = Cost() if mended else _more(was, before.job.shop, rest, after.job.shop)
        known = _used(before)
        return replace(
            sawing,
            price=_price(after, used.values()) - _price(before, known.values()),
            opened=tuple(sheet for sheet in used if sheet not in known),
            freed=tuple(sheet for sheet in known if sheet not in used),
            gained=() if mended else gained,
            lost=() if mended else lost,
            mended=tuple(mended),
        )

    def _changes_made(self, after: Project, touched: Iterable[LayoutSheet]) -> bool:
        """Say whether a cut that is made would be another one; saws all, if that is to be asked."""
        left = {sheet.id for sheet in self.sawn.project.layout.sheets}
        left -= {sheet.id for sheet in after.layout.sheets}
        begun = after.progress.sheets
        if begun.isdisjoint(left.union(sheet.id for sheet in touched)):
            return False
        return bool(would_change(after.progress, saw(after)))

    @cached_property
    def _counts(self) -> Mapping[str, _Count]:
        plan = self.sawn.plan
        return {} if plan is None else _counted(plan, self.sawn.project.job.shop)

    @cached_property
    def _uncut(self) -> frozenset[str]:
        """The sheets with parts on them that are not in the plan."""
        return frozenset(_used(self.sawn.project).keys() - self._counts.keys())

    def _touched(self, after: Project, found: AbstractSet[str]) -> list[LayoutSheet]:
        """Return the sheets in use that are not what they were, and those that are ``found``."""
        before = self.sawn.project
        same = {sheet.id: sheet for sheet in before.layout.sheets}
        changed = _changed_rows(before.job, after.job)
        touched = []
        for sheet in _used(after).values():
            old = same.get(sheet.id)
            moved = old is None or (old.tree, old.placements) != (sheet.tree, sheet.placements)
            if moved or sheet.id in found or any(p.part in changed for p in sheet.placements):
                touched.append(sheet)
        return touched


def _changed_rows(before: Job, after: Job) -> set[str]:
    """Return the ids of the parts that are not what they were."""
    if before is after:
        return set()
    rows = {part.id: part for part in before.parts}
    return {part.id for part in after.parts if rows.get(part.id) != part}


def _missing(project: Project) -> frozenset[str]:
    """Return the sheets with parts on them for which none is at hand."""
    more = over(project.job, project.layout.sheets, project.progress.sheets)
    return frozenset(sheet.id for sheet in more)


def _used(project: Project) -> dict[str, LayoutSheet]:
    """Return the sheets that are sawn: those with parts, and those that are begun."""
    begun = project.progress.sheets
    return {one.id: one for one in project.layout.sheets if one.placements or one.id in begun}


def _sawn_alone(project: Project, sheets: list[LayoutSheet]) -> dict[str, _Count] | None:
    """Saw some sheets of a project; ``None`` if one of them cannot be cut."""
    if not sheets:
        return {}
    job = _only(project.job, sheets)
    layout = Layout(sheets=tuple(sheets), order=project.layout.order)
    found = saw(Project(job=job, layout=layout, progress=project.progress))
    if found.problems or found.plan is None:
        return None
    return _counted(found.plan, job.shop)


def _only(job: Job, sheets: Iterable[LayoutSheet]) -> Job:
    """Return a job with the parts that lie on some sheets, and with their matched sets."""
    lying = {one.part for sheet in sheets for one in sheet.placements}
    groups = {part.group for part in job.parts if part.id in lying and part.group}
    needed: list[Part] = [
        part for part in job.parts if part.id in lying or (part.group and part.group in groups)
    ]
    return replace(job, parts=tuple(needed))


def _counted(plan: Plan, shop: Shop) -> dict[str, _Count]:
    """Count what each sheet of a plan takes."""
    keys: dict[str, list[str]] = {sheet.id: [] for sheet in plan.sheets}
    kept: dict[str, list[Size]] = {sheet.id: [] for sheet in plan.sheets}
    for cut in plan.cuts:
        keys[cut.sheet].append(cut.setup)
    for one in plan.offcuts:
        if one.keep:
            kept[one.sheet].append((one.length, one.width))
    return {
        sheet.id: _Count(
            cuts=len(keys[sheet.id]),
            setups=frozenset(keys[sheet.id]),
            sawing=counts_of(sheet, shop),
            kept=tuple(kept[sheet.id]),
        )
        for sheet in plan.sheets
    }


def _more(was: Mapping[str, _Count], shop: Shop, now: Mapping[str, _Count], shop_now: Shop) -> Cost:
    """Return how much more sawing some sheets take than others."""
    one, other = _sawing(was.values(), shop), _sawing(now.values(), shop_now)
    return Cost(
        cuts=other.cuts - one.cuts,
        setups=other.setups - one.setups,
        minutes=other.minutes - one.minutes,
    )


def _sawing(counts: Iterable[_Count], shop: Shop) -> Cost:
    """Add up what sheets take at the saw; those of a set-up share it."""
    counts = list(counts)
    setups = len(frozenset[str]().union(*(one.setups for one in counts)))
    cuts = sum(one.cuts for one in counts)
    skims = sum(one.sawing.skims for one in counts)
    unguided = sum(one.sawing.unguided for one in counts)
    pace = LayoutPace.of(shop)
    seconds = pace.seconds(cuts=cuts, setups=setups, skims=skims, unguided=unguided)
    return Cost(cuts=cuts, setups=setups, minutes=-(-seconds // 60))


def _price(project: Project, sheets: Iterable[LayoutSheet]) -> int:
    """Return what sheets cost; pieces on hand cost nothing."""
    rows = {row.id: row for row in project.job.stock}
    each = Counter(sheet.stock for sheet in sheets)
    return sum(sheet_price(project.job, rows[row]) * number for row, number in each.items())


def _difference(
    was: Counter[Size], now: Counter[Size]
) -> tuple[tuple[Size, ...], tuple[Size, ...]]:
    """Return the sizes that only the second has, and those that only the first has."""
    return _largest_first(now - was), _largest_first(was - now)


def _largest_first(sizes: Counter[Size]) -> tuple[Size, ...]:
    return tuple(sorted(sizes.elements(), key=lambda one: (-one[0] * one[1], one)))
