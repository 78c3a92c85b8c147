"""What the command ``check`` finds of a plan's file, and what it says of a good one."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from layout_app.model.broken_sets import figure_sentence
from layout_app.model.words.wording import (
    counted,
    proof_note,
    proof_sentence,
    stock_words,
    unplaced_sentences,
)
from shared.issues import Issue, Severity
from shared.plan import Plan
from shared.saw import verify
from shared.shop import FirstCut
from shared.tree_check import wrong_trees
from solver.planning.proof_status import LIMITED, rule_in_words

SAYS_LESS = (
    "The file is of version 1 and does not say for which shop it was made: limits, saws, matched"
    " sets and trees of cuts were not checked."
)


def faults(plan: Plan) -> tuple[Issue, ...]:
    """Return all that the file of a plan can show to be wrong; empty for a good one."""
    return (*verify(plan), *wrong_trees(plan), *_wrong_words(plan))


def _wrong_words(plan: Plan) -> Iterator[Issue]:
    """Refuse a proof that was shown, as it says in words, for another rule than the plan's.

    Rails may take another direction than the rule asks for.
    """
    said, rule, shop = plan.proof.rule, plan.rule, plan.shop
    if not said or rule is None or shop is None:
        return
    ways = (rule.first,) if shop.reach is None else tuple(FirstCut)
    allowed = {
        rule_in_words(replace(rule, first=first), *limits, kept=kept, held=held)
        for first, limits, kept, held in product(
            ways, ((), (LIMITED,)), (False, True), (False, True)
        )
    }
    if said not in allowed:
        sentence = "The proof is of another rule than that of the plan."
        yield Issue(
            code="proof-rule",
            severity=Severity.ERROR,
            subject="",
            field="proof.rule",
            sentence=sentence,
        )


def good_words(plan: Plan) -> Iterator[str]:
    """Yield sentences on a plan without faults: what was sawn, what is claimed, what breaks."""
    cuts, parts = counted(len(plan.cuts), "cut"), counted(len(plan.placements), "part")
    yield f"The simulated saw cut {stock_words(plan)} with {cuts} and found {parts} as promised."
    yield proof_sentence(plan)
    if note := proof_note(plan):
        yield note
    if plan.shop is None:
        yield SAYS_LESS
    yield from (figure_sentence(one) for one in plan.matches)
    for sentence in unplaced_sentences(plan):
        yield f"On no sheet: {sentence}"
