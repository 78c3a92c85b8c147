"""Rows that become others step by step."""

from hypothesis import given
from hypothesis import strategies as st

from layout_app.panels.rows_model import Come, Gone, row_steps

names = st.lists(st.sampled_from("abcdefghij"), unique=True)


@given(before=names, after=names)
def test_the_steps_lead_from_one_order_to_the_other(before: list[str], after: list[str]) -> None:
    """Taken one after the other, the steps make the rows that are wanted, and keep all others."""
    shown = [*before]
    for step in row_steps(before, after):
        if isinstance(step, Gone):
            assert not {*shown[step.first : step.last + 1]} & {*after}
            del shown[step.first : step.last + 1]
        elif isinstance(step, Come):
            new = after[step.first : step.last + 1]
            assert not {*new} & {*before}
            shown[step.first : step.first] = new
        else:
            assert step.to < step.line
            shown.insert(step.to, shown.pop(step.line))
    assert shown == after
