"""What a person can change, and how they are asked: fields, forms for something new, the guided walk."""
