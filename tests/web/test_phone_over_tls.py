"""A phone over TLS in a real browser: in by the code on the round's page, an outcome taken, People refused."""

from __future__ import annotations

import contextlib
import io
import os
import shutil
import signal
import socket
import ssl
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from evenhand.jobs.rounds import see_round
from evenhand.jobs.workspace import open_workspace
from evenhand.web.app import create_app
from evenhand.web.doorkeeper import Doorkeeper
from tests.printed import codes
from tests.web.certificates import HOST, certificate_for
from tests.web.chromium import chromium
from tests.web.conftest import Served
from tests.web.rounds import NAME, PLACE, READER, add_mill_round

PHONE = {"width": 390, "height": 844}


@dataclass(frozen=True)
class Beyond:
    """The mill served by the command itself, under a name and over TLS."""

    directory: Path
    desk_address: str

    @property
    def base(self) -> str:
        return self.desk_address.partition("/enter/")[0]


@pytest.fixture(scope="module")
def beyond(mill_directory: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Beyond]:
    folder = tmp_path_factory.mktemp("beyond")
    directory = shutil.copytree(mill_directory, folder / "workspace")
    workspace = open_workspace(directory)
    keeper = Doorkeeper()
    add_mill_round(Served("", keeper, create_app(workspace, keeper=keeper), workspace))
    workspace.close()
    certificate, key = certificate_for(HOST, folder)
    command = [sys.executable, "-m", "evenhand", "--workspace", str(directory), "serve", "--port", "0"]
    command += ["--host", HOST, "--certificate", str(certificate), "--key", str(key)]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=os.environ | {"PYTHONUNBUFFERED": "0"}
    ) as process:
        try:
            assert process.stdout
            said = process.stdout.readline()
            yield Beyond(directory, next(word for word in said.split() if word.startswith(f"https://{HOST}:")))
        finally:
            process.send_signal(signal.SIGINT)
            rest = process.stdout.read() if process.stdout else ""
    assert "Traceback" not in rest


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium(f"--host-resolver-rules=MAP {HOST} 127.0.0.1") as opened:
        yield opened


def barriers(page: Page) -> list[tuple[str, str]]:
    # The rules are axe-core's, after the Web Content Accessibility Guidelines 2.2; https://www.w3.org/TR/WCAG22/
    page.wait_for_load_state()  # a heading may be there before the colours are
    page.evaluate((files("axe_core_python") / "axe.min.js").read_text() + ";0")
    found = page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
    return [(fault["id"], fault["nodes"][0]["html"]) for fault in found]


def test_a_phone_enters_by_the_code_takes_an_outcome_and_is_refused_people(beyond: Beyond, browser: Browser) -> None:
    desk = browser.new_context(ignore_https_errors=True, color_scheme="dark").new_page()
    desk.goto(beyond.desk_address)
    desk.goto(f"{beyond.base}/rounds/{NAME}")
    assert barriers(desk) == []
    desk.get_by_role("button", name=f"Let a phone in at {READER}").click()
    expect(desk.get_by_role("heading", level=1)).to_have_text(f"A phone at {READER}")
    assert barriers(desk) == []
    picture = desk.screenshot()
    [code] = zxingcpp.read_barcodes(Image.open(io.BytesIO(picture)))
    assert code.text == desk.locator(".address").inner_text()
    desk.set_viewport_size(PHONE)
    assert desk.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]

    context = browser.new_context(viewport=PHONE, has_touch=True, ignore_https_errors=True)
    phone = context.new_page()
    phone.goto(code.text)
    assert phone.url == beyond.base + PLACE
    [cookie] = context.cookies()
    assert (cookie["secure"], cookie["httpOnly"], cookie["sameSite"]) == (True, True, "Lax")
    expect(phone.locator("#name")).to_have_text("Tess Marrow")
    phone.get_by_label("Supervisor at the reader").fill("Sol Vane")
    phone.get_by_role("button", name="3", exact=True).tap()
    expect(phone.locator("#name")).to_have_text("Bram Ostler")
    expect(phone.locator("#line")).to_have_text("Everything is sent.")

    # The code on the printed sheet leads back, also where it is followed from elsewhere, as a reader of codes does.
    fetched = "async at => [...new Uint8Array(await (await fetch(at)).arrayBuffer())]"
    [[on_paper]] = codes(bytes(desk.evaluate(fetched, f"/rounds/{NAME}/print/round.pdf")))
    phone.goto(f"data:text/html,<a href='{on_paper}'>Open</a>")
    phone.get_by_role("link", name="Open").tap()
    expect(phone.locator("#name")).to_have_text("Bram Ostler")
    unknown = browser.new_context(viewport=PHONE, ignore_https_errors=True).new_page()
    refusal = unknown.goto(on_paper)
    assert refusal
    assert refusal.status == 403

    refused = phone.goto(f"{beyond.base}/people")
    assert refused
    assert refused.status == 403
    expect(phone.locator("main")).to_contain_text("one page and sees nothing else")
    expect(phone.locator("body")).not_to_contain_text("Ostler")
    again = browser.new_context(ignore_https_errors=True).new_page().goto(code.text)
    assert again
    assert again.status == 403
    workspace = open_workspace(beyond.directory)
    states = see_round(workspace, NAME).states
    workspace.close()
    assert states.filter(states["item"] == f"{NAME}-1")["result"].to_list() == ["enrolled"]


def test_nothing_is_said_without_tls(beyond: Beyond) -> None:
    port = int(beyond.base.rpartition(":")[2])
    with socket.create_connection(("127.0.0.1", port), timeout=10) as plain:
        plain.sendall(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        with contextlib.suppress(ConnectionResetError):
            assert b"HTTP/1.1" not in plain.recv(4096)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    with socket.create_connection(("127.0.0.1", port), timeout=10) as tcp, context.wrap_socket(tcp) as spoken:
        # RFC 9325 section 3.1.1: nothing below TLS 1.2
        assert spoken.version() in ("TLSv1.2", "TLSv1.3")
