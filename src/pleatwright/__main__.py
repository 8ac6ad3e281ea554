"""`python -m pleatwright`."""

from pleatwright.cli import main

main()
