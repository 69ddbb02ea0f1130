"""Progress on standard error, so that standard output stays clean for files and pipes."""

from __future__ import annotations

import time
from types import TracebackType

from rich.status import Status

from axlewright.cli.lines import aside


class Progress:
    """Tells the stage of the work: a moving line at a terminal, one line a stage elsewhere."""

    def __init__(self) -> None:
        self._console = aside()
        self._status = Status("starting", console=self._console, spinner="line")
        self._stage = ""
        self._began = time.perf_counter()

    def __enter__(self) -> Progress:
        if self._console.is_terminal:
            self._status.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._status.stop()
        if kind is KeyboardInterrupt:
            self._console.print("Stopped.", style="bold")
        if kind is None:
            self._console.print(f"done in {time.perf_counter() - self._began:.1f} s", style="dim")

    def say(self, stage: str) -> None:
        """Show a stage; the count in brackets moves on the terminal only."""
        self._status.update(stage)
        plain = stage.split(" (")[0]
        if plain != self._stage and not self._console.is_terminal:
            self._console.print(plain, style="dim")
        self._stage = plain
