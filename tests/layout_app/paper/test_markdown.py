"""Words in Markdown: whatever they hold, a reader that is not ours shows them as they are."""

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token

from layout_app.paper import markdown
from layout_app.paper.plain import one_line
from tests.layout_app.paper.matters import HOSTILE

READER = MarkdownIt("commonmark").enable(["table", "strikethrough"])


def shown(token: Token) -> str:
    """Return what is read of an inline token; nothing in it may be more than words."""
    assert {child.type for child in token.children or ()} <= {"text"}
    return "".join(child.content for child in token.children or ())


def inlines(text: str) -> list[Token]:
    """Return the inline tokens of a document."""
    return [token for token in READER.parse(text) if token.type == "inline"]


@given(st.text())
@example("1. a")
@example("12) b")
@example("- a")
@example("+")
@example("===")
@example("# a #")
@example("&amp; &#35;")
@example("a\\")
@example("![a](b)")
@example("a  \nb")
def test_any_words_are_shown_as_they_are(words: str) -> None:
    """In a heading, a list, a paragraph and a cell; `one_line` is all that changes them."""
    line = one_line(words)
    assume(line)
    for made in (
        f"a\n\n{markdown.plain(words)}\n",
        markdown.heading(words, 1),
        markdown.points([words]),
        markdown.table(("h",), [[words]]),
    ):
        assert shown(inlines(made)[-1]) == line


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_no_markup(name: str) -> None:
    """A table of two columns keeps two; a bold line holds the name and nothing else."""
    made = markdown.table(("a", "b"), [[name, "x"]])
    assert [shown(token) for token in inlines(made)] == ["a", "b", one_line(name), "x"]
    assert markdown.strong(name).startswith("**")
    html = READER.render(markdown.strong(name))
    assert html.count("<") == 4
    assert html.startswith("<p><strong>")


@pytest.mark.parametrize("address", ["http://a.example/b", "https://c.example", "www.d.example"])
def test_addresses_are_broken_for_hosts_that_link_them(address: str) -> None:
    """The bare forms that extended autolinks look for are not in the text."""
    made = markdown.plain(f"see {address}")
    assert "://" not in made
    assert "www." not in made
    assert shown(inlines(made)[0]) == f"see {address}"


@pytest.mark.parametrize(
    "words", ["84.00", "3/4 birch ply", "11 7/8 + 1/64", "L 96 × W 48", "12 mm", "1a2"]
)
def test_sizes_and_prices_are_left_as_they_are(words: str) -> None:
    """Whoever reads the text itself is not bothered by signs that are not needed."""
    assert markdown.plain(words) == words


def test_steps_are_numbered_with_their_kind_in_bold() -> None:
    """A list in order, one item a step; a step without words is its kind alone."""
    made = markdown.numbered([("Groove", "1. deep"), ("Finish", "")])
    assert made == "1. **Groove** 1\\. deep\n2. **Finish**"
    kinds = [token.type for token in READER.parse(made)]
    assert kinds.count("ordered_list_open") == 1
    assert kinds.count("list_item_open") == 2


def test_file_names_are_spelled_for_links() -> None:
    """Spaces and brackets of a file name do not end the address (RFC 3986)."""
    (token,) = inlines(markdown.picture("a ] b", "sheet (1) x.svg"))
    (image,) = token.children or ()
    assert image.attrs["src"] == "sheet%20%281%29%20x.svg"
    assert image.content.replace("\\", "") == "a ] b"
    assert markdown.link("in inches", "plan-in.md") == "[in inches](plan-in.md)"
