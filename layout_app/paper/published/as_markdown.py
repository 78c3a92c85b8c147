"""A published plan as Markdown, its drawings in files beside it."""

from collections.abc import Iterator
from functools import singledispatch

from layout_app.model.words.wording import numbers_in_words
from layout_app.paper import markdown
from layout_app.paper.panels.saying import Bar, Line, Pass, RowWords, Sign
from layout_app.paper.published.blocks import (
    Cuts,
    Document,
    Heading,
    Numbered,
    Paragraph,
    Picture,
    Points,
    Table,
)
from shared.lengths import Unit

UNITS = {Unit.INCH: "inches", Unit.MM: "millimetres"}


def markdown_of(document: Document) -> str:
    """Return the whole document, with a link to the same in the other unit."""
    unit = Unit(document.unit)
    other = Unit.MM if unit is Unit.INCH else Unit.INCH
    link = markdown.link(f"in {UNITS[other]}", f"plan-{other}.md")
    first = (
        markdown.heading(document.title, 1),
        markdown.plain(said_first(document)),
        f"All sizes are in {UNITS[unit]}. The same plan {link}.",
    )
    return "\n\n".join((*first, *map(_written, document.blocks))) + "\n"


def said_first(document: Document) -> str:
    """Name plan and day, as a sentence."""
    identity = document.identity
    return f"{identity[:1].upper()}{identity[1:]}."


@singledispatch
def _written(block: object) -> str:
    """Write one block; each kind in its own way."""
    raise TypeError(f"no such block: {block!r}")


@_written.register
def _heading(block: Heading) -> str:
    return markdown.heading(block.text, 2 if block.chapter else 3)


@_written.register
def _paragraph(block: Paragraph) -> str:
    return markdown.strong(block.text) if block.bold else markdown.plain(block.text)


@_written.register
def _points(block: Points) -> str:
    return markdown.points(block.lines)


@_written.register
def _numbered(block: Numbered) -> str:
    return markdown.numbered(block.lines)


@_written.register
def _table(block: Table) -> str:
    return markdown.table(block.headings, block.rows)


@_written.register
def _picture(block: Picture) -> str:
    shown = markdown.picture(block.words, block.file)
    if not block.whole:
        return shown
    return f"{shown}\n\n{markdown.link('This sheet at true size', block.whole)}"


@_written.register
def _cuts(block: Cuts) -> str:
    said = block.words
    lines = [*map(_bar, said.bars), *map(_line, said.common)]
    for row in said.rows:
        lines += map(_bar, row.bars)
        lines.append(_row(row))
        lines += (f"  {line}" for line in _below(row))
    head = (markdown.heading(said.name, 3), markdown.plain(f"{said.head}."))
    return "\n\n".join((*head, "\n".join(lines)))


def _bar(bar: Bar) -> str:
    more = f" {markdown.plain(bar.more)}" if bar.more else ""
    return f"- {markdown.strong(bar.text)}{more}"


def _row(row: RowWords) -> str:
    cuts = f"Cut{'s' if len(row.passes) > 1 else ''} {cut_numbers(row)}"
    return f"- {markdown.strong(f'{cuts}: {row.title}')}"


def cut_numbers(row: RowWords) -> str:
    """Write the numbers of the cuts of a row with their runs."""
    return numbers_in_words(sorted(one.number for one in row.passes))


def _below(row: RowWords) -> Iterator[str]:
    if len(row.passes) > 1:
        yield f"- {markdown.plain(each_makes(row.passes))}"
    yield from map(_line, row.lines)
    if letters := dangers_words(row):
        yield f"- {markdown.strong(letters)}"


def each_makes(passes: tuple[Pass, ...]) -> str:
    """Say what each pass of a row makes."""
    return "; ".join(f"cut {one.number}: {one.makes}" for one in passes)


def dangers_words(row: RowWords) -> str:
    """Name the dangers of a row that stand elsewhere by their letters; ``""`` for none."""
    explained = {line.letter for line in row.lines}
    letters = [one for one in row.dangers if one not in explained]
    return f"Danger {', '.join(letters)}" if letters else ""


def _line(line: Line) -> str:
    said = f"{sign_words(line)}{line.text}"
    return f"- {markdown.strong(said) if line.bold else markdown.plain(said)}"


def sign_words(line: Line) -> str:
    """Write the sign and letter of a line; ``""`` for none."""
    if line.sign is Sign.NONE:
        return ""
    sign = "Danger" if line.sign is Sign.DANGER else "Handling"
    return f"{sign} {line.letter}: " if line.letter else f"{sign}: "
