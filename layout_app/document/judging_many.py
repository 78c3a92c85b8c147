"""Verdicts on what lies in a document: one for several parts, over all sheets they lie on.

Cuts that are made stay as they are: what a hand may not do for their sake is said too.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial

from layout_app.document.document import Document
from layout_app.document.started_sheets import begun_of, changed_by
from layout_app.model import layout_edits
from layout_app.model.feasibility import UNKNOWN, Verdict, explain, judge
from shared.job import Job
from shared.layout import LayoutSheet
from shared.parts import Copy
from shared.plan import Cut, Placement

Judge = Callable[..., Verdict]


def judge_all(doc: Document, held: Sequence[Placement], states: int | None = None) -> Verdict:
    """Say whether parts may lie there; quick enough for a frame.

    With ``states`` it can be `UNKNOWN` yet, as `judge` has it.
    """
    barred = next(filter(None, map(doc.held.bars_place, held)), "")
    if barred:
        return Verdict(good=False, words=barred)
    verdict = _over_sheets(doc, held, partial(judge, states=states))
    rough = verdict.rough or _touches_begun(doc, held)
    return replace(_where_made(doc, held, verdict), rough=rough)


def explain_all(doc: Document, held: Sequence[Placement]) -> Verdict:
    """Say the same in full, and whether a cut that is made would be another one."""
    verdict = _over_sheets(doc, held, explain)
    if verdict.good and _touches_begun(doc, held) and (cut := changed_by(doc, held)) is not None:
        verdict = _no(f"would change cut {cut.number}, which is made", (one.key for one in held))
    return _where_made(doc, held, verdict)


def judge_here(
    doc: Document, sheet: LayoutSheet, *held: Placement, job: Job | None = None
) -> Verdict:
    """Judge a sheet of a document, as it would be; ``job`` if that would be another one too."""
    return _on(doc, job or doc.job, sheet, held, judge)


def _on(
    doc: Document, job: Job, sheet: LayoutSheet, held: Sequence[Placement], judged: Judge
) -> Verdict:
    """Judge one sheet, and before that whether a cut that is made runs through what is held."""
    begun = begun_of(doc)
    through = {one.key: cut for one in held if (cut := begun.cut_across(one)) is not None}
    if through:
        return _no(_across(next(iter(through.values()))), through)
    return judged(job, sheet, *held, begun=sheet.id in begun)


def _touches_begun(doc: Document, held: Sequence[Placement]) -> bool:
    """Say whether parts come from or go to a sheet that is begun."""
    if not doc.progress.made:
        return False
    old = (layout_edits.find(doc.layout, one.key) for one in held)
    homes = {one.sheet for one in old if one is not None}
    return any(sheet in begun_of(doc) for sheet in homes | {one.sheet for one in held})


def _where_made(doc: Document, held: Sequence[Placement], verdict: Verdict) -> Verdict:
    """Say besides what letting go means where cuts are made.

    A part that lies apart already would be sawn a second time; and what is bad on a begun sheet
    is not laid there.
    """
    begun = begun_of(doc)
    if not verdict.good:
        sheet = next((one.sheet for one in held if one.sheet in begun), "")
        stays = f"sheet {sheet} is begun: nothing will be moved" if sheet else ""
        return replace(verdict, caution=stays) if verdict.known else verdict
    apart = [key for key in (one.key for one in held) if begun.is_sawn_off(key)]
    if not apart:
        return verdict
    name = doc.job.named(apart[0])
    return replace(verdict, caution=f"{name} is sawn off already: it would be sawn once more")


def _across(cut: Cut) -> str:
    return f"cut {cut.number} runs through it, and is made"


def _no(words: str, troubled: Iterable[Copy]) -> Verdict:
    return Verdict(good=False, words=words, troubled=frozenset(troubled))


def _over_sheets(doc: Document, held: Sequence[Placement], judged: Judge) -> Verdict:
    """Ask of each sheet; the first no is what is said, with all that is in trouble outlined."""
    sheets = list(dict.fromkeys(one.sheet for one in held))
    found = [_of_sheet(doc, layout_edits.sheet_of(doc.layout, one), held, judged) for one in sheets]
    if not all(one.known for one in found):
        return UNKNOWN
    bad = [verdict for verdict in found if not verdict.good]
    troubled = frozenset[Copy]().union(*(one.troubled for one in found))
    first = bad[0] if bad else max(found, key=lambda one: bool(one.caution))
    return replace(first, troubled=troubled, rough=any(one.rough for one in found))


def _of_sheet(
    doc: Document, sheet: LayoutSheet, held: Sequence[Placement], judged: Judge
) -> Verdict:
    """Judge one sheet; what the hand brings to another sheet has left it.

    Where one part of several is alone on its sheet, what is wrong with it is said by its name.
    """
    here = [one for one in held if one.sheet == sheet.id]
    verdict = _on(doc, doc.job, sheet, here, judged)
    if verdict.good or not verdict.known or len(here) != 1 or len(held) == 1:
        return verdict
    name = doc.job.named(here[0].key)
    return verdict if name in verdict.words else replace(verdict, words=f"{name}: {verdict.words}")
