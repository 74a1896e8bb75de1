"""What a host is to send beside the pages, said in the two forms that hosts of plain files read.

A page says its policy itself; films, pictures and data cannot. No address of a student is in
either file, since a host that does not read them hands them out.
"""

from pathlib import Path

from recapgen.publish.output import Output, open_up
from recapgen.publish.policy import POLICY_OF_ALL, UNLISTED
from recapgen.publish.swap import drop, put_among, stage

_OURS = "# made by recapgen: put a file of your own in its place, and it stays\n"
_HEADERS = {
    "Content-Security-Policy": f"{POLICY_OF_ALL}; frame-ancestors 'none'",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Cache-Control": "private, no-cache",
}
_ROBOTS = "X-Robots-Tag"
_A_STUDENTS = "/[2-9b-z]{20}(/|$)"


def _plain() -> str:
    """Paths with the headers below them, set in. It knows no pattern for an address alone."""
    lines = ["/*", *(f"  {name}: {value}" for name, value in _HEADERS.items())]
    return "\n".join([*lines, "/:folder/*", f"  {_ROBOTS}: {UNLISTED}", ""])


def _directives() -> str:
    """For hosts that read a hidden file of directives; passed over where a part is missing."""
    lines = [f'Header always set {name} "{value}"' for name, value in _HEADERS.items()]
    robots = [
        "<IfModule mod_setenvif.c>",
        f'SetEnvIf Request_URI "{_A_STUDENTS}" A_STUDENTS',
        f'Header always set {_ROBOTS} "{UNLISTED}" env=A_STUDENTS',
        "</IfModule>",
    ]
    return "\n".join(["<IfModule mod_headers.c>", *lines, *robots, "</IfModule>", ""])


HOST_FILES = {"_headers": _OURS + _plain(), ".htaccess": _OURS + _directives()}
"""By the name that a host looks for, directly in ``site``."""


def lay_host_files(output: Output) -> None:
    """Put the files into ``site``, but none in the place of the coach's own. Raises OSError."""
    new = stage(output.staging)
    for name, text in HOST_FILES.items():
        if _is_to_write(output.site / name, text):
            (new / name).write_text(text, "utf-8", newline="\n")
    if not any(new.iterdir()):
        drop(new)
        return
    open_up(new, output.umask)
    put_among(new, output.site, output.root)


def _is_to_write(file: Path, text: str) -> bool:
    try:
        there = file.read_text("utf-8")
    except FileNotFoundError:
        return True
    except (OSError, UnicodeDecodeError):
        return False
    return there != text and there.startswith(_OURS)
