"""What is said beside the pointer: whether a part may lie where it is held.

What is good here has no problem when it is let go: the same cuts are looked for, under the
same limits, beginning with those the sheet has.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial

from layout_app.model.matched_sets import MatchedSets
from layout_app.model.sawing import against_rows, ground_of, tree_of
from layout_app.model.words.shop_limits import excess_words
from shared.check import plannable
from shared.finding import say
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import Length
from shared.no_go import barred_by, place_name
from shared.parts import Copy
from shared.plan import Placement
from shared.recognise import LayoutTrouble, Trouble, Watch, beyond, problems, too_deep
from shared.stock import NoGo, orientations
from shared.tree import Run

FITS = "fits and can be cut"
LIMITED = "can be cut edge to edge, but not within the shop's limits"
NAMED_AT_MOST = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Whether the sheet can be cut with the part there; if not, why and because of what.

    ``remedy`` says which part to move instead, ``caution`` what is to be known though the
    sheet can be cut; both ``""`` if there is nothing to say. ``rough`` says that `explain`
    would say more; not ``known`` that more pieces of the sheet are to be looked at first.
    """

    good: bool
    words: str
    troubled: frozenset[Copy] = frozenset()
    remedy: str = ""
    caution: str = ""
    rough: bool = field(default=False, compare=False)
    known: bool = field(default=True, compare=False)

    @property
    def lines(self) -> tuple[str, ...]:
        """All that is said, the verdict first."""
        return tuple(filter(None, (self.words, self.remedy, self.caution)))


GOOD = Verdict(good=True, words=FITS)
UNKNOWN = Verdict(good=False, words="", known=False)


def judge(
    job: Job,
    sheet: LayoutSheet,
    *held: Placement,
    begun: bool = False,
    states: int | None = None,
) -> Verdict:
    """Judge a sheet with copies laid or moved to placements on it; quick enough for a frame.

    One that is ``begun`` is not held against the limits of the shop, as `sawing.saw` has it.
    If more than so many ``states`` of its pieces have to be looked at, it is `UNKNOWN` yet, and
    going on is asking again.
    """
    return judging(job, sheet, *(one.key for one in held), begun=begun).judge(*held, states=states)


def explain(job: Job, sheet: LayoutSheet, *held: Placement, begun: bool = False) -> Verdict:
    """Judge as `judge` does, and say which cut is beyond which limit: up to a tenth of a second."""
    return judging(job, sheet, *(one.key for one in held), begun=begun).explain(*held)


def judging(job: Job, sheet: LayoutSheet, *copies: Copy, begun: bool = False) -> "Judging":
    """Return who judges a sheet while some copies are in the hand.

    Those asked last are remembered for the next frame: they are told from new ones by their
    quickness only.
    """
    known = next((one for one in _LAST if one.is_of(job, sheet, copies, begun=begun)), None)
    if known is None:
        known = Judging(job, sheet, copies, rows_of(job), begun=begun)
        _LAST[:] = [known, *_LAST[: REMEMBERED - 1]]
    return known


REMEMBERED = 4
"""Parts in the hand can lie over several sheets."""
_LAST: list["Judging"] = []


class Rows:
    """What can be said of a job once: which rows have no error, and what its groups are."""

    def __init__(self, job: Job) -> None:
        self.job, self.sound = job, plannable(job)
        self.matches = MatchedSets(self.sound)


def rows_of(job: Job) -> Rows:
    """Return what can be said of a job once, if it was asked about last."""
    known = next((one.rows for one in _LAST if one.rows.job is job), None)
    return known or Rows(job)


