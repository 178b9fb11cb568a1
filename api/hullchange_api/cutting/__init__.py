"""Cut packs made on request, and progress in the shop."""
