"""Paper and data: view models, pages, files written whole."""
