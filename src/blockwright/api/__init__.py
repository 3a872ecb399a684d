"""JSON in and out: what the phone talks to. One error shape; docs/sync.md is the contract."""
