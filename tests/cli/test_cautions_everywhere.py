"""Every output of every kind carries every caution, word for word."""

from __future__ import annotations

import html
import io
import re
import zipfile
from pathlib import Path

import pdfplumber
import pytest

from lugwright.base.cautions import ALWAYS, GOVERNED, ON_FIRST_PAGES, ON_PAGE_1
from lugwright.cli.main import run
from lugwright.outputs.kept import SUMS_FILE

ROOT = Path(__file__).parents[2]
SKIFF = str(ROOT / "scenarios" / "sandbar-skiff.toml")
# Bare data: rows for a spreadsheet or a machine, told apart from sheets by their endings.
DATA = (".csv", ".json")
MARKUP = (".html", ".svg")


def squeezed(text: str) -> str:
    """Text without white space: paper breaks lines where it likes."""
    return re.sub(r"\s+", "", text)


def lacking(text: str) -> list[str]:
    """The cautions that a text does not hold."""
    held = squeezed(text)
    return [caution for caution in ALWAYS if squeezed(caution) not in held]


def words_of(path: Path) -> str:
    """What a file says; of a PDF the first page."""
    if path.suffix == ".pdf":
        with pdfplumber.open(io.BytesIO(path.read_bytes())) as file:
            return file.pages[0].extract_text()
    if path.suffix == ".xlsx":
        with zipfile.ZipFile(path) as book:
            return html.unescape(book.read("xl/sharedStrings.xml").decode())
    text = path.read_text(encoding="utf-8")
    return html.unescape(re.sub(r"<[^>]*>", "", text)) if path.suffix in MARKUP else text


def sheets_in(folder: Path) -> list[Path]:
    """Every sheet of a folder."""
    found = [path for path in folder.rglob("*") if path.is_file() and path.suffix not in DATA]
    found = [path for path in found if path.name != SUMS_FILE]
    return sorted(found)


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a plan of the skiff and one of a changed skiff."""
    made = tmp_path_factory.mktemp("shop")
    assert run(["plan", SKIFF, "--out", str(made / "old"), "--quiet"]) == 0
    changed = ["--set", "slack=8 %", "--out", str(made / "new"), "--quiet"]
    assert run(["plan", SKIFF, *changed]) == 0
    return made


@pytest.fixture(autouse=True)
def stand_there(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Commands run in the shop's folder."""
    monkeypatch.chdir(place)


def test_every_sheet_of_a_plan(place: Path) -> None:
    """Pages, drawings, text, workbook; of each PDF the first page."""
    sheets = sheets_in(place / "old")
    assert len(sheets) >= 9
    assert {path.name: gone for path in sheets if (gone := lacking(words_of(path)))} == {}


@pytest.mark.parametrize("page", ["A4", pytest.param("Letter", marks=pytest.mark.slow)])
def test_other_pages_say_where_the_cautions_are(place: Path, page: str) -> None:
    """Each page of each PDF points to the first."""
    target = f"paper-{page}"
    assert run(["sheets", "old", "--out", target, "--page", page]) == 0
    for path in (place / target).glob("*.pdf"):
        assert lacking(words_of(path)) == [], path.name
        with pdfplumber.open(path) as file:
            texts = [one.extract_text() for one in file.pages]
        assert [n for n, text in enumerate(texts) if ON_PAGE_1 not in text] == [], path.name


def test_sheets_before_a_plan(place: Path) -> None:
    """Measuring sheet, drilling template and rear view need no plan and have them all."""
    assert run(["sheets", SKIFF, "--out", "before"]) == 0
    sheets = sheets_in(place / "before")
    assert len(sheets) >= 3
    assert {path.name: gone for path in sheets if (gone := lacking(words_of(path)))} == {}


def test_hubs_changes_and_rework(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The page of hubs, what changed, and what to do on a harness that is built."""
    assert run(["hubs", SKIFF, "--out", "side", "--quiet"]) == 0
    assert lacking(words_of(place / "side" / "hubs.html")) == []
    capsys.readouterr()
    assert run(["changes", "old", "new"]) == 0
    assert lacking(capsys.readouterr().out) == []
    assert run(["rework", SKIFF, "old", "--sheet", "work.pdf", "--quiet"]) == 0
    assert lacking(capsys.readouterr().out) == []
    assert lacking(words_of(place / "work.pdf")) == []


def test_every_boat_of_a_run(place: Path) -> None:
    """Each boat's own sheet begins with them."""
    assert run(["kits", "old", "--boats", "2", "--out", "kits"]) == 0
    with pdfplumber.open(next((place / "kits").glob("*.pdf"))) as file:
        texts = [page.extract_text() for page in file.pages]
    firsts = [text for text in texts if "Boat " in text]
    assert len(firsts) == 2
    assert [lacking(text) for text in firsts] == [[], []]
    assert all(ON_FIRST_PAGES in text for text in texts)


def test_catalogue_overviews(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On the terminal, as page and as workbook."""
    (place / "boats").mkdir()
    (place / "boats" / "skiff.toml").write_bytes(Path(SKIFF).read_bytes())
    serial = ["--engine", "serial", "--quiet"]
    assert run(["catalogue", "plan", "boats", *serial]) == 0
    assert run(["catalogue", "impact", "boats", "--set", "lugs_per_stud=3", *serial]) == 0
    assert run(["catalogue", "stock", "boats"]) == 0
    assert capsys.readouterr().out.count("electrician govern over anything") == 3
    sheets = sheets_in(place / "catalogues")
    assert len(sheets) >= 4
    assert {path.name: gone for path in sheets if (gone := lacking(words_of(path)))} == {}


def test_the_readme_says_the_same() -> None:
    """The README's list is the one place's, in its order, and its last is who governs."""
    text = squeezed((ROOT / "README.md").read_text(encoding="utf-8"))
    listed = "".join(f"-{squeezed(caution)}" for caution in ALWAYS)
    assert listed in text
    assert ALWAYS[-1] == GOVERNED
