"""Stopped from outside at any moment: exit code 130 at once, and every folder whole.

The times within which a command has to end are long enough for a busy machine; what is printed
with ``-m slow -s`` says how long it took.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

import pytest
from support.plans import SCENARIOS

from lugwright.catalogue.store import results_in
from lugwright.outputs.folder import NAMES, QUICK, is_plan_folder
from lugwright.outputs.plan_json import PLAN_FILE, read_plan
from lugwright.outputs.sheets import sheets_named
from lugwright.pipeline import check_file, read_inputs

pytestmark = pytest.mark.skipif(
    not Path("/proc/self/status").exists(), reason="looks into /proc to see when signals are taken"
)
DEMOS = ("sandbar-skiff", "six-dial-console", "bridge-24-instruments")
FIRST_S = 0.8
PATIENCE_S = 60.0
LEAST = {PLAN_FILE, *(name for sheet in sheets_named(QUICK) for name in sheet.files)}


def started(name: str, out: Path, *options: str) -> subprocess.Popen[str]:
    """``plan`` of a demo, begun and so far that it takes signals.

    Before that nothing of this program has run: Python itself is being started.
    """
    call = [sys.executable, "-m", "lugwright", "plan", str(SCENARIOS / f"{name}.toml")]
    process = subprocess.Popen(
        [*call, "--out", str(out), *options],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=taking_stops,
    )
    while process.poll() is None and not takes_signals(process.pid):
        time.sleep(0.001)
    return process


def taking_stops() -> None:
    """A call from a terminal takes Ctrl-C, also where these tests run in the background."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def takes_signals(pid: int) -> bool:
    """Whether the process has a handler of its own for the request to end."""
    try:
        lines = Path(f"/proc/{pid}/status").read_text(encoding="ascii").splitlines()
    except (FileNotFoundError, ProcessLookupError):
        return True
    caught = next((line.split()[1] for line in lines if line.startswith("SigCgt")), "0")
    return bool(int(caught, 16) >> (signal.SIGTERM - 1) & 1)


def whole(name: str, out: Path) -> str:
    """Hold that the folder is not there, or a whole plan that passes its check; which of both."""
    if not out.exists():
        return "no folder"
    assert is_plan_folder(out)
    names = {entry.name for entry in out.iterdir()}
    assert names >= LEAST
    _, report, _ = check_file(read_inputs(SCENARIOS / f"{name}.toml"), out)
    assert report.findings == ()
    return "all sheets" if names >= NAMES else "plan and lists"


def stopped(name: str, out: Path, delay_s: float, kind: signal.Signals) -> tuple[str, float]:
    """Send a signal after a while; how the call ended, and after how long."""
    process = started(name, out, "--quiet")
    time.sleep(delay_s)
    sent_s = time.monotonic()
    process.send_signal(kind)
    told = process.communicate(timeout=PATIENCE_S)[1]
    took_s = time.monotonic() - sent_s
    expected = -signal.SIGKILL if kind is signal.SIGKILL else 130
    assert process.returncode in (expected, 0), told
    assert "Traceback" not in told
    assert "rejects" not in told
    if process.returncode == 0:
        return "done before", took_s
    return "killed" if kind is signal.SIGKILL else "130", took_s


def swept(kind: signal.Signals, count: int, seed: int, place: Path) -> None:
    """So many stops at random moments over the demos; a folder, once there, is used again."""
    draw = random.Random(seed)
    ends: Counter[str] = Counter()
    longest_s = 0.0
    for number in range(count):
        name = DEMOS[number % len(DEMOS)]
        out = place / f"{name}-{draw.randrange(4)}"
        ended, took_s = stopped(name, out, draw.uniform(0, FIRST_S), kind)
        ends[f"{ended}, {whole(name, out)}"] += 1
        longest_s = max(longest_s, took_s if ended == "130" else 0.0)
    assert any(words.startswith(("130", "killed")) for words in ends)
    print(f"\n{count} × {kind.name}: {dict(ends)}; longest {longest_s:.2f} s")


