"""The plan's number in the window is the one on its pages, at every place that names it."""

from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import tick
from layout_app.paper.ink import words_on
from layout_app.walk.pages import WalkStatus
from layout_app.walk.view import Walk
from layout_app.window.main_window import MainWindow
from tests.layout_app.turns import take_turns
from tests.properties.test_mistakes import plan_around


def walk_status(window: MainWindow) -> WalkStatus:
    """Return what a walk through the window's plan says beside its moment."""
    walk = Walk(window.document, dark=False, parent=window)
    status = walk.status
    walk.deleteLater()
    return status


def shown(window: MainWindow) -> set[str]:
    """Return the plan's number as each place has it."""
    window.menus.actions["paper.save"].trigger()
    take_turns()
    head, drawer = window.sequence.number.text(), window.drawers.paper.carried.text()
    window.drawers.paper.put_away()
    tip = window.status.proof.toolTip()
    page = " ".join(one.text for one, _ in words_on(window.paper_work.pages()[-2].items))
    return {
        head.removeprefix("plan "),
        drawer.removeprefix("plan ").removesuffix(", on every page"),
        tip.partition("Plan number ")[2].partition(",")[0],
        walk_status(window).plan,
        page.partition("plan ")[2].partition(" ·")[0],
    }


def test_one_number_stands_everywhere(window: MainWindow) -> None:
    """Cut sequence, drawer of paper, tip of the proof, walk and pages; after a replan the new."""
    (first,) = shown(window)
    assert len(first) == len("K7-3F2")
    tick(window.document, [1, 2, 4])
    assert shown(window) == {first}
    assert plan_the_rest(window.document, {})
    plan_around(window.document)
    (second,) = shown(window)
    assert second != first
    window.projects.begin_new()
    take_turns()
    assert not window.sequence.number.isVisible()
    assert "Plan number" not in window.status.proof.toolTip()
