"""The theme as a palette and style sheet for Qt's widgets."""

from dataclasses import asdict

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

from layout_app.look.theme import Theme

_SHEET = """
QMainWindow, QWidget#page, QSplitter {{ background: {panel}; }}
QMenuBar, QStatusBar, QToolBar#bar {{ background: {band}; color: {graphite}; border: 0; }}
QMenuBar::item {{ padding: 4px 9px; background: transparent; }}
QMenuBar::item:selected {{ background: {accent_wash}; }}
QToolBar {{ background: {panel}; border: 0; border-bottom: 1px solid {rule};
            spacing: 6px; padding: 5px 10px; }}
QToolBar QToolButton {{ background: {card}; color: {graphite}; border: 1px solid {rule};
                        border-radius: 5px; padding: 4px 13px; }}
QToolBar QToolButton:hover {{ border-color: {accent}; }}
QToolBar QToolButton:pressed {{ background: {accent_wash}; }}
QToolBar QToolButton:disabled {{ color: {faint}; background: {panel}; }}
QToolBar QToolButton#chief {{ background: {accent}; color: {on_accent}; border-color: {accent};
                              font-weight: bold; }}
QToolBar QToolButton#chief:disabled {{ background: {panel}; color: {faint}; border-color: {rule}; }}
QMenu {{ background: {card}; color: {graphite}; border: 1px solid {rule}; padding: 4px; }}
QMenu::item {{ padding: 4px 26px 4px 14px; border-radius: 3px; }}
QMenu::item:selected {{ background: {accent_wash}; color: {graphite}; }}
QMenu::item:disabled {{ color: {faint}; }}
QMenu::separator {{ height: 1px; background: {rule}; margin: 4px 8px; }}
QTabWidget::pane {{ border: 0; }}
QTabBar {{ background: {panel}; }}
QTabBar::tab {{ background: transparent; color: {pencil}; padding: 7px 6px 5px 6px;
                margin: 0 4px; border-bottom: 2px solid transparent; }}
QTabBar::tab:selected {{ color: {graphite}; font-weight: bold;
                         border-bottom: 2px solid {accent}; }}
QTabBar::tab:hover {{ color: {graphite}; }}
QTabBar::tab:focus {{ border-bottom: 2px dashed {accent}; }}
QTableView, QListWidget {{ background: {panel}; color: {graphite}; border: 0;
    selection-background-color: {accent_wash}; selection-color: {graphite};
    alternate-background-color: {panel}; outline: 0; }}
QTableView::item {{ padding: 0 5px; }}
QTableView::item:focus {{ border: 1px solid {accent}; }}
QHeaderView, QHeaderView::section {{ background: {panel}; color: {pencil}; border: 0; }}
QHeaderView::section {{ border-bottom: 1px solid {rule}; padding: 4px 7px; }}
QLineEdit, QComboBox, QAbstractSpinBox, QPlainTextEdit {{
    background: {card}; color: {graphite}; border: 1px solid {edge};
    border-radius: 3px; padding: 2px 4px;
    selection-background-color: {accent}; selection-color: {on_accent}; }}
QAbstractSpinBox {{ padding: 0; }}
QAbstractSpinBox QLineEdit {{ border: 0; padding: 0 4px; background: transparent; }}
QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {{ width: 0; border: 0; }}
QPlainTextEdit {{ placeholder-text-color: {pencil}; }}
QTableView QLineEdit, QTableView QComboBox {{ border: 1px solid {accent}; border-radius: 0;
    padding: 0 3px; }}
QLineEdit:focus, QComboBox:focus, QAbstractSpinBox:focus, QPlainTextEdit:focus {{
    border-color: {accent}; }}
QComboBox::drop-down {{ border: 0; width: 18px; }}
QComboBox QAbstractItemView {{ background: {card}; color: {graphite};
    selection-background-color: {accent_wash}; selection-color: {graphite}; }}
QCheckBox {{ color: {graphite}; spacing: 6px; }}
QCheckBox::indicator {{ width: 13px; height: 13px; background: {card};
    border: 1px solid {edge}; border-radius: 3px; }}
QCheckBox::indicator:focus, QCheckBox::indicator:hover {{ border-color: {accent}; }}
QCheckBox:focus {{ color: {accent}; }}
QCheckBox:disabled {{ color: {faint}; }}
QScrollArea, QScrollArea > QWidget > QWidget {{ background: {panel}; }}
QLabel {{ color: {graphite}; background: transparent; }}
QLabel#heading {{ font-weight: bold; padding-top: 8px; }}
QLabel#quiet {{ color: {pencil}; }}
QLabel#fault {{ background: {warning_wash}; border-left: 2px solid {warning};
    padding: 3px 6px; }}
QToolBar QLabel {{ padding: 0 8px; }}
QLabel#strong {{ font-weight: bold; }}
QFrame#partCard {{ background: {card}; border: 1px solid {rule}; border-radius: 6px; }}
QFrame#question {{ background: {card}; border: 1px solid {accent}; border-radius: 5px; }}
QFrame#advice {{ background: {panel}; border: 0; border-top: 1px solid {rule}; }}
QFrame#lying {{ background: {panel}; border-top: 1px solid {rule}; }}
QPushButton#chiefButton {{ background: {accent}; color: {on_accent}; border-color: {accent};
    font-weight: bold; }}
QPushButton#chiefButton:focus {{ border: 3px double {on_accent}; padding: 1px 9px; }}
QPushButton#chiefButton:disabled {{ background: {panel}; color: {faint}; border-color: {rule}; }}
QFrame#choices {{ background: {panel}; border-top: 1px solid {rule}; }}
QFrame#asking {{ background: {warning_wash}; border: 0; border-bottom: 1px solid {warning}; }}
QFrame#banner {{ background: {accent_wash}; border: 0; border-bottom: 1px solid {accent}; }}
QListWidget#issues {{ background: {panel}; border-top: 1px solid {rule}; padding: 3px 6px; }}
QListWidget#issues[wrong="true"] {{ background: {warning_wash};
                                   border-top: 1px solid {warning}; }}
QPushButton {{ background: {card}; color: {graphite}; border: 1px solid {rule};
    border-radius: 4px; padding: 3px 11px; }}
QPushButton:hover {{ border-color: {accent}; }}
QPushButton:focus {{ border: 2px solid {accent}; padding: 2px 10px; }}
QPushButton:pressed {{ background: {accent_wash}; }}
QPushButton:disabled {{ color: {faint}; background: {panel}; }}
QPushButton#offer {{ background: {warning_wash}; border-color: {warning}; }}
QPushButton#link {{ border: 0; background: transparent; color: {accent}; padding: 2px 4px; }}
QPushButton#link:focus {{ text-decoration: underline; }}
QTextBrowser#telling {{ background: {card}; color: {graphite}; border: 0;
    border-left: 1px solid {rule}; border-top: 1px solid {rule};
    selection-background-color: {accent_wash}; selection-color: {graphite}; }}
QWidget#sequencePanel {{ background: {panel}; border-top: 1px solid {rule}; }}
QFrame#region {{ background: {accent}; border: 0; }}
QWidget#status:focus {{ border: 1px solid {accent}; border-radius: 3px; }}
QSplitter::handle {{ background: {rule}; }}
QSplitter::handle:horizontal {{ width: 1px; }}
QSplitter::handle:vertical {{ height: 1px; }}
QStatusBar::item {{ border: 0; }}
QAbstractScrollArea::corner {{ background: transparent; border: 0; }}
QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: 10px; margin: 0; }}
QScrollBar::handle {{ background: {edge}; border-radius: 4px; min-width: 28px;
                      min-height: 28px; margin: 1px; }}
QScrollBar::handle:hover {{ background: {faint}; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QToolTip {{ background: {card}; color: {graphite}; border: 1px solid {rule}; padding: 3px; }}
"""


