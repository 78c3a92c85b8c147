"""One verdict for several parts in the hand, over all sheets that they lie on."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from layout_app import laying
from layout_app.bench.judge import Verdict, explain, judge, key_of, named
from layout_app.document import Document
from shared.job import Job
from shared.layout import LayoutSheet
from shared.plan import Placement

Judge = Callable[..., Verdict]


def judge_all(doc: Document, held: Sequence[Placement]) -> Verdict:
    """Say whether parts may lie there; quick enough for a frame."""
    barred = next(filter(None, map(doc.held.bars_place, held)), "")
    if barred:
        return Verdict(good=False, words=barred)
    return _over_sheets(doc, held, judge)


def explain_all(doc: Document, held: Sequence[Placement]) -> Verdict:
    """Say the same in full."""
    return _over_sheets(doc, held, explain)


def _over_sheets(doc: Document, held: Sequence[Placement], judged: Judge) -> Verdict:
    """Ask of each sheet; the first no is what is said, with all that is in trouble outlined."""
    sheets = list(dict.fromkeys(one.sheet for one in held))
    found = [_of_sheet(doc.job, laying.sheet_of(doc.layout, s), held, judged) for s in sheets]
    bad = [verdict for verdict in found if not verdict.good]
    troubled = frozenset[tuple[str, int]]().union(*(one.troubled for one in found))
    first = bad[0] if bad else max(found, key=lambda one: bool(one.caution))
    return replace(first, troubled=troubled, rough=any(one.rough for one in found))


def _of_sheet(job: Job, sheet: LayoutSheet, held: Sequence[Placement], judged: Judge) -> Verdict:
    """Judge one sheet; what the hand brings to another sheet has left it.

    Where one part of several is alone on its sheet, what is wrong with it is said by its name.
    """
    here = [one for one in held if one.sheet == sheet.id]
    verdict = judged(job, sheet, *here)
    if verdict.good or len(here) != 1 or len(held) == 1:
        return verdict
    name = named(job, key_of(here[0]))
    return verdict if name in verdict.words else replace(verdict, words=f"{name}: {verdict.words}")
