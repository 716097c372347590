"""A small mail server on this machine, for tests: it takes mails, refuses them, or falls silent."""

from __future__ import annotations

import socketserver
import threading
from typing import Any


class _Talk(socketserver.StreamRequestHandler):
    def handle(self) -> None:
        server: Any = self.server
        mood = server.mood
        if mood == "busy":
            return self._say("421 4.3.2 not now")
        self._say("220 mail.example ready")
        words: list[bytes] = []
        while line := self.rfile.readline():
            verb = line.split()[0].upper() if line.split() else b""
            if verb in (b"EHLO", b"HELO", b"MAIL", b"RSET", b"NOOP"):
                self._say("250 yes")
            elif verb == b"RCPT":
                server.mailboxes.append(line.strip())
                self._say("550 5.1.1 nobody of that name" if mood == "nobody" else "250 yes")
            elif verb == b"DATA":
                self._say("354 go on")
                words = self._words()
                if mood != "late":
                    server.taken.append(b"".join(words))
                if mood == "deaf":
                    return None
                self._say("451 4.7.1 try later" if mood == "late" else "250 taken")
            elif verb == b"QUIT":
                return self._say("221 bye")
        return None

    def _words(self) -> list[bytes]:
        lines = []
        while (line := self.rfile.readline()) not in (b".\r\n", b""):
            lines.append(line)
        return lines

    def _say(self, words: str) -> None:
        self.wfile.write(words.encode() + b"\r\n")


class MailServer(socketserver.ThreadingTCPServer):
    """`mood`: well, busy (421), nobody (550), late (451 after the words), deaf (takes it, says nothing)."""

    daemon_threads = True
    allow_reuse_address = True

    def __init__(self, port: int = 0) -> None:
        super().__init__(("127.0.0.1", port), _Talk)
        self.mood = "well"
        self.taken: list[bytes] = []
        self.mailboxes: list[bytes] = []
        self.port = self.server_address[1]
        threading.Thread(target=self.serve_forever, args=(0.02,), daemon=True).start()

    def end(self) -> None:
        self.shutdown()
        self.server_close()
