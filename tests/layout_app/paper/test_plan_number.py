"""The number of a plan and the day: the same wherever a plan is met, another for another plan."""

import os
import re
import subprocess
import sys
from collections.abc import Callable
from csv import DictReader
from dataclasses import replace
from datetime import date
from io import StringIO
from pathlib import Path

import pytest

from layout_app.cli.main import main
from layout_app.cli.order import in_order
from layout_app.document.document import Document
from layout_app.document.edit_job import edit_shop, edit_style
from layout_app.document.edit_parts import edit_part
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.model.sawing import saw
from layout_app.paper.day import GIVEN, day_of_pages, day_words
from layout_app.paper.dxf import sheet_dxf
from layout_app.paper.exporting import made_files
from layout_app.paper.ink import words_on
from layout_app.paper.on_paper import matter_of_sawn
from layout_app.paper.pack.labels import label_pages
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.tables import cuts_csv, parts_csv, shopping_csv
from layout_app.paper.wish import ExportWish
from layout_app.store.plan_file import read_plan, save_plan
from layout_app.store.project_file import read_project, save_project
from shared.lengths import INCH, LengthStyle, Unit
from shared.plan import Plan
from shared.plan_number import DIGITS, plan_number
from shared.shop import Rail, Shop
from solver.run import Stop
from tests.layout_app.small_job import document
from tests.properties.test_mistakes import plan_around
from tests.shared.small_plan import PLAN

FRESH = """
from shared.plan_number import plan_number
from tests.shared.small_plan import PLAN
print(plan_number(PLAN, PLAN.shop))
"""


@pytest.fixture
def doc(qapp) -> Document:
    """Return the small job with its first plan."""
    return document()


def number(doc: Document) -> str:
    """Return the number of the plan that a document shows, as the window says it."""
    assert doc.plan is not None
    return plan_number(doc.plan, doc.job.shop)


def small_number(plan: Plan = PLAN) -> str:
    """Return the number of the small plan, or of another of its shop."""
    assert PLAN.shop is not None
    return plan_number(plan, PLAN.shop)


def test_a_number_is_short_and_none_of_its_letters_is_misread() -> None:
    """Five digits of base 32 (Crockford), which knows no I, L, O and U; a hyphen to be read by."""
    assert re.fullmatch(rf"[{DIGITS}]{{2}}-[{DIGITS}]{{3}}", small_number())
    assert not set("ILOU") & set(DIGITS)
    assert len(set(DIGITS)) == 32
    assert small_number(Plan()) == ""


@pytest.mark.parametrize("seed", ["0", "77"])
def test_every_process_gives_the_same_number(seed: str) -> None:
    """The order of sets, which differs from process to process, has no say in it."""
    surroundings = {**os.environ, "PYTHONHASHSEED": seed}
    done = subprocess.run(
        [sys.executable, "-c", FRESH], capture_output=True, text=True, env=surroundings, check=True
    )
    assert done.stdout.strip() == small_number()


def test_a_number_that_was_printed_stays(tmp_path: Path) -> None:
    """A page may hang on the wall for months: a new version has to give its plan that number."""
    assert small_number() == "37-ZV6"
    save_plan(tmp_path / "plan.json", PLAN)
    assert small_number(read_plan(tmp_path / "plan.json")) == "37-ZV6"


def test_what_pages_do_not_depend_on_changes_no_number(doc: Document, tmp_path: Path) -> None:
    """Ticks, units, paces, the title, and that it was saved and opened again."""
    first = number(doc)
    tick(doc, [1, 2])
    assert number(doc) == first
    edit_style(doc, LengthStyle(unit=Unit.MM))
    assert number(doc) == first == matter_of_sawn(doc.sawn, Unit.INCH).number
    edit_shop(doc, replace(doc.job.shop, cut_s=95, turn_s=7))
    assert number(doc) == first
    path = tmp_path / "saved.ripfirst.json"
    save_project(path, replace(doc.project, job=replace(doc.job, name="Another title")))
    opened = saw(read_project(path))
    assert matter_of_sawn(opened).number == first


