"""Which theme is shown: the one the maker chose, or the one the system asks for."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from layout_app.look.theme import Theme
from layout_app.look.window_settings import Wish

_CHOSEN = {
    Wish.LIGHT: (False, False),
    Wish.DARK: (True, False),
    Wish.HIGH_LIGHT: (False, True),
    Wish.HIGH_DARK: (True, True),
}


def theme_of(wish: Wish) -> Theme:
    """Return the theme of a wish."""
    if wish is Wish.SYSTEM:
        return system_theme()
    dark, high = _CHOSEN[wish]
    return Theme.of(dark=dark, high=high)


def wish_of(theme: Theme) -> Wish:
    """Return the wish for this very theme."""
    looks = (theme.is_dark, theme.is_high)
    return next(wish for wish, chosen in _CHOSEN.items() if chosen == looks)


def system_theme() -> Theme:
    """Return the theme the system asks for; light by day where it asks for nothing."""
    dark = QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark
    return Theme.of(dark=dark, high=_wants_contrast())


def _wants_contrast() -> bool:
    """Say whether the system asks for high contrast; only Qt 6.10 and later can tell."""
    hints = QGuiApplication.styleHints()
    if not hasattr(hints, "accessibility"):
        return False
    return hints.accessibility().contrastPreference() is Qt.ContrastPreference.HighContrast
