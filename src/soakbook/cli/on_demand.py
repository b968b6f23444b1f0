"""A group of commands, each imported when it is called for, so that the morning stays light."""

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import click

from soakbook.cli.examples import Exampled


class OnDemand(Exampled, click.Group):
    """Commands by their names; the module of each, under `commands`, has it as NAME_command."""

    def __init__(self, *args: Any, modules: Mapping[str, str], **extra: Any) -> None:
        super().__init__(*args, **extra)
        self.modules = modules

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Names in the order of the help page."""
        return list(self.modules)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name."""
        if cmd_name not in self.modules:
            if not ctx.resilient_parsing:
                _refuse(ctx, cmd_name, self.modules)
            return None
        module = import_module(f"soakbook.cli.commands.{self.modules[cmd_name]}")
        command: click.Command = getattr(module, f"{cmd_name.replace('-', '_')}_command")
        return command


def _refuse(ctx: click.Context, name: str, known: Mapping[str, str]) -> None:
    """Refuse a command we do not know, offering the nearest; options are left to click."""
    if name.startswith("-"):
        return
    from difflib import get_close_matches

    close = get_close_matches(name, known, n=1)
    ctx.fail(f"There is no command {name!r}" + (f"; did you mean {close[0]}?" if close else ""))
