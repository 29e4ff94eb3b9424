"""The page to print, written to a file that opens in a browser by itself."""

import argparse
from pathlib import Path

from api.command import design_bytes
from sizing.errors import SizingError, refuse
from sizing.reading import parse_design

STANDARD = "-"
"""In place of a file's name: standard input, or standard output."""


def report_of(options: argparse.Namespace) -> bytes:
    """Size a design and write its page; what is left to print on the output, nothing where a file was written.

    Raises
    ------
    SizingError
        with one sentence per cause, if the design or the file cannot be used.
    """
    if options.json:
        from api.buildings import building_bytes

        by_name = options.design != STANDARD
        return building_bytes(parse_design(design_bytes(options.design)), Path(options.design).parent if by_name else Path())
    wanted, force = options.html, options.force
    if wanted != STANDARD:
        refuse_file(wanted, options.design, force)
    design = parse_design(design_bytes(options.design))
    from sizing.report import size  # last: it loads the whole model, which a wrong design file need not wait for
    from web.report_page import report_file

    by_name = options.design != STANDARD
    folder = Path(options.design).parent if by_name else Path()
    text = report_file(size(design, folder), Path(options.design).name if by_name else "DESIGN.json", folder)
    content = text.encode("utf-8")
    if wanted == STANDARD:
        return content
    write(wanted, content, force)
    return b""


def refuse_file(name: str, design: str, force: bool, option: str = "--html") -> None:
    """Refuse a file that cannot be written, before anything is computed."""
    path = Path(name)
    if path.is_dir():
        raise refuse(option, "file_unwritable", f"{name} is a folder; name a file in it, such as {path / 'fountain.html'}")
    if not path.parent.is_dir():
        raise refuse(option, "file_unwritable", f"there is no folder {path.parent}; make it, or name another")
    if path.exists() and not force:
        raise there_already(name, option)
    if path.exists() and design != STANDARD and Path(design).exists() and path.samefile(design):
        raise refuse(option, "file_exists", f"{name} is the design file itself, which would be lost; name another file")


def there_already(name: str, option: str) -> SizingError:
    """The sentence for a file that would be lost."""
    return refuse(option, "file_exists", f"{name} is there already; name another file, or add --force to write over it")


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
        raise refuse(option, "file_unwritable", f"{name} cannot be written ({error.strerror}); name another place") from None
