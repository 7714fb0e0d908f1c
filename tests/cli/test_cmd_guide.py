"""``lugwright guide`` and ``lugwright patterns``: offline, a page or a pattern at a time."""

from __future__ import annotations

import json

import pytest

from lugwright.cli.main import run
from lugwright.guide.topics import TOPICS
from lugwright.scenario.library import find_pattern, pattern_names


def test_the_list_of_pages(capsys: pytest.CaptureFixture[str]) -> None:
    """Every page by name."""
    assert run(["guide"]) == 0
    printed = capsys.readouterr().out
    assert all(each.name in printed for each in TOPICS)


@pytest.mark.parametrize("name", [each.name for each in TOPICS])
def test_a_page_is_printed_whole(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """The page's own text, and the same in the answer as data."""
    assert run(["guide", name]) == 0
    printed = capsys.readouterr().out
    assert run(["guide", name, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["text"].strip() == printed.strip()


def test_an_unknown_page_names_the_pages(capsys: pytest.CaptureFixture[str]) -> None:
    """The nearest one first, exit 2."""
    assert run(["guide", "riger"]) == 2
    assert 'did you mean "rigger"?' in capsys.readouterr().err


@pytest.mark.parametrize("name", pattern_names())
def test_a_pattern_tells_its_posts_and_draws_them(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each post stands in the table, and its number in the drawing at its side of the middle."""
    assert run(["patterns", name]) == 0
    told, _, drawn = capsys.readouterr().out.partition("Seen from the back:")
    pattern = find_pattern(name)
    assert pattern is not None
    rows = [line for line in drawn.splitlines() if line.strip(" .") and "Invented" not in line]
    for number, (post, part) in enumerate(pattern.posts.items(), 1):
        assert f"{number} {post}" in told
        places = [row.find(str(number)) for row in rows if str(number) in row.split()]
        if part.at[0] < 0:
            assert any(place < 20 for place in places)
    assert "measure the instrument in your hand" in drawn


def test_a_device_tells_its_ways(capsys: pytest.CaptureFixture[str]) -> None:
    """Kind, near post, far post and positions, and as data the keys of the file."""
    assert run(["patterns", "key-switch"]) == 0
    printed = capsys.readouterr().out
    assert "positions: off, on; at rest off" in printed
    assert "switch  bat   ign  on      15 A" in printed
    assert run(["patterns", "key-switch", "--json"]) == 0
    (way,) = json.loads(capsys.readouterr().out)["pattern"]["ways"]
    assert (way["from"], way["to"], way["closed"]) == ("bat", ["ign"], ["on"])


def test_the_library_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    """A line for each pattern; an unknown one is answered with the nearest."""
    assert run(["patterns"]) == 0
    printed = capsys.readouterr().out
    assert all(name in printed for name in pattern_names())
    assert run(["patterns", "dial-25"]) == 2
    assert 'did you mean "dial-52"?' in capsys.readouterr().err
