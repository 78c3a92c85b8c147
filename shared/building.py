"""What comes after sawing, in the maker's own words: steps tied to parts, and hardware."""

from dataclasses import dataclass
from enum import StrEnum


class StepKind(StrEnum):
    """What a step is about."""

    GROOVE = "groove"
    """Grooves, dadoes, rabbets, holes."""
    BAND = "band"
    ASSEMBLE = "assemble"
    FINISH = "finish"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildStep:
    """One step; ``parts`` are ids of the parts it is about, none for the whole piece."""

    kind: StepKind = StepKind.OTHER
    text: str = ""
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """So many of something that is bought: slides, screws, pulls."""

    name: str
    count: int = 1
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """Steps in the order in which they are done, and what they need besides parts."""

    steps: tuple[BuildStep, ...] = ()
    hardware: tuple[Hardware, ...] = ()
