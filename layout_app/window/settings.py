"""What the window keeps of itself from one time to the next."""

from collections.abc import Callable
from dataclasses import replace
from functools import reduce
from pathlib import Path

from PySide6.QtCore import QDir, QFileInfo, QObject, QRect, QSize, QStandardPaths, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QSplitter, QWidget

from layout_app.look.theme import Theme
from layout_app.look.window_settings import ACROSS, DOWN, Shape, WindowSettings, Wish
from layout_app.look.wished_theme import theme_of, wish_of
from layout_app.window.files import Files, Looked

LEAST_SEEN = 100
"""A window of which less is on a screen, in pixels, is put on one again."""
FRAME = (8, 40)
"""Pixels left for the frame and the title when a window is shown for the first time."""


class KeptWindow(QObject):
    """Holds the window's settings; with a file it reads and writes them there.

    What the maker did before the file was read stands, and is written once it is.
    """

    changed = Signal()
    """Recent projects, what of them is missing, the colours or the map wished are others."""
    recoloured = Signal(object)
    """The `Theme` that is shown from now on."""
    ready = Signal()
    """What was kept is here, or nothing was: the window can be shown."""

    def __init__(self, window: QWidget, files: Files, path: Path | None, theme: Theme) -> None:
        super().__init__(window)
        self._window, self._files, self._path = window, files, path
        self.theme = theme
        self.settings = WindowSettings()
        self.missing: frozenset[str] = frozenset()
        self._touched = self._waiting = False
        hints = QGuiApplication.styleHints()
        hints.colorSchemeChanged.connect(self._follow_system)
        files.settings_recalled.connect(self._take)
        files.looked.connect(self._take_looked)

    @property
    def folder(self) -> Path:
        """Where files are looked for first: where the last project lay, else documents."""
        return self._folder(lambda place: place.isDir())

    @property
    def folder_to_save_in(self) -> Path:
        """The first of these places that can be written in."""
        return self._folder(lambda place: place.isDir() and place.isWritable())

    def _folder(self, suits: Callable[[QFileInfo], bool]) -> Path:
        places = QStandardPaths.standardLocations(QStandardPaths.StandardLocation.DocumentsLocation)
        found = (place for place in (self.settings.folder, *places) if place)
        return Path(next((p for p in found if suits(QFileInfo(p))), QDir.homePath()))

    def recall(self) -> None:
        """Ask for what was kept; `ready` tells when it is here."""
        if self._path is not None:
            self._waiting = True
            self._files.recall_settings(self._path)

    def opened(self, path: Path | None) -> None:
        """Put a project that was opened or saved in front of the recent ones."""
        if path is not None:
            name = str(path.absolute())
            self.missing -= {name}
            self._change(self.settings.with_opened(name))

    def forget_recent(self) -> None:
        """Forget the recent projects."""
        self._change(replace(self.settings, recent=()))

    def look_for_recent(self) -> None:
        """Ask which recent projects are still there."""
        if self.settings.recent:
            self._files.look_for(self.settings.recent)

    def wish(self, wish: Wish) -> None:
        """Show other colours from now on."""
        self._change(replace(self.settings, colours=wish))
        self.show_in(theme_of(wish))

    def switch_light(self) -> None:
        """Change between light and dark, with as much contrast as before."""
        self.wish(wish_of(Theme.of(dark=not self.theme.is_dark, high=self.theme.is_high)))

    def switch_overview(self) -> None:
        """Show a map of all sheets beside a bench looked at from near, or none any more."""
        self._change(replace(self.settings, overview=not self.settings.overview))

    def show_in(self, theme: Theme) -> None:
        """Show everything in other colours, until others are wished."""
        self.theme = theme
        self.recoloured.emit(theme)

    def keep_shape(self) -> None:
        """Keep where the window stands, when it closes."""
        shape = shape_of(self._window)
        if shape != self.settings.shape:
            self._change(replace(self.settings, shape=shape))

    def _change(self, settings: WindowSettings) -> None:
        self._touched = True
        self.settings = settings
        self._write()
        self.changed.emit()

    def _write(self) -> None:
        if self._path is not None and not self._waiting:
            self._files.keep_settings(self.settings, self._path)

    def _take(self, settings: WindowSettings | None) -> None:
        self._waiting = False
        if settings is not None:
            self.settings = self._joined(settings)
            self.show_in(theme_of(self.settings.colours))
            self.changed.emit()
        if settings is not None and settings.shape is not None:
            give_shape(self._window, settings.shape)
        else:
            self._window.resize(first_size(self._window))
        if self._touched:
            self._write()
        self.ready.emit()

    def _joined(self, kept: WindowSettings) -> WindowSettings:
        """Return what was kept with what the maker has done since."""
        mine = self.settings
        for path in reversed(mine.recent):
            kept = kept.with_opened(path)
        kept = replace(kept, overview=kept.overview and mine.overview)
        return kept if mine.colours is Wish.SYSTEM else replace(kept, colours=mine.colours)

    def _take_looked(self, looked: Looked) -> None:
        self.missing = looked.missing
        recent = tuple(one for one in self.settings.recent if one not in looked.doubles)
        if recent == self.settings.recent:
            self.changed.emit()
        else:
            self._change(replace(self.settings, recent=recent))

    def _follow_system(self) -> None:
        if self.settings.colours is Wish.SYSTEM and self._path is not None:
            self.show_in(theme_of(Wish.SYSTEM))


