"""Widths of letters against font files, and lines that lose nothing."""

import unicodedata
from itertools import chain, pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout_app.paper import letters
from layout_app.paper.letters import shortened, width_of, wrapped

TRUETYPE = Path("/usr/share/fonts/truetype")
"""Where the packages of the two families put their files on Debian and its relatives."""
FONTS = {
    "dejavu/DejaVuSans.ttf": False,
    "dejavu/DejaVuSans-Bold.ttf": True,
    "liberation/LiberationSans-Regular.ttf": False,
    "liberation/LiberationSans-Bold.ttf": True,
}
LETTERS = (
    (0x20, 0x7E),  # Basic Latin
    (0xA0, 0x24F),  # Latin 1, Extended A and B
    (0x370, 0x3E1),  # Greek
    (0x400, 0x45F),  # Cyrillic of today's languages
    (0x490, 0x491),
    (0x5D0, 0x5EA),  # Hebrew
    (0x2000, 0x2044),  # punctuation
    (0x2070, 0x209C),  # superscripts and subscripts
    (0x20A0, 0x20B5),  # money
    (0x2190, 0x2195),  # arrows
    (0x2200, 0x2265),  # signs of mathematics
    (0xFB00, 0xFB04),  # ligatures of f
)
"""The blocks of Unicode that `layout_app.paper.letters` speaks for."""


@pytest.mark.parametrize(("name", "bold"), FONTS.items())
def test_widths_are_upper_bounds_of_what_font_files_say(name: str, bold: bool) -> None:
    """No letter of a font, at its advance width of the hmtx table, is wider than reckoned."""
    fonts = pytest.importorskip("fontTools.ttLib", reason="fontTools comes with the dxf extra")
    if not (TRUETYPE / name).exists():
        pytest.skip(f"{name} is not installed")
    font = fonts.TTFont(TRUETYPE / name)
    glyphs, advance = font.getBestCmap(), font["hmtx"]
    asked = [code for code in chain(*(range(a, b + 1) for a, b in LETTERS)) if code in glyphs]
    wide = font["head"].unitsPerEm
    narrow = [
        f"U+{code:04X} {chr(code)}"
        for code in asked
        if advance[glyphs[code]][0] / wide > width_of(chr(code), bold=bold) + 1e-9
    ]
    assert len(asked) > 500
    assert narrow == []


def test_reckoned_widths_waste_little() -> None:
    """A sentence is reckoned at most a tenth wider than the wider font makes it."""
    fonts = pytest.importorskip("fontTools.ttLib", reason="fontTools comes with the dxf extra")
    if not (TRUETYPE / "dejavu/DejaVuSans.ttf").exists():
        pytest.skip("DejaVu Sans is not installed")
    font = fonts.TTFont(TRUETYPE / "dejavu/DejaVuSans.ttf")
    glyphs, advance = font.getBestCmap(), font["hmtx"]
    text = "Crosscut 1b2 at 37 19/32 from the V, the rail on the keep side"
    true = sum(advance[glyphs[ord(letter)]][0] for letter in text) / font["head"].unitsPerEm
    assert true <= width_of(text) <= 1.1 * true


TEXTS = st.text(
    st.one_of(
        st.sampled_from("abcWMil 12/×LW-.\N{NO-BREAK SPACE}\t\n"),
        st.sampled_from("\N{COMBINING ACUTE ACCENT}\N{ZERO WIDTH JOINER}🪚👩אבش\N{SOFT HYPHEN}ﬃ"),
        st.characters(exclude_categories=("Cs",)),
    ),
    max_size=300,
)
ROOMS = st.floats(0.1, 60.0)


def _letters(text: str) -> str:
    return "".join(text.split())


@given(text=TEXTS, room=ROOMS, bold=st.booleans())
def test_lines_lose_no_letter(text: str, room: float, bold: bool) -> None:
    """All that is no white space stands on the lines, in its order, and nothing else."""
    assert _letters("".join(wrapped(text, room, bold=bold))) == _letters(text)


@given(text=TEXTS, room=ROOMS, bold=st.booleans())
def test_no_line_is_longer_than_its_room(text: str, room: float, bold: bool) -> None:
    """Only one letter, with its accents, may be longer."""
    for line in wrapped(text, room, bold=bold):
        assert width_of(line, bold=bold) <= room + 1e-9 or _is_one_letter(line), line


def _is_one_letter(line: str) -> bool:
    """Say whether all but the first join to what is before, by the Unicode database."""
    return all(
        unicodedata.category(letter) in {"Mn", "Mc", "Me", "Cf"} or before == "\u200d"
        for before, letter in pairwise(line)
    )


@given(text=TEXTS, room=ROOMS, bold=st.booleans())
def test_accents_stay_with_their_letter(text: str, room: float, bold: bool) -> None:
    """No line begins with an accent that stood behind a letter; none is parted by dots."""
    firsts = {word[0] for word in text.split()}
    for line in wrapped(text, room, bold=bold):
        if line and unicodedata.category(line[0])[0] == "M":
            assert line[0] in firsts
    short = shortened(text, room, bold=bold)
    if short != text:
        kept = short[:-1]
        assert short[-1] == "…"
        assert text.startswith(kept)
        rest = text[len(kept) :].lstrip()
        if kept and not text[len(kept)].isspace():
            assert unicodedata.category(rest[0])[0] != "M"


@given(text=TEXTS, room=ROOMS, bold=st.booleans())
def test_what_is_shortened_has_room(text: str, room: float, bold: bool) -> None:
    """It is no longer than the room, or it is the dots alone; what has room stays whole."""
    short = shortened(text, room, bold=bold)
    assert width_of(short, bold=bold) <= room or short == "…"
    if width_of(text, bold=bold) <= room:
        assert short == text


def test_sizes_stay_whole_on_a_line() -> None:
    """A length, or both of a sheet, moves to the next line rather than break."""
    said = "between the sides: L 37 19/32 × W 15 3/4"
    lines = wrapped(said, width_of("between the sides: L 37 19/32"))
    assert lines == ["between the sides:", "L 37 19/32 × W 15 3/4"]


def test_a_long_name_is_measured_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten times as many letters without a space take ten times as many looks, not a hundred."""
    looks: list[str] = []
    true = letters.width_of

    def counted(text: str, *, bold: bool = False) -> float:
        looks.append(text)
        return true(text, bold=bold)

    monkeypatch.setattr(letters, "width_of", counted)
    letters_looked_at = []
    for number in (1_000, 10_000):
        looks.clear()
        assert "".join(letters.wrapped("S" * number, 30.0)) == "S" * number
        letters_looked_at.append(sum(map(len, looks)))
    assert letters_looked_at[1] < 11 * letters_looked_at[0]
