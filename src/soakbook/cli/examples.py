"""Help that begins with examples and ends with what can hurt, of commands and of groups that do something."""

from collections.abc import Sequence
from typing import Any

import click


class Exampled(click.Command):
    """A command whose help begins with examples and ends with what can hurt."""

    def __init__(
        self, *args: Any, examples: Sequence[str] = (), caution: str = "", **extra: Any
    ) -> None:
        super().__init__(*args, **extra)
        self.examples = tuple(examples)
        self.caution = caution

    def format_help_text(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the examples, then what the command is for."""
        if self.examples:
            with formatter.section("Examples"):
                for example in self.examples:
                    formatter.write(f"{'':{formatter.current_indent}}{example}\n")
        super().format_help_text(ctx, formatter)

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the caution, when there is one."""
        super().format_epilog(ctx, formatter)
        if self.caution:
            with formatter.section("Take care"):
                formatter.write_text(self.caution)
