"""A process that must not outlive the one that started it."""

import os
import signal
import threading
import time

LOOK_S = 0.5
LAST_WORDS_S = 2.0


def end_with_the_parent(parent: int) -> None:
    """Interrupts this process once its parent is gone, and ends it soon after in any case: no
    process goes on answering or searching for a site that was stopped, or killed outright."""

    def watch() -> None:
        time.sleep(LOOK_S)
        while os.getppid() == parent:
            time.sleep(LOOK_S)
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(LAST_WORDS_S)
        os._exit(1)

    threading.Thread(target=watch, name="parent", daemon=True).start()
