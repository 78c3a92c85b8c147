"""What the planner is asked, besides the job: what it leaves alone, and cuts to put in order."""

from dataclasses import dataclass

from shared.job import Job
from shared.layout import CutBefore, Hold, LayoutSheet, Waiting
from shared.progress import NOTHING_MADE, Made


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """What planning leaves alone.

    Attributes
    ----------
    kept
        Sheets that stay as they are: their parts and their stock are not planned again.
    waiting
        Copies that lie nowhere; those that the maker sent to wait stay there.
    held, holds
        Sheets that stay in part, and the strips and parts held on them; a hold that does
        not suit the job any more is passed over.
    made
        What was sawn before: finished copies, names that are given away, the first number.
    """

    kept: tuple[LayoutSheet, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    held: tuple[LayoutSheet, ...] = ()
    holds: tuple[Hold, ...] = ()
    made: Made = NOTHING_MADE

    def of(self, job: Job) -> "Settled":
        """Return what concerns the parts and the stock of a job."""
        parts, rows = {part.id for part in job.parts}, {row.id for row in job.stock}
        held = tuple(sheet for sheet in self.held if sheet.stock in rows)
        sheets = {sheet.id for sheet in held}
        return Settled(
            kept=tuple(sheet for sheet in self.kept if sheet.stock in rows),
            waiting=tuple(one for one in self.waiting if one.part in parts),
            held=held,
            holds=tuple(hold for hold in self.holds if hold.sheet in sheets),
            made=self.made.of(parts),
        )


NOTHING_SETTLED = Settled()
"""All is to be planned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutsToOrder:
    """What is to be put in order.

    ``fixed`` are sheets whose pieces stay where they lie; ``made`` the keys of the passes
    that are made already, in their order.
    """

    job: Job
    sheets: tuple[LayoutSheet, ...]
    fixed: frozenset[str] = frozenset()
    before: tuple[CutBefore, ...] = ()
    made: tuple[str, ...] = ()
