"""What is written and drawn stands out from its ground, in all themes (WCAG 2.2)."""

import re
from typing import NamedTuple

import pytest

from layout_app.look.style_sheet import style_sheet
from layout_app.look.theme import Theme
from tests.layout_app.contrast import contrast

THEMES = [Theme.of(dark=dark, high=high) for high in (False, True) for dark in (False, True)]

TEXT, LINE = "text", "line"
LEAST = {TEXT: 4.5, LINE: 3.0}
"""Success criteria 1.4.3 (all text as if it were small) and 1.4.11 (graphics)."""
LEAST_HIGH = {TEXT: 7.0, LINE: 4.5}
"""With high contrast: 1.4.6 (level AAA); for lines, which it leaves out, what large text needs."""

WIDGETS = ("paper", "panel", "card")
FALLS = ("waste", "keeper")


class Row(NamedTuple):
    """A colour, the grounds it is used upon, and what for."""

    ink: str
    kind: str
    grounds: tuple[str, ...]


TABLE = (
    Row("graphite", TEXT, (*WIDGETS, "band", "accent_wash", "warning_wash")),
    Row("graphite", TEXT, ("wood", "tints", "keeper")),
    Row("graphite", LINE, ("wood", "tints", *FALLS, "trim", "kerf", "card")),
    Row("pencil", TEXT, (*WIDGETS, "band", "accent_wash", "warning_wash", "keeper")),
    Row("pencil", LINE, ("wood", "tints", *FALLS, "trim", "paper")),
    Row("faint", TEXT, WIDGETS),
    Row("edge", LINE, WIDGETS),
    Row("accent", TEXT, (*WIDGETS, "band")),
    Row("accent", LINE, ("paper", "card", "wood", "tints", *FALLS, "kerf", "accent_wash")),
    Row("on_accent", TEXT, ("accent",)),
    Row("warning", TEXT, (*WIDGETS, "band", "warning_wash")),
    Row("warning", LINE, ("paper", "card", "wood", "tints", *FALLS, "kerf")),
    Row("on_tag", TEXT, ("tag",)),
    Row("tag_line", LINE, ("tag", "paper")),
    Row("card", LINE, ("graphite",)),
    Row("waste_hatch", LINE, ("waste",)),
    Row("keeper_hatch", LINE, ("keeper",)),
)


def test_black_and_white_are_21_to_1():
    """The recommendation gives the range of the ratio as 1 to 21."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)


def test_the_grey_that_just_fails_on_white():
    """#777777 on white is 4.48, #767676 is 4.54 (W3C, Understanding SC 1.4.3; from memory)."""
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_all_stands_out_from_its_ground(theme: Theme):
    """No pair of the table is nearer than its kind allows."""
    least = LEAST_HIGH if theme.is_high else LEAST
    found = {
        (row.ink, kind, ground): round(contrast(getattr(theme, row.ink), colour), 2)
        for row in TABLE
        for ground in row.grounds
        for colour in colours(theme, ground)
        if (kind := row.kind) and contrast(getattr(theme, row.ink), colour) < least[kind]
    }
    assert not found


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_the_table_has_every_colour_that_has_to_be_seen(theme: Theme):
    """A new colour of a theme has to be entered here, or named as one that only sets apart."""
    named = {row.ink for row in TABLE} | {ground for row in TABLE for ground in row.grounds}
    only_apart = {"rule", "grain", "grain_heavy", "name", "is_dark", "is_high"}
    assert named | only_apart == set(theme.__slots__)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_every_rule_of_the_style_sheet_can_be_read(theme: Theme):
    """Where a rule gives both a ground and the colour of the text, the two stand apart."""
    rules = re.findall(r"([^{}]+)\{([^{}]*)\}", style_sheet(theme))
    pairs = {
        selector.strip(): (ground[1], text[1])
        for selector, body in rules
        if (ground := re.search(r"(?:^|;|\s)background: (#\w{6})", body))
        and (text := re.search(r"(?:^|;|\s)color: (#\w{6})", body))
    }
    assert len(pairs) > 10
    least = LEAST_HIGH[TEXT] if theme.is_high else LEAST[TEXT]
    poor = {
        selector: round(contrast(*pair), 2)
        for selector, pair in pairs.items()
        if contrast(*pair) < least
    }
    assert not poor


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_no_two_tints_are_one(theme: Theme):
    """Each of the eight tints is a colour of its own."""
    assert len(set(theme.tints)) == len(theme.tints) == 8


def colours(theme: Theme, ground: str) -> tuple[str, ...]:
    """Return the colours of a ground: one, or all tints."""
    found: str | tuple[str, ...] = getattr(theme, ground)
    return (found,) if isinstance(found, str) else found
