"""The shop that is kept across projects: what becomes it, what begins with it, and its file."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from layout_app.document import edit_job
from layout_app.document.document import Document
from layout_app.document.kept_shop import KeptShop
from layout_app.model.project import Project
from layout_app.panels.kept_strip import BUT_FOR_ORDER, OTHER, SAME, KeptStrip
from layout_app.planner.process import PlannerProcess
from layout_app.store.errors import FileProblem
from layout_app.store.own_files import read_shop, save_shop, shop_path
from layout_app.store.project_file import save_project
from layout_app.window.main_window import MainWindow
from shared.job import Job
from shared.lengths import INCH, MM, Unit
from shared.practice import USUAL_SHOP_IN, usual, usual_table
from shared.shop import Hand, Rail, RunsOn, SawingOrder, Shop, Span, Support, TableSaw
from tests.shop_strategies import bases, gears, lengths

MINE = replace(usual(Unit.INCH), kerf=INCH // 8, table=usual_table(Unit.INCH))
THEIRS = Shop(kerf=3 * MM)


def window(qtbot: QtBot, path: Path | None) -> MainWindow:
    """Return a window whose shop is kept in a file; its planner is never started."""
    made = MainWindow(planner=PlannerProcess(), shop_file=path)
    qtbot.addWidget(made)
    return made


def close(made: MainWindow) -> None:
    """Close a window without being asked; what is being written is written then."""
    made.document.saved_state.note_saved(made.document.project, Path("not-written"))
    made.close()


@pytest.fixture
def opened(qtbot: QtBot) -> Iterator[MainWindow]:
    """Return a window that keeps its shop in memory, with a project that has another shop."""
    made = window(qtbot, None)
    made.projects.shop.recall(MINE)
    made.projects.show(Project(job=Job(name="Theirs", shop=THEIRS)), None)
    made.show()
    yield made
    close(made)


def test_a_file_named_at_the_start_is_opened_though_a_shop_is_kept(
    qtbot: QtBot, tmp_path: Path
) -> None:
    """The kept shop arrives while the file is being read; the project of the file is shown."""
    shop, file = tmp_path / "shop.json", tmp_path / "theirs.ripfirst.json"
    save_shop(shop, MINE)
    save_project(file, Project(job=Job(name="Theirs", shop=THEIRS)))
    made = window(qtbot, shop)
    made.projects.open(file)
    with qtbot.waitSignal(made.projects.files.opened):
        made.show()
    assert (made.document.saved_state.path, made.document.job.name) == (file, "Theirs")
    assert (made.document.job.shop, made.projects.shop.shop) == (THEIRS, MINE)
    close(made)


def test_the_first_project_begins_with_common_practice(qtbot: QtBot, tmp_path: Path) -> None:
    """Without a file the new project has the usual shop, and none is written yet."""
    path = tmp_path / "settings" / "shop.json"
    made = window(qtbot, path)
    close(made)
    assert made.document.job.shop == usual(Unit.INCH)
    assert not path.exists()


def test_a_changed_shop_is_kept_for_new_projects(qtbot: QtBot, tmp_path: Path) -> None:
    """It is written, the next window begins with it, and so does the next new project."""
    path = tmp_path / "settings" / "shop.json"
    made = window(qtbot, path)
    edit_job.edit_shop(made.document, MINE)
    close(made)
    assert read_shop(path) == MINE
    other = window(qtbot, path)
    qtbot.waitUntil(lambda: other.document.job.shop == MINE)
    assert not other.document.saved_state.modified
    other.projects.show(Project(job=Job(shop=THEIRS)), None)
    other.menus.actions["project.new"].trigger()
    assert other.document.job.shop == MINE
    close(other)


def test_a_project_keeps_its_own_shop(opened: MainWindow) -> None:
    """Opening it changes neither its shop nor the one that is kept."""
    assert opened.document.job.shop == THEIRS
    assert opened.projects.shop.shop == MINE
    edit_job.rename_job(opened.document, "Still theirs")
    assert opened.projects.shop.shop == MINE


def test_use_my_shop_is_one_step(opened: MainWindow) -> None:
    """The strip above the form offers it, and undo gives the project its own back."""
    strip = opened.left.shop.findChild(KeptStrip)
    assert strip is not None
    assert _says(strip) == OTHER
    assert not strip.use.isHidden()
    strip.use.click()
    assert opened.document.job.shop == MINE
    assert opened.document.undo_stack.undoText() == "use my shop"
    assert _says(strip) == SAME
    assert strip.use.isHidden()
    opened.document.undo_stack.undo()
    assert opened.document.job.shop == THEIRS
    assert opened.projects.shop.shop == MINE


def test_a_change_here_becomes_my_shop_and_undo_brings_mine_back(opened: MainWindow) -> None:
    """What is changed in another shop is kept; taken back, mine is mine again; redone, not."""
    changed = replace(THEIRS, overhang=300 * MM)
    edit_job.edit_shop(opened.document, changed)
    assert opened.projects.shop.shop == changed
    opened.document.undo_stack.undo()
    assert opened.projects.shop.shop == MINE
    opened.document.undo_stack.redo()
    assert opened.projects.shop.shop == changed


def test_this_shop_can_be_made_mine(opened: MainWindow) -> None:
    """Without a change in the project."""
    strip = opened.left.shop.findChild(KeptStrip)
    assert strip is not None
    strip.keep.click()
    assert opened.projects.shop.shop == THEIRS
    assert _says(strip) == SAME
    assert not opened.document.undo_stack.count()


def test_the_order_of_sawing_is_this_project_s_until_it_is_said_to_be_mine(
    opened: MainWindow,
) -> None:
    """Chosen for one job it is not what new projects begin with; the button makes it so."""
    doc, kept = opened.document, opened.projects.shop
    strip = opened.left.shop.findChild(KeptStrip)
    assert strip is not None
    strip.use.click()
    edit_job.edit_shop(doc, replace(MINE, sawing=SawingOrder.BY_SETUP))
    assert kept.shop == MINE
    assert _says(strip) == BUT_FOR_ORDER
    edit_job.edit_shop(doc, replace(doc.job.shop, overhang=300 * MM))
    assert kept.shop == replace(MINE, overhang=300 * MM)
    strip.keep.click()
    assert kept.shop == doc.job.shop
    assert kept.new_project().job.shop.sawing is SawingOrder.BY_SETUP
    assert _says(strip) == SAME


def test_the_order_kept_on_disk_makes_the_shop_of_a_project_no_other(qtbot: QtBot) -> None:
    """It comes while another project is at hand; nothing of that project's shop was changed."""
    del qtbot
    doc = Document(Project(job=Job(shop=THEIRS)))
    kept, mine = KeptShop(doc, doc), replace(MINE, sawing=SawingOrder.BY_SETUP)
    kept.recall(mine)
    edit_job.rename_job(doc, "Still theirs")
    assert kept.shop == mine
    edit_job.edit_shop(doc, replace(THEIRS, overhang=300 * MM))
    assert kept.shop == replace(THEIRS, overhang=300 * MM, sawing=SawingOrder.BY_SETUP)
    doc.undo_stack.clear()


