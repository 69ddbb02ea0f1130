"""The record for other programs: JSON under /api, described at /api/openapi.json. docs/api.md is its manual."""
