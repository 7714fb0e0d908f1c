"""A group of commands that offers the nearest known one, or the word of today for an old one."""

from __future__ import annotations

from typing import Any

import click


class NearestGroup(click.Group):
    """As click's own group, but a name or option unknown is answered with the one meant."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click's own, but an unknown name is answered with the nearest known one."""
        name, known = args[0], self.list_commands(ctx)
        if name in known or name.startswith("-") or ctx.resilient_parsing:
            return super().resolve_command(ctx, args)
        from lugwright.base.spelling import near_or_all

        raise click.UsageError(f"no command {name!r}; {near_or_all(name, known)}", ctx)

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; an option called otherwise today is told by that name."""
        try:
            return super().invoke(ctx)
        except click.NoSuchOption as unknown:
            from lugwright.base.old_words import todays_word

            within = unknown.ctx or ctx
            options = [name for one in within.command.params for name in one.opts]
            if today := todays_word(unknown.option_name, options):
                name = unknown.option_name
                message = f'no option {name!r}; did you mean "{today}"?'
                raise click.NoSuchOption(name, message, ctx=within) from None
            raise
