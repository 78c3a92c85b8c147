"""A plan is neither shown nor told nor accepted if the record of a cut does not lie."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from layout_app.cli import check
from layout_app.document.document import Document
from layout_app.model.recorded import borne_by_records
from shared.making.record import CutRecord, Edge
from shared.making.recording import records
from shared.plan import Plan
from shared.shop import Shop
from shared.telling import instructions, recorded
from tests.layout_app.small_job import document


def entered_wrongly(plans: Sequence[Plan], shop: Shop) -> tuple[CutRecord, ...]:
    """Return the records with the saw entering the last cut where no saw can."""
    *others, last = records(plans, shop)
    ends = {Edge.LEFT, Edge.RIGHT}
    return (*others, replace(last, entry=Edge.FAR if last.entry in ends else Edge.LEFT))


@pytest.fixture
def wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the program write records of which the last is wrong."""
    shown = document().sawn
    assert borne_by_records(shown) == shown
    monkeypatch.setattr(recorded, "records", entered_wrongly)
    monkeypatch.setattr(recorded, "_recorded", recorded._record)
    monkeypatch.setattr(check, "records", entered_wrongly)


def test_the_window_shows_no_plan_with_a_record_that_is_refused(wrong: None) -> None:
    """It says which cut, and how the saw would have to enter."""
    sawn = document().sawn
    assert sawn.plan is None
    number = document_cuts()
    assert sawn.problems[""].startswith(f"Cut {number}: the saw enters at the ")


def document_cuts() -> int:
    """Return the number of the last cut, as the plan is without looking at records."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(recorded, "records", records)
        plan = document().plan
    assert plan is not None
    return plan.cuts[-1].number


def test_no_words_are_found_for_it(wrong: None) -> None:
    """Whoever asks for words all the same gets none."""
    doc = _sound()
    assert doc.plan is not None
    with pytest.raises(recorded.RecordRefusedError, match="the saw enters at the"):
        instructions(doc.plan, doc.job.shop, doc.job.style)


def test_the_command_refuses_its_file(wrong: None) -> None:
    """One fault, after all others are looked for."""
    plan = _sound().plan
    assert plan is not None
    assert [one.code for one in check.faults(plan)] == ["record-wrong"]


def _sound() -> Document:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(recorded, "records", records)
        return document()
