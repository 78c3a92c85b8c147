"""Verdicts on what lies in a document: one for several parts, over all sheets they lie on.

Cuts that are made stay as they are: what a hand may not do on begun sheets is said too.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import cached_property, partial

from layout_app.document.document import Document
from layout_app.model import layout_edits
from layout_app.model.feasibility import UNKNOWN, Verdict, explain, judge, judging
from layout_app.model.merge_plan import with_layout
from layout_app.model.sawing import Sawn, saw
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.parts import Copy
from shared.plan import Cut, Placement
from shared.progress import changed_in
from shared.saw import after

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
    if verdict.good and _touches_begun(doc, held) and (cut := _changed_by(doc, held)) is not None:
        verdict = _no(f"would change cut {cut.number}, which is made", (one.key for one in held))
    return _where_made(doc, held, verdict)


def is_past_mending(doc: Document, sheet: str, copies: Sequence[Copy]) -> bool:
    """Say whether a sheet cannot be cut wherever some copies are laid or taken: others bar it."""
    begun = sheet in begun_of(doc)
    return judging(doc.job, doc.layout.sheet(sheet), *copies, begun=begun).is_past_mending


def judge_here(
    doc: Document, sheet: LayoutSheet, *held: Placement, job: Job | None = None
) -> Verdict:
    """Judge a sheet of a document, as it would be; ``job`` if that would be another one too."""
    return _on(doc, job or doc.job, sheet, held, judge)


def judge_opened(doc: Document, sheet: LayoutSheet, held: Sequence[Placement]) -> Verdict:
    """Judge parts on a sheet that is not on the bench yet, and what they leave on begun ones."""
    verdict = judge_here(doc, sheet, *held)
    if verdict.good and _touches_begun(doc, held) and (cut := _changed_by(doc, held)) is not None:
        verdict = _no(f"would change cut {cut.number}, which is made", (one.key for one in held))
    return _where_made(doc, held, verdict)


def _on(
    doc: Document, job: Job, sheet: LayoutSheet, held: Sequence[Placement], judged: Judge
) -> Verdict:
    """Judge one sheet, and before that whether a cut that is made runs through what is held."""
    begun = begun_of(doc)
    through = {one.key: cut for one in held if (cut := begun.cut_across(one)) is not None}
    if through:
        cut = next(iter(through.values()))
        return _no(f"cut {cut.number} runs through it, and is made", through)
    return judged(job, sheet, *held, begun=sheet.id in begun)


def _touches_begun(doc: Document, held: Sequence[Placement]) -> bool:
    """Say whether parts come from or go to a sheet that is begun."""
    if not doc.progress.made:
        return False
    old = (doc.layout.find(one.key) for one in held)
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


def _no(words: str, troubled: Iterable[Copy]) -> Verdict:
    return Verdict(good=False, words=words, troubled=frozenset(troubled))


def _over_sheets(doc: Document, held: Sequence[Placement], judged: Judge) -> Verdict:
    """Ask of each sheet; the first no is what is said, with all that is in trouble outlined."""
    sheets = list(dict.fromkeys(one.sheet for one in held))
    found = [_of_sheet(doc, doc.layout.sheet(one), held, judged) for one in sheets]
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


class Begun:
    """The sheets of one document on which cuts are made, as it is now."""

    def __init__(self, sawn: Sawn) -> None:
        self.sawn = sawn
        self._made: dict[str, list[Cut]] = {}
        for cut in sawn.project.progress.ticked:
            self._made.setdefault(cut.sheet, []).append(cut)

    def __contains__(self, sheet: object) -> bool:
        """Say whether a cut up to the last one made is on a sheet: its limits are no matter."""
        return sheet in self.sawn.project.progress.sheets

    def cut_across(self, one: Placement) -> Cut | None:
        """Return the first cut that is made where a part would lie."""
        made = self._made.get(one.sheet, ())
        return next((cut for cut in made if cut.rect.overlaps(one.rect)), None)

    def dust(self, sheet: str) -> tuple[Rect, ...]:
        """Return what the cuts that are made took off a sheet, in its frame."""
        return tuple(cut.rect for cut in self._made.get(sheet, ()))

    def is_sawn_off(self, key: Copy) -> bool:
        """Say whether a copy lies apart already, sawn to its size."""
        return key in self._apart

    @cached_property
    def _apart(self) -> frozenset[Copy]:
        plan = self.sawn.plan
        if plan is None or not self._made:
            return frozenset()
        sheets = [sheet for sheet in plan.sheets if sheet.id in self._made]
        made = (cut for cuts in self._made.values() for cut in cuts)
        ticked = sorted(made, key=lambda cut: cut.number)
        pieces = {(piece.sheet, piece.rect) for piece in after(sheets, ticked)}
        lying = (one for one in plan.placements if (one.sheet, one.rect) in pieces)
        return frozenset(one.key for one in lying)


def begun_of(doc: Document) -> Begun:
    """Return what is begun of a document now; found out once for each of its states."""
    if _LAST and _LAST[0].sawn is doc.sawn:
        return _LAST[0]
    _LAST[:] = [Begun(doc.sawn)]
    return _LAST[0]


_LAST: list[Begun] = []


def _changed_by(doc: Document, placements: Sequence[Placement]) -> Cut | None:
    """Return the first cut that is made and would be another one with parts laid so.

    Saws the sheets as they would be: up to a tenth of a second, nothing if none is begun.
    """
    if not doc.progress.made:
        return None
    layout = layout_edits.place_all(doc.job, doc.layout, placements)
    return changed_in(doc.progress, saw(with_layout(doc.project, layout)).plan)
