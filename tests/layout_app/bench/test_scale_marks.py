"""Running positions beside a sheet: their words shrink where room is short, then give way."""

from PySide6.QtCore import QRectF

from layout_app.bench.scale_marks import BELOW_TITLE, LEADING, LEAST_TEXT_PX, written_marks
from shared.drawing import RunningMark
from shared.lengths import MM
from shared.shop import Axis

ROOM = QRectF(-50, -50, 300, 200)


def marks(*places: int) -> list[RunningMark]:
    """Return marks at millimetres from the reference edge."""
    return [
        RunningMark(axis=Axis.RIP, at=place * MM, text=str(place), number=place, key="")
        for place in places
    ]


def test_words_with_room_stand_beside_their_marks() -> None:
    """At 1 px a mm those 40 px apart keep their places and the usual size."""
    size, found = written_marks(marks(0, 40, 80), 1.0, 12, ROOM)
    assert size == 12
    assert [one.words_at for one in found] == [0, 40, 80]


def test_words_shrink_until_all_have_room() -> None:
    """From 9.9 px above the sheet to its end at 150 fit 15 lines of 10.35: text of 9 px."""
    size, found = written_marks(marks(*range(0, 150, 10)), 1.0, 13, ROOM)
    assert size == 9
    assert len(found) == 15


def test_those_closest_together_give_way() -> None:
    """At the least size there is room for 19; of 40 the zero and the last stay."""
    close = [0, 60, *range(100, 137), 149]
    size, found = written_marks(marks(*close), 1.0, 13, ROOM)
    assert size == LEAST_TEXT_PX
    places = [one.words_at for one in found]
    assert len(found) == 19 == int((150 + BELOW_TITLE * size) // (size * LEADING))
    assert {0, 60, 149} <= {one.mark.at // MM for one in found}
    assert max(places) <= 150


def test_without_room_for_text_nothing_is_written() -> None:
    """Text of 6 px could not be read."""
    assert written_marks(marks(0, 40), 1.0, 6, ROOM) == (6, [])
