"""Operating points as readings a person takes: where leads go, what to expect, what to doubt."""
