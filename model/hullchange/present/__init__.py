"""glTF scene and tables for people."""
