"""What is true of a piece of furniture without a screen. Never imports `tui`, `textual` or `rich`."""
