"""Start the command line: `python -m evenhand` and `evenhand`."""

from evenhand.cli import main

__all__ = ["main"]

if __name__ == "__main__":
    main()
