"""The launcher's promises on machines that lack something; the machine is made of small real programs on PATH."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
sys.path.append(str(ROOT / "engine"))

from launcher import browsers, environment, node, system  # noqa: E402
from launcher.trouble import Trouble  # noqa: E402


def program(folder: Path, name: str, script: str) -> Path:
    """Put a shell script on the machine."""
    folder.mkdir(exist_ok=True)
    path = folder / name
    path.write_text(f"#!/bin/sh\n{script}\n")
    path.chmod(0o755)
    return path


def launch(*arguments: str, before: str = "") -> subprocess.CompletedProcess[str]:
    """Run the launcher as `python3 engine` would, after some Python of the test's own."""
    code = f"import runpy, sys\n{before}\nsys.argv[1:] = {list(arguments)!r}\n"
    code += "runpy.run_path('engine', run_name='__main__')"
    return subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)


def test_an_old_python_is_told_in_one_line() -> None:
    done = launch("serve", before="sys.version_info = (3, 10, 4, 'final', 0)")
    assert done.returncode == 2
    assert done.stderr == "groundbeat: this needs Python 3.11 or newer, and python3 is 3.10.4\n"


def test_the_first_file_is_readable_by_any_python_3() -> None:
    ast.parse((ROOT / "engine" / "__main__.py").read_text(), feature_version=(3, 4))


@pytest.mark.parametrize("arguments", [(), ("dance",), ("bench", "no-such-bench"), ("browsers", "all")])
def test_a_wrong_command_line_is_one_line_and_status_2(arguments: tuple[str, ...]) -> None:
    done = launch(*arguments)
    assert done.returncode == 2
    assert done.stderr.startswith("groundbeat: ")
    assert done.stderr.count("\n") == 1


def test_a_node_that_is_new_enough_is_used_as_it_is(tmp_path: Path) -> None:
    program(tmp_path / "bin", "node", "echo v20.1.0")
    program(tmp_path / "bin", "npm", "echo 11")
    path = node.ensure_node(str(tmp_path / "bin"), tmp_path / "venv", lambda: pytest.fail("brought a Node"))
    assert path.split(os.pathsep)[0] == str(tmp_path / "bin")


@pytest.mark.parametrize("machine", ["old node", "no node", "no npm", "broken node"])
def test_another_node_is_brought_where_there_is_none_that_will_do(tmp_path: Path, machine: str) -> None:
    (tmp_path / "bin").mkdir()
    if machine != "no node":
        version = {"old node": "echo v18.19.0", "no npm": "echo v22.0.0", "broken node": "exit 1"}[machine]
        program(tmp_path / "bin", "node", version)
    if machine != "no npm":
        program(tmp_path / "bin", "npm", "echo 9")
    venv = tmp_path / "venv"
    brought = []

    def bring() -> None:
        brought.append(program(venv, "node", "echo v24.19.0"))
        program(venv, "npm", "echo 11")

    for _ in range(2):  # the second time it is there
        path = node.ensure_node(str(tmp_path / "bin"), venv, bring)
        assert path.split(os.pathsep)[0] == str(venv)
    assert len(brought) == 1


def test_without_any_node_the_trouble_says_what_to_install(tmp_path: Path) -> None:
    with pytest.raises(Trouble, match="needs Node 20 or newer .* please install it"):
        node.ensure_node(str(tmp_path), tmp_path / "venv", lambda: None)


def python_without_ensurepip(tmp_path: Path) -> tuple[Path, Path]:
    """Make a Python that can make no environment until apt-get has run; return it and apt-get's diary."""
    diary = tmp_path / "apt-get was called"
    program(tmp_path / "bin", "apt-get", f'echo "$@" >> "{diary}"')
    lacking = (
        f'case "$*" in *ensurepip*) grep -q python3-venv "{diary}" 2>/dev/null;; *) exec "{sys.executable}" "$@";; esac'
    )
    return program(tmp_path / "bin", "python3", lacking), diary


def test_as_root_a_missing_ensurepip_is_installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    python, diary = python_without_ensurepip(tmp_path)
    monkeypatch.setattr(system, "is_root", lambda: True)
    monkeypatch.setattr(system, "_refreshed", False)
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}{os.pathsep}{os.environ['PATH']}")
    environment.make_venv(tmp_path / ".venv", python)
    assert diary.read_text().splitlines() == ["update", "install -y --no-install-recommends python3-venv"]
    assert (tmp_path / ".venv" / "pyvenv.cfg").is_file()


def test_as_anyone_else_a_missing_ensurepip_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    python, diary = python_without_ensurepip(tmp_path)
    monkeypatch.setattr(system, "is_root", lambda: False)
    with pytest.raises(Trouble, match="please install python3-venv") as caught:
        environment.make_venv(tmp_path / ".venv", python)
    assert "\n" not in str(caught.value)
    assert not diary.exists()


def test_failing_apt_get_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program(tmp_path / "bin", "apt-get", "echo 'E: no network' >&2; exit 100")
    monkeypatch.setattr(system, "_refreshed", False)
    monkeypatch.setenv("PATH", f"{tmp_path / 'bin'}{os.pathsep}{os.environ['PATH']}")
    with pytest.raises(Trouble, match=r"^'apt-get update' failed$"):
        system.install(["chromium"], "for a test")


def test_missing_extra_browsers_are_named_and_nothing_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    program(tmp_path / "bin", "chromium", "exit 0")
    monkeypatch.setattr(system, "is_root", lambda: False)
    monkeypatch.setattr(system, "PLACES", ())
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    browsers.ensure_browsers(tmp_path)
    told = capsys.readouterr().err
    assert "firefox-esr, WebKitWebDriver, xvfb-run, pulseaudio" in told
    assert "apt-get install firefox-esr webkit2gtk-driver xvfb xauth pulseaudio pulseaudio-utils" in told


@pytest.mark.parametrize("comes", [True, False])
def test_chromium_without_windows_is_wished_for_once_and_not_needed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], comes: bool
) -> None:
    programs, diary = tmp_path / "bin", tmp_path / "diary"
    program(programs, "chromium", "exit 0")
    brought = f'case "$1" in install) echo exit 0 > "{programs}/{browsers.LIGHT}"; /bin/chmod +x "{programs}/{browsers.LIGHT}";; esac'
    program(programs, "apt-get", f'echo "$@" >> "{diary}"; {brought if comes else "exit 100"}')
    monkeypatch.setattr(system, "is_root", lambda: True)
    monkeypatch.setattr(system, "_refreshed", True)
    monkeypatch.setattr(system, "PLACES", ())
    monkeypatch.setenv("PATH", str(programs))
    browsers.ensure_light_chromium()
    assert ("and longer" in capsys.readouterr().err) != comes
    browsers.ensure_light_chromium()
    asked = ["install -y --no-install-recommends chromium-headless-shell"]
    assert diary.read_text().splitlines() == asked * (1 if comes else 2)


def test_a_change_of_the_pins_makes_an_installation_stale(tmp_path: Path) -> None:
    pins = tmp_path / "pyproject.toml"
    pins.write_text("numpy==1")
    (tmp_path / environment.STAMP).write_text(environment.stamp_of(pins))
    assert environment.is_fresh(tmp_path, environment.stamp_of(pins))
    pins.write_text("numpy==2")
    assert not environment.is_fresh(tmp_path, environment.stamp_of(pins))
