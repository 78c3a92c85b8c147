"""What is said while a part is held over a sheet that is begun comes true when it is let go."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.document import edit_job, edit_layout
from layout_app.document.document import Document
from layout_app.document.judging_many import explain_all, judge_all, judge_here
from layout_app.document.ticks import tick
from layout_app.model.feasibility import FITS
from shared.lengths import INCH, Length
from shared.plan import Placement
from shared.shop import Rail
from tests.examples import some_of
from tests.layout_app.small_job import KERF, document


@pytest.fixture
def doc() -> Document:
    """Return the planned document with its first rip made: 12 in off the reference edge."""
    made = document()
    tick(made, [1])
    return made


def lies(doc: Document, part: str, copy: int) -> Placement:
    """Return where a copy lies."""
    found = doc.layout.find((part, copy))
    assert found is not None
    return found


def let_go(doc: Document, to: Placement) -> bool:
    """Move a part as the hand does; say whether it lies there, and can be cut."""
    moved = edit_layout.move_part(doc, *to.key, to.sheet, to.x, to.y, to.turned)
    return moved and to.sheet not in doc.problems


def test_limits_of_the_shop_are_no_matter_on_a_begun_sheet(doc: Document) -> None:
    """A rip of 96 in was begun; the rails reach 50 in since: parts behind it may still move."""
    rail = Rail(length=60 * INCH)
    edit_job.edit_shop(doc, replace(doc.job.shop, rails=(rail,), overhang=10 * INCH))
    to = replace(lies(doc, "shelf", 3), x=62 * INCH)
    assert judge_all(doc, [to]).words == FITS
    assert explain_all(doc, [to]).words == FITS
    assert judge_here(doc, doc.layout.sheet("1")).good
    assert let_go(doc, to)


def test_a_cut_that_is_made_runs_through_what_is_held(doc: Document) -> None:
    """Nothing can lie there any more, and it is not laid there."""
    to = replace(lies(doc, "shelf", 3), x=62 * INCH, y=6 * INCH)
    others = [one for one in doc.layout.sheets[0].placements if one.y < 24 * INCH]
    for one in others:
        edit_layout.set_aside(doc, [one.key])
    verdict = judge_all(doc, [to])
    assert not verdict.good
    assert verdict.words == "cut 1 runs through it, and is made"
    assert verdict.troubled == {("shelf", 3)}
    assert not let_go(doc, to)


def test_what_is_sawn_off_would_be_sawn_again(doc: Document) -> None:
    """A side that lies apart already can be laid elsewhere, as if it were spoilt: that is said."""
    tick(doc, [2, 3])
    to = replace(lies(doc, "side", 1), y=36 * INCH)
    assert judge_all(doc, [to]).caution == ""
    tick(doc, [4])
    again = "Side 1 is sawn off already: it would be sawn once more"
    assert judge_all(doc, [to]).lines == explain_all(doc, [to]).lines == (FITS, again)
    other = replace(lies(doc, "side", 2), x=41 * INCH)
    assert judge_all(doc, [other]).caution == ""
    assert let_go(doc, to)


def test_a_made_cut_that_would_be_another_is_named_once_held_still(doc: Document) -> None:
    """Cut 5 sawed off a side to its length; with the side elsewhere it would saw off nothing."""
    said: list[str] = []
    doc.said.connect(said.append)
    tick(doc, range(2, 6))
    to = replace(lies(doc, "side", 2), x=0, y=34 * INCH + 3 * KERF)
    assert judge_all(doc, [to]).rough
    stays = "sheet 1 is begun: nothing will be moved"
    assert explain_all(doc, [to]).lines == ("would change cut 5, which is made", stays)
    assert not let_go(doc, to)
    assert said[-1].startswith("Cut 5 on sheet 1 is made, and this would change it")


def test_a_bad_place_is_refused_with_what_is_wrong_there(doc: Document) -> None:
    """On a sheet that is begun nothing may lie so that the rest cannot be cut."""
    said: list[str] = []
    doc.said.connect(said.append)
    to = replace(lies(doc, "shelf", 3), x=50 * INCH)
    stays = "sheet 1 is begun: nothing will be moved"
    assert judge_all(doc, [to]).lines == ("overlaps Shelf 2", stays)
    assert not let_go(doc, to)
    assert said[-1] == (
        "Cut 1 on sheet 1 is made, and the rest could not be cut: Shelf 3 overlaps"
        " Shelf 2 by 10 in."
        " So nothing was changed."
    )


LENGTHS = st.integers(min_value=0, max_value=8 * 96).map(lambda eighths: eighths * INCH // 8)


@settings(max_examples=some_of(100))
@given(
    ticked=st.integers(min_value=1, max_value=8),
    which=st.sampled_from([("side", 2), ("side", 4), ("shelf", 1), ("shelf", 3)]),
    x=LENGTHS | st.sampled_from([0, 40 * INCH + KERF]),
    y=LENGTHS | st.sampled_from([0, 12 * INCH + KERF, 24 * INCH + 2 * KERF, 34 * INCH + 3 * KERF]),
    turned=st.booleans(),
)
def test_what_is_said_in_full_comes_true(
    ticked: int, which: tuple[str, int], x: Length, y: Length, turned: bool
) -> None:
    """After any number of cuts, wherever a part is put: it lies there if, and only if, told so."""
    doc = document()
    tick(doc, range(1, ticked + 1))
    old = lies(doc, *which)
    sides = (old.width, old.length) if turned else (old.length, old.width)
    to = replace(old, x=x, y=y, turned=turned, length=sides[0], width=sides[1])
    quick, full = judge_all(doc, [to]), explain_all(doc, [to])
    if to == old:
        return
    fine = let_go(doc, to)
    assert (quick.good and full.good) is fine
    assert full.good <= quick.good