def shape_of(window: QWidget) -> Shape:
    """Return where a window stands; of a maximised one, where it would otherwise."""
    stands = window.normalGeometry() if window.isMaximized() else window.geometry()
    return Shape(
        x=stands.x(),
        y=stands.y(),
        length=stands.width(),
        height=stands.height(),
        maximised=window.isMaximized(),
        across=tuple(_splitter(window, ACROSS).sizes()),
        down=tuple(_splitter(window, DOWN).sizes()),
    )


def give_shape(window: QWidget, shape: Shape) -> None:
    """Let a window stand as it did, or on a screen that is there now."""
    window.setGeometry(on_a_screen(QRect(shape.x, shape.y, shape.length, shape.height)))
    for name, sizes in ((ACROSS, shape.across), (DOWN, shape.down)):
        splitter = _splitter(window, name)
        if len(sizes) == splitter.count():
            now = splitter.sizes()
            splitter.setSizes([size or now[place] for place, size in enumerate(sizes)])
    if shape.maximised:
        window.setWindowState(window.windowState() | Qt.WindowState.WindowMaximized)


def first_size(window: QWidget) -> QSize:
    """Return the size of a window that is shown for the first time: no larger than its screen."""
    room = window.screen().availableGeometry().size() - QSize(*FRAME)
    return window.size().boundedTo(room).expandedTo(window.minimumSize())


def on_a_screen(stands: QRect) -> QRect:
    """Return a rectangle of the desktop so that enough of it is on one of the screens.

    What all of them together have no room for was on larger ones: it fills the first.
    """
    rooms = [screen.availableGeometry() for screen in QGuiApplication.screens()]
    whole = reduce(QRect.united, rooms)
    if stands.width() > whole.width() or stands.height() > whole.height():
        return rooms[0].adjusted(
            FRAME[0] // 2, FRAME[1] - FRAME[0] // 2, -FRAME[0] // 2, -FRAME[0] // 2
        )
    for room in rooms:
        seen = room.intersected(stands)
        if min(seen.width(), seen.height()) >= LEAST_SEEN and stands.top() >= room.top():
            return stands
    size = stands.size().boundedTo(rooms[0].size())
    return QRect(rooms[0].topLeft(), size)


def _splitter(window: QWidget, name: str) -> QSplitter:
    return next(one for one in window.findChildren(QSplitter) if one.objectName() == name)
