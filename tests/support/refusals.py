"""Helper for tests of what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from whatif.study.refused import Refused
from whatif.telling.refusals import refusal_words


@contextmanager
def refusing(words: str, as_a: type[Refused] = Refused) -> Iterator[None]:
    """Holds that what is done inside is refused, and that the reason has these words in it."""
    with pytest.raises(as_a) as caught:
        yield
    assert words in refusal_words(caught.value)
