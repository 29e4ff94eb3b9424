"""What building adds to the package: the examples and SAFETY.md into the wheel, everything of the project into the source.

``pyproject.toml`` names ``BuildPy`` as the builder's own step. The files are kept once, at the top of the project, where people
look for them; ``sizing.data.shipped`` finds them there and in an installed program. Only the builder imports this module.
"""

from pathlib import Path

from setuptools.command.build_py import build_py

PROJECT = Path(__file__).parents[2]
IN_WHEEL = ("SAFETY.md", "examples/*.json", "examples/*.csv")
"""The picture of the results page is for the README alone."""
IN_SOURCE = ("*.md", "LICENSE", ".gitignore", ".ci/*", "examples/*", "tests/**/*")


def matching(patterns: tuple[str, ...]) -> list[str]:
    """Files of the project, as paths from its top with slashes, without what Python leaves beside them."""
    found = {path for pattern in patterns for path in PROJECT.glob(pattern) if path.is_file() and path.suffix != ".pyc"}
    return sorted(path.relative_to(PROJECT).as_posix() for path in found)


class BuildPy(build_py):
    """The usual step, and the files that are kept at the top of the project."""

    def run(self) -> None:
        """Copy the modules and their files, then the examples and SAFETY.md beside the tables."""
        super().run()
        if self.editable_mode:
            return
        for name in matching(IN_WHEEL):
            target = Path(self.build_lib, "sizing", "data", name)
            self.mkpath(str(target.parent))
            self.copy_file(str(PROJECT / name), str(target), preserve_mode=False)

    def get_source_files(self) -> list[str]:
        """What the source distribution holds, complete enough that its tests pass."""
        return [*super().get_source_files(), *matching(IN_SOURCE)]
