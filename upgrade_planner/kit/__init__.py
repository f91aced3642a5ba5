"""What each operation consumes and gives back."""
