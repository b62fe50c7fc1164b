"""Every command does what it says, and every trouble is one line on standard error with exit status 2."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from groundbeat.codec.groove_read import MAX_FILE, read_groove
from groundbeat.codec.link import write_link
from groundbeat.variation import catalogue
from tests.cli.conftest import Ran, failed

ROOT = Path(__file__).resolve().parents[2]
SLACK_TIDE = ROOT / "examples/slack-tide.toml"
LANTERN_WALK = ROOT / "examples/lantern-walk.toml"


def midi_file(folder: Path) -> Path:
    path = folder / "evening.mid"
    body = b"".join(
        bytes((0 if number == 0 else 96, 0x99, key, 100)) for number, key in enumerate((36, 38, 36, 38, 42, 42, 42, 42))
    )
    body += bytes((0, 0xFF, 0x2F, 0))
    path.write_bytes(b"MThd" + bytes((0, 0, 0, 6, 0, 0, 0, 1, 0, 96)) + b"MTrk" + len(body).to_bytes(4, "big") + body)
    return path


# ---- show ------------------------------------------------------------------------------------------------------------


def test_show_prints_every_stage_with_counts_and_what_changed(run):
    ran = run("show", SLACK_TIDE)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("Slack Tide: 4/4, 1 bar of sixteenths, quarter = 92\n\n0 Base beat\n")
    heads = [line for line in ran.out.split("\n") if re.match(r"\d ", line)]
    assert heads == [
        "0 Base beat", "1 Displace (1 moved)", "2 Embellish (5 added)", "3 Ostinato (4 added)",
        "4 Orchestrate (12 altered)",
    ]  # fmt: skip
    assert ran.out.count("1e&a2e&a3e&a4e&a") == 5
    assert '  "Under the knuckles."\n' in ran.out
    assert "    ride bell |x---x---x---x---|\n    ride      |-xx--xx--xx--xx-|\n" in ran.out


def test_show_prints_one_stage_when_asked(run):
    ran = run("show", SLACK_TIDE, "--stage", 1)
    assert ran.out == (
        "\n1 Displace (1 moved)\n  Move the first backbeat of the backbeat voice a sixteenth later.\n"
        "            1e&a2e&a3e&a4e&a\n    hi-hat |x-x-x-x-x-x-x-x-|\n    snare  |-----O------O---|\n"
        "    kick   |o------oo-------|\n\no x stroke, O accent\n"
    )
    assert "0 Base beat" in run("show", SLACK_TIDE, "--stage", 0).out
    assert "Displace" not in run("show", SLACK_TIDE, "--stage", 0).out


@pytest.mark.parametrize("stage", ["5", "99", "-2"])
def test_a_stage_that_is_not_there_is_refused(run, stage: str):
    assert failed(run("show", SLACK_TIDE, "--stage", stage)) == f"there are stages 0 to 4, not {stage}"


def test_show_says_what_a_stage_did_not_find(run):
    data = 'groundbeat = 1\n[[variation]]\nkind = "displace"\nsurface = "cowbell"\nby = "1/8 later"\n'
    ran = run("show", "-", data=data)
    assert "1 Displace (nothing changed)\n" in ran.out
    assert "  found no cowbell\n" in ran.out


STROKE = {
    "id": str, "bar": int, "count": str, "at": str, "surface": str, "dynamic": str, "grace": str, "hand": str,
    "origin": int, "changed_by": list,
}  # fmt: skip
STAGE = {"stage": int, "name": str, "sentence": str, "note": str, "on": bool, "strokes": list, "change": dict}
CHANGE = {"kept": str, "moved": dict, "altered": str, "added": str, "left_out": str, "merged": dict}
TOP = {"title": str, "meter": str, "bars": int, "columns": str, "stages": list}


def fits(value: dict[str, Any], shape: dict[str, type]) -> None:
    for key, kind in shape.items():
        assert type(value[key]) is kind, (key, value.get(key))


@pytest.mark.parametrize("path", [SLACK_TIDE, LANTERN_WALK], ids=lambda path: path.stem)
def test_show_json_has_the_shape_that_programs_rely_on(run, path: Path):
    ran = run("show", path, "--json")
    assert (ran.status, ran.err) == (0, "")
    told = json.loads(ran.out)
    fits(told, TOP)
    assert told["tempo"] in (92, 84)
    for number, stage in enumerate(told["stages"]):
        fits(stage, STAGE)
        assert stage["stage"] == number
        ids = [stroke["id"] for stroke in stage["strokes"]]
        assert len(set(ids)) == len(ids)
        for stroke in stage["strokes"]:
            fits(stroke, STROKE)
            assert 0 <= Fraction(stroke["at"]) < 1
            assert stroke["origin"] <= number and all(0 < by <= number for by in stroke["changed_by"])
        assert set(stage["change"]) >= set(CHANGE)
        for key, kind in CHANGE.items():
            assert all(type(row) is kind for row in stage["change"][key])
        assert all({"id", "from", "to"} <= set(row) for row in stage["change"]["moved"])
        assert all({"id", "parents"} <= set(row) for row in stage["change"]["merged"])


def test_show_json_tells_slack_tide(run):
    stages = json.loads(run("show", SLACK_TIDE, "--json").out)["stages"]
    moved = {"id": "0/snare@1/4", "from": "1/4", "to": "5/16"}
    assert stages[1]["change"]["moved"] == [moved]
    assert {
        "id": "0/snare@1/4", "bar": 1, "count": "2e", "at": "5/16", "surface": "snare", "dynamic": "accent",
        "grace": "", "hand": "", "origin": 0, "changed_by": [1],
    } in stages[1]["strokes"]  # fmt: skip
    assert stages[2]["change"]["added"] == [f"2/snare@{at}" for at in ("1/16", "3/16", "9/16", "11/16", "13/16")]
    assert stages[2]["note"] == "Under the knuckles."
    assert [len(stages[3]["change"][key]) for key in ("added", "left_out", "altered", "moved")] == [4, 0, 0, 0]
    assert len(stages[4]["change"]["altered"]) == 12
    assert [stage["name"] for stage in stages] == ["Base beat", "Displace", "Embellish", "Ostinato", "Orchestrate"]


def test_show_json_tells_what_crossed_and_merged(run):
    stages = json.loads(run("show", LANTERN_WALK, "--json").out)["stages"]
    assert stages[1]["change"]["moved"] == [
        {"id": "0/snare@7/16", "from": "7/16", "to": "1/2"}, {"id": "0/snare@15/16", "from": "15/16", "to": "0"},
    ]  # fmt: skip
    assert stages[2]["change"]["merged"] == [{"id": "0/snare@1/4", "parents": ["0/snare@1/4", "0/snare@9/16"]}]
    assert stages[4]["change"]["left_out"] == [f"0/hi-hat@{at}" for at in ("1/8", "1/4", "1/2", "5/8", "7/8")]


def test_show_json_of_one_stage_is_that_of_all(run):
    every = json.loads(run("show", SLACK_TIDE, "--json").out)
    one = json.loads(run("show", SLACK_TIDE, "--json", "--stage", 3).out)
    assert one == {**every, "stages": [every["stages"][3]]}


# ---- where a groove comes from ---------------------------------------------------------------------------------------


def test_file_link_address_and_standard_input_are_the_same_groove(run, tmp_path: Path):
    text = SLACK_TIDE.read_text(encoding="utf-8")
    link = write_link(read_groove(text))
    expected = run("show", SLACK_TIDE, "--json").out
    windows = tmp_path / "windows.toml"
    windows.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode("utf-8"))
    assert run("show", windows, "--json").out == expected
    for source in (link, f"#{link}", f"https://workshop.example/lesson#{link}"):
        assert run("show", source, "--json").out == expected
        assert run("show", "-", "--json", data=source + "\n").out == expected
    assert run("show", "-", "--json", data=text).out == expected
    assert run("show", "-", "--json", data=windows.read_bytes()).out == expected


@pytest.mark.parametrize(
    ("source", "data", "told"),
    [
        ("no-such-file.toml", b"", 'there is no file "no-such-file.toml", and it is no link; check the path'),
        ("1st.toml", b"", 'there is no file "1st.toml"'),
        (str(ROOT / "examples"), b"", "there is no file"),
        ("", b"", "there is no file"),
        ("a" * 5000, b"", "there is no file"),
        ("#2abc", b"", "made with a newer Groundbeat"),
        ("#1abc", b"", "cut short or mistyped"),
        ("-", b"", 'standard input, line 1, column 1: the first line of a groove file is "groundbeat = 1"'),
        ("-", b"groundbeat = 1\ntempo = 9\n", "standard input, line 2, column 9: the tempo is 9"),
        ("-", b"\xff\xfegroove", "standard input: not text in UTF-8 (byte 0), and no MIDI or MusicXML file"),
        ("-", b"<score-partwise/>", "MusicXML file: the score has no bars"),
        ("-", b"PK\x03\x04", "MusicXML file: the packed file (.mxl) does not unpack"),
        ("-", b"MThd", "MIDI file, byte"),
        ("-", b"x" * (MAX_FILE + 1), f"at most {MAX_FILE}"),
        ("-", b"a" * 9_000_000, "standard input has over 8388608 bytes"),
        ("-", b'groundbeat = 1\ntitle = "one\ntwo"\n', "standard input, line 2, column"),
    ],
)
def test_what_is_no_groove_is_one_line_of_error(run, source: str, data: bytes, told: str):
    assert told in failed(run("show", source, data=data))


def test_an_error_in_a_file_names_file_line_and_column(run, tmp_path: Path):
    path = tmp_path / "mine.toml"
    path.write_text('groundbeat = 1\n[[variation]]\nkind = "embellish"\nclear-of = ["kick", "kik"]\n')
    told = failed(run("link", path))
    assert told.startswith(f'{path}, line 4, column 21: clear-of: "kik" is neither a surface nor a role')


def test_a_midi_file_gives_its_bars(run, tmp_path: Path):
    path = midi_file(tmp_path)
    first = run("show", path, "--stage", 0)
    assert first.status == 0
    assert re.search(r"snare \|-+o-+o-*\|\n +kick  \|o-+o-+\|", first.out), first.out
    second = run("show", path, "--stage", 0, "--bars", "2")
    assert "hi-hat" in second.out and "snare" not in second.out
    both = json.loads(run("show", path, "--json", "--bars", "1-2").out)
    assert (both["bars"], len(both["stages"][0]["strokes"])) == (2, 8)
    assert run("show", "-", "--json", "--bars", "1-2", data=path.read_bytes()).status == 0


@pytest.mark.parametrize("bars", ["x", "0", "2-1", "1-", "1-17", "-3"])
def test_a_range_of_bars_that_is_none_is_refused(run, tmp_path: Path, bars: str):
    assert "bars" in failed(run("show", midi_file(tmp_path), "--bars", bars))


TABLATURE = (
    "Title: Low Water\nq = 92\n\n   1e&a2e&a3e&a4e&a\nHH|x-x-x-xox-x-x-x-|x-x-x-x-x-x-x-X-|\nBD|o-------o-------|%|\n"
)


def test_a_tablature_is_read_and_what_is_doubtful_is_told_beside_it(run, tmp_path: Path):
    file = tmp_path / "low.txt"
    file.write_text(TABLATURE, encoding="utf-8")
    shown = run("show", file)
    assert shown.status == 0 and shown.out.startswith("Low Water: 4/4, 2 bars of sixteenths, quarter = 92\n")
    assert "open hi-hat      |-------x--------|----------------|" in shown.out
    assert shown.err == ('"X" on HH is read as loose (a half-open hi-hat), not as an accent (line 5, column 35).\n')
    one = run("show", "-", "--bars", "1", data=TABLATURE)
    assert "hi-hat      |x-x-x-x-x-x-x-x-|\n" in one.out and one.err.startswith("Read bar 1 of 2.\n")
    again = run("show", "-", data=shown.out)
    assert (again.out, again.err) == (shown.out, "")
    refused = failed(run("link", "-", data="HH|x-x-x-x-|\nSN|--o---o-o|\nBD|o-------|"))
    assert refused.startswith("tablature, line 2, column 12: SN has 9 columns in bar 1")


def test_bars_of_a_groove_file_are_refused(run):
    assert failed(run("show", SLACK_TIDE, "--bars", "1-2")).startswith("--bars is for MIDI and MusicXML files")


# ---- link, read, onto ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", sorted((ROOT / "examples").rglob("*.toml")), ids=lambda path: path.stem)
def test_from_file_to_link_to_file_to_link_nothing_changes(run, path: Path):
    link = run("link", path)
    assert (link.status, link.err) == (0, "")
    assert re.fullmatch(r"#1[A-Za-z0-9_-]*[A-Za-z0-9]\n", link.out)
    text = run("read", link.out.strip())
    assert (text.status, text.err) == (0, "")
    assert read_groove(text.out) == read_groove(path.read_text(encoding="utf-8"))
    assert run("link", "-", data=text.out).out == link.out
    assert run("read", "-", data=link.out).out == text.out


def test_at_gives_the_whole_address(run):
    fragment = run("link", SLACK_TIDE).out
    for address in ("https://workshop.example/beats/", "https://workshop.example/beats/#old"):
        assert run("link", SLACK_TIDE, "--at", address).out == "https://workshop.example/beats/" + fragment
    assert run("read", run("link", SLACK_TIDE, "--at", "http://127.0.0.1:8614/").out).status == 0


def test_the_link_of_slack_tide_without_its_note_is_short(run):
    text = SLACK_TIDE.read_text(encoding="utf-8").replace('note = "Under the knuckles."\n', "")
    assert len(run("link", "-", data=text).out.strip().removeprefix("#")) <= 96


def test_a_long_link_and_branches_are_told_beside_the_link(run):
    text = SLACK_TIDE.read_text(encoding="utf-8")
    branch = '[[branch]]\nafter = 1\n[[branch.variation]]\nkind = "embellish"\n'
    ran = run("link", "-", data=text + branch)
    assert len(json.loads(run("show", ran.out.strip(), "--json").out)["stages"]) == 5
    assert "1 other way(s) stay in the groove file" in ran.err
    long = "".join(f'[[variation]]\nkind = "embellish"\nnote = "{"tide " * 380}"\n' for _ in range(2))
    ran = run("link", "-", data=text + long)
    assert ran.status == 0
    assert re.search(r"the link has \d{4} characters; some chat programs cut it", ran.err)
    assert "at most 8000 travel safely" in failed(run("link", "-", data=text + long * 4))


def test_read_takes_links_only(run):
    assert "not a Groundbeat link" in failed(run("read", SLACK_TIDE))
    assert "not a Groundbeat link" in failed(run("read", "-", data=b"\xff\xfe"))
    assert "cut short" in failed(run("read", run("link", SLACK_TIDE).out.strip()[:-1]))


def test_onto_puts_the_variations_on_another_base_beat(run):
    ran = run("onto", LANTERN_WALK, SLACK_TIDE)
    assert (ran.status, ran.err) == (0, "")
    made = read_groove(ran.out)
    assert made.base == read_groove(LANTERN_WALK.read_text()).base
    assert made.variations == read_groove(SLACK_TIDE.read_text()).variations
    assert made.title == "Slack Tide on Lantern Walk"
    assert run("onto", "-", SLACK_TIDE, data=LANTERN_WALK.read_text()).out == ran.out


def test_onto_tells_what_the_other_beat_lacks(run, tmp_path: Path):
    base = 'groundbeat = 1\n[base]\nride = "x-x-x-x-x-x-x-x-"\nkick = "o-------o-------"\n'
    ran = run("onto", "-", SLACK_TIDE, data=base)
    assert ran.status == 0
    assert "stage 1: found no backbeat" in ran.err
    assert len(read_groove(ran.out).variations) == 4
    path = midi_file(tmp_path)
    assert len(read_groove(run("onto", path, SLACK_TIDE, "--bars", "1-2").out).variations) == 4


def test_what_a_newer_version_wrote_is_shown_as_far_as_it_goes(run, monkeypatch: pytest.MonkeyPatch):
    later = [entry._replace(number=3000) if entry.name == "ostinato" else entry for entry in catalogue.ENTRIES]
    with monkeypatch.context() as patched:
        patched.setattr(catalogue, "ENTRIES", later)  # a number that this version does not know
        fragment = write_link(read_groove(SLACK_TIDE.read_text(encoding="utf-8")))
    ran = run("show", fragment)
    assert ran.status == 0
    assert ran.err == "stage 3: made with a newer Groundbeat; the stages below it are shown, and nothing is rewritten\n"
    assert "2 Embellish" in ran.out and "3 Ostinato" not in ran.out


# ---- the command line itself -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["nonsense"], "No such command 'nonsense'"),
        (["show"], "Missing argument 'GROOVE'"),
        (["read"], "Missing argument 'LINK'"),
        (["onto", str(SLACK_TIDE)], "Missing argument 'GROOVE'"),
        (["show", str(SLACK_TIDE), "--stage", "x"], "Invalid value for '--stage'"),
        (["show", str(SLACK_TIDE), "--colour"], "No such option: --colour"),
        (["show", str(SLACK_TIDE), "more"], "unexpected extra argument"),
        (["serve", "--port", "door"], "Invalid value for '--port'"),
        ([], "Usage"),
    ],
)
def test_a_wrong_use_is_one_line_of_error(run, arguments: list[str], told: str):
    assert told in failed(run(*arguments))


@pytest.mark.parametrize("command", ["show", "link", "read", "onto", "check", "plan", "suggest", "build", "serve"])
def test_every_command_tells_how_it_is_used(run, command: str):
    ran = run(command, "--help")
    assert (ran.status, ran.err) == (0, "")
    assert "Usage:" in ran.out
    assert command in run("--help").out


def test_serving_a_folder_that_is_not_built_is_one_line_of_error(run, tmp_path: Path):
    assert "there is no built page in" in failed(run("serve", "--site", tmp_path / "nothing"))


def shell(*arguments: object, data: bytes = b"", **environment: str) -> Ran:
    """Run a command in a Python of its own, as a shell does."""
    done = subprocess.run(
        [sys.executable, "-m", "groundbeat.cli", *map(str, arguments)],
        input=data,
        capture_output=True,
        check=False,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT / "engine"), **environment},
        timeout=60,
    )
    return Ran(done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8"))


def test_a_shell_gets_the_same_link_whatever_the_hash_seed(run):
    expected = run("link", SLACK_TIDE).out
    assert shell("link", SLACK_TIDE, PYTHONHASHSEED="77") == Ran(0, expected, "")


def test_a_shell_gets_one_line_of_error_and_status_2():
    assert failed(shell("show", "-", data=b"groundbeat = 1\ntempo = 9\n")).startswith(
        "standard input, line 2, column 9"
    )


def test_a_shell_that_cannot_print_a_letter_gets_no_traceback():
    text = 'groundbeat = 1\ntitle = "Gezeiten \u2013 für Übende"\n'.encode()
    ran = shell("show", "-", data=text, PYTHONIOENCODING="ascii")
    assert "Traceback" not in ran.err
    assert ran.status in (0, 2)


def test_a_reader_that_goes_away_gets_no_traceback():
    command = f'"{sys.executable}" -m groundbeat.cli show "{SLACK_TIDE}" --json | head -c 1'
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "engine")}
    done = subprocess.run(["sh", "-c", command], capture_output=True, check=False, env=environment, timeout=60)
    assert (done.stdout, done.stderr) == (b"{", b"")
