"""Choices in words: their figures side by side, and how one differs from another."""

from collections.abc import Iterator, Sequence

from layout_app.model.words.wording import counted
from shared.amounts import format_price
from solver.outcome import Choice

WRITTEN = ">"
"""Stands before the choice that is written."""


def choices_table(choices: Sequence[Choice], written: int) -> Iterator[str]:
    """Yield the lines of a table, one choice a line; ``written`` counts from 1."""
    priced = any(choice.known_price for choice in choices)
    rows = [_heads(priced), *(_cells(choice, priced) for choice in choices)]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for number, row in enumerate(rows):
        mark = WRITTEN if number == written else " "
        cells = (cell.rjust(width) for cell, width in zip(row, widths, strict=True))
        yield f"{mark} {number or ' '}  {'  '.join(cells)}"


def _heads(priced: bool) -> tuple[str, ...]:
    price = ("price",) if priced else ()
    return ("sheets", *price, "minutes", "cuts", "set-ups")


def _cells(choice: Choice, priced: bool) -> tuple[str, ...]:
    known = format_price(choice.known_price) if choice.known_price else ""
    price = (known,) if priced else ()
    figures = (choice.minutes, choice.cuts, choice.setups)
    return (str(choice.sheets), *price, *map(str, figures))


def figures_of(choice: Choice) -> tuple[str, str]:
    """Return what a choice takes of the stock, and at the saw."""
    stock = [counted(choice.sheets, "sheet")]
    if choice.known_price:
        stock.append(format_price(choice.known_price))
    cuts, setups = counted(choice.cuts, "cut"), counted(choice.setups, "set-up")
    return ", ".join(stock), f"{choice.minutes} min: {cuts}, {setups}"


def difference(choice: Choice, shown: Choice) -> str:
    """Say how a choice differs from the one that is shown, the stock first."""
    words = [
        _more(choice.sheets - shown.sheets, "sheet"),
        _price(choice, shown),
        _minutes(choice.minutes - shown.minutes),
        _more(choice.cuts - shown.cuts, "cut"),
        _more(choice.setups - shown.setups, "set-up"),
    ]
    return ", ".join(filter(None, words)) or "takes the same"


def _more(by: int, one: str) -> str:
    if not by:
        return ""
    return f"{counted(abs(by), one)} {'more' if by > 0 else 'fewer'}"


def _price(choice: Choice, shown: Choice) -> str:
    """Say what it costs more or less, as far as that is money somebody gave."""
    by = choice.price - shown.price
    if not by or by != choice.spent.money - shown.spent.money:
        return ""
    return f"{format_price(abs(by))} {'dearer' if by > 0 else 'cheaper'}"


def _minutes(by: int) -> str:
    if not by:
        return ""
    return f"{abs(by)} min {'more' if by > 0 else 'less'} sawing"
