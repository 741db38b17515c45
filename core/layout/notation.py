"""A tree of cuts as one line of text, for the project file.

    rip 610 (S1/1 | cross 300 (S2/1 T | -))

`rip N (low | high)`: a rip that leaves `low` N wide; `cross N (low | high)`: a crosscut that
leaves `low` N long. A part is written by its piece, `T` after it where it lies turned; `-`
is a spare piece; `.` is what the blade leaves nothing of. Where `low` is `.`, N is the size
of `high`. Sizes that follow from the cuts are not written.
"""
