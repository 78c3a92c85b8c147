"""Sentences about a plan: how good it is, what it takes, what it leaves out."""

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from shared.amounts import format_price
from shared.cautions import DEFER
from shared.costs import sheet_price
from shared.cuts.tally import tally
from shared.job import Job
from shared.lengths import with_unit
from shared.offcuts import Keeper, keepers, offcut_size
from shared.plan import Goal, MaterialProof, Offcut, Plan, Proof
from shared.plan_number import plan_number

MOST_NAMED: Final = 6
"""So many things are named in a sentence at most."""
LEAST: Final = {
    Goal.FEWEST_SHEETS: "fewest",
    Goal.LEAST_PRICE: "least price",
    Goal.LEAST_COST: "lowest cost",
    Goal.LEAST_AREA: "lowest cost",
}
"""What is least of a proof, by its goal."""
NOTHING_TO_BUY: Final = "nothing to buy"
NOT_SAWN: Final = (
    "How little any plan takes was worked out while planning. Sawing does not check it: to"
    " prove it again, plan again."
)
BEGUN: Final = "What was begun before the rest was replanned is not counted, nor what it cost."
NOT_MONEY: Final = (Goal.LEAST_COST, Goal.LEAST_AREA)
"""Goals whose values nobody gave as money, so they are not shown as money."""


def counted(number: int, one: str, many: str = "") -> str:
    """Write a number with its noun, such as ``1 sheet`` or ``4 sheets``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def full_minutes(seconds: int) -> int:
    """Return seconds as full minutes, rounded up, as all minutes at the saw are shown."""
    return -(-seconds // 60)


def all_of(noun: str, names: Sequence[str]) -> str:
    """Name things in a sentence, such as ``cut 2`` or ``sheets 2, 3 and 5``; many are counted."""
    if len(names) == 1:
        return f"{noun} {names[0]}"
    if len(names) > MOST_NAMED:
        names = [*names[: MOST_NAMED - 1], f"{len(names) - MOST_NAMED + 1} more"]
    return f"{noun}s {', '.join(names[:-1])} and {names[-1]}"


def numbers_in_words(numbers: Sequence[int]) -> str:
    """Write ascending numbers with their runs, such as ``1 to 4, 6``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    said = (f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)
    return ", ".join(said)


def stock_words(plan: Plan, uncut: int = 0) -> str:
    """Count the sheets of a plan, beside pieces of earlier sheets as more, and those apart.

    ``uncut`` sheets are not in the plan since they can't be cut yet: they are needed all the same.
    """
    pieces = sum(sheet.piece for sheet in plan.sheets)
    whole = len(plan.sheets) - pieces + uncut
    if not pieces:
        return counted(whole, "sheet")
    on_hand = counted(pieces, "piece on hand", "pieces on hand")
    more = counted(whole, "more sheet") if whole else "no more sheets"
    return f"{more}, {on_hand}"


def uncut_words(sheets: Sequence[str]) -> str:
    """Say which sheets can't be cut as they lie; ``""`` if all can."""
    return f"{all_of('sheet', sheets)} can't be cut yet" if sheets else ""


def price_words(job: Job, plan: Plan | None, uncut: Iterable[str] = ()) -> str:
    """Say what the sheets cost, and how many have no price; ``""`` where nobody gave any.

    Where all sheets are the maker's own and cost nothing, that is said.

    Parameters
    ----------
    uncut
        For each sheet that can't be cut yet the id of its row: it is needed and paid all the same.
    """
    rows = {row.id: row for row in job.stock}
    loose = [rows[row] for row in uncut if row in rows]
    known = plan.sheets if plan is not None else ()
    sheets = [(rows[one.stock], one.price) for one in known if not one.piece and one.stock in rows]
    sheets += [(row, sheet_price(job, row)) for row in loose if not row.is_piece]
    used = Counter(row.id for row, _ in sheets)
    bought = [
        (row, price) for row, price in sheets if row.at_hand is None or used[row.id] > row.at_hand
    ]
    unpriced = sum(not price and row.price is None for row, price in bought)
    price = sum(price for _, price in sheets)
    if sheets and not (price or bought or loose):
        return NOTHING_TO_BUY
    return priced_words(price, unpriced)


