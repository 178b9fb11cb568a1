"""Work in other processes: CAD solids, cut packs."""
