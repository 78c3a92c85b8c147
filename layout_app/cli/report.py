"""What a planning run did, as aligned lines of text: phases, work, the course of the best."""

from collections.abc import Iterable, Iterator, Sequence

from layout_app.model.words.wording import counted
from shared.amounts import format_price
from shared.plan import Goal
from solver.outcome import (
    MaterialStatistics,
    Solve,
    Statistics,
    Stretch,
    TracePoint,
    WorkDone,
)

Cells = Sequence[str]

STRETCH_HEAD = ("process", "phase", "from s", "to s", "what was done")
COURSE_HEAD = ("s", "value", "bound", "cuts", "set-ups", "sawing min", "process", "by")


def report(statistics: Statistics) -> Iterator[str]:
    """Yield the lines, one block for each material."""
    for material in statistics.materials:
        yield f"Planning of {material.material}"
        yield from _table(STRETCH_HEAD, map(_stretch, material.stretches), words=(1, 4))
        yield from _course(material)
        yield ""


def _course(material: MaterialStatistics) -> Iterator[str]:
    left_out = material.changes - len(material.course)
    also = f" ({left_out} of {material.changes} left out)" if left_out else ""
    yield f"  {counted(material.changes, 'step')} of the best plan and its bound{also}"
    rows = (_point(point, material.goal) for point in material.course)
    yield from _table(COURSE_HEAD, rows, words=(7,))


def _stretch(stretch: Stretch) -> Cells:
    return (
        str(stretch.process),
        str(stretch.phase),
        f"{stretch.begin_s:.3f}",
        f"{stretch.end_s:.3f}",
        "; ".join(_done(stretch.work)) or "nothing",
    )


def _done(work: WorkDone) -> Iterator[str]:
    """Yield what was done, in words."""
    if work.constructions:
        yield counted(work.constructions, "construction")
    if work.tries:
        fleets = f" in {counted(work.attempts, 'attempt')}" if work.attempts else ""
        yield f"{_count(work.tries, 'try', 'tries')}{fleets}"
    if work.rounds or work.columns:
        yield f"{counted(work.rounds, 'round')} of pricing, {counted(work.columns, 'column')}"
    if work.lp_value is not None:
        yield f"linear program {work.lp_value:.3f}"
    yield from map(_solve, work.solves)


def _solve(solve: Solve) -> str:
    status = solve.status.lower()
    return f"{solve.method}: {status}, work {solve.work:.3f} in {solve.seconds:.2f} s"


def _point(point: TracePoint, goal: Goal) -> Cells:
    lacking = " + rest" if point.unplaced else ""
    return (
        f"{point.elapsed_s:.3f}",
        _amount(point.value, goal) + lacking,
        _amount(point.bound, goal),
        str(point.cuts),
        str(point.setups),
        f"{point.sawing_s / 60:.0f}",
        str(point.process),
        str(point.method),
    )


def _amount(value: int, goal: Goal) -> str:
    return format_price(value) if goal is Goal.LEAST_PRICE else str(value)


def _count(number: int, one: str, many: str) -> str:
    return f"{number:,} {one if number == 1 else many}"


def _table(head: Cells, rows: Iterable[Cells], words: Sequence[int]) -> Iterator[str]:
    """Yield aligned lines: columns of words to the left, of figures to the right."""
    cells = [head, *rows]
    widths = [max(len(row[n]) for row in cells) for n in range(len(head))]
    for row in cells:
        aligned = (
            cell.ljust(width) if n in words else cell.rjust(width)
            for n, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        yield ("  " + "  ".join(aligned)).rstrip()