def priced_words(price: int, unpriced: int) -> str:
    """Write a price in hundredths with the number of sheets that have none."""
    if not price:
        return ""
    also = f" and {counted(unpriced, 'sheet')} without a price" if unpriced else ""
    return f"{format_price(price)}{also}"


def proof_sentence(plan: Plan, uncut: Sequence[str] = (), price: str = "") -> str:
    """Say what was reached, and whether less is possible under the rule that was solved.

    Parameters
    ----------
    uncut
        Sheets that can't be cut yet: nothing is claimed of any then.
    price
        What all sheets cost together, in words, where there are such.
    """
    if uncut:
        words = (stock_words(plan, len(uncut)), price, uncut_words(uncut))
        return ", ".join(filter(None, words))
    proof, reached = plan.proof, stock_words(plan)
    if proof.goal is Goal.LEAST_PRICE:
        reached += f", {_amount(proof.goal, proof.value)}"
    rests = rests_on(proof)
    return f"{reached}: {_verdict(proof)}" + (f" ({rests})" if rests else "")


def proof_note(plan: Plan) -> str:
    """Say who checks what is claimed of a plan beyond its sheets; ``""`` if nothing is."""
    claims = plan.proof.proven or plan.proof.bound > 0
    return NOT_SAWN if claims and plan.sheets else ""


def rests_on(proof: Proof) -> str:
    """Say which prices, and which rule, a proof holds for."""
    return "; ".join(filter(None, (proof.prices, proof.rule)))


def material_sentence(proof: MaterialProof) -> str:
    """Say the same of one material."""
    if proof.goal in NOT_MONEY:
        return f"{proof.material}: {_verdict(proof)}"
    value = _amount(proof.goal, proof.value)
    return f"{proof.material}: {value}, {_verdict(proof)}"


def _in_one_measure(plan: Plan) -> Iterator[MaterialProof]:
    """Yield what is proven of each material, in money where the whole plan's proof is.

    Sheets that all cost the same are counted to be proven; the fewest of them cost least.
    """
    for one in plan.proof.materials:
        prices = {sheet.price for sheet in plan.sheets if sheet.material == one.material}
        each = min(prices, default=0)
        counted_alone = one.goal is Goal.FEWEST_SHEETS and len(prices) == 1 and each > 0
        if plan.proof.goal is Goal.LEAST_PRICE and counted_alone:
            yield replace(
                one, goal=Goal.LEAST_PRICE, value=one.value * each, bound=one.bound * each
            )
        else:
            yield one


def effort_sentence(plan: Plan, job: Job, uncut: Sequence[str] = ()) -> str:
    """Say what the sawing takes: at least so much while some sheets can't be cut yet."""
    counts = tally(plan, job.shop)
    cuts = counted(counts.cuts, "cut")
    known = sawing_words(plan)
    cuts += f" ({known})" if known else ""
    if uncut:
        takes = at_least_words(counts.minutes)
        return f"{takes}: {cuts} on the sheets that can be cut"
    return f"About {counts.minutes} min: {cuts}; {counts.percent_used:.0f} % of the stock used"


def at_least_words(minutes: int) -> str:
    """Say how long sawing takes while some sheets can't be cut yet, which will take time too."""
    return f"at least {minutes} min"


def sawing_words(plan: Plan) -> str:
    """Say what is proven of the sawing of plans that cost as little; ``""`` for nothing.

    Materials share set-ups, so the least sawing of each is not that of all.
    """
    if len(plan.proof.materials) == 1 and plan.proof.materials[0].least_sawing:
        best = plan.proof.materials[0].best_remainder
        return "least sawing proven" + (", and the best offcut" if best else "")
    return least_cuts_words(plan)


