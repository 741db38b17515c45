"""A layout that goes to another process comes out the same."""

import json

from hypothesis import given, settings
from layout_jobs import jobs

from core.layout.job import Job
from core.layout.search import lay_out
from core.layout.transport import layout_told, told_of


@given(jobs())
@settings(max_examples=30, deadline=None)
def test_a_layout_reads_back_equal(job: Job) -> None:
    layout = lay_out(job)
    assert layout_told(json.loads(json.dumps(told_of(layout)))) == layout
