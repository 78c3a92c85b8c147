"""Words of a diagram: whoever reads it can tell which piece is which."""

from dataclasses import replace

import pytest

from layout_app.paper import ink
from layout_app.paper.diagram import diagram
from layout_app.paper.lettering import Lettering, letter
from layout_app.paper.pens import COLOURED, OUTLINE, TEXT, PaperHand
from shared.drawing import Box, RectLabel, Role, SheetDrawing, Weight
from shared.geometry import Rect
from shared.lengths import MM

SIZE = 49.0
"""Text size on a sheet of 2440 mm at true size, in mm."""
LINES = ("Drawer back", "L 439.7 × W 76.2")

EMPTY = SheetDrawing(
    sheet="1",
    title="",
    price=0,
    stock="",
    rect=Rect(x=0, y=0, length=2440 * MM, width=1220 * MM),
    boxes=(),
    grain=(),
    tags=(),
    marks=(),
    labels=(),
    face_mark=(0, 0),
)


def strip(number: int, length: int, width: int, lines: tuple[str, ...] = LINES) -> RectLabel:
    """Return the label of a strip that lies below the one before; in mm."""
    rect = Rect(x=0, y=number * 2 * width * MM, length=length * MM, width=width * MM)
    return RectLabel(key=f"part:{number}", rect=rect, lines=lines, weight=Weight.PART)


def written(made: Lettering) -> dict[str, str]:
    """Return the first line of what stands in each piece."""
    return {key: found.lines[0] for key, found in made.inside}


@pytest.mark.parametrize("width", [64, 76])
def test_a_strip_a_little_higher_than_a_line_has_its_name(width: int) -> None:
    """The name stands in strips of three inches, and down to 1.3 text sizes."""
    assert written(letter([strip(0, 1200, width)], SIZE, [])) == {
        "part:0": "Drawer back  L 439.7 × W 76.2"
    }


def test_a_piece_without_its_name_has_a_letter_though_another_has_the_name() -> None:
    """Of two equal parts one is named and the other too short: that one has a letter."""
    made = letter([strip(0, 440, 76), strip(1, 200, 76)], SIZE, [])
    assert written(made) == {"part:0": "Drawer back", "part:1": "A"}
    assert made.below == (("A", "Drawer back, L 439.7 × W 76.2"),)


def test_letters_have_no_gap_where_a_name_needs_none() -> None:
    """A kind that is named everywhere takes no letter from the next."""
    other = ("Plinth end", "L 330.2 × W 76.2")
    made = letter([strip(0, 440, 76), strip(1, 200, 76, other)], SIZE, [])
    assert [mark for mark, _ in made.below] == ["", "A"]


def test_a_piece_too_narrow_for_a_letter_is_said_to_be() -> None:
    """The list tells why no letter is found, and promises none."""
    made = letter([strip(0, 1200, 40)], SIZE, [])
    assert written(made) == {}
    assert made.below == (("", "Drawer back, L 439.7 × W 76.2 (too narrow for a letter)"),)


@pytest.mark.parametrize("turned", [False, True])
def test_the_patch_behind_words_leaves_the_outline_of_its_piece(turned: bool) -> None:
    """A line that just fits into its part clears the grain, and no edge of the part."""
    sides = (64, 1200) if turned else (1200, 64)
    rect = Rect(x=0, y=0, length=sides[0] * MM, width=sides[1] * MM)
    box = Box(key="part:0", role=Role.PART, rect=rect, part="p", tint=0)
    label = RectLabel(key="part:0", rect=rect, lines=LINES)
    drawing = replace(EMPTY, boxes=(box,), labels=(label,))
    items = diagram(drawing, PaperHand(size=SIZE, colours=COLOURED)).items
    (sizes,) = (one for one in items if isinstance(one, ink.Group) and one.name == "sizes")
    (named,) = sizes.items
    assert isinstance(named, ink.Group)
    patch = named.items[0]
    assert isinstance(patch, ink.Plate)
    assert patch.fill == COLOURED.tints[0]
    line = OUTLINE * SIZE / TEXT / 2
    assert min(patch.x, patch.y) > line
    assert patch.x + patch.length < sides[0] - line
    assert patch.y + patch.width < sides[1] - line


def test_names_of_parts_that_overlap_stand_apart() -> None:
    """On a sheet that cannot be cut one part lies on another; both names can be read."""
    labels = [strip(0, 1200, 400), replace(strip(0, 1200, 400), key="part:1")]
    made = letter(labels, SIZE, [], overlapping=True)
    (_, first), (_, second) = made.inside
    assert not first.block.meets(second.block)
