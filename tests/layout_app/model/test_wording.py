"""Sentences about a plan that stand in one list are of one measure."""

from dataclasses import replace

from layout_app.model.words.wording import summary
from shared.plan import Goal, MaterialProof, Proof
from tests.layout_app.small_job import small_job
from tests.shared.small_plan import PLAN

SHEET = PLAN.sheets[0]


def lines(*materials: MaterialProof) -> list[str]:
    """Return what is said of two materials: two sheets of ply at 52.00, three of oak at 20.00."""
    ply = [replace(SHEET, id=str(n), material="ply", price=5200) for n in (1, 2)]
    oak = [replace(SHEET, id=str(n), material="oak", price=2000) for n in (3, 4, 5)]
    proof = Proof(goal=Goal.LEAST_PRICE, value=16400, bound=16400, materials=materials)
    plan = replace(PLAN, sheets=(*ply, *oak), proof=proof)
    said = summary(plan, small_job()).splitlines()
    return [line.strip() for line in said if line.startswith("  ")]


def proof(material: str, value: int, bound: int, goal: Goal = Goal.FEWEST_SHEETS) -> MaterialProof:
    """Return what is proven of a material."""
    return MaterialProof(
        material=material, goal=goal, value=value, bound=bound, proven=value == bound
    )


def test_sheets_that_were_counted_are_told_as_money_beside_others_that_are() -> None:
    """2 sheets at 52.00 are 104.00; of 3 at 20.00 at least 2 are needed, which is 40.00."""
    assert lines(proof("ply", 2, 2), proof("oak", 3, 2)) == [
        "ply: 104.00, least price proven",
        "oak: 60.00, not proven, at least 40.00",
    ]


def test_sheets_without_a_price_are_counted() -> None:
    """Nobody gave money for it, so a material is told by its sheets."""
    said = lines(proof("ply", 10400, 10400, Goal.LEAST_PRICE), proof("ash", 2, 2))
    assert said == ["ply: 104.00, least price proven", "ash: 2 sheets, fewest proven"]