@pytest.mark.parametrize(
    "kind", [signal.SIGINT, pytest.param(signal.SIGKILL, marks=pytest.mark.slow)]
)
def test_stopped_at_a_few_moments(kind: signal.Signals, tmp_path: Path) -> None:
    """A fixed sample of the wide sweep."""
    swept(kind, 2, 7, tmp_path)


@pytest.mark.slow
@pytest.mark.parametrize("kind", [signal.SIGINT, signal.SIGKILL])
def test_stopped_at_any_moment(kind: signal.Signals, tmp_path: Path) -> None:
    """Two hundred stops each."""
    swept(kind, 200, 20, tmp_path)


@pytest.mark.parametrize(
    "kind", [signal.SIGTERM, pytest.param(signal.SIGINT, marks=pytest.mark.slow)]
)
def test_the_best_plan_so_far_is_kept_and_called_what_it_is(
    kind: signal.Signals, tmp_path: Path
) -> None:
    """Stopped once there is a plan: its lists are written, and what is missing is told."""
    process = started("switch-panel-loom", tmp_path / "plan")
    assert process.stderr is not None
    for line in process.stderr:
        if "best so far" in line:
            break
    process.send_signal(kind)
    told = process.communicate(timeout=PATIENCE_S)[1]
    assert process.returncode == 130
    assert whole("switch-panel-loom", tmp_path / "plan") == "plan and lists"
    proof = read_plan(tmp_path / "plan").proof
    assert not proof.proved
    assert "holds the best plan so far, not proved best" in told
    assert "Not all sheets were made" in told


def test_stopped_hubs_tell_what_is_known(tmp_path: Path) -> None:
    """The table of the hubs that were settled goes out; the page is left, and that is told."""
    call = [
        sys.executable,
        "-m",
        "lugwright",
        "hubs",
        str(SCENARIOS / "bridge-24-instruments.toml"),
    ]
    process = subprocess.Popen(
        [*call, "--out", str(tmp_path / "plan")],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=taking_stops,
    )
    assert process.stderr is not None
    process.stderr.readline()
    process.send_signal(signal.SIGINT)
    out, told = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 130
    assert "Traceback" not in told
    assert "hubs.html was not made" in told
    assert len(out.splitlines()) > 24
    assert not (tmp_path / "plan").exists()


@pytest.mark.parametrize(
    "engine", ["local", pytest.param("serial", marks=pytest.mark.slow)]
)
def test_a_stopped_catalogue_leaves_whole_results_and_no_process(
    engine: str, tmp_path: Path
) -> None:
    """Results that are there can be read; started again the catalogue goes on."""
    (tmp_path / "models").mkdir()
    for number in range(8):
        text = (SCENARIOS / "sandbar-skiff.toml").read_text(encoding="utf-8")
        (tmp_path / "models" / f"m{number}.toml").write_text(text, encoding="utf-8")
    call = [sys.executable, "-m", "lugwright", "catalogue", "plan", str(tmp_path / "models")]
    process = subprocess.Popen(
        [*call, "--store", str(tmp_path / "store"), "--engine", engine],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        preexec_fn=taking_stops,
    )
    assert process.stderr is not None
    assert "1 of 8" in process.stderr.readline()
    process.send_signal(signal.SIGINT)
    told = process.communicate(timeout=PATIENCE_S)[1]
    assert process.returncode == 130
    assert "Traceback" not in told
    assert "warn" not in told
    assert told.splitlines()[-1] == "interrupted"
    names = [file.stem for file in (tmp_path / "store" / "models").glob("m*.json")]
    assert names
    assert all(result.plan for result in results_in(tmp_path / "store", names))
    with pytest.raises(ProcessLookupError):
        for _ in range(600):
            os.killpg(process.pid, 0)
            time.sleep(0.1)
