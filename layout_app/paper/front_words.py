"""What the cover and a published plan say of a job: what it takes, and what was taken as given."""

from collections.abc import Iterator
from dataclasses import replace

from layout_app.model.words.wording import (
    at_least_words,
    counted,
    numbers_in_words,
    priced_words,
    proof_note,
    sheet_names,
)
from layout_app.paper.how_good import sure_for, taken_and_sure
from layout_app.paper.matter import Matter
from layout_app.paper.millimetres import mm
from shared.cuts.tally import tally
from shared.lengths import (
    Length,
    LengthStyle,
    Unit,
    format_exact,
    format_length,
    format_mark,
    step,
    with_unit,
)
from shared.making.outcome import PieceFate
from shared.making.straightedge import nearer
from shared.parts import Bands
from shared.plan import Goal
from shared.practice import not_measured
from shared.shop import ABSENT, RunsOn, Shop
from shared.stock import Trims


def figures(matter: Matter) -> Iterator[str]:
    """Say how much it takes: sheets and price, time, parts; then how sure that is.

    The first two sentences are the ones that matter most.
    """
    plan, job = matter.plan, matter.job
    uncut = tuple(matter.uncut)
    takes = tally(plan, job.shop)
    if plan.sheets:
        yield taken_and_sure(plan, uncut)
        cuts = counted(takes.cuts, "cut")
        ordered = matter.ordered or counted(takes.setup_changes, "set-up change")
        if uncut:
            least = at_least_words(takes.minutes)
            yield f"{least[0].upper()}{least[1:]}: {cuts} on the sheets that can be cut; {ordered}."
        else:
            yield f"About {takes.minutes} min at the saw: {cuts}; {ordered}."
    parts, done = sum(part.copies for part in job.parts), len(plan.finished)
    to_saw = f": {done} {'is' if done == 1 else 'are'} done, {parts - done} to saw" if done else ""
    yield f"{counted(parts, 'part')} of {counted(len(job.parts), 'kind')}{to_saw}."
    if plan.sheets and not uncut:
        yield f"{takes.percent_used:.0f} % of the sheets becomes parts."
    if matter.made:
        cuts = counted(len(matter.made), "cut is", "cuts are")
        yield f"{cuts} made already ({numbers_in_words(matter.made)})."
    bought = matter.bought
    said_already = plan.proof.goal is Goal.LEAST_PRICE and plan.proof.value == bought.price
    if bought.price and (uncut or not plan.sheets or bought.unpriced or not said_already):
        yield f"Price of the sheets: {priced_words(bought.price, bought.unpriced)}."
    yield from not_planned(matter)
    if plan.sheets and not uncut:
        yield from sure_for(plan)


def not_planned(matter: Matter) -> Iterator[str]:
    """Say which sheets have no cuts yet, and that their boards have to be there all the same."""
    loose, counted_too = tuple(matter.uncut), matter.bought.unplanned
    if loose:
        yield f"Not planned yet: {sheet_names(loose)}, without cuts."
    if counted_too:
        yield f"Counted with what is taken and bought all the same: {sheet_names(counted_too)}."


def assumptions(matter: Matter) -> Iterator[str]:
    """Say what every size in the pack rests on: kerf, rounding, trims, allowances."""
    job, style = matter.job, matter.style
    fine = replace(style, denominator=64, decimals=2)
    yield f"Kerf of the {job.shop.tool}: {_exactly(job.shop.kerf, fine)}."
    if job.shop.table is not None:
        yield f"Kerf of the {job.shop.table.tool}: {_exactly(job.shop.table.kerf, fine)}."
    yield from _led(job.shop, style)
    yield from _devices(job.shop, style)
    unit = "inches" if style.unit is Unit.INCH else "millimetres"
    yield f"All sizes in {unit}, L before W; a part's L runs along the grain where it has one."
    yield f"Worked out exactly, rounded once where written. {off_the_mark(style)}"
    yield "Offcuts are rounded down: none is smaller than is said."
    if any(part.bands != Bands() for part in job.parts):
        yield "Cut sizes leave room for edge bands."
    if any(one.record.makes.end in _BLANKS for one in matter.told):
        yield "Blanks are cut larger, and finished later."
    if not matter.uncut and (note := proof_note(matter.plan)):
        yield note


def _led(shop: Shop, style: LengthStyle) -> Iterator[str]:
    """Say which rails or straightedges there are, and which edge of the base runs along these."""
    on_rail = shop.runs_on is RunsOn.RAIL
    if shop.rails:
        each = [_written(rail.length, style) for rail in shop.rails]
        counts = [f"{rail.count} x " if rail.count > 1 else "" for rail in shop.rails]
        there = ", ".join(map("".join, zip(counts, each, strict=True)))
        lie = f"; each {_written(shop.rail_width, style)} wide" if shop.rail_width else ""
        side = f", {shop.rail_side} of the blade" if on_rail else ""
        yield f"{'Rails' if on_rail else 'Straightedges'}: {there}{lie}{side}."
    if not on_rail and shop.base is not None:
        near = _long(nearer(shop.base, shop.rail_side), style)
        yield (
            f"The {shop.rail_side} edge of the saw's base runs along the straightedge,"
            f" {near} from the blade's nearer face."
        )
        if not_measured(shop.base, shop.kerf):
            yield "That base is common practice, not measured: measure yours before you saw."


def _devices(shop: Shop, style: LengthStyle) -> Iterator[str]:
    """Say what the cards may ask for: guide and stop with their reach, square, support."""
    name = "Guide" if shop.runs_on is RunsOn.RAIL else "Edge guide"
    said = [
        f"{device} from {format_length(span.least, style)} to {_written(span.most, style)}"
        for device, span in ((name, shop.guide), ("stop", shop.stop))
        if span is not None and span != ABSENT
    ]
    if shop.square:
        said.append(f"longest square {_written(shop.square, style)}")
    said.append(f"under the sheets {shop.support}")
    yield f"{said[0][0].upper()}{'; '.join(said)[1:]}."


def _written(length: Length, style: LengthStyle) -> str:
    return with_unit(format_length(length, style), style)


def off_the_mark(style: LengthStyle) -> str:
    """Explain how a size is written that lies between two marks of the rule."""
    if style.unit is Unit.MM:
        fine = format_length(step(style), style)
        return f"Steps of {fine} mm; clearly between two steps a size has one more decimal."
    fine = f"1/{style.denominator}"
    return (
        f"Steps of {fine} in; clearly between two marks a size is shy (a little less) or strong"
        " (a little more)."
    )


_BLANKS = {PieceFate.BLANK, PieceFate.WAITS}


def _exactly(length: Length, style: LengthStyle) -> str:
    """Write a length, and exactly in millimetres what lies between two marks."""
    exact = format_exact(length, style)[1] == 0
    return _long(length, style) + ("" if exact else f", exactly {mm(length)} mm")


def _long(length: int, style: LengthStyle) -> str:
    return with_unit(format_mark(length, style), style)


def trimmed(trims: Trims) -> Iterator[tuple[str, Length]]:
    """Yield the edges and ends of a sheet that are trimmed, and by how much, in ticks."""
    edges = (
        ("reference edge", trims.near),
        ("far edge", trims.far),
        ("left end", trims.start),
        ("right end", trims.end),
    )
    yield from ((name, size) for name, size in edges if size)
