"""What ships with the program as files: tables, credits, examples and SAFETY.md.

README.md beside this file says where each table comes from, ``packing`` how the rest gets into the package.
"""

from pathlib import Path

HERE = Path(__file__).parent
CHECKOUT = HERE.parent.parent


def shipped(name: str) -> Path:
    """Where a file is that ships with the program: here if it was installed, at the top of the project if that is worked on.

    Examples
    --------
    >>> shipped("examples/fern_bubbler.json").is_file()
    True
    """
    return HERE / name if (HERE / name).exists() else CHECKOUT / name
