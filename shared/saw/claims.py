"""What a plan claims about itself: its price, the bound, and whether that is proven."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final

from shared.issues import Issue
from shared.lengths import MM
from shared.plan import Goal, MaterialProof, Plan, PlanSheet, Proof
from shared.saw.refusal import refusal

LARGEST: Final = 2**53
"""No file holds a larger number."""


def wrong_claims(plan: Plan) -> Iterator[Issue]:
    """Yield every claim the sheets of the plan do not bear out.

    The empty proof claims nothing. Whether a bound holds is for the solver to show; here
    it only may not exceed the value, and "proven" must mean that they are equal. A plan
    that leaves parts unplaced may meet its bound and yet be unproven. What sheets count is
    told only by plans that name their shop.
    """
    if plan.proof == Proof():
        return
    complete, materials = not plan.unplaced, plan.proof.materials
    worth = _worth if plan.shop is None else _counted
    yield from _wrong(plan.proof, "", worth(plan.proof.goal, plan.sheets), complete)
    for one in materials:
        sheets = tuple(sheet for sheet in plan.sheets if sheet.material == one.material)
        yield from _wrong(one, one.material, worth(one.goal, sheets), complete)
        yield from _wrong_cuts(one, plan.cuts_of(one.material))
    if complete:
        yield from _met_but_unproven(plan.proof)
    if materials or (plan.shop is not None and (plan.proof.proven or plan.proof.bound)):
        yield from _wrong_sum(plan)
    yield from _wrong_materials(plan)


def _wrong_sum(plan: Plan) -> Iterator[Issue]:
    """Hold the whole against its materials; bounds add up only where all count the same."""
    proof, materials = plan.proof, plan.proof.materials
    if {sheet.material for sheet in plan.sheets} - {one.material for one in materials}:
        yield refusal("proof-materials", "", "A material on the sheets has no proof of its own.")
    if proof.proven and not all(one.proven for one in materials):
        yield refusal("proof-proven", "", "Proven as a whole, but not for each material.")
    same_goal = {one.goal for one in materials} == {proof.goal}
    if same_goal and proof.bound != sum(one.bound for one in materials):
        yield refusal("proof-bound", "", "The bounds of the materials do not make the whole.")


def _wrong_materials(plan: Plan) -> Iterator[Issue]:
    """Each proof of a material is of one that the plan has, and there is one of each."""
    known = {sheet.material for sheet in plan.sheets} | {part.material for part in plan.parts}
    for name, times in Counter(one.material for one in plan.proof.materials).items():
        if times > 1 or name not in known:
            said = f"Proof of {name}: there are {times}, and it is no material of the plan once."
            yield refusal("proof-materials", name, said, "materials")
    for claim in plan.proof.materials:
        if claim.least_sawing > claim.proven or claim.best_remainder > claim.least_sawing:
            said = f"Proof of {claim.material}: the least sawing is said of no proven value."
            yield refusal("proof-sawing", claim.material, said, "least_sawing")
    if plan.shop is not None:
        yield from _wrong_goals(plan)


def _wrong_goals(plan: Plan) -> Iterator[Issue]:
    """Sheets alone are counted where all materials do so, and money where nobody derived it."""
    goal, others = plan.proof.goal, {one.goal for one in plan.proof.materials}
    allowed = {
        Goal.FEWEST_SHEETS: {Goal.FEWEST_SHEETS},
        Goal.LEAST_PRICE: set(Goal) - {Goal.LEAST_COST},
        Goal.LEAST_COST: set(Goal),
        Goal.LEAST_AREA: {Goal.FEWEST_SHEETS, Goal.LEAST_AREA},
    }[goal]
    areas = any(sheet.by_area and sheet.cost for sheet in plan.sheets)
    if others - allowed or (areas and goal is Goal.LEAST_PRICE):
        said = f"Proof of the whole: {goal} is not what its materials make together."
        yield refusal("proof-goal", "", said, "goal")


def _wrong(
    claim: Proof | MaterialProof, name: str, worth: tuple[int, int], complete: bool
) -> Iterator[Issue]:
    who = f"Proof of {name or 'the whole'}"
    least, most = worth
    if claim.bound < 0:
        said = f"{who}: no plan takes as little as {claim.bound}."
        yield refusal("proof-bound", name, said, "bound")
    if not least <= claim.value <= most:
        made = f"{least}" if least == most else f"between {least} and {most}"
        said = f"{who}: the value is {claim.value}, but its sheets make {made}."
        yield refusal("proof-value", name, said, "value")
    if complete and claim.bound > claim.value:
        said = f"{who}: the bound {claim.bound} is above the value {claim.value}."
        yield refusal("proof-bound", name, said, "bound")
    if claim.proven and claim.bound != claim.value:
        said = f"{who}: it is called proven, but the bound is not the value."
        yield refusal("proof-proven", name, said, "proven")


def _worth(goal: Goal, sheets: Iterable[PlanSheet]) -> tuple[int, int]:
    """Return what sheets make at least and at most in units of a goal, as far as they show it.

    They do not show which of them are owned, nor what those cost that nobody gave a price.
    """
    whole = [sheet for sheet in sheets if not sheet.piece]
    price = sum(sheet.price for sheet in whole)
    return {
        Goal.FEWEST_SHEETS: (len(whole), len(whole)),
        Goal.LEAST_PRICE: (price, price),
        Goal.LEAST_COST: (price, LARGEST),
        Goal.LEAST_AREA: (0, sum(-(-sheet.rect.area // MM**2) for sheet in whole)),
    }[goal]


def _counted(goal: Goal, sheets: Iterable[PlanSheet]) -> tuple[int, int]:
    """Return what sheets make in units of a goal, twice, by what each says that it counts."""
    whole = [sheet for sheet in sheets if not sheet.piece]
    if goal is Goal.FEWEST_SHEETS:
        return len(whole), len(whole)
    by_area = goal is Goal.LEAST_AREA
    cost = sum(sheet.cost for sheet in whole if sheet.by_area is by_area)
    return cost, cost


def _wrong_cuts(claim: MaterialProof, cuts: int) -> Iterator[Issue]:
    """Hold a bound on cuts against the cuts there are; it speaks of the proven value only."""
    who = f"Proof of {claim.material}"
    if not 0 <= claim.least_cuts <= cuts:
        said = f"{who}: no fewer than {claim.least_cuts} cuts, but there are {cuts}."
        yield refusal("proof-cuts", claim.material, said, "least_cuts")
    if claim.least_cuts and not claim.proven:
        said = f"{who}: the fewest cuts are said of a value that is not proven."
        yield refusal("proof-cuts", claim.material, said, "least_cuts")


def _met_but_unproven(proof: Proof) -> Iterator[Issue]:
    """A complete plan that meets its bound is proven; as a whole, if every material is."""
    claims: list[tuple[str, Proof | MaterialProof]]
    claims = [(one.material, one) for one in proof.materials]
    if all(one.proven for one in proof.materials):
        claims.append(("", proof))
    for name, claim in claims:
        if claim.bound == claim.value and not claim.proven:
            said = f"Proof of {name or 'the whole'}: the bound is met, so it is proven."
            yield refusal("proof-proven", name, said, "proven")
