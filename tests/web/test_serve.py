"""The server stands on this machine alone and says where."""

from __future__ import annotations

import logging
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from threading import Event, Semaphore
from typing import Any

import httpx
import pytest

from evenhand.jobs.ledger import head_now
from evenhand.jobs.workspace import SETTINGS_FILE, open_workspace
from evenhand.store.alone import alone
from evenhand.store.settings import read_settings, write_settings
from evenhand.terms.records import Refusal
from evenhand.terms.settings import Intake
from evenhand.web.app import AT_ONCE
from evenhand.web.pages.hours import view
from evenhand.web.serve import _warm, _watch, serve
from tests.web.conftest import MILL_AS_OF, Served, serving


def test_a_fault_of_ours_beside_the_pages_is_a_sentence_and_no_traceback(
    mill: Served, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> None:
        raise KeyError("Tess Marrow")

    monkeypatch.setattr("evenhand.web.serve.watch", broken)
    monkeypatch.setattr("evenhand.web.serve.warm", broken)
    _watch(mill.workspace, Event())
    _warm(mill.app.state.reckonings)
    said = "".join(capfd.readouterr())
    assert said.startswith("The folder is watched no longer: this is a fault in evenhand (KeyError at ")
    assert "Marrow" not in said


def test_a_taken_port_is_refused_with_a_sentence(mill_directory: Path) -> None:
    workspace = open_workspace(mill_directory)
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        with pytest.raises(Refusal, match=r"port \d+ on 127\.0\.0\.1 cannot be used .*; give another with --port"):
            serve(workspace, other.getsockname()[1])
    workspace.close()


def test_a_watch_that_cannot_begin_says_so_in_the_window(
    mill_directory: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(mill_directory, tmp_path / "mill")
    workspace = open_workspace(tmp_path / "mill")
    stop = Event()
    stop.set()
    with alone(_made(workspace.waiting) / ".watching.lock"):
        _watch(workspace, stop)
    assert capsys.readouterr().out == ""  # `evenhand watch` does so already
    shutil.rmtree(workspace.waiting)
    workspace.waiting.write_text("a file where the folder should be")
    _watch(workspace, stop)
    assert "mill/waiting cannot be written (File exists), so nothing is watched." in capsys.readouterr().out
    workspace.close()


def _made(folder: Path) -> Path:
    folder.mkdir(exist_ok=True)
    return folder


def test_the_command_prints_an_address_that_lets_one_browser_in(mill_directory: Path) -> None:
    command = [sys.executable, "-m", "evenhand", "--workspace", str(mill_directory), "serve", "--port", "0"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=os.environ | {"PYTHONUNBUFFERED": "0"}
    ) as process:
        try:
            assert process.stdout
            said = process.stdout.readline()
            address = next(word for word in said.split() if word.startswith("http://127.0.0.1:"))
            with httpx.Client(follow_redirects=True, timeout=30) as client:
                assert client.get(address).status_code == 200
                assert client.get(address).status_code == 403
            port = int(address.split(":")[2].split("/")[0])
            with socket.socket() as elsewhere, pytest.raises(OSError, match="refused"):
                elsewhere.connect(("127.0.0.2", port))
        finally:
            process.send_signal(signal.SIGINT)
            rest = process.stdout.read() if process.stdout else ""
    assert "Traceback" not in rest


def test_the_folder_that_the_settings_name_is_watched_while_pages_are_served(
    mill_directory: Path, tmp_path: Path
) -> None:
    directory, folder = shutil.copytree(mill_directory, tmp_path / "workspace"), tmp_path / "incoming"
    folder.mkdir()
    settings = read_settings(directory / SETTINGS_FILE)
    write_settings(directory / SETTINGS_FILE, replace(settings, intake=Intake(str(folder), quiet_s=1)))
    (folder / "march.csv").write_text("reader,number,time,direction\nMILL-1,4104,2026-03-03 08:00:00,in\n")
    command = [sys.executable, "-m", "evenhand", "--workspace", str(directory), "serve", "--port", "0"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=os.environ | {"PYTHONUNBUFFERED": "0"}
    ) as process:
        assert process.stdout
        try:
            said = [process.stdout.readline(), process.stdout.readline()]
            until = time.monotonic() + 20
            while not (folder / "taken" / "march.csv").exists() and time.monotonic() < until:
                time.sleep(0.1)
        finally:
            process.send_signal(signal.SIGINT)
            rest = process.stdout.read()
    assert "march.csv: punches, 1 row read, 1 taken, 0 known already, 0 rejected.\n" in said
    assert [path.name for path in (folder / "taken").iterdir()] == ["march.csv"]
    assert "Traceback" not in rest


def test_a_page_that_is_open_sees_changed_settings_at_its_next_request(mill: Served) -> None:
    file = mill.workspace.settings_file
    as_it_was = file.read_text(encoding="utf-8")
    with mill.enter() as client:
        assert "Mill &amp; Sons" in client.get("/hours").text
        week = client.get("/hours/P1").text
        file.write_text(as_it_was.replace("Mill & Sons", "Mill & Daughters").replace("rounding_minutes = 15", ""))
        assert "Mill &amp; Daughters" in client.get("/hours").text
        assert client.get("/hours/P1").text != week.replace("Sons", "Daughters")
        file.write_text(as_it_was.replace("[workplace]", "[workplace"))
        answer = client.get("/")
        assert answer.status_code == 409
        assert "is not valid TOML" in answer.text
        file.write_text(as_it_was)
        assert client.get("/hours/P1").text == week


def test_pages_served_as_of_another_time_show_everything_and_write_nothing(
    mill_directory: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    directory = shutil.copytree(mill_directory, tmp_path / "mill")
    settings = read_settings(directory / SETTINGS_FILE)
    write_settings(directory / SETTINGS_FILE, replace(settings, is_invented=False, intake=Intake(str(tmp_path / "in"))))
    workspace = open_workspace(directory).looking()
    _watch(workspace, Event())  # which would look on for ever, or say that there is no such folder
    assert capsys.readouterr().out == ""
    before = head_now(workspace)
    with serving(workspace, MILL_AS_OF) as served, served.enter() as client:
        page = client.get("/hand-off")
        token = page.text.split('name="form_token" value="')[1].split('"')[0]
        said = {"form_token": token, "author": "Ada", "reason": "suit 12"}
        held = client.post("/leavers/P1/hold", data=said)
        assert (held.status_code, "--as-of only looks" in held.text) == (409, True)
        assert client.get("/hours/P1/statement.pdf").status_code == 200
        assert head_now(workspace) == before


def test_more_requests_than_are_worked_on_at_once_wait_for_their_turn(
    mill: Served, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go, shown = Semaphore(0), Event(), view.week

    def held_up(*given: Any) -> Any:
        begun.release()
        assert go.wait(30)
        return shown(*given)

    monkeypatch.setattr(view, "week", held_up)
    with mill.enter() as client, ThreadPoolExecutor(AT_ONCE + 2) as browsers:
        pages = [browsers.submit(client.get, "/hours") for _ in range(AT_ONCE + 2)]
        assert all(begun.acquire(timeout=30) for _ in range(AT_ONCE))
        one_more = begun.acquire(timeout=0.5)
        go.set()
        assert [page.result().status_code for page in pages] == [200] * (AT_ONCE + 2)
    assert not one_more


def test_a_form_that_its_sender_breaks_off_is_no_fault(mill: Served, caplog: pytest.LogCaptureFixture) -> None:
    logging.getLogger("uvicorn.error").addHandler(caplog.handler)
    before = [path.name for path in mill.workspace.waiting.iterdir()] if mill.workspace.waiting.is_dir() else []
    with mill.enter() as client:
        cookie = "; ".join(f"{name}={value}" for name, value in client.cookies.items())
    host = mill.base.removeprefix("http://")
    name, port = host.split(":")
    head = (
        f"POST /files HTTP/1.1\r\nHost: {host}\r\nCookie: {cookie}\r\nOrigin: {mill.base}\r\n"
        "Content-Type: multipart/form-data; boundary=x\r\nContent-Length: 100000\r\n\r\n"
        '--x\r\nContent-Disposition: form-data; name="file"; filename="log.csv"\r\n\r\nreader,number\r\n'
    )
    with socket.create_connection((name, int(port))) as sender:
        sender.sendall(head.encode())
        time.sleep(0.3)
    time.sleep(0.5)
    logging.getLogger("uvicorn.error").removeHandler(caplog.handler)
    assert caplog.text == ""
    after = [path.name for path in mill.workspace.waiting.iterdir()] if mill.workspace.waiting.is_dir() else []
    assert [one for one in after if not one.startswith(".")] == [one for one in before if not one.startswith(".")]
