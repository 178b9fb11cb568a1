"""CAD solids of the plates, which are the record, and the STEP file of them."""
