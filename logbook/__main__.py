"""`python -m logbook` does what the command `fingerstick-logbook` does."""

from logbook.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
