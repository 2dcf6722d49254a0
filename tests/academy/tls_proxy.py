"""A small TLS proxy before several servers, for tests: ends TLS, says so in two headers, takes the servers in turn."""

import datetime
import http.client
import itertools
import ssl
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec


def certificate(folder: Path) -> tuple[Path, Path]:
    """Make a certificate for localhost, good for a day; return it and its key."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, "localhost")])
    now = datetime.datetime.now(datetime.UTC)
    made = (
        x509.CertificateBuilder().subject_name(name).issuer_name(name).public_key(key.public_key())
        .serial_number(x509.random_serial_number()).not_valid_before(now - datetime.timedelta(hours=1))
        .not_valid_after(now + datetime.timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName("localhost")]), critical=False)
        .sign(key, hashes.SHA256())
    )
    paths = folder / "cert.pem", folder / "key.pem"
    paths[0].write_bytes(made.public_bytes(serialization.Encoding.PEM))
    paths[1].write_bytes(key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()))
    return paths


def proxy(*, ports: list[int], folder: Path) -> tuple[ThreadingHTTPServer, Path]:
    """Return a proxy before these ports, not yet serving, and the certificate to trust."""
    turn = itertools.cycle(ports)

    class Handler(BaseHTTPRequestHandler):
        def pass_on(self) -> None:
            body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
            kept = {name: value for name, value in self.headers.items() if not name.lower().startswith("x-forwarded")}
            there = http.client.HTTPConnection("127.0.0.1", next(turn), timeout=60)
            said = {"X-Forwarded-Proto": "https", "X-Forwarded-For": self.client_address[0]}
            there.request(self.command, self.path, body or None, {**kept, **said, "Connection": "close"})
            answer = there.getresponse()
            data = answer.read()
            self.send_response(answer.status)
            for name, value in answer.getheaders():
                if name.lower() not in {"content-length", "connection", "transfer-encoding", "server", "date"}:
                    self.send_header(name, value)
            self.send_header("Content-Length", str(len(data)))
            self.end_headers()
            self.wfile.write(data)
            there.close()

        do_GET = do_POST = do_HEAD = pass_on  # noqa: N815  the names are the library's

        def log_message(self, *args) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    chain, key = certificate(folder)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(chain, key)
    server.socket = context.wrap_socket(server.socket, server_side=True)
    return server, chain
