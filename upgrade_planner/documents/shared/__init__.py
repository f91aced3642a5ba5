"""What every paper needs: words, pages, files written whole or not at all."""
