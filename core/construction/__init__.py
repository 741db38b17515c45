"""From rules and a row of carcasses to parts, each already in its place in the room."""
