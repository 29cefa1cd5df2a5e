"""The command line: one file a command. This is the only room that prints or exits.

Exit status: 0 where all is well, 1 for findings in the sources or the answer, 2 for a command that was not understood,
3 for a fault of the program itself, 130 where it was stopped.
"""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence
from typing import Any

import click

from builder.diagnostics.nearness import nearest

# Command -> what `--help` says of it in one line. A command's module is imported only when it is called.
_COMMANDS = {
    "build": "Build the site and the cards.",
    "card": "Make one card set.",
    "check": "Read every source and report every mistake.",
    "fit": "Work out what fits on a bike and what it forces.",
    "lower": "Find the cheapest parts for lower gears.",
    "new": "Write a commented starting file.",
    "parts": "List the parts that are known, by what one looks for.",
    "preview": "Serve the site, and build it again at every change.",
    "printed": "Write down which cards were printed.",
    "prove": "Show that guides cannot go wrong, on any bike.",
    "reckon": "Answer any check from plain numbers.",
    "schema": "Write the JSON Schemas of the source files.",
    "tried": "Write down who tried a guide, and on which text.",
}


class _Commands(click.Group):
    """Commands by module; what goes wrong is said in one line."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return sorted(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in _COMMANDS:
            near = nearest(cmd_name, _COMMANDS)
            hint = f"did you mean '{near}'?" if near else "'spannerleaf --help' names them"
            raise click.UsageError(f"unknown command '{cmd_name}'; {hint}")
        command = importlib.import_module(f"builder.cli.{cmd_name}").command
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, _COMMANDS[name]) for name in self.list_commands(ctx)])

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> Any:
        """Run, and end the program with its exit status; a `click` message becomes one line."""
        if not standalone_mode:
            return super().main(args, prog_name, complete_var, False, **extra)
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure"):  # a terminal that lacks a sign, such as `·`, shows another in its place
                stream.reconfigure(errors="replace")
        try:
            status = super().main(args, prog_name, complete_var, False, **extra)
            sys.stdout.flush()
        except click.exceptions.NoArgsIsHelpError as error:
            click.echo(error.ctx.get_help() if error.ctx is not None else "", err=True)
            sys.exit(error.exit_code)
        except click.ClickException as error:
            click.echo(f"spannerleaf: {' '.join(error.format_message().split())}", err=True)
            sys.exit(error.exit_code)
        except (click.Abort, KeyboardInterrupt):
            click.echo("spannerleaf: stopped", err=True)
            sys.exit(130)
        except BrokenPipeError:  # who read the output has gone away; nothing is left to be said
            sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
            sys.exit(1)
        except OSError as error:
            from builder.cli.faults import tell, told_os_error

            tell(told_os_error(error))
            sys.exit(1)
        except Exception as error:
            from builder.cli.faults import tell, told_fault

            tell(told_fault(error))
            sys.exit(3)
        sys.exit(status if isinstance(status, int) else 0)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="spannerleaf", prog_name="spannerleaf")
def main() -> None:
    """Spannerleaf: workshop guides for bicycles, checked and tailored to one bike.

    \b
    Examples:
      spannerleaf build
      spannerleaf fit BIKE --with PART
      spannerleaf card GUIDE BIKE -o card.pdf
      spannerleaf reckon --list
    """
