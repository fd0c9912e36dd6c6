"""The place of a file that somebody has typed."""

import os
from pathlib import Path as FilePath

from whatif.study.file.reading import StudyError
from whatif.study.refused import FileFaultKind

ENDING = ".toml"


def file_named(text: str) -> FilePath:
    """The file that a typed name means; raises `StudyError` where it can be none.

    "~" is a home folder, of whom it names. What has no ending gets that of a study, by which it is
    found in the list of files too.
    """
    whole = FilePath(text)
    if "\0" in text:
        raise StudyError(FileFaultKind.NO_NAME, FilePath(text.replace("\0", "\\0")))
    try:
        whole = whole.expanduser()
    except RuntimeError:
        raise StudyError(FileFaultKind.NO_HOME, whole) from None
    ends_as_folder = text.endswith((os.sep, "/")) or text in ("~", ".", "..")
    if ends_as_folder or whole.name in ("", "..", "."):
        raise StudyError(FileFaultKind.FOLDER_TO_WRITE, FilePath(text))
    return whole if whole.suffix else whole.with_suffix(ENDING)
