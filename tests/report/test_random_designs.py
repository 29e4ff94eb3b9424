"""Random changes to the examples: a report, or sentences at places that exist, and never another exception."""

import json
from typing import Any

from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from sizing.answers.kit import plain
from sizing.design.pointers import pointer_part
from sizing.design.reading import MOST_PROBLEMS, read_design
from sizing.foundation.errors import InputError, Problem
from sizing.report.answer import sizing_answer
from sizing.report.report import size
from tests.draws import drawn
from tests.wrong import Build, check_sentence, leaves

JSON_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["nozzle", "spillway", "open_pipe", "controller", "direct", "monthly", "\ud800", "é/~ "]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


@drawn(60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_change_gives_a_report_or_sentences(data: st.DataObject, example: Build) -> None:
    document = example(name=data.draw(st.sampled_from(["quince_court_jet", "terrace_spillway", "fern_bubbler"])))
    for _ in range(data.draw(st.integers(1, 3))):
        mutate(document, data)
    problems: tuple[Problem, ...] = ()
    try:
        found = size(read_design(document))
        assert json.dumps(plain(sizing_answer(found)), allow_nan=False)
    except InputError as error:
        problems = error.problems
    for problem in problems[:MOST_PROBLEMS]:
        check_sentence(problem)
        assert stands(document, problem.pointer), problem


def mutate(document: dict[str, Any], data: st.DataObject) -> None:
    """Replace, take out or add one value somewhere; numbers are often only stretched, so that some designs live."""
    pointer, old = data.draw(st.sampled_from([place for place in leaves(document) if place[0]]))
    *way, last = (part.replace("~1", "/").replace("~0", "~") for part in pointer.split("/")[1:])
    holder: Any = document
    for part in way:
        holder = holder[int(part)] if isinstance(holder, list) else holder[part]
    what = data.draw(st.sampled_from(["stretch", "stretch", "stretch", "replace", "take out", "add"]))
    if what == "take out":
        del holder[int(last) if isinstance(holder, list) else last]
    elif what == "add" and isinstance(holder, dict):
        holder[data.draw(st.text(max_size=12))] = data.draw(JSON_VALUES)
    elif what == "add":
        holder.append(data.draw(JSON_VALUES))
    else:
        stretched = what == "stretch" and isinstance(old, int | float)
        value = old * data.draw(st.sampled_from([0, 0.3, 0.8, 1.1, 1.9, 10, -1])) if stretched else data.draw(JSON_VALUES)
        holder[int(last) if isinstance(holder, list) else last] = value


def stands(document: Any, pointer: str) -> bool:
    """Whether a pointer's value, or what should hold it, is in the document; names are compared as the pointer writes them."""
    parts = pointer.split("/")[1:]
    for index, part in enumerate(parts):
        inner = dict(enumerate(document)) if isinstance(document, list) else document if isinstance(document, dict) else {}
        named = {pointer_part(name): value for name, value in inner.items()}
        if part not in named:
            return index == len(parts) - 1 or document is None or not isinstance(document, dict | list)
        document = named[part]
    return True
