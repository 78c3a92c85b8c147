"""What labels say and in which order; where they lie on their sheets."""

import argparse
import re
from collections import Counter
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from layout_app.cli.paper import add_paper, wish_of
from layout_app.document.replan_rest import plan_the_rest
from layout_app.paper import ink
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.label_sheet import LabelSheet
from layout_app.paper.pack.label_words import Label, Place, labels_of
from layout_app.paper.pack.labels import label_pages
from shared.building import Build, BuildStep, StepKind
from shared.drawing import draw_loose
from shared.job import MatchGroup
from shared.layout import LayoutSheet
from shared.lengths import INCH
from shared.parts import Bands
from shared.plan import CutKind, Placement
from tests.layout_app.paper import packs
from tests.layout_app.paper.matters import matter_of_plan
from tests.layout_app.small_job import begun_document, planned, small_job
from tests.properties.test_mistakes import plan_around

AFTER = re.compile(r"after cut (\d+)(?:\xa0· (?:piece|sheet) (\S+))?")


def freed(label: Label) -> tuple[int, str]:
    """Return the cut and the piece that a label names."""
    said = " ".join(label.lines).replace("after\xa0cut\xa0", "after cut ")
    found = AFTER.search(said.replace("piece\xa0", "piece ").replace("sheet\xa0", "sheet "))
    assert found is not None, label
    return int(found[1]), found[2] or ""


def words_of(page: ink.Page) -> str:
    """Return all words of a page."""
    return " ".join(words.text for words, _ in ink.words_on(page.items))


@pytest.mark.parametrize("seed", [0, 1, 5])
def test_labels_come_as_their_pieces_are_freed(seed: int) -> None:
    """By the plan's cuts alone: the cut named makes the piece, and none but finishing ones follow.

    Each part that is laid out has one label, and each offcut to keep.
    """
    matter = packs.matter(seed)
    labels = labels_of(matter)
    cuts = {cut.number: cut for cut in matter.plan.cuts}
    numbers = [freed(label)[0] for label in labels]
    assert numbers == sorted(numbers)
    for number, piece in map(freed, labels):
        if piece:
            assert piece in {cuts[number].off, cuts[number].piece}
            later = [one for one in matter.plan.cuts if one.piece == piece and one.number > number]
            assert all(one.kind is CutKind.FINISH for one in later)
    kept = Counter(one.called for one in matter.kept)
    names = Counter(label.name for label in labels)
    assert {name: names[name] for name in kept} == dict(kept)
    assert len(labels) == len(matter.plan.placements) + kept.total()


def matched() -> Matter:
    """Return the small job, its four sides a matched set of two rows."""
    job = small_job()
    parts = tuple(replace(one, group="A" if one.id == "side" else "") for one in job.parts)
    job = replace(job, parts=parts, groups=(MatchGroup(name="A", columns=2),))
    return matter_of_plan(job, planned(job))


def test_a_matched_part_says_its_place() -> None:
    """Row by row in the order of the copies, on the label and as a small grid; others have none."""
    labels = {label.count.replace("\xa0", " "): label for label in labels_of(matched())}
    last = labels["4 of 4"]
    assert "set A: row 2, column 2 of 2 × 2" in last.lines
    assert last.place == Place(1, 1, 2, 2)
    assert labels["3 of 4"].place == Place(1, 0, 2, 2)
    assert labels["1 of 3"].place is None


