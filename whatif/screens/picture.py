"""A picture of the screen as a file: beside the study, where one finds it again."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from whatif.telling.paper import not_written_words

if TYPE_CHECKING:
    from textual.app import App

TITLE: Final = "Picture of the screen"
SAYS: Final = "save what is seen now as a picture (SVG, screenshot), beside the study"


class NotSaved(Exception):
    """No folder takes the picture; the text says why."""


def save_picture(app: App[None], study: Path | None) -> str:
    """Save the screen beside the study, else in the working folder; says where.

    Raises `NotSaved` where neither takes it.
    """
    name = "whatif" if study is None else study.stem
    file = f"{name}-{datetime.now():%Y-%m-%d-%H%M%S}.svg"
    beside, faults = None, []
    try:
        beside = None if study is None else study.absolute().parent
        folders = [beside or Path.cwd(), Path.cwd()]
    except FileNotFoundError as fault:  # the working folder has been removed
        faults.append(not_written_words(file, fault.strerror or str(fault)))
        folders = [] if beside is None else [beside]
    for folder in dict.fromkeys(folders):
        try:
            app.save_screenshot(file, str(folder))
        except OSError as fault:
            faults.append(not_written_words(str(folder / file), fault.strerror or str(fault)))
        else:
            where = "beside the study" if folder == beside else f"in {folder}"
            return f"The picture of the screen is {file}, {where}."
    raise NotSaved(faults[0])
