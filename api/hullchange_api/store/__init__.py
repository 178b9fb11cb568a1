"""Storage of refits: database, files, archives."""
