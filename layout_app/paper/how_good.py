"""How good a plan is, as a woodworker says it: what is sure, and for which way of sawing."""

from collections.abc import Iterator, Sequence
from typing import Final

from layout_app.model.words.wording import (
    NOTHING_TO_BUY,
    at_least,
    least_cuts_words,
    stock_words,
    uncut_words,
)
from shared.amounts import format_price
from shared.plan import Goal, Plan, Proof
from shared.proof_rule import HELD, KEPT, LIMITED
from shared.shop import CutRule, FirstCut

_LESS: Final = {
    Goal.FEWEST_SHEETS: "takes fewer",
    Goal.LEAST_PRICE: "costs less",
    Goal.LEAST_COST: "costs less",
    Goal.LEAST_AREA: "takes less of what has to be bought",
}
"""What no other plan does, by the goal of a proof."""
_FIRST: Final = {
    FirstCut.RIP: "rip first, then crosscut",
    FirstCut.CROSSCUT: "crosscut first, then rip",
    FirstCut.EITHER: "rip or crosscut first, then across that",
}
_AGAIN: Final = {FirstCut.RIP: "rip", FirstCut.CROSSCUT: "crosscut", FirstCut.EITHER: "saw"}


def taken_and_sure(plan: Plan, uncut: Sequence[str] = ()) -> str:
    """Say which sheets are taken, and whether less would do; nothing is sure while any is uncut."""
    if uncut:
        return f"{stock_words(plan, len(uncut))}, {uncut_words(uncut)}."
    proof, taken = plan.proof, stock_words(plan)
    if proof.goal is Goal.LEAST_PRICE:
        taken += f" for {format_price(proof.value)}" if proof.value else f", {NOTHING_TO_BUY}"
    return f"{taken}: {_sure(proof)}."


def _sure(proof: Proof) -> str:
    if proof.proven:
        return f"no plan with these sheets {_LESS[proof.goal]}"
    if proof.bound <= 0:
        return "whether less would do is not known"
    return f"less may do, but not less than {at_least(proof)}"


def sure_for(plan: Plan, whose: str = "your") -> Iterator[str]:
    """Say for which way of sawing, and which prices, that is sure; and how few cuts would do.

    ``whose`` shop it is, as the reader says.
    """
    proof = plan.proof
    if proof.proven or proof.bound > 0:
        yield f"That is sure of plans that {_way(plan)}{_limits(proof, whose)}."
    if proof.prices:
        yield f"{proof.prices[0].upper()}{proof.prices[1:]}."
    alone = proof.materials[0] if len(proof.materials) == 1 else None
    if alone is not None and alone.least_sawing:
        best = ", none leaves a larger offcut" if alone.best_remainder else ""
        yield f"No such plan takes less sawing{best}."
    elif known := least_cuts_words(plan):
        yield f"{known[0].upper()}{known[1:]} cuts."


def _way(plan: Plan) -> str:
    rule = plan.rule or CutRule()
    again = f", then {_AGAIN[rule.first]} once more" if rule.levels > 2 else ""
    return f"{_FIRST[rule.first]}{again}, with a last trim"


def _limits(proof: Proof, whose: str) -> str:
    """Say what else a proof kept to."""
    said = {LIMITED: f"within the limits of {whose} shop", KEPT: KEPT, HELD: HELD}
    return "".join(f", {words}" for phrase, words in said.items() if phrase in proof.rule)
