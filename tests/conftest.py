"""What every test stands on: steady generated examples, and fixtures that several parts share."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings
from support.shared import FOLDER

if TYPE_CHECKING:
    from playwright.sync_api import Browser

# No clock and no luck in a test: a slow or busy machine fails nothing, a failure comes again.
settings.register_profile(
    "steady",
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
settings.load_profile("steady")

KEPT = pytest.StashKey[TemporaryDirectory[str]]()
_NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


def pytest_configure(config: pytest.Config) -> None:
    """One folder a run for what its workers share; they inherit its name."""
    if "PYTEST_XDIST_WORKER" not in os.environ:
        config.stash[KEPT] = TemporaryDirectory(prefix="lugwright-tests-")
        os.environ[FOLDER] = config.stash[KEPT].name


def pytest_unconfigure(config: pytest.Config) -> None:
    """The folder goes with the run."""
    if KEPT in config.stash:
        config.stash[KEPT].cleanup()


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """A headless browser found on the path; skips with a reason where there is none."""
    program = next(filter(None, map(shutil.which, _NAMES)), None)
    if program is None:
        pytest.skip("no chromium on the path")
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield browser
        browser.close()
