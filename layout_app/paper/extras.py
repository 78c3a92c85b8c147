"""Formats that need a library which is not always installed."""


class MissingExtraError(Exception):
    """A library is missing; the message is one sentence that says what to install."""

    def __init__(self, what: str, extra: str) -> None:
        super().__init__(
            f'{what} needs one more library: python -m pip install "ripfirst[{extra}]".'
        )
