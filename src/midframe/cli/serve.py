"""`midframe serve`: the bench in the browser."""

from __future__ import annotations

import os
from pathlib import Path

import click

from midframe.cli import shared
from midframe.cli.data import store_options


@click.command("serve")
@click.option("--share", is_flag=True, help="Open it to the bench network, for screens that are paired.")
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8310,
    show_default=True,
    help="Port to listen on; 0 takes any that is free.",
)
@click.option("--host", "hosts", multiple=True, metavar="NAME", help="A further name that it answers to.")
@store_options
@click.option("--demo", "with_demo", is_flag=True, help="Put the invented demo devices on the shelf.")
def command(
    share: bool, port: int, hosts: tuple[str, ...], data: str | None, url: str | None, with_demo: bool
) -> None:
    """Open the bench in the browser: shelf, bench log, photos, ways, index.

    Answers only to this machine until --share is given. Records and photos lie
    in the user's data folder ($XDG_DATA_HOME/midframe or
    ~/.local/share/midframe). Ctrl+C ends it; nothing is lost by that.
    """
    from midframe.web.place import usual_folder
    from midframe.web.server import Order, serve

    folder = Path(data) if data else usual_folder(os.environ, Path.home())
    order = Order(folder=folder, url=url or "", port=port, share=share, hosts=hosts, demo=with_demo)
    serve(order, lambda line: shared.echo([line]))
