"""What ships with the program, found by what one sees of a vehicle; questions and proposals."""
