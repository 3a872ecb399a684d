"""Blockwright plans strength-and-muscle training blocks and computes today's sheet.

Data goes one way: facts -> beliefs -> proposals -> (coach) -> block -> sheet -> facts. Start with
`engine/training.py` (nouns), `engine/review` (verbs), `engine/case.py` (where they meet)."""
