"""Processes of our own to audit in: they leave Ctrl-C to the one that started them, and end when it ends, however it ends."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import threading
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing.connection import wait


@contextmanager
def pool(workers: int) -> Iterator[ProcessPoolExecutor]:
    """As many processes; left by an exception (Ctrl-C is one), whatever they are doing is not waited for."""
    executor = ProcessPoolExecutor(workers, initializer=_begin)
    try:
        yield executor
    except BaseException:
        executor.shutdown(wait=False, cancel_futures=True)
        for process in multiprocessing.active_children():
            process.terminate()
        raise
    else:
        executor.shutdown()


def _begin() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(50_000)  # as in the command line: nothing here lives in cycles for long
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()


def _end_with(sentinel: int) -> None:
    """A process whose parent was killed would wait for work for ever."""
    wait([sentinel])
    os._exit(1)
