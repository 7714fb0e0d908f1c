"""A scenario without some of its instruments, as text of its own: an option not taken."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

import tomlkit

from lugwright.base.errors import BadInput
from lugwright.base.spelling import near_or_all
from lugwright.base.toml import TomlFile


def text_without(toml: TomlFile, names: Collection[str], title: str) -> str:
    """The scenario's text without the named instruments, comments and order kept.

    What comes aboard for one of them goes too: boat wires any of which lands on it. A strap is
    taken off its studs there, and goes where it joins nothing any more.
    ``title`` replaces the title. Raises BadInput for a name that is no instrument's.
    """
    document: Any = tomlkit.parse(toml.text)
    known = [part.get("name") for part in document.get("instrument", [])]
    for name in sorted(set(names) - set(known)):
        hint = near_or_all(name, map(str, known))
        message = f"{name!r} is not an instrument of this scenario"
        raise BadInput(toml.complaint((), "without", message, hint))
    document["title"] = title
    _take_out(document, "instrument", lambda part: part.get("name") in names)
    _take_out(document, "boat_wires", lambda part: _lands_on(part, names))
    for strap in document.get("strap", []):
        for at in range(len(strap.get("posts", [])) - 1, -1, -1):
            if str(strap["posts"][at]).rpartition(".")[0] in names:
                del strap["posts"][at]
    _take_out(document, "strap", lambda part: len(part.get("posts", [])) < 2)
    return tomlkit.dumps(document)


def _take_out(document: Any, key: str, gone: Any) -> None:
    """Take the parts that are gone out of an array of tables; the array too when none is left."""
    parts = document.get(key)
    if parts is None:
        return
    for at in range(len(parts) - 1, -1, -1):
        if gone(parts[at]):
            del parts[at]
    if not len(parts):
        del document[key]


def _lands_on(part: Any, names: Collection[str]) -> bool:
    posts = [str(wire.get("lands_on", "")) for wire in part.get("wires", [])]
    return any(post.rpartition(".")[0] in names for post in posts)
