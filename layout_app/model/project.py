"""What the document holds and the project file keeps: one frozen value."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from shared.building import Build
from shared.job import Job
from shared.layout import Layout
from shared.plan import Proof, Unplaced
from shared.progress import Progress


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A job, where its parts lie, what was proven about the layout, and which cuts are made.

    ``build`` is what comes after sawing; a step may name a part that is gone, which is then
    not spoken of. The plan is not stored: it is sawn anew from the layout's trees of cuts.

    ``opening`` is the number of the opening that a project is a state of, 0 for none. It is no
    part of what the project says: it is in no file, and equal projects may differ in it. Whatever
    is made of a project carries it on, so that what comes late is known to be of another one.
    """

    job: Job = field(default_factory=Job)
    layout: Layout = field(default_factory=Layout)
    proof: Proof = field(default_factory=Proof)
    unplaced: tuple[Unplaced, ...] = ()
    progress: Progress = field(default_factory=Progress)
    build: Build = field(default_factory=Build)
    opening: int = field(default=0, compare=False, repr=False)


def fresh_ids(stem: str, taken: Iterable[str], count: int) -> list[str]:
    """Return new ids, numbered on from the highest that was ever counted."""
    numbers = [int(tail) for name in taken if (tail := name.removeprefix(stem)).isdecimal()]
    first = max(numbers, default=0) + 1
    return [f"{stem}{number}" for number in range(first, first + count)]
