"""What the window keeps of itself: its file, its colours, its shape, and recent projects."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, QObject, QRect, QStandardPaths
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from layout_app.look.style_sheet import dress
from layout_app.look.theme import Theme
from layout_app.look.window_settings import RECENT, Shape, WindowSettings, Wish
from layout_app.look.wished_theme import theme_of, wish_of
from layout_app.model.project import Project
from layout_app.planner.process import PlannerProcess
from layout_app.store.own_files import read_settings, save_settings, settings_path, shop_path
from layout_app.store.project_file import save_project
from layout_app.window.actions.project import recent_text
from layout_app.window.main_window import MainWindow
from layout_app.window.settings import on_a_screen, shape_of
from shared.job import Job
from tests.layout_app.turns import take_turns

ROWS = [f"project.recent_{place}" for place in range(1, RECENT + 1)]


@pytest.fixture(autouse=True)
def dressed(qapp: QApplication) -> Iterator[None]:
    """Dress the program as it is when it starts, and give it back the look it had."""
    sheet, palette = qapp.styleSheet(), qapp.palette()
    dress(qapp, Theme.light())
    yield
    qapp.setPalette(palette)
    qapp.setStyleSheet(sheet)


def made(qtbot: QtBot, path: Path | None) -> MainWindow:
    """Return a window that keeps its settings in a file; its planner is never started."""
    window = MainWindow(planner=PlannerProcess(), settings_file=path)
    qtbot.addWidget(window)
    if path is not None:
        with qtbot.waitSignal(window.keeping.ready):
            window.keeping.recall()
    window.show()
    return window


def close(window: MainWindow) -> None:
    """Close a window; what is being written is written then."""
    window.document.saved_state.note_saved(window.document.project, Path("not-written"))
    window.close()


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    """Return a window with a file of settings that is not there yet."""
    one = made(qtbot, tmp_path / "settings" / "window.json")
    yield one
    close(one)


shapes = st.builds(
    Shape,
    x=st.integers(-5000, 5000),
    y=st.integers(-5000, 5000),
    length=st.integers(1, 9000),
    height=st.integers(1, 9000),
    maximised=st.booleans(),
    across=st.lists(st.integers(0, 9000), max_size=3).map(tuple),
    down=st.lists(st.integers(0, 9000), max_size=3).map(tuple),
)
settings = st.builds(
    WindowSettings,
    colours=st.sampled_from(Wish),
    shape=st.none() | shapes,
    recent=st.lists(st.text(st.characters(codec="utf-8"), max_size=20), max_size=10).map(tuple),
    folder=st.text(st.characters(codec="utf-8"), max_size=20),
)


@given(settings)
def test_settings_come_back_as_they_were(
    tmp_path_factory: pytest.TempPathFactory, kept: WindowSettings
) -> None:
    """Whatever is written is read again, to the last field."""
    path = tmp_path_factory.getbasetemp() / "window.json"
    save_settings(path, kept)
    assert read_settings(path) == (kept, None)


def test_settings_lie_beside_the_shop() -> None:
    """Both are in the maker's own folder of settings."""
    assert settings_path().parent == shop_path().parent
    assert settings_path().name == "window.json"


def test_without_a_file_nothing_is_kept(tmp_path: Path) -> None:
    """Nothing was kept before the first time."""
    assert read_settings(tmp_path / "window.json") == (None, None)


def test_a_broken_file_is_said_and_the_window_is_ready(qtbot: QtBot, tmp_path: Path) -> None:
    """It says path, place and reason; the window begins as new and is shown all the same."""
    path = tmp_path / "window.json"
    path.write_text(json.dumps({"format": "ripfirst-window", "version": 1, "window": {"hue": 3}}))
    window = made(qtbot, path)
    assert window.keeping.settings == WindowSettings()
    assert "window.hue" in window.bar.sentence
    close(window)


SHAPE = {"x": 10, "y": 20, "length": 900, "height": 700}


