"""What a published plan says, in the order in which a reader needs it."""

from collections.abc import Iterator, Mapping
from typing import Final

from layout_app.model.words.wording import counted
from layout_app.paper.front_words import assumptions
from layout_app.paper.how_good import sure_for, taken_and_sure
from layout_app.paper.matter import Matter
from layout_app.paper.pack.at_every_cut import cautions_once
from layout_app.paper.pack.reading_terms import terms_of
from layout_app.paper.panels.gathering import panels_of
from layout_app.paper.panels.saying import telling_of, words_of
from layout_app.paper.published import lists
from layout_app.paper.published.blocks import (
    Block,
    Cuts,
    Document,
    Heading,
    Paragraph,
    Picture,
    Points,
    Table,
)
from layout_app.paper.published.drawn import term_page
from shared.cautions import DEFER, cautions_for
from shared.cuts.tally import tally
from shared.lengths import LengthStyle, format_mark, with_unit
from shared.proof_rule import LIMITED

ROUNDED: Final = (
    "What must fit is rounded down: the planned size of fit parts, and offcuts. What must cover"
    " is rounded up: the blanks of fit parts, and edge band. All else goes to the nearest.",
    "Thickness is as measured, not as named. If your stock measures otherwise, sizes that"
    " depend on it change: plan the job again with your own measures.",
    "Notes, build steps and hardware are in the maker's own words, in the units these were written"
    " in.",
)
SAME: Final = (
    "It was worked out for just these parts, sheets, trims and this kerf, with the grain kept as"
    " listed. If any of yours is different, these cuts may not do, or fewer sheets might."
)
OUT_OF_REACH: Final = (
    "Left out was what the maker's rails do not reach and what is too small to be held or to carry"
    " the rail. With longer rails, fewer sheets might do."
)
UNSAID: Final = frozenset({"Shy and strong", "One decimal more"})
"""Terms of the pack that stand under what is taken as given."""
TAGS: Final = "Tags and hatching"
"""What the picture is called that has no name in the pack: it says all itself."""


def document_of(
    matter: Matter, small: tuple[Picture, ...], drawn: Mapping[str, Picture]
) -> Document:
    """Return the plan as it is told to a reader.

    Parameters
    ----------
    matter
        Told in the unit of the document, as `for_reader` has it.
    small, drawn
        The picture of all sheets, and that of each by its number.
    """
    return Document(
        title=matter.job.name or "Plan",
        identity=matter.identity,
        unit=str(matter.style.unit),
        opening=(*_opening(matter), *small),
        chapters=(
            *_holds(matter),
            *_every_cut(matter),
            *_given(matter),
            *lists.to_buy(matter),
            *lists.cut_list(matter),
            *_drawings(matter, drawn),
            *_cuts(matter),
            *lists.offcuts(matter),
            *lists.steps(matter),
        ),
    )


def _opening(matter: Matter) -> Iterator[Block]:
    if matter.banner:
        yield Paragraph(text=matter.banner, bold=True)
    yield Points(lines=tuple(_takes(matter)))
    if matter.unplaced:
        yield Heading(text="Not placed")
        yield Points(lines=matter.unplaced)


def _takes(matter: Matter) -> Iterator[str]:
    """Say what it takes; not how long, for nobody works at another's pace."""
    plan, uncut = matter.plan, tuple(matter.uncut)
    if plan.sheets:
        takes = tally(plan, matter.job.shop)
        yield taken_and_sure(plan, uncut)
        on = " on the sheets that can be cut" if uncut else ""
        changes = counted(takes.setup_changes, "set-up change")
        yield f"{counted(takes.cuts, 'cut')}{on}, {changes}."
        if not uncut:
            yield f"{takes.percent_used:.0f} % of the sheets becomes parts."
    parts, done = sum(part.copies for part in matter.job.parts), len(plan.finished)
    yield f"{counted(parts, 'part')} of {counted(len(matter.job.parts), 'kind')}."
    if done:
        were = counted(done, "part was", "parts were")
        yield f"{were} sawn before this plan was made: their cuts are not told here."


def _holds(matter: Matter) -> Iterator[Block]:
    """Say what the claim rests on, so that a reader can judge whether it holds for him."""
    plan = matter.plan
    if not plan.sheets or matter.uncut:
        return
    said = list(sure_for(plan, "the maker's"))
    if plan.proof.proven or plan.proof.bound > 0:
        said.append(SAME)
        if LIMITED in plan.proof.rule:
            said.append(OUT_OF_REACH)
    if matter.told:
        long = max(one.stroke.long for one in matter.told)
        said.append(f"The longest cut is {_written(long, matter.style)}: see that yours reaches.")
    yield Heading(text="How sure it is, and for whom")
    yield Points(lines=tuple(said))


def _written(length: int, style: LengthStyle) -> str:
    return with_unit(format_mark(length, style), style)


def _every_cut(matter: Matter) -> Iterator[Block]:
    yield Heading(text="At every cut")
    yield Points(lines=(DEFER, *cautions_for(matter.job.shop)))
    found = cautions_once(matter)
    if found:
        yield Heading(text="Cautions by letter", chapter=False)
        yield Paragraph(
            text="The cuts name these by their letters. Danger: something can kick, tip, fall,"
            " pinch or be thrown."
        )
        rows = tuple(
            (one.letter, "danger" if one.danger else "handling", one.do, one.reason)
            for one in found
        )
        headings = ("Letter", "Kind", "What to do", "Why")
        yield Table(name="Cautions by letter", headings=headings, rows=rows)


def _given(matter: Matter) -> Iterator[Block]:
    yield Heading(text="Taken as given")
    yield Points(lines=(*assumptions(matter), *ROUNDED))
    yield from lists.measured(matter)


def _drawings(matter: Matter, drawn: Mapping[str, Picture]) -> Iterator[Block]:
    if not matter.drawings:
        return
    yield Heading(text="Diagrams")
    yield Paragraph(
        text="Each is drawn to the scale that is said below it. The same at true size is in the"
        " folder beside this: printed at 100 % it is as large as the sheet. Sizes on drawings are"
        " rounded to the nearest, those of offcuts down."
    )
    for drawing in matter.drawings:
        yield Heading(text=f"Sheet {drawing.sheet}: {drawing.title}", chapter=False)
        if drawing.problem:
            yield Paragraph(text=f"This sheet cannot be cut: {drawing.problem}", bold=True)
        yield drawn[drawing.sheet]


def _cuts(matter: Matter) -> Iterator[Block]:
    if not matter.told:
        return
    yield Heading(text="How to read the cuts")
    found = [one for one in terms_of(matter) if one.name not in UNSAID]
    for number, term in enumerate(found, 1):
        yield Heading(text=term.name or TAGS, chapter=False)
        if term.said:
            yield Points(lines=term.said)
        if term.picture is not None:
            file = f"reading-{number}-{matter.style.unit}.svg"
            yield Picture(
                file=file,
                words=f"Drawing: {term.name or TAGS}",
                page=term_page(term.picture, f"{term.name or TAGS}, {matter.identity}"),
            )
    yield Heading(text="Cuts in order")
    telling = telling_of(matter)
    for panel in panels_of(matter.told):
        yield Cuts(words=words_of(panel, telling))
