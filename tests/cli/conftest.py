"""Run commands of the command line in this process."""

from __future__ import annotations

import io
import sys
from typing import NamedTuple

import pytest

from groundbeat import cli


class Ran(NamedTuple):
    status: int
    out: str
    err: str


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch):
    """Run a command in this process; `data` is what comes on standard input."""

    def run_(*arguments: object, data: bytes | str = b"") -> Ran:
        raw = data.encode("utf-8") if isinstance(data, str) else data
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))
        with pytest.raises(SystemExit) as ended:
            cli.main([str(argument) for argument in arguments])
        told = capsys.readouterr()
        status = ended.value.code
        return Ran(int(status or 0), told.out, told.err)

    return run_


def failed(ran: Ran) -> str:
    """See that a run ended in one line of error, and give the line without its beginning."""
    assert ran.status == 2, ran
    assert ran.out == ""
    assert ran.err.startswith("groundbeat: ") and ran.err.endswith("\n") and ran.err.count("\n") == 1, ran.err
    assert "Traceback" not in ran.err
    return ran.err.removeprefix("groundbeat: ").rstrip("\n")
