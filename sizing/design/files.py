"""Design files by their names: read up to the limit, or one sentence that says why not."""

from os import PathLike

from sizing.design.reading import LARGEST_FILE
from sizing.foundation.errors import input_error


def file_bytes(name: str | PathLike[str]) -> bytes:
    """The bytes of a design file; at most one byte more than may be read.

    Raises
    ------
    InputError
        if there is no such file, or it cannot be read.
    """
    try:
        with open(name, "rb") as file:
            return file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:
        raise input_error(str(name), "file_unreadable", reason(error)) from None


def reason(error: OSError | ValueError) -> str:
    """Why a file could not be read, and what to do."""
    if isinstance(error, FileNotFoundError):
        return "there is no such file; check the name and the folder"
    if isinstance(error, IsADirectoryError):
        return "this is a folder; name a design file in it"
    if isinstance(error, PermissionError):
        return "this file may not be read; change its permissions or copy it"
    return "this cannot be read as a file; check the name"
