"""Parts that lie on no sheet, in stacks of one part each: set aside, or not placed, and why."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from shared.check import check_job, plannable
from shared.cuts.sequence import WAITS
from shared.issues import Severity
from shared.job import Job
from shared.layout import Layout, Waiting
from shared.parts import Copy, Part
from shared.plan import ASIDE, Unplaced

NOT_PLACED = "not placed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """The copies of a part that lie on no sheet.

    Attributes
    ----------
    copies
        Those that can be taken up; none of a row that cannot be used yet.
    aside, missing, spoiled
        How many the maker set aside, how many no plan has placed, how many have an error in
        their row.
    reason
        Why they are not placed, or not planned; ``""`` where nothing is known of it.
    """

    part: Part
    copies: tuple[Copy, ...] = ()
    aside: int = 0
    missing: int = 0
    spoiled: int = 0
    reason: str = ""

    @property
    def number(self) -> str:
        """Say how many there are of each kind."""
        kinds = (
            (self.aside, ASIDE),
            (self.missing, NOT_PLACED),
            (self.spoiled, "not planned until fixed"),
        )
        return ", ".join(f"{copies} {how}" for copies, how in kinds if copies)


def stacks(job: Job, layout: Layout, unplaced: Iterable[Unplaced] = ()) -> tuple[Stack, ...]:
    """Return the parts that lie on no sheet; those whose rows have an error come last."""
    known = {part.id: part for part in job.parts}
    reasons = {row.part: row.need for row in unplaced if row.need not in (ASIDE, WAITS)}
    groups: dict[str, list[Waiting]] = {}
    for one in layout.waiting:
        groups.setdefault(one.part, []).append(one)
    waiting = (
        _stack(known[part], copies, reasons.get(part, ""))
        for part, copies in groups.items()
        if part in known
    )
    return (*waiting, *_spoiled(job, layout, groups))


def _stack(part: Part, copies: list[Waiting], reason: str) -> Stack:
    aside = sum(one.sent for one in copies)
    missing = len(copies) - aside
    return Stack(
        part=part,
        copies=tuple(one.key for one in copies),
        aside=aside,
        missing=missing,
        reason=reason if missing else "",
    )


def _spoiled(job: Job, layout: Layout, groups: dict[str, list[Waiting]]) -> Iterator[Stack]:
    """Yield the parts that are not planned, since their rows have an error, and which one.

    Those that are too large for any sheet are among them.
    """
    usable = {part.id for part in plannable(job).parts}
    rows = [part for part in job.parts if part.id not in usable]
    if not rows:
        return
    lying = Counter(one.part for sheet in layout.sheets for one in sheet.placements)
    lying.update(one.part for one in layout.finished)
    wrong = {
        issue.subject: issue.sentence
        for issue in reversed(check_job(job))
        if issue.severity is Severity.ERROR
    }
    for part in rows:
        copies = part.copies - lying[part.id] - len(groups.get(part.id, ()))
        if copies > 0:
            reason = wrong.get(part.id) or wrong.get("", "")
            yield Stack(part=part, spoiled=copies, reason=reason)
