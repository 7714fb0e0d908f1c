"""A sheet's template inside the frame, as text: the same plan gives the same bytes."""

from __future__ import annotations

import hashlib
from base64 import b64encode
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from jinja2 import Environment, PackageLoader, StrictUndefined, Undefined
from markupsafe import Markup

from lugwright.outputs.looks import Looks
from lugwright.outputs.pages.compiled import CompiledBeside
from lugwright.outputs.pages.inline import css_text, has_long_words, looks, picture, soft_name
from lugwright.outputs.paper_size import Paper
from lugwright.outputs.shown import ShownPlan
from lugwright.outputs.sides import side_notes
from lugwright.outputs.words import one_line, program_text
from lugwright.plans.schema import Plan, WaiverUsed

_OUTPUTS = "lugwright.outputs"


@dataclass(frozen=True)
class Head:
    """What a page says above its body: title, rule set, number of the plan ("" without one).

    ``made_with`` is the program and its version, ``notes`` are on names that say the other side.
    """

    title: str
    rule_set: str
    number: str
    made_with: str
    cautions: Sequence[str]
    waivers: Sequence[WaiverUsed] = ()
    notes: Sequence[str] = ()


def head_of(shown: ShownPlan, *, sided: bool = True) -> Head:
    """The head of a page of one plan; ``sided``: its drawings show a side."""
    plan = shown.plan
    return Head(
        plan.title,
        plan.rule_set,
        shown.digest,
        program_text(plan),
        [row.caution for row in shown.rows.cautions],
        plan.waivers,
        side_notes(plan.panel) if sided else (),
    )


def render_page(
    shown: ShownPlan,
    paper: Paper,
    template: str,
    facts: Mapping[str, object],
    *,
    sheet: str,
    side: str = "",
    scripts: Sequence[str] = (),
) -> str:
    """A whole page: ``template`` (its path under ``outputs``) filled with ``facts``.

    ``sheet`` is what the page is called (``Job sheet``), ``side`` the side its drawings show, in
    words. ``scripts`` are paths under ``outputs``; only these scripts may run in the page. Texts
    are cleaned of control characters and escaped; a missing fact raises UndefinedError.
    """
    head = head_of(shown, sided=bool(side))
    facts = {**facts, "long_words": has_long_words(_names(shown.plan))}
    return render_under(head, paper, template, facts, sheet=sheet, side=side, scripts=scripts)


def render_under(
    head: Head,
    paper: Paper,
    template: str,
    facts: Mapping[str, object],
    *,
    sheet: str,
    side: str = "",
    scripts: Sequence[str] = (),
) -> str:
    """A whole page under a head of its own, as of several plans set side by side."""
    script = "".join(_text(name) for name in scripts)
    frame = {
        "head": head,
        "paper": paper,
        "sheet": sheet,
        "side": side,
        "script": Markup(script),  # noqa: S704 (files of this package)
        "policy": _policy(script),
        "shared": Looks(),
    }
    return _environment().get_template(template).render({**facts, **frame})


def _names(plan: Plan) -> Iterator[str]:
    """Names that stand in tables: posts, splices, wires."""
    yield from (post.id for post in plan.panel.posts)
    yield from (joint for piece in plan.jumpers for joint in (piece.from_joint, piece.to_joint))
    yield from (piece.label for piece in plan.jumpers)
    yield from (given.wire for given in plan.given)


def render_frame(template: str, facts: Mapping[str, object], paper: Paper) -> str:
    """A page that belongs to no one plan: a template that brings its own frame, no script."""
    frame = {"paper": paper, "policy": _policy("")}
    return _environment().get_template(template).render({**facts, **frame})


@cache
def _environment() -> Environment:
    """Templates under ``outputs``: everything escaped, nothing that is missing passes silently."""
    made = Environment(
        loader=PackageLoader(_OUTPUTS, "."),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_clean,
        keep_trailing_newline=True,
        bytecode_cache=CompiledBeside("escaped, strict, blocks trimmed, cleaned, newline kept"),
    )
    made.filters |= {"picture": picture, "looks": looks, "css": css_text, "joint": soft_name}
    return made


def _clean(value: object) -> object:
    """A text on its way into the page, on one line and without control characters."""
    if isinstance(value, Markup | Undefined):
        return value
    return one_line(str(value))


@cache
def _text(name: str) -> str:
    """A file of this package, named by its path under ``outputs``."""
    return files(_OUTPUTS).joinpath(name).read_text(encoding="utf-8")


def _policy(script: str) -> str:
    """The page's content security policy: no network, this script and no other."""
    digest = b64encode(hashlib.sha256(script.encode()).digest()).decode()
    allowed = f"'sha256-{digest}'" if script else "'none'"
    return (
        f"default-src 'none'; style-src 'unsafe-inline'; script-src {allowed}; "
        "base-uri 'none'; form-action 'none'"
    )
