"""The HTTP schemas: requests, responses, and problem details."""
