"""How the saw says no."""

from shared.issues import Issue, Severity
from shared.plan import Cut


def refusal(code: str, subject: str, sentence: str, field: str = "") -> Issue:
    """Make the issue that refuses a plan; lengths in the sentence are ticks, as in the file."""
    return Issue(
        code=code, severity=Severity.ERROR, subject=subject, field=field, sentence=sentence
    )


def unfit(cut: Cut, code: str, said: str, field: str = "") -> Issue:
    """Make the issue that refuses a cut, which it names."""
    return refusal(code, str(cut.number), f"Cut {cut.number}: {said}.", field)
