"""What comes after sawing, in the maker's own words: steps tied to parts, and hardware.

Both are written as lines of text, the way a maker writes them down, and read back. A step is one
line: ``groove (Drawer side; Drawer back): 1/4 by 1/4, 3/8 up``. The kind may be missing, and so
may the parts. Hardware is one line too: ``12 × slide 14 (side-mount)``.
"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from typing import Final

from shared.parts import Part


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
    """So many of something that is bought: slides, screws, pulls.

    Raises
    ------
    ValueError
        If there are fewer than none.
    """

    name: str
    count: int = 1
    note: str = ""

    def __post_init__(self) -> None:
        if self.count < 0:
            raise ValueError(f"There are 0 or more of {self.name}, not {self.count}.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """Steps in the order in which they are done, and what they need besides parts."""

    steps: tuple[BuildStep, ...] = ()
    hardware: tuple[Hardware, ...] = ()


_KINDS: Final = {kind.value: kind for kind in StepKind if kind is not StepKind.OTHER}
_STEP: Final = re.compile(r"(?:(\w+)\s*)?(?:\(([^()]*)\))?\s*:\s*(.*)")
_LIKE: Final = 0.7
"""From this likeness on (`difflib`, 0 to 1) a word is taken for a misspelt kind."""
_NO_SLIP: Final = frozenset({"sand", "hand", "bend", "bond", "blend"})
"""Words of the shop that look like a kind and are none."""
_COUNT: Final = re.compile(r"(\d{1,6})\s*[×x*]\s*(.*)")
_NOTE: Final = re.compile(r"(.*\S)\s*\(([^()]*)\)")


class StepError(ValueError):
    """A line names a part there is none of; the message is one sentence."""


def step_lines(build: Build, parts: Sequence[Part]) -> str:
    """Write steps, one a line; parts that are gone are left out."""
    names = _names(parts)
    return "\n".join(_step_line(step, names) for step in build.steps)


def read_steps(text: str, parts: Sequence[Part]) -> tuple[BuildStep, ...]:
    """Read steps, one a line; empty lines say nothing.

    Raises
    ------
    StepError
        If a line names a part that is not in the take-off.
    """
    known = {_key(name): part for part, name in _names(parts).items()}
    lines = (" ".join(line.split()) for line in text.splitlines())
    return tuple(_step(line, known) for line in lines if line)


def slips(text: str) -> Iterator[str]:
    """Say of each line that begins with a misspelt kind which one may be meant.

    Such a line is read as words only: what was typed stays as it is.
    """
    for number, line in enumerate(text.splitlines(), 1):
        found = _STEP.fullmatch(" ".join(line.split()))
        word = found[1].casefold() if found and found[1] else ""
        if not found or word in _KINDS or word in _NO_SLIP:
            continue
        if near := get_close_matches(word, _KINDS, n=1, cutoff=_LIKE):
            yield (
                f"Line {number}: “{found[1]}” is no kind of step, so the line counts as words only."
                f" Did you mean “{near[0]}”?"
            )


def hardware_lines(build: Build) -> str:
    """Write hardware, one kind a line."""
    return "\n".join(
        f"{one.count} × {one.name}" + (f" ({one.note})" if one.note else "")
        for one in build.hardware
    )


def read_hardware(text: str) -> tuple[Hardware, ...]:
    """Read hardware, one kind a line; a line without a count is one of it."""
    lines = (" ".join(line.split()) for line in text.splitlines())
    return tuple(_hardware(line) for line in lines if line)


def _step_line(step: BuildStep, names: dict[str, str]) -> str:
    kind = "" if step.kind is StepKind.OTHER else step.kind.value
    parts = "; ".join(names[part] for part in step.parts if part in names)
    head = " ".join(filter(None, (kind, f"({parts})" if parts else "")))
    return f"{head}: {step.text}" if head or _headed(step.text) else step.text


def _step(line: str, known: dict[str, str]) -> BuildStep:
    found = _headed(line)
    if found is None:
        return BuildStep(text=line)
    named = [name for name in (found[2] or "").split(";") if name.strip()]
    return BuildStep(
        kind=_KINDS.get((found[1] or "").casefold(), StepKind.OTHER),
        text=found[3],
        parts=tuple(dict.fromkeys(_part(name, known) for name in named)),
    )


def _headed(line: str) -> re.Match[str] | None:
    """Match a line that begins with a kind, parts or nothing, and a colon; other words do not."""
    found = _STEP.fullmatch(line)
    return found if found and (not found[1] or found[1].casefold() in _KINDS) else None


def _part(name: str, known: dict[str, str]) -> str:
    part = known.get(_key(name))
    if part is None:
        raise StepError(
            f"There is no part “{name.strip()}”: write its name as the take-off has it."
        )
    return part


def _names(parts: Iterable[Part]) -> dict[str, str]:
    """Return what each part is called in a step: its name, or its id where that would not do."""
    listed = list(parts)
    counts = Counter(_key(part.name) for part in listed)
    ids = {_key(part.id) for part in listed}
    return {part.id: _name(part, counts, ids) for part in listed}


def _name(part: Part, counts: Counter[str], ids: set[str]) -> str:
    name = " ".join(part.name.split())
    fits = name and not re.search(r"[();]", name) and counts[_key(part.name)] == 1
    return name if fits and _key(name) not in ids - {_key(part.id)} else part.id


def _key(name: str) -> str:
    return " ".join(name.casefold().split())


def _hardware(line: str) -> Hardware:
    counted = _COUNT.fullmatch(line)
    count, rest = (int(counted[1]), counted[2]) if counted else (1, line)
    noted = _NOTE.fullmatch(rest)
    name, note = (noted[1], noted[2].strip()) if noted else (rest, "")
    return Hardware(name=name, count=count, note=note)
