"""The size of an offcut wherever it is told: never larger than it is, and by less than a step."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.bench.around import tell
from layout_app.model.pieces_on_hand import Thing, ThingKind
from layout_app.model.project import Project
from layout_app.model.words.lying_words import text_of, words_of
from layout_app.model.words.wording import summary
from layout_app.paper import ink
from layout_app.paper.matter import matter_of
from layout_app.paper.pack.book import Book, Paper
from layout_app.paper.pack.lists import put_offcuts
from layout_app.paper.published.as_markdown import markdown_of
from layout_app.paper.published.telling import document_of
from layout_app.paper.svg import document
from layout_app.paper.titled import drawing_page
from layout_app.planner.status_words import offcut_sentence
from shared.drawing import draw_sheet, draw_state
from shared.job import Job
from shared.lengths import Length, LengthStyle, Unit, parse_length, step
from shared.plan import Offcut, Plan
from tests import strategies
from tests.examples import some_of
from tests.shared.small_plan import PLAN

Teller = Callable[[Job, Plan, Offcut], str]
NUMBER = r"(\d[\d. /]*?)"
SIZE = re.compile(rf"L\s{NUMBER}\s×\sW\s{NUMBER}(?=[^\d. /]|\s*$|\s+[^\d/])", re.MULTILINE)
CELLS = re.compile(rf"\| {NUMBER} \| {NUMBER} \|")


def in_window(job: Job, plan: Plan, _: Offcut) -> str:
    """The status line."""
    return offcut_sentence(Project(job=job), plan)


def in_terminal(job: Job, plan: Plan, _: Offcut) -> str:
    """The summary of a run."""
    return next(line for line in summary(plan, job).splitlines() if "offcut:" in line)


def on_bench(job: Job, plan: Plan, offcut: Offcut) -> str:
    """The words written on a sheet, on bench, cards and diagrams."""
    drawing = draw_sheet(plan, offcut.sheet, job.style)
    return "\n".join(
        " ".join(one.lines) for one in drawing.labels if one.lines[0].startswith("offcut")
    )


def under_pointer(job: Job, plan: Plan, offcut: Offcut) -> str:
    """The line below the bench."""
    drawing = draw_sheet(plan, offcut.sheet, job.style)
    return tell(drawing, (offcut.x, offcut.y), (0, 0), job.style).rest


def in_pack(job: Job, plan: Plan, _: Offcut) -> str:
    """The list of offcuts of the pack."""
    book = Book(Paper.A4, "")
    book.turn("Lists")
    put_offcuts(book, matter_of(job, plan))
    return "\n".join(words.text for page in book.pages() for words, _ in ink.words_on(page.items))


def published(job: Job, plan: Plan, _: Offcut) -> str:
    """The table of offcuts of a published plan."""
    matter = replace(matter_of(job, plan), drawings=())
    table = markdown_of(document_of(matter, (), ())).split("## Offcuts to keep")[1]
    return "\n".join(f"L {a} × W {b}" for a, b in CELLS.findall(table))


def lying(job: Job, plan: Plan, offcut: Offcut) -> str:
    """What lies on the sawhorses, as a table and as text."""
    thing = Thing(name=offcut.piece, sheet="1", rect=offcut.rect, kind=ThingKind.OFFCUT)
    said = words_of(job, thing)
    assert said.length in text_of(job, [thing])
    return f"L {said.length} × W {said.width}"


TELLERS = (in_window, in_terminal, on_bench, under_pointer, in_pack, published, lying)


def fractions() -> st.SearchStrategy[str]:
    """Sizes as a rule is read: 64ths of an inch."""
    return st.integers(64, 64 * 60).map(
        lambda n: f"{n // 64} {n % 64}/64 in" if n % 64 else f"{n // 64} in"
    )


def decimals() -> st.SearchStrategy[str]:
    """Sizes as a calliper shows them: thousandths of an inch, hundredths of a millimetre."""
    return st.one_of(
        st.integers(1_000, 60_000).map(lambda n: f"{n / 1000:.3f} in"),
        st.integers(2_500, 150_000).map(lambda n: f"{n / 100:.2f} mm"),
    )


WHOLE_MM = LengthStyle(unit=Unit.MM, decimals=0)
SIDES = st.one_of(
    st.one_of(fractions(), decimals()).map(lambda text: parse_length(text, Unit.MM)),
    st.integers(1_000_000, 60_000_000),
)


def told(teller: Teller, size: tuple[Length, Length], style: LengthStyle) -> tuple[str, ...]:
    """Return the two sides of the only offcut worth keeping, as that place writes them."""
    last = PLAN.offcuts[-1]
    offcut = replace(last, piece="9z", length=size[0], width=size[1])
    falls = tuple(replace(one, keep=False) for one in PLAN.offcuts)
    found = SIZE.findall(teller(Job(style=style), replace(PLAN, offcuts=(*falls, offcut)), offcut))
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize("teller", TELLERS, ids=lambda one: one.__name__)
@settings(max_examples=some_of(60))
@given(size=st.tuples(SIDES, SIDES), style=strategies.styles())
def test_no_offcut_is_promised_larger_than_it_is(
    teller: Teller, size: tuple[Length, Length], style: LengthStyle
) -> None:
    """Read back, each side is at most the exact one, and less than a step of the style below it."""
    for text, ticks in zip(told(teller, size, style), size, strict=True):
        assert 0 <= ticks - parse_length(text, style.unit) < step(style), (text, ticks)


def test_a_fall_is_rounded_down_before_its_cut_too() -> None:
    """In whole mm 20 by 2-1/2 in are 508 by 63, not by 64, while cut 3 leaves them over."""
    drawing = draw_state(PLAN, "1", WHOLE_MM, 3)
    assert dict(one.lines for one in drawing.labels)["left: 1"] == "L 508 × W 63"


def test_a_diagram_writes_it_too() -> None:
    """The same of the drawing of the whole sheet."""
    sheet = draw_sheet(PLAN, "1", WHOLE_MM)
    drawn = document(drawing_page(sheet, WHOLE_MM, Job(style=WHOLE_MM)))
    assert "L 508 × W 63" in " ".join(re.sub("<[^>]*>", " ", drawn).split())
