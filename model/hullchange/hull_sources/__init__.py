"""Where a hull comes from: tables, tapes, drawings, scans, CAD, main dimensions."""
