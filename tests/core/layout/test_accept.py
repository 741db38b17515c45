"""Which answers a walk goes on from."""

from __future__ import annotations

import pytest

from core.layout.accept import LateAcceptance


@pytest.mark.parametrize("grows", [True, False])
def test_an_answer_may_be_as_bad_as_some_time_ago_and_no_worse(grows: bool) -> None:
    late = LateAcceptance((9,), 2, grows)
    assert late.accepts((5,)) and late.accepts((4,))
    assert not late.accepts((6,))
    assert late.accepts((5,))
    # What was refused is not remembered, and moves nothing on.
    assert not late.accepts((6,))
    assert late.score == (5,)


def test_what_goes_on_for_long_is_compared_with_what_was_longer_ago() -> None:
    short, growing = LateAcceptance((9,), 2, grows=False), LateAcceptance((9,), 2)
    for score in (8, 7, 6, 5):
        assert short.accepts((score,)) and growing.accepts((score,))
    assert not short.accepts((7,))
    assert growing.accepts((7,))
