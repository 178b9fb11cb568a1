"""The cut pack of a refit: pieces, nests, lists, labels and files for the cutter."""
