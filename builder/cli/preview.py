"""`spannerleaf preview`: serve the site on this machine, and build it again at every change."""

from __future__ import annotations

import signal
import tempfile
import threading
from pathlib import Path

import click
from jinja2 import TemplateError

from builder.build.driver import build
from builder.build.order import Built, CanNotPrint, Order, Quiet, Unknown
from builder.build.output import OutputRefused
from builder.build.serving import HOST, Shown, server
from builder.build.set_aside import pages_of
from builder.build.single import NotPrinted, card_at
from builder.cli.common import chosen_workspace, misused, tally, workspace_option
from builder.cli.faults import told_fault, told_os_error
from builder.diagnostics.rendering import as_text
from builder.model.memory import Memory
from builder.pages.theme import ThemeError
from builder.sources.workspace import shipped_library, shipped_themes

_PORT = 8417
# How often the watching looks whether it is to end.
_LOOK_UP_MS = 500
_AGAIN_SECONDS = 1.0


@click.command("preview")
@workspace_option
@click.option("--guide", "guides", metavar="ID", multiple=True, help="Only this guide; repeatable.")
@click.option("--bike", "bikes", metavar="ID", multiple=True, help="Only this bike; repeatable.")
@click.option("--port", type=click.IntRange(0, 65535), default=_PORT, show_default=True, help="0 takes any free one.")
def command(workspace: Path | None, guides: tuple[str, ...], bikes: tuple[str, ...], port: int) -> None:
    """Serve the site on 127.0.0.1, and build it again whenever a source changes.

    The page in the browser reloads by itself; where a guide or a bike has a mistake, its own pages
    show that, and all others stand. A card is printed
    when you ask for it. The output of 'build' is not touched. Ctrl-C ends it.

    \b
    Example:
      spannerleaf preview --workspace ~/our-workshop
    """
    from watchfiles import watch

    chosen = chosen_workspace(workspace)
    with tempfile.TemporaryDirectory(prefix="spannerleaf-") as folder:
        order = Order(workspace=chosen, out=Path(folder), guides=guides, bikes=bikes, printing=False, keep_going=True)
        memory = Memory()
        printing = threading.Lock()

        def card(path: str) -> bytes | str | None:
            try:
                with printing:
                    return card_at(path, order)
            except NotPrinted as refusal:
                return str(refusal)
            except Exception as error:
                words = _words_of(error)
                click.echo(f"the card {path}: {words}", err=True)
                return words

        shown = Shown(Path(folder) / "site", card)
        try:
            serving = server(shown, port)
        except OSError as error:
            misused(f"port {port} of {HOST} can't be used: {error.strerror}; choose another with --port")
        _build(order, shown, memory)
        threading.Thread(target=serving.serve_forever, daemon=True).start()
        click.echo(f"http://{HOST}:{serving.server_address[1]}/ (Ctrl-C ends it)", err=True)
        folders = [path for path in (shipped_library(), shipped_themes(), chosen) if path is not None]
        stop = threading.Event()
        for name in (signal.SIGINT, signal.SIGTERM):
            signal.signal(name, lambda *_: stop.set())
        try:
            while not stop.is_set():
                try:
                    for _ in watch(*folders, stop_event=stop, rust_timeout=_LOOK_UP_MS):
                        _build(order, shown, memory)
                except (OSError, RuntimeError) as error:  # a folder that is watched has gone, or can't be watched
                    _stand_in(shown, f"the sources can't be watched: {_words_of(error)}")
                    stop.wait(_AGAIN_SECONDS)
        finally:
            shown.end()
            serving.shutdown()
            serving.server_close()


def _build(order: Order, shown: Shown, memory: Memory | None = None) -> None:
    """Build, and show what came of it. Nothing that goes wrong ends the serving: the next change may mend it."""
    try:
        built = build(order, Quiet(), memory)
    except (ThemeError, TemplateError) as error:
        _stand_in(shown, f"the theme: {error}")
    except (OutputRefused, CanNotPrint, Unknown) as error:
        _stand_in(shown, str(error))
    except Exception as error:
        _stand_in(shown, _words_of(error))
    else:
        if built.told is None:
            shown.changed("\n\n".join(as_text(diagnostic, built.texts) for diagnostic in built.diagnostics))
            click.echo(f"{tally(built.diagnostics)} in the sources", err=True)
        elif shown.broken or not built.unchanged:
            spoiled: dict[str, str] = {}
            for one in built.set_aside:
                words = "\n\n".join(as_text(diagnostic, built.texts) for diagnostic in one.diagnostics)
                spoiled.update(dict.fromkeys(pages_of(one, built.stale), words))
                click.echo(f"{one} is left out for its mistakes; its page shows them", err=True)
            shown.changed(spoiled=spoiled)
            click.echo(_line(built), err=True)


def _stand_in(shown: Shown, words: str) -> None:
    """Show what is wrong in place of the site."""
    if shown.broken != words:
        shown.changed(words)
        click.echo(words, err=True)


def _words_of(error: Exception) -> str:
    return told_os_error(error) if isinstance(error, OSError) else told_fault(error)


def _line(built: Built) -> str:
    return "built" if built.told is None else f"built {built.told.pages} pages"