@pytest.mark.parametrize(
    "shape",
    [
        SHAPE | {"x": 2**40},
        SHAPE | {"length": 2**31},
        SHAPE | {"length": -5},
        SHAPE | {"across": [300, 2**33]},
        SHAPE | {"down": [-1, 5, 5]},
        SHAPE | {"x": "left"},
        SHAPE | {"maximised": 1},
        {},
        [],
        7,
    ],
    ids=str,
)
def test_no_number_keeps_the_window_from_opening(
    qtbot: QtBot, tmp_path: Path, shape: object
) -> None:
    """A shape no desktop has room for is dropped, and said; the other fields are as they were."""
    path = tmp_path / "window.json"
    fields = {"shape": shape, "colours": "dark", "recent": ["/a/b.json", "\0", "\ud800"]}
    path.write_text(json.dumps({"format": "ripfirst-window", "version": 1, "window": fields}))
    settings, problem = read_settings(path)
    assert settings is not None
    assert (settings.shape, settings.colours) == (None, Wish.DARK)
    assert settings.recent == ("/a/b.json", "\0", "\ufffd")
    assert problem is not None
    assert problem.place.startswith("window.shape")
    window = made(qtbot, path)
    assert window.isVisible()
    assert "window.shape" in window.bar.sentence
    with qtbot.waitSignal(window.projects.files.looked):
        window.keeping.look_for_recent()
    close(window)