def test_another_order_of_sawing_makes_no_other_shop_mine(opened: MainWindow) -> None:
    """A project with a shop of its own, sawn in another order, leaves mine as it is."""
    edit_job.edit_shop(opened.document, replace(THEIRS, sawing=SawingOrder.LEAST_WALKING))
    assert opened.projects.shop.shop == MINE
    edit_job.edit_shop(opened.document, replace(opened.document.job.shop, overhang=300 * MM))
    assert opened.projects.shop.shop == replace(THEIRS, overhang=300 * MM)
    opened.document.undo_stack.undo()
    assert opened.projects.shop.shop == MINE


def test_a_wrong_shop_is_never_kept(opened: MainWindow) -> None:
    """A guide that can be set to nothing stays in its project."""
    wrong = replace(THEIRS, guide=Span(least=2, most=1))
    edit_job.edit_shop(opened.document, wrong)
    strip = opened.left.shop.findChild(KeptStrip)
    assert strip is not None
    assert strip.keep.isHidden()
    assert opened.projects.shop.shop == MINE


def test_a_maker_who_was_quicker_than_the_disk_is_heard(qtbot: QtBot) -> None:
    """What was changed before the file was read is not written over by it."""
    doc = Document()
    kept = KeptShop(doc, doc)
    edit_job.edit_shop(doc, THEIRS)
    kept.recall(MINE)
    assert kept.shop == THEIRS
    doc.undo_stack.clear()


BROKEN = [
    ("nothing", "", "empty"),
    ("no JSON", "{", "cut off"),
    ("a list", "[]", "no ripfirst-shop file"),
    ("another file", '{"format": "ripfirst-project", "version": 1}', "format"),
    ("a newer one", '{"format": "ripfirst-shop", "version": 99}', "newer"),
    ("no shop", '{"format": "ripfirst-shop", "version": 1}', "shop"),
    ("no length", '{"format": "ripfirst-shop", "version": 1, "shop": {"kerf": "x"}}', "shop.kerf"),
    ("unknown", '{"format": "ripfirst-shop", "version": 1, "shop": {"saws": 3}}', "shop.saws"),
    (
        "a wrong figure",
        '{"format": "ripfirst-shop", "version": 1, "shop": {"loose": 0}}',
        "shop.loose",
    ),
    (
        "a year for a lift",
        '{"format": "ripfirst-shop", "version": 1, "shop": {"lift_s": 31536000}}',
        "shop.lift_s: seconds for a lift: 31,536,000 is more than an hour for one step",
    ),
]


