"""Cautions of a panel: each said once, with the cuts that it holds at."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout_app.paper.panels.facts import Told
from shared.telling.in_brief import brief_words
from shared.telling.minding import Case, cautions_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Minded:
    """One caution: a danger in full words, handling in few; and its cuts, ascending."""

    code: str
    sentence: str
    danger: bool
    numbers: tuple[int, ...]


def minded(cuts: Sequence[Told]) -> tuple[Minded, ...]:
    """Return the cautions of cuts, dangers first, equal ones once, without names of pieces."""
    found: dict[tuple[bool, str, str], list[int]] = {}
    for told in cuts:
        for danger, code, sentence in _said(told):
            found.setdefault((danger, code, sentence), []).append(told.one.number)
    every = [
        Minded(code=code, sentence=sentence, danger=danger, numbers=tuple(sorted(numbers)))
        for (danger, code, sentence), numbers in found.items()
    ]
    return tuple(sorted(every, key=lambda one: not one.danger))


def _said(told: Told) -> Iterator[tuple[bool, str, str]]:
    case = Case(record=told.record, shop=told.shop, style=told.style, named=False)
    for caution in cautions_of(case):
        danger = caution.danger
        yield danger, caution.code, caution.sentence if danger else brief_words(caution.code, case)