def test_next_stands_only_where_the_project_says_it() -> None:
    """A build step, else a band; an unmeasured opening first; never a guess."""
    job = small_job()
    plain = [line for label in labels_of(matter_of_plan(job, planned(job))) for line in label.lines]
    assert not [line for line in plain if "next" in line or "assemble" in line]
    side, shelf = job.parts
    side = replace(side, bands=Bands(top=INCH // 16, left=INCH // 16))
    job = replace(job, parts=(side, replace(shelf, fit_allowance=INCH)))
    plan = planned(job)
    assert nexts(matter_of_plan(job, plan)) == {
        "Side": "next: band top, left, 1/16 in",
        "Shelf": "next: measure the opening first",
    }
    step = BuildStep(kind=StepKind.GROOVE, text="1/4 deep", parts=("side",))
    made = nexts(matter_of_plan(job, plan, Build(steps=(step,))))
    assert made["Side"] == "next: groove"
    other = replace(step, kind=StepKind.OTHER, text="sand the face")
    made = nexts(matter_of_plan(job, plan, Build(steps=(other, step))))
    assert made["Side"] == "next: sand the face"


def nexts(matter: Matter) -> dict[str, str]:
    """Return what comes next by the name of the part."""
    labels = [label for label in labels_of(matter) if not label.name.startswith("offcut")]
    return {label.name: label.lines[-1].replace("\xa0", " ") for label in labels}


def test_both_sizes_stand_where_they_differ() -> None:
    """As it is sawn first; the finished one with its bands; a blank without one."""
    job = small_job()
    side, shelf = job.parts
    side = replace(side, bands=Bands(top=INCH // 8, bottom=INCH // 8))
    measured = {"measured_length": 29 * INCH, "measured_width": 9 * INCH}
    known = replace(shelf, id="tray", name="Tray", fit_allowance=INCH, **measured)
    job = replace(job, parts=(side, replace(shelf, fit_allowance=INCH), known))
    labels = {label.name: label.lines for label in labels_of(matter_of_plan(job, planned(job)))}
    said = {name: " ".join(" ".join(lines).split()) for name, lines in labels.items()}
    assert said["Side"].startswith("cut L 40 × W 11 3/4 in finished L 40 × W 12 in")
    assert said["Shelf"].startswith("blank L 31 × W 11 in after")
    assert said["Tray"].startswith("blank L 31 × W 11 in finished L 29 × W 9 in")
    assert re.search(r"next: finish at cut \d+ to L 29 × W 9 in$", said["Tray"])


def test_ticks_change_no_label_and_what_was_sawn_before_has_none(qtbot: QtBot) -> None:
    """The sheets of labels of one plan are equal whenever they are printed."""
    del qtbot
    doc = begun_document()
    ticked = matter_of_sawn(doc.sawn)
    assert ticked.made
    assert label_pages(ticked) == label_pages(replace(ticked, made=()))
    assert plan_the_rest(doc, {})
    plan_around(doc)
    rest = matter_of_sawn(doc.sawn)
    pages = label_pages(rest)
    assert "No label for 1 part sawn before this plan." in words_of(pages[0])
    sides = [label.count for label in labels_of(rest) if label.name == "Side"]
    assert len(sides) == 3


def loose_matter() -> Matter:
    """Return the small job with one more sheet that cannot be cut: two shelves lie on it."""
    job = small_job()
    size = {"length": 30 * INCH, "width": 10 * INCH}
    laid = tuple(
        Placement(part="shelf", copy=copy, sheet="9", x=0, y=copy * INCH, **size) for copy in (2, 3)
    )
    sheet = LayoutSheet(id="9", stock="full", placements=laid)
    drawn = draw_loose(job, sheet, problem="parts overlap.")
    return matter_of(job, planned(job), loose=(drawn,))


def test_parts_of_a_sheet_that_cannot_be_cut_have_no_label() -> None:
    """It is said below the labels, or where the margins are too narrow on a label of its own."""
    matter = loose_matter()
    said = "No label for 2 parts on sheet 9, which is not cut yet."
    page = words_of(label_pages(matter)[0])
    assert matter.banner in page
    assert said in page
    narrow = LabelSheet(columns=2, rows=7, left=8, top=6)
    labels = labels_of(matter)
    pages = label_pages(matter, narrow)
    assert said in words_of(pages[0])
    assert sum(words_of(page).count(matter.number) for page in pages) == len(labels)


def test_the_usual_sheet_takes_27_labels_of_a_size_that_is_sold() -> None:
    """63.5 by 29.6 mm on A4, so 45 parts and their offcuts take two sheets; no borders."""
    form = LabelSheet()
    assert form.size(Paper.A4) == pytest.approx((63.5, 29.6), abs=0.1)
    assert form.columns * form.rows == 27
    assert not plates(packs.matter(0), form)
    assert plates(packs.matter(0), LabelSheet(borders=True)) == len(labels_of(packs.matter(0)))


def plates(matter: Matter, form: LabelSheet) -> int:
    """Count the rectangles on all sheets."""
    return sum(
        isinstance(item, ink.Plate) for page in label_pages(matter, form) for item in page.items
    )


def test_head_and_foot_name_plan_day_and_page() -> None:
    """Counted on from the pages before; each label has the plan's number too."""
    matter = packs.matter(0)
    pages = label_pages(matter, before=7)
    for number, page in enumerate(pages, 8):
        assert f"page {number} of {7 + len(pages)}" in words_of(page)
        assert matter.identity in words_of(page)
    said = " ".join(map(words_of, pages))
    assert said.count(f"plan {matter.number}") == len(labels_of(matter)) + len(pages)


def test_the_command_line_divides_as_it_is_told() -> None:
    """Columns, rows, margins and gaps; borders only where they are asked for."""
    parser = argparse.ArgumentParser()
    add_paper(parser)
    assert wish_of(parser.parse_args([])).labels == LabelSheet()
    wish = wish_of(parser.parse_args(["--labels", "4x10,8,21.5,0,0", "--label-borders"]))
    form = {"columns": 4, "rows": 10, "left": 8, "top": 21.5, "between_columns": 0}
    assert wish.labels == LabelSheet(**form, borders=True)
