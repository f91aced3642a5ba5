"""Screens of the terminal."""
