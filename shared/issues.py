"""What is wrong with the maker's input, said in one sentence each."""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much an issue stands in the way."""

    ERROR = "error"
    """The subject is left out of the plan until it is mended."""
    WARNING = "warning"
    """Planned as it stands, but probably not what was meant."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue:
    """One mistake, named by a stable code and tied to what it is about.

    Attributes
    ----------
    code
        Stable, kebab-case, for example ``"part-too-large"``.
    severity
        Whether the subject can still be planned.
    subject
        Id of the part, stock row, sheet or cut concerned; ``""`` for the whole job.
    field
        Name of the attribute concerned, or ``""``.
    sentence
        One sentence for the maker.
    """

    code: str
    severity: Severity
    subject: str
    field: str = ""
    sentence: str
