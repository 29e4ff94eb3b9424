"""Read a page as a browser would, far enough to ask what leads where and what is named how."""

import re
from dataclasses import dataclass, field
from functools import lru_cache
from html.parser import HTMLParser

EMPTY = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


@dataclass(eq=False)
class Element:
    """A tag with its attributes, its own words, what it holds and what holds it."""

    tag: str
    attributes: dict[str, str]
    parent: "Element | None" = None
    children: "list[Element | str]" = field(default_factory=list)
    order: "list[Element]" = field(default_factory=list, repr=False)
    """All elements of the page as they stand, one list for all: this one and what it holds is a piece of it."""
    first: int = 0
    end: int | None = None

    def __getitem__(self, name: str) -> str:
        return self.attributes.get(name, "")

    def walk(self) -> "list[Element]":
        """Itself and everything inside it."""
        return self.order[self.first : self.end]

    def all(self, *tags: str, **wanted: str) -> "list[Element]":
        """Everything inside with one of the tags (all without any) and these attributes."""
        found = [each for each in self.walk() if not tags or each.tag in tags]
        for name, value in wanted.items():
            found = [each for each in found if each.attributes.get(name) == value]
        return found

    def one(self, *tags: str, **wanted: str) -> "Element":
        """The only such element."""
        found = self.all(*tags, **wanted)
        assert len(found) == 1, f"{len(found)} of {tags} {wanted}"
        return found[0]

    @property
    def text(self) -> str:
        """All words inside, with single spaces; spaces that do not break are kept."""
        words = "".join(child if isinstance(child, str) else f" {child.text} " for child in self.children)
        return re.sub(r"[ \t\r\n]+", " ", words).strip(" ")

    def inside(self, tag: str) -> bool:
        """Whether it stands in such a tag."""
        return self.parent is not None and (self.parent.tag == tag or self.parent.inside(tag))


class Reader(HTMLParser):
    """Builds the tree; a tag that is not closed as it was opened is an error."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = self.here = Element("page", {})
        self.root.order.append(self.root)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        assert len(names) == len(set(names)), f"{tag} has an attribute twice: {names}"
        order = self.root.order
        element = Element(tag, {name: value or "" for name, value in attrs}, self.here, [], order, len(order))
        order.append(element)
        self.here.children.append(element)
        if tag not in EMPTY and not self.get_starttag_text().endswith("/>"):  # type: ignore[union-attr]
            self.here = element
        else:
            element.end = len(order)

    def handle_endtag(self, tag: str) -> None:
        if self.get_starttag_text() and self.here.tag != tag and tag not in EMPTY:
            raise AssertionError(f"</{tag}> closes <{self.here.tag}>")
        assert self.here.parent is not None
        self.here.end = len(self.root.order)
        self.here = self.here.parent

    def handle_data(self, data: str) -> None:
        self.here.children.append(data)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)


@lru_cache(maxsize=64)
def read(html: str) -> Element:
    """The tree of a page whose tags all close; kept, for many tests look at the same pages, so nobody may change it."""
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.here is reader.root, f"<{reader.here.tag}> is never closed"
    return reader.root
