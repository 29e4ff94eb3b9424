"""The page to print, written to a file that opens in a browser by itself."""

import argparse
from pathlib import Path

from api.command.files import STANDARD, design_bytes, refuse_file, write
from sizing.design import parse_design


def report_of(options: argparse.Namespace) -> bytes:
    """Size a design and write its page; what is left to print on the output, nothing where a file was written.

    Raises
    ------
    SizingError
        with one sentence per cause, if the design or the file cannot be used.
    """
    by_name = options.design != STANDARD
    folder = Path(options.design).parent if by_name else Path()
    if options.json:
        from api.answers.buildings import building_bytes

        return building_bytes(parse_design(design_bytes(options.design)), folder)
    wanted, force = options.html, options.force
    if wanted != STANDARD:
        refuse_file(wanted, options.design, force)
    design = parse_design(design_bytes(options.design))
    from sizing.report import size  # last: it loads the whole model, which a wrong design file need not wait for
    from web.pages.report import report_file

    text = report_file(size(design, folder), Path(options.design).name if by_name else "DESIGN.json", folder)
    content = text.encode("utf-8")
    if wanted == STANDARD:
        return content
    write(wanted, content, force)
    return b""