class Judging:
    """Judges one sheet while some copies are moved about on it.

    Parameters
    ----------
    job, sheet
        As they are in the document.
    copies
        Which are in the hand; where they lie on the sheet now is no matter.
    rows
        What is known of the job already.
    begun
        Whether cuts are made on it, so that the limits of the shop are no matter any more.
    """

    def __init__(
        self,
        job: Job,
        sheet: LayoutSheet,
        copies: Sequence[Copy],
        rows: Rows | None = None,
        *,
        begun: bool = False,
    ) -> None:
        self.rows = rows or Rows(job)
        self._job, self._sheet, self._copies, self._begun = job, sheet, tuple(copies), begun
        self._stock = job.stock_row(sheet.stock)
        self._others = tuple(one for one in sheet.placements if one.key not in set(copies))
        self._ground = ground_of(job, self._stock, limited=not begun)
        self._watch = Watch(self._ground, self._others, sheet.tree)

    def is_of(self, job: Job, sheet: LayoutSheet, copies: Sequence[Copy], *, begun: bool) -> bool:
        """Say whether this is who judges that."""
        same = self._job is job and self._sheet is sheet and self._begun is begun
        return same and self._copies == tuple(copies)

    @property
    def is_past_mending(self) -> bool:
        """Whether the sheet cannot be cut wherever the copies lie: what stays there bars it."""
        return self._others_wrong is not None or not self._watch.others_can_be_cut

    def judge(self, *held: Placement, states: int | None = None) -> Verdict:
        """Say whether the sheet can be cut with the copies there; quick enough for a frame."""
        wrong = self._barred(held)
        if wrong is not None:
            return wrong
        good = self._watch.look(held, states)
        if good is None:
            return UNKNOWN
        if good:
            return replace(self._fitting(held), rough=self._watch.deep)
        lying = (*self._others, *held)
        found = problems(self._stock.whole, lying, self._ground.kerf, self._stock.trims)
        return self._said(found, held) if found else replace(_bad(LIMITED, *held), rough=True)

    def is_good(self, *held: Placement) -> bool:
        """Say yes or no as `judge` does, without looking for the reason of a no."""
        return self._barred(held) is None and self._watch.is_good(held)

    def _barred(self, held: Sequence[Placement]) -> Verdict | None:
        """Say what is wrong wherever cuts could run: rows, material, grain, bad places."""
        several = len(held) > 1
        return (
            self._others_wrong
            or self._against_rules(held, by_name=several)
            or self._on_bad_place(held, by_name=several)
        )

    def explain(self, *held: Placement) -> Verdict:
        """Say the same in full: which cut is beyond which limit, and how deep the cuts are."""
        verdict, lying = self.judge(*held), (*self._others, *held)
        if not verdict.rough:
            return verdict
        before, limited = self._sheet.tree, not self._begun
        tree = tree_of(self._job, self._stock, lying, before, limited=limited)
        if tree is None:
            return verdict
        if not verdict.good and (found := beyond(self._ground, tree, lying)) is not None:
            return self._beyond(found, held)
        deep = self._deeper(tree)
        said = self._fitting(held)
        return replace(said, caution=said.caution or deep)

    def _deeper(self, tree: Run) -> str:
        """Say that cuts are deeper than the rule has them, if more are than before."""
        before = 0 if self._sheet.tree is None else too_deep(self._sheet.tree, self._ground)
        if too_deep(tree, self._ground) <= before:
            return ""
        return f"takes cuts deeper than the {self._job.rule.levels} levels of the rule"

    def _fitting(self, held: Sequence[Placement]) -> Verdict:
        """Say that all is well, but for parts of match groups that lie away from it."""
        for one in held:
            if group := self.rows.matches.left((*self._others, *held), one):
                caution = f"{self._job.named(one.key)} is away from its match group {group}"
                return replace(GOOD, caution=caution)
        return GOOD

    @cached_property
    def _others_wrong(self) -> Verdict | None:
        if row := against_rows(self.rows.job, self.rows.sound, self._sheet, self._copies):
            return _bad(row)
        others = self._others
        return self._against_rules(others, by_name=True) or self._on_bad_place(others, by_name=True)

    def _against_rules(self, lying: Sequence[Placement], *, by_name: bool) -> Verdict | None:
        """Judge material and grain, which are no matter of where a part lies.

        Said ``by_name`` where it could be of more than the one part in the hand.
        """
        stock = self._stock
        for one in lying:
            part = self._job.part(one.part)
            name = f"{self._job.named(one.key)} " if by_name else ""
            if part.material != stock.material:
                return _bad(f"{name}is of {part.material}, the sheet of {stock.material}", one)
            if one.turned not in orientations(part.grain_rule, stock.grain):
                name = f"{name}lies " if by_name else ""
                return _bad(f"{name}against the grain: it runs {part.grain_rule}", one)
        return None

    def _on_bad_place(self, lying: Sequence[Placement], *, by_name: bool) -> Verdict | None:
        """Judge what lies on bad places of the sheet."""
        found = [(one, bad) for one in lying if (bad := self._bad_under(one)) is not None]
        if not found:
            return None
        one, bad = found[0]
        what = "its show face on" if bad.show_only else "on"
        words = f"{what} a {place_name(bad, self._stock.whole)}"
        if by_name:
            words = f"{self._job.named(one.key)} lies {words}"
        return _bad(words, *(one for one, _ in found))

    def _bad_under(self, one: Placement) -> NoGo | None:
        return barred_by(self._stock.no_go, one.rect, show=self._job.part(one.part).show)

    def _said(self, found: tuple[LayoutTrouble, ...], held: Sequence[Placement]) -> Verdict:
        """Say the first thing that is wrong with what is held, else with the sheet."""
        mine = [one for one in found if not set(held).isdisjoint(one.parts)]
        if len(held) != 1 or not mine:
            parts = [part for problem in found for part in problem.parts]
            lengths = partial(say, style=self._job.style)
            words = found[0].sentence(lambda one: self._job.named(one.key), lengths)
            return _bad(words, *parts)
        same = [problem for problem in mine if problem.trouble is mine[0].trouble]
        others = [part for problem in same for part in problem.parts if part not in held]
        words = _WORDS[mine[0].trouble].format(self._listed(others))
        verdict = _bad(words, *held, *others)
        return replace(verdict, remedy=self._remedy(mine[0].frees, held))

    def _beyond(self, found: LayoutTrouble, held: Sequence[Placement]) -> Verdict:
        """Say which cut is beyond which limit, and which part to move."""
        assert found.excess is not None
        words = "can be cut edge to edge, but "
        words += excess_words(found.excess, self._job.shop, self._job.style)
        troubled = found.frees or found.parts
        return replace(
            _bad(words, *troubled), remedy=self._remedy(found.frees, () if len(held) > 1 else held)
        )

    def _remedy(self, frees: Sequence[Placement], held: Sequence[Placement]) -> str:
        """Say which of the parts that lie there to move instead of what is held."""
        rest = [one for one in frees if one not in held]
        return f"moving {self._listed(rest, ' or ')} frees the sheet" if rest else ""

    def _listed(self, placements: Sequence[Placement], last: str = ", ") -> str:
        """Name the first few copies."""
        names = [self._job.named(one.key) for one in placements[:NAMED_AT_MOST]]
        more = len(placements) - len(names)
        if more:
            return ", ".join(names) + f" and {more} more"
        return last.join(filter(None, (", ".join(names[:-1]), names[-1]))) if names else ""


def resized_on(sheet: LayoutSheet, part: str, size: tuple[Length, Length]) -> LayoutSheet:
    """Return a sheet on which all copies of a part have another cut size, corners kept."""
    return replace(sheet, placements=tuple(_resized(sheet.placements, part, size)))


_WORDS = {
    Trouble.OFF_SHEET: "off the sheet",
    Trouble.IN_TRIM: "off the sheet: in its trimmed edge",
    Trouble.NEAR_EDGE: "too near the reference edge for the kerf",
    Trouble.OVERLAP: "overlaps {}",
    Trouble.TOO_NEAR: "too near {} for the kerf",
    Trouble.LOCKED: "no cut from edge to edge parts it from {}",
    Trouble.OUT_OF_LINE: "out of line with {} by less than the kerf",
}


def _bad(words: str, *troubled: Placement) -> Verdict:
    return Verdict(good=False, words=words, troubled=frozenset(one.key for one in troubled))


def _resized(
    placements: tuple[Placement, ...], part: str, size: tuple[Length, Length]
) -> Iterator[Placement]:
    for one in placements:
        if one.part != part:
            yield one
        else:
            length, width = reversed(size) if one.turned else size
            yield replace(one, length=length, width=width)
