"""`coursekit serve`: the app, on the embedded database unless another is configured."""

from __future__ import annotations

import socket

import click
from waitress.server import create_server

THREADS = 16
# Reserved for documentation (RFC 5737): nobody answers there, and nothing is sent.
_NOBODY = ("192.0.2.1", 9)
_EVERYWHERE = frozenset({"0.0.0.0", "::"})  # noqa: S104 - compared with, never listened on


@click.command()
@click.option("--host", default="127.0.0.1", show_default=True, help="Address to listen on.")
@click.option(
    "--port",
    default=8080,
    show_default=True,
    type=click.IntRange(1, 65535),
    help="Port to listen on.",
)
def serve(*, host: str, port: int) -> None:
    """Run the app until it is stopped with Ctrl-C.

    It listens on this machine alone unless --host says otherwise; 0.0.0.0 lets the
    phones of a class on the same network reach it.
    """
    with _listening(host, port) as listener:
        # The web and its database take a second to load: other commands need not wait for them.
        from coursekit.web.app import create_app

        server = create_server(create_app(), sockets=[listener], threads=THREADS, ident=None)
        click.echo(welcome(host, port))
        server.run()


def _listening(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        return socket.create_server((host, port), family=family)
    except OSError as error:
        message = f"nothing can listen on {host}:{port}: {error.strerror}"
        raise click.BadParameter(message, param_hint="--host, --port") from None


def welcome(host: str, port: int) -> str:
    """Return what is printed at the start: where the app is, for this machine and for phones."""
    if host not in _EVERYWHERE:
        lines = [f"Address:    http://{_in_url(host)}:{port}"]
        if host.startswith("127.") or host == "localhost":
            lines.append("Only this machine reaches it. For phones, add --host 0.0.0.0")
        return "\n".join(lines)
    lines = [f"Address:    http://127.0.0.1:{port}"]
    outside = address_on_the_network()
    if outside:
        lines.append(f"For phones: http://{outside}:{port}")
    return "\n".join(lines)


def _in_url(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def address_on_the_network() -> str | None:
    """Return this machine's address on the network it would use, None where it has none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(_NOBODY)
        except OSError:
            return None
        return str(probe.getsockname()[0])
