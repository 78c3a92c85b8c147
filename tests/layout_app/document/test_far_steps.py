"""Steps that lie far back keep no plan, and bring the same one back."""

from layout_app.document import document as documents
from layout_app.document import edit_layout
from tests.layout_app.bench.two_sheets import document, inches


def moved(doc, times):
    """Move a shelf so often, onto places where it can be cut and where it cannot."""
    states = [doc.sawn]
    for index in range(times):
        edit_layout.move_part(doc, "shelf", 1, "1", inches(2 * index + 1), inches(20 - 3 * index))
        states.append(doc.sawn)
    return states


def test_undo_and_redo_over_far_steps_bring_back_what_was_shown(monkeypatch):
    """Of eight steps five lie far back; all states come back with plan and problems."""
    monkeypatch.setattr(documents, "STEPS_WHOLE", 3)
    doc = document()
    states = moved(doc, 8)
    assert any(state.problems for state in states)
    for state in reversed(states[:-1]):
        doc.undo()
        assert doc.sawn == state
    for state in states[1:]:
        doc.redo()
        assert doc.sawn == state


def test_a_far_step_holds_no_plan(monkeypatch):
    """The step that became the fourth last holds its project only; the last holds its plan."""
    monkeypatch.setattr(documents, "STEPS_WHOLE", 3)
    doc = document()
    moved(doc, 8)
    held = [doc.undo_stack.command(index)._other.plan is not None for index in range(8)]
    assert held == [False] * 5 + [True] * 3


def test_the_oldest_steps_are_forgotten(monkeypatch):
    """With room for five steps, of eight the last five can be undone."""
    monkeypatch.setattr(documents, "STEPS_KEPT", 5)
    doc = document()
    states = moved(doc, 8)
    while doc.undo_stack.canUndo():
        doc.undo()
    assert doc.sawn == states[3]