OTHERS: dict[str, Callable[[Shop], Shop]] = {
    "kerf": lambda shop: replace(shop, kerf=shop.kerf + INCH // 64),
    "rails": lambda shop: replace(shop, rails=(Rail(length=110 * INCH),)),
    "saw": lambda shop: replace(shop, tool="panel saw"),
    "square": lambda shop: replace(shop, square=24 * INCH),
}


@pytest.mark.parametrize("what", OTHERS)
def test_another_shop_is_another_number(doc: Document, what: str) -> None:
    """Pages name what is set, with which saw and rail; taken back, the first number is back."""
    first = number(doc)
    edit_shop(doc, OTHERS[what](doc.job.shop))
    sawn = saw(doc.project)
    assert sawn.plan is not None
    assert plan_number(sawn.plan, doc.job.shop) != first
    doc.undo()
    assert number(doc) == first


def test_another_name_or_size_of_a_part_is_another_number(doc: Document) -> None:
    """A page that calls a piece otherwise is of another plan, however alike the cuts are."""
    first = number(doc)
    edit_part(doc, replace(doc.job.part("side"), name="Left side"))
    assert number(doc) != first
    doc.undo()
    assert number(doc) == first
    assert doc.plan is not None
    moved = replace(doc.plan, placements=doc.plan.placements[1:])
    assert plan_number(moved, doc.job.shop) != first


def test_a_plan_for_the_rest_has_its_own_number(doc: Document) -> None:
    """It follows one that was sawn in part; its ticks change nothing, taking it back does."""
    first = number(doc)
    tick(doc, [1, 2, 4])
    assert number(doc) == first
    assert plan_the_rest(doc, {})
    plan_around(doc)
    second = number(doc)
    assert second != first
    assert doc.plan is not None
    tick(doc, [doc.plan.cuts[0].number])
    assert number(doc) == second == matter_of_sawn(doc.sawn).number


def test_the_command_line_says_the_number_that_its_pages_carry(
    doc: Document, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """``plan`` names it, ``check`` of the file it wrote, its drawing, and the window with it."""
    path, out = tmp_path / "some.ripfirst.json", tmp_path / "out"
    doc.adopt_order(in_order(doc.sawn, Stop()))
    save_project(path, doc.project)
    words = ["plan", str(path), "--out", str(out), "--time-limit", "0", "--workers", "1"]
    assert main([*words, "--format", "json,svg"]) == 0
    assert f"\nPlan number {number(doc)}\n" in capsys.readouterr().out
    assert main(["check", str(out / "plan.json")]) == 0
    assert f"Plan number {number(doc)}, as on its pages." in capsys.readouterr().out
    assert f"plan {number(doc)} ·" in (out / "sheet-1.svg").read_text(encoding="utf-8")


def test_plan_and_day_stand_on_every_page_drawing_and_row(doc: Document) -> None:
    """The same words everywhere, so that what is held beside the screen can be compared."""
    matter = replace(matter_of_sawn(doc.sawn), day=date(2026, 3, 4))
    told = f"plan {number(doc)} · 4 Mar 2026"
    assert matter.identity == told
    for page in pack_pages(matter):
        assert told in " ".join(one.text for one, _ in words_on(page.items)), page.title
    for fitted in (False, True):
        for name, data in made_files(matter, ("svg",), ExportWish(fitted=fitted)):
            assert told in data.decode(), name
    assert told in sheet_dxf(matter.drawings[0], matter)
    for make in (parts_csv, cuts_csv, shopping_csv):
        rows = list(DictReader(StringIO(make(matter), newline="")))
        assert {row["Plan"] for row in rows} == {told}


def test_labels_alone_count_their_own_pages(doc: Document) -> None:
    """In the pack they go on behind its other pages."""
    matter = matter_of_sawn(doc.sawn)
    pack, alone = pack_pages(matter), label_pages(matter)
    before = len(pack) - len(alone)
    for number, (page, in_pack) in enumerate(zip(alone, pack[before:], strict=True), 1):
        for one, place, total in (
            (page, number, len(alone)),
            (in_pack, before + number, len(pack)),
        ):
            said = " ".join(words.text for words, _ in words_on(one.items))
            assert re.findall(r"page (\d+) of (\d+)", said) == [(str(place), str(total))]


def test_equal_plans_of_one_day_give_equal_pages(doc: Document) -> None:
    """On another day only the day is another."""
    matter = replace(matter_of_sawn(doc.sawn), day=date(2026, 3, 4))
    assert pack_pages(matter) == pack_pages(replace(matter))
    assert matter.identity != replace(matter, day=date(2026, 3, 5)).identity


def test_a_day_is_written_in_english_whatever_the_place() -> None:
    """Months are words, so that no reader takes the month for the day."""
    days = [day_words(date(2026, month, 1)).split() for month in range(1, 13)]
    assert [int(day) for day, _, _ in days] == [1] * 12
    assert [month for _, month, _ in days] == [
        *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
        *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
    ]


def test_the_day_of_a_run_that_is_repeated_is_given(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Seconds since 1970 in UTC (specification of SOURCE_DATE_EPOCH, reproducible-builds.org)."""
    monkeypatch.setenv(GIVEN, "1709251199")  # 2024-02-29T23:59:59Z, by hand: 19782 days and 86399 s
    assert day_of_pages() == date(2024, 2, 29)
    monkeypatch.delenv(GIVEN)
    assert day_of_pages() == date.today()
    for wrong in ("soon", "-1", "1.5", "9" * 30, "１２"):
        monkeypatch.setenv(GIVEN, wrong)
        with pytest.raises(ValueError, match=GIVEN):
            day_of_pages()
    assert main(["check", "plan.json"]) == 2
    assert GIVEN in capsys.readouterr().err