def style_sheet(theme: Theme) -> str:
    """Write the style sheet of a theme."""
    return _SHEET.format(**asdict(theme))


def palette(theme: Theme) -> QPalette:
    """Return the palette of a theme, for what the style sheet does not reach."""
    made = QPalette()
    roles = {
        QPalette.ColorRole.Window: theme.panel,
        QPalette.ColorRole.WindowText: theme.graphite,
        QPalette.ColorRole.Base: theme.card,
        QPalette.ColorRole.AlternateBase: theme.panel,
        QPalette.ColorRole.Text: theme.graphite,
        QPalette.ColorRole.PlaceholderText: theme.faint,
        QPalette.ColorRole.Button: theme.card,
        QPalette.ColorRole.ButtonText: theme.graphite,
        QPalette.ColorRole.Highlight: theme.accent_wash,
        QPalette.ColorRole.HighlightedText: theme.graphite,
        QPalette.ColorRole.ToolTipBase: theme.card,
        QPalette.ColorRole.ToolTipText: theme.graphite,
        QPalette.ColorRole.Link: theme.accent,
    }
    for role, colour in roles.items():
        made.setColor(role, QColor(colour))
    for role in (
        QPalette.ColorRole.WindowText,
        QPalette.ColorRole.Text,
        QPalette.ColorRole.ButtonText,
    ):
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(theme.faint))
    return made


def dress(app: QApplication, theme: Theme) -> None:
    """Give the whole program a theme.

    The old style sheet goes first: under it each widget would be styled anew three times over.
    Nothing is styled anew where the theme is the one it has, as when a window that was dressed
    at the start reads that it is the one wished for.
    """
    sheet = style_sheet(theme)
    if app.styleSheet() != sheet:
        app.setStyleSheet("")
        app.setStyle("Fusion")
        app.setPalette(palette(theme))
        app.setStyleSheet(sheet)
