"""The command ``check``: what it finds of a plan's file, and what it says of a good one."""

import argparse
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from typing import Final

from layout_app.cli.plan_commands import ALL_PLANNED, SOME_UNPLACED
from layout_app.model.broken_sets import figure_sentence
from layout_app.model.words.wording import (
    counted,
    proof_note,
    proof_sentence,
    stock_words,
    unplaced_sentences,
)
from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import read_plan
from shared.geometry import Rect
from shared.issues import Issue, Severity
from shared.lengths import Length
from shared.making.recording import records
from shared.plan import CutKind, Plan, PlanSheet
from shared.plan_number import plan_number
from shared.proof_rule import LIMITED, in_words_of_now, rule_in_words
from shared.saw import verify
from shared.saw.records import wrong_records
from shared.shop import FirstCut, Shop
from shared.tree import Run, left_over, piece_rects, places, runs, slice_of

SAYS_LESS = (
    "The file is of version 1 and does not say for which shop it was made: limits, saws, matched"
    " sets and trees of cuts were not checked."
)


def check(arguments: argparse.Namespace) -> int:
    """Saw a plan again, from its file alone."""
    path = arguments.plan
    plan = read_plan(path)
    issues = faults(plan)
    if issues:
        first, more = issues[0], len(issues) - 1
        also = f" (and {counted(more, 'more fault')})" if more else ""
        raise FileProblem(path, first.subject, f"{first.sentence.rstrip('.')}{also}")
    sawn, *others = good_words(plan)
    print(f"{path}: {sawn[0].lower()}{sawn[1:]}", *others, sep="\n")
    return SOME_UNPLACED if plan.unplaced else ALL_PLANNED


def faults(plan: Plan) -> tuple[Issue, ...]:
    """Return all that the file of a plan can show to be wrong; empty for a good one."""
    found = (*verify(plan), *wrong_trees(plan), *_wrong_words(plan))
    return found or tuple(_wrong_records(plan))


def _wrong_records(plan: Plan) -> Iterator[Issue]:
    """Refuse a sound plan of which a record does not lie; nothing of one that names no shop."""
    if plan.shop is not None:
        yield from wrong_records((plan,), plan.shop, records((plan,), plan.shop))


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
    if in_words_of_now(said) not in allowed:
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
    if plan.shop is not None and (number := plan_number(plan, plan.shop)):
        yield f"Plan number {number}, as on its pages."
    yield proof_sentence(plan)
    if note := proof_note(plan):
        yield note
    if plan.shop is None:
        yield SAYS_LESS
    yield from (figure_sentence(one) for one in plan.matches)
    for sentence in unplaced_sentences(plan):
        yield f"Not placed: {sentence}"


_OTHER: Final = "takes other cuts than are listed"
HALVED: Final = 2
"""A board too heavy to turn is sawn into halves by cuts down to that level, which saw them on."""


def wrong_trees(plan: Plan) -> Iterator[Issue]:
    """Yield the sheets whose trees give other parts or other cuts than the plan has of them.

    Nothing is asked of a plan that names no shop: without its saws nobody knows the kerf.
    """
    if plan.shop is None:
        return
    for sheet in plan.sheets:
        if reason := _fault(plan, sheet, plan.shop):
            yield Issue(
                code="tree-differs",
                severity=Severity.ERROR,
                subject=sheet.id,
                field="tree",
                sentence=f"Sheet {sheet.id}: its tree of cuts {reason}.",
            )


def _fault(plan: Plan, sheet: PlanSheet, shop: Shop) -> str:
    """Say in what a tree differs; ``""`` in nothing."""
    if sheet.tree is None:
        return "is missing"
    if any(_is_negative(run) for _, run, _ in runs(sheet.tree, sheet.rect, shop.kerf)):
        return "has a piece or a trim below 0"
    lies = {
        (place.part, place.copy, place.turned, rect)
        for place, rect in places(sheet.tree, sheet.rect, shop.kerf)
    }
    if lies != {
        (one.part, one.copy, one.turned, one.rect)
        for one in plan.placements
        if one.sheet == sheet.id
    }:
        return "gives other parts than lie on the sheet"
    listed = (cut for cut in plan.cuts if cut.sheet == sheet.id and cut.kind is not CutKind.FINISH)
    made = Counter(_dust(sheet.tree, sheet.rect, shop, 1))
    return "" if made == Counter((one.level, one.rect) for one in listed) else _OTHER


def _is_negative(run: Run) -> bool:
    return min((run.trim, *(piece.size for piece in run.pieces))) < 0


def _dust(run: Run, rect: Rect, shop: Shop, level: int) -> Iterator[tuple[int, Rect]]:
    """Yield level and dust of every cut of a run; a blank is not brought to size by a tree."""
    left, kerf = left_over(run, rect, shop.kerf), run.kerf_or(shop.kerf)
    if run.trim:
        dust = min(shop.kerf, run.trim)
        yield level, slice_of(rect, run.axis, run.trim - dust, dust)
    at = run.trim
    for number, (piece, inside) in enumerate(piece_rects(run, rect, shop.kerf), 1):
        at += piece.size
        last = number == len(run.pieces)
        if not last or left > 0:
            ends = run.kerf or _kerf(shop, piece.size, left)
            yield level, slice_of(rect, run.axis, at, min(ends, left) if last else kerf)
        at += kerf
        if piece.run is not None:
            deeper = 1
            if piece.run.axis is run.axis:
                rest = last and left <= 0
                uncut = not piece.run.trim and len(piece.run.pieces) == 1
                uncut = uncut and left_over(piece.run, inside, shop.kerf) <= 0
                deeper = 0 if uncut or (level <= HALVED and not rest) else 2
            yield from _dust(piece.run, inside, shop, level + deeper)


def _kerf(shop: Shop, near: Length, left: Length) -> Length:
    """Return the kerf of the saw that parts a last piece from its fall."""
    at_table = shop.goes_to_table(near, max(0, left - shop.kerf))
    return shop.table.kerf if at_table and shop.table is not None else shop.kerf
