"""What the stations are made of: rows of text with a cursor, pictures, the entry line."""