def test_two_names_of_one_file_are_one_recent_project(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """Of links of either kind the one opened last stays."""
    paths = [tmp_path / name for name in ("desk.json", "hard.json", "soft.json")]
    save_project(paths[0], Project())
    paths[1].hardlink_to(paths[0])
    paths[2].symlink_to(paths[0])
    for path in paths:
        window.keeping.opened(path)
    with qtbot.waitSignal(window.projects.files.looked):
        window.keeping.look_for_recent()
    assert window.keeping.settings.recent == (str(paths[2]),)


def test_dialogs_begin_in_documents_and_then_where_the_last_project_lay(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Open, save and write all ask there; a folder that has gone is not asked about."""
    begun: list[str] = []

    def asked(_parent: MainWindow, _title: str, path: str, *_filter: str) -> tuple[str, str]:
        begun.append(path)
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", asked)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", asked)
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *a: asked(*a)[0])
    documents, shop = tmp_path / "Documents", tmp_path / "shop"
    monkeypatch.setattr(QStandardPaths, "standardLocations", lambda _: [str(documents)])
    for folder in (documents, shop):
        folder.mkdir()

    def ask() -> list[str]:
        begun.clear()
        window.projects.save()
        window.projects.choose_and_open()
        window.paper_work.write()
        return list(begun)

    name = "project.ripfirst.json"
    assert ask() == [str(documents / name), str(documents), str(documents)]
    window.keeping.opened(shop / "desk.json")
    assert ask() == [str(shop / name), str(shop), str(shop)]
    shop.rmdir()
    assert ask() == [str(documents / name), str(documents), str(documents)]


@pytest.mark.parametrize("wish", [wish for wish in Wish if wish is not Wish.SYSTEM])
def test_every_theme_can_be_wished_for(wish: Wish) -> None:
    """Each choice but the system's names one theme, and that theme names the choice."""
    assert wish_of(theme_of(wish)) is wish


def test_chosen_colours_are_there_next_time(window: MainWindow, qtbot: QtBot) -> None:
    """High contrast chosen in the menu is shown at once, ticked, and shown by the next window."""
    window.menus.actions["bench.colours_high_dark"].trigger()
    assert window.keeping.theme == Theme.high_contrast(dark=True)
    assert window.bench.bench.theme == window.keeping.theme
    colours = {k: a for k, a in window.menus.actions.items() if k.startswith("bench.colours_")}
    assert {name for name, one in colours.items() if one.isChecked()} == {"bench.colours_high_dark"}
    close(window)
    other = made(qtbot, window.keeping._path)
    assert other.keeping.theme == Theme.high_contrast(dark=True)
    close(other)


def test_lamplight_keeps_high_contrast(window: MainWindow) -> None:
    """The key changes light to dark and back with as much contrast as there was."""
    window.menus.actions["bench.colours_high_light"].trigger()
    window.menus.actions["bench.lamplight"].trigger()
    assert window.keeping.theme == Theme.high_contrast(dark=True)
    window.menus.actions["bench.lamplight"].trigger()
    assert window.keeping.theme == Theme.high_contrast(dark=False)


def test_the_window_stands_as_it_did(window: MainWindow, qtbot: QtBot) -> None:
    """Size and what divides the window are those it was closed with."""
    window.setGeometry(20, 30, 790, 560)
    window.findChild(object, "across").setSizes([400, 390])
    take_turns()
    before = shape_of(window)
    close(window)
    other = made(qtbot, window.keeping._path)
    take_turns()
    assert shape_of(other).across == before.across
    assert (shape_of(other).length, shape_of(other).height) == (790, 560)
    close(other)


@given(st.builds(QRect, *[st.integers(-9000, 9000)] * 2, *[st.integers(1, 9000)] * 2))
def test_a_window_is_never_put_where_it_cannot_be_seen(qapp: object, stands: QRect) -> None:
    """Whatever screens there were, enough of it and its title are on one that is there now."""
    placed = on_a_screen(stands)
    rooms = [screen.availableGeometry() for screen in QGuiApplication.screens()]
    seen = [room.intersected(placed) for room in rooms if placed.top() >= room.top()]
    least = [min(100, stands.width()), min(100, stands.height())]
    assert any(one.width() >= least[0] and one.height() >= least[1] for one in seen)


def test_a_window_of_a_larger_screen_is_not_cut_off(qapp: object) -> None:
    """It was as large as a screen that is gone: now all of it is on the one there is."""
    [room] = [screen.availableGeometry() for screen in QGuiApplication.screens()]
    for larger in (room.adjusted(0, 0, 1, 0), room.adjusted(100, 100, 100, 400)):
        placed = on_a_screen(larger)
        assert room.contains(placed)
        assert placed.width() >= room.width() - 8
        assert placed.height() >= room.height() - 40
    small = room.adjusted(100, 100, -100, -100)
    assert on_a_screen(small) == small


def test_recent_projects_are_named_and_open_again(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """The one opened last stands first; choosing the other opens it."""
    paths = [tmp_path / f"{name}.ripfirst.json" for name in ("desk", "shelf")]
    for path in paths:
        save_project(path, Project(job=Job(name=path.name)))
        with qtbot.waitSignal(window.projects.files.opened):
            window.projects.open(path)
    shown = [window.menus.actions[row] for row in ROWS if window.menus.actions[row].isVisible()]
    assert [one.text().split(",")[0] for one in shown] == [
        "&1  shelf.ripfirst.json",
        "&2  desk.ripfirst.json",
    ]
    with qtbot.waitSignal(window.projects.files.opened):
        shown[1].trigger()
    assert window.document.saved_state.path == paths[0]
    assert window.keeping.settings.recent == (str(paths[0]), str(paths[1]))


def test_a_missing_project_is_named_as_such(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    """It stays in the list with the word, and can't be chosen; forgetting empties the list."""
    path = tmp_path / "desk.ripfirst.json"
    save_project(path, Project(job=Job(name="desk")))
    with qtbot.waitSignal(window.projects.files.opened):
        window.projects.open(path)
    path.unlink()
    with qtbot.waitSignal(window.projects.files.looked):
        window.keeping.look_for_recent()
    first = window.menus.actions[ROWS[0]]
    assert first.text().endswith(": missing")
    assert not first.isEnabled()
    window.menus.actions["project.forget_recent"].trigger()
    assert not first.isVisible()
    assert window.keeping.settings.recent == ()


def test_only_ten_projects_are_remembered() -> None:
    """The eleventh pushes the first out; one opened again is not named twice."""
    kept = WindowSettings()
    for name in "abcdefghijk":
        kept = kept.with_opened(name)
    assert kept.recent == tuple("kjihgfedcb")
    assert kept.with_opened("c").recent == tuple("ckjihgfedb")


def test_an_ampersand_in_a_name_is_no_key() -> None:
    """A menu takes a single & for a key, so one in a name is doubled."""
    words = recent_text(9, Path("/shop/nut & bolt.json"), missing=True)
    assert words == "&0  nut && bolt.json, in /shop: missing"


def test_without_a_file_of_settings_nothing_is_written(qtbot: QtBot, tmp_path: Path) -> None:
    """A window that was given no file keeps all in memory."""
    window = made(qtbot, None)
    window.menus.actions["bench.colours_dark"].trigger()
    assert window.keeping.theme == Theme.dark()
    close(window)
    assert not list(tmp_path.iterdir())


def test_changing_the_look_leaves_nothing_behind(qtbot: QtBot, qapp: QApplication) -> None:
    """After as many themes as one likes the window has as many objects as before."""
    window = made(qtbot, None)

    def count() -> int:
        qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        return len(window.findChildren(QObject))

    looks = (Theme.dark(), Theme.light())
    for look in looks:
        window.keeping.show_in(look)
    before = count()
    for look in (*looks, *looks):
        window.keeping.show_in(look)
    assert count() == before
    close(window)


def test_a_new_window_is_no_larger_than_its_screen(window: MainWindow) -> None:
    """With nothing kept it fits the screen with its frame, if only it may be so small."""
    room = window.screen().availableGeometry()
    least = window.minimumSize()
    assert window.width() <= max(room.width(), least.width())
    assert window.height() < max(room.height(), least.height() + 1)
