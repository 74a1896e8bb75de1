"""A small sound lessons folder, to be spoilt one file at a time."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

COACH = "coach: Ines Falk\nunits: {speed: mph, length: m, temperature: C}\n"
STUDENT = "name: Marta\nhand: right\nagreed: {page: yes, since: 2027-01-03}\n"
NOTES = "---\nintent: Hum one even note\n---\nWell done.\n"
SHOTS = "Shot,Club,Carry (m),Club Path (R+),Launch Angle (deg)\n" + "".join(
    f"{i},7 iron,{130 + i % 5},{i % 4 - 2}.5,{15 + i % 3}\n" for i in range(1, 13)
)
SOUND = {
    "coach.yml": COACH,
    "Marta/student.yml": STUDENT,
    "Marta/2027-04-11/notes.md": NOTES,
    "Marta/2027-04-11/shots.csv": SHOTS,
}
MakeFolder = Callable[[Mapping[str, str | bytes | None]], Path]


@pytest.fixture
def lessons(tmp_path: Path) -> MakeFolder:
    """Writes the sound folder with ``changes``: other contents, or None for no such file."""

    def make(changes: Mapping[str, str | bytes | None]) -> Path:
        for name, content in {**SOUND, **changes}.items():
            if content is not None:
                path = tmp_path / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return tmp_path

    return make
