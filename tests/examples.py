"""How many examples a slow property draws: a third in the suite, all in the long form."""

from hypothesis import settings

STEADY = "steady"
"""The profile of the suite; under any other, such as that of ``--soak``, all are drawn."""
ONE_OF = 3


def some_of(count: int) -> int:
    """Return a third of so many examples, rounded up; all of them in the long form.

    For properties that take a second or more. The number that stands in the test is that of
    the long form; the suite draws the same examples each time, those drawn first.
    """
    return -(-count // ONE_OF) if settings.get_current_profile_name() == STEADY else count
