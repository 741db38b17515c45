"""Everything that meets the terminal: the app, its stations, and the commands."""
