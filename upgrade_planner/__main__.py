"""Lets `python -m upgrade_planner` do what the command does."""

from upgrade_planner.cli import main

if __name__ == "__main__":
    main()
