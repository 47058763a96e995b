"""A wire to a server that can be cut: whatever runs over it breaks off, and nothing gets through until it is mended."""

from __future__ import annotations

import contextlib
import socket
import threading
from urllib.parse import urlsplit


class Wire:
    """Forwards a loopback port of its own to the server at `base`."""

    def __init__(self, base: str) -> None:
        self._to = ("127.0.0.1", int(urlsplit(base).port or 0))
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.base = f"http://127.0.0.1:{self._listening.getsockname()[1]}"
        self._is_cut = False
        self._ends: set[socket.socket] = set()
        self._lock = threading.Lock()
        threading.Thread(target=self._accept, daemon=True).start()

    def cut(self) -> None:
        """Break off what runs and let nothing through."""
        with self._lock:
            self._is_cut = True
            for end in self._ends:
                with contextlib.suppress(OSError):
                    end.shutdown(socket.SHUT_RDWR)

    def mend(self) -> None:
        """Let everything through again."""
        self._is_cut = False

    def close(self) -> None:
        """Cut for good."""
        self.cut()
        self._listening.close()

    def _accept(self) -> None:
        while True:
            try:
                near, _ = self._listening.accept()
            except OSError:
                return
            if self._is_cut:
                near.close()
                continue
            far = socket.create_connection(self._to)
            with self._lock:
                self._ends |= {near, far}
            for one, other in ((near, far), (far, near)):
                threading.Thread(target=self._pump, args=(one, other), daemon=True).start()

    def _pump(self, one: socket.socket, other: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while piece := one.recv(65536):
                other.sendall(piece)
        for end in (one, other):
            with contextlib.suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
            with self._lock:
                self._ends.discard(end)
        one.close()
