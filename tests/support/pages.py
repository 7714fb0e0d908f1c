"""Job sheets to try: pages of whole plans, plans with hostile names, text of printed pages."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import html5lib
from support.shared import shared

from lugwright.outputs.digest import plan_digest
from lugwright.outputs.job.job_sheet import FILE, sheet_files
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.plan_json import SEAL, plan_text
from lugwright.outputs.shown import ShownPlan
from lugwright.plans.schema import Plan

if TYPE_CHECKING:
    from playwright.sync_api import Browser

HOSTILE = "\"></svg></style><script>alert(1)</script>&'=1+1 " + "w" * 200


_PAGES: dict[tuple[str, str], str] = {}


def page_of(plan: Plan, page: str = "A4") -> str:
    """The job sheet of a plan, made once for each plan and paper."""
    key = plan_text(plan), page
    if key not in _PAGES:
        _PAGES[key] = sheet_files(ShownPlan(plan), Paper(page))[FILE].decode()
    return _PAGES[key]


def body_of(html: str) -> str:
    """All text of a page the strict parser accepts, white space made single."""
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
    return " ".join(" ".join(tree.find("body").itertext()).split())


def renamed(plan: Plan, name: str, new: str) -> Plan:
    """The plan with a name replaced wherever it stands, in ids and sentences too."""
    text = plan_text(plan).replace(name, json.dumps(new, ensure_ascii=False)[1:-1])
    return Plan.model_validate({k: v for k, v in json.loads(text).items() if k != SEAL})


def written(plan: Plan, folder: Path, page: str = "A4") -> str:
    """The address of the sheet as a file."""
    file = folder / FILE
    file.write_text(page_of(plan, page), encoding="utf-8")
    return file.as_uri()


def printed(browser: Browser, plan: Plan, folder: Path, page: str = "A4") -> Path:
    """The sheet as the browser prints it to PDF, once a run for each plan and paper."""

    def made() -> bytes:
        tab = browser.new_page()
        tab.goto(written(plan, folder, page))
        pdf = tab.pdf(prefer_css_page_size=True)
        tab.close()
        return pdf

    file = folder / "job-sheet.pdf"
    file.write_bytes(shared(f"job sheet {plan_digest(plan)} printed on {page}", made))
    return file
