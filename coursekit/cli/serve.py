"""`coursekit serve`: the app, on the embedded database unless another is configured."""

from __future__ import annotations

import ipaddress
import socket
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import click
from waitress.server import create_server

if TYPE_CHECKING:
    from coursekit.services.demo import Demo
    from coursekit.store.unit import Unit

THREADS = 16
# Reserved for documentation (RFC 5737): nobody answers there, and nothing is sent.
_NOBODY = ("192.0.2.1", 9)


@click.command()
@click.option(
    "--demo",
    is_flag=True,
    help="Start with an invented demo school; what was entered in it since is kept.",
)
@click.option("--host", default="127.0.0.1", show_default=True, help="Address to listen on.")
@click.option(
    "--port",
    default=8080,
    show_default=True,
    type=click.IntRange(1, 65535),
    help="Port to listen on.",
)
def serve(*, demo: bool, host: str, port: int) -> None:
    """Run the app until it is stopped with Ctrl-C.

    Prints its address, and with --demo the demo instructor's sign-in and the join
    code of an open class. Without it, the first visit sets up the school.
    It listens on this machine alone unless --host says otherwise; 0.0.0.0 lets the
    phones of a class on the same network reach it.
    """
    with _listening(host, port) as listener:
        # The web and its database take a second to load: other commands need not wait for them.
        from coursekit.web.app import create_app
        from coursekit.web.identity import UNIT

        app = create_app()
        ways_in = _demo(app.extensions[UNIT]) if demo else []
        server = create_server(app, sockets=[listener], threads=THREADS, ident=None)
        click.echo("\n".join([*welcome(host, port), *ways_in]))
        server.run()


def _demo(unit: Unit) -> list[str]:
    from coursekit.services.demo import load_demo

    click.echo("The demo school is made ready: the first time takes a moment.", err=True)
    now = datetime.now(UTC)  # noqa: TID251 - the one reading of the clock at the shell
    return demo_lines(load_demo(unit, now))


def demo_lines(demo: Demo) -> list[str]:
    """Return what is printed of the ways into the demo school."""
    second = [f"Assessor:   {demo.second}, with the same password"] if demo.second else []
    return [
        f"Sign-in:    {demo.sign_in_name}",
        f"Password:   {demo.password or 'the one that was set since'}",
        f"Join code:  {demo.join_code or 'none, for no class is open'}",
        *second,
    ]


def _listening(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        return socket.create_server((host, port), family=family)
    except OSError as error:
        message = f"nothing can listen on {host}:{port}: {error.strerror}"
        raise click.BadParameter(message, param_hint="--host, --port") from None


def _is_everywhere(host: str) -> bool:
    """Return whether a host stands for every address of this machine."""
    try:
        return ipaddress.ip_address(host).is_unspecified
    except ValueError:
        return False


def welcome(host: str, port: int) -> list[str]:
    """Return what is printed of where the app is, for this machine and for phones."""
    if _is_everywhere(host):
        outside = address_on_the_network()
        phones = [f"For phones: http://{outside}:{port}"] if outside else []
        return [f"Address:    http://127.0.0.1:{port}", *phones]
    address = f"Address:    http://{_in_url(host)}:{port}"
    if host.startswith("127.") or host == "localhost":
        return [address, "Only this machine reaches it. For phones, add --host 0.0.0.0"]
    return [address]


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
