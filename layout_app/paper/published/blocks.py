"""What a published plan is made of, whatever it is written as."""

from dataclasses import dataclass
from typing import TypeAlias

from layout_app.paper import ink
from layout_app.paper.panels.saying import PanelWords


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """Of a chapter, or of a part of one."""

    text: str
    chapter: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Words that stand alone; what must not be overlooked is bold."""

    text: str
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """Sentences below each other."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """Steps in order: the kind of each, and what is done."""

    lines: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows with a cell for each heading; ``name`` says what it holds to whom cannot see it."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing as long as a page of paper.

    Attributes
    ----------
    file
        The name of its file in the folder.
    words
        What it shows, for whom cannot see it.
    page
        What is drawn.
    whole, true
        Name and page of the same sheet at true size; ``""`` and ``None`` where there is none.
    """

    file: str
    words: str
    page: ink.Page
    whole: str = ""
    true: ink.Page | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cuts:
    """What is sawn of a piece while it lies there."""

    words: PanelWords


Block: TypeAlias = Heading | Paragraph | Points | Numbered | Table | Picture | Cuts


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A plan told in one unit.

    Attributes
    ----------
    title, identity
        Name of the job; number and day of its plan.
    unit
        Named as in ``plan-in.md``.
    opening, chapters
        What stands before the first chapter, and all others.
    """

    title: str
    identity: str
    unit: str
    opening: tuple[Block, ...]
    chapters: tuple[Block, ...]

    @property
    def blocks(self) -> tuple[Block, ...]:
        """All of it."""
        return self.opening + self.chapters
