"""How good a plan is, in a woodworker's words: the same claims as elsewhere, none more."""

from dataclasses import replace

import pytest

from layout_app.model.words.wording import proof_sentence
from layout_app.paper.how_good import sure_for, taken_and_sure
from shared.plan import Goal, MaterialProof, Plan, Proof
from shared.proof_rule import HELD, KEPT, LIMITED, rule_in_words
from shared.shop import CutRule, FirstCut
from tests.layout_app.small_job import planned, small_job


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Return a plan of one sheet."""
    return planned(small_job())


@pytest.mark.parametrize(
    ("proof", "said"),
    [
        (Proof(goal=Goal.FEWEST_SHEETS, value=1, bound=1, proven=True), "takes fewer"),
        (Proof(goal=Goal.LEAST_PRICE, value=5200, bound=5200, proven=True), "costs less"),
        (Proof(goal=Goal.LEAST_COST, value=900, bound=900, proven=True), "costs less"),
        (Proof(goal=Goal.LEAST_AREA, value=900, bound=900, proven=True), "has to be bought"),
        (Proof(goal=Goal.FEWEST_SHEETS, value=2, bound=1), "not less than 1 sheet"),
        (Proof(goal=Goal.LEAST_PRICE, value=5200, bound=2600), "not less than 26.00"),
        (Proof(goal=Goal.LEAST_AREA, value=900, bound=450), "not less than 50 % of it"),
        (Proof(), "is not known"),
    ],
)
def test_what_is_sure_is_said_and_no_more(plan: Plan, proof: Proof, said: str) -> None:
    """``No plan`` stands there only for what is proven; money only where it was given."""
    one = replace(plan, proof=proof)
    text = taken_and_sure(one)
    assert said in text
    assert ("no plan with these sheets" in text) == proof.proven
    assert ("52.00" in text) == (proof.goal is Goal.LEAST_PRICE)
    assert ("52.00" in proof_sentence(one)) == (proof.goal is Goal.LEAST_PRICE)
    ways = [one for one in sure_for(one) if one.startswith("That is sure")]
    assert len(ways) == (proof.bound > 0)


@pytest.mark.parametrize("levels", [2, 3])
@pytest.mark.parametrize("first", FirstCut)
def test_the_way_of_sawing_is_said_with_all_it_kept_to(
    plan: Plan, first: FirstCut, levels: int
) -> None:
    """The rule that was solved, in words; the shop's limits and what was kept, where it was."""
    rule = CutRule(levels=levels, first=first)
    for limits in ((), (LIMITED,)):
        for kept in (False, True):
            words = rule_in_words(rule, *limits, kept=kept, held=kept)
            proof = Proof(value=1, bound=1, proven=True, rule=words)
            (said,) = sure_for(replace(plan, rule=rule, proof=proof))
            assert ("limits of your shop" in said) == bool(limits)
            assert all((phrase in said) == kept for phrase in (KEPT, HELD))
            assert ("once more" in said) == (levels == 3)
            begun = {"rip": "rip first", "crosscut": "crosscut first"}.get(first.value, "rip or")
            assert f"plans that {begun}" in said


def test_the_least_sawing_is_said_of_one_material(plan: Plan) -> None:
    """Materials share set-ups: of several only the fewest cuts are known."""
    one = MaterialProof(
        material="ply", goal=Goal.FEWEST_SHEETS, value=1, bound=1, proven=True, least_cuts=7
    )
    best = replace(one, least_sawing=True, best_remainder=True)
    for materials, said in (
        ((best,), "No such plan takes less sawing, none leaves a larger offcut."),
        ((one,), "No plan on 1 sheet needs fewer than 7 cuts."),
        ((best, one), "No plan on 1 sheet needs fewer than 14 cuts."),
    ):
        proof = Proof(value=1, bound=1, proven=True, materials=materials)
        assert list(sure_for(replace(plan, proof=proof)))[1:] == [said]


def test_nothing_is_sure_while_a_sheet_is_uncut(plan: Plan) -> None:
    """The sheet is named instead."""
    assert taken_and_sure(plan, ("2",)) == "2 sheets, sheet 2 can't be cut yet."
