"""What crosses HTTP: request and response schemas, and problems."""
