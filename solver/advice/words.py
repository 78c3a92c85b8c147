"""Advice in words of the trade, lengths as the job writes them."""

from collections.abc import Sequence

from shared.amounts import format_price, percent_saved
from shared.changes import Change, ChangeKind, SheetEdge, changed_part
from shared.finding import called, say, say_size
from shared.job import Job
from shared.lengths import Length
from shared.parts import Part
from shared.plan import Goal
from solver.outcome import Force, Forcing

ANOTHER_BLADE = (
    "That is another blade: fit one only as your saw's manual allows, and measure its kerf."
)
FACTORY_EDGE = (
    "A factory edge that is not trimmed must be straight, square and clean: check it first."
)
UNPROVEN = "The plan is not proven to take the least: a better one may need no change at all."
LOOKS = "The grain of some pieces then runs the other way: see that it does not show."

_EDGES = {
    SheetEdge.NEAR: "near edge",
    SheetEdge.FAR: "far edge",
    SheetEdge.START: "start",
    SheetEdge.END: "end",
}


def change_in_words(job: Job, change: Change, smallest: bool, step: Length) -> str:
    """Say what to change, as an instruction.

    Parameters
    ----------
    smallest
        Whether the amount, less one step, is proven not to suffice.
    step
        Ticks between two amounts that were looked at.
    """
    if change.kind is ChangeKind.KERF:
        return _kerf(job, change, smallest)
    if change.kind is ChangeKind.TRIM:
        edges = _listed([_EDGES[edge] for edge in change.edges])
        return f"Leave {called(job.stock_row(change.stock))} untrimmed at the {edges}"
    part = job.part(change.part)
    if change.kind is ChangeKind.TURN:
        return f"Let {called(part)} turn: its grain may run either way"
    if change.kind is ChangeKind.DROP:
        return _dropped(part)
    return _shortened(job, part, change, smallest, step)


def caution_of(change: Change) -> str:
    """Return what to mind about a change, or nothing."""
    return {
        ChangeKind.KERF: ANOTHER_BLADE,
        ChangeKind.TRIM: FACTORY_EDGE,
        ChangeKind.TURN: LOOKS,
    }.get(change.kind, "")


def gain_in_words(goal: Goal, before: tuple[int, int], after: tuple[int, int]) -> str:
    """Say what is taken instead of what; each is sheets and price in units of the goal."""
    sheets = f"{counted(after[0])} instead of {before[0]}"
    if goal is Goal.FEWEST_SHEETS:
        return sheets
    if goal is not Goal.LEAST_PRICE:
        saved = f"saves {percent_saved(before[1], after[1])} of the stock to buy"
        return saved + (f", {sheets}" if after[0] != before[0] else "")
    saved = f"saves {format_price(before[1] - after[1])}"
    prices = f"{format_price(after[1])} instead of {format_price(before[1])}"
    return f"{saved}: {prices}" + (f", {sheets}" if after[0] != before[0] else "")


def forcing_sentence(job: Job, forcing: Forcing, *, proven: bool) -> str:
    """Say what forces the last sheet of one material, and whether its plan is ``proven``."""
    sentence = _forced(job, forcing)
    return sentence if proven or forcing.value <= 0 else f"{sentence} {UNPROVEN}"


def _forced(job: Job, forcing: Forcing) -> str:
    if forcing.value <= 0:
        return f"{forcing.material}: nothing has to be bought for it, so nothing can be saved."
    begin = f"{forcing.material}: {_taken(forcing)} at least"
    if not forcing.parts:
        return f"{begin}. No part alone forces the last sheet: one copy of any fewer saves none."
    names = _listed([_force(job, force) for force in forcing.parts])
    return f"{begin}. What forces the last sheet: {names}."


def _taken(forcing: Forcing) -> str:
    """Say what is taken, and what is needed of it; money only where it was given as money."""
    if forcing.goal is Goal.LEAST_PRICE:
        taken, need = format_price(forcing.value), f"{forcing.need / 100_000:.2f}"
        return f"{taken}; the parts need {need}"
    if forcing.goal is Goal.FEWEST_SHEETS:
        return f"{counted(forcing.value)}; the parts need {forcing.need / 1000:.2f}"
    return f"the parts need {forcing.need // (10 * max(1, forcing.value))} % of what is bought"


def how_far(found: int, ruled_out: int, left: int, most_shorter: str) -> str:
    """Say how far it was looked: numbers of changes that save, do not, and are open."""
    scope = (
        f"looked at one change at a time, a side up to {most_shorter} shorter, one copy fewer,"
        " grain either way, a thinner kerf, no trims"
    )
    if not found and not left:
        return f"Nothing saves a sheet: {scope}; all {ruled_out} are proven not to."
    saving = f"found {found} that save" if found else "found none that saves"
    undecided = f", {left} undecided in the time there was" if left else ""
    return f"{scope[0].upper()}{scope[1:]}: {saving}, {ruled_out} proven not to{undecided}."


def counted(sheets: int) -> str:
    """Write a number of sheets."""
    return f"{sheets} sheet" if sheets == 1 else f"{sheets} sheets"


def _force(job: Job, force: Force) -> str:
    each = " each" if force.copies > 1 else ""
    worth, area = f"{force.worth / 1000:.2f}", f"{force.area / 1000:.2f}"
    return f"{called(job.part(force.part))} (counts {worth} of a sheet{each}, {area} by area)"


def _kerf(job: Job, change: Change, smallest: bool) -> str:
    kerf, now = say(change.amount, job.style), say(job.shop.kerf, job.style)
    if smallest:
        return f"Saw with a kerf of at most {kerf} (now {now})"
    return f"Saw with a kerf of {kerf} (now {now})"


def _dropped(part: Part) -> str:
    if part.copies == 1:
        return f"Leave {called(part)} out"
    return f"Make one {called(part)} fewer: {part.copies - 1} instead of {part.copies}"


def _shortened(job: Job, part: Part, change: Change, smallest: bool, step: Length) -> str:
    new = changed_part(part, change) or part
    less = say(change.amount, job.style)
    word = "shorter" if change.side == "length" else "narrower"
    all_of_them = f", all {part.copies} of them" if part.copies > 1 else ""
    size = say_size(new.length, new.width, job.style)
    if smallest:
        how = f"; less is proven not to do, in steps of {say(step, job.style)}"
    else:
        how = "; that is enough, less may be"
    return f"Make {called(part)} {less} {word}{all_of_them}, to {size}{how}"


def _listed(words: Sequence[str]) -> str:
    """Join words with commas and an "and"."""
    return " and ".join([*filter(None, [", ".join(words[:-1])]), words[-1]])
