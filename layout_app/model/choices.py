"""Which plans may be chosen beside the one that is shown."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from shared.cuts.tally import Tally
from shared.job import Job
from shared.plan import Plan
from shared.remembered import Remembered
from shared.tree import Run
from solver.outcome import Choice, by_stock, choice_of


def with_shown(
    choices: Sequence[Choice], plan: Plan, job: Job, takes: Tally | None = None
) -> tuple[Choice, ...]:
    """Return what may be chosen, with the plan that is shown among it as it is shown.

    Its minutes are those of the order shown, which ``takes`` counts if that is known. What buys
    as much or more and takes as long or longer is left out: it would be worse in both.
    """
    now = choice_of(plan, job, takes)
    others = (one for one in choices if not is_shown(one, plan) and not _is_worse(one, now))
    return tuple(sorted((*others, now), key=by_stock))


def _is_worse(choice: Choice, now: Choice) -> bool:
    """Whether a choice has nothing for it against what is shown; orders of one mode compared."""
    slower = choice.mode is now.mode and choice.minutes >= now.minutes
    return slower and choice.spent.bought >= now.spent.bought


def is_shown(choice: Choice, plan: Plan | None) -> bool:
    """Whether a plan has the sheets of a choice, however their pieces change places on them."""
    return plan is not None and _sheets(choice.plan) == _sheets(plan)


def _sheets(plan: Plan) -> list[tuple[object, ...]]:
    return [(sheet.id, sheet.stock, _contents(sheet.tree)) for sheet in plan.sheets]


def _pieces(run: Run | None) -> object:
    """Return what a run saws off, whatever the order of its pieces."""
    if run is None:
        return None
    bare = replace(run, pieces=())
    pieces = Counter((replace(piece, run=None), _contents(piece.run)) for piece in run.pieces)
    return bare, frozenset(pieces.items())


_contents = Remembered(_pieces, 2048)
