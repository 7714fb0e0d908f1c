"""The guide: every page is there, what is made is what the models say, what is run runs."""

from __future__ import annotations

import doctest
import re
import shlex
from importlib import import_module
from pathlib import Path

import click
import matplotlib
import pytest

import lugwright
from lugwright.cli.main import COMMANDS
from lugwright.guide.key_tables import PAGES
from lugwright.guide.topics import TOPICS, topic
from lugwright.limits.spec_rows import SPECS
from lugwright.limits.waivable import WAIVABLE
from lugwright.scenario.json_schema import scenario_schema
from lugwright.stock import rows

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "src" / "lugwright" / "guide"
README = ROOT / "README.md"


def test_every_page_stands_and_no_other() -> None:
    """A topic has its page, a page its topic."""
    assert {f"{each.name}.md" for each in TOPICS} == {path.name for path in FOLDER.glob("*.md")}
    assert all(each.text.startswith("# ") for each in TOPICS)


@pytest.mark.parametrize("name", sorted(PAGES))
def test_made_pages_are_what_the_models_say(name: str) -> None:
    """Write them anew with ``python -m lugwright.guide.key_tables src/lugwright/guide``."""
    assert (FOLDER / name).read_text(encoding="utf-8") == PAGES[name]()


def test_the_readme_is_short_and_its_picture_is_what_is_drawn() -> None:
    """At most 6 kB; the drawing is the skiff's own, as the program makes it."""
    assert len(README.read_bytes()) <= 6 * 1024
    answer = lugwright.plan(lugwright.read(ROOT / "scenarios" / "sandbar-skiff.toml"))
    assert answer.plan is not None
    assert (FOLDER / "skiff.svg").read_text(encoding="utf-8") == answer.plan.drawing() + "\n"


def test_every_key_of_the_schema_is_on_the_page() -> None:
    """Key by key, whichever table it stands in."""
    schema, page = scenario_schema(), topic("scenario-file").text
    parts = [schema, *schema["$defs"].values()]
    keys = {key for part in parts for key in part.get("properties", {})}
    assert {key for key in keys if f"| `{key}` |" not in page} == set()


def test_every_limit_is_on_its_page() -> None:
    """By name, with its value in each rule set."""
    page = topic("limits").text
    assert {spec.name for spec in SPECS if f"**`{spec.name}`**" not in page} == set()


def test_stock_columns_and_waivable_limits_are_told() -> None:
    """Held to the tables that read them."""
    told = topic("other-files").text
    columns = (
        rows.CONDUCTOR_COLUMNS,
        rows.FITTING_COLUMNS,
        rows.HARDWARE_COLUMNS,
        rows.FUSE_COLUMNS,
    )
    names = {name for each in columns for name in (*each.required, *each.optional)}
    assert {name for name in names if f"`{name}`" not in told} == set()
    assert {name for name in WAIVABLE if f"`{name}`" not in topic("shop").text} == set()


def test_the_engineers_page_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    """As it stands, from the folder that holds ``scenarios/``."""
    matplotlib.use("Agg")
    monkeypatch.chdir(ROOT)
    ended = doctest.testfile(str(FOLDER / "engineers.md"), module_relative=False)
    assert ended.attempted > 20
    assert ended.failed == 0


def _calls(text: str) -> set[str]:
    """Every ``lugwright …`` call in a text, in code or between backquotes."""
    inline = re.findall(r"`(lugwright [^`]+)`", text)
    blocks = re.findall(r"^    (lugwright .+)$", text, flags=re.MULTILINE)
    return {" ".join(call.split()) for call in (*inline, *blocks)}


def _command(words: list[str]) -> click.Command:
    """The command a call names. Raises KeyError for one that is none."""
    module = import_module(COMMANDS[words[0]][0])
    found = next(
        each
        for each in vars(module).values()
        if isinstance(each, click.Command) and each.name == words[0]
    )
    if isinstance(found, click.Group):
        return found.commands[words[1]]
    return found


@pytest.mark.parametrize("page", [*(each.name for each in TOPICS), "README"])
def test_every_call_told_is_one_that_can_be_made(page: str) -> None:
    """Commands and options that are named exist."""
    text = README.read_text(encoding="utf-8") if page == "README" else topic(page).text
    for call in sorted(_calls(text)):
        words = [word for word in shlex.split(call)[1:] if word not in ("…", "[TOPIC]", "[NAME]")]
        if words and words[0] in COMMANDS:
            known = _command(words).params
            options = {name for one in known for name in (*one.opts, *one.secondary_opts)}
            assert {word for word in words if word.startswith("-")} <= options | {"--help"}, call


def test_values_are_written_as_a_person_writes_them() -> None:
    """No fraction of a millimetre without its unit, and no bracket that stays open."""
    page = (FOLDER / "scenario-file.md").read_text(encoding="utf-8")
    rows = [line for line in page.splitlines() if line.startswith("| `")]
    assert [row for row in rows if re.search(r"\| [0-9]+/[0-9]+ \|", row)] == []
    assert [row for row in rows if row.count("[") != row.count("]")] == []
    assert any("| 0.8 mm |" in row for row in rows)