@pytest.mark.parametrize(("text", "said"), [one[1:] for one in BROKEN], ids=[o[0] for o in BROKEN])
def test_a_broken_file_is_one_sentence_and_common_practice(
    qtbot: QtBot, tmp_path: Path, text: str, said: str
) -> None:
    """The window says path and reason, begins with common practice, and leaves the file."""
    path = tmp_path / "shop.json"
    path.write_text(text)
    with pytest.raises(FileProblem, match=r"\.$") as raised:
        read_shop(path)
    assert said in str(raised.value)
    made = window(qtbot, path)
    with qtbot.waitSignal(made.projects.files.failed) as failed:
        made.show()
    assert failed.args == [str(raised.value)]
    assert made.document.job.shop == usual(Unit.INCH)
    close(made)
    assert path.read_text() == text


def test_a_folder_that_cannot_be_written_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    """A file lies where the folder should be: one sentence, and the work goes on."""
    (tmp_path / "settings").write_text("in the way")
    made = window(qtbot, tmp_path / "settings" / "shop.json")
    with qtbot.waitSignal(made.projects.files.failed) as failed:
        edit_job.edit_shop(made.document, MINE)
    assert failed.args is not None
    assert "cannot be written" in failed.args[0]
    assert made.projects.shop.shop == MINE
    close(made)


def test_the_file_lies_with_the_settings_of_the_maker(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Qt says where; here that is no real home."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("HOME", str(tmp_path))
    assert tmp_path in shop_path().parents
    assert shop_path().name == "shop.json"


def test_a_file_written_by_hand_takes_lengths_as_text(tmp_path: Path) -> None:
    """Text with units is read exactly: 3.2 mm, 1400 mm, 10 in."""
    shop = {"kerf": "3.2 mm", "rails": [{"length": "1400 mm", "joined": 2}], "overhang": "10 in"}
    path = tmp_path / "shop.json"
    path.write_text(json.dumps({"format": "ripfirst-shop", "version": 1, "shop": shop}))
    read = read_shop(path)
    practice = USUAL_SHOP_IN
    assert read == Shop(
        kerf=32 * MM // 10,
        rails=(Rail(length=1400 * MM, joined=2, count=2),),
        overhang=10 * INCH,
        rail_width=practice.rail_width,
        stop=practice.stop,
        square=practice.square,
        turn_g=practice.turn_g,
        cut_s=practice.cut_s,
        metre_s=practice.metre_s,
        measure_s=practice.measure_s,
        rail_s=practice.rail_s,
        join_s=practice.join_s,
        lift_s=practice.lift_s,
        turn_s=practice.turn_s,
        heavy_s=practice.heavy_s,
    )


SPANS = st.tuples(lengths(), lengths()).map(lambda two: Span(least=min(two), most=max(two)))
SHOPS = st.builds(
    Shop,
    runs_on=st.just(RunsOn.RAIL),
    base=st.one_of(st.none(), bases(MM)),
    aside=st.one_of(st.none(), gears()),
    rail_width=lengths(),
    rail_side=st.sampled_from(Hand),
    splinter_guard=st.booleans(),
    stop=st.one_of(st.none(), SPANS),
    square=lengths(),
    support=st.sampled_from(Support),
    turn_g=st.integers(0, 200_000),
    tool=st.sampled_from(("track saw", "Säge “groß”")),
    kerf=lengths(1, 20 * MM),
    cut_s=st.integers(0, 600),
    rails=st.lists(
        st.builds(Rail, length=lengths(), joined=st.integers(1, 3), count=st.integers(3, 4)),
        max_size=3,
    ).map(tuple),
    overhang=lengths(),
    guide=st.one_of(st.none(), SPANS),
    carry=lengths(),
    table=st.one_of(
        st.none(),
        st.builds(
            TableSaw,
            kerf=lengths(1, 20 * MM),
            fence=SPANS,
            longest=lengths(),
            widest=lengths(),
            heaviest_g=st.integers(0, 50_000),
        ),
    ),
    lift_g=st.integers(0, 100_000),
    loose=st.integers(1, 40),
    sawing=st.sampled_from(SawingOrder),
)


@given(shop=SHOPS)
def test_what_is_kept_is_what_was_set(shop: Shop, tmp_path_factory: pytest.TempPathFactory) -> None:
    """A shop comes back from its file as it was."""
    path = tmp_path_factory.mktemp("kept") / "shop.json"
    save_shop(path, shop)
    assert read_shop(path) == shop


def _says(strip: KeptStrip) -> str:
    return strip.findChildren(QLabel)[0].text()
