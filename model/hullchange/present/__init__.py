"""Results for people and other programs: glTF scene, tables, workbook."""
