"""Data of one file to classes, with every fault of it at once."""
