"""Files that are named on the command line: read up to their limit, written where there is room and nothing is lost."""

import sys
from pathlib import Path

from sizing.foundation import SizingError, input_error

STANDARD = "-"
"""In place of a file's name: standard input, or standard output."""


def design_bytes(name: str) -> bytes:
    """The bytes of a design file or of standard input; at most one byte more than may be read."""
    from sizing.design import LARGEST_FILE, file_bytes

    content = file_bytes(name) if name != STANDARD else standard_input(LARGEST_FILE + 1)
    if len(content) > LARGEST_FILE:
        detail = f"the file has more than {LARGEST_FILE} bytes, which no design file needs; check that it is the right one"
        raise input_error(name, "too_large", detail)
    if not content.strip():
        raise input_error(name, "file_empty", "the file is empty; save the design again, or start from one of the examples")
    return content


def standard_input(most: int) -> bytes:
    """At most so many bytes of standard input."""
    from sizing.design import reason

    try:
        return sys.stdin.buffer.read(most)
    except (OSError, ValueError) as error:
        raise input_error(STANDARD, "file_unreadable", reason(error)) from None


def log_bytes(name: str) -> bytes:
    """The bytes of a log or of standard input; at most one byte more than may be read."""
    from sizing.design import reason
    from sizing.measured.logs import LARGEST

    try:
        if name == "-":
            return sys.stdin.buffer.read(LARGEST + 1)
        with open(name, "rb") as file:
            return file.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        raise input_error(name, "file_unreadable", reason(error).replace("design file", "log")) from None


def refuse_file(name: str, design: str, force: bool, option: str = "--html") -> None:
    """Refuse a file that cannot be written, before anything is computed."""
    path = Path(name)
    if path.is_dir():
        raise input_error(option, "file_unwritable", f"{name} is a folder; name a file in it, such as {path / 'fountain.html'}")
    if not path.parent.is_dir():
        raise input_error(option, "file_unwritable", f"there is no folder {path.parent}; make it, or name another")
    if path.exists() and not force:
        raise there_already(name, option)
    if path.exists() and design != STANDARD and Path(design).exists() and path.samefile(design):
        raise input_error(option, "file_exists", f"{name} is the design file itself, which would be lost; name another file")


def there_already(name: str, option: str) -> SizingError:
    """The sentence for a file that would be lost."""
    return input_error(option, "file_exists", f"{name} is there already; name another file, or add --force to write over it")


def write(name: str, content: bytes, force: bool, option: str = "--html") -> None:
    """Write the file; half a file that is new is taken away again.

    Raises
    ------
    SizingError
        if it is there already and may not be written over, or cannot be written.
    """
    begun = False
    try:
        with open(name, "wb" if force else "xb") as file:
            begun = not force
            file.write(content)
    except FileExistsError:
        raise there_already(name, option) from None
    except OSError as error:
        if begun:
            Path(name).unlink(missing_ok=True)
        raise input_error(option, "file_unwritable", f"{name} cannot be written ({error.strerror}); name another place") from None
