"""Weights, forces and round sizes in a project's own units."""

from __future__ import annotations

from fractions import Fraction

from core.lengths import Notation
from core.own_units import RoundSize, force_text, weight_text

INCHES, MILLIMETRES = Notation.read("", "in"), Notation.read("", "mm")


def test_weights() -> None:
    # NIOSH 94-110 (rev. 2021) gives its load constant as 51 lb and as 23 kg.
    assert weight_text(23, INCHES) == "51 lb"
    assert weight_text(23, MILLIMETRES) == "23 kg"


def test_forces() -> None:
    # 10 lbf is 44.482 N (NIST SP 811, appendix B.8).
    assert force_text(44.482, INCHES) == "10.0 lbf"
    assert force_text(44.482, MILLIMETRES) == "44 N"


def test_a_round_size_is_round_in_either_unit() -> None:
    size = RoundSize(12, 300)
    assert (size.text(INCHES), size.mm(INCHES)) == ("12 in", Fraction("304.8"))
    assert (size.text(MILLIMETRES), size.mm(MILLIMETRES)) == ("300 mm", 300)
