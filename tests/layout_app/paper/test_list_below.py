"""The list below a diagram: nothing is lost, nothing meets, and it is short where it can be."""

from hypothesis import given
from hypothesis import strategies as st

from layout_app.paper.letters import width_of
from layout_app.paper.titled import MOST, rows

TEXTS = st.lists(st.text("ABC deMW1/2×", min_size=1, max_size=60).filter(str.strip), max_size=12)


def test_short_lines_stand_beside_each_other() -> None:
    """Seven sizes as the herbarium has them take two lines of a page, not seven."""
    texts = [f"{letter}: Drawer back, L 17" for letter in "ABCDEFG"]
    found = rows(texts, 70.0)
    assert [len(one.whole) for one in found] == [4, 3]
    assert [len(one.lines) for one in found] == [1, 1]


def test_a_long_one_has_all_lines_for_itself() -> None:
    """Where one is too long for a column each is broken into lines of its own."""
    found = rows(["short", "long " * 40], 30.0)
    assert [one.whole for one in found] == [("short",), ("long " * 40,)]
    assert len(found[1].lines) > 3


@given(texts=TEXTS, room=st.floats(8, 90))
def test_all_is_said_in_order_inside_the_room_and_apart(texts: list[str], room: float) -> None:
    """Every text is there once; on a line each ends before the next begins, the last inside."""
    found = rows(texts, room)
    assert [text for one in found for text in one.whole] == texts
    for line in (line for one in found for line in one.lines):
        assert 1 <= len(line) <= MOST
        ends = [after + width_of(text) for after, text in line]
        begins = [after for after, _ in line[1:]]
        assert all(end < begin for end, begin in zip(ends, begins, strict=False))
        assert ends[-1] <= room + 1e-9 or len(line[0][1]) == 1
