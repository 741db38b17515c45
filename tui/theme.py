"""Colours: the terminal's own unless the person asks for others."""

from __future__ import annotations

from typing import Generic, TypeVar

from textual.app import App

T = TypeVar("T")

OWN_COLOURS = {
    # Whatever the background of a terminal is, its own foreground can be read on it. Of the sixteen colours
    # only magenta and red can be read on black as well as on white; so no others are used.
    **dict.fromkeys(("foreground", "background", "text", "text-muted", "text-success"), "ansi_default"),
    "text-accent": "ansi_magenta",
    "text-warning": "ansi_magenta",
    "text-error": "ansi_red",
}


class Coloured(App[T], Generic[T]):
    """An app that begins in the colours that it is asked for, so that nothing is painted in others first."""

    def __init__(self, theme: str) -> None:
        super().__init__(ansi_color=theme.startswith("ansi"))
        self.set_reactive(App.theme, theme)
        self.stylesheet.set_variables(self.get_css_variables())

    def get_css_variables(self) -> dict[str, str]:
        """The theme's colours; those of the terminal itself where the theme is one of its sixteen."""
        variables = super().get_css_variables()
        return variables | OWN_COLOURS if self.current_theme.ansi else variables
