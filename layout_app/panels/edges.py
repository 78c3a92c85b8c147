"""Lengths at the edges of a part or sheet, written in one cell: ``long 1/50; left 2 mm``."""

import re
from collections.abc import Mapping, Sequence
from typing import Final

from shared.lengths import AmbiguousLength, Length, LengthStyle, format_length, parse_length

BAND_EDGES: Final = ("top", "bottom", "left", "right")
BAND_GROUPS: Final[Mapping[str, tuple[str, ...]]] = {
    "all": BAND_EDGES,
    "long": ("top", "bottom"),
    "ends": ("left", "right"),
}
TRIM_EDGES: Final = ("near", "far", "start", "end")
TRIM_GROUPS: Final[Mapping[str, tuple[str, ...]]] = {"all": TRIM_EDGES}

_ENTRY: Final = re.compile(
    r"([^\W\d_]+(?:(?:\s*[,+&]\s*|\s+)[^\W\d_]+)*)\s*[:=]?\s+?(.*\d.*|[½⅓-⅞].*)"
)


def write_edges(
    sizes: Mapping[str, Length], groups: Mapping[str, tuple[str, ...]], style: LengthStyle
) -> str:
    """Write the edges that have a size, equal ones together."""
    left = {edge: size for edge, size in sizes.items() if size}
    entries = []
    for group, edges in groups.items():
        same = {left.get(edge, 0) for edge in edges}
        if len(same) == 1 and same != {0}:
            entries.append(f"{group} {format_length(same.pop(), style)}")
            left = {edge: size for edge, size in left.items() if edge not in edges}
    entries += [f"{edge} {format_length(size, style)}" for edge, size in left.items()]
    return "; ".join(entries)


def read_edges(
    text: str,
    edges: Sequence[str],
    groups: Mapping[str, tuple[str, ...]],
    style: LengthStyle,
) -> dict[str, Length]:
    """Read the size at each edge, 0 where none is written; ValueError if it cannot be read."""
    sizes = dict.fromkeys(edges, 0)
    if text.strip().casefold() in ("", "none", "0"):
        return sizes
    for entry in filter(str.strip, re.split(r";|\n|,\s+(?=[^\W\d_])", text)):
        match = _ENTRY.fullmatch(entry.strip())
        if match is None:
            raise ValueError(_usage(edges, groups))
        for edge in _named(match[1], edges, groups):
            sizes[edge] = _size(match[2], style)
    return sizes


def _named(
    text: str, edges: Sequence[str], groups: Mapping[str, tuple[str, ...]]
) -> tuple[str, ...]:
    found: list[str] = []
    for word in re.split(r"[\s,+&]+", text.casefold()):
        if word in groups:
            found += groups[word]
        elif word in edges:
            found.append(word)
        elif word != "and":
            raise ValueError(_usage(edges, groups))
    return tuple(found)


def _size(text: str, style: LengthStyle) -> Length:
    try:
        ticks = parse_length(text, style.unit)
    except AmbiguousLength as error:
        raise ValueError(str(error)) from error
    if ticks < 0:
        raise ValueError("An edge cannot lose less than nothing.")
    return ticks


def _usage(edges: Sequence[str], groups: Mapping[str, tuple[str, ...]]) -> str:
    names = ", ".join((*groups, *edges))
    return f"Write edges and sizes like “{edges[0]} 1/4; {edges[2]} 2 mm”. Edges are: {names}."
