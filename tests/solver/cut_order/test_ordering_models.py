"""The order of cuts against textbook problems, and against general mixed-integer programs."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import combinations, pairwise
from random import Random

import pytest

from shared.asked import CutsToOrder
from shared.cuts.forest import Pass
from shared.cuts.order_problem import PieceToCut as LoosePiece
from shared.cuts.order_problem import Problem
from shared.cuts.sequence import layout_sheet
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM, Length
from shared.making.settings import Device
from shared.parts import Part
from shared.plan import CutKind, Keep
from shared.shop import Axis, SawingOrder, Shop
from shared.stock import Stock
from shared.tree import Piece, Place, Run
from solver.budget.stop import Stop
from solver.cut_order.circles import fewest_blocks
from solver.cut_order.order import put_in_order
from tests.solver.cut_order import order_programs
from tests.solver.cut_order.counted import Counted, counted
from tests.solver.cut_order.cut_orders import CutOrders, is_set
from tests.solver.cut_order.few_cuts import FewCuts, few_cuts

Arcs = Sequence[tuple[int, int]]


def problem(colours: Sequence[int], before: Sequence[Collection[int]]) -> Problem:
    """Return passes of one sheet with these settings, and what each of them needs."""
    made = tuple(_pass(number, colour) for number, colour in enumerate(colours))
    everything = (1 << len(made)) - 1
    return Problem(
        made=made,
        colours=tuple(colours),
        before=tuple(sum(1 << one for one in needed) for needed in before),
        pieces=(LoosePiece(passes=everything, maker=-1, sheet="1", area=1),),
        piece_of=(0,) * len(made),
        opens=(-1,) * len(made),
        limit=len(made),
    )


def _pass(number: int, colour: int) -> Pass:
    return Pass(
        key=str(number),
        run=0,
        kind=CutKind.RIP,
        level=1,
        axis=Axis.RIP,
        tool="saw",
        kerf=0,
        dust=Rect(x=0, y=0, length=1, width=1),
        size=colour + 1,
        device=Device.GUIDE,
        keep=Keep.NEAR,
    )


def of_digraph(arcs: Arcs) -> Problem:
    """Return a problem with two passes for each arc: one of the first setting before the other."""
    colours = [colour for arc in arcs for colour in arc]
    before = [[n - 1] if n % 2 else [] for n in range(len(colours))]
    return problem(colours, before)


def circle(length: int) -> list[tuple[int, int]]:
    """Return the arcs of a directed circle."""
    return [(n, (n + 1) % length) for n in range(length)]


def both_ways(edges: Arcs) -> list[tuple[int, int]]:
    """Return two arcs for each edge."""
    return [arc for one, other in edges for arc in ((one, other), (other, one))]


PETERSEN = [
    *((n, (n + 1) % 5) for n in range(5)),
    *((n, n + 5) for n in range(5)),
    *((n + 5, (n + 2) % 5 + 5) for n in range(5)),
]
COMPLETE = list(combinations(range(6), 2))
BIPARTITE = [(one, other) for one in range(3) for other in range(3, 7)]

# An edge both ways is a circle of two, so at least one of its ends has to go: such a digraph
# needs as many vertices as cover all edges of the graph (R. M. Karp, "Reducibility among
# combinatorial problems", 1972, node cover to feedback node set). Covers of graphs: all but
# the largest independent set (T. Gallai, 1959), which is 4 of 10 in the Petersen graph
# (D. A. Holton, J. Sheehan, "The Petersen Graph", 1993), 1 in a complete graph, the larger
# side of a complete bipartite one, and half, rounded down, of a circle (any textbook; the
# figures are cited from memory).
TEXTBOOK = [
    pytest.param(circle(7), 1, id="a circle: any vertex opens it"),
    pytest.param([*circle(3), (3, 4), (4, 5), (5, 3)], 2, id="two circles apart"),
    pytest.param([*circle(3), (0, 3), (3, 4), (4, 0)], 1, id="two circles that share a vertex"),
    pytest.param([(0, 1), (0, 2), (1, 3), (2, 3)], 0, id="no circle"),
    pytest.param(both_ways(PETERSEN), 6, id="Petersen graph"),
    pytest.param(both_ways(COMPLETE), 5, id="complete graph of six"),
    pytest.param(both_ways(BIPARTITE), 3, id="complete bipartite graph of three and four"),
    pytest.param(both_ways(circle(7)), 4, id="circle of seven, both ways"),
]


@pytest.mark.parametrize(("arcs", "least"), TEXTBOOK)
def test_the_bound_is_a_least_feedback_vertex_set(arcs: Arcs, least: int) -> None:
    """A setting beyond one block each is counted for every vertex that has to go, no more."""
    settings = len({vertex for arc in arcs for vertex in arc})
    assert order_programs.feedback_vertices(arcs) == least
    assert fewest_blocks(of_digraph(arcs), Stop(), 30.0) == settings + least


@pytest.mark.parametrize("seed", range(20))
def test_a_linear_ordering_program_agrees_with_the_bound(seed: int) -> None:
    """Random digraphs of seven settings have one least feedback vertex set, whoever asks."""
    random = Random(seed)
    arcs = [(a, b) for a in range(7) for b in range(7) if a != b and random.random() < 0.3]
    settings = len({vertex for arc in arcs for vertex in arc})
    least = order_programs.feedback_vertices(arcs)
    assert fewest_blocks(of_digraph(arcs), Stop(), 30.0) == settings + least


@pytest.mark.parametrize("seed", range(700, 730))
def test_a_general_program_finds_no_fewer_blocks(seed: int) -> None:
    """By set-up, with room for all pieces, a program of blocks agrees on up to ten cuts."""
    made = few_cuts(seed, 10)
    found = by_setup(made.job, made.sheets)
    colours, before = _bare(made)
    blocks = order_programs.fewest_blocks(colours, before, found.changes + 1)
    assert found.changes + 1 == blocks
    assert found.proven


def _bare(made: FewCuts) -> tuple[list[int], dict[int, set[int]]]:
    """Return number of setting and needs of each cut, read from what can be sawn at first.

    A cut is needed by all that can never be sawn while it is left out.
    """
    job = _with_room(made.job)
    orders = CutOrders(job, made.sheets)
    spots = list(orders.settings)
    settings = sorted(set(orders.settings.values()))
    before: dict[int, set[int]] = {n: set() for n in range(len(spots))}
    for number, left_out in enumerate(spots):
        state, met = orders.start, {left_out}
        while True:
            ahead = [(spot, new) for spot, new in orders.next_states(state) if spot not in met]
            if not ahead:
                break
            spot, state = ahead[0]
            met.add(spot)
        for other, spot in enumerate(spots):
            if spot not in met:
                before[other].add(number)
    colours = [settings.index(orders.settings[spot]) for spot in spots]
    return _of_what_is_set([is_set(orders.settings[spot]) for spot in spots], colours, before)


def _of_what_is_set(
    chosen: list[bool], colours: list[int], before: dict[int, set[int]]
) -> tuple[list[int], dict[int, set[int]]]:
    """Return the same without marks: what needs a cut at any remove is known already."""
    place = {number: at for at, number in enumerate(n for n, one in enumerate(chosen) if one)}
    needs = {
        at: {place[one] for one in before[number] if one in place} for number, at in place.items()
    }
    return [colours[number] for number in place], needs


def _with_room(job: Job) -> Job:
    return replace(job, shop=replace(job.shop, sawing=SawingOrder.BY_SETUP, loose=99))


def by_setup(
    job: Job, sheets: tuple[LayoutSheet, ...], fixed: frozenset[str] = frozenset()
) -> Counted:
    """Return the last order set-up by set-up, with room for any number of loose pieces."""
    asked = CutsToOrder(job=_with_room(job), sheets=sheets, fixed=fixed)
    *_, last = put_in_order(asked, Stop().within(10.0))
    return counted(asked.job, last)


SIZES: dict[str, Length] = {"A": 10 * MM, "B": 20 * MM, "C": 30 * MM, "D": 40 * MM}


def chains(*words: str) -> Counted:
    """Order the cuts of one sheet for each word, whose letters are strips that stay in place."""
    row = Stock(
        id="s", name="s", material="ply", length=900 * MM, width=900 * MM, thickness=18 * MM
    )
    parts = tuple(
        Part(
            id=letter,
            name=letter,
            copies=max(1, sum(word.count(letter) for word in words)),
            length=900 * MM,
            width=size,
            material="ply",
        )
        for letter, size in SIZES.items()
    )
    job = Job(name="Chains", parts=parts, stock=(row,), shop=Shop(kerf=0))
    copies = dict.fromkeys(SIZES, 0)
    sheets = []
    for number, word in enumerate(words, 1):
        strips = []
        for letter in word:
            copies[letter] += 1
            place = Place(part=letter, copy=copies[letter])
            strips.append(Piece(size=SIZES[letter], place=place))
        tree = Run(axis=Axis.RIP, pieces=tuple(strips))
        sheets.append(layout_sheet(str(number), row, 0, tree))
    return by_setup(job, tuple(sheets), frozenset(sheet.id for sheet in sheets))


def shortest_common(one: str, other: str) -> int:
    """Return the length of the shortest common supersequence of two words, by the usual table."""
    table = [[0] * (len(other) + 1) for _ in range(len(one) + 1)]
    for i, a in enumerate(one):
        for j, b in enumerate(other):
            longest = max(table[i][j + 1], table[i + 1][j])
            table[i + 1][j + 1] = table[i][j] + 1 if a == b else longest
    return len(one) + len(other) - table[-1][-1]


def test_two_chains_of_the_textbook() -> None:
    """ABCBDAB and BDCABA have BCBA in common and no more, so 7 + 6 - 4 = 9 set-ups serve both.

    The words are the worked example of T. H. Cormen, C. E. Leiserson, R. L. Rivest, C. Stein,
    "Introduction to Algorithms", longest common subsequence (from memory); that the shortest
    common supersequence is as long as both words less what they have in common is in
    D. Maier, Journal of the ACM 25 (1978).
    """
    assert shortest_common("ABCBDAB", "BDCABA") == 9
    found = chains("ABCBDAB", "BDCABA")
    assert found.changes == 9 - 1
    assert found.proven


def test_three_chains_that_turn_in_a_circle() -> None:
    """ABC, BCA and CAB take five set-ups: ABCAB serves all three, and no four do.

    Worked by hand: with four, two of the three letters come only once. But any two letters
    come in one order in one of the words and in the other order in another.
    """
    found = chains("ABC", "BCA", "CAB")
    assert found.changes == 5 - 1
    assert found.proven


def test_chains_that_are_alike_take_the_set_ups_of_one() -> None:
    """However many sheets are sawn alike, the set-ups are those of one of them."""
    found = chains(*["ABAC"] * 4)
    assert found.changes == 4 - 1
    assert found.proven


@pytest.mark.parametrize("seed", range(20))
def test_two_random_chains_are_a_shortest_common_supersequence(seed: int) -> None:
    """Two words of up to nine letters, no letter twice in a row, as the usual table has it."""
    random = Random(seed)
    one, other = (_word(random) for _ in range(2))
    found = chains(one, other)
    assert found.changes == shortest_common(one, other) - 1
    assert found.proven


def _word(random: Random) -> str:
    word = random.choice("ABCD")
    while len(word) < random.randint(5, 9):
        word += random.choice([letter for letter in "ABCD" if letter != word[-1]])
    assert all(a != b for a, b in pairwise(word))
    return word
