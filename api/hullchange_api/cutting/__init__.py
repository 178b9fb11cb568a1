"""Cut packs made on request, and the progress of the steel."""
