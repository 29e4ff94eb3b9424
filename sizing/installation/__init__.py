"""What somebody must know to wire, fill and look after a sized fountain, and what can hurt them.

In come a report and its basin; out come cable sizes with their voltage drop, fuse, voltage on a cold dawn, the notes of
SAFETY.md that apply (each with the number that asks for it), and the care through the year.

Read: ``electric_limits`` (fuse, cold voltage, limits that rules name), ``wires`` (which cable size would do),
``reasons`` (why a note applies), ``safety`` (all notes in order), ``care`` (who does what, when), ``building``
(everything together, with basin, water and frost), ``answer``.

Decided: nothing here is permission. A reason warns and never says that a thing may be done. A note is left out only where the
design rules it out; what the design does not say never rules one out. Local code and licensed people decide.
Each cable size is sized over the report's own sun, at the same operating points, so that a thicker cable never comes out
worse.
"""

from sizing.installation.answer import CableSizeAnswer, CareAnswer, SafetyNoteAnswer, WiresAnswer
from sizing.installation.building import Building, building_of
from sizing.installation.safety import SafetyNote
from sizing.installation.wires import CableRow, Wires

__all__ = [
    "Building",
    "CableRow",
    "CableSizeAnswer",
    "CareAnswer",
    "SafetyNote",
    "SafetyNoteAnswer",
    "Wires",
    "WiresAnswer",
    "building_of",
]
