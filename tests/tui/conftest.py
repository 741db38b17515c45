"""Commands run in this process."""

from __future__ import annotations

import pytest
from answers import Answer, Run

from tui.command import main


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a command in this process, as the installed one does, with pipes for a terminal."""

    def command(*arguments: object) -> Answer:
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            main([str(one) for one in arguments])
        told = capsys.readouterr()
        assert isinstance(ended.value.code, int)
        return Answer(ended.value.code, told.out, told.err)

    return command
