"""What is made was made: a shop that changes does not change how ticked cuts were made.

A cut is told from the shop of now. Where that would say another thing of a cut that is made, such
as a rail that the shop did not have then, it is asked first.
"""

from collections.abc import Iterator
from typing import Final

from layout_app.model.progress_edits import WHAT_TO_DO
from layout_app.model.sawing import Sawn
from shared.lengths import LengthStyle
from shared.making.record import Bed, CutRecord, SquaredBy
from shared.making.settings import Device
from shared.shop import RunsOn, Support
from shared.telling.recorded import recorded
from shared.telling.words import size_words

_BEDS: Final = {
    Bed.KEEP: "lying on the keep side",
    Bed.WASTE: "lying on the other side",
    Bed.PACKED: "lying on scrap packed beside the piece",
}
_DEVICES: Final = {
    Device.GUIDE: "with its size set at the guide",
    Device.STOP: "with its size set at the stop",
    Device.FENCE: "with its size set at the fence",
    Device.BOTH_ENDS: "with its size marked at both ends",
}
_SQUARED: Final = {
    SquaredBy.SQUARE: "with its line laid with a square",
    SquaredBy.BOTH_ENDS: "with its line squared by marks at both ends",
    SquaredBy.DEVICE: "with its line squared by what held its size",
}
_SUPPORTS: Final = {
    Support.HORSES: "on sawhorses",
    Support.GRID: "on a slatted grid",
    Support.FOAM: "on a foam sheet",
}


def made_otherwise(shown: Sawn, ahead: Sawn) -> str:
    """Say which cut that is made another shop would tell another way; ``""`` if none.

    ``shown`` is what is shown now, ``ahead`` what would be.
    """
    if (told := told_otherwise(shown, ahead)) is None:
        return ""
    number, how = told
    return f"Cut {number} was made {how or 'another way'}: {WHAT_TO_DO}"


def told_otherwise(shown: Sawn, ahead: Sawn) -> tuple[int, str] | None:
    """Return the first made cut that another shop would tell another way, and how it was made.

    That in words, ``""`` where there are none for it; ``None`` if no made cut is told otherwise.
    What a shop says for the first time, such as rails where it named none, is no other way. The
    pace is in no record, so it asks nothing.
    """
    project, made = shown.project, shown.project.progress.made
    if not made or project.job.shop == ahead.project.job.shop:
        return None
    before, after = _records(shown), _records(ahead)
    style, runs_on = project.job.style, project.job.shop.runs_on
    for number in made:
        if number in before and number in after:
            was, would = before[number], after[number]
            if _how(was, would) != _how(would, was):
                return number, next(_said(was, would, style, runs_on), "")
    return None


def _records(sawn: Sawn) -> dict[int, CutRecord]:
    if sawn.plan is None:
        return {}
    project = sawn.project
    found = recorded((*project.progress.past, sawn.plan), project.job.shop)
    return {one.number: one for one in found.records}


def _how(one: CutRecord, other: CutRecord) -> tuple[object, ...]:
    """Return how a cut is made, as far as that can be held against how another says it.

    What is set anew, and which rail was in hand before, hangs on other cuts.
    """
    laid, known = one.rail, other.rail
    rail: tuple[object, ...] = ()
    if laid is not None and known is not None:
        width = laid.width if known.width else 0
        rail = (laid.rail.whole, laid.rail.joined, width, laid.run_up, laid.run_out, laid.edge_at)
    of_piece = one.support, one.bearers, one.moved, one.up, one.turn_over, one.guards
    return (one.way, one.bed, rail, one.setting.device, one.squared, one.entry, *of_piece)


def _said(was: CutRecord, would: CutRecord, style: LengthStyle, runs_on: RunsOn) -> Iterator[str]:
    """Yield how a cut was made, of what it would be told otherwise."""
    laid, other = was.rail, would.rail
    if was.way is not would.way:
        yield f"with the saw led by the {was.way}"
    if laid is not None and other is not None:
        if (laid.rail.whole, laid.rail.joined) != (other.rail.whole, other.rail.joined):
            joined = f", {laid.rail.joined} joined" if laid.rail.joined > 1 else ""
            yield f"along a {runs_on} {size_words(laid.rail.whole, style)} long{joined}"
        if laid.width != other.width:
            yield f"along a {runs_on} {size_words(laid.width, style)} wide"
    if was.bed is not would.bed and was.bed in _BEDS:
        yield f"with the {runs_on} {_BEDS[was.bed]}"
    if was.setting.device is not would.setting.device and was.setting.device in _DEVICES:
        yield _DEVICES[was.setting.device]
    if was.squared != would.squared and was.squared is not None:
        yield _SQUARED[was.squared.by]
    if was.support is not would.support:
        yield _SUPPORTS[was.support]
    if was.turn_over is not would.turn_over:
        yield "with its piece turned over" if was.turn_over else "without turning its piece over"
