"""Between the texts of the form and a design, both ways, with every text kept as it was typed.

In come the fields of an address or a body; out come a design or a sentence beside each wrong field; and a design becomes texts
again. The design model alone judges values; labels, units and limits are read from it.

Read: ``fields`` and ``panel_and_pump`` (questions made from the models), ``questions`` (all of them in order), ``grids``
(tables), ``several`` (panels and pumps), ``numbers``, ``position``, ``places``, ``typed_sky``, ``part_prices``,
``measured_texts``; ``reading`` (texts to a design file), ``sentences`` (problems to their boxes), ``form`` (both ways),
``sending`` (address or body).

2026-11-25, one GET form, one address, no storage. The address holds every answer, so a result can be shared, kept and gone
    back to, and nothing of a pupil is stored. Addresses are capped at 8,000 bytes; a design file holds what does not fit.
2026-11-25, GET while it is short, POST where it is long. With one panel and one pump the form asks by GET (5 KB with its empty
    boxes); with several it sends a body. What fits 7,000 bytes without empty boxes is answered with 303 and that address
    (three panels and four pumps: 4,900 bytes); what does not (twelve pumps of forty points: 61 KB) is shown at once, with a
    sentence and the file to save. ``sending`` does this for every page of a design. A design of more than 3,000 bytes is
    written once on a page, in one field, and its links are buttons: the orchard's results take 143 KB, not 165. Refused: a
    store on the server; POST for all, which would cost every small design its address. Bodies of forms are capped at 128 KB,
    because a name goes before every number.
2026-11-25, panels and pumps by position. A name holds the position (``pumps.2.rated_voltage_v``), ``chosen.pump`` the position
    that is sized; ids are carried for the file and made where they are missing. Adding, copying and removing are pages that
    lead back to the form, so they need no script and lose no text.
"""
