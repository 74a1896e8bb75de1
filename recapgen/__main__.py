"""``python -m recapgen``."""

from recapgen.cli import main

main()