def least_cuts_words(plan: Plan) -> str:
    """Say how few cuts any plan takes that costs as little; ``""`` when nothing is known."""
    least = plan.proof.least_cuts
    if not least:
        return ""
    alike = f"on {stock_words(plan)}"
    if any(sheet.piece for sheet in plan.sheets):
        alike = "with this stock"
    if plan.proof.goal is Goal.LEAST_PRICE:
        alike = "at this price"
    elif plan.proof.goal in NOT_MONEY:
        alike = "of this cost"
    return f"no plan {alike} needs fewer than {least}"


def best_offcut(plan: Plan) -> Offcut | None:
    """Return the largest offcut worth keeping that a plan makes."""
    kept = (offcut for offcut in plan.offcuts if offcut.keep)
    return max(kept, key=lambda offcut: offcut.rect.area, default=None)


def best_kept(job: Job, plan: Plan, used: Collection[str] = ()) -> Keeper | None:
    """Return the largest of all offcuts to keep; ``used`` as `keepers` has it."""
    return max(keepers(job, plan, used), key=lambda one: one.length * one.width, default=None)


def unplaced_sentences(plan: Plan) -> Iterator[str]:
    """Say of each part that lies nowhere what it would need."""
    names = {part.id: part.name or part.id for part in plan.parts}
    for missing in plan.unplaced:
        name = names.get(missing.part, missing.part)
        yield f"{missing.copies} × {name}: {missing.need}"


def sheet_names(sheets: Sequence[str]) -> str:
    """Name one sheet or several by their ids."""
    return f"sheet{'' if len(sheets) == 1 else 's'} {', '.join(sheets)}"


def summary(
    plan: Plan,
    job: Job,
    order: str = "",
    *,
    uncut: Sequence[str] = (),
    used: Collection[str] = (),
    unplaced: Sequence[str] | None = None,
) -> str:
    """Return all of this as lines for a terminal, the caution at the end.

    Parameters
    ----------
    order
        A sentence on the order of the cuts, if there is one.
    uncut, used
        Sheets that can't be cut yet, and the ids of their stock rows.
    unplaced
        What is said of parts on no sheet; as the plan has it if not given.
    """
    price = price_words(job, plan, used) if uncut else ""
    number = plan_number(plan, job.shop)
    lines = [plan.name or "Plan", *([f"Plan number {number}"] if number else [])]
    lines.append(proof_sentence(plan, uncut, price))
    if not uncut and len(plan.proof.materials) > 1:
        lines += [f"  {material_sentence(one)}" for one in _in_one_measure(plan)]
    lines += filter(None, [effort_sentence(plan, job, uncut), order])
    offcut = best_kept(job, plan, used)
    if offcut is not None:
        size = with_unit(offcut_size(offcut.length, offcut.width, job.style), job.style)
        lines.append(f"Best offcut: {size}, {offcut.origin}")
    missing = tuple(unplaced_sentences(plan)) if unplaced is None else unplaced
    if missing:
        lines += ["Not placed:", *(f"  {sentence}" for sentence in missing)]
    return "\n".join([*lines, DEFER])


def _verdict(proof: Proof | MaterialProof) -> str:
    least = LEAST[proof.goal]
    if proof.proven:
        return f"{least} proven"
    if proof.bound <= 0:
        return f"{least} not known yet"
    return f"not proven, at least {at_least(proof)}"


def at_least(proof: Proof | MaterialProof) -> str:
    """Write the bound of a proof; what nobody gave as money is a share of what is taken."""
    if proof.goal in NOT_MONEY:
        return f"{100 * proof.bound // max(1, proof.value)} % of it"
    return _amount(proof.goal, proof.bound)


def _amount(goal: Goal, value: int) -> str:
    if goal is Goal.LEAST_PRICE:
        return format_price(value) if value else NOTHING_TO_BUY
    return counted(value, "sheet")


_IN_A_SIZE: Final = re.compile(
    r"(?<=\d) (?=\d|[+×-] |in\b|mm\b|kg\b|lb\b|m\b)|(?<=[LW×+-]) (?=[\dW])"
)


def unbroken(sentence: str) -> str:
    """Return a sentence whose lengths, sizes and weights no end of a line breaks."""
    return _IN_A_SIZE.sub("\N{NO-BREAK SPACE}", sentence)
