"""Verbs by purpose: load, think, save. The only place where files, store and engine meet."""
