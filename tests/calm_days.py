"""The same year without passing clouds, for what must mirror about noon or hold on a smooth day."""

from dataclasses import replace

from sizing.sky.weather import Sky


def calm(sky: Sky) -> Sky:
    """A made-up year whose days have the same sums and no cloud that passes."""
    assert sky.calm is not None
    return replace(sky, ghi=sky.calm.ghi, dhi=sky.calm.dhi, dni=sky.calm.dni)
