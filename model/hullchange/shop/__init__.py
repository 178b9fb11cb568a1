"""From plates to the floor of the shop: outlines, marks, files to cut by, nests, quantities."""
