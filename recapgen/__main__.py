"""The program's beginning: an interrupt is one line from the first moment on."""

import gc
import os
import signal
import sys

INTERRUPTED = 130
_NEW_OBJECTS = 50_000  # nearly all live as long as a run: looked through each 700 it costs 10%


def main() -> None:
    """Run the command line; an interrupt ends with 130 and leaves what is up as it was."""
    gc.set_threshold(_NEW_OBJECTS, 20, 20)
    try:
        from recapgen.cli import main as run  # noqa: PLC0415 - reading it takes a while, too

        run()
    except KeyboardInterrupt:
        _say_interrupted()


def _say_interrupted() -> None:
    """Without waiting for anything that still runs; a second interrupt changes nothing."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    from recapgen.words.catalogue import words  # noqa: PLC0415 - see above

    sys.stderr.write(words("en").say("cli.interrupted") + "\n")
    sys.stdout.flush()
    sys.stderr.flush()
    os._exit(INTERRUPTED)


if __name__ == "__main__":
    main()
