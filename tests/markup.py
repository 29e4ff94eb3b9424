"""Read a page as a browser would, far enough to ask what leads where and what is named how."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

EMPTY = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


@dataclass
class Element:
    """A tag with its attributes, its own words, what it holds and what holds it."""

    tag: str
    attributes: dict[str, str]
    parent: "Element | None" = None
    children: "list[Element | str]" = field(default_factory=list)

    def __getitem__(self, name: str) -> str:
        return self.attributes.get(name, "")

    def walk(self) -> "Iterator[Element]":
        """Itself and everything inside it."""
        yield self
        for child in self.children:
            if isinstance(child, Element):
                yield from child.walk()

    def all(self, *tags: str, **wanted: str) -> "list[Element]":
        """Everything inside with one of the tags (all without any) and these attributes."""
        return [
            each
            for each in self.walk()
            if (not tags or each.tag in tags) and all(each.attributes.get(name) == value for name, value in wanted.items())
        ]

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

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        assert len(names) == len(set(names)), f"{tag} has an attribute twice: {names}"
        element = Element(tag, {name: value or "" for name, value in attrs}, self.here)
        self.here.children.append(element)
        if tag not in EMPTY and not self.get_starttag_text().endswith("/>"):  # type: ignore[union-attr]
            self.here = element

    def handle_endtag(self, tag: str) -> None:
        if self.get_starttag_text() and self.here.tag != tag and tag not in EMPTY:
            raise AssertionError(f"</{tag}> closes <{self.here.tag}>")
        assert self.here.parent is not None
        self.here = self.here.parent

    def handle_data(self, data: str) -> None:
        self.here.children.append(data)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)


def read(html: str) -> Element:
    """The tree of a page whose tags all close."""
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.here is reader.root, f"<{reader.here.tag}> is never closed"
    return reader.root
