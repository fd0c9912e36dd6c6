"""The fault that the parts of this package pass on until it is put into words."""


class Unread(Exception):
    """Why a text is no quantity, and texts that may have been meant.

    `fixes` are whole texts to type instead; those that do not read themselves
    are dropped before the user sees them. With none left, `example` is shown, or
    else the example of the dimension.
    """

    def __init__(self, reason: str, fixes: tuple[str, ...] = (), example: str = "") -> None:
        super().__init__(reason)
        self.reason = reason
        self.fixes = fixes
        self.example = example
